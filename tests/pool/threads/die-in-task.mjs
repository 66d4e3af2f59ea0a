/** Ends in the middle of every third task. */
import { runTask } from '../../../dist/src/engine/task.js';

export default ({ problem, task }) => {
  if (task.number % 3 === 1) process.exit(3);
  return runTask(problem, task);
};
