/**
 * What one cloth can take from another of the same run. A lay for 140 cm is a lay for 150 cm, and a lay for cloth with a
 * nap is one for cloth without: where a cloth asks for nothing that the other did not, its lay is taken over as it
 * stands, so that a wider or freer cloth is never reported to need more. While the search runs, lays are offered likewise.
 */
import type { Bound } from '../bounds/types.js';
import type { Cloth, Nap } from '../cloth/types.js';
import { sealLay } from '../lay/build.js';
import { computeTotals, reachOf } from '../lay/totals.js';
import type { Lay } from '../lay/types.js';
import type { Problem, Solution, Spot } from '../problem/types.js';
import type { Outline, Point, Um } from '../units/types.js';

/** Strictest first. */
const naps: readonly Nap[] = ['one-way', 'each-garment', 'none'];

/**
 * Whether every lay of the first cloth that lies open, or folded lengthwise, is legal on the second as it stands, but for
 * its length. A repeat or a flaw of the second is a thing of its own.
 */
export function isNoStricter(from: Cloth, to: Cloth): boolean {
  return (
    to.repeat === null &&
    from.repeat === null &&
    to.flaws.length === 0 &&
    usableOf(to) >= usableOf(from) &&
    to.gap <= from.gap &&
    to.ends[0] === from.ends[0] &&
    naps.indexOf(to.nap) >= naps.indexOf(from.nap) &&
    (to.faces === from.faces || to.faces === 'both') &&
    (to.grain === from.grain || to.grain === 'free') &&
    to.fusible === from.fusible &&
    loss(to) === loss(from)
  );
}

function usableOf({ usable }: Cloth): Um {
  return usable[1] - usable[0];
}

function loss({ shrinkagePpm }: Cloth): string {
  return `${shrinkagePpm?.along ?? 0} ${shrinkagePpm?.across ?? 0}`;
}

/**
 * A lay as it stands on another cloth.
 * @param bound of the other cloth
 * @returns null when the other cloth has no room for it, across or along
 */
export function layOn(lay: Lay, to: Cloth, bound: Bound): Lay | null {
  const from = lay.cloth;
  const [stretch, ...more] = lay.stretches;
  if (stretch === undefined || more.length > 0) return null;
  const isFolded = stretch.method === 'lengthwise fold';
  if (!isFolded && stretch.method !== 'open') return null;
  const by = isFolded ? (to.width - from.width) / 2 : to.usable[0] - from.usable[0];
  const fits = from.usable[0] + by >= to.usable[0] && from.usable[1] + by <= to.usable[1];
  if (!fits || !Number.isInteger(by)) return null;
  const copies = lay.copies.map((copy) => ({
    ...copy,
    at: moved(copy.at, by),
    outline: copy.outline.map((point) => moved(point, by)),
  }));
  const outlines: Outline[] = copies.map(({ outline }) => outline);
  const reach = reachOf(outlines);
  if (to.length !== null && reach.to + to.ends[1] > to.length) return null;
  const folds: readonly [Um, Um] = isFolded ? [to.width / 2, 0] : [0, 0];
  const totals = computeTotals(to, lay.pieces, outlines, bound);
  const { selfHash, ...rest } = lay;
  const isShortest = totals.lengthUsed === bound.um;
  return sealLay({
    ...rest,
    cloth: to,
    status: isShortest ? 'proven shortest' : lay.status === 'interrupted' ? 'interrupted' : 'shortest found',
    stretches: [{ ...stretch, folds }],
    copies,
    totals,
  });
}

function moved([x, y]: Point, by: Um): Point {
  return [x, y + by];
}

/** What has been searched: the problem and the shortest lay of it. */
export interface Searched {
  readonly problem: Problem;
  readonly best: Solution | null;
}

/**
 * A lay of one problem as a lay of another, as on the next width; null when the other one does not allow it, or its lay
 * is as short already.
 * @param isFolded their common edge is the fold, the far one; otherwise the near one
 */
export function solutionOn(from: Searched, to: Searched, isFolded: boolean): Solution | null {
  if (from.best === null || (to.best !== null && to.best.lengthUm <= from.best.lengthUm)) return null;
  if (to.problem.blocked.length > 0 || to.problem.gapUm > from.problem.gapUm) return null;
  const [fromZone, toZone] = [from.problem.zones, to.problem.zones].map(([zone]) => zone!);
  const by = isFolded ? toZone!.yTo - fromZone!.yTo : toZone!.yFrom - fromZone!.yFrom;
  if (!hasSameThings(from.problem, to.problem)) return null;
  const spots: Spot[] = [];
  for (const { kind, choice, x, y } of from.best.spots) {
    const own = sameChoice(from.problem, to.problem, kind, choice);
    const { yMin, yMax, lattice } = to.problem.kinds[kind]!.choices[own] ?? { yMin: 1, yMax: 0, lattice: null };
    if (lattice !== null || y + by < yMin || y + by > yMax) return null;
    spots.push({ kind, choice: own, x, y: y + by });
  }
  return { spots, lengthUm: from.best.lengthUm };
}

function hasSameThings(a: Problem, b: Problem): boolean {
  if (a.kinds.length !== b.kinds.length || a.zones.length !== 1 || b.zones.length !== 1) return false;
  return a.kinds.every(({ name, count }, k) => name === b.kinds[k]!.name && count === b.kinds[k]!.count);
}

/** The choice of a kind in another problem that lays the same outline; -1 = there is none. */
function sameChoice(from: Problem, to: Problem, kind: number, choice: number): number {
  const shape = from.shapes[from.kinds[kind]!.choices[choice]!.shape]!;
  return to.kinds[kind]!.choices.findIndex((other) => {
    const { outline, keepUm } = to.shapes[other.shape]!;
    return keepUm === shape.keepUm && isSameOutline(outline, shape.outline);
  });
}

function isSameOutline(a: Outline, b: Outline): boolean {
  return a.length === b.length && a.every(([x, y], i) => x === b[i]![0] && y === b[i]![1]);
}
