/** Depths and lines of large outlines, on and between the borders of rows and cells, against the direct test. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convexParts } from '../../src/geometry/convex-parts.js';
import { buildNoFit, type NoFit, overlapsAt } from '../../src/geometry/no-fit.js';
import { depthAt } from '../../src/geometry/no-fit-depth.js';
import { crossLine, spanSize } from '../../src/geometry/no-fit-lines.js';
import { combOutlines, gridOutlines, transformed } from '../support/polygons.js';

const scale = 1000;
const outlines = fc
  .oneof(gridOutlines(5), combOutlines())
  .chain(transformed)
  .map((outline) => outline.map(([x, y]) => [x * scale, y * scale] as const));

/** Positions on a coarse grid (where borders are) and beside it. */
function positions({ minX, minY, maxX, maxY }: NoFit): [number, number][] {
  const found: [number, number][] = [];
  const ends = (least: number, most: number): number[] => {
    const values: number[] = [];
    for (let k = -1; k <= 21; k++) {
      const value = Math.round((least + (k * (most - least)) / 20) / scale) * scale;
      values.push(value, value + 1, value - 333);
    }
    return values;
  };
  for (const dx of ends(minX, maxX)) for (const dy of ends(minY, maxY)) found.push([dx, dy]);
  return found;
}

describe('large no-fit polygons', () => {
  it('say the same by lines, by depths and directly', () => {
    const spans = new Float64Array(1 << 14);
    const holds = (value: number, end: number): boolean => {
      for (let k = 0; k < end; k += spanSize) if (value > spans[k]! && value < spans[k + 1]!) return true;
      return false;
    };
    fc.assert(
      fc.property(outlines, outlines, (a, b) => {
        const noFit = buildNoFit(convexParts(a), convexParts(b));
        const wrong = positions(noFit).filter(([dx, dy]) => {
          const overlap = overlapsAt(noFit, dx, dy);
          return (
            depthAt(noFit, dx, dy) > 0 !== overlap ||
            holds(dx, crossLine(noFit.across, dy, 0, false, spans, 0)) !== overlap ||
            holds(dy, crossLine(noFit.along, dx, 0, false, spans, 0)) !== overlap
          );
        });
        expect(wrong).toEqual([]);
      }),
      { numRuns: 150 },
    );
  });

  it('say the same depths in whatever order they are asked, and keep all they made in one array', () => {
    fc.assert(
      fc.property(outlines, outlines, (a, b) => {
        const build = (): NoFit => buildNoFit(convexParts(a), convexParts(b));
        const [forwards, backwards] = [build(), build()];
        const asked = positions(forwards);
        const first = asked.map(([dx, dy]) => depthAt(forwards, dx, dy));
        const last = [...asked].reverse().map(([dx, dy]) => depthAt(backwards, dx, dy));
        expect(last.reverse()).toEqual(first);
        const { cells, end } = forwards.depths!;
        expect(backwards.depths!.end).toBe(end);
        expect(cells.length).toBeLessThan(1.5 * end + 2000);
        expect(asked.map(([dx, dy]) => depthAt(forwards, dx, dy))).toEqual(first);
        expect(forwards.depths!.end).toBe(end);
      }),
      { numRuns: 50 },
    );
  });
});
