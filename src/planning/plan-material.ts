/**
 * What to search for one material: every cloth it can be cut from, every lay method that is legal there. The effort
 * is shared: each batch goes to the search that has spent least so far, so what step k does never depends on how much
 * effort there is in all, and a run repeated with the effort it reached gives the same lays.
 */

import { chordBound, pinnedBound } from '../bounds/bounds.js';
import type { Bound } from '../bounds/types.js';
import { isCrosswise } from '../cloth/folding.js';
import { type Cloth, type DeclaredCloth, type LayName, layNames } from '../cloth/types.js';
import { compareText } from '../diagnostics/faults.js';
import type { Place } from '../diagnostics/types.js';
import { countThings } from '../engine/construct.js';
import { type Search, startSearch } from '../engine/search.js';
import type { Executor, Progress } from '../engine/types.js';
import { boundsOf } from '../geometry/outline.js';
import { sealLay } from '../lay/build.js';
import { layLengthMax, layLimits } from '../lay/limits.js';
import { computeTotals, reachOf, roomOf } from '../lay/totals.js';
import type { Copy, Lay, LayStatus } from '../lay/types.js';
import { areSeveralGarments, type CutListHash } from '../pieces/garments.js';
import type { CutPiece } from '../pieces/types.js';
import { flatLengthOf, layersOf, poseProblem } from '../problem/build.js';
import { placeSolution, type Solved } from '../problem/place.js';
import { formatLength } from '../units/length.js';
import { coordinateMaxUm, type LengthUnit, type Um } from '../units/types.js';
import type { KeptLay } from './keep.js';
import { isNoStricter, layOn, solutionOn } from './neighbours.js';
import { tellTooWide } from './too-wide.js';
import type { Candidate, MaterialPlan } from './types.js';
import { methodsOf, sumOf, type Way, waysOf } from './ways.js';

/** One material to plan: its cut pieces and the cloths offered for it. */
export interface MaterialOrder {
  readonly material: string;
  readonly pieces: readonly CutPiece[];
  /** So many times everything that the cut list asks for; pieces of several cut lists say for which of them they are. */
  readonly garments: number;
  /** Where each piece's name stands, for faults. */
  readonly places: ReadonlyMap<string, Place>;
  readonly cloths: readonly DeclaredCloth[];
  /** The lay methods to try; null = those that each cloth may be laid by. */
  readonly methods: readonly LayName[] | null;
  readonly title: string;
  readonly cutListSha256: CutListHash;
  readonly units: LengthUnit;
  /** What is pinned stays where it lies in this lay; left out = nothing is kept. */
  readonly kept?: KeptLay;
}

export interface PlanningSettings {
  readonly effort: number;
  readonly seconds: number | null;
  readonly seed: number;
}

export interface PlanningTools {
  readonly executor: Executor;
  readonly clock: () => number;
  readonly interrupted: () => boolean;
  readonly onProgress: (progress: Progress & { material: string; cloth: string; method: LayName }) => void;
}

/** What advice changes may make more placements of as many copies. */
const thingsMost = layLimits.placements;
/**
 * A way whose lay is longer than the shortest by this share gets half the effort of one that is not, at twice the share
 * a third, and so on.
 */
const halvingShare = 0.02;

/** One way to lay everything, each of its stretches searched for itself. */
interface Attempt {
  readonly cloth: DeclaredCloth;
  readonly way: Way;
  readonly searches: readonly Search[];
}

/** Why a method cannot serve. */
interface Refused {
  readonly method: LayName;
  readonly why: string;
}

/**
 * Plans one material on each of its cloths.
 * @param deadline on the tools' clock, or null; looked at between batches, after each search had its first one
 * @returns one plan for each cloth, in the order of the cut list
 */
