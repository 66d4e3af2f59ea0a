/**
 * The second aim, after the length: what is left is to be left in one piece. With the length given, rectangles that would
 * be larger than the one that is left are kept free along either edge, and the pieces searched a place beside them. Of
 * rectangles of one size the lay with more straight cuts across is taken, since scissors go through those at once.
 */

import type { Bound } from '../bounds/types.js';
import type { DeclaredCloth } from '../cloth/types.js';
import { startSearch } from '../engine/search.js';
import { endOf, leftOver, type Rectangle, throughCuts } from '../lay/left-over.js';
import type { Lay } from '../lay/types.js';
import { hashNumbers, type Posed } from '../problem/build.js';
import type { Problem, Solution } from '../problem/types.js';
import type { Outline } from '../units/types.js';
import { type LayWords, makeLay, type PlanningTools } from './plan-material.js';
import type { MaterialPlan } from './types.js';
import { waysOf } from './ways.js';

/** The rectangles tried begin at so many parts of the length. */
const beginnings = [0, 1 / 2];
/** Each is to be larger than what is left by so much. */
const largerBy = 1.1;
/** So many rectangles are tried at most, each by one batch. */
const triesMost = 5;
/** Of lays with more placements a batch takes long, and what is left lies in many places anyway. */
const thingsMost = 100;

/** The plan with its chosen lay tidied; a lay of many things, or one that somebody has waited long enough for, is left as it is. */
export async function tidyPlan(words: LayWords, plan: MaterialPlan, tools: PlanningTools): Promise<MaterialPlan> {
  const { chosen } = plan;
  if (chosen === null || chosen.lay === null || chosen.status === 'interrupted') return plan;
  if (chosen.lay.placements.length > thingsMost) return plan;
  const lay = await tidyLay(words, plan.cloth, chosen.lay, tools);
  if (lay === chosen.lay) return plan;
  const tidied = { ...chosen, lay, status: lay.status, lengthFoundUm: lay.totals.lengthUsed };
  return {
    ...plan,
    chosen: tidied,
    candidates: plan.candidates.map((candidate) => (candidate === chosen ? tidied : candidate)),
  };
}

/** A lay and what is left of its cloth. */
interface Measured {
  readonly lay: Lay;
  readonly left: Rectangle;
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
  const first = measured(lay);
  if (zones.length > 1 || posed.problem.kinds.length === 0 || first === null) return lay;
  let best = first;
  let tries = 0;
  for (const beginning of beginnings) {
    for (const side of ['near', 'far'] as const) {
      while (tries < triesMost) {
        const room = roomBeside(posed, best, beginning, side);
        if (room === null) break;
        tries += 1;
        const solution = await solve(room, lay.seed, tools);
        const tidied = solution === null ? null : measured(relaid(words, lay, posed, solution));
        if (tidied === null || !isTidier(tidied, best)) break;
        best = tidied;
      }
    }
  }
  return best.lay;
}

function measured(lay: Lay): Measured | null {
  const left = leftOver(lay);
  return left === null ? null : { lay, left };
}

/** The problem with a rectangle kept free from a part of the length on; null where it would leave too little for the pieces. */
function roomBeside(
  { problem }: Posed,
  { lay, left }: Measured,
  beginning: number,
  side: 'near' | 'far',
): Problem | null {
  const zone = problem.zones[0]!;
  const { lengthUsed, areaUm2 } = lay.totals;
  const isFolded = lay.stretches[0]!.method !== 'open';
  const from = Math.round(lengthUsed * beginning);
  const along = Math.max(lengthUsed, endOf(lay) - lay.cloth.ends[0]) - from;
  // Beside a fold it is twice as wide, opened.
  const opened = isFolded && side === 'far' ? 2 : 1;
  const across = Math.ceil((largerBy * left.along * left.across) / along / opened);
  const free = (zone.yTo - zone.yFrom) * lengthUsed - areaUm2 / (isFolded ? 2 : 1);
  if (across <= 0 || across > zone.yTo - zone.yFrom || across * (lengthUsed - from) > free) return null;
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

async function solve(problem: Problem, seed: number, { executor }: PlanningTools): Promise<Solution | null> {
  const search = startSearch(problem, { seed, executor, provesFit: false });
  if (!search.finished) await search.step();
  return search.result(false).solution;
}

function relaid(words: LayWords, lay: Lay, posed: Posed, solution: Solution): Lay {
  const bound: Bound = lay.totals.bound;
  const status = solution.lengthUm === bound.um ? 'proven shortest' : lay.status;
  return makeLay(words, lay.cloth, [{ posed, solution }], { bound, status }, lay);
}

/** Less to buy; or larger in one piece; or as large, with more straight cuts across. */
function isTidier(a: Measured, b: Measured): boolean {
  const [one, other] = [a, b].map(({ left }) => left.along * left.across);
  if (a.lay.totals.buy !== b.lay.totals.buy) return a.lay.totals.buy < b.lay.totals.buy;
  return one! > other! || (one === other && throughCuts(a.lay) > throughCuts(b.lay));
}
