/**
 * Exact relations of two simple counter-clockwise outlines, taken directly from their edges (no no-fit polygon):
 * do the interiors overlap, does one contain the other, are they at least so far apart. Used at the end of the
 * search, on true outlines, and as the second opinion in tests.
 *
 * "Edges cross or a vertex lies inside" is not exact: two outlines may pass through each other at vertices alone.
 * Here: if no two edges cross properly, all contacts are whole points, so the edges are split at them; each piece
 * then lies wholly inside, outside, or along the other outline, and its midpoint tells which.
 *
 * Takes for granted: each box is smaller than 2^25 um each way, so doubled differences keep products exact.
 */
import type { Outline, Point, Um } from '../units/types.js';
import { type Bounds, boundsOf, cross } from './outline.js';

/** An outline moved by (dx, dy) with what the tests below read again and again. */
export interface Flat {
  readonly n: number;
  readonly xs: Float64Array;
  readonly ys: Float64Array;
  readonly box: Bounds;
}

/** An outline moved, as flat numbers with its box. */
export function flatOutline(outline: Outline, dx: Um, dy: Um): Flat {
  const n = outline.length;
  const xs = new Float64Array(n);
  const ys = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const [x, y] = outline[i]!;
    xs[i] = x + dx;
    ys[i] = y + dy;
  }
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  return { n, xs, ys, box: { minX: minX + dx, minY: minY + dy, maxX: maxX + dx, maxY: maxY + dy } };
}

const outside = 0;
const along = 1;
const against = 2;
const inside = 3;

/** True when the open interiors of the two outlines, moved to their positions, have a point in common. */
export function outlinesOverlap(a: Outline, aAt: Point, b: Outline, bAt: Point): boolean {
  return flatsOverlap(flatOutline(a, aAt[0], aAt[1]), flatOutline(b, bAt[0], bAt[1]));
}

function flatsOverlap(a: Flat, b: Flat): boolean {
  if (!boxesOverlap(a.box, b.box, 0)) return false;
  if (edgesCross(a, b)) return true;
  return somePieceLies(a, b, (how) => how === inside || how === along) || somePieceLies(b, a, (how) => how === inside);
}

/** True when every point of `inner` is a point of `outer` (both closed). */
export function outlineContains(outer: Outline, inner: Outline): boolean {
  const a = flatOutline(inner, 0, 0);
  const b = flatOutline(outer, 0, 0);
  if (a.box.minX < b.box.minX || a.box.maxX > b.box.maxX) return false;
  if (a.box.minY < b.box.minY || a.box.maxY > b.box.maxY) return false;
  if (edgesCross(a, b)) return false;
  return !somePieceLies(a, b, (how) => how === outside || how === against);
}

/** True when the interiors are disjoint and no two points of the outlines are nearer than `gapUm`. */
export function outlinesApart(a: Outline, aAt: Point, b: Outline, bAt: Point, gapUm: Um): boolean {
  return flatsApart(flatOutline(a, aAt[0], aAt[1]), flatOutline(b, bAt[0], bAt[1]), gapUm);
}

/** The same of outlines that stand at their positions. */
export function flatsApart(a: Flat, b: Flat, gapUm: Um): boolean {
  if (!boxesOverlap(a.box, b.box, gapUm)) return true;
  if (flatsOverlap(a, b)) return false;
  return gapUm === 0 || bordersApart(a, b, gapUm);
}

/** No point of one ring is nearer than `gapUm` to the other ring; the rings must not cross. */
export function bordersApart(a: Flat, b: Flat, gapUm: Um): boolean {
  return pointsClear(a, b, gapUm) && pointsClear(b, a, gapUm);
}

function boxesOverlap(a: Bounds, b: Bounds, gapUm: Um): boolean {
  return a.minX < b.maxX + gapUm && b.minX < a.maxX + gapUm && a.minY < b.maxY + gapUm && b.minY < a.maxY + gapUm;
}

/** Two edges cross in a point inside both. */
function edgesCross(a: Flat, b: Flat): boolean {
  for (let i = 0; i < a.n; i++) {
    const next = i + 1 === a.n ? 0 : i + 1;
    const ax = a.xs[i]!;
    const ay = a.ys[i]!;
    const bx = a.xs[next]!;
    const by = a.ys[next]!;
    const minX = Math.min(ax, bx);
    const maxX = Math.max(ax, bx);
    const minY = Math.min(ay, by);
    const maxY = Math.max(ay, by);
    if (maxX < b.box.minX || minX > b.box.maxX || maxY < b.box.minY || minY > b.box.maxY) continue;
    for (let j = 0; j < b.n; j++) {
      const after = j + 1 === b.n ? 0 : j + 1;
      const cx = b.xs[j]!;
      const dx = b.xs[after]!;
      if ((cx < minX && dx < minX) || (cx > maxX && dx > maxX)) continue;
      const cy = b.ys[j]!;
      const dy = b.ys[after]!;
      if ((cy < minY && dy < minY) || (cy > maxY && dy > maxY)) continue;
      const c = cross(ax, ay, bx, by, cx, cy);
      const d = cross(ax, ay, bx, by, dx, dy);
      if (!((c < 0 && d > 0) || (c > 0 && d < 0))) continue;
      const p = cross(cx, cy, dx, dy, ax, ay);
      const q = cross(cx, cy, dx, dy, bx, by);
      if ((p < 0 && q > 0) || (p > 0 && q < 0)) return true;
    }
  }
  return false;
}

