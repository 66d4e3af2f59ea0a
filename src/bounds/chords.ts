/**
 * Chords: how much of the line across the cloth at x an outline covers, as a function of x. It does not depend on
 * where the outline lies, only on how it is turned; mirrored or turned end for end it has the same spans.
 *
 * Takes for granted: a simple counter-clockwise outline in whole micrometres within the coordinate limit.
 * Promises: whole numbers that are never above the true chord; equal to it wherever all borders crossed are level
 * or the line goes through their ends.
 */
import type { Outline, Um } from '../units/types.js';

/** A stretch of x of width `width` on which the chord runs straight from `low` to `high` (or the other way). */
export interface Span {
  readonly width: Um;
  readonly low: Um;
  readonly high: Um;
}

export interface Profile {
  /** In order of their low ends. */
  readonly spans: readonly Span[];
  /** Extent along x: the sum of the spans' widths. */
  readonly length: Um;
}

/**
 * Between two neighbouring vertex x's the chord is the sum of the upper borders' y less that of the lower borders'.
 * Uppers are rounded down and lowers up at both ends of the span, so the straight line between the rounded ends
 * stays at or below the true one. Products of two differences are below 2^53, and a correctly rounded quotient of
 * whole numbers whose quotient is below 2^26 with a divisor below 2^26 has the right floor.
 */
export function profileOf(outline: Outline): Profile {
  const xs = [...new Set(outline.map(([x]) => x))].sort((a, b) => a - b);
  const rankOf = new Map(xs.map((x, rank) => [x, rank]));
  const atStart = new Float64Array(xs.length);
  const atEnd = new Float64Array(xs.length);
  for (let i = 0; i < outline.length; i++) {
    const [ax, ay] = outline[i]!;
    const [bx, by] = outline[(i + 1) % outline.length]!;
    if (ax === bx) continue;
    // Counter-clockwise: the inside lies above an edge that runs to the right, and below one that runs to the left.
    const isUpper = bx < ax;
    const [x0, y0, x1, y1] = isUpper ? [bx, by, ax, ay] : [ax, ay, bx, by];
    for (let rank = rankOf.get(x0)!; rank < rankOf.get(x1)!; rank++) {
      atStart[rank]! += signedHeight(x0, y0, x1, y1, xs[rank]!, isUpper);
      atEnd[rank]! += signedHeight(x0, y0, x1, y1, xs[rank + 1]!, isUpper);
    }
  }
  const spans: Span[] = [];
  for (let rank = 0; rank + 1 < xs.length; rank++) {
    const start = Math.max(0, atStart[rank]!);
    const end = Math.max(0, atEnd[rank]!);
    spans.push({ width: xs[rank + 1]! - xs[rank]!, low: Math.min(start, end), high: Math.max(start, end) });
  }
  spans.sort((a, b) => a.low - b.low || a.high - b.high || a.width - b.width);
  return { spans, length: xs[xs.length - 1]! - xs[0]! };
}

/** + floor(y) for an upper border, - ceil(y) for a lower one. */
function signedHeight(x0: Um, y0: Um, x1: Um, y1: Um, x: Um, isUpper: boolean): number {
  const rise = ((y1 - y0) * (x - x0)) / (x1 - x0);
  return isUpper ? y0 + Math.floor(rise) : -(y0 + Math.ceil(rise));
}
