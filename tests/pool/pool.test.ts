/** Threads give the bytes of the same thread. Needs the built program: `npm run build` first, as `npm test` does. */
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { sameThreadExecutor } from '../../src/engine/same-thread.js';
import type { Executor, SearchResult } from '../../src/engine/types.js';
import { blouse } from '../support/problems.js';
import { search } from '../support/search.js';

const built = new URL('../../dist/src/pool/pool.js', pathToFileURL(import.meta.filename));
const { threadExecutor } = (await import(built.href)) as typeof import('../../src/pool/pool.js');

async function solve(executor: Executor): Promise<SearchResult> {
  const result = await ask(executor);
  await executor.close();
  return result;
}

function ask(executor: Executor): Promise<SearchResult> {
  return search(blouse(3000), {
    seed: 3,
    effort: 0.5,
    seconds: null,
    clock: () => 0,
    executor,
    onProgress: () => {},
    interrupted: () => false,
  });
}

describe('threads', () => {
  it('answer like the same thread, whether 1, 2 or 3', async () => {
    const expected = await solve(sameThreadExecutor());
    for (const workers of [1, 2, 3]) {
      const executor = threadExecutor(workers);
      const found = await ask(executor);
      const { hasLostThreads } = executor;
      await executor.close();
      expect(found).toEqual(expected);
      expect(hasLostThreads).toBe(false);
    }
  });

  it('that cannot do a task say that it is lost, and so do those that are ended meanwhile', async () => {
    const executor = threadExecutor(1);
    const good = { number: 1, seed: 1, start: Int32Array.of(1) };
    // A start that says "go on from a lay" and holds half a lay: the thread's assertion fails.
    const bad = { number: 2, seed: 1, start: Int32Array.of(2, 0, 99) };
    const results = await Promise.all([bad, good].map((task) => executor.run(blouse(0), task)));
    expect(results.map((result) => result?.number ?? null)).toEqual([null, 1]);
    const late = executor.run(blouse(0), { ...good, number: 3 });
    await executor.close();
    expect(await late).toBeNull();
  });

  // One that is ended meanwhile would take the whole program with it: see workers/thread.cts.
  it('load no ES module by require', async () => {
    const executor = threadExecutor(1, { entry: new URL('threads/tell-loading.mjs', import.meta.url) });
    const calls = await executor.run(blouse(0), { number: 1, seed: 1, start: Int32Array.of(1) });
    await executor.close();
    expect(calls).toContain('tell-loading.mjs');
    expect(calls).not.toMatch(/node:internal\/modules\/cjs|forRequire/i);
  });

  describe('that misbehave change no answer', { timeout: 600_000 }, () => {
    const expected = solve(sameThreadExecutor());

    it.each([
      ['cannot be loaded', 1, 'die-at-start', {}],
      ['cannot be loaded', 2, 'die-at-start', {}],
      ['end before they are asked', 1, 'leave-at-start', { silenceSeconds: 5 }],
      ['end in the middle of tasks', 2, 'die-in-task', {}],
      ['die between tasks', 2, 'fail-later', {}],
      ['never come back', 2, 'hang', { silenceSeconds: 5 }],
      ['talk nonsense', 2, 'talk-nonsense', {}],
      ['fail in the middle of tasks', 2, 'fail-in-task', {}],
    ])('when they %s (%d)', async (_, workers, name, settings) => {
      const entry = new URL(`threads/${name}.mjs`, import.meta.url);
      expect(await solve(threadExecutor(workers, { entry, ...settings }))).toEqual(await expected);
    });

    it('and once they are given up, lets others have their turn between tasks', async () => {
      const entry = new URL('threads/die-at-start.mjs', import.meta.url);
      const executor = threadExecutor(2, { entry });
      const task = { number: 1, seed: 1, start: Int32Array.of(1) };
      while (executor.threads === 2) await executor.run(blouse(0), task);
      let turns = 0;
      const turn = setInterval(() => turns++, 0);
      for (let i = 0; i < 3; i++) expect((await executor.run(blouse(0), task))?.number).toBe(1);
      clearInterval(turn);
      expect(turns).toBeGreaterThan(0);
      await executor.close();
      expect(await executor.run(blouse(0), task)).toBeNull();
    });
  });
});
