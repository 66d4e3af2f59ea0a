/**
 * Every lay method, on random pieces and cloths: what can be posed and built is accepted by the checker, which shares no
 * line with it, and is no shorter than its bound; opened, the same copies are accepted too.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chordBound } from '../../src/bounds/bounds.js';
import { checkLay } from '../../src/checker/check-lay.js';
import { type Cloth, type DeclaredCloth, layNames } from '../../src/cloth/types.js';
import { build, countThings } from '../../src/engine/construct.js';
import { makeGround } from '../../src/engine/ground.js';
import { decodeSolution, encodeLay } from '../../src/engine/lay-code.js';
import { plainOrders, sizesOf } from '../../src/engine/orders.js';
import { settle } from '../../src/engine/settle.js';
import { makeTables } from '../../src/engine/tables.js';
import type { CutPiece } from '../../src/pieces/types.js';
import { makeLay, openLayOf } from '../../src/planning/plan-material.js';
import { type Way, waysOf } from '../../src/planning/ways.js';
import type { Problem, Solution } from '../../src/problem/types.js';
import { cloths, pieces, tubeOf } from '../support/random-garments.js';

const runs = Number(process.env.TEST_RUNS ?? 200);

/** One built lay, settled; no search. */
function built(problem: Problem, which: number): Solution | null {
  const tables = makeTables(problem);
  const ground = makeGround(tables, countThings(problem));
  const orders = plainOrders(problem, sizesOf(tables));
  const order = orders[which % orders.length]!;
  if (!build(ground, order, 0, Number.POSITIVE_INFINITY)) return null;
  const from = ground.blocked;
  const lay = { choices: ground.choiceOf.slice(from), xs: ground.xs.slice(from), ys: ground.ys.slice(from) };
  return decodeSolution(problem, encodeLay(order.kinds, settle(tables, order.kinds, lay)));
}

function declare(cloth: Cloth): DeclaredCloth {
  const place = { file: 'list.yaml', line: 1, column: 1 };
  return { cloth, materials: ['shell'], method: 'best', foldUm: null, place, notices: [] };
}

function layOf(way: Way, cloth: Cloth, all: readonly CutPiece[], which: number) {
  const solved = way.stretches.map((posed) => ({ posed, solution: built(posed.problem, which) }));
  if (solved.some(({ solution }) => solution === null)) return null;
  const sound = solved.map(({ posed, solution }) => ({ posed, solution: solution! }));
  for (const { posed, solution } of sound) {
    expect(chordBound(posed.problem).um).toBeLessThanOrEqual(solution.lengthUm);
  }
  const words = { title: 'Random', cutListSha256: '0'.repeat(64), material: 'shell', pieces: all };
  const found = { bound: { um: 0, why: 'none' }, status: 'shortest found' as const };
  return makeLay(words, cloth, sound, found, { seed: 1, effort: 1 });
}

describe.each(layNames)('%s', (method) => {
  it('gives lays that the checker accepts', () => {
    let laid = 0;
    fc.assert(
      fc.property(pieces, cloths, fc.nat(23), (all, drawn, which) => {
        const cloth = method === 'tube' ? tubeOf(drawn) : drawn;
        const answer = waysOf(method, declare(cloth), { pieces: all, garments: 1 });
        if (!answer.legal) {
          expect(answer.why).toMatch(/^[^.]{20,}$/);
          return;
        }
        for (const way of answer.ways) {
          if (way.tooWide.length > 0) continue;
          const lay = layOf(way, cloth, all, which);
          if (lay === null) continue;
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
