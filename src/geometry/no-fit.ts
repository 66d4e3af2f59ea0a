/**
 * No-fit polygons of two oriented outlines, as a union of open convex sums.
 *
 * Place outline A at the origin and outline B at p. Their interiors overlap exactly when p lies inside one of the
 * open Minkowski sums A_i + (-B_j) of their convex parts: interiors that overlap do so in an area, the parts cover
 * all but edges, so some pair of parts overlaps in an area too. No topology of the union is needed.
 * Each sum is made by merging the edges of two convex rings by slope (see de Berg and others, "Computational
 * Geometry", section 13.3). Whole micrometres: every sign is exact.
 *
 * Lines: the positions on a horizontal or vertical line at which one sum overlaps form an open interval (l, h) of
 * real numbers; on whole micrometres that is floor(l) < x < ceil(h), so both rounded ends are legal.
 *
 * Layout: the vertices of all sums in two flat arrays, counter-clockwise from the lowest (then leftmost) one.
 */
import { assert } from '../diagnostics/assert.js';
import type { Outline, Um } from '../units/types.js';

export interface NoFit {
  readonly minX: Um;
  readonly minY: Um;
  readonly maxX: Um;
  readonly maxY: Um;
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
  // Wide ones first: a reader that only wants one answer finds it sooner.
  rings.sort((p, q) => q.length - p.length);
  const starts = new Int32Array(rings.length + 1);
  rings.forEach((ring, i) => {
    starts[i + 1] = starts[i]! + ring.length / 2;
  });
  const total = starts[rings.length]!;
  const xs = new Int32Array(total);
  const ys = new Int32Array(total);
  const boxes = new Int32Array(4 * rings.length);
  const whole = [
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
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
    whole[0] = Math.min(whole[0]!, box[0]!);
    whole[1] = Math.min(whole[1]!, box[1]!);
    whole[2] = Math.max(whole[2]!, box[2]!);
    whole[3] = Math.max(whole[3]!, box[3]!);
  });
  const [minX, minY, maxX, maxY] = whole;
  assert(maxX! - minX! < 2 ** 27 && maxY! - minY! < 2 ** 27, 'a no-fit polygon keeps cross products exact');
  return { minX: minX!, minY: minY!, maxX: maxX!, maxY: maxY!, sums: rings.length, starts, xs, ys, boxes };
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

/**
 * Open intervals of x in which the pair overlaps on the horizontal line y = dy, one for each sum it meets, written
 * to out[at], out[at + 1], ... as low, high, each moved by `shift`; `negate` reads the polygon point-mirrored
 * (dy still in the reader's sense). Returns the next free place in `out`.
 */
export function crossHorizontal(
  noFit: NoFit,
  dy: Um,
  shift: Um,
  negate: boolean,
  out: Float64Array,
  at: number,
): number {
  const { starts, xs, ys, boxes, sums } = noFit;
  const line = negate ? -dy : dy;
  let next = at;
  for (let i = 0; i < sums; i++) {
    const b = 4 * i;
    if (line <= boxes[b + 1]! || line >= boxes[b + 3]!) continue;
    const first = starts[i]!;
    const end = starts[i + 1]!;
    // From the lowest vertex the ring climbs on its right side, then comes down on its left.
    let k = first;
    while (ys[k + 1]! < line) k++;
    const high = crossingCeil(xs[k]!, ys[k]!, xs[k + 1]!, ys[k + 1]!, line);
    k = end - 1;
    let lowerX = xs[first]!;
    let lowerY = ys[first]!;
    while (ys[k]! < line) {
      lowerX = xs[k]!;
      lowerY = ys[k]!;
      k--;
    }
    const low = -crossingCeil(-lowerX, lowerY, -xs[k]!, ys[k]!, line);
    out[next] = negate ? shift - high : shift + low;
    out[next + 1] = negate ? shift - low : shift + high;
    next += 2;
  }
  return next;
}

/** The same on the vertical line x = dx: open intervals of y. */
export function crossVertical(noFit: NoFit, dx: Um, shift: Um, negate: boolean, out: Float64Array, at: number): number {
  const { starts, xs, ys, boxes, sums } = noFit;
  const line = negate ? -dx : dx;
  let next = at;
  for (let i = 0; i < sums; i++) {
    const b = 4 * i;
    if (line <= boxes[b]! || line >= boxes[b + 2]!) continue;
    const end = starts[i + 1]!;
    let px = xs[end - 1]!;
    let py = ys[end - 1]!;
    let low = 0;
    let high = 0;
    for (let k = starts[i]!; k < end; k++) {
      const qx = xs[k]!;
      const qy = ys[k]!;
      // The lower side runs to the right, the upper one to the left.
      if (px < line && qx >= line) low = -crossingCeil(-py, px, -qy, qx, line);
      else if (qx < line && px >= line) high = crossingCeil(qy, qx, py, px, line);
      px = qx;
      py = qy;
    }
    out[next] = negate ? shift - high : shift + low;
    out[next + 1] = negate ? shift - low : shift + high;
    next += 2;
  }
  return next;
}

/**
 * Where the segment (x0, y0)-(x1, y1), y0 < y1, meets the line y: x, rounded up to a whole number. Exact: the
 * product stays below 2^53, the guess of the division is corrected by its remainder.
 */
export function crossingCeil(x0: number, y0: number, x1: number, y1: number, y: number): number {
  const over = (y - y0) * (x1 - x0);
  const by = y1 - y0;
  let q = Math.ceil(over / by);
  const rest = q * by - over;
  if (rest < 0) q++;
  else if (rest >= by) q--;
  return x0 + q;
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
