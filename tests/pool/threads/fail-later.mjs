/** Answers, and dies a moment after of something that no task was about. */
import { runTask } from '../../../dist/src/engine/task.js';

export default ({ problem, task }) => {
  setImmediate(() => {
    throw new Error('nobody asked for this');
  });
  return runTask(problem, task);
};
