/**
 * Dual feasible functions: f from [0, 1] to [0, 1], never falling, such that whenever numbers add up to at most 1,
 * so do their f's. Here in whole numbers: sizes 0..capacity, a function as pieces between breaks.
 *
 * Source: S. P. Fekete, J. Schepers, "New classes of fast lower bounds for bin packing problems", Mathematical
 * Programming 91 (2001), and "A general framework for bounds for higher-dimensional orthogonal packing problems",
 * Mathematical Methods of Operations Research 60 (2004). From memory, therefore proved here.
 */
import { assert } from '../diagnostics/assert.js';
import type { Um } from '../units/types.js';
import type { Span } from './chords.js';

/**
 * At size s with t = s * scale: `atBreak[i]` when t = breaks[i]; between breaks[i] and breaks[i + 1] it is
 * `base[i] + slope[i] * s`. breaks[0] = 0 and the last break is scale * capacity.
 */
export interface DualFeasible {
  readonly capacity: Um;
  readonly scale: number;
  readonly breaks: Float64Array;
  readonly atBreak: Float64Array;
  readonly base: Float64Array;
  readonly slope: Float64Array;
}

/** What is left unchanged: f(x) = x. Its bound is the area. */
export function plainShare(capacity: Um): DualFeasible {
  return smallToNothing(0, capacity);
}

/**
 * u_k(x) = x when (k + 1) x is whole, else floor((k + 1) x) / k.
 * Proof. Let the x's add up to at most 1, J those with whole (k + 1) x, R the others. With R empty, the u's are the
 * x's. Otherwise sum over R of floor((k + 1) x) < (k + 1) (1 - sum over J of x), where the right side is whole, so it
 * is at most (k + 1) (1 - S) - 1 = k - (k + 1) S with S the sum over J. So the u's add up to at most
 * S + (k - (k + 1) S) / k = 1 - S / k <= 1. Never falling: (j - 1) / k <= j / (k + 1) <= j / k for j <= k + 1.
 */
export function atMostAcross(k: number, capacity: Um): DualFeasible {
  const parts = Array.from({ length: k + 2 }, (_, j) => j);
  return assemble(
    capacity,
    k + 1,
    parts.map((j) => j * capacity),
    parts.map((j) => j / (k + 1)),
    parts.slice(0, -1).map((j) => j / k),
  );
}

/**
 * U_e(x) = 1 above 1 - e, x from e to 1 - e, 0 below e; e at most 1/2.
 * Proof. With one x above 1 - e all others are below e and count nothing; without, U_e(x) <= x.
 */
export function smallToNothing(small: Um, capacity: Um): DualFeasible {
  const e = Math.min(small, Math.floor(capacity / 2));
  if (e === 0) return assemble(capacity, 1, [0, capacity], [0, 1], [0], [1 / capacity]);
  if (2 * e === capacity) return assemble(capacity, 1, [0, e, capacity], [0, 1 / 2, 1], [0, 1]);
  return assemble(
    capacity,
    1,
    [0, e, capacity - e, capacity],
    [0, e / capacity, (capacity - e) / capacity, 1],
    [0, 0, 1],
    [0, 1 / capacity, 0],
  );
}

/**
 * phi_e with n = floor(1 / e): 0 below e, 1 / n from e to 1/2, 1 - floor((1 - x) / e) / n above 1/2; 0 < e <= 1/2.
 * Proof. Without an x above 1/2, at most n are e or more. With one (there cannot be two), at most
 * floor((1 - x) / e) others are e or more, each counting 1 / n. Never falling: just above 1/2 the floor is below
 * 1 / (2 e) <= 1 / e - 1 < n, so at most n - 1, and the value is 1 / n or more.
 */
export function countedWithWide(small: Um, capacity: Um): DualFeasible {
  if (capacity < 2) return plainShare(capacity);
  const e = Math.max(1, Math.min(small, Math.floor(capacity / 2)));
  const n = Math.floor(capacity / e);
  // In doubled sizes: 2e, the half (= capacity), then 2 (capacity - j e) while above the half.
  const breaks = [0, 2 * e];
  const atBreak = [0, 1 / n];
  const base = [0];
  if (2 * e < capacity) {
    breaks.push(capacity);
    atBreak.push(1 / n);
    base.push(1 / n);
  }
  let j = Math.ceil(capacity / (2 * e)) - 1;
  base.push(1 - j / n);
  for (; j >= 0; j--) {
    breaks.push(2 * (capacity - j * e));
    atBreak.push(1 - j / n);
    if (j > 0) base.push(1 - (j - 1) / n);
  }
  return assemble(capacity, 2, breaks, atBreak, base);
}

function assemble(
  capacity: Um,
  scale: number,
  breaks: readonly number[],
  atBreak: readonly number[],
  base: readonly number[],
  slope: readonly number[] = base.map(() => 0),
): DualFeasible {
  assert(
    breaks.every((at, i) => i === 0 || at > breaks[i - 1]!),
    'the breaks of a dual feasible function rise',
  );
  assert(breaks[0] === 0 && breaks[breaks.length - 1] === scale * capacity, 'the breaks run from nothing to all');
  assert(base.length === breaks.length - 1 && atBreak.length === breaks.length, 'one value for each break and piece');
  return {
    capacity,
    scale,
    breaks: Float64Array.from(breaks),
    atBreak: Float64Array.from(atBreak),
    base: Float64Array.from(base),
    slope: Float64Array.from(slope),
  };
}

/** f at a size from 0 to capacity. */
export function valueAt(f: DualFeasible, size: number): number {
  let i = 0;
  while (i + 1 < f.breaks.length && f.breaks[i + 1]! <= size * f.scale) i++;
  return f.breaks[i] === size * f.scale ? f.atBreak[i]! : f.base[i]! + f.slope[i]! * size;
}

/**
 * Sum over the spans of the integral of f(chord + gap), the chord running straight from low to high. The spans come
 * in order of their low ends, so the piece each begins in is found by moving on from the one before.
 */
export function integralAlong(f: DualFeasible, spans: readonly Span[], gapUm: Um): number {
  const { breaks, atBreak, base, slope, scale } = f;
  let sum = 0;
  let first = 0;
  for (let s = 0; s < spans.length; s++) {
    const { width, low, high } = spans[s]!;
    const start = low + gapUm;
    const end = high + gapUm;
    const last = end * scale;
    while (first + 1 < breaks.length && breaks[first + 1]! <= start * scale) first++;
    if (start === end) {
      sum += width * (breaks[first] === last ? atBreak[first]! : base[first]! + slope[first]! * start);
      continue;
    }
    let from = start;
    for (let i = first; i < base.length && breaks[i]! < last; i++) {
      const to = breaks[i + 1]! < last ? breaks[i + 1]! / scale : end;
      // A span within one piece counts with its whole width, so that whole numbers stay whole.
      const part = to - from === end - start ? width : (width * (to - from)) / (end - start);
      sum += part * (base[i]! + (slope[i]! * (from + to)) / 2);
      from = to;
    }
  }
  return sum;
}
