/**
 * The row bound: what things need that lie one behind another, taken over every order of them.
 *
 * Give each form a mark along its length, anywhere. For forms a and b let advance(a, b) be the least d >= 0 such that b
 * may lie, somewhere across, with its mark d behind that of a. In a legal lay sort any of the things by their marks: each
 * mark is then at least the advance behind the one before, for ties too (their distance, 0, is allowed, so the advance
 * is 0). The first mark is at least its own distance from the front of its thing behind the start, and the lay reaches
 * what lies behind the last mark. So the shortest path over all orders and forms (dynamic programming over subsets: Held
 * and Karp, "A dynamic programming approach to sequencing problems", 1962) is a bound, for every subset of the things:
 * the longest of them is taken. It is exact for a row of things that only touch their neighbours; for things that find
 * room beside each other it says little, but never too much.
 *
 * Marks tried: the middle of the box and the centre of area (half-turned right triangles share the middles of their
 * boxes, which would hide how long a row of them is).
 */
import { twiceArea } from '../geometry/outline.js';
import type { Um } from '../units/types.js';
import { firstAllowed, forbiddenPlaces } from './forbidden.js';
import type { Form, Group } from './forms.js';

/** Strips looked at for one advance. */
const stripsMost = 400;

export interface RowBound {
  readonly um: Um;
  /** Groups of the things that make the row. */
  readonly groups: readonly Group[];
  readonly steps: number;
}

interface Stop {
  readonly form: Form;
  readonly group: number;
  readonly thing: number;
}

/** The longest row bound of any of the things, for at most about 10 of them; null when it takes too many steps. */
export function rowBound(groups: readonly Group[], gapUm: Um, stepsMost: number): RowBound | null {
  const stops: Stop[] = [];
  /** For each thing, the copy of the same group that goes before it, or -1: copies are taken in order. */
  const before: number[] = [];
  groups.forEach(({ count, forms }, group) => {
    for (let copy = 0; copy < count; copy++) {
      before.push(copy === 0 ? -1 : before.length - 1);
      for (const form of forms) stops.push({ form, group, thing: before.length - 1 });
    }
  });
  const work = 2 * 2 ** before.length * stops.length * stops.length;
  if (work > stepsMost) return null;
  const steps = { left: stepsMost - work };
  let best: { um: Um; things: number } = { um: 0, things: 0 };
  for (const markOf of [middleOf, centreOf]) {
    const marks = stops.map(({ form }) => markOf(form));
    const advances = advancesOf(stops, marks, gapUm, steps);
    if (advances === null) return null;
    const found = longestOfShortest(stops, before, marks, advances);
    if (found.um > best.um) best = found;
  }
  const taken = new Set(stops.filter(({ thing }) => (best.things >> thing) & 1).map(({ group }) => group));
  return { um: best.um, groups: groups.filter((_, group) => taken.has(group)), steps: stepsMost - steps.left };
}

function middleOf({ length }: Form): Um {
  return Math.floor(length / 2);
}

/** The centre of area, to the micrometre or so: any whole number will do. */
function centreOf({ outline, length }: Form): Um {
  let moment = 0;
  outline.forEach(([x, y], i) => {
    const [nextX, nextY] = outline[(i + 1) % outline.length]!;
    moment += (x + nextX) * (x * nextY - nextX * y);
  });
  return Math.min(length, Math.max(0, Math.round(moment / (3 * Number(twiceArea(outline))))));
}

/** By stop and stop after it, or null when the steps are used up. */
function advancesOf(
  stops: readonly Stop[],
  marks: readonly Um[],
  gapUm: Um,
  steps: { left: number },
): readonly Float64Array[] | null {
  const known = new Map<string, Um>();
  const advances: Float64Array[] = [];
  for (const [i, { form: a }] of stops.entries()) {
    const row = new Float64Array(stops.length);
    for (const [j, { form: b }] of stops.entries()) {
      const key = `${a.key}|${b.key}`;
      const advance = known.get(key) ?? advanceOf(a, b, marks[i]!, marks[j]!, gapUm, steps);
      if (steps.left < 0) return null;
      known.set(key, advance);
      row[j] = advance;
    }
    advances.push(row);
  }
  return advances;
}

/**
 * Best first over strips of the range across, halved until one height is left; whatever is left of it when the strips
 * run out, the least first place of all strips holds.
 */
function advanceOf(a: Form, b: Form, markA: Um, markB: Um, gapUm: Um, steps: { left: number }): Um {
  const from = markA - markB;
  const dyLow = b.lowMin - a.lowMax;
  const dyHigh = b.lowMax - a.lowMin;
  if (dyLow >= a.height + gapUm || dyHigh <= -b.height - gapUm) return 0;
  const { right, steps: each, polygons } = forbiddenPlaces(a.parts, b.parts, gapUm);
  steps.left -= 40 * each;
  const firstIn = (low: Um, high: Um, least: Um): Um => {
    steps.left -= 2 * (each + polygons);
    return firstAllowed(right, low, high, least, Number.POSITIVE_INFINITY);
  };
  const strips = [{ low: dyLow, high: dyHigh, x: firstIn(dyLow, dyHigh, from) }];
  for (let looked = 0; looked < stripsMost && steps.left >= 0; looked++) {
    let next = 0;
    for (let i = 1; i < strips.length; i++) if (strips[i]!.x < strips[next]!.x) next = i;
    const { low, high, x } = strips[next]!;
    if (low === high || x === from) return x - from;
    const middle = Math.floor((low + high) / 2);
    const lower = { low, high: middle, x: firstIn(low, middle, x) };
    const upper = { low: middle + 1, high, x: firstIn(middle + 1, high, x) };
    strips[next] = lower;
    strips.push(upper);
  }
  return Math.min(...strips.map(({ x }) => x)) - from;
}

/** Shortest way to each set of things and last stop; the set whose shortest lay is longest. */
function longestOfShortest(
  stops: readonly Stop[],
  before: readonly number[],
  marks: readonly Um[],
  advances: readonly Float64Array[],
): { um: Um; things: number } {
  const n = stops.length;
  const sets = 2 ** before.length;
  const reach = new Float64Array(sets * n).fill(Number.POSITIVE_INFINITY);
  const isNext = (things: number, { thing }: Stop): boolean =>
    ((things >> thing) & 1) === 0 && (before[thing]! < 0 || ((things >> before[thing]!) & 1) === 1);
  stops.forEach((stop, i) => {
    if (isNext(0, stop)) reach[(1 << stop.thing) * n + i] = marks[i]!;
  });
  let best = { um: 0, things: 0 };
  for (let things = 1; things < sets; things++) {
    let shortest = Number.POSITIVE_INFINITY;
    for (let last = 0; last < n; last++) {
      const at = reach[things * n + last]!;
      if (at === Number.POSITIVE_INFINITY) continue;
      shortest = Math.min(shortest, at + stops[last]!.form.length - marks[last]!);
      for (let next = 0; next < n; next++) {
        const stop = stops[next]!;
        if (!isNext(things, stop)) continue;
        const to = (things | (1 << stop.thing)) * n + next;
        reach[to] = Math.min(reach[to]!, Math.max(at + advances[last]![next]!, marks[next]!));
      }
    }
    if (shortest !== Number.POSITIVE_INFINITY && shortest > best.um) best = { um: shortest, things };
  }
  return best;
}
