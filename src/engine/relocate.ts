/**
 * One move: take one thing of a tangle out and put it where its cost is least.
 *
 * 1. For each allowed choice, on some lines across and along the cloth: how deep the thing lies in each other one is
 *    taken to be a tent over every interval in which the pair overlaps (see `addTent`), so the weighted sum is piecewise
 *    linear and its least value lies at an end of an interval. Bends are sorted and swept; the few best of all lines are kept.
 *    (Line searches: Egeblad, Nielsen and Odgaard 2007.)
 * 2. These are measured by true depths, and the first of them is walked downhill, along and across, in steps that halve.
 * A place without any overlap ends the measuring at once. Nothing is changed until a better place is found.
 */

import { intervalsMost, spanSize } from '../geometry/no-fit-lines.js';
import { latticeDown, latticeUp } from '../problem/lattice.js';
import type { Choice, Lattice } from '../problem/types.js';
import type { Um } from '../units/types.js';
import { crossPairAcross, crossPairAlong } from './pairs.js';
import type { Random } from './random.js';
import { costAt, costOf, gather, nearest, putAt, type Tangle } from './tangle.js';

/** Places kept from the lines; the first of them is walked downhill. */
const keptMost = 4;
/** First and last step of the walk, as shares of the thing's smaller side; how many first steps it may go. */
const firstStep = 1 / 16;
const lastStep = 1 / 256;
const walkSteps = 3;
/** A walk begins at a place that costs at most so many times what the best one does. */
const worthWalking = 4;
/** One in so many moves looks along a border of the y range too. */
const borderEvery = 5;
/** On a line longer than one and a half times as many widths, so many are looked at. */
const windowWidths = 4;
/** ... and fewer where there are very many things. */
const manyThings = 300;
const windowWidthsOfMany = 1.5;
/** Steps of work of a pair on a line. */
const lineSteps = 2;

/** Candidates of one move, the best first; and scratch for one line. One for each thread. */
const keptCost = new Float64Array(keptMost);
const keptX = new Float64Array(keptMost);
const keptY = new Float64Array(keptMost);
const keptChoice = new Int32Array(keptMost);
let kept = 0;
const spans = new Float64Array(spanSize * intervalsMost);
/** Where the sum on a line bends, and by how much. */
let bendAt = new Float64Array(4096);
let bendSlope = new Float64Array(4096);
let bends = 0;
/** Its value and slope at the beginning of the line. (A fraction that changes is a new object unless it is in an array.) */
const atFrom = new Float64Array(2);
const bendsOfTent = 4;
const heldSpan = new Float64Array(spanSize);

/** The best place so far. */
interface Place {
  choice: number;
  x: Um;
  y: Um;
  cost: number;
}

/** Moves thing i to the best place found, if that is better than where it lies; true when it moved. */
export function relocate(tangle: Tangle, i: number, random: Random): boolean {
  const cost = costOf(tangle, i);
  const place = findPlace(tangle, i, cost, random);
  if (place.cost >= cost) return false;
  putAt(tangle, i, place.choice, place.x, place.y);
  return true;
}

/** The best place found for thing i; where it lies, at its cost, when none is better. */
export function findPlace(tangle: Tangle, i: number, cost: number, random: Random): Place {
  const best: Place = { choice: tangle.choices[i]!, x: tangle.xs[i]!, y: tangle.ys[i]!, cost };
  const { choices } = tangle.tables.problem.kinds[tangle.kinds[i]!]!;
  kept = 0;
  for (let c = 0; c < choices.length; c++) searchLines(tangle, i, c, random);
  for (let k = 0; k < kept && best.cost > 0; k++) measure(tangle, i, k, best, k === 0);
  return best;
}