export async function planMaterial(
  order: MaterialOrder,
  settings: PlanningSettings,
  tools: PlanningTools,
  deadline: number | null,
): Promise<MaterialPlan[]> {
  const refused = new Map<DeclaredCloth, Refused[]>(order.cloths.map((cloth) => [cloth, []]));
  const inSearchOrder = [...order.cloths].sort(compareCloths);
  const attempts = inSearchOrder.flatMap((cloth) =>
    (order.kept === undefined ? (order.methods ?? methodsOf(cloth)) : [order.kept.method]).flatMap((method) =>
      attemptsOf(method, order, cloth, settings.seed, tools, refused.get(cloth)!),
    ),
  );
  const ended = await shareEffort(order, attempts, settings.effort, tools, deadline);
  const spent = sumEffort(attempts);
  const found = new Map<DeclaredCloth, Candidate[]>();
  for (const cloth of inSearchOrder) {
    const own = attempts.filter((attempt) => attempt.cloth === cloth);
    found.set(cloth, bestOfEach(own, order, settings, ended, spent));
  }
  return order.cloths.map((cloth) => {
    const own = attempts.filter((attempt) => attempt.cloth === cloth);
    const others = [...found].filter(([other]) => other !== cloth && isNoStricter(other.cloth, cloth.cloth));
    const each = found.get(cloth)!;
    const room = roomOf(cloth.cloth, order.pieces);
    // What is pinned stays a placement of its own kind.
    const candidates =
      order.kept === undefined
        ? boundedByOpen(
            takeFrom(
              others.flatMap(([, all]) => all),
              takeOver(each),
              cloth.cloth,
            ),
            room,
          )
        : each;
    for (const { method, lay, lengthFoundUm, fitProven, status, effort } of candidates) {
      if (lay !== null || lengthFoundUm !== null || fitProven || status === 'interrupted' || effort === 0) continue;
      const most = formatLength(coordinateMaxUm, order.units);
      const why =
        method === 'crosswise fold'
          ? 'no lay was found in which all that is cut on the fold has room along it, so lay it another way, take wider cloth, or cut fewer copies at a time'
          : `no lay shorter than ${most} was found, and longer ones are not planned, so lay fewer copies at a time`;
      refused.get(cloth)!.push({ method, why });
    }
    const chosen = chooseByBuyLength(candidates);
    const tooWide = own.flatMap(({ way }) =>
      tellTooWide(way.method, cloth, way.tooWide, order, chosen === null ? 'warning' : 'notice'),
    );
    return {
      material: order.material,
      cloth,
      chosen,
      candidates,
      refused: refused.get(cloth)!,
      roomUm: room,
      notices: [...cloth.notices, ...tooWide],
      wouldHelp: null,
      seed: settings.seed,
      effort: spent,
    };
  });
}

/** By name, then by width: the order of cloths in the file, which no hash holds, decides nothing. */
function compareCloths({ cloth: a }: DeclaredCloth, { cloth: b }: DeclaredCloth): number {
  return compareText(a.name, b.name) || a.width - b.width;
}

/** The ways of one method, each with its searches; or why there are none. */
function attemptsOf(
  method: LayName,
  order: MaterialOrder,
  cloth: DeclaredCloth,
  seed: number,
  tools: PlanningTools,
  refused: Refused[],
): Attempt[] {
  const { pieces, garments, kept } = order;
  const answer = waysOf(method, cloth, { pieces, garments, pins: kept?.pins ?? [] }, kept ?? null);
  if (!answer.legal) {
    refused.push({ method, why: answer.why });
    return [];
  }
  const attempts: Attempt[] = [];
  for (const way of answer.ways) {
    const things = sumOf(way.stretches.map(({ problem }) => countThings(problem)));
    const searches =
      things > thingsMost
        ? []
        : way.stretches.map(({ problem }) =>
            startSearch(problem, { seed, executor: tools.executor, provesFit: answer.ways.length === 1 }),
          );
    const attempt = { cloth, way, searches };
    const isTooLong = things <= thingsMost && boundOfAttempt(attempt).um > layLengthMax;
    if (things <= thingsMost && !isTooLong) attempts.push(attempt);
    else if (attempts.length === 0 && way === answer.ways.at(-1)) {
      refused.push({ method, why: isTooLong ? tooLong(boundOfAttempt(attempt).um, order) : tooMany(things) });
    }
  }
  return attempts;
}

