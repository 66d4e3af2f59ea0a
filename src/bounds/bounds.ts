/**
 * A length that no legal lay of a problem can be shorter than, with its reason: the greatest of the longest piece,
 * the area over the width, the chord bounds and, for a few copies, what trying all arrangements proves (prove.ts). In
 * all but the last, blocked places, lattices and the length at hand are left out, which only makes the bound smaller;
 * but what is pinned counts like any other thing.
 *
 * Chord bound. A line across the cloth at x meets some things of a zone of height H; thing i covers the total length
 * c_i(x) of it, which does not depend on where across it lies. With gap g:
 *   sum of (c_i + g) over the things met <= H + g.
 * Proof: for almost every x each thing met covers at least one stretch of positive length on the line. Walk along it:
 * with n things there are at least n - 1 changes from one thing to another, and two points of different things are g
 * or more apart, so what is uncovered is at least (n - 1) g. An outline met in several stretches only adds changes
 * and uncovered places; its stretches are counted by their total length and one g. Nothing is asked of the edges of
 * the zone, so a thing fixed on the fold with its half outline touching the edge is a thing like any other.
 *
 * So for a dual feasible f (see dual-feasible.ts) the f((c_i + g) / (H + g)) add up to at most 1 on the line. Integrate
 * over the length L used: the integrals of all things of the zone add up to at most L. A thing's integral does not
 * depend on its x. With several zones, each its own H and f, take weights w_z >= 0 that add up to 1: the sum over zones
 * of w_z times that is at most L, and a thing that may lie one way or another adds at least the least of
 * w_z * integral over its choices. f never falls, so chords rounded down keep it true.
 *
 * Rounding: a length is a whole number of micrometres, so a sum that is surely above v - margin gives the next whole
 * number above v - margin. The margin exceeds the rounding of the sums (less than a million terms, none negative, with
 * some 1e-16 each), and sums that are whole in truth keep their value.
 */
import { assert } from '../diagnostics/assert.js';
import { boundsOf, twiceArea } from '../geometry/outline.js';
import { firstEnd, pinnedEnd, pinnedReach } from '../problem/lattice.js';
import type { Choice, Kind, Problem } from '../problem/types.js';
import type { Um } from '../units/types.js';
import { type Profile, profileOf } from './chords.js';
import {
  atMostAcross,
  countedWithWide,
  type DualFeasible,
  integralAlong,
  plainShare,
  smallToNothing,
  valueAt,
} from './dual-feasible.js';
import { exactBound } from './prove.js';
import type { Bound } from './types.js';

/** Steps for trying all arrangements: at most about a third of a second. */
const proofSteps = 4_000_000;
/** u_k is tried for k = 1 to this. */
const acrossMax = 12;
/** At most so many level chords, the longest first, and this many even shares of half the width are tried as e. */
const levelChordsMax = 16;
const evenShares = 10;
/** phi_e has about 1 / (2 e) steps: e below this share of the width is left out. */
const leastShare = 1 / 64;

/** One dual feasible function for each zone. */
interface Rule {
  readonly across: number | null;
  readonly isPlain: boolean;
  readonly byZone: readonly DualFeasible[];
}

/** What the chord bounds need of the problem: kinds that can be placed and the profile of each of their shapes. */
interface Chords {
  readonly problem: Problem;
  readonly kinds: readonly Kind[];
  /** Distinct profiles, and for each shape used the index of its own. */
  readonly profiles: readonly Profile[];
  readonly profileOfShape: ReadonlyMap<number, number>;
}

/**
 * The greatest length in whole micrometres known to be needed by every legal lay, counted from x = 0, and why, in words
 * for her who cuts.
 * Kinds without any choice are left out: there is no legal lay then, and the caller says so.
 */
export function boundOf(problem: Problem): Bound {
  const bound = chordBound(problem);
  return exactBound(problem, bound.um, proofSteps) ?? bound;
}

/**
 * What trying all arrangements of a few copies adds to a bound on the length used; it takes up to a third of a second. With
 * blocked places all is counted from x = 0, and where a lay begins is no part of its length: nothing is added then.
 */
export function sharpenBound(problem: Problem, bound: Bound): Bound {
  return problem.blocked.length > 0 ? bound : (exactBound(problem, bound.um, proofSteps) ?? bound);
}

/** The same by longest piece, area and chords alone; the reasons name pieces. */
export function chordBound(problem: Problem): Bound {
  const chords = gatherChords(problem);
  if (chords.kinds.length === 0 && (problem.pinned ?? []).length === 0) return { um: 0, why: 'nothing to lay' };
  let best = greater(greater(longestPiece(problem, false), pinnedBound(problem)), area(chords));
  const weights = zoneWeights(problem);
  for (const rule of rulesFor(chords)) {
    const integrals = integralsOf(chords, rule);
    for (const weight of weights) {
      const shares = sharesOf(chords, integrals, weight);
      const um = roundedUp(chords.kinds.reduce((sum, kind, k) => sum + kind.count * shares[k]!, 0));
      if (um > best.um) best = { um, why: reasonFor(chords, rule, shares) };
    }
  }
  return best;
}

