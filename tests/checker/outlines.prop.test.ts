/** Simple outlines: the checker's own test agrees with that of the geometry room, which pieces are made with. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { checkPieceOutline } from '../../src/checker/outlines.js';
import { firstCrossing, twiceArea } from '../../src/geometry/outline.js';
import type { Point } from '../../src/units/types.js';
import { plainPiece } from '../support/cut-pieces.js';

const coordinate = fc.integer({ min: 0, max: 6 });
const rings = fc.array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 7 });

it('any ring on a small grid, good or bad', () => {
  let simple = 0;
  fc.assert(
    fc.property(rings, (points) => {
      const ring = points.map(([x, y]): Point => [x, y]);
      const codes = checkPieceOutline(plainPiece('Ring', ring, { asDrawn: 1, mirrored: 0 })).map(({ code }) => code);
      const area = twiceArea(ring);
      const crossed = firstCrossing(ring) !== null;
      const expected =
        area === 0n ? ['outline-no-area'] : crossed ? ['outline-not-simple'] : area < 0n ? ['outline-clockwise'] : [];
      if (expected.length === 0) simple++;
      expect(codes).toEqual(expected);
    }),
    { numRuns: 3_000 },
  );
  expect(simple).toBeGreaterThan(150);
});
