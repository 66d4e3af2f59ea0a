/**
 * Outer simplification: an outline with fewer points that contains the true one and strays little from it.
 *
 * Two steps, always the cheapest next, while the stray stays within the limit:
 * a hollow point is skipped (the chord runs outside the piece), or an edge between two bulging points is dropped
 * and its neighbours are extended until they meet (outside the piece too):
 *
 *        b------c                      P
 *       /        \        ->         /   \        contains what was there
 *      a          d                 a     d
 *
 * Straight sides with corners stay where they are. P is rounded to the side away from the piece. At the end an
 * exact test proves that the result contains the true outline.
 * Takes for granted: a simple counter-clockwise outline.
 */
import { assert } from '../diagnostics/assert.js';
import type { Outline, Point, Um } from '../units/types.js';
import { withoutFlatPoints } from './convex-parts.js';
import { cross } from './outline.js';
import { outlineContains } from './overlap.js';

/** Outlines with so few points are cheap as they are. */
const fewPoints = 32;

interface Ring {
  readonly source: Outline;
  readonly xs: number[];
  readonly ys: number[];
  /** The points firstOf..lastOf of the source (counted on past the end) are what this point stands for. */
  readonly firstOf: number[];
  readonly lastOf: number[];
  readonly before: number[];
  readonly after: number[];
  size: number;
}

interface Step {
  /** Of two points for an edge, or of one: the first (or only) point replaced. */
  readonly at: number;
  /** Where the two edges meet, or null when a hollow point is skipped. */
  readonly meeting: Point | null;
  readonly strayUm: number;
}

/** An outline that contains the given one and strays from it by about `strayUm` at most; few points: unchanged. */
export function containOutline(outline: Outline, strayUm: Um): Outline {
  if (outline.length <= fewPoints || strayUm === 0) return outline;
  const ring = makeRing(withoutFlatPoints(outline));
  const steps: (Step | null)[] = ring.xs.map((_, i) => cheapestAt(ring, i));
  for (;;) {
    if (ring.size <= fewPoints / 2) break;
    const step = cheapest(steps, strayUm);
    if (step === null) break;
    if (!isClear(ring, step)) {
      steps[step.at] = null;
      continue;
    }
    const touched = apply(ring, step, steps);
    for (const i of touched) steps[i] = cheapestAt(ring, i);
  }
  const result = readRing(ring);
  assert(outlineContains(result, outline), 'a simplified outline contains the true one');
  return result;
}

function makeRing(source: Outline): Ring {
  const n = source.length;
  const index = [...source.keys()];
  return {
    source,
    xs: source.map(([x]) => x),
    ys: source.map(([, y]) => y),
    firstOf: [...index],
    lastOf: [...index],
    before: index.map((i) => (i + n - 1) % n),
    after: index.map((i) => (i + 1) % n),
    size: n,
  };
}

function readRing(ring: Ring): Outline {
  const first = ring.before.findIndex((i) => i >= 0);
  const points: Point[] = [];
  let i = first;
  do {
    points.push([ring.xs[i]!, ring.ys[i]!]);
    i = ring.after[i]!;
  } while (i !== first);
  return withoutFlatPoints(points);
}

function cheapest(steps: readonly (Step | null)[], strayUm: Um): Step | null {
  let best: Step | null = null;
  for (const step of steps) {
    if (step !== null && step.strayUm <= strayUm && (best === null || step.strayUm < best.strayUm)) best = step;
  }
  return best;
}

function cheapestAt(ring: Ring, b: number): Step | null {
  const a = ring.before[b]!;
  if (a < 0) return null;
  const c = ring.after[b]!;
  const turn = turnAt(ring, a, b, c);
  if (turn <= 0) return { at: b, meeting: null, strayUm: chordStray(ring, a, b, c) };
  const d = ring.after[c]!;
  if (d === a || turnAt(ring, b, c, d) <= 0) return null;
  const meeting = meetingOf(ring, a, b, c, d);
  return meeting === null ? null : { at: b, meeting, strayUm: pointStray(ring, meeting, b, c) };
}

