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

async function leftOf(method: string, tidies: boolean): Promise<{ readonly used: number; readonly area: number }> {
  const { plans } = await planText(list(method), { tidies });
  const lay = plans[0]!.chosen!.lay!;
  const { along, across } = leftOver(lay)!;
  return { used: lay.totals.lengthUsed, area: along * across };
}

// By hand: of 120 cm the panels take 60 and a row of flaps and tabs at most 16, so 44 could be left; folded, of 60 cm 30
// and 16, so 14 in each layer, 28 together at the fold.
it.each([
  ['open', 350_000],
  ['lengthwise fold', 260_000],
])('%s: no longer, and more of it in one piece', async (method, acrossUm) => {
  const [plain, tidied] = [await leftOf(method, false), await leftOf(method, true)];
  expect([plain.used, tidied.used]).toEqual([1_000_000, 1_000_000]);
  expect(tidied.area).toBeGreaterThanOrEqual(plain.area);
  expect(tidied.area).toBeGreaterThanOrEqual(1_000_000 * acrossUm);
});
