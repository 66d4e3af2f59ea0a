/** The same answer however it is computed, and the promises of the batch loop. */
import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/engine/random.js';
import { sameThreadExecutor } from '../../src/engine/same-thread.js';
import { startSearch } from '../../src/engine/search.js';
import { forgetTables } from '../../src/engine/tables.js';
import { runTask, startFresh, startPlain } from '../../src/engine/task.js';
import type { Executor, Progress, SearchResult } from '../../src/engine/types.js';
import type { Outline } from '../../src/units/types.js';
import { blouse, stripProblem } from '../support/problems.js';
import { type SearchOptions, search } from '../support/search.js';

const problem = stripProblem(300_000, [
  {
    outline: [
      [0, 0],
      [170_000, 20_000],
      [120_000, 90_000],
      [0, 110_000],
    ],
    count: 3,
    turns: [0, 180],
  },
  {
    outline: [
      [0, 0],
      [90_000, 0],
      [90_000, 40_000],
      [30_000, 40_000],
      [30_000, 80_000],
      [0, 80_000],
    ],
    count: 4,
    turns: [0, 180],
  },
  {
    outline: [
      [0, 0],
      [60_000, 0],
      [30_000, 70_000],
    ],
    count: 5,
    turns: [0, 180],
  },
]);

function options(executor: Executor, more: Partial<SearchOptions> = {}): SearchOptions {
  return {
    seed: 5,
    effort: 0.5,
    seconds: null,
    clock: () => 0,
    executor,
    onProgress: () => {},
    interrupted: () => false,
    ...more,
  };
}

/**
 * Claims to be three threads: what is asked for waits a random number of turns, so that it ends in any order; one of four
 * tasks is lost.
 */
function troubledExecutor(): Executor {
  const random = createRandom(99, 0);
  return {
    threads: 3,
    hasLostThreads: false,
    run: async (posed, task) => {
      for (let turns = random.below(4); turns > 0; turns--) await new Promise<void>((resume) => setImmediate(resume));
      return random.below(4) > 0 ? runTask(posed, task) : null;
    },
    rest: async () => {},
    close: async () => {},
  };
}

/** An executor, the numbers of all tasks asked of it, and of those that were while one of an earlier batch was out. */
function noted(plain: Executor): { executor: Executor; asked: number[]; ahead: number[] } {
  const [asked, ahead]: [number[], number[]] = [[], []];
  const out = new Set<number>();
  const batchOf = (number: number): number => Math.floor(number / 4);
  const run: Executor['run'] = async (posed, task) => {
    asked.push(task.number);
    if ([...out].some((other) => batchOf(other) < batchOf(task.number))) ahead.push(task.number);
    out.add(task.number);
    const result = await plain.run(posed, task);
    out.delete(task.number);
    return result;
  };
  return { executor: { ...plain, run }, asked, ahead };
}

