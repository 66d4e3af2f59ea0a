/** No-fit polygons against the direct test, position by position, and lines against both. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convexParts } from '../../src/geometry/convex-parts.js';
import { buildNoFit, type NoFit, overlapsAt } from '../../src/geometry/no-fit.js';
import { crossLine, spanSize } from '../../src/geometry/no-fit-lines.js';
import { areaUm2, boundsOf } from '../../src/geometry/outline.js';
import { outlineContains, outlinesOverlap } from '../../src/geometry/overlap.js';
import type { Outline } from '../../src/units/types.js';
import { combOutlines, gridOutlines, transformed, wavyOutline } from '../support/polygons.js';

const outlines = fc.oneof(gridOutlines(5), combOutlines()).chain(transformed);

function noFitOf(a: Outline, b: Outline): NoFit {
  return buildNoFit(convexParts(a), convexParts(b));
}

function positions(a: Outline, b: Outline): [number, number][] {
  const boxA = boundsOf(a);
  const boxB = boundsOf(b);
  const found: [number, number][] = [];
  for (let dx = boxA.minX - boxB.maxX - 1; dx <= boxA.maxX - boxB.minX + 1; dx++) {
    for (let dy = boxA.minY - boxB.maxY - 1; dy <= boxA.maxY - boxB.minY + 1; dy++) found.push([dx, dy]);
  }
  return found;
}

describe('convex parts', () => {
  it('add up to the outline, lie inside it and are convex', () => {
    fc.assert(
      fc.property(outlines, (outline) => {
        const parts = convexParts(outline);
        expect(parts.reduce((sum, part) => sum + areaUm2(part), 0)).toBe(areaUm2(outline));
        for (const part of parts) {
          expect(outlineContains(outline, part)).toBe(true);
          part.forEach(([bx, by], i) => {
            const [ax, ay] = part[(i + part.length - 1) % part.length]!;
            const [cx, cy] = part[(i + 1) % part.length]!;
            expect((bx - ax) * (cy - by) - (by - ay) * (cx - bx)).toBeGreaterThan(0);
          });
        }
      }),
      { numRuns: 300 },
    );
  });

  it('of 300 points with hollow curves add up too', () => {
    const outline = wavyOutline(300, 300_000, 5, 0.3);
    const parts = convexParts(outline);
    expect(parts.reduce((sum, part) => sum + areaUm2(part), 0)).toBe(areaUm2(outline));
  });

  it('of a convex outline is one part without points in line', () => {
    const withPointInLine: Outline = [
      [0, 0],
      [2, 0],
      [4, 0],
      [4, 4],
      [0, 4],
    ];
    const parts = convexParts(withPointInLine);
    expect(parts.length).toBe(1);
    expect(new Set(parts[0]!.map((point) => point.join()))).toEqual(new Set(['0,0', '4,0', '4,4', '0,4']));
  });
});

describe('no-fit polygon', () => {
  it('agrees with the direct test at every whole position', () => {
    fc.assert(
      fc.property(outlines, outlines, (a, b) => {
        const noFit = noFitOf(a, b);
        for (const [dx, dy] of positions(a, b)) {
          expect([dx, dy, overlapsAt(noFit, dx, dy)]).toEqual([dx, dy, outlinesOverlap(a, [0, 0], b, [dx, dy])]);
        }
      }),
      { numRuns: 150 },
    );
  });

  it('says identical outlines in the same place overlap', () => {
    fc.assert(
      fc.property(outlines, (outline) => {
        expect(overlapsAt(noFitOf(outline, outline), 0, 0)).toBe(true);
        expect(outlinesOverlap(outline, [7, 7], outline, [7, 7])).toBe(true);
      }),
    );
  });

  it('of (b, a) is the point mirror image of (a, b)', () => {
    fc.assert(
      fc.property(outlines, outlines, (a, b) => {
        const one = noFitOf(a, b);
        const other = noFitOf(b, a);
        for (const [dx, dy] of positions(a, b)) expect(overlapsAt(one, dx, dy)).toBe(overlapsAt(other, -dx, -dy));
      }),
      { numRuns: 50 },
    );
  });

  it('is crossed by lines exactly where positions overlap, read straight or point-mirrored', () => {
    fc.assert(
      fc.property(outlines, outlines, fc.boolean(), (a, b, negate) => {
        const noFit = negate ? noFitOf(b, a) : noFitOf(a, b);
        const spans = new Float64Array(spanSize * noFit.sums);
        const isIn = (value: number, end: number): boolean => {
          for (let i = 0; i < end; i += spanSize) if (value > spans[i]! && value < spans[i + 1]!) return true;
          return false;
        };
        for (const [dx, dy] of positions(a, b)) {
          const overlap = negate ? overlapsAt(noFit, -dx, -dy) : overlapsAt(noFit, dx, dy);
          expect(isIn(dx + 100, crossLine(noFit.across, negate ? -dy : dy, 100, negate, spans, 0))).toBe(overlap);
          expect(isIn(dy - 9, crossLine(noFit.along, negate ? -dx : dx, -9, negate, spans, 0))).toBe(overlap);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('stays exact at the size of real pieces: one micrometre decides', () => {
    // A right triangle and its half turn slide along their long sides (slope 1 : 3).
    const a: Outline = [
      [0, 0],
      [3_000_000, 0],
      [0, 1_000_000],
    ];
    const b: Outline = [
      [0, 0],
      [-3_000_000, 0],
      [0, -1_000_000],
    ];
    const noFit = noFitOf(a, b);
    for (const k of [1, 700_001, 1_999_999]) {
      const dx = 6_000_000 - 3 * k;
      const dy = k;
      expect(overlapsAt(noFit, dx, dy)).toBe(false);
      expect(overlapsAt(noFit, dx - 1, dy)).toBe(true);
      expect(outlinesOverlap(a, [0, 0], b, [dx, dy])).toBe(false);
      expect(outlinesOverlap(a, [0, 0], b, [dx - 1, dy])).toBe(true);
    }
  });
});
