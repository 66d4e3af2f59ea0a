/**
 * Is there room for these things in this length? Looks through all their arrangements, until one is left that cannot be
 * told from a legal one, or none.
 *
 * State: for every two things, least distances along and across between them (things are numbered from 1; 0 is the
 * start of the cloth and its lower edge), closed under adding: the longest way from one thing to another. So the place
 * of thing j relative to thing i lies in a rectangle D_ij known at any time. A pair is settled when nothing in D_ij is
 * forbidden. Otherwise D_ij is shrunk to the first allowed places from its four sides (see forbidden.ts), which may move
 * others; when nothing is left of some D, or a way from a thing to itself is longer than 0, this branch holds no legal
 * lay. When nothing moves any more, some D is cut in two that have no whole place in common and together are D, and
 * both are looked through. Every legal lay lies in one of the branches, so when all of them end, there is none.
 * A pair in the nooks of its forbidden places is left alone when its D is small: as if it were settled.
 *
 * Which pair is cut: the one with the fewest ways left (before, behind, under, over), the larger things first.
 * (Branching on relative positions: see for instance Martello, Monaci and Vigo, "An exact approach to the strip-packing
 * problem", 2003, section 2, from memory.)
 */
import { assert } from '../diagnostics/assert.js';
import type { Um } from '../units/types.js';
import { type Forbidden, firstAllowed, isAllAllowed } from './forbidden.js';

/** Nooks are looked into down to this share of the forbidden places' box. */
const nookShare = 1 / 32;

/** A thing lying in one form. */
export interface Placed {
  readonly length: Um;
  readonly xMin: Um;
  /** null: as far as the length allows. */
  readonly xMax: Um | null;
  readonly yMin: Um;
  readonly yMax: Um;
  /** Whether the lay must reach its end. */
  readonly counts: boolean;
}

export interface Pair {
  readonly i: number;
  readonly j: number;
  readonly forbidden: Forbidden;
  /** Thing j, a copy of thing i in the same form, does not lie before it. */
  readonly isInOrder: boolean;
}

export type Answer = { readonly how: 'no room' } | { readonly how: 'open' } | { readonly how: 'room'; readonly um: Um };

interface Work {
  readonly size: number;
  readonly placed: readonly Placed[];
  readonly pairs: readonly Pair[];
  readonly levels: Level[];
  readonly steps: { left: number };
}

/** What is known at one depth of the search. */
interface Level {
  /** Least x_j - x_i at [i * size + j], likewise across. */
  readonly along: Float64Array;
  readonly across: Float64Array;
  readonly isSettled: Uint8Array;
  /** D of each pair when it was last looked at: low x, high x, low y, high y. */
  readonly seen: Float64Array;
}

/**
 * Whether the things, numbered from 0 with all their pairs that matter, have room in the length: "no room" is certain;
 * "room" names the length that the arrangement left needs at least; "open": the steps were used up. Pairs come in the
 * order in which they are to be cut.
 */
export function hasRoom(
  placed: readonly Placed[],
  pairs: readonly Pair[],
  lengthUm: Um,
  steps: { left: number },
): Answer {
  const work: Work = { size: placed.length + 1, placed, pairs, levels: [], steps };
  const level = levelAt(work, 0);
  level.along.fill(Number.NEGATIVE_INFINITY);
  level.across.fill(Number.NEGATIVE_INFINITY);
  level.isSettled.fill(0);
  level.seen.fill(Number.NaN);
  for (let i = 0; i < work.size; i++) {
    level.along[i * work.size + i] = 0;
    level.across[i * work.size + i] = 0;
  }
  for (const [index, { length, xMin, xMax, yMin, yMax, counts }] of placed.entries()) {
    const i = index + 1;
    const last = counts ? lengthUm - length : Number.POSITIVE_INFINITY;
    const most = xMax === null ? last : Math.min(last, xMax);
    assert(Number.isFinite(most), 'every thing has a last place');
    const fits =
      raise(work, level.along, 0, i, xMin) &&
      raise(work, level.along, i, 0, -most) &&
      raise(work, level.across, 0, i, yMin) &&
      raise(work, level.across, i, 0, -yMax);
    if (!fits) return { how: 'no room' };
  }
  for (const { i, j, isInOrder } of pairs) {
    if (isInOrder && !raise(work, level.along, i + 1, j + 1, 0)) return { how: 'no room' };
  }
  return lookThrough(work, 0);
}

