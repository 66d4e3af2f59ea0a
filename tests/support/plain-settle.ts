/** Settling in the plainest way: every thing is tried against all others. To compare with. */

import type { Places } from '../../src/engine/lay-code.js';
import { facesFor, type Tables } from '../../src/engine/tables.js';
import { roomToSlide } from '../../src/geometry/slide.js';
import type { Choice } from '../../src/problem/types.js';
import type { Um } from '../../src/units/types.js';

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
}

/** The lay of these kinds of things with its things moved. */
export function settlePlainly(tables: Tables, kindOf: Int32Array, lay: Places): Places {
  const { kinds, blocked } = tables.problem;
  const choices = Array.from(lay.choices, (choice, i) => kinds[kindOf[i]!]!.choices[choice]!);
  const lying: Lying = {
    tables,
    choices,
    shapes: Int32Array.from([...choices.map((choice) => choice.shape), ...blocked.map((thing) => thing.shape)]),
    xs: Float64Array.from([...lay.xs, ...blocked.map((thing) => thing.x)]),
    ys: Float64Array.from([...lay.ys, ...blocked.map((thing) => thing.y)]),
  };
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

function fromTheLeft({ tables, choices, shapes, xs }: Lying): number[] {
  const left = (i: number): number => xs[i]! + tables.trueBox[shapes[i]!]!.minX;
  return [...choices.keys()].sort((a, b) => left(a) - left(b) || a - b);
}

/** Pushes thing i to the left; how far it went. */
function pushLeft(lying: Lying, i: number): Um {
  const { tables, shapes, xs, choices } = lying;
  const most = xs[i]! + tables.trueBox[shapes[i]!]!.minX;
  const room = wholeSteps(roomFor(lying, i, toLeft, most), choices[i]!.lattice?.xStep ?? 0);
  xs[i] = xs[i]! - room;
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
    ys[i] = way === toDown ? y - room : y + room;
    pushLeft(lying, i);
    if (xs[i]! < bestX) {
      bestX = xs[i]!;
      bestY = ys[i]!;
    }
    xs[i] = x;
    ys[i] = y;
  }
  xs[i] = bestX;
  ys[i] = bestY;
  return bestX < x;
}

function wholeSteps(room: Um, step: Um): Um {
  return step === 0 ? room : Math.floor(room / step) * step;
}

/** How far thing i can go in a direction, at most `most`, before it meets another. */
function roomFor({ tables, shapes, xs, ys }: Lying, i: number, way: Way, most: Um): Um {
  const moving = facesFor(tables, shapes[i]!, way);
  let room = most;
  for (let j = 0; j < shapes.length && room > 0; j++) {
    if (j === i) continue;
    const dx = xs[i]! - xs[j]!;
    const dy = ys[i]! - ys[j]!;
    const turnedX = way === toLeft ? dx : way === toUp ? -dy : dy;
    const turnedY = way === toLeft ? dy : way === toUp ? dx : -dx;
    room = roomToSlide(facesFor(tables, shapes[j]!, way), moving, turnedX, turnedY, room);
  }
  return room;
}