/** Keeps the best places of a choice on some lines: through the present middle, at random, along a border. */
function searchLines(tangle: Tangle, i: number, c: number, random: Random): void {
  const choice = tangle.tables.problem.kinds[tangle.kinds[i]!]!.choices[c]!;
  const box = tangle.tables.searchedBox[choice.shape]!;
  const trueBox = tangle.tables.trueBox[choice.shape]!;
  const xMin = tangle.tables.leastX[choice.shape]!;
  const xMax = tangle.lengthUm - trueBox.maxX;
  if (xMax < xMin) return;
  const { yMin, yMax } = choice;
  const x = clamp(Math.round((tangle.left[i]! + tangle.right[i]! - box.minX - box.maxX) / 2), xMin, xMax);
  const y = clamp(Math.round((tangle.low[i]! + tangle.high[i]! - box.minY - box.maxY) / 2), yMin, yMax);
  alongLine(tangle, i, c, choice, y, x, xMin, xMax);
  if (yMin === yMax) {
    // On a long strip the line is not looked at as a whole: somewhere else too.
    if (isLong(tangle, choice, xMax - xMin))
      alongLine(tangle, i, c, choice, y, between(random, xMin, xMax), xMin, xMax);
    return;
  }
  acrossLine(tangle, i, c, choice, x, yMin, yMax);
  alongLine(tangle, i, c, choice, between(random, yMin, yMax), between(random, xMin, xMax), xMin, xMax);
  if (random.below(borderEvery) > 0) return;
  const border = random.below(2) === 0 ? yMin : yMax;
  alongLine(tangle, i, c, choice, border, between(random, xMin, xMax), xMin, xMax);
}

/** Measures kept place k truly, and walks downhill from it. */
function measure(tangle: Tangle, i: number, k: number, best: Place, walk: boolean): void {
  const choice = keptChoice[k]!;
  const { shape } = tangle.tables.problem.kinds[tangle.kinds[i]!]!.choices[choice]!;
  const box = tangle.tables.searchedBox[shape]!;
  const x = keptX[k]!;
  const y = keptY[k]!;
  const smaller = Math.min(box.maxX - box.minX, box.maxY - box.minY);
  const reach = walk ? Math.ceil(smaller * walkSteps * firstStep) : 0;
  gather(tangle, i, x + box.minX - reach, x + box.maxX + reach, y + box.minY - reach, y + box.maxY + reach);
  const cost = costAt(tangle, i, shape, x, y, walk ? worthWalking * best.cost : best.cost);
  if (cost < best.cost) take(best, choice, x, y, cost);
  if (!walk || cost >= worthWalking * best.cost) return;
  walkDown(tangle, i, choice, { choice, x, y, cost }, best, smaller);
}

function take(best: Place, choice: number, x: Um, y: Um, cost: number): void {
  best.choice = choice;
  best.x = x;
  best.y = y;
  best.cost = cost;
}

/** Walks downhill from a measured place by true depths; the things of `near` must reach far enough around it. */
function walkDown(tangle: Tangle, i: number, c: number, at: Place, best: Place, smaller: Um): void {
  const choice = tangle.tables.problem.kinds[tangle.kinds[i]!]!.choices[c]!;
  const { shape, lattice } = choice;
  const trueBox = tangle.tables.trueBox[shape]!;
  const reach = Math.ceil(smaller * walkSteps * firstStep);
  const xMin = Math.max(tangle.tables.leastX[shape]!, at.x - reach);
  const xMax = Math.min(tangle.lengthUm - trueBox.maxX, at.x + reach);
  const yMin = Math.max(choice.yMin, at.y - reach);
  const yMax = Math.min(choice.yMax, at.y + reach);
  let step = smaller * firstStep;
  const least = Math.max(1, smaller * lastStep);
  while (step >= least && at.cost > 0) {
    let moved = false;
    for (let way = 0; way < wayX.length && !moved; way++) {
      const x = nearest(at.x + Math.round(wayX[way]! * step), xMin, xMax, lattice, false);
      const y = nearest(at.y + Math.round(wayY[way]! * step), yMin, yMax, lattice, true);
      if ((x === at.x && y === at.y) || Number.isNaN(x) || Number.isNaN(y)) continue;
      const cost = costAt(tangle, i, shape, x, y, at.cost);
      if (cost >= at.cost) continue;
      at.x = x;
      at.y = y;
      at.cost = cost;
      moved = true;
    }
    if (!moved) step /= 2;
  }
  if (at.cost < best.cost) take(best, c, at.x, at.y, at.cost);
}

const wayX = [1, -1, 0, 0];
const wayY = [0, 0, 1, -1];

function halfWindow({ tables, movable }: Tangle, choice: Choice): Um {
  const { yFrom, yTo } = tables.problem.zones[choice.zone]!;
  return ((movable < manyThings ? windowWidths : windowWidthsOfMany) / 2) * (yTo - yFrom);
}

/** A line of this length is looked at in part. */
function isLong(tangle: Tangle, choice: Choice, length: Um): boolean {
  return length > 3 * halfWindow(tangle, choice);
}

