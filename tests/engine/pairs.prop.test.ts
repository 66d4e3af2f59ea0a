/** Pairs of turned shapes against the no-fit polygon of just these two. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { crossPairAcross, crossPairAlong, depthOfPair } from '../../src/engine/pairs.js';
import { makeTables } from '../../src/engine/tables.js';
import { convexParts } from '../../src/geometry/convex-parts.js';
import { buildNoFit, overlapsAt } from '../../src/geometry/no-fit.js';
import { turnOutline } from '../../src/geometry/outline.js';
import { gridOutlines } from '../support/polygons.js';
import { sealProblem } from '../support/problems.js';

const turns = [0, 90, 180, 270] as const;
const spans = new Float64Array(1 << 15);

function holds(value: number, end: number): boolean {
  for (let k = 0; k < end; k += 2) if (value > spans[k]! && value < spans[k + 1]!) return true;
  return false;
}

describe('pairs', () => {
  it('of the same forms in any turns answer as the polygon of their own outlines does', () => {
    fc.assert(
      fc.property(gridOutlines(5, 100), gridOutlines(4, 130), (a, b) => {
        const shapes = [a, b].flatMap((outline) => turns.map((turn) => ({ outline: turnOutline(outline, turn) })));
        const zones = [{ yFrom: 0, yTo: 1 }];
        const tables = makeTables(sealProblem({ zones, shapes, kinds: [], blocked: [], gapUm: 0, lengthMaxUm: null }));
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