function tooMany(things: number): string {
  return `it has ${things} placements; at most ${thingsMost} are planned on one lay, so lay fewer copies at a time`;
}

function tooLong(boundUm: Um, { units }: MaterialOrder): string {
  const [bound, most] = [boundUm, layLengthMax].map((um) => formatLength(um, units));
  return `it needs at least ${bound}; lays that need more than ${most} are not planned, so lay fewer copies at a time`;
}

/**
 * One batch at a time, until all effort is spent or the deadline has passed. The first batch goes to the first way of
 * each method, then to the others unless their bound is no shorter than what was found already. After that each batch
 * goes to the search that has spent least, where a way that has come out longer counts as having spent more: so what
 * step k does depends on the steps before it alone.
 * @returns true when somebody interrupted it before that
 */
async function shareEffort(
  order: MaterialOrder,
  attempts: readonly Attempt[],
  effort: number,
  tools: PlanningTools,
  deadline: number | null,
): Promise<boolean> {
  for (;;) {
    const next = nextAttempt(attempts);
    if (next === null) return false;
    const spent = sumEffort(attempts);
    const late = deadline !== null && tools.clock() >= deadline;
    const isNeeded =
      lengthOf(next) === null &&
      next.searches.some(({ effort: own }) => own === 0) &&
      isFirstOfItsMethod(next, attempts);
    if (!isNeeded && (spent >= effort || late)) return false;
    if (tools.interrupted()) return true;
    takeOffers(next, attempts);
    const search = leastSpent(next.searches);
    // What was offered may have ended it.
    if (search === null) continue;
    const progress = await search.step();
    const [lengthUm, boundUm] = [lengthOf(next), boundOfAttempt(next).um];
    tools.onProgress({
      ...progress,
      lengthUm,
      boundUm,
      gapPercent: lengthUm === null ? null : (100 * (lengthUm - boundUm)) / lengthUm,
      effort: sumEffort(attempts),
      material: order.material,
      cloth: next.cloth.cloth.name,
      method: next.way.method,
    });
  }
}

/** What was found for another cloth and lies as well on this one is where its search goes on. */
function takeOffers(next: Attempt, attempts: readonly Attempt[]): void {
  const { way, searches } = next;
  if (searches.length > 1 || (way.method !== 'open' && way.method !== 'lengthwise fold')) return;
  for (const other of attempts) {
    if (other === next || other.way.method !== way.method) continue;
    const [from, to] = [other, next].map((each) => ({
      problem: each.way.stretches[0]!.problem,
      best: each.searches[0]!.best,
    }));
    const solution = solutionOn(from!, to!, way.method === 'lengthwise fold');
    if (solution !== null) searches[0]!.offer(solution);
  }
}

/** Who gets the next batch; null when none is worth one. */
function nextAttempt(attempts: readonly Attempt[]): Attempt | null {
  const shortest = new Map<DeclaredCloth, number>();
  for (const attempt of attempts) {
    const known = shortest.get(attempt.cloth) ?? Number.POSITIVE_INFINITY;
    shortest.set(attempt.cloth, Math.min(known, lengthOf(attempt) ?? Number.POSITIVE_INFINITY));
  }
  let next: Attempt | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const attempt of attempts) {
    if (leastSpent(attempt.searches) === null || isHopeless(attempt)) continue;
    const length = lengthOf(attempt);
    const best = shortest.get(attempt.cloth)!;
    const isFirst = isFirstOfItsMethod(attempt, attempts);
    if (boundOfAttempt(attempt).um >= best && !(isFirst && length === null)) continue;
    const spent = sumOf(attempt.searches.map((search) => search.effort));
    const over = length === null || best === 0 ? 0 : (length - best) / best;
    const counted = length === null && isFirst ? -1 : spent * (1 + over / halvingShare);
    if (counted >= least) continue;
    next = attempt;
    least = counted;
  }
  return next;
}

