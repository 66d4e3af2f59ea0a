/**
 * How deep two outlines lie in each other: the least distance from their relative position to the border of their
 * no-fit polygon, 0 exactly when their interiors do not overlap.
 *
 * Border: the parts of the edges of all convex sums that lie in no other sum. The polygon's box is cut into cells; a
 * cell knows whether it lies outside, or inside one sum, or else which half planes decide, and which border segments
 * can be the nearest to a point in it. Cells are made when first asked for. Signs are exact (cross products of whole
 * numbers); distances are not, and need not be.
 */
import type { Um } from '../units/types.js';
import type { NoFit } from './no-fit.js';
import { rowsMost, sumsOfRows } from './no-fit-lines.js';

const columnsMost = rowsMost;
/** An overlap is never less deep than this. */
const leastDepth = 0.5;

export interface DepthIndex {
  readonly columnWidth: Um;
  /** x, y, dx, dy, 1 / length squared of each border segment. */
  readonly segments: Float64Array;
  /**
   * First the place of each cell (0 = not made yet), then the cells made so far, one behind the other. A cell: the place
   * behind it, how many groups decide (or inside), for each group its size and the ends of its edges, then segments.
   */
  cells: Int32Array;
  /** Behind the last cell. */
  end: number;
}

/** Place of a cell that lies outside. */
const outside = -1;
/** Groups of a cell that lies inside one sum. */
const allInside = -1;
/** Room for cells to begin with. */
const cellsRoom = 256;

/** Depth with the moving outline at (dx, dy) from the fixed one, in micrometres. */
export function depthAt(noFit: NoFit, dx: Um, dy: Um): number {
  const place = cellAt(noFit, dx, dy);
  if (place === outside) return 0;
  const { segments, cells } = noFit.depths!;
  const end = cells[place]!;
  let next = firstSegment(noFit, cells, place + 1, dx, dy);
  if (next < 0) return 0;
  let least = Number.POSITIVE_INFINITY;
  for (; next < end; next++) {
    const away = awaySquared(segments, cells[next]!, dx, dy);
    if (away < least) least = away;
  }
  return Math.max(leastDepth, Math.sqrt(least));
}

/** Place of the cell that holds (dx, dy). */
function cellAt(noFit: NoFit, dx: Um, dy: Um): number {
  if (dx <= noFit.minX || dy <= noFit.minY || dx >= noFit.maxX || dy >= noFit.maxY) return outside;
  noFit.depths ??= indexDepths(noFit);
  const { columnWidth, cells } = noFit.depths;
  const column = Math.floor((dx - noFit.minX) / columnWidth);
  const row = Math.floor((dy - noFit.minY) / noFit.across.rowHeight);
  const at = row * columnsMost + column;
  return cells[at] || makeCell(noFit, noFit.depths, at);
}

/**
 * Where the segments of a cell, whose groups stand at `from`, begin when the interiors overlap at (dx, dy) in it; -1 when
 * they do not.
 */
function firstSegment(noFit: NoFit, cell: Int32Array, from: number, dx: Um, dy: Um): number {
  let next = from + 1;
  if (cell[from] !== allInside) {
    const { xs, ys } = noFit;
    let isInside = false;
    for (let g = cell[from]!; g > 0; g--) {
      const end = next + 1 + 2 * cell[next]!;
      next++;
      if (isInside) {
        next = end;
        continue;
      }
      isInside = true;
      for (; next < end; next += 2) {
        const p = cell[next]!;
        const q = cell[next + 1]!;
        const px = xs[p]!;
        const py = ys[p]!;
        if ((xs[q]! - px) * (dy - py) - (ys[q]! - py) * (dx - px) <= 0) {
          isInside = false;
          next = end;
          break;
        }
      }
    }
    if (!isInside) return -1;
  }
  return next;
}

function awaySquared(segments: Float64Array, s: number, x: number, y: number): number {
  const ax = x - segments[s]!;
  const ay = y - segments[s + 1]!;
  const ex = segments[s + 2]!;
  const ey = segments[s + 3]!;
  const t = shareAlong(segments, s, x, y);
  const fx = ax - t * ex;
  const fy = ay - t * ey;
  return fx * fx + fy * fy;
}

