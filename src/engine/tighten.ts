/**
 * From one legal lay to ever shorter ones.
 *
 * Tighten: take a little length away; what begins right of a random cut moves left. Untangle: relocate overlapping
 * things one at a time until nothing overlaps; pairs that still overlap after a round weigh more in the next; how
 * much more is learnt. A lay without overlap is the new best, and is tightened further, by a larger share. When
 * untangling gets no further: shake the least bad tangle of this length (see shake.ts) and untangle again. Most
 * shakes come to nothing, and a few rounds tell: of many things several are tried, and only the most promising is
 * untangled with patience; one that leads back to where it came from is none. After some shakes in vain take less
 * length away, down to a least share, at which shaking goes on.
 * All of this is a state that can be stopped after any number of steps and gone on with later, see chain-code.ts.
 */
import { leastLengthOf } from '../bounds/bounds.js';
import { assert } from '../diagnostics/assert.js';
import { pinnedEnd } from '../problem/lattice.js';
import type { Um } from '../units/types.js';
import type { Places } from './lay-code.js';
import type { Random } from './random.js';
import { between, relocate } from './relocate.js';
import { shake } from './shake.js';
import type { Tables } from './tables.js';
import {
  makeTangle,
  measureAll,
  raiseWeights,
  resetWeights,
  setNear,
  setPlace,
  type Tangle,
  totalRoot,
} from './tangle.js';

export interface Chain {
  readonly tangle: Tangle;
  /** The best legal lay. */
  readonly best: Places;
  bestUm: Um;
  /** No lay is shorter. */
  readonly leastUm: Um;
  /** The least bad tangle since the last cut or shake (of trials: that one ended with), and its sum of roots of depths. */
  readonly leastBad: Places;
  leastTotal: number;
  /** The tangle that is shaken, and its sum. */
  readonly base: Places;
  baseTotal: number;
  /** By what the shares are smaller for a long lay. */
  readonly scale: number;
  /** Share of the length taken away at once. */
  share: number;
  /** Least total since these rounds began, rounds since it fell, and how often shakes were tried at this length. */
  roundTotal: number;
  quiet: number;
  shakes: number;
  /** Rounds left in which shakes are tried; 0 = a tangle is untangled with patience. */
  trialRounds: number;
  /** Shaking at a share worth having, or taking ever smaller ones. */
  isExploring: boolean;
  /** Which of `rises` is tried now; how often each of them was tried so far, and how often that came apart. */
  riseTried: number;
  readonly tries: Int32Array;
  readonly successes: Int32Array;
}

/** Shares of the length are those of a lay of so many things; of a longer one the same piece of length is taken. */
const thingsOfShares = 100;
/** Share of the length taken away first, and at most; after a success at once more, after a failure less. */
const firstShare = 0.01;
const mostShare = 0.02;
const growth = 1.3;
/** Success after shakes were tried more often than this is no sign that more would have gone. */
const easyShakes = 2;
const shrinkage = 0.5;
/** With less than this no further try is worth while; then shakes go on at a share that is worth having. */
const finestShare = 0.0005;
const exploringShare = 0.0015;
/** How often shakes are tried before less is taken, and while exploring. */
const shakesBefore = 1;
const shakesExploring = 16;
/** Of more things than this, shakes tried for each that is gone on with, and rounds of each trial. (Of 17 things they led
 * astray, see docs/engine.md.) */
const thingsOfTrials = 25;
const shakesTried = 6;
const roundsOfTrial = 5;
export const trialRoundsMost = shakesTried * roundsOfTrial;
/** A thing that lies no further from a place than this share of its smaller side counts as lying there. */
const sameSpot = 1 / 16;
/** A shaken tangle that came out worse is gone on from all the same, so often in ten. */
const acceptedOfTen = 3;
/** A chain that begins anew from a lay shaken well: how much longer it may be, and how many shakes at once. */
const shakenShare = 0.015;
const shakesAtOnce = 4;
/** Rounds without a smaller total before untangling is given up. */
const patientRounds = 200;
/**
 * How the weights of pairs that overlap may rise in a round, and how all others fall. Which rise suits depends on the
 * things: a chain chooses one for each try by how often it succeeded, as if it had been tried so often before, with so many
 * successes. So nearly every try is with the first one as long as that goes well. (A slower rise, 1.3, did worse on all
 * five sets it was tried on.)
 */
export const rises = [
  { by: 1.5, triesBefore: 2, successesBefore: 1 },
  { by: 2, triesBefore: 2.25, successesBefore: 0.25 },
  { by: 3, triesBefore: 2.25, successesBefore: 0.25 },
] as const;
export const decay = 0.95;

