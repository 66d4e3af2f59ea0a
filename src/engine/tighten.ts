/**
 * From one legal lay to ever shorter ones.
 *
 * Tighten: take a little length away; what begins right of a random cut moves left. Untangle: relocate overlapping
 * things one at a time until nothing overlaps; pairs that still overlap after a round weigh more in the next. A lay
 * without overlap is the new best, and is tightened further, by a larger share. When untangling gets no further:
 * shake the least bad tangle of this length (see shake.ts) and untangle again; after some shakes in vain take less
 * length away, down to a least share, at which shaking goes on.
 * All of this is a state that can be stopped after any number of steps and gone on with later, see chain-code.ts.
 */
import { assert } from '../diagnostics/assert.js';
import type { Um } from '../units/types.js';
import type { Places } from './lay-code.js';
import { pushApart } from './push.js';
import type { Random } from './random.js';
import { between, relocate } from './relocate.js';
import { shake } from './shake.js';
import type { Tables } from './tables.js';
import {
  leastLengthOf,
  makeTangle,
  measureAll,
  raiseWeights,
  resetWeights,
  setNear,
  setPlace,
  type Tangle,
  totalDepth,
} from './tangle.js';

export interface Chain {
  readonly tangle: Tangle;
  /** The best legal lay. */
  readonly best: Places;
  bestUm: Um;
  /** No lay is shorter than its most demanding thing. */
  readonly leastUm: Um;
  /** The least bad tangle of the present length, and its total depth. */
  readonly leastBad: Places;
  leastTotal: number;
  /** The tangle that is shaken, and its total depth. */
  readonly base: Places;
  baseTotal: number;
  /** Share of the length taken away at once. */
  share: number;
  /** Least total since the last shake, rounds since it fell, and shakes since the last success. */
  roundTotal: number;
  quiet: number;
  shakes: number;
}

export const log: string[] = [];
let roundsAt = 0;
export const stats = { moves: 0, moved: 0, rounds: 0, tight: 0, ok: 0, shakes: 0, pushes: 0, pushed: 0 };
export const tuning = {
  firstShare: 0.01,
  leastShare: 0.001,
  growth: 1.3,
  shrinkage: 0.5,
  accept: 0,
  patience: 120,
  shakesMost: 1,
  power: 0,
  rise: 1.5,
  riseTop: 1.5,
  decay: 0.95,
  push: 0,
  pushBelow: 0.05,
  pushQuiet: 0,
  onlyQuiet: 0,
  keepWeights: false,
};

/** A chain that begins at a legal lay; `kinds` in the order of the places. */
export function beginChain(tables: Tables, kinds: Int32Array, lay: Places, lengthUm: Um): Chain {
  const tangle = makeTangle(tables, kinds, lengthUm);
  const chain: Chain = {
    tangle,
    best: { choices: lay.choices.slice(), xs: lay.xs.slice(), ys: lay.ys.slice() },
    bestUm: lengthUm,
    leastUm: leastLengthOf(tables),
    leastBad: { choices: lay.choices.slice(), xs: lay.xs.slice(), ys: lay.ys.slice() },
    leastTotal: 0,
    base: { choices: lay.choices.slice(), xs: lay.xs.slice(), ys: lay.ys.slice() },
    baseTotal: 0,
    share: tuning.firstShare,
    roundTotal: 0,
    quiet: 0,
    shakes: 0,
  };
  putPlaces(tangle, chain.best);
  return chain;
}

/** Goes on with the chain until so many steps are done (the round under way is finished). */
export function workOn(chain: Chain, stepsMost: number, random: Random): void {
  const { tangle } = chain;
  const until = tangle.steps + stepsMost;
  if (tangle.lengthUm === 0 && chain.bestUm > chain.leastUm) tighten(chain, random);
  while (tangle.steps < until && chain.bestUm > chain.leastUm) {
    tangle.steps++;
    if (tangle.pairs === 0) {
      succeed(chain);
      if (chain.bestUm > chain.leastUm) tighten(chain, random);
    } else if (chain.quiet >= tuning.patience) {
      giveUp(chain, random);
    } else {
      untangleRound(chain, random);
    }
  }
  if (tangle.pairs === 0 && tangle.lengthUm < chain.bestUm) succeed(chain);
}

function succeed(chain: Chain): void {
  stats.ok++;
  log.push(
    `L${(chain.bestUm / 1000).toFixed(1)}->${(lengthOf(chain.tangle) / 1000).toFixed(1)} share ${chain.share.toFixed(4)} shakes ${chain.shakes} rounds ${stats.rounds - roundsAt}`,
  );
  const { tangle } = chain;
  copyPlaces(tangle, chain.best);
  chain.bestUm = lengthOf(tangle);
  if (chain.shakes <= 2) chain.share = Math.min(0.02, chain.share * tuning.growth);
  chain.shakes = 0;
}

