/**
 * Settling: the search works on outlines that are a little too large; here everything is pushed to the left as far
 * as the true outlines (grown by half the gap) allow, exactly, until nothing moves, also by way of a small move up
 * or down where that lets a thing go further left. Zones, y ranges and lattices are kept.
 */
import { roomToSlide } from '../geometry/slide.js';
import type { Choice } from '../problem/types.js';
import type { Um } from '../units/types.js';
import type { Places } from './lay-code.js';
import { enlist, type LeftLists, leftListAt, makeLeftLists } from './left-lists.js';
import { facesFor, type Tables } from './tables.js';

/** Rounds over all things; each ends early when nothing moves. */
const roundsMost = 40;

/** Turn that makes the direction point to the left. */
const toLeft = 0;
const toUp = 90;
const toDown = 270;
type Way = typeof toLeft | typeof toUp | typeof toDown;

interface Lying {
  readonly tables: Tables;
  readonly choices: readonly Choice[];
  /** Things first, then blocked ones. */
  readonly shapes: Int32Array;
  readonly xs: Float64Array;
  readonly ys: Float64Array;
  /** By the left ends of the grown outlines. */
  readonly lists: LeftLists;
}

/** The lay of these kinds of things with its things moved. */
export function settle(tables: Tables, kindOf: Int32Array, lay: Places): Places {
  const { kinds, blocked } = tables.problem;
  const choices = Array.from(lay.choices, (choice, i) => kinds[kindOf[i]!]!.choices[choice]!);
  const lying: Lying = {
    tables,
    choices,
    shapes: Int32Array.from([...choices.map((choice) => choice.shape), ...blocked.map((thing) => thing.shape)]),
    xs: Float64Array.from([...lay.xs, ...blocked.map((thing) => thing.x)]),
    ys: Float64Array.from([...lay.ys, ...blocked.map((thing) => thing.y)]),
    lists: makeLeftLists(longestGrown(tables), choices.length + blocked.length),
  };
  lying.shapes.forEach((_, i) => {
    enlist(lying.lists, i, leftEnd(lying, i));
  });
  for (let round = 0; round < roundsMost; round++) {
    let moved = false;
    for (const i of fromTheLeft(lying)) if (pushLeft(lying, i) > 0) moved = true;
    if (moved) continue;
    for (const i of fromTheLeft(lying)) if (pushAround(lying, i)) moved = true;
    if (!moved) break;
  }
  const n = choices.length;
  return { choices: lay.choices, xs: lying.xs.slice(0, n), ys: lying.ys.slice(0, n) };
}

function longestGrown(tables: Tables): Um {
  const boxes = tables.problem.shapes.map((_, shape) => facesFor(tables, shape, toLeft).box);
  return boxes.reduce((most, box) => Math.max(most, box.maxX - box.minX), 1);
}

function leftEnd({ tables, shapes, xs }: Lying, i: number): Um {
  return xs[i]! + facesFor(tables, shapes[i]!, toLeft).box.minX;
}

function moveTo(lying: Lying, i: number, x: Um, y: Um): void {
  lying.xs[i] = x;
  lying.ys[i] = y;
  enlist(lying.lists, i, leftEnd(lying, i));
}

function fromTheLeft({ tables, choices, shapes, xs }: Lying): number[] {
  const left = (i: number): number => xs[i]! + tables.trueBox[shapes[i]!]!.minX;
  return [...choices.keys()].sort((a, b) => left(a) - left(b) || a - b);
}

/** Pushes thing i to the left; how far it went. */
function pushLeft(lying: Lying, i: number): Um {
  const { tables, shapes, xs, ys, choices } = lying;
  const most = xs[i]! - tables.leastX[shapes[i]!]!;
  const room = wholeSteps(roomFor(lying, i, toLeft, most), choices[i]!.lattice?.xStep ?? 0);
  if (room > 0) moveTo(lying, i, xs[i]! - room, ys[i]!);
  return room;
}

/** Tries the far ends up and down; keeps the one from where the thing goes further left. */
function pushAround(lying: Lying, i: number): boolean {
  const { xs, ys, choices } = lying;
  const choice = choices[i]!;
  const step = choice.lattice?.yStep ?? 0;
  const x = xs[i]!;
  const y = ys[i]!;
  let bestX = x;
  let bestY = y;
  for (const way of [toDown, toUp] as const) {
    const room = wholeSteps(roomFor(lying, i, way, way === toDown ? y - choice.yMin : choice.yMax - y), step);
    if (room === 0) continue;
    moveTo(lying, i, x, way === toDown ? y - room : y + room);
    pushLeft(lying, i);
    if (xs[i]! < bestX) {
      bestX = xs[i]!;
      bestY = ys[i]!;
    }
    moveTo(lying, i, x, y);
  }
  moveTo(lying, i, bestX, bestY);
  return bestX < x;
}

function wholeSteps(room: Um, step: Um): Um {
  return step === 0 ? room : Math.floor(room / step) * step;
}

/** How far thing i can go in a direction, at most `most`, before it meets another. */
function roomFor({ tables, shapes, xs, ys, lists }: Lying, i: number, way: Way, most: Um): Um {
  const moving = facesFor(tables, shapes[i]!, way);
  const box = facesFor(tables, shapes[i]!, toLeft).box;
  const left = xs[i]! + box.minX;
  let room = most;
  // From the right to the left: what ends left of the way that remains cannot shorten it.
  for (let list = leftListAt(lists, xs[i]! + box.maxX); list >= 0 && room > 0; list--) {
    const leftmost = way === toLeft ? left - room : left;
    if (list < leftListAt(lists, leftmost - lists.extent)) break;
    for (let j = lists.first[list]!; j >= 0; j = lists.next[j]!) {
      if (j === i) continue;
      const dx = xs[i]! - xs[j]!;
      const dy = ys[i]! - ys[j]!;
      const turnedX = way === toLeft ? dx : way === toUp ? -dy : dy;
      const turnedY = way === toLeft ? dy : way === toUp ? dx : -dx;
      room = roomToSlide(facesFor(tables, shapes[j]!, way), moving, turnedX, turnedY, room);
    }
  }
  return room;
}
