/**
 * The leftmost free place of a choice among all that lies.
 *
 * On a vertical line every convex sum of a thing that lies forbids an open interval of y. While these cover the
 * whole y range there is no free place; a few of them, each reaching into the next, are enough to see that. As the
 * line moves to the right these few go on covering until two of them part, or one leaves a border of the range or
 * ends: nothing before that x is free, so the line jumps there, and so on until something is free. Both borders
 * of a sum are polylines, so where they part is found edge by edge. (A sweep whose certificate of coverage is mended
 * only when it fails: the idea of kinetic data structures, Basch, Guibas and Hershberger 1999.)
 *
 * On whole micrometres: each line looked at is at a whole x, and intervals are exact there, so every place found
 * is legal. Where two borders part at a fraction, or run nearly alongside, a place may be missed when it is
 * less than half a millimetre wide.
 */
import { type NoFit, overlapsAt, type Rings } from '../geometry/no-fit.js';
import { crossingCeil, sumsOfRows } from '../geometry/no-fit-lines.js';
import { latticeDown, latticeUp } from '../problem/lattice.js';
import type { Choice } from '../problem/types.js';
import type { Um } from '../units/types.js';
import { type Ground, gatherNear } from './ground.js';
import { ownNoFitOf } from './tables.js';

const lookUpSteps = 4;
/** The line moves on by at least 1 micrometre, and by twice as much each time that is all, up to so much. */
const creepMostUm = 512;
/** What is lost in the arithmetic of fractions. */
const fractionUm = 1e-3;

/** Buffers of a sweep, and the place it found. */
export interface Sweep {
  x: Um;
  y: Um;
  /** Things near the line, with their no-fit polygons. */
  readonly near: Int32Array;
  readonly noFits: NoFit[];
  readonly negated: boolean[];
  nearEnd: number;
  /** Intervals on the line: ends, thing (place in `near`), sum, vertex ahead on its lower and its upper border. */
  low: Float64Array;
  high: Float64Array;
  thing: Int32Array;
  sum: Int32Array;
  lowerAhead: Int32Array;
  upperAhead: Int32Array;
  end: number;
  readonly upper: Border;
  readonly lower: Border;
}

/** An edge of a border of a sum, in the frame of the strip; x rises from the first end to the second. */
interface Border {
  rings: Rings | null;
  sum: number;
  at: number;
  step: 1 | -1;
  sign: 1 | -1;
  shiftX: Um;
  shiftY: Um;
  fromX: number;
  fromY: number;
  toX: number;
  toY: number;
}

/** Scratch for sweeping across so many things; one for each ground. */
export function makeSweep(things: number): Sweep {
  const size = 256;
  return {
    x: 0,
    y: 0,
    near: new Int32Array(things),
    noFits: [],
    negated: [],
    nearEnd: 0,
    low: new Float64Array(size),
    high: new Float64Array(size),
    thing: new Int32Array(size),
    sum: new Int32Array(size),
    lowerAhead: new Int32Array(size),
    upperAhead: new Int32Array(size),
    end: 0,
    upper: makeBorder(1),
    lower: makeBorder(-1),
  };
}

function makeBorder(step: 1 | -1): Border {
  return { rings: null, sum: 0, at: 0, step, sign: 1, shiftX: 0, shiftY: 0, fromX: 0, fromY: 0, toX: 0, toY: 0 };
}

/**
 * Looks for the leftmost place of the choice with xFrom <= x <= xMost, and on that line the lowest or highest y.
 * True: it is in `sweep.x` and `sweep.y`. False: there is none left of `sweep.x`, which is beyond xMost.
 */
export function leftmostPlace(
  sweep: Sweep,
  ground: Ground,
  choice: Choice,
  xFrom: Um,
  xMost: Um,
  isHighest: boolean,
): boolean {
  const { shape, lattice } = choice;
  const xStep = lattice === null ? 0 : lattice.xStep;
  const xOffset = lattice === null ? 0 : lattice.xOffset;
  const yStep = lattice === null ? 0 : lattice.yStep;
  const yOffset = lattice === null ? 0 : lattice.yOffset;
  const yMin = latticeUp(choice.yMin, yStep, yOffset);
  const yMax = latticeDown(choice.yMax, yStep, yOffset);
  let x = latticeUp(xFrom, xStep, xOffset);
  let gatheredTo = Number.NEGATIVE_INFINITY;
  let creep = 1;
  while (x <= xMost) {
    if (x > gatheredTo) {
      gatheredTo = x + ground.lists.width;
      gather(sweep, ground, shape, x, gatheredTo, yMin, yMax);
    }
    collect(sweep, ground, x, yMin, yMax);
    const parted = coveredUntil(sweep, ground, x, yMin, yMax, yStep, yOffset);
    if (parted === null) {
      if (isHighest) sweep.y = highestFree(sweep, sweep.y, yMax, yStep, yOffset);
      sweep.x = x;
      return true;
    }
    const jump = Math.ceil(parted - fractionUm);
    creep = jump > x ? 1 : Math.min(2 * creep, creepMostUm);
    x = latticeUp(Math.max(jump, x + creep), xStep, xOffset);
  }
  sweep.x = x;
  return false;
}

