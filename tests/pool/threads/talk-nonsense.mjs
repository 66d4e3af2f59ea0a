/** Answers each task with something else that is no answer. */
import { runTask } from '../../../dist/src/engine/task.js';

const spoil = [
  () => 'done',
  () => undefined,
  (right) => ({ ...right, number: right.number + 1 }),
  (right) => ({ ...right, steps: Number.NaN }),
  (right) => ({ ...right, best: [...right.best] }),
  (right) => ({ ...right, chain: right.chain.fill(-7) }),
];

export default ({ problem, task }) => spoil[task.number % spoil.length](runTask(problem, task));
