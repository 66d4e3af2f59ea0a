/**
 * No-fit polygons of two oriented outlines, as a union of open convex sums.
 *
 * Place outline A at the origin and outline B at p. Their interiors overlap exactly when p lies inside one of the
 * open Minkowski sums A_i + (-B_j) of their convex parts: interiors that overlap do so in an area, the parts cover
 * all but edges, so some pair of parts overlaps in an area too. No topology of the union is needed.
 * Each sum is made by merging the edges of two convex rings by slope (see de Berg and others, "Computational
 * Geometry", section 13.3). Whole micrometres: every sign is exact.
 *
 * Layout: the vertices of all sums in two flat arrays, counter-clockwise from the lowest (then leftmost) one.
 */
import { assert } from '../diagnostics/assert.js';
import type { Outline, Point, Um } from '../units/types.js';
import type { DepthIndex } from './no-fit-depth.js';
import { indexLines, type LineIndex } from './no-fit-lines.js';

export interface NoFit extends Rings {
  readonly minX: Um;
  readonly minY: Um;
  readonly maxX: Um;
  readonly maxY: Um;
  /** For horizontal lines. */
  readonly across: LineIndex;
  /** For vertical lines: x and y exchanged. */
  readonly along: LineIndex;
  /** For depths; made when first asked for. */
  depths: DepthIndex | null;
}

/** Convex rings, each counter-clockwise from its lowest (then leftmost) vertex. */
export interface Rings {
  readonly sums: number;
  /** Vertices starts[i] .. starts[i + 1] - 1 belong to sum i. */
  readonly starts: Int32Array;
  readonly xs: Int32Array;
  readonly ys: Int32Array;
  /** minX, minY, maxX, maxY of each sum. */
  readonly boxes: Int32Array;
}

/** Relative positions of `moving` (to `fixed` at the origin) at which the interiors overlap. */
export function buildNoFit(fixedParts: readonly Outline[], movingParts: readonly Outline[]): NoFit {
  const movingTurned = movingParts.map(halfTurned);
  const upright = allSums(fixedParts, movingTurned);
  const [minX, minY, maxX, maxY] = boxOfAll(upright);
  assert(maxX - minX < 2 ** 27 && maxY - minY < 2 ** 27, 'a no-fit polygon keeps cross products exact');
  return {
    ...upright,
    minX,
    minY,
    maxX,
    maxY,
    across: indexLines(upright, minY, maxY),
    along: indexLines(allSums(fixedParts.map(exchanged), movingTurned.map(exchanged)), minX, maxX),
    depths: null,
  };
}

/** The Minkowski sums of each convex outline of one list with each of the other. */
function allSums(first: readonly Outline[], second: readonly Outline[]): Rings {
  const as = first.map(fromLowest);
  const bs = second.map(fromLowest);
  const pointsOf = (rings: readonly Int32Array[]): number => rings.reduce((sum, ring) => sum + ring.length / 2, 0);
  const most = pointsOf(as) * bs.length + pointsOf(bs) * as.length;
  const xs = new Int32Array(most);
  const ys = new Int32Array(most);
  const sums = as.length * bs.length;
  const starts = new Int32Array(sums + 1);
  const boxes = new Int32Array(4 * sums);
  let sum = 0;
  for (const a of as) {
    for (const b of bs) {
      const start = starts[sum]!;
      const end = convexSum(a, b, xs, ys, start);
      starts[sum + 1] = end;
      writeBox(xs, ys, start, end, boxes, 4 * sum);
      sum++;
    }
  }
  return { sums, starts, xs: xs.slice(0, starts[sums]), ys: ys.slice(0, starts[sums]), boxes };
}

function writeBox(xs: Int32Array, ys: Int32Array, start: number, end: number, boxes: Int32Array, at: number): void {
  let left = xs[start]!;
  let right = left;
  let high = ys[start]!;
  for (let k = start + 1; k < end; k++) {
    if (xs[k]! < left) left = xs[k]!;
    if (xs[k]! > right) right = xs[k]!;
    if (ys[k]! > high) high = ys[k]!;
  }
  boxes[at] = left;
  // A sum starts at its lowest vertex.
  boxes[at + 1] = ys[start]!;
  boxes[at + 2] = right;
  boxes[at + 3] = high;
}

