/**
 * What to search for one material: every cloth it can be cut from, every lay method that is legal there. The effort
 * is shared: each batch goes to the search that has spent least so far, so what step k does never depends on how much
 * effort there is in all, and a run repeated with the effort it reached gives the same lays.
 */

import type { Bound } from '../bounds/types.js';
import { type DeclaredCloth, type LayMethod, layMethods } from '../cloth/types.js';
import type { Place } from '../diagnostics/types.js';
import { countThings } from '../engine/construct.js';
import { type Search, startSearch } from '../engine/search.js';
import type { Executor, Progress } from '../engine/types.js';
import { sealLay } from '../lay/build.js';
import { computeTotals } from '../lay/totals.js';
import type { Lay, LayStatus } from '../lay/types.js';
import type { CutPiece } from '../pieces/types.js';
import { type Posed, poseProblem, type TooWide } from '../problem/build.js';
import { placeSolution } from '../problem/place.js';
import type { Solution } from '../problem/types.js';
import { formatLength } from '../units/length.js';
import { coordinateMaxUm, type LengthUnit, type Um } from '../units/types.js';
import { methodsOf, tellTooWide } from './too-wide.js';
import type { Candidate, MaterialPlan } from './types.js';

/** One material to plan: its cut pieces and the cloths offered for it. */
export interface MaterialOrder {
  readonly material: string;
  readonly pieces: readonly CutPiece[];
  /** Where each piece's name stands, for faults. */
  readonly places: ReadonlyMap<string, Place>;
  readonly cloths: readonly DeclaredCloth[];
  readonly title: string;
  readonly cutListSha256: string;
  readonly units: LengthUnit;
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
  readonly onProgress: (progress: Progress & { material: string; cloth: string; method: LayMethod }) => void;
}

/** Lays whose bound is longer are not searched: coordinates end at 47.4 m. */
const boundMost: Um = 20_000_000;
/** More things than this are not searched: a search holds two numbers for each pair of them. */
const thingsMost = 3_000;

interface Attempt {
  readonly cloth: DeclaredCloth;
  readonly method: LayMethod;
  readonly posed: Posed;
  readonly tooWide: readonly TooWide[];
  readonly search: Search;
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
  const refused = new Map<DeclaredCloth, { method: LayMethod; why: string }[]>();
  const attempts = order.cloths.flatMap((cloth) => poseAttempts(order, cloth, settings.seed, tools, refused));
  const ended = await shareEffort(order, attempts, settings.effort, tools, deadline);
  const spent = sumEffort(attempts);
  return order.cloths.map((cloth) => {
    const own = attempts.filter((attempt) => attempt.cloth === cloth);
    const candidates = own.map((attempt) => toCandidate(order, attempt, settings, ended, spent));
    for (const { method, lay, lengthFoundUm, fitProven, status } of candidates) {
      if (lay !== null || lengthFoundUm !== null || fitProven || status === 'interrupted') continue;
      const most = formatLength(coordinateMaxUm, order.units);
      const why = `no lay shorter than ${most} was found, and longer ones are not planned, so lay fewer copies at a time`;
      refused.set(cloth, [...(refused.get(cloth) ?? []), { method, why }]);
    }
    const chosen = chooseByBuyLength(candidates);
    const tooWide = own.flatMap((attempt) =>
      tellTooWide(attempt.method, cloth, attempt.tooWide, order, chosen === null ? 'warning' : 'notice'),
    );
    return {
      material: order.material,
      cloth,
      chosen,
      candidates,
      refused: refused.get(cloth) ?? [],
      notices: [...cloth.notices, ...tooWide],
      seed: settings.seed,
      effort: spent,
    };
  });
}

