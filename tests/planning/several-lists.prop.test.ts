/**
 * Pieces of two cut lists, each for its own garments, by every lay method: what is built is accepted by the checker, which
 * counts them for itself.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkLay } from '../../src/checker/check-lay.js';
import { layNames } from '../../src/cloth/types.js';
import type { GarmentRange } from '../../src/pieces/types.js';
import { makeLay } from '../../src/planning/plan-material.js';
import { waysOf } from '../../src/planning/ways.js';
import { declaredOf, layBuilt } from '../support/built-lays.js';
import { cloths, pieces, tubeOf } from '../support/random-garments.js';

const runs = Number(process.env.TEST_RUNS ?? 100);

describe.each(layNames)('%s', (method) => {
  it('lays each piece for the garments of its own list', () => {
    let laid = 0;
    const counts = fc.tuple(fc.integer({ min: 1, max: 3 }), fc.integer({ min: 1, max: 3 }));
    fc.assert(
      fc.property(pieces, cloths, fc.nat(23), counts, fc.nat(255), (all, drawn, which, [a, b], bits) => {
        const cloth = method === 'tube' ? tubeOf(drawn) : drawn;
        const ranges: readonly [GarmentRange, GarmentRange] = [
          [1, a],
          [a + 1, a + b],
        ];
        const own = all.map((piece, i) => ({ ...piece, garments: ranges[(bits >> i) & 1]! }));
        const answer = waysOf(method, declaredOf(cloth), { pieces: own, garments: a + b });
        for (const way of answer.legal ? answer.ways : []) {
          const built = way.tooWide.length > 0 ? null : layBuilt(way, cloth, own, which, a + b);
          if (built === null) continue;
          const lists = ranges.map((garments, i) => ({ name: `List ${i}`, sha256: '0', garments }));
          const words = { title: 'Two', cutListSha256: lists, material: 'shell', pieces: own, garments: a + b };
          const found = { bound: { um: 0, why: 'none' }, status: 'shortest found' as const };
          const lay = makeLay(words, cloth, built.solved, found, { seed: 1, effort: 1 });
          laid += 1;
          expect(checkLay(lay).refusals.map(({ sentence }) => sentence)).toEqual([]);
        }
      }),
      { numRuns: runs },
    );
    expect(laid).toBeGreaterThan(runs / 20);
  });
});