describe('search', () => {
  it('gives the same answer twice, with cold tables, and from an executor that loses and shuffles', async () => {
    const first = await search(problem, options(sameThreadExecutor()));
    const second = await search(problem, options(sameThreadExecutor()));
    forgetTables();
    const cold = await search(problem, options(sameThreadExecutor()));
    const troubled = await search(problem, options(troubledExecutor()));
    expect(second).toEqual(first);
    expect(cold).toEqual(first);
    expect(troubled).toEqual(first);
  });

  it('answers a task alike after a large problem has used the same thread', () => {
    const task = { number: 3, seed: 5, start: startFresh(0) };
    forgetTables();
    const alone = runTask(problem, task);
    runTask(blouse(3000), { number: 0, seed: 1, start: startPlain(0, 0) });
    expect(runTask(problem, task)).toEqual(alone);
  });

  it('begins alike with more effort, and repeats itself with the effort reached', async () => {
    const seen: Progress[][] = [[], []];
    for (const [i, effort] of [0.25, 0.5].entries()) {
      await search(
        problem,
        options(sameThreadExecutor(), { effort, onProgress: (progress) => seen[i]!.push(progress) }),
      );
    }
    expect(seen[1]!.slice(0, seen[0]!.length)).toEqual(seen[0]);
    let ticks = 0;
    const clock = (): number => ticks++;
    const capped = await search(problem, options(sameThreadExecutor(), { effort: 100, seconds: 3, clock }));
    const again = await search(problem, options(sameThreadExecutor(), { effort: capped.effort }));
    expect(again).toEqual(capped);
  });

  it('stops when asked to and keeps the best so far', async () => {
    let batches = 0;
    const answer = await search(
      problem,
      options(sameThreadExecutor(), { effort: 100, onProgress: () => batches++, interrupted: () => batches >= 2 }),
    );
    expect(answer.status).toBe('interrupted');
    expect(answer.solution).not.toBeNull();
    expect(batches).toBe(2);
    const none = await search(problem, options(sameThreadExecutor(), { interrupted: () => true }));
    expect(none).toMatchObject({ solution: null, status: 'interrupted', effort: 0 });
  });

  it('is the same past the race of its starts, and counts those that are over', async () => {
    const effort = 5;
    const plainly = await search(problem, options(sameThreadExecutor(), { effort }));
    const troubled = await search(problem, options(troubledExecutor(), { effort }));
    expect(troubled).toEqual(plainly);
    expect(plainly.effort).toBe(effort);
    expect(plainly.status).toBe('shortest found');
    const { starts, of } = plainly.reachedBy;
    expect(starts).toBeGreaterThanOrEqual(1);
    expect(of).toBeGreaterThanOrEqual(3);
    const before = await search(problem, options(sameThreadExecutor(), { effort: 1 }));
    expect(before.solution!.lengthUm).toBeGreaterThanOrEqual(plainly.solution!.lengthUm);
  }, 120_000);

  it('asks for tasks ahead of their batch when there are threads, and for none twice', async () => {
    const effort = 1;
    const alone = noted(sameThreadExecutor());
    const several = noted(troubledExecutor());
    const expected = await search(problem, options(alone.executor, { effort }));
    expect(await search(problem, options(several.executor, { effort }))).toEqual(expected);
    // Four starts race for 16 batches, so 16 tasks are four batches.
    expect(alone.asked).toEqual([...new Array(16).keys()]);
    expect(alone.ahead).toEqual([]);
    const asked = [...several.asked].sort((a, b) => a - b);
    expect(asked.slice(0, 16)).toEqual(alone.asked);
    // From the second batch on: of three threads one is free when two of the four are left, another when one is.
    expect(asked.slice(16)).toHaveLength(2);
    expect(several.ahead).toHaveLength(6);
  });

  it('ends by itself when many independent starts reach the same length', async () => {
    // Wedges that cannot be turned: more of them than are tried in all arrangements, and no bound tells their length.
    const wedge: Outline = [
      [0, 0],
      [200_000, 0],
      [0, 140_000],
    ];
    const wedges = stripProblem(290_000, [{ outline: wedge, count: 11 }]);
    const answer = await search(wedges, options(sameThreadExecutor(), { effort: 30 }));
    expect(answer.status).toBe('shortest found');
    expect(answer.effort).toBeLessThan(30);
    expect(answer.reachedBy.starts).toBeGreaterThanOrEqual(6);
    expect(2 * answer.reachedBy.starts).toBeGreaterThanOrEqual(answer.reachedBy.of);
  }, 120_000);

  it('says that it does not fit when every lay is longer than coordinates can hold', async () => {
    const board: Outline = [
      [0, 0],
      [1_000_000, 0],
      [1_000_000, 200_000],
      [0, 200_000],
    ];
    const boards = stripProblem(300_000, [{ outline: board, count: 60 }]);
    const answer = await search(boards, options(sameThreadExecutor()));
    expect(answer).toMatchObject({ solution: null, status: 'does not fit', lengthFoundUm: null, fitProven: false });
  });

  it('can be driven batch by batch with the same result', async () => {
    const whole = await search(problem, options(sameThreadExecutor(), { effort: 0.5 }));
    const stepped = startSearch(problem, { seed: 5, executor: sameThreadExecutor() });
    while (stepped.effort < 0.5 && !stepped.finished) await stepped.step();
    const result: SearchResult = stepped.result(false);
    expect(result).toEqual(whole);
  });

  it('lays a blouse of curved pieces legally and improves on its first lay', async () => {
    const lengths: number[] = [];
    const answer = await search(
      blouse(3000),
      options(sameThreadExecutor(), { effort: 2, onProgress: ({ lengthUm }) => lengths.push(lengthUm!) }),
    );
    expect(answer.solution!.lengthUm).toBeLessThan(lengths[0]!);
    expect(answer.solution!.lengthUm).toBeGreaterThanOrEqual(answer.bound.um);
  });
});
