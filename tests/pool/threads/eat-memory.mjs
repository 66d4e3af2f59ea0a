/** Runs out of memory in every other task. */
import { runTask } from '../../../dist/src/engine/task.js';

export default ({ problem, task }) => {
  const eaten = [];
  while (task.number % 2 === 1) eaten.push(new Array(100_000).fill(task.number));
  return runTask(problem, task);
};
