/**
 * A tangle: things on a strip of a given length that may overlap while they are being separated.
 *
 * How deep two things lie in each other is the way from their relative position to the border of their no-fit
 * polygon; it is 0 exactly when they do not overlap. Each pair has a weight that grows while it stays stubborn
 * (guided local search: Voudouris and Tsang 1999; for packing Egeblad, Nielsen and Odgaard 2007). The cost of a
 * place is the sum of weight x root of depth over all other things: one deep overlap is better than many shallow ones. `costAt` only looks, `putAt` only applies.
 *
 * Layout: things that move first, then blocked ones; pairs in flat symmetric tables; the boxes of all things in flat
 * arrays, and their order by left end, so that the work of a move does not grow with the strip and what a line meets
 * comes nearly in order.
 */
import { latticeDown } from '../problem/lattice.js';
import type { Lattice } from '../problem/types.js';
import type { Um } from '../units/types.js';
import { depthOfPair } from './pairs.js';
import { longestBox, type Tables } from './tables.js';

/** Beyond this a weight rises no more. */
const weightMost = 1e12;

export interface Tangle {
  readonly tables: Tables;
  readonly movable: number;
  readonly count: number;
  readonly kinds: Int32Array;
  readonly choices: Int32Array;
  readonly shapes: Int32Array;
  readonly xs: Float64Array;
  readonly ys: Float64Array;
  readonly left: Float64Array;
  readonly right: Float64Array;
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** A pair begins with the product of its things' base weights, which grow with their area. */
  readonly bases: Float64Array;
  /** [i * count + j], symmetric. */
  readonly weights: Float64Array;
  /** i * count + j of the pairs i < j whose weight is above the one they begin with. */
  readonly raised: number[];
  readonly roots: Float64Array;
  /** How many others each thing overlaps, and the number of pairs that do. */
  readonly overlaps: Int32Array;
  pairs: number;
  /** Things must end here. */
  lengthUm: Um;
  /** Work done so far: one for each depth looked up; movers add what else they do. */
  steps: number;
  /** The things `gather` found, by their left end. */
  readonly near: Int32Array;
  nearEnd: number;
  /** All things by their left end (of equal ones the lower number first), and the place of each among them. */
  readonly byLeft: Int32Array;
  readonly rankOf: Int32Array;
  /** No box is longer. */
  readonly longest: Um;
}

/** A tangle of things of these kinds, all by choice 0 at the origin until `setPlace` puts them somewhere. */
export function makeTangle(tables: Tables, kinds: Int32Array): Tangle {
  const { blocked } = tables.problem;
  const movable = kinds.length;
  const count = movable + blocked.length;
  const numbers = (): Float64Array => new Float64Array(count);
  const bases = basesOf(tables, kinds);
  const tangle: Tangle = {
    tables,
    movable,
    count,
    kinds: kinds.slice(),
    choices: new Int32Array(count),
    shapes: new Int32Array(count),
    xs: numbers(),
    ys: numbers(),
    left: numbers(),
    right: numbers(),
    low: numbers(),
    high: numbers(),
    bases,
    weights: beginningWeights(bases),
    raised: [],
    roots: new Float64Array(count * count),
    overlaps: new Int32Array(count),
    pairs: 0,
    lengthUm: 0,
    steps: 0,
    near: new Int32Array(count),
    nearEnd: 0,
    byLeft: Int32Array.from({ length: count }, (_, i) => i),
    rankOf: Int32Array.from({ length: count }, (_, i) => i),
    longest: longestBox(tables),
  };
  blocked.forEach((thing, k) => {
    setShape(tangle, movable + k, thing.shape, thing.x, thing.y);
  });
  return tangle;
}

/**
 * Large things are hard to find a place for, so their overlaps weigh more from the beginning: (area / mean area) to
 * the power of 3/8. (Measured: 0 and 1/4 and 1/2 give longer lays.)
 */
function basesOf({ problem, areaUm2 }: Tables, kinds: Int32Array): Float64Array {
  const areas = [
    ...Array.from(kinds, (kind) => areaUm2[problem.kinds[kind]!.choices[0]!.shape]!),
    ...problem.blocked.map((thing) => areaUm2[thing.shape]!),
  ];
  const mean = areas.reduce((sum, area) => sum + area, 0) / areas.length;
  return Float64Array.from(areas, (area) => {
    const fourth = Math.sqrt(Math.sqrt(area / mean));
    return fourth * Math.sqrt(fourth);
  });
}

function beginningWeights(bases: Float64Array): Float64Array {
  const count = bases.length;
  const weights = new Float64Array(count * count);
  for (let i = 0; i < count; i++) {
    for (let j = 0; j < count; j++) weights[i * count + j] = bases[i]! * bases[j]!;
  }
  return weights;
}

