/**
 * One task: a fixed amount of work on one start, by the task's own stream of chance. The answer depends on
 * (problem, task) alone: not on the thread, on what ran before, or on how warm the tables are.
 *
 * Start: [plain, bound, share] builds its share of the plain orders; [fresh, bound] a random order; both change the best order by
 * small steps and keep one that is no longer (only what comes after the first change is built anew). From the lay
 * found, a chain begins (see tighten.ts); [given, bound, length, lay code] begins one from a lay known from elsewhere;
 * [chain, chain code] goes on with one, [shaken, chain code] with its best lay well shaken.
 */
import { assert } from '../diagnostics/assert.js';
import type { Problem } from '../problem/types.js';
import type { Um } from '../units/types.js';
import { decodeChain, encodeChain } from './chain-code.js';
import { build, countThings, type Order } from './construct.js';
import { type Ground, makeGround, putDown } from './ground.js';
import { decodeLay, encodeLay } from './lay-code.js';
import { changeOrder, copyOrder, plainOrders, randomOrder, type Sizes, sizesOf } from './orders.js';
import { createRandom, type Random } from './random.js';
import { settle } from './settle.js';
import { type Tables, tablesOf } from './tables.js';
import { beginChain, type Chain, shakeWell, workOn } from './tighten.js';
import type { Task, TaskResult } from './types.js';

/** Steps of work a task may do; the build under way is always finished. */
export const taskSteps = 2_000_000;
/** Orders of one or two things are soon exhausted almost without work: a limit on tries as well. */
const triesMost = 20_000;
/** Tasks that share the plain orders between them. */
export const plainShares = 4;

const plain = 0;
const fresh = 1;
const goOn = 2;
const shaken = 3;
const given = 4;
/** Looking up a depth is as much work as so many steps of a build. */
const stepsOfDepth = 5;

/** `boundUm`: no lay is shorter; its chain tries to reach it exactly. */
export function startPlain(boundUm: Um, share: number): Int32Array {
  return Int32Array.of(plain, boundUm, share);
}

/** A task that builds from a random order and begins a chain. */
export function startFresh(boundUm: Um): Int32Array {
  return Int32Array.of(fresh, boundUm);
}

/** A task that goes on with a chain. */
export function startChain(code: Int32Array): Int32Array {
  const start = new Int32Array(code.length + 1);
  start[0] = goOn;
  start.set(code, 1);
  return start;
}

/** A task that goes on with a chain from its best lay, well shaken. */
export function startShaken(code: Int32Array): Int32Array {
  const start = startChain(code);
  start[0] = shaken;
  return start;
}

/** A task that begins a chain from a legal lay of this length. */
export function startGiven(boundUm: Um, lengthUm: Um, lay: Int32Array): Int32Array {
  const start = new Int32Array(lay.length + 3);
  start.set([given, boundUm, lengthUm]);
  start.set(lay, 3);
  return start;
}

/** Does the task. Every kind must have a choice. */
export function runTask(problem: Problem, task: Task): TaskResult {
  const tables = tablesOf(problem);
  const random = createRandom(task.seed, task.number);
  if (task.start[0] === goOn || task.start[0] === shaken || task.start[0] === given) {
    return goOnWith(chainOf(tables, task.start, random), task, random);
  }
  const ground = makeGround(tables, countThings(problem));
  const best = firstLay(ground, task.start, random);
  const nothing = new Int32Array(0);
  if (best === null) return { number: task.number, best: nothing, chain: nothing, steps: ground.steps };
  improve(ground, best, random);
  const { kinds } = best.order;
  const chain = beginChain(tables, kinds, best, best.lengthUm, task.start[1]!);
  return {
    number: task.number,
    best: encodeLay(kinds, settle(tables, kinds, best)),
    chain: encodeChain(chain),
    steps: ground.steps,
  };
}

function chainOf(tables: Tables, start: Int32Array, random: Random): Chain {
  if (start[0] === given) {
    const { kinds, places } = decodeLay(start.subarray(3));
    return beginChain(tables, kinds, places, start[2]!, start[1]!);
  }
  const chain = decodeChain(tables, start.subarray(1));
  if (start[0] === shaken) shakeWell(chain, random);
  return chain;
}

