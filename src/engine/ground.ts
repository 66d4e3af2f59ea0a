/**
 * The ground: what lies on the strip while a lay is built. Things lie in the order they were put down; blocked ones
 * come first and stay. They are kept in lists by their left end, so that looking for what lies somewhere does not
 * take longer on a longer strip.
 *
 * Whoever takes things away only lowers `count`; the lists follow when they are next asked.
 */
import type { Um } from '../units/types.js';
import type { Tables } from './tables.js';

/** Lists for each greatest extent along the strip. */
const listsPerExtent = 4;

export interface Ground {
  readonly tables: Tables;
  readonly blocked: number;
  /** Things that lie, blocked ones included. */
  count: number;
  readonly shapeOf: Int32Array;
  readonly xs: Float64Array;
  readonly ys: Float64Array;
  readonly choiceOf: Int32Array;
  /** lengthAfter[i]: largest x that things before i reach, blocked ones not counted. */
  readonly lengthAfter: Float64Array;
  /** Work done so far: one for each convex sum or interval looked at on a line, and four for each pair. */
  steps: number;
  readonly lists: Lists;
}

interface Lists {
  readonly width: Um;
  readonly extent: Um;
  /** The last thing of each list, and the one before each thing in its list; -1 = none. */
  readonly last: Int32Array;
  readonly before: Int32Array;
  readonly listOf: Int32Array;
  /** Things in the lists: the first so many of those that lie. */
  count: number;
}

export function makeGround(tables: Tables, things: number): Ground {
  const { blocked } = tables.problem;
  const size = blocked.length + things;
  const extent = tables.searchedBox.reduce((most, box) => Math.max(most, box.maxX - box.minX), 1);
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
    lists: {
      width: Math.ceil(extent / listsPerExtent),
      extent,
      // Things lie close together, so these are enough; the last one takes what lies further away.
      last: new Int32Array(listsPerExtent * (size + 1)).fill(-1),
      before: new Int32Array(size),
      listOf: new Int32Array(size),
      count: 0,
    },
  };
  for (const { shape, x, y } of blocked) {
    putDown(ground, shape, 0, x, y);
    ground.lengthAfter[ground.count] = 0;
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
  const list = listAt(lists, x + tables.searchedBox[shape]!.minX);
  lists.listOf[at] = list;
  lists.before[at] = lists.last[list]!;
  lists.last[list] = at;
  lists.count = at + 1;
}

/** Takes out of the lists what does not lie any more: always the last of its list. */
function forgetTaken({ count, lists }: Ground): void {
  while (lists.count > count) {
    lists.count--;
    lists.last[lists.listOf[lists.count]!] = lists.before[lists.count]!;
  }
}

function listAt({ width, last }: Lists, x: Um): number {
  const at = Math.floor(x / width) + 1;
  return at < 0 ? 0 : at >= last.length ? last.length - 1 : at;
}

/** Finds the things whose boxes reach into the open stretch between two x; into `near`, whose end it returns. */
export function gatherNear(ground: Ground, left: Um, right: Um, near: Int32Array): number {
  const { tables, lists, shapeOf, xs } = ground;
  forgetTaken(ground);
  const until = listAt(lists, right);
  let end = 0;
  for (let list = listAt(lists, left - lists.extent); list <= until; list++) {
    for (let i = lists.last[list]!; i >= 0; i = lists.before[i]!) {
      const box = tables.searchedBox[shapeOf[i]!]!;
      if (xs[i]! + box.maxX > left && xs[i]! + box.minX < right) near[end++] = i;
    }
  }
  return end;
}

/** The lattice line at or above the value; step 0 = the value itself. */
export function latticeUp(value: Um, step: Um, offset: Um): Um {
  return step === 0 ? value : offset + Math.ceil((value - offset) / step) * step;
}

/** The lattice line at or below the value. */
export function latticeDown(value: Um, step: Um, offset: Um): Um {
  return step === 0 ? value : offset + Math.floor((value - offset) / step) * step;
}