/** A stretch that has no lay and will get none. */
function isHopeless({ searches }: Attempt): boolean {
  return searches.some((search) => search.finished && search.lengthUm === null);
}

function isFirstOfItsMethod(attempt: Attempt, attempts: readonly Attempt[]): boolean {
  return attempts.find(({ cloth, way }) => cloth === attempt.cloth && way.method === attempt.way.method) === attempt;
}

function leastSpent(searches: readonly Search[]): Search | null {
  return searches.reduce<Search | null>((least, search) => {
    if (search.finished) return least;
    return least === null || search.effort < least.effort ? search : least;
  }, null);
}

/** Flat length of all stretches, the gap between them; null as long as one of them has no lay. */
function lengthOf({ way, searches, cloth: { cloth } }: Attempt): Um | null {
  let sum = 0;
  for (const [i, search] of searches.entries()) {
    if (search.lengthUm === null) return null;
    sum += flatLengthOf(way.stretches[i]!.folding, cloth, search.lengthUm) + (i === 0 ? 0 : cloth.gap);
  }
  return sum;
}

/** No lay of this way is shorter. */
function boundOfAttempt({ way, searches }: Attempt): Bound {
  // Layers and stretches need no gap where no copies face each other.
  const um = sumOf(searches.map(({ bound }, i) => layersOf(way.stretches[i]!.folding) * bound.um));
  const [first] = searches;
  if (searches.length > 1)
    return { um, why: `the sum of its stretches: ${searches.map((s) => s.bound.why).join('; ')}` };
  return isCrosswise(way.stretches[0]!.folding.method)
    ? { um, why: `${first!.bound.why}, in both layers` }
    : { um, why: first!.bound.why };
}

function sumEffort(attempts: readonly Attempt[]): number {
  // Efforts are multiples of a batch's; rounding keeps their sum a number that can be typed.
  const sum = sumOf(attempts.flatMap(({ searches }) => searches.map((search) => search.effort)));
  return Math.round(sum * 1000) / 1000;
}

/** Of each method the way that came out shortest, in the order in which the methods were tried. */
function bestOfEach(
  own: readonly Attempt[],
  order: MaterialOrder,
  settings: PlanningSettings,
  ended: boolean,
  spent: number,
): Candidate[] {
  const methods = [...new Set(own.map(({ way }) => way.method))];
  return methods.map((method) => {
    const ways = own.filter(({ way }) => way.method === method);
    const best = ways.reduce((a, b) => ((lengthOf(b) ?? Infinity) < (lengthOf(a) ?? Infinity) ? b : a));
    return toCandidate(order, best, ways, settings, ended, spent);
  });
}

/**
 * @param ways all of the method: its bound is the least of theirs
 * @param spent effort of the whole material: the number that repeats this lay, since its searches share it
 */
function toCandidate(
  order: MaterialOrder,
  attempt: Attempt,
  ways: readonly Attempt[],
  settings: PlanningSettings,
  ended: boolean,
  spent: number,
): Candidate {
  const { way, searches } = attempt;
  const results = searches.map((search) => search.result(ended));
  const bound = boundOfMethod(order, attempt, ways);
  const effort = sumOf(ways.flatMap((each) => each.searches.map((search) => search.effort)));
  const lengthFoundUm = lengthOf(attempt);
  const reachedBy = results.map((result) => result.reachedBy).reduce((a, b) => (b.starts < a.starts ? b : a));
  const common = { method: way.method, lengthFoundUm, bound, effort, reachedBy };
  const cannot = results.find(({ solution, status }) => solution === null || status === 'does not fit');
  const room = roomOf(attempt.cloth.cloth, order.pieces);
  const isTooLong = room !== null && lengthFoundUm !== null && lengthFoundUm > room;
  if (cannot !== undefined || isTooLong) {
    const status = cannot?.status === 'interrupted' ? 'interrupted' : 'does not fit';
    const isTooWide = way.tooWide.length > 0;
    const fitProven = isTooWide || (results.some((result) => result.fitProven) && ways.length === 1);
    return { ...common, lay: null, status, fitProven };
  }
  const isShortest = lengthFoundUm === bound.um;
  const interrupted = results.some((result) => result.status === 'interrupted');
  const status = isShortest ? 'proven shortest' : interrupted ? 'interrupted' : 'shortest found';
  const solved = way.stretches.map((posed, i) => ({ posed, solution: results[i]!.solution! }));
  const run = { seed: settings.seed, effort: spent };
  const lay = makeLay(order, attempt.cloth.cloth, solved, { bound, status }, run);
  return { ...common, lay, status, fitProven: null };
}

