/**
 * What came out for one material on one cloth, in one place for text, JSON and exit code.
 * Takes for granted that a chosen candidate has a lay; asserts it.
 */

import type { Bound } from '../bounds/types.js';
import type { LayName } from '../cloth/types.js';
import { assert } from '../diagnostics/assert.js';
import type { Lay, LayStatus } from '../lay/types.js';
import type { Candidate, MaterialPlan } from '../planning/types.js';
import type { Um } from '../units/types.js';

export interface Outcome {
  readonly status: LayStatus | 'does not fit';
  /** null when it fits or was interrupted. */
  readonly fitProven: boolean | null;
  readonly lay: Lay | null;
  readonly method: LayName | null;
  readonly bound: Bound | null;
  /** How far the length may still be above the shortest, in percent of the length; null without a lay. */
  readonly gapPercent: number | null;
  readonly reachedBy: Candidate['reachedBy'] | null;
}

/** What became of a material, for text and JSON alike. */
export function outcomeOf(plan: MaterialPlan): Outcome {
  return plan.chosen === null ? withoutLay(plan) : withLay(plan.chosen);
}

function withLay(chosen: Candidate): Outcome {
  const { lay } = chosen;
  assert(lay !== null, 'the chosen lay method has a lay');
  return {
    status: lay.status,
    fitProven: null,
    lay,
    method: chosen.method,
    bound: lay.totals.bound,
    gapPercent: gapPercentOf(lay.totals.lengthUsed, lay.totals.bound.um),
    reachedBy: chosen.reachedBy,
  };
}

/** No lay: the length that no legal lay of any method tried can be shorter than is the least of their bounds. */
function withoutLay({ candidates, refused }: MaterialPlan): Outcome {
  const cannot = candidates.length + refused.length > 0 && candidates.every(({ status }) => status === 'does not fit');
  const least = candidates.reduce<Bound | null>(
    (bound, candidate) => (bound !== null && bound.um <= candidate.bound.um ? bound : candidate.bound),
    null,
  );
  return {
    status: cannot ? 'does not fit' : 'interrupted',
    fitProven: cannot ? candidates.every(({ fitProven }) => fitProven === true) : null,
    lay: null,
    method: null,
    bound: least,
    gapPercent: null,
    reachedBy: null,
  };
}

/** (length - bound) / length in percent, to four decimals. */
function gapPercentOf(lengthUm: Um, boundUm: Um): number {
  return Math.round(((lengthUm - boundUm) / lengthUm) * 1e6) / 1e4;
}