/** Where on the segment (0 to 1) the point nearest to (x, y) lies. */
function shareAlong(segments: Float64Array, s: number, x: number, y: number): number {
  const along = (x - segments[s]!) * segments[s + 2]! + (y - segments[s + 1]!) * segments[s + 3]!;
  const t = along * segments[s + 4]!;
  return t < 0 ? 0 : Math.min(t, 1);
}

function indexDepths(noFit: NoFit): DepthIndex {
  return {
    columnWidth: Math.max(1, Math.ceil((noFit.maxX - noFit.minX) / columnsMost)),
    segments: borderOf(noFit),
    cells: new Int32Array(rowsMost * columnsMost + cellsRoom),
    end: rowsMost * columnsMost,
  };
}

/** Makes cell `at`; its place. */
function makeCell(noFit: NoFit, index: DepthIndex, at: number): number {
  const { across, starts, xs, ys } = noFit;
  const r = Math.floor(at / columnsMost);
  const lowX = noFit.minX + (at - r * columnsMost) * index.columnWidth;
  const lowY = noFit.minY + r * across.rowHeight;
  const highX = lowX + index.columnWidth - 1;
  const highY = lowY + across.rowHeight - 1;
  let cell = [0];
  const sums = sumsOfRows(across);
  for (let k = sums[r]!; k < sums[r + 1]!; k++) {
    const sum = sums[k]!;
    const first = starts[sum]!;
    const end = starts[sum + 1]!;
    const edges: number[] = [];
    let isMet = true;
    for (let p = end - 1, q = first; q < end && isMet; p = q, q++) {
      const ex = xs[q]! - xs[p]!;
      const ey = ys[q]! - ys[p]!;
      // The farthest corner to the left of the edge, and the one to its right.
      const most = ex * ((ex > 0 ? highY : lowY) - ys[p]!) - ey * ((ey > 0 ? lowX : highX) - xs[p]!);
      const least = ex * ((ex > 0 ? lowY : highY) - ys[p]!) - ey * ((ey > 0 ? highX : lowX) - xs[p]!);
      if (most <= 0) isMet = false;
      else if (least <= 0) edges.push(p, q);
    }
    if (!isMet) continue;
    if (edges.length === 0) {
      cell = [allInside];
      break;
    }
    cell[0] = cell[0]! + 1;
    cell.push(edges.length / 2, ...edges);
  }
  const place = cell[0] === 0 ? outside : addCell(index, [...cell, ...nearest(index, lowX, lowY, highX, highY)]);
  index.cells[at] = place;
  return place;
}

/** Puts a cell's numbers behind the last one; their place. */
function addCell(index: DepthIndex, cell: readonly number[]): number {
  const place = index.end;
  const end = place + 1 + cell.length;
  if (end > index.cells.length) {
    const wider = new Int32Array(end + (end >> 1));
    wider.set(index.cells);
    index.cells = wider;
  }
  index.cells[place] = end;
  index.cells.set(cell, place + 1);
  index.end = end;
  return place;
}

/** Segments that can be the nearest to some point of the cell. */
function nearest({ segments }: DepthIndex, lowX: Um, lowY: Um, highX: Um, highY: Um): number[] {
  const x = (lowX + highX) / 2;
  const y = (lowY + highY) / 2;
  const aways = new Float64Array(segments.length / 5);
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < aways.length; k++) {
    aways[k] = Math.sqrt(awaySquared(segments, 5 * k, x, y));
    if (aways[k]! < least) least = aways[k]!;
  }
  const halfX = (highX - lowX) / 2;
  const halfY = (highY - lowY) / 2;
  const most = least + 2 * Math.sqrt(halfX * halfX + halfY * halfY) + 1;
  const found: number[] = [];
  for (let k = 0; k < aways.length; k++) if (aways[k]! <= most) found.push(5 * k);
  return found;
}

/**
 * What of the edges of all sums lies in no other sum. It is found row by row, since only sums that count in a row matter
 * there; as a rule, parts of an edge that go on in the next row are one segment.
 */