function turnAt(ring: Ring, a: number, b: number, c: number): number {
  return cross(ring.xs[a]!, ring.ys[a]!, ring.xs[b]!, ring.ys[b]!, ring.xs[c]!, ring.ys[c]!);
}

/** Where a-b and d-c extended meet, rounded away from the piece; null when they do not, or only far away. */
function meetingOf(ring: Ring, a: number, b: number, c: number, d: number): Point | null {
  const [ax, ay] = [ring.xs[a]!, ring.ys[a]!];
  const [bx, by] = [ring.xs[b]!, ring.ys[b]!];
  const [cx, cy] = [ring.xs[c]!, ring.ys[c]!];
  const [dx, dy] = [ring.xs[d]!, ring.ys[d]!];
  const opening = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx);
  if (opening <= 0) return null;
  const t = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / opening;
  const px = ax + t * (bx - ax);
  const py = ay + t * (by - ay);
  let best: Point | null = null;
  let bestDistance = Number.POSITIVE_INFINITY;
  for (let x = Math.floor(px) - 2; x <= Math.floor(px) + 3; x++) {
    for (let y = Math.floor(py) - 2; y <= Math.floor(py) + 3; y++) {
      if (cross(ax, ay, x, y, bx, by) < 0 || cross(x, y, dx, dy, cx, cy) < 0) continue;
      if (cross(ax, ay, x, y, dx, dy) <= 0 || cross(bx, by, cx, cy, x, y) > 0) continue;
      const distance = (x - px) * (x - px) + (y - py) * (y - py);
      if (distance < bestDistance) {
        best = [x, y];
        bestDistance = distance;
      }
    }
  }
  return best;
}

/** How far the source between a and c lies from the chord a-c. */
function chordStray(ring: Ring, a: number, b: number, c: number): number {
  let most = lineDistance(ring, a, c, ring.xs[b]!, ring.ys[b]!);
  const n = ring.source.length;
  for (let i = ring.firstOf[b]!; i !== (ring.lastOf[b]! + 1) % n; i = (i + 1) % n) {
    const [x, y] = ring.source[i]!;
    most = Math.max(most, lineDistance(ring, a, c, x, y));
  }
  // Points skipped earlier on both sides of b.
  for (let i = (ring.lastOf[a]! + 1) % n; i !== ring.firstOf[c]!; i = (i + 1) % n) {
    const [x, y] = ring.source[i]!;
    most = Math.max(most, lineDistance(ring, a, c, x, y));
  }
  return most;
}

function lineDistance(ring: Ring, a: number, c: number, x: number, y: number): number {
  return segmentDistance(ring.xs[a]!, ring.ys[a]!, ring.xs[c]!, ring.ys[c]!, x, y);
}

/** How far the point lies from the stretch of the source that b and c stand for. */
function pointStray(ring: Ring, [x, y]: Point, b: number, c: number): number {
  const n = ring.source.length;
  let i = ring.firstOf[b]!;
  const last = ring.lastOf[c]!;
  let least = Number.POSITIVE_INFINITY;
  while (i !== last) {
    const [px, py] = ring.source[i]!;
    const [qx, qy] = ring.source[(i + 1) % n]!;
    least = Math.min(least, segmentDistance(px, py, qx, qy, x, y));
    i = (i + 1) % n;
  }
  return least;
}

function segmentDistance(ax: number, ay: number, bx: number, by: number, x: number, y: number): number {
  const ex = bx - ax;
  const ey = by - ay;
  const length2 = ex * ex + ey * ey;
  const t = length2 === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * ex + (y - ay) * ey) / length2));
  const dx = ax + t * ex - x;
  const dy = ay + t * ey - y;
  return Math.sqrt(dx * dx + dy * dy);
}

