/**
 * Builds a lay by putting things down one after the other, each at the best place the rule finds for it.
 *
 * Places looked at for each allowed choice: horizontal lines at the borders of its y range and where it would
 * stand on or hang under a thing that lies; vertical lines at the start of the cloth, just behind things that lie, and
 * where it would end at the present length. (More lines, flush with things that lie, cost more builds than they
 * gain.) The best place is then slid: along the vertical line through it to both ends of its free interval and from
 * there to the left, as long as that helps.
 * (Leftmost placing on exact no-fit positions: Gomes and Oliveira, "A 2-exchange heuristic for nesting problems",
 * 2002; the lines are of our own making.)
 */
import { assert } from '../diagnostics/assert.js';
import type { Choice, Problem } from '../problem/types.js';
import { coordinateMaxUm, type Um } from '../units/types.js';
import { type Ground, latticeDown, latticeUp, leastFreeX, leastFreeY, mostFreeY, putDown } from './ground.js';

/** Which place is better: the one whose left edge, right edge or new length is least; then lower or higher. */
export const rules = 6;

/** In which order to put things down, by which rule; forced[i] is the only choice of thing i, or -1 for all. */
export interface Order {
  rule: number;
  readonly kinds: Int32Array;
  readonly forced: Int32Array;
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
 * `lengthMostUm`: then the rest is not put down.
 */
export function build(ground: Ground, order: Order, from: number, lengthMostUm: Um): boolean {
  const { problem } = ground.tables;
  ground.count = ground.blocked + from;
  for (let i = from; i < order.kinds.length; i++) {
    const kind = problem.kinds[order.kinds[i]!]!;
    const best: Best = { choice: -1, x: 0, y: 0, first: Number.POSITIVE_INFINITY, second: 0, third: 0 };
    const forced = order.forced[i]!;
    for (let c = 0; c < kind.choices.length; c++) {
      if (forced < 0 || forced === c) lookForPlace(ground, kind.choices[c]!, c, order.rule, best);
    }
    assert(best.choice >= 0 && best.x < coordinateMaxUm, 'every thing finds a place on the strip');
    putDown(ground, kind.choices[best.choice]!.shape, best.choice, best.x, best.y);
    if (ground.lengthAfter[ground.count]! > lengthMostUm) return false;
  }
  return true;
}

/** Things of all kinds, blocked ones not counted. */
export function countThings(problem: Problem): number {
  return problem.kinds.reduce((sum, kind) => sum + kind.count, 0);
}

function lookForPlace(ground: Ground, choice: Choice, index: number, rule: number, best: Best): void {
  const { shape, lattice } = choice;
  const yMin = lattice === null ? choice.yMin : latticeUp(choice.yMin, lattice.yStep, lattice.yOffset);
  const yMax = lattice === null ? choice.yMax : latticeDown(choice.yMax, lattice.yStep, lattice.yOffset);
  if (yMin > yMax) return;
  const xMin = -ground.tables.trueBox[shape]!.minX;
  for (const y of linesAcross(ground, choice, yMin, yMax)) {
    const xMost = mostX(ground, shape, rule, best);
    const x = leastFreeX(ground, shape, y, xMin, xMost, lattice);
    if (x <= xMost) consider(ground, shape, index, rule, x, y, best);
  }
  if (yMin < yMax) {
    for (const x of linesAlong(ground, choice, xMin, mostX(ground, shape, rule, best))) {
      const y =
        rule % 2 === 0
          ? leastFreeY(ground, shape, x, yMin, yMax, lattice)
          : mostFreeY(ground, shape, x, yMin, yMax, lattice);
      if (!Number.isFinite(y)) continue;
      consider(ground, shape, index, rule, x, y, best);
      break;
    }
    if (best.choice === index) slide(ground, choice, index, rule, xMin, yMin, yMax, best);
  }
}

/** Candidate y, rising, no two alike. */
function linesAcross(ground: Ground, choice: Choice, yMin: Um, yMax: Um): readonly Um[] {
  if (yMin === yMax) return [yMin];
  const { tables } = ground;
  const box = tables.searchedBox[choice.shape]!;
  const lines = [yMin, yMax];
  for (let i = 0; i < ground.count; i++) {
    const other = tables.searchedBox[ground.shapeOf[i]!]!;
    const low = ground.ys[i]! + other.minY;
    const high = ground.ys[i]! + other.maxY;
    addLine(lines, high - box.minY, yMin, yMax, choice, true);
    addLine(lines, low - box.maxY, yMin, yMax, choice, true);
  }
  return rising(lines);
}

/** Candidate x up to xMost, rising, no two alike. */
function linesAlong(ground: Ground, choice: Choice, xMin: Um, xMost: Um): readonly Um[] {
  const { tables } = ground;
  const box = tables.searchedBox[choice.shape]!;
  const lines: Um[] = [];
  addLine(lines, xMin, xMin, xMost, choice, false);
  addLine(lines, ground.lengthAfter[ground.count]! - tables.trueBox[choice.shape]!.maxX, xMin, xMost, choice, false);
  for (let i = 0; i < ground.count; i++) {
    const other = tables.searchedBox[ground.shapeOf[i]!]!;
    const right = ground.xs[i]! + other.maxX;
    addLine(lines, right - box.minX, xMin, xMost, choice, false);
  }
  return rising(lines);
}

/** The lattice lines next to `value` (or itself), as far as they lie within the range. */
function addLine(lines: Um[], value: Um, least: Um, most: Um, { lattice }: Choice, isAcross: boolean): void {
  const step = lattice === null ? 0 : isAcross ? lattice.yStep : lattice.xStep;
  if (step === 0) {
    if (value >= least && value <= most) lines.push(value);
    return;
  }
  const offset = isAcross ? lattice!.yOffset : lattice!.xOffset;
  const down = latticeDown(value, step, offset);
  const up = latticeUp(value, step, offset);
  if (down >= least && down <= most) lines.push(down);
  if (up !== down && up >= least && up <= most) lines.push(up);
}

function rising(lines: Um[]): Um[] {
  const sorted = Float64Array.from(lines).sort();
  const kept: Um[] = [];
  for (const line of sorted) if (kept.length === 0 || kept[kept.length - 1] !== line) kept.push(line);
  return kept;
}

/** Up and down the vertical line through the best place, and from both ends to the left, while that helps. */
function slide(
  ground: Ground,
  choice: Choice,
  index: number,
  rule: number,
  xMin: Um,
  yMin: Um,
  yMax: Um,
  best: Best,
): void {
  const { shape, lattice } = choice;
  for (let round = 0; round < 4; round++) {
    const { x, y } = best;
    const low = lowEnd(ground, choice, x, y, yMin);
    const high = highEnd(ground, choice, x, y, yMax);
    for (const line of [low, high]) {
      const xMost = mostX(ground, shape, rule, best);
      const found = leastFreeX(ground, shape, line, xMin, xMost, lattice);
      if (found <= xMost) consider(ground, shape, index, rule, found, line, best);
    }
    if (best.x === x && best.y === y) return;
  }
}

/** Lower end of the free interval of the line x that holds y. */
function lowEnd(ground: Ground, choice: Choice, x: Um, y: Um, yMin: Um): Um {
  mostFreeY(ground, choice.shape, x, yMin, y, null);
  let end = yMin;
  for (let i = 0; i < ground.spanEnd; i += 2) {
    const high = ground.spans[i + 1]!;
    if (high <= y && high > end) end = high;
  }
  return choice.lattice === null ? end : latticeUp(end, choice.lattice.yStep, choice.lattice.yOffset);
}

/** Upper end of the free interval of the line x that holds y. */
function highEnd(ground: Ground, choice: Choice, x: Um, y: Um, yMax: Um): Um {
  leastFreeY(ground, choice.shape, x, y, yMax, null);
  let end = yMax;
  for (let i = 0; i < ground.spanEnd; i += 2) {
    const low = ground.spans[i]!;
    if (low >= y && low < end) end = low;
  }
  return choice.lattice === null ? end : latticeDown(end, choice.lattice.yStep, choice.lattice.yOffset);
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