/** Best places on the line y = const, kept. */
function alongLine(tangle: Tangle, i: number, c: number, choice: Choice, at: Um, around: Um, xMin: Um, xMax: Um): void {
  const { shape, lattice } = choice;
  const y = nearest(at, choice.yMin, choice.yMax, lattice, true);
  if (Number.isNaN(y)) return;
  const half = halfWindow(tangle, choice);
  const isPart = isLong(tangle, choice, xMax - xMin);
  const from = isPart ? Math.max(xMin, Math.round(around - half)) : xMin;
  const to = isPart ? Math.min(xMax, Math.round(around + half)) : xMax;
  const box = tangle.tables.searchedBox[shape]!;
  gather(tangle, i, from + box.minX, to + box.maxX, y + box.minY, y + box.maxY);
  sweep(tangle, i, c, shape, lattice, y, from, to, false);
}

/** Best places on the line x = const, kept. */
function acrossLine(tangle: Tangle, i: number, c: number, choice: Choice, at: Um, yMin: Um, yMax: Um): void {
  const { shape, lattice } = choice;
  const trueBox = tangle.tables.trueBox[shape]!;
  const x = nearest(at, tangle.tables.leastX[shape]!, tangle.lengthUm - trueBox.maxX, lattice, false);
  if (Number.isNaN(x)) return;
  const box = tangle.tables.searchedBox[shape]!;
  gather(tangle, i, x + box.minX, x + box.maxX, yMin + box.minY, yMax + box.maxY);
  sweep(tangle, i, c, shape, lattice, x, yMin, yMax, true);
}

/** Collects the tents of the gathered things on a line, and keeps the least places of their weighted sum. */
function sweep(
  tangle: Tangle,
  i: number,
  c: number,
  shape: number,
  lattice: Lattice | null,
  line: Um,
  from: Um,
  to: Um,
  isAcross: boolean,
): void {
  const { tables, shapes, xs, ys, weights, count, near, nearEnd } = tangle;
  bends = 0;
  atFrom.fill(0);
  for (let k = 0; k < nearEnd; k++) {
    const j = near[k]!;
    const other = shapes[j]!;
    const end = isAcross
      ? crossPairAcross(tables, shape, other, line - xs[j]!, ys[j]!, spans, 0)
      : crossPairAlong(tables, shape, other, line - ys[j]!, xs[j]!, spans, 0);
    const joined = end > spanSize ? joinSpans(end) : end;
    tangle.steps += lineSteps;
    const weight = weights[i * count + j]!;
    for (let s = 0; s < joined; s += spanSize) addTent(s, weight, from, to);
  }
  sortBends(isAcross);
  keepFromSweep(c, lattice, line, from, to, isAcross);
}

/**
 * Adds the tent over the span at `s`, times the weight: it rises from the low end, is level where the depth is the most it
 * can be on this line, and falls to the high end.
 */
function addTent(s: number, weight: number, from: Um, to: Um): void {
  const low = spans[s]!;
  const high = spans[s + 1]!;
  if (high <= from || low >= to) return;
  const rise = spans[s + 2]!;
  const fall = spans[s + 3]!;
  const top = Math.min(spans[s + 4]!, ((high - low) * rise * fall) / (rise + fall));
  if (bends + bendsOfTent > bendAt.length) growBends();
  addBend(low, weight * rise, from, to);
  const up = low + top / rise;
  addBend(up, -weight * rise, from, to);
  addBend(Math.max(up, high - top / fall), -weight * fall, from, to);
  addBend(high, weight * fall, from, to);
}

/** From `at` on the sum rises more steeply by `slope`. */
function addBend(at: number, slope: number, from: Um, to: Um): void {
  if (at < from) {
    atFrom[0] = atFrom[0]! + slope * (from - at);
    atFrom[1] = atFrom[1]! + slope;
  } else if (at <= to) {
    bendAt[bends] = at;
    bendSlope[bends++] = slope;
  }
}

/** Follows the sum from `from` to `to` and keeps its valleys. */
function keepFromSweep(c: number, lattice: Lattice | null, line: Um, from: Um, to: Um, isAcross: boolean): void {
  let value = atFrom[0]!;
  let slope = atFrom[1]!;
  let at = from;
  // At the beginning the sum may only fall away to the left.
  let before = -1;
  for (let e = 0; e <= bends; ) {
    const next = e < bends ? bendAt[e]! : to;
    if (next > at || e === bends) {
      if (before <= 0 && slope >= 0) keepPlace(value, c, lattice, line, at, from, to, isAcross);
      before = slope;
      value += slope * (next - at);
      at = next;
      if (e === bends) break;
    }
    while (e < bends && bendAt[e] === next) slope += bendSlope[e++]!;
  }
  if (before < 0 && at === to) keepPlace(value, c, lattice, line, to, from, to, isAcross);
}

