/** One search from its first batch to its end, as planning and bench go through theirs. */
import { startSearch } from '../../src/engine/search.js';
import type { Executor, Progress, SearchResult } from '../../src/engine/types.js';
import type { Problem } from '../../src/problem/types.js';

export interface SearchOptions {
  readonly seed: number;
  /** In units of about one second on two cores, counted in steps; one batch is the smallest step. */
  readonly effort: number;
  /** A cap only, looked at between batches. */
  readonly seconds: number | null;
  /** Seconds since some start. Read between batches and only for `seconds`. */
  readonly clock: () => number;
  readonly executor: Executor;
  readonly onProgress: (progress: Progress) => void;
  /** True once the user wants the best so far; read between batches. */
  readonly interrupted: () => boolean;
}

/** Searches for the shortest lay. Never throws for what a user can cause; see SearchResult for the outcomes. */
export async function search(problem: Problem, options: SearchOptions): Promise<SearchResult> {
  const running = startSearch(problem, options);
  const startedAt = options.clock();
  while (!running.finished) {
    if (options.interrupted()) return running.result(true);
    const isFirst = running.effort === 0;
    if (!isFirst && options.seconds !== null && options.clock() - startedAt >= options.seconds) break;
    if (!isFirst && running.effort >= options.effort) break;
    options.onProgress(await running.step());
  }
  return running.result(false);
}