function boxOfAll({ sums, boxes }: Rings): [Um, Um, Um, Um] {
  const whole: [Um, Um, Um, Um] = [boxes[0]!, boxes[1]!, boxes[2]!, boxes[3]!];
  for (let b = 4; b < 4 * sums; b += 4) {
    whole[0] = Math.min(whole[0], boxes[b]!);
    whole[1] = Math.min(whole[1], boxes[b + 1]!);
    whole[2] = Math.max(whole[2], boxes[b + 2]!);
    whole[3] = Math.max(whole[3], boxes[b + 3]!);
  }
  return whole;
}

function halfTurned(ring: Outline): Outline {
  return ring.map(([x, y]): Point => [-x, -y]);
}

/** The ring with x and y exchanged, counter-clockwise again. */
function exchanged(ring: Outline): Outline {
  return ring.map(([x, y]): Point => [y, x]).reverse();
}

/** True when the interiors overlap with the moving outline at (dx, dy) from the fixed one. */
export function overlapsAt(noFit: NoFit, dx: Um, dy: Um): boolean {
  const { starts, xs, ys, boxes, sums } = noFit;
  for (let i = 0; i < sums; i++) {
    const b = 4 * i;
    if (dx <= boxes[b]! || dy <= boxes[b + 1]! || dx >= boxes[b + 2]! || dy >= boxes[b + 3]!) continue;
    const end = starts[i + 1]!;
    let px = xs[end - 1]!;
    let py = ys[end - 1]!;
    let isInside = true;
    for (let k = starts[i]!; k < end; k++) {
      const qx = xs[k]!;
      const qy = ys[k]!;
      if ((qx - px) * (dy - py) - (qy - py) * (dx - px) <= 0) {
        isInside = false;
        break;
      }
      px = qx;
      py = qy;
    }
    if (isInside) return true;
  }
  return false;
}

/** x, y, x, y, ... of a convex counter-clockwise ring from its lowest, then leftmost vertex, which is repeated. */
function fromLowest(ring: Outline): Int32Array {
  const n = ring.length;
  let start = 0;
  for (let i = 1; i < n; i++) {
    const [x, y] = ring[i]!;
    const [bestX, bestY] = ring[start]!;
    if (y < bestY || (y === bestY && x < bestX)) start = i;
  }
  const flat = new Int32Array(2 * n + 2);
  for (let i = 0; i <= n; i++) flat.set(ring[(start + i) % n]!, 2 * i);
  return flat;
}

/** Writes the Minkowski sum of two convex rings to xs and ys, without flat points; returns the next free place. */
function convexSum(a: Int32Array, b: Int32Array, xs: Int32Array, ys: Int32Array, start: number): number {
  const endOfA = a.length - 2;
  const endOfB = b.length - 2;
  let x = a[0]! + b[0]!;
  let y = a[1]! + b[1]!;
  let i = 0;
  let j = 0;
  let next = start;
  while (i < endOfA || j < endOfB) {
    xs[next] = x;
    ys[next] = y;
    next++;
    const aX = i < endOfA ? a[i + 2]! - a[i]! : 0;
    const aY = i < endOfA ? a[i + 3]! - a[i + 1]! : 0;
    const bX = j < endOfB ? b[j + 2]! - b[j]! : 0;
    const bY = j < endOfB ? b[j + 3]! - b[j + 1]! : 0;
    const turn = i >= endOfA ? -1 : j >= endOfB ? 1 : aX * bY - aY * bX;
    if (turn >= 0) {
      x += aX;
      y += aY;
      i += 2;
    }
    if (turn <= 0) {
      x += bX;
      y += bY;
      j += 2;
    }
  }
  return next;
}