function borderOf(noFit: NoFit): Float64Array {
  const { across } = noFit;
  const found: number[] = [];
  /** Of an edge, by the number of its first corner, the last part found. */
  const parts = new Map<number, Part>();
  const rows = sumsOfRows(across);
  for (let r = 0; noFit.minY + r * across.rowHeight < noFit.maxY; r++) {
    const low = noFit.minY + r * across.rowHeight;
    const high = Math.min(low + across.rowHeight, noFit.maxY);
    const sums = rows.subarray(rows[r], rows[r + 1]);
    for (const sum of sums) {
      const end = noFit.starts[sum + 1]!;
      for (let p = end - 1, q = noFit.starts[sum]!; q < end; p = q, q++) {
        const within = partWithin(noFit.ys[p]!, noFit.ys[q]!, low, high);
        if (within === null) continue;
        for (const [from, to] of uncovered(within, coveredParts(noFit, sums, sum, p, q))) {
          const last = parts.get(p);
          if (last !== undefined && from <= last.to && to >= last.from) {
            last.from = Math.min(last.from, from);
            last.to = Math.max(last.to, to);
            continue;
          }
          if (last !== undefined) addSegment(noFit, found, p, last);
          parts.set(p, { q, from, to });
        }
      }
    }
  }
  for (const [p, part] of parts) addSegment(noFit, found, p, part);
  return Float64Array.from(found);
}

/** A part (0 to 1) of an edge that ends at corner q. */
interface Part {
  readonly q: number;
  from: number;
  to: number;
}

/** What of the part `within` is in none of the `covered` ones, which come by their beginning. */
function uncovered(within: [number, number], covered: readonly [number, number][]): [number, number][] {
  const free: [number, number][] = [];
  let [from] = within;
  for (const [start, stop] of [...covered, [within[1], within[1]] as const]) {
    const to = Math.min(start, within[1]);
    if (to > from) free.push([from, to]);
    from = Math.max(from, stop);
  }
  return free;
}

/** Part (0 to 1) of an edge from height py to qy that lies between two heights; a level one whole. */
function partWithin(py: Um, qy: Um, low: Um, high: Um): [number, number] | null {
  if (py === qy) return py >= low && py <= high ? [0, 1] : null;
  const atLow = (low - py) / (qy - py);
  const atHigh = (high - py) / (qy - py);
  const from = Math.max(0, Math.min(atLow, atHigh));
  const to = Math.min(1, Math.max(atLow, atHigh));
  return from < to ? [from, to] : null;
}

function addSegment({ xs, ys }: NoFit, found: number[], p: number, { q, from, to }: Part): void {
  const ex = xs[q]! - xs[p]!;
  const ey = ys[q]! - ys[p]!;
  const dx = (to - from) * ex;
  const dy = (to - from) * ey;
  const squared = dx * dx + dy * dy;
  if (squared > 0) found.push(xs[p]! + from * ex, ys[p]! + from * ey, dx, dy, 1 / squared);
}

/** Parts of the edge p-q (0 to 1) that lie inside other ones of these sums, by their beginning. */
function coveredParts(
  { starts, xs, ys, boxes }: NoFit,
  sums: Int32Array,
  own: number,
  p: number,
  q: number,
): [number, number][] {
  const minX = Math.min(xs[p]!, xs[q]!);
  const maxX = Math.max(xs[p]!, xs[q]!);
  const minY = Math.min(ys[p]!, ys[q]!);
  const maxY = Math.max(ys[p]!, ys[q]!);
  const parts: [number, number][] = [];
  for (const sum of sums) {
    const b = 4 * sum;
    if (sum === own || maxX <= boxes[b]! || maxY <= boxes[b + 1]! || minX >= boxes[b + 2]! || minY >= boxes[b + 3]!) {
      continue;
    }
    let low = 0;
    let high = 1;
    const end = starts[sum + 1]!;
    for (let s = end - 1, t = starts[sum]!; t < end && low < high; s = t, t++) {
      const ex = xs[t]! - xs[s]!;
      const ey = ys[t]! - ys[s]!;
      const atP = ex * (ys[p]! - ys[s]!) - ey * (xs[p]! - xs[s]!);
      const atQ = ex * (ys[q]! - ys[s]!) - ey * (xs[q]! - xs[s]!);
      if (atP <= 0 && atQ <= 0) high = low;
      else if (atP < 0) low = Math.max(low, atP / (atP - atQ));
      else if (atQ < 0) high = Math.min(high, atP / (atP - atQ));
    }
    if (low < high) parts.push([low, high]);
  }
  return parts.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
}
