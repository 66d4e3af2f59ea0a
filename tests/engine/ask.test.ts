/** Whatever an executor says, only an answer to the task counts; the rest is lost and done again. */
import { describe, expect, it } from 'vitest';
import { ask } from '../../src/engine/ask.js';
import { sameThreadExecutor } from '../../src/engine/same-thread.js';
import { runTask, startChain, startPlain } from '../../src/engine/task.js';
import { rises } from '../../src/engine/tighten.js';
import type { Executor, TaskResult } from '../../src/engine/types.js';
import { blouse } from '../support/problems.js';
import { search } from '../support/search.js';

const problem = blouse(3000);
const task = { number: 2, seed: 1, start: startPlain(0, 0) };
const right = runTask(problem, task);

/** Says something else than it should; most of it is nothing that the types would let through. */
function saying(change: (result: TaskResult) => unknown): Executor {
  return {
    threads: 2,
    hasLostThreads: false,
    run: async (posed, asked) => change(runTask(posed, asked)) as TaskResult,
    rest: async () => undefined,
    close: async () => undefined,
  };
}

function spoilt(code: Int32Array, at: number, value: number): Int32Array {
  const copy = code.slice();
  copy[at] = value;
  return copy;
}

const nonsense: readonly (readonly [string, (result: TaskResult) => unknown])[] = [
  ['a word', () => 'done'],
  ['nothing', () => undefined],
  ['a list', () => []],
  ['an answer to another task', (result) => ({ ...result, number: result.number + 1 })],
  ['steps that are no number', (result) => ({ ...result, steps: Number.NaN })],
  ['steps without end', (result) => ({ ...result, steps: Number.POSITIVE_INFINITY })],
  ['steps in words', (result) => ({ ...result, steps: '12' })],
  ['fewer than no steps', (result) => ({ ...result, steps: -1 })],
  ['a lay as a plain list', (result) => ({ ...result, best: [...result.best] })],
  ['half a lay', (result) => ({ ...result, best: result.best.subarray(0, 6) })],
  ['a lay that lacks a thing', (result) => ({ ...result, best: result.best.subarray(4) })],
  ['a lay of unknown things', (result) => ({ ...result, best: spoilt(result.best, 0, 99) })],
  ['a lay with a choice that there is not', (result) => ({ ...result, best: spoilt(result.best, 1, 99) })],
  ['half a chain', (result) => ({ ...result, chain: result.chain.subarray(0, 20) })],
  ['a chain that says to be longer', (result) => ({ ...result, chain: spoilt(result.chain, 6, 1) })],
  [
    'a chain with more rounds of a trial than there are',
    (result) => ({ ...result, chain: spoilt(result.chain, 8, 31) }),
  ],
  ['a chain in a trial that is over', (result) => ({ ...result, chain: spoilt(result.chain, 8, -1) })],
  ['a chain of unknown things', (result) => ({ ...result, chain: spoilt(result.chain, 24, 99) })],
  [
    'a chain that tries a rise of weights there is not',
    (result) => ({ ...result, chain: spoilt(result.chain, 9, rises.length) }),
  ],
  [
    'a chain with more successes than tries',
    (result) => ({ ...result, chain: spoilt(result.chain, 10 + rises.length, 99) }),
  ],
  ['no chain', ({ chain: _, ...result }) => result],
];

describe('what an executor says', { timeout: 600_000 }, () => {
  it('is taken when it is an answer, to begin with and later in a chain', async () => {
    expect(right.best.length).toBeGreaterThan(0);
    expect(await ask(sameThreadExecutor(), problem, task)).toEqual(right);
    const next = { number: 6, seed: 1, start: startChain(right.chain) };
    expect(await ask(sameThreadExecutor(), problem, next)).toEqual(runTask(problem, next));
  });

  it.each(nonsense)('is lost when it is %s', async (_, change) => {
    expect(await ask(saying(change), problem, task)).toBeNull();
  });

  it('is lost when it fails, at once or later', async () => {
    const failing = { ...saying(() => null), run: () => Promise.reject(new Error('no')) };
    const throwing: Executor = {
      ...failing,
      run: () => {
        throw new Error('no');
      },
    };
    expect(await ask(failing, problem, task)).toBeNull();
    expect(await ask(throwing, problem, task)).toBeNull();
  });

  it('never changes the answer of a search', async () => {
    const rest = {
      seed: 5,
      effort: 0.5,
      seconds: null,
      clock: () => 0,
      onProgress: () => {},
      interrupted: () => false,
    };
    const expected = await search(problem, { ...rest, executor: sameThreadExecutor() });
    let said = 0;
    const mixed = saying((result) => nonsense[said++ % nonsense.length]![1](result));
    expect(await search(problem, { ...rest, executor: mixed })).toEqual(expected);
  });

  it('that looks right but is no legal lay is our own fault, never an answer', async () => {
    const rest = {
      seed: 5,
      effort: 0.25,
      seconds: null,
      clock: () => 0,
      onProgress: () => {},
      interrupted: () => false,
    };
    // Everything at one spot.
    const lying = saying((result) => ({ ...result, best: result.best.map((n, i) => (i % 4 < 2 ? n : 0)) }));
    await expect(search(problem, { ...rest, executor: lying })).rejects.toThrow();
  });
});
