/** Dies of an error in the middle of every other task; the others it does. */
import { runTask } from '../../../dist/src/engine/task.js';

export default ({ problem, task }) => {
  if (task.number % 2 === 0) return runTask(problem, task);
  setImmediate(() => {
    throw new Error('in the middle of a task');
  });
  return new Promise(() => {});
};