/** What is pinned alone. */
export function pinnedBound(problem: Problem): Bound {
  return { um: pinnedReach(problem), why: 'what is pinned takes up this length, from its first to its last point' };
}

function greater(first: Bound, second: Bound): Bound {
  return second.um > first.um ? second : first;
}

/** The next whole number above what the true sum surely exceeds. */
function roundedUp(sum: number): Um {
  return Math.max(0, Math.ceil(sum - (0.001 + sum * 1e-9)));
}

function gatherChords(problem: Problem): Chords {
  const kinds = [...problem.kinds, ...pinnedKinds(problem)].filter(
    ({ count, choices }) => count > 0 && choices.length > 0,
  );
  const profiles: Profile[] = [];
  const profileOfShape = new Map<number, number>();
  const known = new Map<string, number>();
  for (const { shape } of kinds.flatMap(({ choices }) => choices)) {
    if (profileOfShape.has(shape)) continue;
    const profile = profileOf(problem.shapes[shape]!.outline);
    const key = profile.spans.map(({ width, low, high }) => `${width},${low},${high}`).join(' ');
    const index = known.get(key) ?? profiles.push(profile) - 1;
    known.set(key, index);
    profileOfShape.set(shape, index);
  }
  return { problem, kinds, profiles, profileOfShape };
}

/** What is pinned within a zone takes up its part of it like anything else. */
function pinnedKinds({ pinned = [] }: Problem): Kind[] {
  return pinned.flatMap(({ name, shape, zone, y }) =>
    zone === null ? [] : [{ name, count: 1, choices: [{ shape, zone, yMin: y, yMax: y, lattice: null }] }],
  );
}

function profileFor({ profiles, profileOfShape }: Chords, { shape }: Choice): Profile {
  return profiles[profileOfShape.get(shape)!]!;
}

/** No lay is shorter: every piece needs a place by some choice, on its lattice, and what is pinned ends where it does. */
export function leastLengthOf(problem: Problem): Um {
  return Math.max(longestPiece(problem, true).um, pinnedEnd(problem));
}

/**
 * @param fromStart counted from x = 0, as a search does that may not go below it: on a repeat a piece cannot begin there
 *   at will. Where a lay begins is no part of its length.
 */
function longestPiece({ kinds, shapes }: Problem, fromStart: boolean): Bound {
  let um = 0;
  let name = '';
  for (const kind of kinds) {
    if (kind.count === 0) continue;
    const least = Math.min(
      ...kind.choices.map((choice) => {
        const shape = shapes[choice.shape]!;
        const { minX, maxX } = boundsOf(shape.outline);
        return fromStart ? firstEnd(choice, shape, minX, maxX) : maxX - minX;
      }),
    );
    // A piece without any place is told elsewhere.
    if (least <= um || !Number.isFinite(least)) continue;
    um = least;
    name = kind.name;
  }
  return { um, why: `the longest piece, ${name}, is as long as this` };
}

/** Exact: twice the area over twice the summed height of the zones, rounded up. */
function area({ problem, kinds }: Chords): Bound {
  let twice = 0n;
  for (const { count, choices } of kinds) {
    const areas = choices.map(({ shape }) => twiceArea(problem.shapes[shape]!.outline));
    areas.sort((a, b) => Number(a - b));
    twice += BigInt(count) * areas[0]!;
  }
  const twiceHeight = 2n * BigInt(problem.zones.reduce((sum, { yFrom, yTo }) => sum + (yTo - yFrom), 0));
  assert(twiceHeight > 0n, 'zones have a height');
  return {
    um: Number((twice + twiceHeight - 1n) / twiceHeight),
    why: "the pieces' area alone fills this length of the usable width",
  };
}

/** Each zone alone; with several also all alike, and by their capacity, which with the plain share is the area. */
function zoneWeights({ zones, gapUm }: Problem): number[][] {
  const alone = zones.map((_, zone) => zones.map((_, other) => (zone === other ? 1 : 0)));
  if (zones.length === 1) return alone;
  const capacities = zones.map(({ yFrom, yTo }) => yTo - yFrom + gapUm);
  const total = capacities.reduce((sum, capacity) => sum + capacity, 0);
  return [...alone, zones.map(() => 1 / zones.length), capacities.map((capacity) => capacity / total)];
}

function rulesFor(chords: Chords): Rule[] {
  const capacities = chords.problem.zones.map(({ yFrom, yTo }) => yTo - yFrom + chords.problem.gapUm);
  const forAll = (make: (capacity: Um) => DualFeasible, across: number | null = null, isPlain = false): Rule => ({
    across,
    isPlain,
    byZone: capacities.map(make),
  });
  const rules = [forAll(plainShare, null, true)];
  for (let k = 1; k <= acrossMax; k++) rules.push(forAll((capacity) => atMostAcross(k, capacity), k));
  const widest = Math.max(...capacities);
  for (const small of smallSizes(chords, capacities)) {
    rules.push(forAll((capacity) => smallToNothing(small, capacity)));
    if (small >= widest * leastShare) rules.push(forAll((capacity) => countedWithWide(small, capacity)));
  }
  return rules;
}

