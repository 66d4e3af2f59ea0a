/**
 * Every lay method, on random pieces and cloths: what can be posed and built is accepted by the checker, which shares no
 * line with it, and is no shorter than its bound; opened, the same copies are accepted too.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chordBound } from '../../src/bounds/bounds.js';
import { checkLay } from '../../src/checker/check-lay.js';
import { layNames } from '../../src/cloth/types.js';
import { openLayOf } from '../../src/planning/plan-material.js';
import { waysOf } from '../../src/planning/ways.js';
import { declaredOf, layBuilt } from '../support/built-lays.js';
import { cloths, pieces, tubeOf } from '../support/random-garments.js';

const runs = Number(process.env.TEST_RUNS ?? 200);

describe.each(layNames)('%s', (method) => {
  it('gives lays that the checker accepts', () => {
    let laid = 0;
    fc.assert(
      fc.property(pieces, cloths, fc.nat(23), fc.constantFrom(1, 1, 2, 3), (all, drawn, which, garments) => {
        const cloth = method === 'tube' ? tubeOf(drawn) : drawn;
        const answer = waysOf(method, declaredOf(cloth), { pieces: all, garments });
        if (!answer.legal) {
          expect(answer.why).toMatch(/^.{20,}[^.]$/);
          return;
        }
        for (const way of answer.ways) {
          if (way.tooWide.length > 0) continue;
          const built = layBuilt(way, cloth, all, which, garments);
          if (built === null) continue;
          const { lay, solved } = built;
          for (const { posed, solution } of solved) {
            expect(chordBound(posed.problem).um).toBeLessThanOrEqual(solution.lengthUm);
          }
          laid += 1;
          expect(checkLay(lay).refusals.map(({ sentence }) => sentence)).toEqual([]);
          if (method === 'tube') continue;
          expect(checkLay(openLayOf(lay, { um: 0, why: 'none' })).refusals).toEqual([]);
        }
      }),
      { numRuns: runs },
    );
    expect(laid).toBeGreaterThan(runs / 20);
  });
});
