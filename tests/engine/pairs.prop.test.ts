/** Pairs of turned shapes against the no-fit polygon of just these two. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { crossPairAcross, crossPairAlong, depthOfPair } from '../../src/engine/pairs.js';
import { makeTables } from '../../src/engine/tables.js';
import { convexParts } from '../../src/geometry/convex-parts.js';
import { buildNoFit, overlapsAt } from '../../src/geometry/no-fit.js';
import { spanSize } from '../../src/geometry/no-fit-lines.js';
import { turnOutline } from '../../src/geometry/outline.js';
import type { Outline } from '../../src/units/types.js';
import { gridOutlines } from '../support/polygons.js';
import { sealProblem } from '../support/problems.js';

const turns = [0, 90, 180, 270] as const;
const spans = new Float64Array(1 << 15);

/** Shapes 0 to 3 are the first outline in its quarter turns, 4 to 7 the second. */
function inAllTurns(a: Outline, b: Outline) {
  const shapes = [a, b].flatMap((outline) => turns.map((turn) => ({ outline: turnOutline(outline, turn) })));
  const zones = [{ yFrom: 0, yTo: 1 }];
  const problem = sealProblem({ zones, shapes, kinds: [], blocked: [], gapUm: 0, lengthMaxUm: null });
  return { shapes, tables: makeTables(problem) };
}

function holds(value: number, end: number): boolean {
  for (let k = 0; k < end; k += spanSize) if (value > spans[k]! && value < spans[k + 1]!) return true;
  return false;
}

/** Height at `value` of the tents in the first `end` numbers of `spans`. */
function tentAt(value: number, end: number): number {
  let height = 0;
  for (let k = 0; k < end; k += spanSize) {
    const low = spans[k]!;
    const high = spans[k + 1]!;
    if (value <= low || value >= high) continue;
    height = Math.max(height, Math.min(spans[k + 2]! * (value - low), spans[k + 3]! * (high - value), spans[k + 4]!));
  }
  return height;
}

const side = fc.integer({ min: 500, max: 3000 });
const rectangles = fc.tuple(side, side).map(
  ([w, h]): Outline => [
    [0, 0],
    [w, 0],
    [w, h],
    [0, h],
  ],
);
/** A rectangle with a nose on its right side: convex, with slanted edges. */
const convexOutlines = fc.tuple(side, side, side, side).map(
  ([w, h, a, b]): Outline => [
    [0, 0],
    [w, 0],
    [w + a, h],
    [w, h + b],
    [0, h + b],
  ],
);

describe('tents on lines', () => {
  /** How far each tent is above the depth, in all turns of both outlines, along and across. */
  const above = (a: Outline, b: Outline): number[] => {
    const { tables } = inAllTurns(a, b);
    const found: number[] = [];
    for (let fixed = 0; fixed < 8; fixed++) {
      for (let moving = 0; moving < 8; moving++) {
        for (let k = 0; k < 49; k++) {
          const dx = Math.round((((k % 7) - 3) / 3) * 6000);
          const dy = Math.round(((Math.floor(k / 7) - 3) / 3) * 6000) + 1;
          const depth = depthOfPair(tables, moving, fixed, dx, dy);
          found.push(tentAt(dx + 7, crossPairAlong(tables, moving, fixed, dy, 7, spans, 0)) - depth);
          found.push(tentAt(dy - 9, crossPairAcross(tables, moving, fixed, dx, -9, spans, 0)) - depth);
        }
      }
    }
    return found;
  };

  it('are the depth itself for rectangles', () => {
    fc.assert(
      fc.property(rectangles, rectangles, (a, b) => {
        expect(Math.max(...above(a, b).map(Math.abs))).toBeLessThanOrEqual(1);
      }),
      { numRuns: 20 },
    );
  });

  it('are nowhere below the depth for convex outlines', () => {
    fc.assert(
      fc.property(convexOutlines, convexOutlines, (a, b) => {
        expect(Math.min(...above(a, b))).toBeGreaterThanOrEqual(-1);
      }),
      { numRuns: 20 },
    );
  });
});

describe('a span', () => {
  it('tells how slanted the border is at either end, however the two lie and whichever of them moves', () => {
    // A right triangle with sides 3 : 4 : 5 and a small square beside it.
    const triangle: Outline = [
      [0, 0],
      [3000, 0],
      [0, 4000],
    ];
    const square: Outline = [
      [0, 0],
      [10, 0],
      [10, 10],
      [0, 10],
    ];
    const { tables } = inAllTurns(triangle, square);
    // The middle of its slanted side, by which both lines go half way along a straight one.
    const middles = [
      [1500, 2000],
      [-2000, 1500],
      [-1500, -2000],
      [2000, -1500],
    ] as const;
    const slants = [
      [1, 0.8, 1, 0.6],
      [0.6, 1, 1, 0.8],
      [0.8, 1, 0.6, 1],
      [1, 0.6, 0.8, 1],
    ] as const;
    turns.forEach((_, turn) => {
      const [x, y] = middles[turn]!;
      const [left, right, below, above] = slants[turn]!;
      const seen: number[] = [];
      expect(crossPairAlong(tables, 4, turn, y, 0, spans, 0)).toBe(spanSize);
      seen.push(spans[2]!, spans[3]!);
      expect(crossPairAcross(tables, 4, turn, x, 0, spans, 0)).toBe(spanSize);
      seen.push(spans[2]!, spans[3]!);
      // The triangle moves: its left side meets the square's right one first.
      expect(crossPairAlong(tables, turn, 4, -y, 0, spans, 0)).toBe(spanSize);
      seen.push(spans[3]!, spans[2]!);
      expect(crossPairAcross(tables, turn, 4, -x, 0, spans, 0)).toBe(spanSize);
      seen.push(spans[3]!, spans[2]!);
      const found = seen.map((slant) => Math.round(100 * slant) / 100);
      expect(found).toEqual([left, right, below, above, left, right, below, above]);
    });
  });
});

describe('pairs', () => {
  it('of the same forms in any turns answer as the polygon of their own outlines does', () => {
    fc.assert(
      fc.property(gridOutlines(5, 100), gridOutlines(4, 130), (a, b) => {
        const { shapes, tables } = inAllTurns(a, b);
        const wrong: string[] = [];
        for (let fixed = 0; fixed < 8; fixed++) {
          for (let moving = 0; moving < 8; moving++) {
            const own = buildNoFit(convexParts(shapes[fixed]!.outline), convexParts(shapes[moving]!.outline));
            for (let k = 0; k < 60; k++) {
              const dx = Math.round(own.minX + ((k % 8) / 7) * (own.maxX - own.minX));
              const dy = Math.round(own.minY + (Math.floor(k / 8) / 7) * (own.maxY - own.minY)) + (k % 3) - 1;
              const overlap = overlapsAt(own, dx, dy);
              const along = holds(dx + 7, crossPairAlong(tables, moving, fixed, dy, 7, spans, 0));
              const across = holds(dy - 9, crossPairAcross(tables, moving, fixed, dx, -9, spans, 0));
              const isDeep = depthOfPair(tables, moving, fixed, dx, dy) > 0;
              if (isDeep !== overlap || along !== overlap || across !== overlap)
                wrong.push(`${fixed} ${moving} ${dx} ${dy}`);
            }
          }
        }
        expect(wrong).toEqual([]);
      }),
      { numRuns: 25 },
    );
  });
});
