/**
 * Runs tasks on threads (piscina). A task may be lost because its thread died, failed or was ended: the batch loop does
 * it again itself if it still needs it, so the answer never depends on threads. Where threads cannot be had, or keep dying,
 * or say nothing for long, all further tasks are done in the caller's thread: slower, with the same answer.
 * Takes for granted: the built layout, where the threads' entry and what loads it lie in dist/workers.
 */
import { Piscina } from 'piscina';
import { assert } from '../diagnostics/assert.js';
import { sameThreadExecutor } from '../engine/same-thread.js';
import type { Executor, TaskResult } from '../engine/types.js';

/** What tests change. */
export interface PoolSettings {
  /** What runs in a thread: an ES module whose default export does a task. */
  readonly entry: URL;
  /** Seconds without an answer from any thread after which they are given up. */
  readonly silenceSeconds: number;
}

const usual: PoolSettings = {
  entry: new URL('../../workers/lay-worker.js', import.meta.url),
  // A task takes an eighth of a second, but minutes with the most things that are planned on a busy machine.
  silenceSeconds: 600,
};

const loader = new URL('../../workers/thread.cjs', import.meta.url);

/** Threads that die are replaced, but not for ever: this many deaths, and they are given up. */
const deathsMost = 4;

/** An executor on so many threads; close it when done. */
export function threadExecutor(workers: number, changed: Partial<PoolSettings> = {}): Executor {
  assert(Number.isInteger(workers) && workers >= 1, 'a pool has at least one thread');
  const settings = { ...usual, ...changed };
  const pool = startPool(workers, settings);
  return pool === null ? { ...sameThreadExecutor(), hasLostThreads: true } : watched(pool, workers, settings);
}

/** Null when the system gives no threads. */
function startPool(workers: number, { entry }: PoolSettings): Piscina | null {
  try {
    const workerData = { entry: entry.href };
    return new Piscina({ filename: loader.href, workerData, minThreads: workers, maxThreads: workers });
  } catch {
    return null;
  }
}

function watched(first: Piscina, workers: number, settings: PoolSettings): Executor {
  let pool = first;
  let state: 'running' | 'resting' | 'given up' | 'closed' = 'running';
  let deaths = 0;
  let asked = 0;
  let silence: NodeJS.Timeout | undefined;
  const here = sameThreadExecutor();

  /** Ends all threads; what was asked of them is lost. */
  const end = async (as: 'resting' | 'given up' | 'closed'): Promise<void> => {
    const wasRunning = state === 'running';
    state = as;
    clearTimeout(silence);
    if (wasRunning) await pool.destroy();
  };
  const listen = (): void => {
    clearTimeout(silence);
    if (state === 'running' && asked > 0)
      silence = setTimeout(() => void end('given up'), 1000 * settings.silenceSeconds);
  };
  const watch = (watched: Piscina): void => {
    // Told when a thread dies without a task, or says what nobody asked.
    watched.on('error', () => undefined);
    watched.on('workerDestroy', () => {
      if (state !== 'running' || watched !== pool) return;
      deaths += 1;
      // A thread is replaced after this is told, unless it could not even start.
      setImmediate(() => {
        if (watched === pool && (deaths >= deathsMost || pool.threads.length === 0) && state === 'running')
          void end('given up');
      });
    });
  };
  const beginAnew = (): void => {
    const next = startPool(workers, settings);
    state = next === null ? 'given up' : 'running';
    if (next === null) return;
    pool = next;
    watch(pool);
  };
  watch(pool);

  return {
    get hasLostThreads() {
      return state === 'given up';
    },
    get threads() {
      return state === 'running' || state === 'resting' ? workers : 1;
    },
    run: async (problem, task) => {
      if (state === 'closed') return null;
      if (state === 'resting') beginAnew();
      if (state === 'given up') return here.run(problem, task);
      asked += 1;
      if (asked === 1) listen();
      try {
        return (await pool.run({ problem, task })) as TaskResult;
      } catch {
        return null;
      } finally {
        asked -= 1;
        listen();
      }
    },
    rest: async () => {
      if (state === 'running') await end('resting');
      else await here.rest();
    },
    close: () => end('closed'),
  };
}
