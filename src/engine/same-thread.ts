/** Runs tasks one after the other in the caller's thread, giving way to the event loop before each. */
import { forgetTables } from './tables.js';
import { runTask } from './task.js';
import type { Executor } from './types.js';

/** Does the tasks where it is called, in the order they are asked for. */
export function sameThreadExecutor(): Executor {
  let free: Promise<unknown> = Promise.resolve();
  return {
    threads: 1,
    hasLostThreads: false,
    run: (problem, task) => {
      const before = free;
      const result = (async () => {
        await before;
        await new Promise<void>((resume) => setImmediate(resume));
        return runTask(problem, task);
      })();
      free = result.catch(() => {});
      return result;
    },
    rest: async () => forgetTables(),
    close: async () => {},
  };
}