function poseAttempts(
  order: MaterialOrder,
  cloth: DeclaredCloth,
  seed: number,
  tools: PlanningTools,
  refused: Map<DeclaredCloth, { method: LayMethod; why: string }[]>,
): Attempt[] {
  const attempts: Attempt[] = [];
  for (const method of methodsOf(cloth)) {
    const answer = poseProblem(method, cloth.cloth, order.pieces, 1);
    if (answer.legal) {
      const things = countThings(answer.posed.problem);
      const search = things > thingsMost ? null : startSearch(answer.posed.problem, { seed, executor: tools.executor });
      if (search === null || search.bound.um > boundMost) {
        const why = search === null ? tooMany(things) : tooLong(search.bound.um, order);
        refused.set(cloth, [...(refused.get(cloth) ?? []), { method, why }]);
        continue;
      }
      attempts.push({ cloth, method, posed: answer.posed, tooWide: answer.tooWide, search });
    } else {
      refused.set(cloth, [...(refused.get(cloth) ?? []), { method, why: answer.why }]);
    }
  }
  return attempts;
}

function tooMany(things: number): string {
  return `it has ${things} placements; at most ${thingsMost} are planned on one lay, so lay fewer copies at a time`;
}

function tooLong(boundUm: Um, { units }: MaterialOrder): string {
  const [bound, most] = [boundUm, boundMost].map((um) => formatLength(um, units));
  return `it needs at least ${bound}; lays that need more than ${most} are not planned, so lay fewer copies at a time`;
}

/**
 * One batch at a time to the search that has spent least, ties to the first, until all effort is spent or the deadline
 * has passed.
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
    const open = attempts.filter(({ search }) => !search.finished);
    const next = open.reduce<Attempt | null>(
      (least, attempt) => (least === null || attempt.search.effort < least.search.effort ? attempt : least),
      null,
    );
    if (next === null) return false;
    const spent = sumEffort(attempts);
    const late = deadline !== null && tools.clock() >= deadline;
    if (next.search.effort > 0 && (spent >= effort || late)) return false;
    if (tools.interrupted()) return true;
    const progress = await next.search.step();
    const total = sumEffort(attempts);
    tools.onProgress({
      ...progress,
      effort: total,
      material: order.material,
      cloth: next.cloth.cloth.name,
      method: next.method,
    });
  }
}

function sumEffort(attempts: readonly Attempt[]): number {
  // Efforts are multiples of a batch's; rounding keeps their sum a number that can be typed.
  return Math.round(attempts.reduce((sum, { search }) => sum + search.effort, 0) * 1000) / 1000;
}

/** @param spent effort of the whole material: the number that repeats this lay, since its searches share it */
function toCandidate(
  order: MaterialOrder,
  attempt: Attempt,
  settings: PlanningSettings,
  ended: boolean,
  spent: number,
): Candidate {
  const result = attempt.search.result(ended);
  const { solution, bound, status, fitProven, lengthFoundUm, effort, reachedBy } = result;
  if (solution === null || status === 'does not fit') {
    return { method: attempt.method, lay: null, status, fitProven, lengthFoundUm, bound, effort, reachedBy };
  }
  const lay = makeLay(order, attempt, { solution, bound, status }, { seed: settings.seed, effort: spent });
  return { method: attempt.method, lay, status, fitProven: null, lengthFoundUm, bound, effort, reachedBy };
}

/** What a lay is made from besides the solution: the order's words, and how the solution was posed. */
export type LayWords = Pick<MaterialOrder, 'title' | 'cutListSha256' | 'material' | 'pieces'>;
export type LayPosed = Pick<Attempt, 'cloth' | 'method' | 'posed'>;

/**
 * The lay that a solution stands for, sealed but not checked.
 * @param run what repeats it
 */
export function makeLay(
  words: LayWords,
  { cloth: { cloth }, method, posed }: LayPosed,
  found: { readonly solution: Solution; readonly bound: Bound; readonly status: LayStatus },
  run: { readonly seed: number; readonly effort: number },
): Lay {
  const placed = placeSolution(posed, found.solution, method, cloth);
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
      placed.copies.map(({ outline }) => outline),
      found.bound,
    ),
  });
}

/** Least buy length; ties to the simplest method, which comes first. */
function chooseByBuyLength(candidates: readonly Candidate[]): Candidate | null {
  const simplest = [...candidates].sort((a, b) => layMethods.indexOf(a.method) - layMethods.indexOf(b.method));
  return simplest.reduce<Candidate | null>((best, candidate) => {
    if (candidate.lay === null) return best;
    if (best === null || candidate.lay.totals.buy < best.lay!.totals.buy) return candidate;
    return best;
  }, null);
}
