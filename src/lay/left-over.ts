/**
 * What is left of the cloth: the largest upright rectangle that no copy and no flaw reaches into. The width is cut into
 * narrow bands; over each band what covers any of its lines is known exactly, so that the rectangle told is free for
 * certain, and at most two bands narrower than the largest one.
 */
import { washedLength } from '../cloth/washing.js';
import type { Outline, Um } from '../units/types.js';
import type { Lay } from './types.js';

/** In the flat cloth frame. */
export interface Rectangle {
  readonly x: Um;
  readonly y: Um;
  readonly along: Um;
  readonly across: Um;
}

type Interval = readonly [from: number, to: number];

/** Width of a band. */
const bandUm: Um = 5_000;

/**
 * The largest rectangle left between the ends of the length that is bought or at hand, within the usable width; null on a
 * tube, which has no edge to measure from.
 */
export function leftOver(lay: Pick<Lay, 'cloth' | 'copies' | 'totals' | 'stretches'>): Rectangle | null {
  const { cloth, copies } = lay;
  if (lay.stretches.some(({ method }) => method === 'tube')) return null;
  const outlines = [...copies.map(({ outline }) => outline), ...cloth.flaws];
  return largestRectangle(outlines, [cloth.ends[0], endOf(lay)], cloth.usable);
}

/**
 * Where what may be used of the cloth ends: the far end, less what it may take to reach the first bar of a repeat, since
 * that much may be lost before the first piece.
 */
export function endOf({ cloth, totals }: Pick<Lay, 'cloth' | 'totals'>): Um {
  const whole = cloth.length ?? washedLength(totals.buy, cloth.shrinkagePpm?.along ?? 0);
  return whole - cloth.ends[1] - (totals.buyParts.find(({ why }) => why === 'reaching the first bar')?.um ?? 0);
}

/** The largest rectangle in a box that none of the outlines reaches into; of equal ones the first across. */
export function largestRectangle(
  outlines: readonly Outline[],
  [left, right]: Interval,
  [low, high]: Interval,
): Rectangle {
  const rows = Math.max(0, Math.floor((high - low) / bandUm));
  const boxed = outlines.map((outline) => {
    const ys = outline.map(([, y]) => y);
    return { outline, least: Math.min(...ys), most: Math.max(...ys) };
  });
  const covered = Array.from({ length: rows }, (_, row) => {
    const [from, to] = [low + row * bandUm, low + (row + 1) * bandUm];
    const near = boxed.filter(({ least, most }) => least < to && most > from);
    return coveredIn(
      near.map(({ outline }) => outline),
      from,
      to,
    );
  });
  let best: Rectangle = { x: left, y: low, along: 0, across: 0 };
  for (let from = 0; from < rows; from++) {
    let union: readonly Interval[] = [];
    for (let to = from; to < rows; to++) {
      union = joined(union, covered[to]!);
      const gap = widestGap(union, left, right);
      const across = (to + 1 - from) * bandUm;
      const along = Math.floor(gap[1]) - Math.ceil(gap[0]);
      if (along * across > best.along * best.across) {
        best = { x: Math.ceil(gap[0]), y: low + from * bandUm, along, across };
      }
      // Further bands only narrow the gap.
      if (along * (rows - from) * bandUm <= best.along * best.across) break;
    }
  }
  return best;
}

/** Where any line of a band is covered: sections at its two borders, and what edges pass over between them. */
function coveredIn(outlines: readonly Outline[], low: Um, high: Um): readonly Interval[] {
  const intervals: Interval[] = [];
  for (const outline of outlines) {
    const crossings: readonly [number[], number[]] = [[], []];
    for (let i = 0; i < outline.length; i++) {
      const [ax, ay] = outline[i]!;
      const [bx, by] = outline[(i + 1) % outline.length]!;
      const at = (y: number) => (ay === by ? ax : ax + ((bx - ax) * (y - ay)) / (by - ay));
      if (ay <= low !== by <= low) crossings[0].push(at(low));
      // What only touches the upper border covers nothing of the band.
      if (ay < high !== by < high) crossings[1].push(at(high));
      if (Math.max(ay, by) <= low || Math.min(ay, by) >= high) continue;
      const clip = (y: number) => Math.min(high, Math.max(low, y));
      const [a, b] = ay === by ? [ax, bx] : [at(clip(ay)), at(clip(by))];
      intervals.push([Math.min(a, b), Math.max(a, b)]);
    }
    for (const line of crossings) {
      line.sort((a, b) => a - b);
      for (let i = 0; i + 1 < line.length; i += 2) intervals.push([line[i]!, line[i + 1]!]);
    }
  }
  return joined([], intervals);
}

/** The union of intervals, in order. */
function joined(a: readonly Interval[], b: readonly Interval[]): readonly Interval[] {
  const all = [...a, ...b].sort((one, other) => one[0] - other[0]);
  const union: [number, number][] = [];
  for (const [from, to] of all) {
    const last = union.at(-1);
    if (last !== undefined && from <= last[1]) last[1] = Math.max(last[1], to);
    else union.push([from, to]);
  }
  return union;
}

function widestGap(union: readonly Interval[], left: number, right: number): Interval {
  let [best, from]: [Interval, number] = [[left, left], left];
  for (const [begin, end] of [...union, [right, right] as const]) {
    const to = Math.min(begin, right);
    if (to - from > best[1] - best[0]) best = [from, to];
    from = Math.max(from, end);
  }
  return best;
}

/** Straight cuts across the whole cloth, from selvedge to selvedge, that part copies from copies and meet none. */
export function throughCuts({ copies }: Pick<Lay, 'copies'>): number {
  return partingPlaces(copies.map(({ outline }) => outline)).length;
}

/** Where a line straight across parts outlines from outlines and meets none: from and to along the cloth. */
export function partingPlaces(outlines: readonly Outline[]): readonly Interval[] {
  const extents = outlines.map((outline): Interval => {
    const xs = outline.map(([x]) => x);
    return [Math.min(...xs), Math.max(...xs)];
  });
  const parts = joined([], extents);
  return parts.slice(1).map(([begins], i): Interval => [parts[i]![1], begins]);
}
