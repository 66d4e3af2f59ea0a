/**
 * Runs tasks on threads (piscina). A task may be lost because its thread died, failed or was ended: the batch loop does
 * it again itself if it still needs it, so the answer never depends on threads.
 * Takes for granted: the built layout, where the threads' entry lies at dist/workers/lay-worker.js.
 */
import { Piscina } from 'piscina';
import { assert } from '../diagnostics/assert.js';
import type { Executor, TaskResult } from '../engine/types.js';

/** An executor on so many threads; close it when done. */
export function threadExecutor(workers: number): Executor {
  assert(Number.isInteger(workers) && workers >= 1, 'a pool has at least one thread');
  const pool = new Piscina({
    filename: new URL('../../workers/lay-worker.js', import.meta.url).href,
    minThreads: workers,
    maxThreads: workers,
  });
  return {
    threads: workers,
    run: (problem, task) =>
      pool.run({ problem, task }).then(
        (result: TaskResult) => result,
        () => null,
      ),
    close: () => pool.destroy(),
  };
}