function levelAt({ levels, size, pairs }: Work, depth: number): Level {
  levels[depth] ??= {
    along: new Float64Array(size * size),
    across: new Float64Array(size * size),
    isSettled: new Uint8Array(pairs.length),
    seen: new Float64Array(4 * pairs.length),
  };
  return levels[depth]!;
}

/** Thing b lies at least `by` beyond thing a: false when that cannot be. */
function raise({ size, steps }: Work, least: Float64Array, a: number, b: number, by: Um): boolean {
  if (by <= least[a * size + b]!) return true;
  if (least[b * size + a]! + by > 0) return false;
  steps.left -= size >> 1;
  for (let i = 0; i < size; i++) {
    const through = least[i * size + a]! + by;
    if (through <= least[i * size + b]!) continue;
    for (let j = 0; j < size; j++) {
      const way = through + least[b * size + j]!;
      if (way > least[i * size + j]!) least[i * size + j] = way;
    }
  }
  return true;
}

function lookThrough(work: Work, depth: number): Answer {
  const { pairs, steps } = work;
  const level = levelAt(work, depth);
  if (!shrinkAll(work, level)) return { how: 'no room' };
  if (steps.left < 0) return { how: 'open' };
  const chosen = pairToCut(work, level);
  if (chosen < 0) return { how: 'room', um: lengthOf(work, level) };
  const { i, j } = pairs[chosen]!;
  const a = i + 1;
  const b = j + 1;
  const { isAlong, low, first } = cutOf(work, level, chosen);
  let isOpen = false;
  for (const part of first === 'low' ? (['low', 'high'] as const) : (['high', 'low'] as const)) {
    const next = levelAt(work, depth + 1);
    next.along.set(level.along);
    next.across.set(level.across);
    next.isSettled.set(level.isSettled);
    next.seen.set(level.seen);
    const least = isAlong ? next.along : next.across;
    const canBe = part === 'low' ? raise(work, least, b, a, -low) : raise(work, least, a, b, low + 1);
    if (!canBe) continue;
    const answer = lookThrough(work, depth + 1);
    if (answer.how === 'room') return answer;
    if (answer.how === 'open') isOpen = true;
    if (steps.left < 0) return { how: 'open' };
  }
  return { how: isOpen ? 'open' : 'no room' };
}

/** Shrinks every D until nothing moves; false when nothing is left of one. */
function shrinkAll(work: Work, level: Level): boolean {
  let hasMoved = true;
  while (hasMoved) {
    hasMoved = false;
    for (let p = 0; p < work.pairs.length; p++) {
      if (level.isSettled[p] || !hasChanged(work, level, p)) continue;
      if (!shrink(work, level, p)) return false;
      hasMoved = true;
      if (work.steps.left < 0) return true;
    }
  }
  return true;
}

/** Whether D of the pair is not what it was when last looked at; notes what it is. */
function hasChanged({ pairs, size }: Work, { along, across, seen }: Level, p: number): boolean {
  const { i, j } = pairs[p]!;
  const to = (i + 1) * size + j + 1;
  const back = (j + 1) * size + i + 1;
  const at = 4 * p;
  if (
    seen[at] === along[to] &&
    seen[at + 1] === -along[back]! &&
    seen[at + 2] === across[to] &&
    seen[at + 3] === -across[back]!
  )
    return false;
  seen[at] = along[to]!;
  seen[at + 1] = -along[back]!;
  seen[at + 2] = across[to]!;
  seen[at + 3] = -across[back]!;
  return true;
}