/** True when thing `i` overlaps the shape at (x, y). */
export function meets(ground: Ground, i: number, shape: number, x: Um, y: Um): boolean {
  const { tables, shapeOf, xs, ys } = ground;
  const other = shapeOf[i]!;
  const box = tables.searchedBox[shape]!;
  const otherBox = tables.searchedBox[other]!;
  const dx = x - xs[i]!;
  const dy = y - ys[i]!;
  if (dx + box.maxX <= otherBox.minX || dx + box.minX >= otherBox.maxX) return false;
  if (dy + box.maxY <= otherBox.minY || dy + box.minY >= otherBox.maxY) return false;
  const noFit = other > shape ? ownNoFitOf(tables, shape, other) : ownNoFitOf(tables, other, shape);
  ground.steps += lookUpSteps + noFit.sums;
  return other > shape ? overlapsAt(noFit, -dx, -dy) : overlapsAt(noFit, dx, dy);
}

/** Things that can forbid something between two x. */
function gather(sweep: Sweep, ground: Ground, shape: number, left: Um, right: Um, yMin: Um, yMax: Um): void {
  const { tables, shapeOf, ys } = ground;
  const { near } = sweep;
  const box = tables.searchedBox[shape]!;
  const found = gatherNear(ground, left + box.minX, right + box.maxX, near);
  let end = 0;
  for (let k = 0; k < found; k++) {
    const i = near[k]!;
    const other = shapeOf[i]!;
    const otherBox = tables.searchedBox[other]!;
    if (ys[i]! + otherBox.maxY <= yMin + box.minY || ys[i]! + otherBox.minY >= yMax + box.maxY) continue;
    near[end] = i;
    sweep.noFits[end] = other > shape ? ownNoFitOf(tables, shape, other) : ownNoFitOf(tables, other, shape);
    sweep.negated[end] = other > shape;
    end++;
  }
  sweep.nearEnd = end;
}

/** The intervals of y that are forbidden on the line x. */
function collect(sweep: Sweep, ground: Ground, x: Um, yMin: Um, yMax: Um): void {
  sweep.end = 0;
  for (let k = 0; k < sweep.nearEnd; k++) {
    const i = sweep.near[k]!;
    const { along } = sweep.noFits[k]!;
    const line = sweep.negated[k]! ? ground.xs[i]! - x : x - ground.xs[i]!;
    if (line <= along.minY || line >= along.maxY) continue;
    const r = Math.floor((line - along.minY) / along.rowHeight);
    const count = sumsOfRows(along)[r + 1]! - sumsOfRows(along)[r]!;
    ground.steps += lookUpSteps + count;
    if (sweep.end + count > sweep.low.length) widen(sweep, 2 * (sweep.end + count));
    collectRow(sweep, k, r, line, ground.ys[i]!, yMin, yMax);
  }
}

function widen(sweep: Sweep, size: number): void {
  const wider = <T extends Float64Array | Int32Array>(before: T, after: T): T => {
    after.set(before);
    return after;
  };
  sweep.low = wider(sweep.low, new Float64Array(2 * size));
  sweep.high = wider(sweep.high, new Float64Array(2 * size));
  sweep.thing = wider(sweep.thing, new Int32Array(2 * size));
  sweep.sum = wider(sweep.sum, new Int32Array(2 * size));
  sweep.lowerAhead = wider(sweep.lowerAhead, new Int32Array(2 * size));
  sweep.upperAhead = wider(sweep.upperAhead, new Int32Array(2 * size));
}

function collectRow(sweep: Sweep, thing: number, row: number, line: Um, y: Um, yMin: Um, yMax: Um): void {
  const negate = sweep.negated[thing]!;
  const { along } = sweep.noFits[thing]!;
  // Along and across are exchanged in these rings.
  const { starts, xs: vs, ys: us, boxes } = along.rings;
  const sums = sumsOfRows(along);
  const end = sums[row + 1]!;
  for (let k = sums[row]!; k < end; k++) {
    const sum = sums[k]!;
    if (line <= boxes[4 * sum + 1]! || line >= boxes[4 * sum + 3]!) continue;
    let right = starts[sum]!;
    while (us[right + 1]! < line) right++;
    const most = crossingCeil(vs[right]!, us[right]!, vs[right + 1]!, us[right + 1]!, line);
    let left = starts[sum + 1]! - 1;
    while (us[left]! < line) left--;
    const lower = left + 1 === starts[sum + 1]! ? starts[sum]! : left + 1;
    const least = -crossingCeil(-vs[lower]!, us[lower]!, -vs[left]!, us[left]!, line);
    const low = negate ? y - most : y + least;
    const high = negate ? y - least : y + most;
    if (high <= yMin || low >= yMax) continue;
    const at = sweep.end++;
    sweep.low[at] = low;
    sweep.high[at] = high;
    sweep.thing[at] = thing;
    sweep.sum[at] = sum;
    sweep.upperAhead[at] = negate ? lower : right + 1;
    sweep.lowerAhead[at] = negate ? right : left;
  }
}

