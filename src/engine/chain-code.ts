/**
 * Chains as whole numbers, for tasks and threads: what a later task, perhaps in another thread, needs to go on.
 *
 * [things, best length, present length, quiet rounds, shakes, exploring, raised pairs, least length, trial rounds,
 *  rise that is tried, tries of each rise, successes of each,
 *  then as halves of a double: share, least total, base total, round total,
 *  then for each thing: kind, and four times choice, x, y (best, present, least bad, base),
 *  then for each raised pair: the two things and the two halves of its weight.]
 */
import { assert } from '../diagnostics/assert.js';
import type { Problem } from '../problem/types.js';
import { areChoicesOf, areThingsOf, type Places } from './lay-code.js';
import type { Tables } from './tables.js';
import { measureAll, raiseWeight, setPlace } from './tangle.js';
import { beginChain, type Chain, rises, trialRoundsMost } from './tighten.js';

const firstTries = 10;
const firstSuccesses = firstTries + rises.length;
const firstDouble = firstSuccesses + rises.length;
const head = firstDouble + 2 * 4;
const each = 13;
const eachPair = 4;

const halves = new Int32Array(2);
const whole = new Float64Array(halves.buffer);

/** The chain's state; positions and lengths are whole micrometres, so nothing is lost. */
export function encodeChain(chain: Chain): Int32Array {
  const { tangle, best, leastBad, base } = chain;
  const n = tangle.movable;
  const raised = raisedPairs(chain);
  const code = new Int32Array(head + each * n + raised.length);
  code.set([
    n,
    chain.bestUm,
    tangle.lengthUm,
    chain.quiet,
    chain.shakes,
    Number(chain.isExploring),
    raised.length / eachPair,
    chain.leastUm,
    chain.trialRounds,
    chain.riseTried,
    ...chain.tries,
    ...chain.successes,
  ]);
  [chain.share, chain.leastTotal, chain.baseTotal, chain.roundTotal].forEach((value, k) => {
    whole[0] = value;
    code.set(halves, firstDouble + 2 * k);
  });
  const present: Places = { choices: tangle.choices, xs: tangle.xs, ys: tangle.ys };
  for (let i = 0; i < n; i++) {
    code[head + each * i] = tangle.kinds[i]!;
    [best, present, leastBad, base].forEach((places, k) => {
      code.set([places.choices[i]!, places.xs[i]!, places.ys[i]!], head + each * i + 1 + 3 * k);
    });
  }
  code.set(raised, head + each * n);
  return code;
}

/** For each raised pair: its two things and the halves of its weight. */
function raisedPairs({ tangle: { count, weights, raised } }: Chain): number[] {
  return raised.flatMap((at) => {
    whole[0] = weights[at]!;
    const i = Math.floor(at / count);
    return [i, at - i * count, halves[0]!, halves[1]!];
  });
}

/** Whether numbers can be those of a chain of the problem. */
export function isChainOf(problem: Problem, code: Int32Array): boolean {
  const [n, pairs] = [code[0] ?? -1, code[6] ?? -1];
  if (n < 0 || pairs < 0 || code.length !== head + each * n + eachPair * pairs) return false;
  const kinds = kindsIn(code);
  if (!areThingsOf(problem, kinds) || rises[code[9]!] === undefined) return false;
  if (code[8]! < 0 || code[8]! > trialRoundsMost) return false;
  if (rises.some((_, k) => code[firstSuccesses + k]! < 0 || code[firstSuccesses + k]! > code[firstTries + k]!))
    return false;
  return [0, 1, 2, 3].every((which) => areChoicesOf(problem, kinds, placesIn(code, which).choices));
}

/** The chain that was encoded, ready to go on. */
export function decodeChain(tables: Tables, code: Int32Array): Chain {
  const n = code[0]!;
  const pairs = code[6]!;
  assert(code.length === head + each * n + eachPair * pairs, 'a chain code is as long as it says');
  const kinds = kindsIn(code);
  const chain = beginChain(tables, kinds, placesIn(code, 0), code[1]!, code[7]!);
  const { tangle } = chain;
  tangle.lengthUm = code[2]!;
  chain.quiet = code[3]!;
  chain.shakes = code[4]!;
  chain.isExploring = code[5] === 1;
  chain.trialRounds = code[8]!;
  chain.riseTried = code[9]!;
  chain.tries.set(code.subarray(firstTries, firstSuccesses));
  chain.successes.set(code.subarray(firstSuccesses, firstDouble));
  [chain.share, chain.leastTotal, chain.baseTotal, chain.roundTotal] = doublesIn(code);
  const present = placesIn(code, 1);
  for (let i = 0; i < n; i++) setPlace(tangle, i, present.choices[i]!, present.xs[i]!, present.ys[i]!);
  for (const [places, k] of [
    [chain.leastBad, 2],
    [chain.base, 3],
  ] as const) {
    const held = placesIn(code, k);
    places.choices.set(held.choices);
    places.xs.set(held.xs);
    places.ys.set(held.ys);
  }
  for (let at = head + each * n; at < code.length; at += eachPair) {
    halves.set(code.subarray(at + 2, at + 4));
    raiseWeight(tangle, code[at]!, code[at + 1]!, whole[0]!);
  }
  measureAll(tangle);
  return chain;
}

function kindsIn(code: Int32Array): Int32Array {
  return Int32Array.from({ length: code[0]! }, (_, i) => code[head + each * i]!);
}

function placesIn(code: Int32Array, which: number): Places {
  const n = code[0]!;
  const places = { choices: new Int32Array(n), xs: new Float64Array(n), ys: new Float64Array(n) };
  for (let i = 0; i < n; i++) {
    const at = head + each * i + 1 + 3 * which;
    places.choices[i] = code[at]!;
    places.xs[i] = code[at + 1]!;
    places.ys[i] = code[at + 2]!;
  }
  return places;
}

function doublesIn(code: Int32Array): [number, number, number, number] {
  return [0, 1, 2, 3].map((k) => {
    halves.set(code.subarray(firstDouble + 2 * k, firstDouble + 2 * k + 2));
    return whole[0]!;
  }) as [number, number, number, number];
}
