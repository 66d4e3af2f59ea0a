/**
 * Measures the quality of the search: each subject with each seed, every lay verified. Lengths repeat for equal seed and
 * effort; seconds do not.
 */
import { assert } from '../diagnostics/assert.js';
import { type Search, startSearch } from '../engine/search.js';
import type { Executor, SearchResult } from '../engine/types.js';
import type { Limits, Row, Run, Subject } from './types.js';

export interface BenchSettings {
  readonly seeds: readonly number[];
  readonly workers: number;
  /** From the shortest to the longest; each run goes on to the last and is judged at each. */
  readonly limits: readonly Limits[];
}

export interface BenchTools {
  /** A new one for each run, so that no run finds tables warm from the one before. */
  readonly startExecutor: (workers: number) => Executor;
  /** Seconds since some start. */
  readonly clock: () => number;
}

/** One run with each seed; a row for each limit. A subject for which no lay is found throws. */
export async function measure(subject: Subject, settings: BenchSettings, tools: BenchTools): Promise<readonly Row[]> {
  const { seeds, limits, workers } = settings;
  assert(seeds.length > 0 && limits.length > 0, 'there is something to run');
  const bySeed: Run[][] = [];
  let bound = { um: 0, why: '' };
  for (const seed of seeds) {
    const startedAt = tools.clock();
    const executor = tools.startExecutor(workers);
    try {
      const search = startSearch(subject.problem, { seed, executor });
      bySeed.push(await runOnce(subject, seed, limits, search, () => tools.clock() - startedAt));
      bound = search.bound;
    } finally {
      await executor.close();
    }
  }
  return limits.map((limit, l) => ({
    subject: subject.name,
    sort: subject.sort,
    copies: subject.copies,
    limits: limit,
    workers,
    bound: bound.um / subject.unitUm,
    boundWhy: bound.why,
    runs: bySeed.map((runs) => runs[l]!),
  }));
}

/** What was found at each limit, the first batch always included. */
async function runOnce(
  subject: Subject,
  seed: number,
  limits: readonly Limits[],
  search: Search,
  passed: () => number,
): Promise<Run[]> {
  const found: { readonly seconds: number; readonly result: SearchResult }[] = [];
  let first: Run['first'] | null = null;
  for (const limit of limits) {
    while (!search.finished && (search.effort === 0 || !isReached(limit, search.effort, passed()))) {
      const { lengthUm } = await search.step();
      if (lengthUm !== null) first ??= { seconds: thousandths(passed()), length: lengthUm / subject.unitUm };
    }
    found.push({ seconds: thousandths(passed()), result: search.result(false) });
  }
  // Judging takes no time from what is searched.
  return found.map(({ seconds, result }) => {
    const { solution, status, effort, reachedBy } = result;
    if (solution === null) throw new Error(`${subject.name}, seed ${seed}: ${status}`);
    const judged = subject.judge(solution, result, seed);
    return { seed, effort, seconds, first: first ?? { seconds, length: judged.length }, status, reachedBy, ...judged };
  });
}

function isReached({ effort, seconds }: Limits, spent: number, passed: number): boolean {
  return (effort !== null && spent >= effort) || (seconds !== null && passed >= seconds);
}

function thousandths(seconds: number): number {
  return Math.round(1000 * seconds) / 1000;
}