/**
 * No lay of the method is shorter. Of partial and double folds, combinations, and garments of which some may lie turned,
 * only some ways were posed; but the copies of each are an open lay as they lie, so the chords of that hold for all.
 */
function boundOfMethod(order: MaterialOrder, { cloth: declared, way }: Attempt, ways: readonly Attempt[]): Bound {
  const { cloth } = declared;
  const isTurning = cloth.nap === 'each-garment' && areSeveralGarments(order.pieces, order.garments);
  const hasMore = ['partial fold', 'double fold', 'combination'].includes(way.method);
  if (!hasMore && !isTurning) {
    return ways.map(boundOfAttempt).reduce((least, other) => (other.um < least.um ? other : least));
  }
  const anyWay: Cloth = { ...cloth, nap: isTurning ? 'none' : cloth.nap, repeat: null, flaws: [] };
  const opened = poseProblem({ method: 'open', folds: [0, 0] }, anyWay, order);
  const bound = opened.legal ? chordBound(opened.posed.problem) : { um: 0, why: 'none is known' };
  const pinned = pinnedBound(way.stretches[0]!.problem);
  return pinned.um > bound.um ? pinned : bound;
}

/** What a lay is made from besides the solutions: the order's words. */
export type LayWords = Pick<MaterialOrder, 'title' | 'cutListSha256' | 'material' | 'pieces' | 'garments'>;

/**
 * The lay that the solutions of its stretches stand for, sealed but not checked.
 * @param run what repeats it
 */
export function makeLay(
  words: LayWords,
  cloth: Cloth,
  solved: readonly Solved[],
  found: { readonly bound: Bound; readonly status: LayStatus },
  run: { readonly seed: number; readonly effort: number },
): Lay {
  const placed = placeSolution(solved, cloth, words.pieces, words.garments);
  return sealLay({
    format: 'shortlay-lay/1',
    unit: 'um',
    title: words.title,
    cutListSha256: words.cutListSha256,
    material: words.material,
    status: found.status,
    seed: run.seed,
    effort: run.effort,
    cloth,
    pieces: words.pieces,
    ...placed,
    totals: computeTotals(
      cloth,
      words.pieces,
      placed.copies.map(({ outline }) => outline),
      found.bound,
    ),
  });
}

/**
 * Whatever lies doubled may as well be cut from the open cloth as it lies there, so the open lay is never longer than
 * another: where the search found a shorter one, its copies are taken over one by one.
 */
function takeOver(candidates: readonly Candidate[]): Candidate[] {
  const shortest = candidates.reduce<Candidate | null>((best, candidate) => {
    if (candidate.lay === null) return best;
    return best === null || neededOf(candidate.lay) < neededOf(best.lay!) ? candidate : best;
  }, null);
  return candidates.map((candidate) => {
    const own = candidate.lay === null ? Number.POSITIVE_INFINITY : neededOf(candidate.lay);
    if (candidate.method !== 'open' || shortest === null || neededOf(shortest.lay!) >= own) return candidate;
    return withLay(candidate, openLayOf(shortest.lay!, candidate.bound));
  });
}

/** A candidate with a lay that was found elsewhere: none of its own starts reached it. */
function withLay(candidate: Candidate, lay: Lay): Candidate {
  const reachedBy = { starts: 0, of: 0 };
  return { ...candidate, lay, status: lay.status, fitProven: null, lengthFoundUm: lay.totals.lengthUsed, reachedBy };
}