function goOnWith(chain: Chain, task: Task, random: Random): TaskResult {
  const { tangle, bestUm, best } = chain;
  const { tables } = tangle;
  workOn(chain, taskSteps / stepsOfDepth, random);
  const isShorter = chain.bestUm < bestUm;
  return {
    number: task.number,
    best: isShorter ? encodeLay(tangle.kinds, settle(tables, tangle.kinds, best)) : new Int32Array(0),
    chain: encodeChain(chain),
    steps: tangle.steps * stepsOfDepth,
  };
}

/** A lay with what it is compared by. */
interface Held {
  order: Order;
  choices: Int32Array;
  xs: Float64Array;
  ys: Float64Array;
  lengthUm: number;
  sumX: number;
}

/** Null when every lay tried is longer than coordinates can hold. */
function firstLay(ground: Ground, start: Int32Array, random: Random): Held | null {
  const { tables } = ground;
  const sizes = sizesOf(tables);
  if (start[0] === plain) return bestPlain(ground, sizes, start[2]!);
  const order = randomOrder(tables.problem, sizes, random);
  return build(ground, order, 0, Number.POSITIVE_INFINITY) ? hold(ground, order) : null;
}

/** The best of every so-and-so-manieth plain order, as many as the work allows, one at least. */
function bestPlain(ground: Ground, sizes: Sizes, share: number): Held | null {
  const orders = plainOrders(ground.tables.problem, sizes);
  let best: Held | null = null;
  for (let i = share; i < orders.length && (best === null || ground.steps < taskSteps); i += plainShares) {
    const order = orders[i]!;
    if (!build(ground, order, 0, best === null ? Number.POSITIVE_INFINITY : best.lengthUm)) continue;
    const held = hold(ground, order);
    if (best === null || isBetter(held, best)) best = held;
  }
  return best;
}

/** Changes the order by small steps until the work is spent; `best` is brought up to date in place. */
function improve(ground: Ground, best: Held, random: Random): void {
  const { problem } = ground.tables;
  const n = best.order.kinds.length;
  let now = best;
  lieAs(ground, now, 0);
  for (let tries = 0; ground.steps < taskSteps && tries < triesMost; tries++) {
    const order = copyOrder(now.order);
    const from = changeOrder(problem, order, furthestOf(ground, now), random);
    if (from < 0) continue;
    if (build(ground, order, from, now.lengthUm)) {
      now = hold(ground, order);
      if (isBetter(now, best)) Object.assign(best, now);
    } else {
      lieAs(ground, now, from);
    }
    assert(ground.count === ground.blocked + n, 'between two changes a whole lay lies');
  }
}

function hold(ground: Ground, order: Order): Held {
  const from = ground.blocked;
  const end = ground.count;
  let sumX = 0;
  for (let i = from; i < end; i++) sumX += ground.xs[i]!;
  return {
    order: copyOrder(order),
    choices: ground.choiceOf.slice(from, end),
    xs: ground.xs.slice(from, end),
    ys: ground.ys.slice(from, end),
    lengthUm: ground.lengthAfter[end]!,
    sumX,
  };
}

/** Puts the things of the lay from place `from` on back to where they lay. */
function lieAs(ground: Ground, held: Held, from: number): void {
  const { kinds } = ground.tables.problem;
  ground.count = ground.blocked + from;
  for (let i = from; i < held.choices.length; i++) {
    const choice = held.choices[i]!;
    putDown(ground, kinds[held.order.kinds[i]!]!.choices[choice]!.shape, choice, held.xs[i]!, held.ys[i]!);
  }
}

/** Place in the order of the thing that reaches furthest. */
function furthestOf(ground: Ground, held: Held): number {
  for (let i = 0; i < held.choices.length; i++) {
    if (ground.lengthAfter[ground.blocked + i + 1] === held.lengthUm) return i;
  }
  return 0;
}

function isBetter(a: Held, b: Held): boolean {
  return a.lengthUm < b.lengthUm || (a.lengthUm === b.lengthUm && a.sumX < b.sumX);
}