/** How far to the right the intervals on this line go on covering all y; null: not all, `sweep.y` is free. */
function coveredUntil(sweep: Sweep, ground: Ground, x: Um, yMin: Um, yMax: Um, yStep: Um, yOffset: Um): number | null {
  const { low, high, end, upper, lower } = sweep;
  let until = Number.POSITIVE_INFINITY;
  let previous = -1;
  for (let y = yMin; y <= yMax; ) {
    ground.steps += end;
    let widest = -1;
    let reach = y;
    for (let k = 0; k < end; k++) {
      if (low[k]! >= y || high[k]! <= reach) continue;
      reach = high[k]!;
      widest = k;
    }
    if (widest < 0) {
      sweep.y = y;
      return null;
    }
    const next = latticeUp(reach, yStep, yOffset);
    setBorder(lower, sweep, ground, widest, sweep.lowerAhead[widest]!);
    // Without a lattice the interval begins to matter where the one before ends, otherwise at a line of the lattice.
    if (previous < 0 || yStep > 0) setLevel(upper, y);
    else setBorder(upper, sweep, ground, previous, sweep.upperAhead[previous]!);
    until = Math.min(until, partingOf(upper, lower, x));
    if (next > yMax || yStep > 0) {
      setBorder(upper, sweep, ground, widest, sweep.upperAhead[widest]!);
      setLevel(lower, yStep > 0 ? Math.min(next - yStep, yMax) : yMax);
      until = Math.min(until, partingOf(upper, lower, x));
    }
    previous = widest;
    y = next;
  }
  return until;
}

function highestFree(sweep: Sweep, least: Um, yMax: Um, yStep: Um, yOffset: Um): Um {
  const { low, high, end } = sweep;
  let y = yMax;
  let moved = true;
  while (moved && y > least) {
    moved = false;
    for (let k = 0; k < end; k++) {
      if (low[k]! >= y || high[k]! <= y) continue;
      y = latticeDown(low[k]!, yStep, yOffset);
      moved = true;
    }
  }
  return y;
}

/** The edge of a border of interval k that ends at vertex `ahead`. */
function setBorder(border: Border, sweep: Sweep, ground: Ground, k: number, ahead: number): void {
  const thing = sweep.thing[k]!;
  const i = sweep.near[thing]!;
  border.rings = sweep.noFits[thing]!.along.rings;
  border.sum = sweep.sum[k]!;
  border.sign = sweep.negated[thing]! ? -1 : 1;
  border.shiftX = ground.xs[i]!;
  border.shiftY = ground.ys[i]!;
  border.at = nextOn(border, ahead, -border.step);
  moveTo(border, border.at);
  moveTo(border, ahead);
}

/** A border that is level for ever. */
function setLevel(border: Border, y: Um): void {
  border.rings = null;
  border.fromX = 0;
  border.toX = Number.POSITIVE_INFINITY;
  border.fromY = y;
  border.toY = y;
}

function nextOn({ rings, sum }: Border, at: number, step: number): number {
  const { starts } = rings!;
  const next = at + step;
  if (next < starts[sum]!) return starts[sum + 1]! - 1;
  return next >= starts[sum + 1]! ? starts[sum]! : next;
}

function moveTo(border: Border, at: number): void {
  const { xs: vs, ys: us } = border.rings!;
  border.fromX = border.toX;
  border.fromY = border.toY;
  border.toX = border.shiftX + border.sign * us[at]!;
  border.toY = border.shiftY + border.sign * vs[at]!;
  border.at = at;
}

/** On to the next edge; false when the sum ends here. */
function moveOn(border: Border): boolean {
  moveTo(border, nextOn(border, border.at, border.step));
  return border.toX > border.fromX;
}

function heightAt({ fromX, fromY, toX, toY }: Border, x: number): number {
  return fromY + ((x - fromX) / (toX - fromX)) * (toY - fromY);
}

/** The least x, from the given one on, where the upper border is no longer above the lower one, or one ends. */
function partingOf(upper: Border, lower: Border, from: number): number {
  let x = from;
  let apart = heightAt(upper, x) - heightAt(lower, x);
  for (;;) {
    if (apart <= 0) return x;
    const end = Math.min(upper.toX, lower.toX);
    const apartThen = heightAt(upper, end) - heightAt(lower, end);
    if (apartThen <= 0) return x + ((end - x) * apart) / (apart - apartThen);
    x = end;
    apart = apartThen;
    if (upper.toX === end && !moveOn(upper)) return end;
    if (lower.toX === end && !moveOn(lower)) return end;
  }
}