/** Takes length away from the best lay. */
function tighten(chain: Chain, random: Random): void {
  stats.tight++;
  roundsAt = stats.rounds;
  const { tangle, best, bestUm } = chain;
  const target = Math.max(chain.leastUm, Math.min(bestUm - 1, Math.floor(bestUm * (1 - chain.share))));
  const cut = between(random, 0, bestUm);
  tangle.lengthUm = target;
  for (let i = 0; i < tangle.movable; i++) {
    const { shape } = tangle.tables.problem.kinds[tangle.kinds[i]!]!.choices[best.choices[i]!]!;
    const x = best.xs[i]!;
    const isBeyond = x + tangle.tables.trueBox[shape]!.minX > cut;
    setNearAny(tangle, i, best.choices[i]!, isBeyond ? x - (bestUm - target) : x, best.ys[i]!);
  }
  resetWeights(tangle);
  measureAll(tangle);
  beginRounds(chain);
  chain.leastTotal = Number.POSITIVE_INFINITY;
  chain.baseTotal = Number.POSITIVE_INFINITY;
}

/** By the choice given, or else by the first other one that has a place on this length. */
function setNearAny(tangle: Tangle, i: number, choice: number, x: Um, y: Um): void {
  if (setNear(tangle, i, choice, x, y)) return;
  const { choices } = tangle.tables.problem.kinds[tangle.kinds[i]!]!;
  assert(
    choices.some((_, other) => setNear(tangle, i, other, x, y)),
    'a length is never less than what every thing needs',
  );
}

function beginRounds(chain: Chain): void {
  chain.roundTotal = totalDepth(chain.tangle);
  chain.quiet = 0;
}

/** Untangling got no further: shake, or after many shakes in vain take less length away. */
function giveUp(chain: Chain, random: Random): void {
  const { tangle } = chain;
  chain.shakes++;
  if (chain.shakes > tuning.shakesMost && chain.share > tuning.leastShare) {
    chain.share = Math.max(tuning.leastShare, chain.share * tuning.shrinkage);
    chain.shakes = 0;
    tighten(chain, random);
    return;
  }
  if (chain.leastTotal <= chain.baseTotal || random.below(100) < 100 * tuning.accept) {
    chain.baseTotal = chain.leastTotal;
    chain.base.choices.set(chain.leastBad.choices);
    chain.base.xs.set(chain.leastBad.xs);
    chain.base.ys.set(chain.leastBad.ys);
  }
  chain.leastTotal = Number.POSITIVE_INFINITY;
  putPlaces(tangle, chain.base);
  measureAll(tangle);
  shake(tangle, random);
  stats.shakes++;
  roundsAt = stats.rounds;
  resetWeights(tangle);
  beginRounds(chain);
}

const order: number[] = [];

/** Relocates every overlapping thing once, in random order; then stubborn pairs weigh more. */
function untangleRound(chain: Chain, random: Random): void {
  stats.rounds++;
  const { tangle } = chain;
  order.length = 0;
  for (let i = 0; i < tangle.movable; i++) if (tangle.overlaps[i]! > 0) order.push(i);
  for (let k = order.length - 1; k > 0; k--) {
    const other = random.below(k + 1);
    const held = order[k]!;
    order[k] = order[other]!;
    order[other] = held;
  }
  for (const i of order)
    if (tangle.overlaps[i]! > 0) {
      stats.moves++;
      if (relocate(tangle, i, random)) stats.moved++;
    }

  const total = totalDepth(tangle);
  if (total < chain.roundTotal) {
    chain.roundTotal = total;
    chain.quiet = 0;
  } else {
    chain.quiet++;
  }
  if (total < chain.leastTotal) {
    chain.leastTotal = total;
    copyPlaces(tangle, chain.leastBad);
  }
  if (
    tuning.push > 0 &&
    tangle.pairs > 0 &&
    total < tuning.pushBelow * tangle.lengthUm &&
    chain.quiet <= tuning.pushQuiet
  ) {
    const held = { choices: tangle.choices.slice(0, tangle.movable), xs: tangle.xs.slice(), ys: tangle.ys.slice() };
    stats.pushes++;
    if (pushApart(tangle, tuning.push)) {
      stats.pushed++;
      return;
    }
    putPlaces(tangle, held);
    measureAll(tangle);
  }
  raiseWeights(tangle, tuning.rise, tuning.decay);
}

/** Largest x that the things reach, on true outlines. */
export function lengthOf({ tables, shapes, xs, movable }: Tangle): Um {
  let most = 0;
  for (let i = 0; i < movable; i++) most = Math.max(most, xs[i]! + tables.trueBox[shapes[i]!]!.maxX);
  return most;
}

function copyPlaces({ choices, xs, ys, movable }: Tangle, to: Places): void {
  to.choices.set(choices.subarray(0, movable));
  to.xs.set(xs.subarray(0, movable));
  to.ys.set(ys.subarray(0, movable));
}

function putPlaces(tangle: Tangle, from: Places): void {
  for (let i = 0; i < tangle.movable; i++) setPlace(tangle, i, from.choices[i]!, from.xs[i]!, from.ys[i]!);
}
