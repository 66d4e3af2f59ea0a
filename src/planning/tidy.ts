/**
 * The second aim, after the length: what is left is to be left in one piece. With the length given, rectangles that would
 * be larger than the one that is left are kept free along either edge, and the pieces searched a place beside them. Of
 * rectangles of one size the lay with more straight cuts across is taken, since scissors go through those at once.
 */

import type { Bound } from '../bounds/types.js';
import type { DeclaredCloth } from '../cloth/types.js';
import { washedLength } from '../cloth/washing.js';
import { startSearch } from '../engine/search.js';
import { leftOver, throughCuts } from '../lay/left-over.js';
import type { Lay } from '../lay/types.js';
import { hashNumbers, type Posed } from '../problem/build.js';
import type { Problem, Solution } from '../problem/types.js';
import type { Outline, Um } from '../units/types.js';
import { type LayWords, makeLay, type PlanningTools } from './plan-material.js';
import type { MaterialPlan } from './types.js';
import { waysOf } from './ways.js';

/** The rectangles tried begin at so many parts of the length. */
const beginnings = [0, 1 / 2];
/** Each is to be larger than what is left by so much. */
const largerBy = 1.1;
/** So many rectangles are tried at most, each by one batch. */
const triesMost = 5;

/** The plan with its chosen lay tidied. */
export async function tidyPlan(words: LayWords, plan: MaterialPlan, tools: PlanningTools): Promise<MaterialPlan> {
  const { chosen } = plan;
  if (chosen === null || chosen.lay === null || chosen.status === 'interrupted') return plan;
  const lay = await tidyLay(words, plan.cloth, chosen.lay, tools);
  if (lay === chosen.lay) return plan;
  const tidied = { ...chosen, lay, status: lay.status, lengthFoundUm: lay.totals.lengthUsed };
  return {
    ...plan,
    chosen: tidied,
    candidates: plan.candidates.map((candidate) => (candidate === chosen ? tidied : candidate)),
  };
}

/** A lay of the same method, no longer, with more left in one piece; the same lay where none was found. */
async function tidyLay(words: LayWords, declared: DeclaredCloth, lay: Lay, tools: PlanningTools): Promise<Lay> {
  const [stretch, ...more] = lay.stretches;
  const { cloth } = declared;
  if (stretch === undefined || more.length > 0 || cloth.repeat !== null || cloth.flaws.length > 0) return lay;
  if (stretch.method !== 'open' && stretch.method !== 'lengthwise fold') return lay;
  const answer = waysOf(stretch.method, declared, words);
  if (!answer.legal || answer.ways.length > 1) return lay;
  const posed = answer.ways[0]!.stretches[0]!;
  const { zones } = posed.problem;
  if (zones.length > 1 || posed.problem.kinds.length === 0) return lay;
  let best = lay;
  let tries = 0;
  for (const beginning of beginnings) {
    for (const side of ['near', 'far'] as const) {
      while (tries < triesMost && !tools.interrupted()) {
        tries += 1;
        const room = roomBeside(posed, best, beginning, side);
        if (room === null) break;
        const solution = await solve(room, best, tools);
        if (solution === null) break;
        const tidied = relaid(words, lay, posed, solution);
        if (!isTidier(tidied, best)) break;
        best = tidied;
      }
    }
  }
  return best;
}

/** The problem with a rectangle kept free from a part of the length on; null where it would leave too little for the pieces. */
function roomBeside(posed: Posed, lay: Lay, beginning: number, side: 'near' | 'far'): Problem | null {
  const { problem } = posed;
  const zone = problem.zones[0]!;
  const { lengthUsed, areaUm2 } = lay.totals;
  const left = leftOver(lay);
  const isFolded = lay.stretches[0]!.method !== 'open';
  const from = Math.round(lengthUsed * beginning);
  const along = beyond(lay) - from;
  // Beside a fold it is twice as wide, opened.
  const opened = isFolded && side === 'far' ? 2 : 1;
  const across = Math.ceil((largerBy * left.along * left.across) / along / opened);
  const free = (zone.yTo - zone.yFrom) * lengthUsed - areaUm2 / (isFolded ? 2 : 1);
  if (across > zone.yTo - zone.yFrom || across * (lengthUsed - from) > free) return null;
  const outline: Outline = [
    [0, 0],
    [along, 0],
    [along, across],
    [0, across],
  ];
  const y = side === 'near' ? zone.yFrom : zone.yTo - across;
  const changed = {
    ...problem,
    shapes: [...problem.shapes, { outline }],
    blocked: [...problem.blocked, { shape: problem.shapes.length, x: from, y }],
    lengthMaxUm: lengthUsed,
  };
  const { hash, ...numbers } = changed;
  return { ...changed, hash: hashNumbers(numbers) };
}

/** Where the last place for a rectangle ends, from the first placement on. */
function beyond({ cloth, totals }: Lay): Um {
  const { ends, length, shrinkagePpm } = cloth;
  const whole = length ?? washedLength(totals.buy, shrinkagePpm?.along ?? 0);
  return Math.max(totals.lengthUsed, whole - ends[0] - ends[1]);
}

async function solve(problem: Problem, lay: Lay, { executor }: PlanningTools): Promise<Solution | null> {
  const search = startSearch(problem, { seed: lay.seed, executor, provesFit: false });
  if (!search.finished) await search.step();
  return search.result(false).solution;
}

function relaid(words: LayWords, lay: Lay, posed: Posed, solution: Solution): Lay {
  const bound: Bound = lay.totals.bound;
  const status = solution.lengthUm === bound.um ? 'proven shortest' : lay.status;
  return makeLay(words, lay.cloth, [{ posed, solution }], { bound, status }, lay);
}

/** Larger in one piece; or as large, with more straight cuts across. */
function isTidier(a: Lay, b: Lay): boolean {
  const [one, other] = [a, b].map((lay) => {
    const { along, across } = leftOver(lay);
    return along * across;
  });
  if (a.totals.buy !== b.totals.buy) return a.totals.buy < b.totals.buy;
  return one! > other! || (one === other && throughCuts(a) > throughCuts(b));
}
