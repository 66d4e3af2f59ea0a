/** Runs tasks one after the other in the caller's thread, giving way to the event loop between them. */
import { runTask } from './task.js';
import type { Executor, TaskResult } from './types.js';

/** Does the tasks one after the other where it is called. */
export function sameThreadExecutor(): Executor {
  return {
    run: async (problem, tasks) => {
      const results: TaskResult[] = [];
      for (const task of tasks) {
        await new Promise<void>((resume) => setImmediate(resume));
        results.push(runTask(problem, task));
      }
      return results;
    },
    close: async () => {},
  };
}
