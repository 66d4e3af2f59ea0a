/**
 * The ground: what lies on the strip while a lay is built, and where one more thing may go.
 *
 * Things lie in the order they were put down; blocked ones come first and stay. Lines: on a horizontal line (y
 * given) or a vertical one (x given) every thing that lies forbids some open intervals; the free places are what is
 * left, ends included, so every place found is exact and legal on the outlines of the search.
 * Work is counted in steps: two for each interval met on a line, and four for finding its pair.
 */
import { intervalsMost } from '../geometry/no-fit-lines.js';
import type { Lattice } from '../problem/types.js';
import type { Um } from '../units/types.js';
import { crossPairAcross, crossPairAlong } from './pairs.js';
import type { Tables } from './tables.js';

const lookUpSteps = 4;

export interface Ground {
  readonly tables: Tables;
  readonly blocked: number;
  /** Things that lie, blocked ones included. */
  count: number;
  readonly shapeOf: Int32Array;
  readonly xs: Float64Array;
  readonly ys: Float64Array;
  readonly choiceOf: Int32Array;
  /** lengthAfter[i]: largest x that things before i reach, blocked ones not counted. */
  readonly lengthAfter: Float64Array;
  /** Work done so far. */
  steps: number;
  spans: Float64Array;
  spanEnd: number;
}

export function makeGround(tables: Tables, things: number): Ground {
  const { blocked } = tables.problem;
  const size = blocked.length + things;
  const ground: Ground = {
    tables,
    blocked: blocked.length,
    count: blocked.length,
    shapeOf: new Int32Array(size),
    xs: new Float64Array(size),
    ys: new Float64Array(size),
    choiceOf: new Int32Array(size),
    lengthAfter: new Float64Array(size + 1),
    steps: 0,
    spans: new Float64Array(4 * intervalsMost),
    spanEnd: 0,
  };
  blocked.forEach((thing, i) => {
    ground.shapeOf[i] = thing.shape;
    ground.xs[i] = thing.x;
    ground.ys[i] = thing.y;
  });
  return ground;
}

/** Puts a thing down as the next one. */
export function putDown(ground: Ground, shape: number, choice: number, x: Um, y: Um): void {
  const at = ground.count;
  ground.shapeOf[at] = shape;
  ground.choiceOf[at] = choice;
  ground.xs[at] = x;
  ground.ys[at] = y;
  ground.lengthAfter[at + 1] = Math.max(ground.lengthAfter[at]!, x + ground.tables.trueBox[shape]!.maxX);
  ground.count = at + 1;
}

/** Least x >= xFrom on the line y that is free for the shape (and on the lattice), or Infinity beyond xMost. */
export function leastFreeX(ground: Ground, shape: number, y: Um, xFrom: Um, xMost: Um, lattice: Lattice | null): Um {
  const step = lattice === null ? 0 : lattice.xStep;
  const offset = lattice === null ? 0 : lattice.xOffset;
  const start = latticeUp(xFrom, step, offset);
  if (start > xMost) return Number.POSITIVE_INFINITY;
  collectHorizontal(ground, shape, y, start, xMost);
  return leastFree(ground, start, xMost, step, offset);
}

/** Least free y in [yFrom, yTo] on the line x, or Infinity. */
export function leastFreeY(ground: Ground, shape: number, x: Um, yFrom: Um, yTo: Um, lattice: Lattice | null): Um {
  const step = lattice === null ? 0 : lattice.yStep;
  const offset = lattice === null ? 0 : lattice.yOffset;
  const start = latticeUp(yFrom, step, offset);
  if (start > yTo) return Number.POSITIVE_INFINITY;
  collectVertical(ground, shape, x, start, yTo);
  return leastFree(ground, start, yTo, step, offset);
}

