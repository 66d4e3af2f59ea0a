/** Answers the first two tasks and never comes back from another. */
import { runTask } from '../../../dist/src/engine/task.js';

export default ({ problem, task }) => {
  while (task.number > 1);
  return runTask(problem, task);
};