/**
 * Sizes worth trying as e: level chords up to half the width themselves, wider ones by what they leave beside them,
 * and even shares. Counts of pieces play no part, so one more copy meets the same rules and never lowers the bound.
 */
function smallSizes({ problem, profiles }: Chords, capacities: readonly Um[]): number[] {
  const lengthBySize = new Map<Um, Um>();
  for (const { spans } of profiles) {
    for (const { width, low, high } of spans) {
      if (low !== high || low === 0) continue;
      const size = high + problem.gapUm;
      for (const capacity of capacities) {
        if (size > capacity) continue;
        const small = 2 * size <= capacity ? size : capacity - size + 1;
        lengthBySize.set(small, Math.max(width, lengthBySize.get(small) ?? 0));
      }
    }
  }
  const level = [...lengthBySize].sort((a, b) => b[1] - a[1] || a[0] - b[0]).slice(0, levelChordsMax);
  const sizes = new Set(level.map(([size]) => size));
  for (const capacity of capacities) {
    for (let i = 1; i <= evenShares; i++) sizes.add(Math.floor((capacity * i) / (2 * evenShares)));
  }
  return [...sizes].filter((size) => size > 0).sort((a, b) => a - b);
}

/** Integral of the rule's function along each profile, by zone and profile; computed only where a choice asks. */
function integralsOf(chords: Chords, { byZone }: Rule): Float64Array[] {
  const integrals = byZone.map(() => new Float64Array(chords.profiles.length).fill(-1));
  for (const { choices } of chords.kinds) {
    for (const { shape, zone } of choices) {
      const profile = chords.profileOfShape.get(shape)!;
      if (integrals[zone]![profile]! < 0)
        integrals[zone]![profile] = integralAlong(byZone[zone]!, chords.profiles[profile]!.spans, chords.problem.gapUm);
    }
  }
  return integrals;
}

/** What one thing of each kind adds at least. */
function sharesOf(chords: Chords, integrals: readonly Float64Array[], weight: readonly number[]): number[] {
  return chords.kinds.map(({ choices }) => {
    let least = Number.POSITIVE_INFINITY;
    for (const { shape, zone } of choices) {
      least = Math.min(least, weight[zone]! * integrals[zone]![chords.profileOfShape.get(shape)!]!);
    }
    return least;
  });
}

function reasonFor(chords: Chords, rule: Rule, shares: readonly number[]): string {
  const { kinds, problem } = chords;
  if (rule.isPlain && problem.zones.length === 1)
    return "the pieces' area, with the gap beside each, alone fills this length of the usable width";
  const counted = kinds
    .map((kind, k) => ({ kind, k, share: kind.count * shares[k]! }))
    .filter(({ share }) => share > 0);
  const inOrder = counted.map(({ kind }) => kind);
  const isCertain = problem.zones.length === 1 && rule.across !== null;
  if (
    isCertain &&
    inOrder.every((kind) => countsAs(chords, kind, rule, (value, one) => value === 0 || value === one))
  ) {
    const isThroughout = inOrder.every((kind) => countsAs(chords, kind, rule, (value, one) => value === one));
    const names = namesOf(inOrder);
    const where = isThroughout ? '' : ' where they are widest';
    if (rule.across !== 1) return `at most ${rule.across} of ${names} fit side by side${where}`;
    return `no two of ${names} fit side by side${where}`;
  }
  const byShare = [...counted].sort((a, b) => b.share - a.share || a.k - b.k).map(({ kind }) => kind);
  return `counting what fits side by side, the pieces need this length, above all ${namesOf(byShare)}`;
}

/** Whether every value the rule gives along the kind, whichever way it lies, is as wanted (`one`: the least but 0). */
function countsAs(chords: Chords, kind: Kind, rule: Rule, isWanted: (value: number, one: number) => boolean): boolean {
  const f = rule.byZone[0]!;
  const one = 1 / rule.across!;
  return kind.choices.every((choice) =>
    profileFor(chords, choice).spans.every(({ low, high }) => {
      const [from, to] = [low + chords.problem.gapUm, high + chords.problem.gapUm];
      if (from === to) return isWanted(valueAt(f, from), one);
      // Inside a sloping span the ends themselves do not matter: look just inside, nearer than any break that is
      // not the end itself (breaks are whole multiples of 1 / (across + 1)).
      return isWanted(valueAt(f, from + 1 / 64), one) && isWanted(valueAt(f, to - 1 / 64), one);
    }),
  );
}

/** At most three names, each once. */
function namesOf(kinds: readonly Kind[]): string {
  const names = [...new Set(kinds.map(({ name }) => name))];
  const more = names.length - 3;
  if (more > 0) return `${names.slice(0, 3).join(', ')} and ${more} more`;
  return names.length === 1 ? names[0]! : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]!}`;
}