/**
 * Whatever lies doubled could lie open, so what the open lay cannot be shorter than holds for all methods that have no lay
 * (but on a tube, which has no open one); where that is more than there is, none fits.
 */
function boundedByOpen(candidates: readonly Candidate[], room: Um | null): Candidate[] {
  const open = candidates.find(({ method }) => method === 'open');
  return candidates.map((candidate) => {
    if (candidate.lay !== null) return candidate;
    const isMore = open !== undefined && open.bound.um > candidate.bound.um;
    const bound = isMore ? open.bound : candidate.bound;
    const cannot = candidate.status === 'does not fit' && room !== null && bound.um > room;
    return { ...candidate, bound, fitProven: cannot ? true : candidate.fitProven };
  });
}

/** The open lay and that on a lengthwise fold are no longer than those of another cloth that lie here as well. */
function takeFrom(others: readonly Candidate[], candidates: readonly Candidate[], cloth: Cloth): Candidate[] {
  return candidates.map((candidate) => {
    let best = candidate;
    for (const { method, lay } of others) {
      if (lay === null || method === 'tube') continue;
      const stands = candidate.method === 'open' ? (method === 'open' ? lay : openLayOf(lay, candidate.bound)) : lay;
      if (candidate.method !== 'open' && method !== candidate.method) continue;
      const taken = layOn(stands, cloth, candidate.bound);
      if (taken === null || (best.lay !== null && neededOf(taken) >= neededOf(best.lay))) continue;
      best = {
        ...candidate,
        lay: taken,
        status: taken.status,
        fitProven: null,
        lengthFoundUm: taken.totals.lengthUsed,
      };
    }
    return best;
  });
}

/** Length bought before it is rounded up to what the shop sells. */
function neededOf({ totals: { buy, buyParts } }: Lay): Um {
  return buy - (buyParts.find(({ why }) => why === 'rounding up')?.um ?? 0);
}

/** The copies of a lay as placements of their own on open cloth: whatever was doubled lies there as it lay. */
export function openLayOf(lay: Lay, bound: Bound): Lay {
  const placementOf = new Map(
    lay.placements.flatMap((placement) => placement.copies.map((n) => [n, placement] as const)),
  );
  const { selfHash, ...rest } = lay;
  const { barAt } = lay.stretches[0]!;
  const { from, to } = reachOf(lay.copies.map(({ outline }) => outline));
  const isShortest = lay.totals.lengthUsed === bound.um;
  const status = isShortest ? 'proven shortest' : lay.status === 'interrupted' ? 'interrupted' : 'shortest found';
  const start = ({ outline }: Copy) => boundsOf(outline);
  const inOrder = [...lay.copies].sort(
    (a, b) => start(a).minX - start(b).minX || start(a).minY - start(b).minY || a.n - b.n,
  );
  return sealLay({
    ...rest,
    status,
    stretches: [{ id: 1, from, to, method: 'open', folds: [0, 0], ...(barAt === undefined ? {} : { barAt }) }],
    placements: inOrder.map(({ n }, i) => {
      const { piece, garment } = placementOf.get(n)!;
      return { n: i + 1, stretch: 1, piece, garment, copies: [i + 1], pinned: false };
    }),
    copies: inOrder.map((copy, i) => ({ ...copy, n: i + 1 })),
    totals: { ...lay.totals, bound },
  });
}

/** Least buy length; ties to the simplest method, which comes first. */
function chooseByBuyLength(candidates: readonly Candidate[]): Candidate | null {
  const simplest = [...candidates].sort((a, b) => layNames.indexOf(a.method) - layNames.indexOf(b.method));
  return simplest.reduce<Candidate | null>((best, candidate) => {
    if (candidate.lay === null) return best;
    if (best === null || candidate.lay.totals.buy < best.lay!.totals.buy) return candidate;
    return best;
  }, null);
}
