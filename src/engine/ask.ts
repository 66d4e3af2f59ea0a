/** Asks an executor for a task and takes nothing but an answer to it: whatever else comes back, the task is lost. */
import type { Problem } from '../problem/types.js';
import { isChainOf } from './chain-code.js';
import { isLayOf } from './lay-code.js';
import type { Executor, Task, TaskResult } from './types.js';

/** The answer, or null when the task was lost. Never rejects. */
export async function ask(executor: Executor, problem: Problem, task: Task): Promise<TaskResult | null> {
  try {
    const answer: unknown = await executor.run(problem, task);
    return isAnswerTo(problem, task, answer) ? answer : null;
  } catch {
    // The batch loop does the task itself: a fault of ours shows there again.
    return null;
  }
}

/** Of the right form and to the right question. Whether its lay is legal is looked at when it is chosen. */
function isAnswerTo(problem: Problem, task: Task, answer: unknown): answer is TaskResult {
  if (typeof answer !== 'object' || answer === null) return false;
  const { number, steps, best, chain } = answer as Record<keyof TaskResult, unknown>;
  if (number !== task.number || !Number.isSafeInteger(steps) || Number(steps) < 0) return false;
  if (!(best instanceof Int32Array) || !(chain instanceof Int32Array)) return false;
  return (best.length === 0 || isLayOf(problem, best)) && (chain.length === 0 || isChainOf(problem, chain));
}
