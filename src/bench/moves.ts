/** What one move of the search costs on so many copies of an instance's pieces, tables warm. */
import { decodeChain } from '../engine/chain-code.js';
import { createRandom } from '../engine/random.js';
import { relocate } from '../engine/relocate.js';
import { tablesOf } from '../engine/tables.js';
import { raiseWeights, type Tangle } from '../engine/tangle.js';
import { runTask, startPlain } from '../engine/task.js';
import { decay, rises, workOn } from '../engine/tighten.js';
import type { Problem } from '../problem/types.js';
import { type Instance, instanceSubject } from './instance.js';

const movesMost = 1500;

export interface Moves {
  /** Microseconds; 0 when nothing could be moved. */
  readonly each: number;
  /** Where everything lies at the end. */
  readonly places: Int32Array;
}

/** About so many copies in the proportions of the instance, at least one of each piece. */
export function problemOf(instance: Instance, copies: number): Problem {
  const total = instance.pieces.reduce((sum, { quantity }) => sum + quantity, 0);
  const pieces = instance.pieces.map((piece) => ({
    ...piece,
    quantity: Math.max(1, Math.round((piece.quantity * copies) / total)),
  }));
  return instanceSubject({ ...instance, pieces }, 1).problem;
}

/** Tightens a plain lay and untangles it for some moves, twice: the second time is measured. */
export function measureMoves(problem: Problem, clock: () => number): Moves {
  const { chain: code } = runTask(problem, { number: 0, seed: 1, start: startPlain(0, 0) });
  moveSome(tangleFrom(problem, code));
  const tangle = tangleFrom(problem, code);
  const startedAt = clock();
  const moves = moveSome(tangle);
  const seconds = clock() - startedAt;
  return {
    each: moves === 0 ? 0 : (1e6 * seconds) / moves,
    places: Int32Array.from([...tangle.choices, ...tangle.xs, ...tangle.ys]),
  };
}

/** The chain's lay, a share of its length taken away. */
function tangleFrom(problem: Problem, code: Int32Array): Tangle {
  const chain = decodeChain(tablesOf(problem), code);
  workOn(chain, 1, createRandom(1, 1));
  return chain.tangle;
}

function moveSome(tangle: Tangle): number {
  const random = createRandom(1, 2);
  let moves = 0;
  while (moves < movesMost && tangle.pairs > 0) {
    for (let i = 0; i < tangle.movable && moves < movesMost; i++) {
      if (tangle.overlaps[i] === 0) continue;
      relocate(tangle, i, random);
      moves++;
    }
    raiseWeights(tangle, rises[0].by, decay);
  }
  return moves;
}
