/** Entry of the pool's threads: one task in, its result out. */
import { runTask } from '../src/engine/task.js';
import type { Task, TaskResult } from '../src/engine/types.js';
import type { Problem } from '../src/problem/types.js';

export default function layWorker({ problem, task }: { problem: Problem; task: Task }): TaskResult {
  return runTask(problem, task);
}
