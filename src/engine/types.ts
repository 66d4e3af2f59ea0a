/** What the engine is asked, and what it answers. Pure but for the clock and the executor it is handed. */
import type { Bound } from '../bounds/types.js';
import type { Problem, Solution } from '../problem/types.js';
import type { Um } from '../units/types.js';

/** One numbered piece of work. Its answer depends on (problem, task) alone. */
export interface Task {
  readonly number: number;
  readonly seed: number;
  /** Numbers only, made by the batch loop: what this task starts from. */
  readonly start: Int32Array;
}

export interface TaskResult {
  readonly number: number;
  /** Numbers only: the best lay of this task (empty = none shorter than the one it began with). */
  readonly best: Int32Array;
  /** Numbers only: the chain to go on with. */
  readonly chain: Int32Array;
  /** Steps of work done, counted, never timed. */
  readonly steps: number;
}

/** Runs tasks in any order, anywhere, and may lose some. Must never change an answer. */
export interface Executor {
  /** Tasks that it does side by side; while fewer are on their way the batch loop asks for some ahead. */
  readonly threads: number;
  /** Threads ended, did not start or did not answer, so that all goes on in the caller's. */
  readonly hasLostThreads: boolean;
  /** Null, a rejection, or anything that is no answer to the task: it was lost; the batch loop does it itself. */
  run(problem: Problem, task: Task): Promise<TaskResult | null>;
  /** Lets go of what its threads hold of the problems so far, before other work needs the room. */
  rest(): Promise<void>;
  close(): Promise<void>;
}

export interface Progress {
  readonly batch: number;
  readonly effort: number;
  readonly lengthUm: Um | null;
  readonly boundUm: Um;
  readonly gapPercent: number | null;
}

export interface SearchResult {
  /** null: none found (too long for lengthMaxUm or coordinates, or no room on a crosswise fold). */
  readonly solution: Solution | null;
  readonly bound: Bound;
  readonly status: 'proven shortest' | 'shortest found' | 'interrupted' | 'does not fit';
  /** The shortest length found, also when it is too long for the cloth at hand; null = none yet. */
  readonly lengthFoundUm: Um | null;
  /** For "does not fit": true when the bound proves it. */
  readonly fitProven: boolean;
  /** Effort really spent: a run with exactly this number gives the same bytes. */
  readonly effort: number;
  /** From how many independent starts of how many the best length was reached. */
  readonly reachedBy: { readonly starts: number; readonly of: number };
}
