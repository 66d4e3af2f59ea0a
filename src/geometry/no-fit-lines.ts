/**
 * Lines through a no-fit polygon: the positions on a horizontal or vertical line at which the pair overlaps.
 *
 * One convex sum gives an open interval (l, h) of real numbers; on whole micrometres that is floor(l) < x < ceil(h), so
 * both rounded ends are legal. The edges met there also tell how steeply the depth rises. The polygon's height is
 * cut into rows. In a row, sums that another one covers are left out, and sums that overlap each other on every line
 * of the row form a group: its interval begins at the least of their beginnings and ends at the greatest of their
 * ends, and only those that can be it are looked at. All rows are made when one is first asked for, and lie in one
 * array: thousands of pairs would otherwise hold a hundred thousand small ones, each larger than what it holds.
 * Vertical lines are horizontal ones of the sums with x and y exchanged.
 */
import { assert } from '../diagnostics/assert.js';
import type { Um } from '../units/types.js';
import type { Rings } from './no-fit.js';

/** Rows of a polygon. */
export const rowsMost = 32;
/** No line meets more intervals of one pair than this: a reader makes room for so many spans. */
export const intervalsMost = 8192;

/**
 * Numbers of a span, as crossLine writes them: the open interval in which the pair overlaps, low and high; how steeply
 * the depth rises from its low end and falls to its high end (1 = the border crosses the line at a right angle, less = it
 * is slanted); and what the depth is at most anywhere on the line.
 */
export const spanSize = 5;

/** Rings to cut by horizontal lines, with the rows made so far. */
export interface LineIndex {
  readonly rings: Rings;
  readonly minY: Um;
  readonly maxY: Um;
  readonly rowHeight: Um;
  /** See `sumsOfRows`. */
  sums: Int32Array | null;
  /**
   * For each row its groups: lowest and highest y, how many edges may end and how many may begin the interval, then
   * these edges: lower y, x, upper y, x. Packed as by `packed`.
   */
  groups: Int32Array | null;
}

/** The depth is taken to rise at least so steeply. */
const leastSteepness = 0.01;

/** Index for horizontal lines of rings whose lowest and highest y are given. */
export function indexLines(rings: Rings, minY: Um, maxY: Um): LineIndex {
  return { rings, minY, maxY, rowHeight: Math.max(1, Math.ceil((maxY - minY) / rowsMost)), sums: null, groups: null };
}

/**
 * Spans in which the pair overlaps on a line of the index, one for each group of sums, written to out[from] and on,
 * turned round if `flip`, then moved by `shift`. Returns the next free place in `out`; a reader makes room for
 * spanSize x intervalsMost numbers. Intervals are exact. Of the polygon of two convex outlines the tent that the other
 * three numbers describe is nowhere more than a micrometre below the depth; of others it may be, by what lies beyond the
 * end of a border's edge.
 */
export function crossLine(
  index: LineIndex,
  line: Um,
  shift: Um,
  flip: boolean,
  out: Float64Array,
  from: number,
): number {
  if (line <= index.minY || line >= index.maxY) return from;
  const most = Math.min(line - index.minY, index.maxY - line);
  const r = Math.floor((line - index.minY) / index.rowHeight);
  index.groups ??= packed(eachRow(index, (low, high, row) => groupsInRow(index, low, high, row)));
  const row = index.groups;
  const endOfRow = row[r + 1]!;
  let next = from;
  for (let e = row[r]!; e < endOfRow; ) {
    const ends = e + 4;
    const begins = ends + 4 * row[e + 2]!;
    const end = begins + 4 * row[e + 3]!;
    if (line > row[e]! && line < row[e + 1]!) {
      let high = Number.NEGATIVE_INFINITY;
      let low = Number.POSITIVE_INFINITY;
      let highEdge = 0;
      let lowEdge = 0;
      for (let k = ends; k < begins; k += 4) {
        if (line <= row[k]! || line > row[k + 2]!) continue;
        const at = crossingCeil(row[k + 1]!, row[k]!, row[k + 3]!, row[k + 2]!, line);
        if (at <= high) continue;
        high = at;
        highEdge = k;
      }
      for (let k = begins; k < end; k += 4) {
        if (line <= row[k]! || line > row[k + 2]!) continue;
        const at = -crossingCeil(-row[k + 1]!, row[k]!, -row[k + 3]!, row[k + 2]!, line);
        if (at >= low) continue;
        low = at;
        lowEdge = k;
      }
      out[next] = flip ? shift - high : shift + low;
      out[next + 1] = flip ? shift - low : shift + high;
      out[next + 2] = steepness(row, flip ? highEdge : lowEdge);
      out[next + 3] = steepness(row, flip ? lowEdge : highEdge);
      out[next + 4] = most;
      next += spanSize;
    }
    e = end;
  }
  return next;
}