/** Whether some piece of a's edges, split at their contacts with b, lies to b in the way asked for. */
function somePieceLies(a: Flat, b: Flat, wanted: (how: number) => boolean): boolean {
  for (let i = 0; i < a.n; i++) {
    const next = i + 1 === a.n ? 0 : i + 1;
    const ax = a.xs[i]!;
    const ay = a.ys[i]!;
    const bx = a.xs[next]!;
    const by = a.ys[next]!;
    const minX = Math.min(ax, bx);
    const maxX = Math.max(ax, bx);
    const minY = Math.min(ay, by);
    const maxY = Math.max(ay, by);
    if (maxX < b.box.minX || minX > b.box.maxX || maxY < b.box.minY || minY > b.box.maxY) {
      if (wanted(outside)) return true;
      continue;
    }
    const cuts: Point[] = [[ax, ay]];
    for (let j = 0; j < b.n; j++) {
      const px = b.xs[j]!;
      const py = b.ys[j]!;
      if (px < minX || px > maxX || py < minY || py > maxY) continue;
      if (cross(ax, ay, bx, by, px, py) === 0) cuts.push([px, py]);
    }
    cuts.push([bx, by]);
    const signX = bx >= ax ? 1 : -1;
    const signY = by >= ay ? 1 : -1;
    cuts.sort((p, q) => signX * (p[0] - q[0]) || signY * (p[1] - q[1]));
    for (let k = 0; k + 1 < cuts.length; k++) {
      const [px, py] = cuts[k]!;
      const [qx, qy] = cuts[k + 1]!;
      if (px === qx && py === qy) continue;
      if (wanted(whereLies(px + qx, py + qy, bx - ax, by - ay, b))) return true;
    }
  }
  return false;
}

/** Where the point (x2 / 2, y2 / 2), on an edge with direction (dirX, dirY), lies to outline b. */
function whereLies(x2: number, y2: number, dirX: number, dirY: number, b: Flat): number {
  let isInside = false;
  for (let j = 0; j < b.n; j++) {
    const after = j + 1 === b.n ? 0 : j + 1;
    const cx = b.xs[j]!;
    const cy = b.ys[j]!;
    const dx = b.xs[after]!;
    const dy = b.ys[after]!;
    const cyFrom = 2 * cy - y2;
    const dyFrom = 2 * dy - y2;
    if ((cyFrom > 0 && dyFrom > 0) || (cyFrom < 0 && dyFrom < 0)) continue;
    const side = (dx - cx) * (y2 - 2 * cy) - (dy - cy) * (x2 - 2 * cx);
    if (side === 0 && (2 * cx - x2) * (2 * dx - x2) <= 0) {
      return (dx - cx) * dirX + (dy - cy) * dirY > 0 ? along : against;
    }
    // A ray to the right: upward edges with the point on their left, downward ones with it on their right.
    if (cyFrom <= 0 && dyFrom > 0 && side > 0) isInside = !isInside;
    else if (dyFrom <= 0 && cyFrom > 0 && side < 0) isInside = !isInside;
  }
  return isInside ? inside : outside;
}

/** No vertex of a is nearer than gapUm to an edge of b. */
function pointsClear(a: Flat, b: Flat, gapUm: Um): boolean {
  const { minX, minY, maxX, maxY } = b.box;
  for (let i = 0; i < a.n; i++) {
    const px = a.xs[i]!;
    const py = a.ys[i]!;
    if (px <= minX - gapUm || px >= maxX + gapUm || py <= minY - gapUm || py >= maxY + gapUm) continue;
    for (let j = 0; j < b.n; j++) {
      const after = j + 1 === b.n ? 0 : j + 1;
      if (isNearer(px, py, b.xs[j]!, b.ys[j]!, b.xs[after]!, b.ys[after]!, gapUm)) return false;
    }
  }
  return true;
}

/** Distance from p to the closed segment c-d is below gapUm. Exact: doubtful cases are settled in BigInt. */
function isNearer(px: Um, py: Um, cx: Um, cy: Um, dx: Um, dy: Um, gapUm: Um): boolean {
  if (px <= Math.min(cx, dx) - gapUm || px >= Math.max(cx, dx) + gapUm) return false;
  if (py <= Math.min(cy, dy) - gapUm || py >= Math.max(cy, dy) + gapUm) return false;
  const ex = dx - cx;
  const ey = dy - cy;
  const along = (px - cx) * ex + (py - cy) * ey;
  const length2 = ex * ex + ey * ey;
  const gap2 = gapUm * gapUm;
  if (along <= 0) return (px - cx) * (px - cx) + (py - cy) * (py - cy) < gap2;
  if (along >= length2) return (px - dx) * (px - dx) + (py - dy) * (py - dy) < gap2;
  const area = ex * (py - cy) - ey * (px - cx);
  const left = area * area;
  const right = gap2 * length2;
  if (left < right * 0.999999) return true;
  if (left > right * 1.000001) return false;
  return BigInt(area) * BigInt(area) < BigInt(gap2) * BigInt(length2);
}
