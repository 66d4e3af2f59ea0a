/**
 * Things in lists by the left end of their boxes, so that looking for what lies somewhere does not take longer on a
 * longer strip. List k holds what begins from k - 1 to k widths; the first and the last what lies beyond.
 * A thing is found from the head of its list (`first`) by `next`; -1 = none. The latest comes first.
 */
import type { Um } from '../units/types.js';

/** Lists for each greatest extent along the strip. */
const listsPerExtent = 4;

export interface LeftLists {
  readonly width: Um;
  /** No box is longer. */
  readonly extent: Um;
  readonly first: Int32Array;
  readonly next: Int32Array;
  readonly before: Int32Array;
  /** The list that a thing is in; -1 = in none. */
  readonly listOf: Int32Array;
}

/**
 * Empty lists for so many things.
 * @param extent of the longest box along the strip
 */
export function makeLeftLists(extent: Um, things: number): LeftLists {
  const width = Math.max(1, Math.ceil(extent / listsPerExtent));
  // As far as the things reach side by side; what begins farther right shares the last list.
  const lists = listsPerExtent * (things + 1);
  return {
    width,
    extent,
    first: new Int32Array(lists).fill(-1),
    next: new Int32Array(things).fill(-1),
    before: new Int32Array(things).fill(-1),
    listOf: new Int32Array(things).fill(-1),
  };
}

/** The list of what begins at x. */
export function leftListAt({ first, width }: LeftLists, x: Um): number {
  const at = Math.floor(x / width) + 1;
  return at < 0 ? 0 : at >= first.length ? first.length - 1 : at;
}

/** Puts thing i, wherever it was, into the list of what begins at `left`. */
export function enlist(lists: LeftLists, i: number, left: Um): void {
  const { first, next, before, listOf } = lists;
  const to = leftListAt(lists, left);
  if (listOf[i] === to) return;
  delist(lists, i);
  const head = first[to]!;
  next[i] = head;
  before[i] = -1;
  if (head >= 0) before[head] = i;
  first[to] = i;
  listOf[i] = to;
}

/** Takes thing i out of its list, if it is in one. */
export function delist({ first, next, before, listOf }: LeftLists, i: number): void {
  const from = listOf[i]!;
  if (from < 0) return;
  const previous = before[i]!;
  const following = next[i]!;
  if (previous >= 0) next[previous] = following;
  else first[from] = following;
  if (following >= 0) before[following] = previous;
  listOf[i] = -1;
}