/** How fast the distance from the edge at `k` (lower y, x, upper y, x) grows along a line that crosses it. */
function steepness(row: Int32Array, k: number): number {
  const across = row[k + 2]! - row[k]!;
  const along = row[k + 3]! - row[k + 1]!;
  return Math.max(leastSteepness, across / Math.sqrt(across * across + along * along));
}

/** A sum in a row, and the corners and the width of its part there. */
interface Met {
  readonly sum: number;
  readonly points: readonly number[];
  readonly width: number;
}

/** Sums that a line between two heights (both included) can meet and that no other one covers there. */
function sumsBetween(rings: Rings, low: Um, high: Um): readonly Met[] {
  const { boxes, sums } = rings;
  const met: Met[] = [];
  for (let sum = 0; sum < sums; sum++) {
    const bottom = boxes[4 * sum + 1]!;
    const top = boxes[4 * sum + 3]!;
    if (bottom >= high || top <= low) continue;
    const points = pointsWithin(rings, sum, low, high);
    met.push({ sum, points, width: widthOf(points) });
  }
  met.sort((a, b) => b.width - a.width || a.sum - b.sum);
  const kept: Met[] = [];
  for (const one of met) {
    const first = Math.max(low, boxes[4 * one.sum + 1]! + 1);
    const last = Math.min(high, boxes[4 * one.sum + 3]! - 1);
    // A sum is open: it holds nothing of the lines through its lowest and its highest point.
    const isCovered = kept.some(
      ({ sum }) => boxes[4 * sum + 1]! < first && boxes[4 * sum + 3]! > last && covers(rings, sum, one.points),
    );
    if (!isCovered) kept.push(one);
  }
  return kept;
}

/** For each row of the index the numbers of the sums that count in it: those of row r from place [r] to place [r + 1]. */
export function sumsOfRows(index: LineIndex): Int32Array {
  index.sums ??= packed(eachRow(index, (low, high) => sumsBetween(index.rings, low, high).map(({ sum }) => sum)));
  return index.sums;
}

/** What `make` gives for the first and last line of each row. */
function eachRow(
  { minY, maxY, rowHeight }: LineIndex,
  make: (low: Um, high: Um, row: number) => readonly number[],
): readonly (readonly number[])[] {
  return Array.from({ length: rowsMost }, (_, r) => {
    const low = minY + r * rowHeight;
    return make(low, Math.min(low + rowHeight - 1, maxY), r);
  });
}

/** Lists one behind the other, after the places where each begins and the last one ends. */
function packed(lists: readonly (readonly number[])[]): Int32Array {
  const head = lists.length + 1;
  const numbers = new Int32Array(lists.reduce((size, list) => size + list.length, head));
  numbers[0] = head;
  lists.forEach((list, k) => {
    numbers.set(list, numbers[k]!);
    numbers[k + 1] = numbers[k]! + list.length;
  });
  return numbers;
}

function groupsInRow(index: LineIndex, low: Um, high: Um, r: number): number[] {
  const { rings } = index;
  const sums = sumsOfRows(index);
  const row: number[] = [];
  const groups = groupsOf(rings, sums.subarray(sums[r], sums[r + 1]), low, high);
  assert(groups.length <= intervalsMost, 'a line meets fewer parts of a pair than that');
  for (const group of groups) {
    const bottom = Math.max(...group.map((sum) => rings.boxes[4 * sum + 1]!));
    const top = Math.min(...group.map((sum) => rings.boxes[4 * sum + 3]!));
    const ends = outermost(rings, group, low, high, 1).flatMap((sum) => edgesOf(rings, sum, low, high, 1));
    const begins = outermost(rings, group, low, high, -1).flatMap((sum) => edgesOf(rings, sum, low, high, -1));
    row.push(bottom, top, ends.length / 4, begins.length / 4, ...ends, ...begins);
  }
  return row;
}