function keepPlace(
  cost: number,
  c: number,
  lattice: Lattice | null,
  line: Um,
  at: Um,
  from: Um,
  to: Um,
  isAcross: boolean,
): void {
  if (kept === keptMost && cost >= keptCost[kept - 1]!) return;
  const step = lattice === null ? 0 : isAcross ? lattice.yStep : lattice.xStep;
  if (step === 0) {
    keep(cost, c, isAcross ? line : at, isAcross ? at : line);
    return;
  }
  const offset = isAcross ? lattice!.yOffset : lattice!.xOffset;
  for (const near of [latticeDown(at, step, offset), latticeUp(at, step, offset)]) {
    if (near >= from && near <= to) keep(cost, c, isAcross ? line : near, isAcross ? near : line);
  }
}

/** Keeps a place in its order; one that is held already counts once. */
function keep(cost: number, c: number, x: Um, y: Um): void {
  let slot = kept < keptMost ? kept : keptMost - 1;
  if (kept === keptMost && cost >= keptCost[slot]!) return;
  for (let k = 0; k < kept; k++) if (keptX[k] === x && keptY[k] === y && keptChoice[k] === c) return;
  while (slot > 0 && keptCost[slot - 1]! > cost) {
    keptCost[slot] = keptCost[slot - 1]!;
    keptX[slot] = keptX[slot - 1]!;
    keptY[slot] = keptY[slot - 1]!;
    keptChoice[slot] = keptChoice[slot - 1]!;
    slot--;
  }
  keptCost[slot] = cost;
  keptX[slot] = x;
  keptY[slot] = y;
  keptChoice[slot] = c;
  if (kept < keptMost) kept++;
}

/** Joins the spans in the first `end` numbers that overlap; those that only touch leave a place. */
function joinSpans(end: number): number {
  for (let k = spanSize; k < end; k += spanSize) {
    for (let n = 0; n < spanSize; n++) heldSpan[n] = spans[k + n]!;
    let at = k;
    for (; at > 0 && spans[at - spanSize]! > heldSpan[0]!; at -= spanSize) {
      for (let n = 0; n < spanSize; n++) spans[at + n] = spans[at + n - spanSize]!;
    }
    for (let n = 0; n < spanSize; n++) spans[at + n] = heldSpan[n]!;
  }
  let last = 0;
  for (let k = spanSize; k < end; k += spanSize) {
    if (spans[k]! >= spans[last + 1]!) {
      last += spanSize;
      for (let n = 0; n < spanSize; n++) spans[last + n] = spans[k + n]!;
    } else if (spans[k + 1]! > spans[last + 1]!) {
      spans[last + 1] = spans[k + 1]!;
      spans[last + 3] = spans[k + 3]!;
    }
  }
  return last + spanSize;
}

const gaps = [301, 132, 57, 23, 10, 4, 1];
const lastGap = [1];

/**
 * Sorts the bends by place (shell sort; the gaps are Ciura's, 2001); along the cloth, where `gather` has them come nearly in
 * order, by insertion alone. Slopes at one place may come in any order.
 */
function sortBends(isAcross: boolean): void {
  for (const gap of isAcross ? gaps : lastGap) {
    if (gap >= bends) continue;
    for (let k = gap; k < bends; k++) {
      const at = bendAt[k]!;
      const slope = bendSlope[k]!;
      let to = k;
      while (to >= gap && bendAt[to - gap]! > at) {
        bendAt[to] = bendAt[to - gap]!;
        bendSlope[to] = bendSlope[to - gap]!;
        to -= gap;
      }
      bendAt[to] = at;
      bendSlope[to] = slope;
    }
  }
}

function growBends(): void {
  const biggerAt = new Float64Array(2 * bendAt.length);
  const biggerSlope = new Float64Array(2 * bendAt.length);
  biggerAt.set(bendAt);
  biggerSlope.set(bendSlope);
  bendAt = biggerAt;
  bendSlope = biggerSlope;
}

function clamp(value: number, least: number, most: number): number {
  return value < least ? least : Math.min(value, most);
}

/** A whole number by chance from `least` to `most`, both included. */
export function between(random: Random, least: Um, most: Um): Um {
  return least + Math.floor((random.next() * (most - least + 1)) / 4294967296);
}
