/** What planning decides, for report and marker to show. */

import type { Bound } from '../bounds/types.js';
import type { DeclaredCloth, LayName } from '../cloth/types.js';
import type { Fault } from '../diagnostics/types.js';
import type { SearchResult } from '../engine/types.js';
import type { Lay } from '../lay/types.js';
import type { Um } from '../units/types.js';

/** One lay method tried on one cloth. */
export interface Candidate {
  readonly method: LayName;
  /** null when it does not fit, or was ended before a first lay. */
  readonly lay: Lay | null;
  readonly status: SearchResult['status'];
  readonly fitProven: boolean | null;
  /** The shortest length found, also when it is too long for the cloth at hand; null = none. */
  readonly lengthFoundUm: Um | null;
  readonly bound: Bound;
  readonly effort: number;
  readonly reachedBy: { readonly starts: number; readonly of: number };
}

/** A change that gives a shorter lay, or one that fits. */
export interface Advice {
  readonly change: string;
  readonly changesLook: boolean;
  /** Used by the lay that it gives, and what to buy for that. */
  readonly lengthUm: Um;
  readonly buyUm: Um;
}

/** Everything found for one material on one cloth. */
export interface MaterialPlan {
  readonly material: string;
  readonly cloth: DeclaredCloth;
  /** Least buy length, ties to the simplest; null = does not fit. */
  readonly chosen: Candidate | null;
  /** All methods tried, in order of simplicity, the chosen one among them. */
  readonly candidates: readonly Candidate[];
  /** Methods that are not legal here, each with its reason in plain words. */
  readonly refused: readonly { readonly method: LayName; readonly why: string }[];
  /** What may be used of a cloth at hand; null = as much as needed. */
  readonly roomUm: Um | null;
  readonly notices: readonly Fault[];
  /** What would help, the shortest first; null = it was not asked. */
  readonly wouldHelp: readonly Advice[] | null;
  readonly seed: number;
  /** Spent on the whole material, over all its cloths and methods: the number that repeats the run. */
  readonly effort: number;
}