/** Edges of the right (1) or left (-1) side of a sum that lines in the row can meet: lower y, x, upper y, x. */
function edgesOf({ starts, xs, ys }: Rings, sum: number, low: Um, high: Um, side: 1 | -1): number[] {
  const end = starts[sum + 1]!;
  const edges: number[] = [];
  for (let p = end - 1, q = starts[sum]!; q < end; p = q, q++) {
    const [lower, upper] = side === 1 ? [p, q] : [q, p];
    // Counter-clockwise: the right side climbs, the left side falls.
    if (ys[upper]! <= ys[lower]! || ys[upper]! < low || ys[lower]! >= high) continue;
    edges.push(ys[lower]!, xs[lower]!, ys[upper]!, xs[upper]!);
  }
  return edges;
}

/**
 * Sums that span the row and overlap on its first and on its last line overlap on every line between: each holds the
 * trapezoid between its own ends. Connected ones are a group; every other sum is one by itself.
 */
function groupsOf(rings: Rings, sums: Int32Array, low: Um, high: Um): number[][] {
  const spans = (sum: number): boolean => rings.boxes[4 * sum + 1]! < low && rings.boxes[4 * sum + 3]! > high;
  const groups: number[][] = Array.from(
    sums.filter((sum) => !spans(sum)),
    (sum) => [sum],
  );
  const left = Array.from(sums.filter(spans));
  const overlap = (a: number, b: number): boolean =>
    [low, high].every(
      (y) =>
        borderAt(rings, a, y, -1) < borderAt(rings, b, y, 1) - 1 &&
        borderAt(rings, b, y, -1) < borderAt(rings, a, y, 1) - 1,
    );
  while (left.length > 0) {
    const group = [left.shift()!];
    for (let g = 0; g < group.length; g++) {
      for (let k = left.length - 1; k >= 0; k--) if (overlap(group[g]!, left[k]!)) group.push(...left.splice(k, 1));
    }
    groups.push(group);
  }
  return groups;
}

/** Members of a group that can be its outermost on some line; side 1 = at the end, -1 = at the beginning. */
function outermost(rings: Rings, group: readonly number[], low: Um, high: Um, side: 1 | -1): number[] {
  const kept: number[] = [];
  for (const sum of group) {
    if (kept.some((other) => isBeyond(rings, other, sum, low, high, side))) continue;
    for (let k = kept.length - 1; k >= 0; k--) if (isBeyond(rings, sum, kept[k]!, low, high, side)) kept.splice(k, 1);
    kept.push(sum);
  }
  return kept;
}

/** True when the border of a is nowhere within that of b: both are straight between their corners. */
function isBeyond(rings: Rings, a: number, b: number, low: Um, high: Um, side: 1 | -1): boolean {
  const heights = [low, high];
  for (const sum of [a, b]) {
    for (let k = rings.starts[sum]!; k < rings.starts[sum + 1]!; k++) {
      if (rings.ys[k]! > low && rings.ys[k]! < high) heights.push(rings.ys[k]!);
    }
  }
  return heights.every((y) => side * (borderAt(rings, a, y, side) - borderAt(rings, b, y, side)) >= 0);
}

/** x of the right (1) or left (-1) border of a sum that the line y meets. */
function borderAt({ starts, xs, ys }: Rings, sum: number, y: number, side: 1 | -1): number {
  const end = starts[sum + 1]!;
  let most = Number.NEGATIVE_INFINITY;
  for (let p = end - 1, q = starts[sum]!; q < end; p = q, q++) {
    const py = ys[p]!;
    const qy = ys[q]!;
    if (Math.min(py, qy) > y || Math.max(py, qy) < y) continue;
    const ends = py === qy ? [xs[p]!, xs[q]!] : [xs[p]! + ((y - py) * (xs[q]! - xs[p]!)) / (qy - py)];
    for (const x of ends) most = Math.max(most, side * x);
  }
  return side * most;
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
