/**
 * Measures the quality of the search: each subject with each seed, every lay verified. Lengths repeat for equal seed and
 * effort; seconds do not.
 */
import { assert } from '../diagnostics/assert.js';
import { search } from '../engine/search.js';
import type { Executor } from '../engine/types.js';
import type { Limits, Row, Run, Subject } from './types.js';

export interface BenchSettings extends Limits {
  readonly seeds: readonly number[];
  readonly workers: number;
}

export interface BenchTools {
  /** A new one for each run, so that no run finds tables warm from the one before. */
  readonly startExecutor: (workers: number) => Executor;
  /** Seconds since some start. */
  readonly clock: () => number;
}

/** One run with each seed. A subject for which no lay is found throws. */
export async function measure(subject: Subject, settings: BenchSettings, tools: BenchTools): Promise<Row> {
  assert(settings.seeds.length > 0, 'there is a seed to run with');
  const runs: Run[] = [];
  let bound = { um: 0, why: '' };
  for (const seed of settings.seeds) {
    const { run, result } = await runOnce(subject, seed, settings, tools);
    runs.push(run);
    bound = result.bound;
  }
  const { effort, seconds, workers } = settings;
  return {
    subject: subject.name,
    sort: subject.sort,
    copies: subject.copies,
    limits: { effort, seconds },
    workers,
    bound: bound.um / subject.unitUm,
    boundWhy: bound.why,
    runs,
  };
}

async function runOnce(subject: Subject, seed: number, settings: BenchSettings, tools: BenchTools) {
  const executor = tools.startExecutor(settings.workers);
  const startedAt = tools.clock();
  const passed = () => Math.round(1000 * (tools.clock() - startedAt)) / 1000;
  let first: Run['first'] | null = null;
  try {
    const result = await search(subject.problem, {
      seed,
      effort: settings.effort ?? Number.POSITIVE_INFINITY,
      seconds: settings.seconds,
      clock: tools.clock,
      executor,
      onProgress: ({ lengthUm }) => {
        if (lengthUm !== null) first ??= { seconds: passed(), length: lengthUm / subject.unitUm };
      },
      interrupted: () => false,
    });
    const seconds = passed();
    const { solution, status, effort, reachedBy } = result;
    if (solution === null) throw new Error(`${subject.name}, seed ${seed}: ${status}`);
    const judged = subject.judge(solution, result, seed);
    const run: Run = {
      seed,
      effort,
      seconds,
      first: first ?? { seconds, length: judged.length },
      status,
      reachedBy,
      ...judged,
    };
    return { run, result };
  } finally {
    await executor.close();
  }
}
