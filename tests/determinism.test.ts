/**
 * The same cut list, seed and effort give the same bytes: lay, SVG, PDF and report, whatever runs the tasks, in
 * whatever order they end, even when one is lost, and whatever the order of pieces in the file. Thread tests run on
 * the built program (`npm run build`).
 */
import { createHash } from 'node:crypto';
import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { sameThreadExecutor } from '../src/engine/same-thread.js';
import type { Executor, Task, TaskResult } from '../src/engine/types.js';
import type { PlanOptions } from '../src/index.js';
import type { Problem } from '../src/problem/types.js';
import { reportJson } from '../src/report/json.js';
import { runProgram } from './cli/run-program.js';
import { planText } from './support/plan.js';

const apron = readFileSync(fileURLToPath(new URL('../fixtures/boatyard/slipway-apron.yaml', import.meta.url)), 'utf8');
const bag = readFileSync(fileURLToPath(new URL('../fixtures/boatyard/sail-bag.yaml', import.meta.url)), 'utf8');

const options = { effort: 0.5, seed: 7 };

/** SHA-256 over everything that is written and reported, file by file. */
async function hashOf(text: string, executor: Executor, changed: Partial<PlanOptions> = {}): Promise<string> {
  try {
    const answer = await planText(text, { ...options, ...changed }, { executor });
    const hash = createHash('sha256');
    for (const output of answer.outputs) {
      hash.update(output!.layText).update(output!.svg).update(output!.pdf);
    }
    const nothing = answer.plans.map(() => null);
    hash.update(reportJson(answer, { files: answer.plans.map(() => []), seconds: nothing }));
    return hash.digest('hex');
  } finally {
    await executor.close();
  }
}

/** Claims to be several threads; ends tasks asked for together in a seeded order, and loses every third answer. */
function carelessExecutor(seed: number): Executor {
  const careful = sameThreadExecutor();
  let state = seed;
  const next = (below: number): number => {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
    return state % below;
  };
  return {
    threads: 3,
    async run(problem: Problem, task: Task): Promise<TaskResult | null> {
      for (let turns = next(4); turns > 0; turns--) await new Promise<void>((resume) => setImmediate(resume));
      const result = await careful.run(problem, task);
      return next(3) > 0 ? result : null;
    },
    rest: () => careful.rest(),
    close: () => careful.close(),
  };
}

async function threads(count: number): Promise<Executor> {
  // The pool's worker is JavaScript: it comes from the build.
  const built = new URL('../dist/src/pool/pool.js', import.meta.url).href;
  const { threadExecutor } = (await import(/* @vite-ignore */ built)) as { threadExecutor: (n: number) => Executor };
  return threadExecutor(count);
}

describe('same bytes', () => {
  test.each([
    ['apron', apron, 'drill'],
    ['bag', bag, 'canvas 115'],
  ])('%s: same thread, 1, 2 and 3 threads, a careless executor', async (_, text, cloth) => {
    const expected = await hashOf(text, sameThreadExecutor(), { cloth });
    expect(await hashOf(text, sameThreadExecutor(), { cloth })).toBe(expected);
    for (const count of [1, 2, 3]) {
      expect(await hashOf(text, await threads(count), { cloth }), `${count} threads`).toBe(expected);
    }
    expect(await hashOf(text, carelessExecutor(1), { cloth })).toBe(expected);
    expect(await hashOf(text, carelessExecutor(2), { cloth })).toBe(expected);
  });

  test('another seed is another search, so the hash above is no constant', async () => {
    const cloth = 'canvas 115';
    const other = await hashOf(bag, sameThreadExecutor(), { cloth, seed: 8 });
    expect(other).not.toBe(await hashOf(bag, sameThreadExecutor(), { cloth }));
  });

  test('two processes in another language and time zone', async () => {
    const words = [
      'plan',
      'fixtures/boatyard/sail-bag.yaml',
      '--effort',
      '0.5',
      '--json',
      '--quiet',
      '--cloth',
      'canvas 115',
    ];
    const root = fileURLToPath(new URL('..', import.meta.url));
    const out = mkdtempSync(join(tmpdir(), 'shortlay-'));
    const outputs: string[] = [];
    for (const [language, zone] of [
      ['C', 'UTC'],
      ['tr_TR.UTF-8', 'Pacific/Chatham'],
    ]) {
      const before = { LANG: process.env.LANG, TZ: process.env.TZ };
      Object.assign(process.env, { LANG: language, LC_ALL: language, TZ: zone });
      const ended = await runProgram([...words, '--out', out], root);
      Object.assign(process.env, before);
      expect(ended.exitCode).toBe(0);
      outputs.push(ended.out.replace(/"seconds": ?[\d.]+/g, '"seconds": 0'));
      outputs.push(readFileSync(join(out, 'sail-bag-canvas-canvas-115.pdf'), 'base64'));
    }
    expect(outputs[2]).toBe(outputs[0]);
    expect(outputs[3]).toBe(outputs[1]);
  });

  test('pieces in another order in the file give the same lay', async () => {
    const [head, pieces, cloths] = bag.split(/^pieces:$|^cloths:$/m) as [string, string, string];
    const blocks = pieces.split(/\n(?= {2}\S)/).filter((block) => block.trim() !== '');
    const turned = `${head}pieces:\n${blocks.reverse().join('\n')}\ncloths:${cloths}`;
    const lay = async (text: string): Promise<string> =>
      (await planText(text, { ...options, cloth: 'canvas 115' })).outputs[0]!.layText;
    expect(turned).not.toBe(bag);
    expect(await lay(turned)).toBe(await lay(bag));
  });

  test('a run ended by the clock is repeated by the effort it reports', async () => {
    let now = 0;
    const clock = () => {
      now += 1;
      return now;
    };
    const capped = await planText(bag, { ...options, cloth: 'canvas 115', effort: 50, seconds: 4 }, { clock });
    const { effort } = capped.outputs[0]!.lay;
    expect(effort).toBeLessThan(50);
    const again = await planText(bag, { ...options, cloth: 'canvas 115', effort });
    expect(again.outputs[0]!.layText).toBe(capped.outputs[0]!.layText);
  });
});