/** Every pair back to the weight it begins with. */
export function resetWeights(tangle: Tangle): void {
  const { count, bases, weights, raised } = tangle;
  for (const at of raised) {
    const i = Math.floor(at / count);
    const j = at - i * count;
    weights[at] = bases[i]! * bases[j]!;
    weights[j * count + i] = weights[at]!;
  }
  raised.length = 0;
}

/** Pairs that overlap weigh `rise` times as much from now on; all others fall by `decay` towards their beginning. */
export function raiseWeights(tangle: Tangle, rise: number, decay: number): void {
  const { count, movable, bases, roots, weights, overlaps, raised } = tangle;
  let kept = 0;
  for (const at of raised) {
    const i = Math.floor(at / count);
    const j = at - i * count;
    const base = bases[i]! * bases[j]!;
    if (roots[at]! === 0) setWeight(tangle, i, j, Math.max(base, weights[at]! * decay));
    if (weights[at]! > base) raised[kept++] = at;
  }
  raised.length = kept;
  for (let i = 0; i < movable; i++) {
    let left = overlaps[i]!;
    for (let j = 0; left > 0; j++) {
      const at = i * count + j;
      if (roots[at]! === 0) continue;
      left--;
      if (j < i) continue;
      if (weights[at]! === bases[i]! * bases[j]!) raised.push(at);
      setWeight(tangle, i, j, Math.min(weights[at]! * rise, weightMost));
    }
  }
}

/** Gives the pair of things i < j another weight; the caller keeps `raised`. */
function setWeight({ count, weights }: Tangle, i: number, j: number, weight: number): void {
  weights[i * count + j] = weight;
  weights[j * count + i] = weight;
}

/** Gives the pair of things i < j a weight above the one it begins with. */
export function raiseWeight(tangle: Tangle, i: number, j: number, weight: number): void {
  tangle.raised.push(i * tangle.count + j);
  setWeight(tangle, i, j, weight);
}

/** Puts thing i somewhere without a look at its pairs; `measureAll` must follow. */
export function setPlace(tangle: Tangle, i: number, choice: number, x: Um, y: Um): void {
  tangle.choices[i] = choice;
  setShape(tangle, i, tangle.tables.problem.kinds[tangle.kinds[i]!]!.choices[choice]!.shape, x, y);
}

/**
 * Puts thing i by a choice at the legal place nearest to (x, y) on the present length, without a look at its pairs.
 * False (and nothing done) when the choice has no place on this length.
 */
export function setNear(tangle: Tangle, i: number, c: number, x: Um, y: Um): boolean {
  const choice = tangle.tables.problem.kinds[tangle.kinds[i]!]!.choices[c]!;
  const box = tangle.tables.trueBox[choice.shape]!;
  const nearX = nearest(x, tangle.tables.leastX[choice.shape]!, tangle.lengthUm - box.maxX, choice.lattice, false);
  const nearY = nearest(y, choice.yMin, choice.yMax, choice.lattice, true);
  if (Number.isNaN(nearX) || Number.isNaN(nearY)) return false;
  setPlace(tangle, i, c, nearX, nearY);
  return true;
}

/** The value in the range, and on the lattice, nearest to `value`; NaN when there is none. */
export function nearest(value: Um, least: Um, most: Um, lattice: Lattice | null, isAcross: boolean): Um {
  const step = lattice === null ? 0 : isAcross ? lattice.yStep : lattice.xStep;
  const inside = value < least ? least : value > most ? most : value;
  if (step === 0) return least > most ? Number.NaN : inside;
  const offset = isAcross ? lattice!.yOffset : lattice!.xOffset;
  const down = latticeDown(inside, step, offset);
  const isDown = down >= least && (inside - down <= step / 2 || down + step > most);
  const found = isDown ? down : down + step;
  return found >= least && found <= most ? found : Number.NaN;
}

function setShape(tangle: Tangle, i: number, shape: number, x: Um, y: Um): void {
  const box = tangle.tables.searchedBox[shape]!;
  tangle.shapes[i] = shape;
  tangle.xs[i] = x;
  tangle.ys[i] = y;
  tangle.left[i] = x + box.minX;
  tangle.right[i] = x + box.maxX;
  tangle.low[i] = y + box.minY;
  tangle.high[i] = y + box.maxY;
  putInOrder(tangle, i);
}

/** Puts thing i, whose left end changed, in its place among all. */
function putInOrder({ left, byLeft, rankOf, count }: Tangle, i: number): void {
  const own = left[i]!;
  let at = rankOf[i]!;
  for (; at > 0; at--) {
    const j = byLeft[at - 1]!;
    if (left[j]! < own || (left[j] === own && j < i)) break;
    byLeft[at] = j;
    rankOf[j] = at;
  }
  for (; at < count - 1; at++) {
    const j = byLeft[at + 1]!;
    if (left[j]! > own || (left[j] === own && j > i)) break;
    byLeft[at] = j;
    rankOf[j] = at;
  }
  byLeft[at] = i;
  rankOf[i] = at;
}

