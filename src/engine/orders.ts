/**
 * Orders in which to put things down: plain ones by size, random ones, and small changes of an order.
 * By extent along the strip first; then area, extent across, the larger of both.
 */
import { hasOneX } from '../problem/lattice.js';
import type { Problem } from '../problem/types.js';
import { type Order, rules } from './construct.js';
import type { Random } from './random.js';
import type { Tables } from './tables.js';

/** Sizes of each kind by which orders are made, and which kinds have a fixed y or a fixed x. */
export interface Sizes {
  readonly keys: readonly Float64Array[];
  readonly isFixed: readonly boolean[];
}

/** Sizes of all kinds. */
export function sizesOf(tables: Tables): Sizes {
  const { kinds } = tables.problem;
  const along = new Float64Array(kinds.length);
  const across = new Float64Array(kinds.length);
  const area = new Float64Array(kinds.length);
  const larger = new Float64Array(kinds.length);
  kinds.forEach((kind, k) => {
    const boxes = kind.choices.map((choice) => tables.trueBox[choice.shape]!);
    along[k] = Math.min(...boxes.map((box) => box.maxX - box.minX));
    across[k] = Math.min(...boxes.map((box) => box.maxY - box.minY));
    area[k] = tables.areaUm2[kind.choices[0]!.shape]!;
    larger[k] = Math.max(along[k]!, across[k]!);
  });
  const isFixed = kinds.map((kind) =>
    kind.choices.every(({ yMin, yMax, lattice }) => yMin === yMax || hasOneX(lattice)),
  );
  return { keys: [along, area, across, larger], isFixed };
}

/** Every plain order: size x rule x fixed things first or not, the most promising first. */
export function plainOrders(problem: Problem, sizes: Sizes): readonly Order[] {
  const some = sizes.isFixed.includes(true) && sizes.isFixed.includes(false);
  const orders: Order[] = [];
  for (const rule of [3, 2, 5, 4, 1, 0]) {
    for (const key of sizes.keys) {
      for (const fixedFirst of some ? [true, false] : [false]) {
        orders.push(orderBy(problem, rule, (kind) => key[kind]! * (fixedFirst && sizes.isFixed[kind] ? 1024 : 1)));
      }
    }
  }
  return orders;
}

/** An order by a size that chance has changed by up to a half either way. */
export function randomOrder(problem: Problem, sizes: Sizes, random: Random): Order {
  const key = sizes.keys[random.below(sizes.keys.length)]!;
  const fixedFirst = random.below(2) === 0;
  return orderBy(problem, random.below(rules), (kind) => {
    const noise = 512 + random.below(1024);
    return key[kind]! * noise * (fixedFirst && sizes.isFixed[kind] ? 1024 : 1);
  });
}

function orderBy(problem: Problem, rule: number, sizeOf: (kind: number) => number): Order {
  const things: { kind: number; size: number; index: number }[] = [];
  problem.kinds.forEach((kind, k) => {
    for (let i = 0; i < kind.count; i++) things.push({ kind: k, size: sizeOf(k), index: things.length });
  });
  things.sort((a, b) => b.size - a.size || a.index - b.index);
  return {
    rule,
    kinds: Int32Array.from(things, (thing) => thing.kind),
    forced: new Int32Array(things.length).fill(-1),
  };
}

/** An order of its own that may be changed. */
export function copyOrder(order: Order): Order {
  return { rule: order.rule, kinds: order.kinds.slice(), forced: order.forced.slice() };
}

/**
 * Changes the order a little, in place: two things change places, a thing is moved (often the one that reaches
 * furthest, to an earlier place), a thing is bound to one choice or set free, or the rule changes.
 * Returns the first place that changed, or -1 when nothing did.
 */
export function changeOrder(problem: Problem, order: Order, furthest: number, random: Random): number {
  const n = order.kinds.length;
  const what = random.below(16);
  if (what === 0) {
    order.rule = random.below(rules);
    return 0;
  }
  if (what < 5) {
    const i = random.below(n);
    const choices = problem.kinds[order.kinds[i]!]!.choices.length;
    if (choices < 2) return -1;
    const before = order.forced[i]!;
    order.forced[i] = random.below(choices + 1) - 1;
    return order.forced[i] === before ? -1 : i;
  }
  if (what < 10) return swapThings(order, random.below(n), random.below(n));
  const from = what < 13 ? furthest : random.below(n);
  return moveThing(order, from, what < 13 ? random.below(from + 1) : random.below(n));
}

function swapThings(order: Order, i: number, j: number): number {
  const { kinds, forced } = order;
  if (kinds[i] === kinds[j] && forced[i] === forced[j]) return -1;
  [kinds[i], kinds[j]] = [kinds[j]!, kinds[i]!];
  [forced[i], forced[j]] = [forced[j]!, forced[i]!];
  return Math.min(i, j);
}

function moveThing(order: Order, from: number, to: number): number {
  if (from === to) return -1;
  for (const numbers of [order.kinds, order.forced]) {
    const moved = numbers[from]!;
    if (from < to) numbers.copyWithin(from, from + 1, to + 1);
    else numbers.copyWithin(to + 1, to, from);
    numbers[to] = moved;
  }
  return Math.min(from, to);
}
