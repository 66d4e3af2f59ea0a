/** The second aim: what is left is left in one piece. */
import { expect, it } from 'vitest';
import { leftOver } from '../../src/lay/left-over.js';
import { planText } from '../support/plan.js';

function list(method: string): string {
  return `title: Awning
units: cm
drawn: cut
pieces:
  Panel: {rectangle: [100, 30], cut: {canvas: 1 pair}}
  Flap: {rectangle: [18, 16], cut: {canvas: 2 pairs}}
  Tab: {rectangle: [12, 7], cut: {canvas: 3 pairs}}
cloths:
  canvas: {for: canvas, width: 122, usable: 120, gap: 0, ends: [0, 0], method: ${method}}
`;
}

/** Effort with which so many rectangles are tried: none below 1. */
async function leftOf(method: string, effort: number): Promise<{ readonly used: number; readonly area: number }> {
  const { plans } = await planText(list(method), { effort });
  const lay = plans[0]!.chosen!.lay!;
  const { along, across } = leftOver(lay);
  return { used: lay.totals.lengthUsed, area: along * across };
}

it.each(['open', 'lengthwise fold'])('%s: no longer, and more of it in one piece', async (method) => {
  const [plain, tidied] = [await leftOf(method, 0.25), await leftOf(method, 6)];
  expect([plain.used, tidied.used]).toEqual([1_000_000, 1_000_000]);
  expect(tidied.area).toBeGreaterThanOrEqual(plain.area);
  // Flaps and tabs side by side along an edge take up 16 cm and 7 cm at most of the 60 that the panels leave, by hand.
  expect(tidied.area).toBeGreaterThanOrEqual(1_000_000 * 350_000);
});
