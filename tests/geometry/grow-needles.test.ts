/** Outlines far sharper than cloth is cut: growing, simplifying and dividing them must never fail. */
import { expect, test } from 'vitest';
import { convexParts } from '../../src/geometry/convex-parts.js';
import { growOutline } from '../../src/geometry/grow.js';
import { firstCrossing, isCounterClockwise } from '../../src/geometry/outline.js';
import { bordersApart, flatOutline } from '../../src/geometry/overlap.js';
import { containOutline } from '../../src/geometry/simplify.js';
import type { Point } from '../../src/units/types.js';

test('3 000 stars with needle-sharp points', () => {
  let state = 12_345;
  const next = (below: number): number => {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
    return Math.floor(state / 7) % below;
  };
  let grown = 0;
  for (let i = 0; i < 3_000; i++) {
    const corners = 3 + next(40);
    const star = Array.from({ length: corners }, (_, k): Point => {
      const angle = (k / corners) * 2 * Math.PI;
      const radius = 2_000 + next(i % 3 === 0 ? 500_000 : 50_000);
      return [Math.round(Math.cos(angle) * radius), Math.round(Math.sin(angle) * radius)];
    });
    if (firstCrossing(star) !== null || !isCounterClockwise(star)) continue;
    const byUm = [1, 1_500, 5_000, 25_000][i % 4]!;
    const larger = growOutline(star, byUm);
    expect(bordersApart(flatOutline(larger, 0, 0), flatOutline(star, 0, 0), byUm)).toBe(true);
    expect(convexParts(containOutline(larger, 300)).length).toBeGreaterThan(0);
    grown += 1;
  }
  expect(grown).toBeGreaterThan(2_500);
});