/** The new edges touch nothing but their neighbours' ends. */
function isClear(ring: Ring, step: Step): boolean {
  const b = step.at;
  const a = ring.before[b]!;
  const c = ring.after[b]!;
  const end = step.meeting === null ? c : ring.after[c]!;
  if (end === a || ring.after[end] === a) return false;
  const [px, py] = step.meeting ?? [ring.xs[end]!, ring.ys[end]!];
  const [ax, ay] = [ring.xs[a]!, ring.ys[a]!];
  const [ex, ey] = [ring.xs[end]!, ring.ys[end]!];
  const minX = Math.min(ax, px, ex);
  const maxX = Math.max(ax, px, ex);
  const minY = Math.min(ay, py, ey);
  const maxY = Math.max(ay, py, ey);
  const { xs, ys, after } = ring;
  for (let i = end, j = after[i]!; i !== a; i = j, j = after[i]!) {
    const ix = xs[i]!;
    const jx = xs[j]!;
    if ((ix < minX && jx < minX) || (ix > maxX && jx > maxX)) continue;
    const iy = ys[i]!;
    const jy = ys[j]!;
    if ((iy < minY && jy < minY) || (iy > maxY && jy > maxY)) continue;
    if (touches(ax, ay, px, py, ix, iy, jx, jy, i === end && step.meeting === null, j === a)) return false;
    if (step.meeting !== null && touches(px, py, ex, ey, ix, iy, jx, jy, i === end, false)) return false;
  }
  return true;
}

/**
 * Edge p-q touches edge i-j. `sharesStart`: i is the end q, `sharesEnd`: j is the start p; then only another
 * common point counts.
 */
function touches(
  px: number,
  py: number,
  qx: number,
  qy: number,
  ix: number,
  iy: number,
  jx: number,
  jy: number,
  sharesStart: boolean,
  sharesEnd: boolean,
): boolean {
  const atI = cross(px, py, qx, qy, ix, iy);
  const atJ = cross(px, py, qx, qy, jx, jy);
  if (sharesStart) return atJ === 0 && (jx - qx) * (px - qx) + (jy - qy) * (py - qy) > 0;
  if (sharesEnd) return atI === 0 && (ix - px) * (qx - px) + (iy - py) * (qy - py) > 0;
  if ((atI > 0 && atJ > 0) || (atI < 0 && atJ < 0)) return false;
  const atP = cross(ix, iy, jx, jy, px, py);
  const atQ = cross(ix, iy, jx, jy, qx, qy);
  if ((atP > 0 && atQ > 0) || (atP < 0 && atQ < 0)) return false;
  return (
    Math.min(px, qx) <= Math.max(ix, jx) &&
    Math.min(ix, jx) <= Math.max(px, qx) &&
    Math.min(py, qy) <= Math.max(iy, jy) &&
    Math.min(iy, jy) <= Math.max(py, qy)
  );
}

/** Makes the step; returns the points whose own cheapest step may have changed. */
function apply(ring: Ring, step: Step, steps: (Step | null)[]): readonly number[] {
  const b = step.at;
  const a = ring.before[b]!;
  const c = ring.after[b]!;
  if (step.meeting === null) {
    unlink(ring, b);
    steps[b] = null;
    return [ring.before[a]!, a, c, ring.after[c]!];
  }
  const d = ring.after[c]!;
  [ring.xs[b], ring.ys[b]] = step.meeting;
  ring.lastOf[b] = ring.lastOf[c]!;
  unlink(ring, c);
  steps[c] = null;
  return [ring.before[a]!, a, b, d, ring.after[d]!];
}

function unlink(ring: Ring, i: number): void {
  const before = ring.before[i]!;
  const after = ring.after[i]!;
  ring.after[before] = after;
  ring.before[after] = before;
  ring.before[i] = -1;
  ring.size--;
}
