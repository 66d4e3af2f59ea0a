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
  const rings: number[][] = [];
  for (const a of fixedParts) {
    for (const b of movingParts) rings.push(convexSum(fromLowest(a, 1), fromLowest(b, -1)));
  }
  const upright = flatten(rings);
  const [minX, minY, maxX, maxY] = boxOfAll(upright);
  assert(maxX - minX < 2 ** 27 && maxY - minY < 2 ** 27, 'a no-fit polygon keeps cross products exact');
  return {
    ...upright,
    minX,
    minY,
    maxX,
    maxY,
    across: indexLines(upright, minY, maxY),
    along: indexLines(flatten(rings.map(exchanged)), minX, maxX),
    depths: null,
  };
}

function flatten(rings: readonly number[][]): Rings {
  const starts = new Int32Array(rings.length + 1);
  rings.forEach((ring, i) => {
    starts[i + 1] = starts[i]! + ring.length / 2;
  });
  const total = starts[rings.length]!;
  const xs = new Int32Array(total);
  const ys = new Int32Array(total);
  const boxes = new Int32Array(4 * rings.length);
  rings.forEach((ring, i) => {
    const box = [ring[0]!, ring[1]!, ring[0]!, ring[1]!];
    for (let k = 0; k < ring.length; k += 2) {
      const x = ring[k]!;
      const y = ring[k + 1]!;
      xs[starts[i]! + k / 2] = x;
      ys[starts[i]! + k / 2] = y;
      box[0] = Math.min(box[0]!, x);
      box[1] = Math.min(box[1]!, y);
      box[2] = Math.max(box[2]!, x);
      box[3] = Math.max(box[3]!, y);
    }
    boxes.set(box, 4 * i);
  });
  return { sums: rings.length, starts, xs, ys, boxes };
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

/** The ring with x and y exchanged, counter-clockwise again, from its lowest, then leftmost vertex. */
function exchanged(ring: readonly number[]): number[] {
  const points: Point[] = [];
  for (let k = ring.length - 2; k >= 0; k -= 2) points.push([ring[k + 1]!, ring[k]!]);
  return fromLowest(points, 1);
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

/** x, y, x, y, ... of a convex counter-clockwise ring, times `sign`, from its lowest, then leftmost vertex. */
function fromLowest(ring: Outline, sign: 1 | -1): number[] {
  const n = ring.length;
  let start = 0;
  for (let i = 1; i < n; i++) {
    const [x, y] = ring[i]!;
    const [bestX, bestY] = ring[start]!;
    if (sign * (y - bestY) < 0 || (y === bestY && sign * (x - bestX) < 0)) start = i;
  }
  const flat: number[] = [];
  for (let i = 0; i < n; i++) {
    const [x, y] = ring[(start + i) % n]!;
    flat.push(sign * x, sign * y);
  }
  return flat;
}

/** Minkowski sum of two convex rings that start at their lowest vertex; no flat points. */
function convexSum(a: readonly number[], b: readonly number[]): number[] {
  const sum: number[] = [];
  let x = a[0]! + b[0]!;
  let y = a[1]! + b[1]!;
  let i = 0;
  let j = 0;
  while (i < a.length || j < b.length) {
    sum.push(x, y);
    const aX = (a[(i + 2) % a.length] ?? 0) - (a[i] ?? 0);
    const aY = (a[(i + 3) % a.length] ?? 0) - (a[i + 1] ?? 0);
    const bX = (b[(j + 2) % b.length] ?? 0) - (b[j] ?? 0);
    const bY = (b[(j + 3) % b.length] ?? 0) - (b[j + 1] ?? 0);
    const turn = i >= a.length ? -1 : j >= b.length ? 1 : aX * bY - aY * bX;
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
  return sum;
}