/** A chain that begins at a legal lay; `kinds` in the order of the places. */
export function beginChain(tables: Tables, kinds: Int32Array, lay: Places, lengthUm: Um, boundUm: Um): Chain {
  const tangle = makeTangle(tables, kinds);
  const scale = Math.min(1, thingsOfShares / Math.max(1, kinds.length));
  const chain: Chain = {
    tangle,
    best: { choices: lay.choices.slice(), xs: lay.xs.slice(), ys: lay.ys.slice() },
    bestUm: lengthUm,
    scale,
    leastUm: Math.max(boundUm, leastLengthOf(tables.problem)),
    leastBad: { choices: lay.choices.slice(), xs: lay.xs.slice(), ys: lay.ys.slice() },
    leastTotal: 0,
    base: { choices: lay.choices.slice(), xs: lay.xs.slice(), ys: lay.ys.slice() },
    baseTotal: 0,
    share: firstShare * scale,
    roundTotal: 0,
    quiet: 0,
    shakes: 0,
    trialRounds: 0,
    isExploring: false,
    riseTried: 0,
    tries: new Int32Array(rises.length),
    successes: new Int32Array(rises.length),
  };
  putPlaces(tangle, chain.best);
  return chain;
}

/** Goes on with the chain until so many steps are done (the round under way is finished). */
export function workOn(chain: Chain, stepsMost: number, random: Random): void {
  const { tangle } = chain;
  const until = tangle.steps + stepsMost;
  if (chain.bestUm <= chain.leastUm) return;
  if (tangle.lengthUm === 0) tighten(chain, random);
  while (tangle.steps < until && chain.bestUm > chain.leastUm) {
    tangle.steps++;
    if (tangle.pairs === 0) {
      if (tangle.lengthUm < chain.bestUm) succeed(chain);
      if (chain.bestUm > chain.leastUm) tighten(chain, random);
    } else if (chain.quiet >= patientRounds) {
      giveUp(chain, random);
    } else {
      const total = untangleRound(chain, random);
      if (chain.trialRounds === 0) keepLeastBad(chain, total);
      else if (tangle.pairs > 0) endTrialRound(chain, total, random);
    }
  }
  if (tangle.pairs === 0 && tangle.lengthUm < chain.bestUm) succeed(chain);
}

/**
 * Shakes the best lay of a chain several times at once, on a little more length; from what comes apart of it the chain
 * goes on, and from the best lay itself when nothing does.
 */
export function shakeWell(chain: Chain, random: Random): void {
  const { tangle, best } = chain;
  chain.bestUm = Math.ceil(chain.bestUm * (1 + shakenShare * chain.scale));
  tangle.lengthUm = chain.bestUm - 1;
  for (let i = 0; i < tangle.movable; i++) setNearAny(tangle, i, best.choices[i]!, best.xs[i]!, best.ys[i]!);
  measureAll(tangle);
  for (let k = 0; k < shakesAtOnce; k++) shake(tangle, random);
  chooseRise(chain, random);
  resetWeights(tangle);
  beginRounds(chain);
  chain.share = firstShare * chain.scale;
  chain.shakes = 0;
  chain.trialRounds = 0;
  chain.isExploring = false;
  chain.leastTotal = Number.POSITIVE_INFINITY;
  chain.baseTotal = Number.POSITIVE_INFINITY;
}

function succeed(chain: Chain): void {
  const { tangle } = chain;
  countTry(chain, true);
  copyPlaces(tangle, chain.best);
  chain.bestUm = reachOf(tangle);
  if (chain.shakes <= easyShakes) chain.share = Math.min(mostShare, chain.share * growth);
  chain.shakes = 0;
  chain.trialRounds = 0;
  chain.isExploring = false;
}

/** The try with the present rise is over. */
function countTry({ riseTried, tries, successes }: Chain, isSuccess: boolean): void {
  tries[riseTried] = tries[riseTried]! + 1;
  if (isSuccess) successes[riseTried] = successes[riseTried]! + 1;
}

/** Chooses the rise of the next try by chance: as likely as the fourth power of the share of tries that succeeded. */
function chooseRise(chain: Chain, random: Random): void {
  const { tries, successes } = chain;
  const likely = rises.map(({ triesBefore, successesBefore }, k) => {
    const share = (successes[k]! + successesBefore) / (tries[k]! + triesBefore);
    return share * share * share * share;
  });
  let left = (random.next() / 4294967296) * likely.reduce((sum, one) => sum + one, 0);
  const chosen = likely.findIndex((one) => {
    left -= one;
    return left < 0;
  });
  chain.riseTried = chosen < 0 ? rises.length - 1 : chosen;
}

/**
 * Takes length away from the best lay, at one cut; of a long lay, where more can be taken, at several at once, which
 * come apart side by side.
 */
