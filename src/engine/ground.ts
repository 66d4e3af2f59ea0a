/**
 * The ground: what lies on the strip while a lay is built. Things lie in the order they were put down; blocked ones
 * come first and stay. They are kept in lists by their left end (left-lists.ts).
 *
 * Whoever takes things away only lowers `count`; the lists follow when they are next asked.
 */
import { pinnedEnd } from '../problem/lattice.js';
import type { Um } from '../units/types.js';
import { delist, enlist, type LeftLists, leftListAt, makeLeftLists } from './left-lists.js';
import { longestBox, type Tables } from './tables.js';

export interface Ground {
  readonly tables: Tables;
  readonly blocked: number;
  /** Things that lie, blocked ones included. */
  count: number;
  readonly shapeOf: Int32Array;
  readonly xs: Float64Array;
  readonly ys: Float64Array;
  readonly choiceOf: Int32Array;
  /** lengthAfter[i]: largest x that things before i reach; of blocked ones only those that are pinned count. */
  readonly lengthAfter: Float64Array;
  /** Work done so far: one for each convex sum or interval looked at on a line, and four for each pair. */
  steps: number;
  readonly lists: LeftLists;
  /** Things in the lists: the first so many of those that lie. */
  listed: number;
}

/** Ground for so many things on which only the blocked ones lie. */
export function makeGround(tables: Tables, things: number): Ground {
  const { blocked } = tables.problem;
  const size = blocked.length + things;
  const ground: Ground = {
    tables,
    blocked: blocked.length,
    count: 0,
    shapeOf: new Int32Array(size),
    xs: new Float64Array(size),
    ys: new Float64Array(size),
    choiceOf: new Int32Array(size),
    lengthAfter: new Float64Array(size + 1),
    steps: 0,
    lists: makeLeftLists(longestBox(tables), size),
    listed: 0,
  };
  const end = pinnedEnd(tables.problem);
  for (const { shape, x, y } of blocked) {
    putDown(ground, shape, 0, x, y);
    ground.lengthAfter[ground.count] = end;
  }
  return ground;
}

/** Puts a thing down as the next one. */
export function putDown(ground: Ground, shape: number, choice: number, x: Um, y: Um): void {
  const { tables, lists } = ground;
  const at = ground.count;
  forgetTaken(ground);
  ground.shapeOf[at] = shape;
  ground.choiceOf[at] = choice;
  ground.xs[at] = x;
  ground.ys[at] = y;
  ground.lengthAfter[at + 1] = Math.max(ground.lengthAfter[at]!, x + tables.trueBox[shape]!.maxX);
  ground.count = at + 1;
  enlist(lists, at, x + tables.searchedBox[shape]!.minX);
  ground.listed = at + 1;
}

/** Takes out of the lists what does not lie any more. */
function forgetTaken(ground: Ground): void {
  while (ground.listed > ground.count) delist(ground.lists, --ground.listed);
}

/** Finds the things whose boxes reach into the open stretch between two x; into `near`, whose end it returns. */
export function gatherNear(ground: Ground, left: Um, right: Um, near: Int32Array): number {
  const { tables, lists, shapeOf, xs } = ground;
  forgetTaken(ground);
  const until = leftListAt(lists, right);
  let end = 0;
  for (let list = leftListAt(lists, left - lists.extent); list <= until; list++) {
    for (let i = lists.first[list]!; i >= 0; i = lists.next[i]!) {
      const box = tables.searchedBox[shapeOf[i]!]!;
      if (xs[i]! + box.maxX > left && xs[i]! + box.minX < right) near[end++] = i;
    }
  }
  return end;
}
