/** Depths against the direct test of overlap, and against moves that end it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convexParts } from '../../src/geometry/convex-parts.js';
import { buildNoFit, overlapsAt } from '../../src/geometry/no-fit.js';
import { depthAt } from '../../src/geometry/no-fit-depth.js';
import { boundsOf } from '../../src/geometry/outline.js';
import { combOutlines, gridOutlines, transformed } from '../support/polygons.js';

const outlines = fc.oneof(gridOutlines(5), combOutlines()).chain(transformed);
const scale = 100;

describe('depth', () => {
  it('is 0 exactly where nothing overlaps, and else the way to the nearest place where nothing does', () => {
    fc.assert(
      fc.property(outlines, outlines, (smallA, smallB) => {
        const [a, b] = [smallA, smallB].map((outline) => outline.map(([x, y]) => [x * scale, y * scale] as const));
        const noFit = buildNoFit(convexParts(a!), convexParts(b!));
        const boxA = boundsOf(a!);
        const boxB = boundsOf(b!);
        const free: [number, number][] = [];
        const deep: [number, number, number][] = [];
        const step = scale / 2;
        for (let dx = boxA.minX - boxB.maxX - step; dx <= boxA.maxX - boxB.minX + step; dx += step) {
          for (let dy = boxA.minY - boxB.maxY - step; dy <= boxA.maxY - boxB.minY + step; dy += step) {
            const depth = depthAt(noFit, dx, dy);
            expect(depth > 0).toBe(overlapsAt(noFit, dx, dy));
            if (depth === 0) free.push([dx, dy]);
            else deep.push([dx, dy, depth]);
          }
        }
        for (const [dx, dy, depth] of deep) {
          // No free place is nearer than the depth says, and walking that far in some direction ends the overlap.
          for (const [x, y] of free) expect(Math.hypot(x - dx, y - dy)).toBeGreaterThanOrEqual(depth - 1e-6);
          let ends = false;
          for (let k = 0; k < 720 && !ends; k++) {
            const x = Math.round(dx + (depth + 3) * Math.cos((k * Math.PI) / 360));
            const y = Math.round(dy + (depth + 3) * Math.sin((k * Math.PI) / 360));
            ends = !overlapsAt(noFit, x, y);
          }
          // A way out through a slot of no width cannot be met by walking on whole micrometres.
          if (!ends) expect(depth).toBeLessThan(scale * 20);
        }
      }),
      { numRuns: 60 },
    );
  });
});