function tighten(chain: Chain, random: Random): void {
  const { tangle, best, bestUm } = chain;
  chooseRise(chain, random);
  const target = Math.max(chain.leastUm, Math.min(bestUm - 1, Math.floor(bestUm * (1 - chain.share))));
  const count = Math.ceil(chain.share / (mostShare * chain.scale) - 1e-9);
  const cuts = Array.from({ length: Math.max(1, count) }, () => between(random, 0, bestUm));
  tangle.lengthUm = target;
  for (let i = 0; i < tangle.movable; i++) {
    const { shape } = tangle.tables.problem.kinds[tangle.kinds[i]!]!.choices[best.choices[i]!]!;
    const x = best.xs[i]!;
    const left = x + tangle.tables.trueBox[shape]!.minX;
    const passed = cuts.filter((cut) => left > cut).length;
    const by = Math.floor(((bestUm - target) * passed) / cuts.length);
    setNearAny(tangle, i, best.choices[i]!, x - by, best.ys[i]!);
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
  chain.roundTotal = totalRoot(chain.tangle);
  chain.quiet = 0;
}

/** Untangling got no further: try shakes, or after many in vain take less length away. */
function giveUp(chain: Chain, random: Random): void {
  assert(chain.leastTotal < Number.POSITIVE_INFINITY, 'a round was done before untangling is given up');
  countTry(chain, false);
  chain.shakes++;
  if (chain.shakes > (chain.isExploring ? shakesExploring : shakesBefore)) {
    if (!chain.isExploring && chain.share > finestShare * chain.scale) {
      chain.share = Math.max(finestShare * chain.scale, chain.share * shrinkage);
    } else {
      chain.isExploring = !chain.isExploring;
      chain.share = exploringShare * chain.scale;
    }
    chain.shakes = 0;
    tighten(chain, random);
    return;
  }
  if (chain.leastTotal <= chain.baseTotal || random.below(10) < acceptedOfTen) {
    chain.baseTotal = chain.leastTotal;
    chain.base.choices.set(chain.leastBad.choices);
    chain.base.xs.set(chain.leastBad.xs);
    chain.base.ys.set(chain.leastBad.ys);
  }
  chain.leastTotal = Number.POSITIVE_INFINITY;
  chooseRise(chain, random);
  chain.trialRounds = chain.tangle.movable > thingsOfTrials ? trialRoundsMost : 0;
  shakeBase(chain, random);
}

function shakeBase(chain: Chain, random: Random): void {
  const { tangle } = chain;
  putPlaces(tangle, chain.base);
  measureAll(tangle);
  shake(tangle, random);
  resetWeights(tangle);
  beginRounds(chain);
}

/**
 * After the rounds of a trial the next shake is tried; after the last, the least bad tangle that a trial ended with is
 * gone on with (when all led back, the last one).
 */
function endTrialRound(chain: Chain, total: number, random: Random): void {
  const { tangle } = chain;
  chain.trialRounds--;
  if (chain.trialRounds % roundsOfTrial > 0) return;
  if (!isBack(chain)) keepLeastBad(chain, total);
  if (chain.trialRounds > 0) {
    shakeBase(chain, random);
    return;
  }
  if (chain.leastTotal < Number.POSITIVE_INFINITY) {
    putPlaces(tangle, chain.leastBad);
    measureAll(tangle);
  }
  resetWeights(tangle);
  beginRounds(chain);
}

/** Every thing lies where one of the same shape lies in the base: the shake came to nothing. */
export function isBack({ tangle, base }: Chain): boolean {
  const { movable, kinds, shapes, xs, ys, left, right, low, high } = tangle;
  const { kinds: all } = tangle.tables.problem;
  const taken = new Uint8Array(movable);
  for (let i = 0; i < movable; i++) {
    const near = Math.min(right[i]! - left[i]!, high[i]! - low[i]!) * sameSpot;
    let j = 0;
    for (; j < movable; j++) {
      if (taken[j] !== 0 || all[kinds[j]!]!.choices[base.choices[j]!]!.shape !== shapes[i]) continue;
      if (Math.abs(base.xs[j]! - xs[i]!) <= near && Math.abs(base.ys[j]! - ys[i]!) <= near) break;
    }
    if (j === movable) return false;
    taken[j] = 1;
  }
  return true;
}

const order: number[] = [];

/** Relocates every overlapping thing once, in random order; then stubborn pairs weigh more. Returns the sum of roots. */
function untangleRound(chain: Chain, random: Random): number {
  const { tangle } = chain;
  order.length = 0;
  for (let i = 0; i < tangle.movable; i++) if (tangle.overlaps[i]! > 0) order.push(i);
  for (let k = order.length - 1; k > 0; k--) {
    const other = random.below(k + 1);
    const held = order[k]!;
    order[k] = order[other]!;
    order[other] = held;
  }
  for (const i of order) if (tangle.overlaps[i]! > 0) relocate(tangle, i, random);
  const total = totalRoot(tangle);
  if (total < chain.roundTotal) {
    chain.roundTotal = total;
    chain.quiet = 0;
  } else {
    chain.quiet++;
  }
  raiseWeights(tangle, rises[chain.riseTried]!.by, decay);
  return total;
}

function keepLeastBad(chain: Chain, total: number): void {
  if (total >= chain.leastTotal) return;
  chain.leastTotal = total;
  copyPlaces(chain.tangle, chain.leastBad);
}

/** Largest x that the things and what is pinned reach, on true outlines. */
function reachOf({ tables, shapes, xs, movable }: Tangle): Um {
  let most = pinnedEnd(tables.problem);
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