function shrink(work: Work, level: Level, p: number): boolean {
  const { i, j, forbidden } = work.pairs[p]!;
  const { seen, along, across } = level;
  const at = 4 * p;
  const [xLow, xHigh, yLow, yHigh] = [seen[at]!, seen[at + 1]!, seen[at + 2]!, seen[at + 3]!];
  work.steps.left -= 1 + forbidden.polygons;
  if (isAllAllowed(forbidden, xLow, xHigh, yLow, yHigh)) {
    level.isSettled[p] = 1;
    return true;
  }
  const a = i + 1;
  const b = j + 1;
  work.steps.left -= 4 * forbidden.steps;
  const left = firstAllowed(forbidden.right, yLow, yHigh, xLow, xHigh);
  if (left > xHigh || (left > xLow && !raise(work, along, a, b, left))) return false;
  const right = -firstAllowed(forbidden.left, yLow, yHigh, -xHigh, -left);
  if (right < left || (right < xHigh && !raise(work, along, b, a, -right))) return false;
  const low = firstAllowed(forbidden.up, left, right, yLow, yHigh);
  if (low > yHigh || (low > yLow && !raise(work, across, a, b, low))) return false;
  const high = -firstAllowed(forbidden.down, left, right, -yHigh, -low);
  return high >= low && (high === yHigh || raise(work, across, b, a, -high));
}

/** The pair with the fewest ways left, or -1 when all are settled. */
function pairToCut({ pairs }: Work, { isSettled, seen }: Level): number {
  let best = -1;
  let fewest = Number.POSITIVE_INFINITY;
  for (let p = 0; p < pairs.length; p++) {
    if (isSettled[p]) continue;
    const { minX, minY, maxX, maxY, isBox } = pairs[p]!.forbidden;
    const at = 4 * p;
    let ways = isBox ? 0 : 1;
    if (seen[at]! <= minX) ways++;
    if (seen[at + 1]! >= maxX) ways++;
    if (seen[at + 2]! <= minY) ways++;
    if (seen[at + 3]! >= maxY) ways++;
    if (ways === 1 && isNook(seen, at, pairs[p]!.forbidden)) {
      isSettled[p] = 1;
      continue;
    }
    if (ways < fewest) {
      fewest = ways;
      best = p;
    }
  }
  return best;
}

function isNook(seen: Float64Array, at: number, { minX, minY, maxX, maxY }: Forbidden): boolean {
  return (
    seen[at + 1]! - seen[at]! <= nookShare * (maxX - minX) && seen[at + 3]! - seen[at + 2]! <= nookShare * (maxY - minY)
  );
}

/** Where to cut D of the pair: into what is at most `low` and what is more; `first` is looked through first. */
function cutOf({ pairs }: Work, { seen }: Level, p: number): { isAlong: boolean; low: Um; first: 'low' | 'high' } {
  const { minX, minY, maxX, maxY } = pairs[p]!.forbidden;
  const at = 4 * p;
  const [xLow, xHigh, yLow, yHigh] = [seen[at]!, seen[at + 1]!, seen[at + 2]!, seen[at + 3]!];
  if (xHigh >= maxX && xLow < maxX) return { isAlong: true, low: maxX - 1, first: 'high' };
  if (xLow <= minX) return { isAlong: true, low: minX, first: 'low' };
  if (yHigh >= maxY && yLow < maxY) return { isAlong: false, low: maxY - 1, first: 'high' };
  if (yLow <= minY) return { isAlong: false, low: minY, first: 'low' };
  const isAlong = (xHigh - xLow) * (maxY - minY) >= (yHigh - yLow) * (maxX - minX);
  const low = isAlong ? Math.floor((xLow + xHigh) / 2) : Math.floor((yLow + yHigh) / 2);
  return { isAlong, low, first: 'low' };
}

function lengthOf({ placed, size }: Work, { along }: Level): Um {
  let most = 0;
  for (let i = 1; i < size; i++) {
    if (placed[i - 1]!.counts) most = Math.max(most, along[i]! + placed[i - 1]!.length);
  }
  return most;
}