/** Finds the things (but for i) whose boxes meet the open rectangle; into `near`. */
export function gather(tangle: Tangle, i: number, left: Um, right: Um, low: Um, high: Um): void {
  const { near, count, byLeft } = tangle;
  let end = 0;
  for (let rank = firstBeyond(tangle, left - tangle.longest); rank < count; rank++) {
    const j = byLeft[rank]!;
    if (tangle.left[j]! >= right) break;
    if (tangle.right[j]! <= left || tangle.high[j]! <= low || tangle.low[j]! >= high) continue;
    if (j !== i) near[end++] = j;
  }
  tangle.nearEnd = end;
}

/** The place of the first thing whose left end is beyond x. */
function firstBeyond({ left, byLeft, count }: Tangle, x: Um): number {
  let from = 0;
  let to = count;
  while (from < to) {
    const middle = (from + to) >> 1;
    if (left[byLeft[middle]!]! > x) to = middle;
    else from = middle + 1;
  }
  return from;
}

/** Root of the depth of a shape at (x, y) in thing j. */
function rootIn(tangle: Tangle, shape: number, x: Um, y: Um, j: number): number {
  const { tables, shapes, xs, ys } = tangle;
  const other = shapes[j]!;
  tangle.steps++;
  const depth = depthOfPair(tables, shape, other, x - xs[j]!, y - ys[j]!);
  return Math.sqrt(depth);
}

/**
 * Cost of thing i were it of `shape` at (x, y), as far as the things of `near` go; gives up once it is `most` or
 * more.
 */
export function costAt(tangle: Tangle, i: number, shape: number, x: Um, y: Um, most: number): number {
  const { tables, count, weights, near, nearEnd } = tangle;
  const box = tables.searchedBox[shape]!;
  const left = x + box.minX;
  const right = x + box.maxX;
  const low = y + box.minY;
  const high = y + box.maxY;
  const row = i * count;
  let cost = 0;
  for (let k = 0; k < nearEnd; k++) {
    const j = near[k]!;
    if (tangle.right[j]! <= left || tangle.left[j]! >= right || tangle.high[j]! <= low || tangle.low[j]! >= high) {
      continue;
    }
    const depth = rootIn(tangle, shape, x, y, j);
    if (depth === 0) continue;
    cost += weights[row + j]! * depth;
    if (cost >= most) return cost;
  }
  return cost;
}

/** Cost of thing i where it lies. */
export function costOf({ count, roots, weights, overlaps }: Tangle, i: number): number {
  let sum = 0;
  let left = overlaps[i]!;
  for (let at = i * count; left > 0; at++) {
    const depth = roots[at]!;
    if (depth === 0) continue;
    sum += weights[at]! * depth;
    left--;
  }
  return sum;
}

/** Moves thing i to a place and measures its pairs anew. */
export function putAt(tangle: Tangle, i: number, choice: number, x: Um, y: Um): void {
  forgetPairs(tangle, i);
  setPlace(tangle, i, choice, x, y);
  measurePairs(tangle, i, 0);
}

function forgetPairs(tangle: Tangle, i: number): void {
  const { count, roots, overlaps } = tangle;
  for (let j = 0; overlaps[i]! > 0; j++) {
    const at = i * count + j;
    if (roots[at] === 0) continue;
    roots[at] = 0;
    roots[j * count + i] = 0;
    overlaps[j] = overlaps[j]! - 1;
    overlaps[i] = overlaps[i]! - 1;
    tangle.pairs--;
  }
}

/** Measures the pairs of thing i with things from `from` on. */
function measurePairs(tangle: Tangle, i: number, from: number): void {
  const { count, roots, overlaps, near, shapes, xs, ys } = tangle;
  gather(tangle, i, tangle.left[i]!, tangle.right[i]!, tangle.low[i]!, tangle.high[i]!);
  for (let k = 0; k < tangle.nearEnd; k++) {
    const j = near[k]!;
    if (j < from) continue;
    const depth = rootIn(tangle, shapes[i]!, xs[i]!, ys[i]!, j);
    if (depth === 0) continue;
    roots[i * count + j] = depth;
    roots[j * count + i] = depth;
    overlaps[i] = overlaps[i]! + 1;
    overlaps[j] = overlaps[j]! + 1;
    tangle.pairs++;
  }
}

/** Measures all pairs anew. */
export function measureAll(tangle: Tangle): void {
  tangle.roots.fill(0);
  tangle.overlaps.fill(0);
  tangle.pairs = 0;
  for (let i = 0; i < tangle.movable; i++) measurePairs(tangle, i, i + 1);
}

/** Sum of the roots of all depths, without weights. */
export function totalRoot({ count, movable, roots, overlaps }: Tangle): number {
  let sum = 0;
  for (let i = 0; i < movable; i++) {
    if (overlaps[i] === 0) continue;
    for (let j = i + 1; j < count; j++) sum += roots[i * count + j]!;
  }
  return sum;
}
