/**
 * Lines through a no-fit polygon: the positions on a horizontal or vertical line at which the pair overlaps.
 *
 * One convex sum gives an open interval (l, h) of real numbers; on whole micrometres that is floor(l) < x < ceil(h),
 * so both rounded ends are legal. The polygon's height is cut into rows; a row lists the sums that a line in it can
 * meet, without those that another one covers there, and where on their rings the row begins. Rows are made when
 * first asked for. Vertical lines are horizontal ones of the sums with x and y exchanged.
 */
import type { Um } from '../units/types.js';
import type { NoFit, Rings } from './no-fit.js';

/** Rows of a polygon. */
export const rowsMost = 32;

/** Rings to cut by horizontal lines, with the rows made so far. */
export interface LineIndex {
  readonly rings: Rings;
  readonly minY: Um;
  readonly maxY: Um;
  readonly rowHeight: Um;
  /** For each row: sum, place on its right side, place on its left side, and so on. */
  readonly rows: (Int32Array | undefined)[];
}

/** Index for horizontal lines of rings whose lowest and highest y are given. */
export function indexLines(rings: Rings, minY: Um, maxY: Um): LineIndex {
  return { rings, minY, maxY, rowHeight: Math.max(1, Math.ceil((maxY - minY) / rowsMost)), rows: [] };
}

/**
 * Open intervals of x in which the pair overlaps on the horizontal line y = dy, one for each sum that counts there,
 * written to out[at], out[at + 1], ... as low, high, each moved by `shift`; `negate` reads the polygon
 * point-mirrored (dy still in the reader's sense). Returns the next free place in `out`; a reader makes room for
 * 2 x sums numbers.
 */
export function crossHorizontal(
  noFit: NoFit,
  dy: Um,
  shift: Um,
  negate: boolean,
  out: Float64Array,
  at: number,
): number {
  return crossLine(noFit.across, dy, shift, negate, out, at);
}

/** The same on the vertical line x = dx: open intervals of y. */
export function crossVertical(noFit: NoFit, dx: Um, shift: Um, negate: boolean, out: Float64Array, at: number): number {
  return crossLine(noFit.along, dx, shift, negate, out, at);
}

function crossLine(index: LineIndex, at: Um, shift: Um, negate: boolean, out: Float64Array, from: number): number {
  const line = negate ? -at : at;
  if (line <= index.minY || line >= index.maxY) return from;
  const { starts, xs, ys, boxes } = index.rings;
  const r = Math.floor((line - index.minY) / index.rowHeight);
  const row = index.rows[r] ?? makeRow(index, r);
  let next = from;
  for (let e = 0; e < row.length; e += 3) {
    const sum = row[e]!;
    if (line <= boxes[4 * sum + 1]! || line >= boxes[4 * sum + 3]!) continue;
    let k = row[e + 1]!;
    while (ys[k + 1]! < line) k++;
    const high = crossingCeil(xs[k]!, ys[k]!, xs[k + 1]!, ys[k + 1]!, line);
    k = row[e + 2]!;
    while (ys[k]! < line) k--;
    const lower = k + 1 === starts[sum + 1]! ? starts[sum]! : k + 1;
    const low = -crossingCeil(-xs[lower]!, ys[lower]!, -xs[k]!, ys[k]!, line);
    out[next] = negate ? shift - high : shift + low;
    out[next + 1] = negate ? shift - low : shift + high;
    next += 2;
  }
  return next;
}

/** Sums that a line of row r can meet and that no other one covers there. */
export function makeRow(index: LineIndex, r: number): Int32Array {
  const { starts, ys, boxes, sums } = index.rings;
  const low = index.minY + r * index.rowHeight;
  const high = Math.min(low + index.rowHeight - 1, index.maxY);
  const met: { sum: number; points: number[]; width: number }[] = [];
  for (let sum = 0; sum < sums; sum++) {
    if (boxes[4 * sum + 1]! >= high || boxes[4 * sum + 3]! <= low) continue;
    const points = pointsWithin(index.rings, sum, low, high);
    met.push({ sum, points, width: widthOf(points) });
  }
  met.sort((a, b) => b.width - a.width || a.sum - b.sum);
  const kept: number[] = [];
  for (const { sum, points } of met) {
    const first = Math.max(low, boxes[4 * sum + 1]! + 1);
    const last = Math.min(high, boxes[4 * sum + 3]! - 1);
    // A sum is open: it holds nothing of the lines through its lowest and its highest point.
    const isCovered = kept.some(
      (other) => boxes[4 * other + 1]! < first && boxes[4 * other + 3]! > last && covers(index.rings, other, points),
    );
    if (!isCovered) kept.push(sum);
  }
  const row = new Int32Array(3 * kept.length);
  kept.forEach((sum, e) => {
    let right = starts[sum]!;
    let left = starts[sum + 1]! - 1;
    const least = Math.max(low, boxes[4 * sum + 1]! + 1);
    while (ys[right + 1]! < least) right++;
    while (ys[left]! < least) left--;
    row.set([sum, right, left], 3 * e);
  });
  index.rows[r] = row;
  return row;
}

/** Corners x, y, ... of the part of a sum between two horizontal lines. */
function pointsWithin({ starts, xs, ys }: Rings, sum: number, low: Um, high: Um): number[] {
  const points: number[] = [];
  const end = starts[sum + 1]!;
  let px = xs[end - 1]!;
  let py = ys[end - 1]!;
  for (let k = starts[sum]!; k < end; k++) {
    const qx = xs[k]!;
    const qy = ys[k]!;
    for (const y of [low, high]) {
      if ((py < y && qy > y) || (py > y && qy < y)) points.push(px + ((y - py) * (qx - px)) / (qy - py), y);
    }
    if (qy >= low && qy <= high) points.push(qx, qy);
    px = qx;
    py = qy;
  }
  return points;
}

function widthOf(points: readonly number[]): number {
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < points.length; i += 2) {
    least = Math.min(least, points[i]!);
    most = Math.max(most, points[i]!);
  }
  return most - least;
}

/** True when the closed sum holds all the points (within a billionth of a micrometre or so). */
function covers({ starts, xs, ys }: Rings, sum: number, points: readonly number[]): boolean {
  const end = starts[sum + 1]!;
  for (let i = 0; i < points.length; i += 2) {
    let px = xs[end - 1]!;
    let py = ys[end - 1]!;
    for (let k = starts[sum]!; k < end; k++) {
      const qx = xs[k]!;
      const qy = ys[k]!;
      if ((qx - px) * (points[i + 1]! - py) - (qy - py) * (points[i]! - px) < -1e-3) return false;
      px = qx;
      py = qy;
    }
  }
  return true;
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
