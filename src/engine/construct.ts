/**
 * Builds a lay by putting things down one after the other, each at the best place the rule finds for it: of the
 * leftmost free places of its choices the one the rule likes best.
 * (Leftmost placing on exact no-fit positions: Gomes and Oliveira, "A 2-exchange heuristic for nesting problems",
 * 2002.)
 *
 * While a lay is built things are only added, so what is not free stays so: each choice remembers its leftmost
 * place and begins there the next time it is asked. The work for a thing so does not grow with the strip.
 */
import type { Choice, Problem } from '../problem/types.js';
import { coordinateMaxUm, type Um } from '../units/types.js';
import { type Ground, putDown } from './ground.js';
import { leftmostPlace, makeSweep, meets, type Sweep } from './sweep.js';

/** Which place is better: the one whose left edge, right edge or new length is least; then lower or higher. */
export const rules = 6;

/** In which order to put things down, by which rule; forced[i] is the only choice of thing i, or -1 for all. */
export interface Order {
  rule: number;
  readonly kinds: Int32Array;
  readonly forced: Int32Array;
}

/** What is known of the leftmost place of a choice: nothing is free left of x; if `isFree`, (x, y) was when so many lay. */
interface Front {
  x: Um;
  y: Um;
  isFree: boolean;
  count: number;
}

/** The best place so far of one search for a place. */
interface Best {
  choice: number;
  x: Um;
  y: Um;
  first: number;
  second: number;
  third: number;
}

/**
 * Puts down the things of the order from place `from` on; those before lie already. False when the length passes
 * `lengthMostUm`, or what coordinates can hold: then the rest is not put down.
 */
export function build(ground: Ground, order: Order, from: number, lengthMostUm: Um): boolean {
  const { problem, leastX } = ground.tables;
  ground.count = ground.blocked + from;
  const sweep = makeSweep(ground.shapeOf.length);
  const fronts = problem.kinds.map(({ choices }) =>
    choices.map(({ shape }): Front => ({ x: leastX[shape]!, y: 0, isFree: false, count: 0 })),
  );
  for (let i = from; i < order.kinds.length; i++) {
    const kind = problem.kinds[order.kinds[i]!]!;
    const best: Best = { choice: -1, x: 0, y: 0, first: Number.POSITIVE_INFINITY, second: 0, third: 0 };
    const forced = order.forced[i]!;
    for (let c = 0; c < kind.choices.length; c++) {
      if (forced >= 0 && forced !== c) continue;
      const { shape } = kind.choices[c]!;
      const front = fronts[order.kinds[i]!]![c]!;
      bringUpToDate(sweep, ground, kind.choices[c]!, front, mostX(ground, shape, order.rule, best), order.rule);
      if (front.isFree) consider(ground, shape, c, order.rule, front.x, front.y, best);
    }
    if (best.choice < 0) return false;
    const { shape: chosen } = kind.choices[best.choice]!;
    if (best.x + ground.tables.trueBox[chosen]!.maxX > coordinateMaxUm) return false;
    putDown(ground, chosen, best.choice, best.x, best.y);
    if (ground.lengthAfter[ground.count]! > lengthMostUm) return false;
  }
  return true;
}

/** Things of all kinds, blocked ones not counted. */
export function countThings(problem: Problem): number {
  return problem.kinds.reduce((sum, kind) => sum + kind.count, 0);
}

/** Finds the leftmost place of the choice among what lies now, as far as it is of use. */
function bringUpToDate(sweep: Sweep, ground: Ground, choice: Choice, front: Front, xMost: Um, rule: number): void {
  if (front.x > xMost) return;
  if (front.isFree) {
    let i = front.count;
    while (i < ground.count && !meets(ground, i, choice.shape, front.x, front.y)) i++;
    front.count = i;
    if (i === ground.count) return;
  }
  front.isFree = leftmostPlace(sweep, ground, choice, front.x, xMost, rule % 2 === 1);
  front.x = sweep.x;
  front.y = sweep.y;
  front.count = ground.count;
}

/** Largest x of the shape that could still be better than (or equal to) the best place. */
function mostX(ground: Ground, shape: number, rule: number, best: Best): Um {
  if (best.choice < 0) return coordinateMaxUm;
  const box = ground.tables.trueBox[shape]!;
  return best.first - (rule < 2 ? box.minX : box.maxX);
}

function consider(ground: Ground, shape: number, index: number, rule: number, x: Um, y: Um, best: Best): void {
  const box = ground.tables.trueBox[shape]!;
  const left = x + box.minX;
  const right = x + box.maxX;
  const first = rule < 2 ? left : rule < 4 ? right : Math.max(right, ground.lengthAfter[ground.count]!);
  const second = rule < 2 ? right : left;
  const third = rule % 2 === 0 ? y + box.minY : -(y + box.maxY);
  if (first > best.first) return;
  if (first === best.first) {
    if (second > best.second) return;
    if (second === best.second && third >= best.third) return;
  }
  best.choice = index;
  best.x = x;
  best.y = y;
  best.first = first;
  best.second = second;
  best.third = third;
}