/** Largest free y in [yFrom, yTo] on the line x, or -Infinity. */
export function mostFreeY(ground: Ground, shape: number, x: Um, yFrom: Um, yTo: Um, lattice: Lattice | null): Um {
  const step = lattice === null ? 0 : lattice.yStep;
  const offset = lattice === null ? 0 : lattice.yOffset;
  const start = latticeDown(yTo, step, offset);
  if (start < yFrom) return Number.NEGATIVE_INFINITY;
  collectVertical(ground, shape, x, yFrom, start);
  return mostFree(ground, start, yFrom, step, offset);
}

export function latticeUp(value: Um, step: Um, offset: Um): Um {
  return step === 0 ? value : offset + Math.ceil((value - offset) / step) * step;
}

export function latticeDown(value: Um, step: Um, offset: Um): Um {
  return step === 0 ? value : offset + Math.floor((value - offset) / step) * step;
}

function leastFree(ground: Ground, from: Um, most: Um, step: Um, offset: Um): Um {
  const { spans, spanEnd } = ground;
  let value = from;
  let moved = true;
  while (moved) {
    moved = false;
    for (let i = 0; i < spanEnd; i += 2) {
      if (value <= spans[i]! || value >= spans[i + 1]!) continue;
      value = latticeUp(spans[i + 1]!, step, offset);
      if (value > most) return Number.POSITIVE_INFINITY;
      moved = true;
    }
  }
  return value;
}

function mostFree(ground: Ground, from: Um, least: Um, step: Um, offset: Um): Um {
  const { spans, spanEnd } = ground;
  let value = from;
  let moved = true;
  while (moved) {
    moved = false;
    for (let i = 0; i < spanEnd; i += 2) {
      if (value <= spans[i]! || value >= spans[i + 1]!) continue;
      value = latticeDown(spans[i]!, step, offset);
      if (value < least) return Number.NEGATIVE_INFINITY;
      moved = true;
    }
  }
  return value;
}

/** Open intervals of x that things forbid to the shape on the line y, as far as they meet [xFrom, xTo]. */
function collectHorizontal(ground: Ground, shape: number, y: Um, xFrom: Um, xTo: Um): void {
  const { tables, shapeOf, xs, ys, count } = ground;
  const box = tables.searchedBox[shape]!;
  ground.spanEnd = 0;
  for (let i = 0; i < count; i++) {
    const other = shapeOf[i]!;
    const otherBox = tables.searchedBox[other]!;
    const dy = y - ys[i]!;
    if (dy + box.maxY <= otherBox.minY || dy + box.minY >= otherBox.maxY) continue;
    const x = xs[i]!;
    if (x + otherBox.maxX - box.minX <= xFrom || x + otherBox.minX - box.maxX >= xTo) continue;
    makeRoom(ground);
    const end = crossPairAlong(tables, shape, other, dy, x, ground.spans, ground.spanEnd);
    ground.steps += lookUpSteps + end - ground.spanEnd;
    ground.spanEnd = end;
  }
}

/** Open intervals of y on the line x, as far as they meet [yFrom, yTo]. */
function collectVertical(ground: Ground, shape: number, x: Um, yFrom: Um, yTo: Um): void {
  const { tables, shapeOf, xs, ys, count } = ground;
  const box = tables.searchedBox[shape]!;
  ground.spanEnd = 0;
  for (let i = 0; i < count; i++) {
    const other = shapeOf[i]!;
    const otherBox = tables.searchedBox[other]!;
    const dx = x - xs[i]!;
    if (dx + box.maxX <= otherBox.minX || dx + box.minX >= otherBox.maxX) continue;
    const y = ys[i]!;
    if (y + otherBox.maxY - box.minY <= yFrom || y + otherBox.minY - box.maxY >= yTo) continue;
    makeRoom(ground);
    const end = crossPairAcross(tables, shape, other, dx, y, ground.spans, ground.spanEnd);
    ground.steps += lookUpSteps + end - ground.spanEnd;
    ground.spanEnd = end;
  }
}

/** Room for the intervals of one more pair. */
function makeRoom(ground: Ground): void {
  const size = ground.spanEnd + 2 * intervalsMost;
  if (size <= ground.spans.length) return;
  const wider = new Float64Array(2 * size);
  wider.set(ground.spans);
  ground.spans = wider;
}
