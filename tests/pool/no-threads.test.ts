/** A system that gives no threads at all: the work is done where it is asked for. */
import { expect, it, vi } from 'vitest';
import { runTask } from '../../src/engine/task.js';
import { threadExecutor } from '../../src/pool/pool.js';
import { blouse } from '../support/problems.js';

vi.mock('piscina', () => ({
  Piscina: class {
    constructor() {
      throw new Error('ERR_WORKER_INIT_FAILED');
    }
  },
}));

it('does the tasks in the same thread', async () => {
  const executor = threadExecutor(2);
  expect(executor.threads).toBe(1);
  const task = { number: 1, seed: 1, start: Int32Array.of(1) };
  expect(await executor.run(blouse(0), task)).toEqual(runTask(blouse(0), task));
  await executor.close();
});
