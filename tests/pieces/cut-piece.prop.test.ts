/** Properties of unfolding and of allowances, the distances measured by @flatten-js/core as a second opinion. */
import Flatten from '@flatten-js/core';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { offsetOutline } from '../../src/geometry/allowance.js';
import { areaUm2, firstCrossing, isCounterClockwise } from '../../src/geometry/outline.js';
import { checkPiece } from '../../src/pieces/check-piece.js';
import { makeCutPiece } from '../../src/pieces/cut-piece.js';
import { isOwnMirrorImage } from '../../src/pieces/mirror-image.js';
import type { Outline, Point } from '../../src/units/types.js';
import { declare } from '../support/declared.js';

/** Star-shaped rings with 5 to 14 corners, 4 to 30 cm from their middle. */
const ring: fc.Arbitrary<Outline> = fc
  .array(fc.integer({ min: 40_000, max: 300_000 }), { minLength: 5, maxLength: 14 })
  .map((radii) =>
    radii.map((radius, i): Point => {
      const angle = (i / radii.length) * 2 * Math.PI;
      return [Math.round(radius * Math.cos(angle)), Math.round(radius * Math.sin(angle))];
    }),
  );

function polygonOf(outline: Outline): Flatten.Polygon {
  return new Flatten.Polygon(outline.map(([x, y]) => Flatten.point(x, y)));
}

describe('allowances', () => {
  test('the cutting line keeps at least the allowance, at most three times it at corners, and encloses the seam line', () => {
    fc.assert(
      fc.property(ring, fc.integer({ min: 1_000, max: 30_000 }), (outline, by) => {
        fc.pre(firstCrossing(outline) === null && isCounterClockwise(outline));
        const cutting = offsetOutline(
          outline,
          outline.map(() => by),
        )!;
        const seam = polygonOf(outline);
        const edges = cutting.map(([x, y], i) => {
          const [nextX, nextY] = cutting[(i + 1) % cutting.length]!;
          return Flatten.segment(x, y, nextX, nextY);
        });
        for (const edge of edges) {
          const [away] = seam.distanceTo(edge);
          expect(away).toBeGreaterThan(by - 2);
        }
        for (const [x, y] of cutting) {
          const [away] = seam.distanceTo(Flatten.point(x, y));
          expect(away).toBeLessThanOrEqual(3.2 * by + 2);
        }
        expect(areaUm2(cutting)).toBeGreaterThan(areaUm2(outline));
      }),
      { numRuns: 150 },
    );
  });

  test('no allowance changes nothing', () => {
    fc.assert(
      fc.property(ring, (outline) => {
        expect(
          offsetOutline(
            outline,
            outline.map(() => 0),
          ),
        ).toBe(outline);
      }),
    );
  });
});

describe('unfolding', () => {
  const depth = fc.integer({ min: 2, max: 60 });
  const half = fc.tuple(depth, depth, depth, fc.integer({ min: 20, max: 90 }), fc.integer({ min: 0, max: 3 }));

  test('the whole is its own mirror image to the micrometre, twice the half, and folds back to it', () => {
    fc.assert(
      fc.property(half, fc.boolean(), ([foot, middle, head, height, by], right) => {
        const side = right ? 1 : -1;
        const piece = declare({
          corners: [
            [0, 0],
            [side * foot, 0],
            [side * middle, height / 2],
            [side * head, height],
            [0, height],
          ],
          fold: 4,
          grain: [
            [0, 0],
            [0, height],
          ],
          allowance: [by, by, by, by, 0],
        });
        fc.pre(checkPiece(piece, 'cm').every(({ severity }) => severity !== 'error'));
        const made = makeCutPiece(piece, 'shell');
        if (!made.ok) throw new Error('it can be made');
        const { outline } = made.value;
        const points = new Set(outline.map(String));
        for (const [x, y] of outline) expect(points.has(String([x, 0 - y]))).toBe(true);
        expect(isOwnMirrorImage(made.value)).toBe(true);
        expect(isCounterClockwise(outline)).toBe(true);
        const seam = made.value.seam ?? outline;
        const drawn = ((foot + middle) / 2 + (middle + head) / 2) * (height / 2);
        expect(areaUm2(seam) / 1e8).toBeCloseTo(2 * drawn, 2);
        // Folded again: the half of the seam line on the drawn side has the drawn corners.
        const corners = piece.corners.map(({ at }) => String([at[1], side * Math.abs(at[0]) === 0 ? 0 : -at[0]]));
        const whole = new Set(seam.map(String));
        for (const corner of corners.slice(1, 4)) expect(whole.has(corner) || inLine(seam, corner)).toBe(true);
      }),
      { numRuns: 300 },
    );
  });

  /** A corner that lies in line with its neighbours is not listed. */
  function inLine(outline: Outline, corner: string): boolean {
    const [x, y] = corner.split(',').map(Number) as [number, number];
    const [away] = polygonOf(outline).distanceTo(Flatten.point(x, y));
    return away < 1;
  }
});
