/**
 * The same cut list, seed and effort give the same bytes: lay, SVG, PDF and report, whatever runs the tasks, in
 * whatever order they end, even when one is lost, and whatever the order of pieces in the file. Thread tests run on
 * the built program (`npm run build`).
 */
import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, onTestFinished, test } from 'vitest';
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

function hashText(content: string | Uint8Array): string {
  return createHash('sha256').update(content).digest('hex');
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
    hasLostThreads: false,
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
    ['apron', apron, 'drill', [1, 2, 3]],
    ['bag', bag, 'canvas 115', [2]],
  ])('%s: same thread, threads (%j), a careless executor', async (_, text, cloth, counts) => {
    const expected = await hashOf(text, sameThreadExecutor(), { cloth });
    for (const count of counts) {
      expect(await hashOf(text, await threads(count), { cloth }), `${count} threads`).toBe(expected);
      expect(await hashOf(text, carelessExecutor(count), { cloth })).toBe(expected);
    }
    expect(await hashOf(text, sameThreadExecutor(), { cloth }), 'once more').toBe(expected);
  });

  test('another seed is another search, so the hash above is no constant', async () => {
    const cloth = 'canvas 115';
    const other = await hashOf(bag, sameThreadExecutor(), { cloth, seed: 8 });
    expect(other).not.toBe(await hashOf(bag, sameThreadExecutor(), { cloth }));
  });

  describe('of whole processes', () => {
    const options = ['--effort', '0.1', '--method', 'open', '--cloth', 'canvas 115', '--quiet'];

    /** A folder with the cut list, and what else is to be different about a run in it. */
    interface Run {
      readonly list?: string;
      readonly environment?: Readonly<Record<string, string>>;
      readonly workers?: number;
      /** The folder that it is run from, and the cut list as it is called there. */
      readonly from?: (folder: string) => { readonly cwd: string; readonly path: string };
      readonly more?: readonly string[];
    }

    function folderOf(list: string): string {
      const folder = mkdtempSync(join(tmpdir(), 'shortlay-same-'));
      onTestFinished(() => rmSync(folder, { recursive: true }));
      writeFileSync(join(folder, 'bag.yaml'), list);
      return folder;
    }

    async function inFolder(
      folder: string,
      words: readonly string[],
      environment: Run['environment'],
    ): Promise<string> {
      const ended = await runProgram(words, folder, undefined, { environment: environment ?? {} });
      expect(ended.err.replace(/.*: notice: .*\n {2}fix: .*\n/g, '')).toBe('');
      expect(ended.exitCode).toBe(0);
      return ended.out;
    }

    /** Hashes of the lay, its drawings and its report, seconds and folders left out. */
    async function planned(run: Run = {}): Promise<Readonly<Record<string, string>>> {
      const folder = folderOf(run.list ?? bag);
      const { cwd, path } = run.from?.(folder) ?? { cwd: folder, path: 'bag.yaml' };
      const workers = ['--workers', `${run.workers ?? 1}`];
      const words = ['plan', path, ...options, ...workers, '--out', join(folder, 'out'), ...(run.more ?? ['--json'])];
      const out = await inFolder(cwd, words, run.environment);
      const report = out.replace(/"seconds": ?[\d.]+/g, '"seconds": 0').replaceAll(`${folder}/`, '');
      return { ...hashesIn(join(folder, 'out')), report: hashText(report.replaceAll('"file":"bag.yaml"', '')) };
    }

    function hashesIn(folder: string): Record<string, string> {
      const names = readdirSync(folder).sort();
      return Object.fromEntries(names.map((name) => [name, hashText(readFileSync(join(folder, name)))]));
    }

    let first: Promise<Readonly<Record<string, string>>> | null = null;
    /** Of one thread, by whichever test asks first. */
    const plain = () => {
      first ??= planned();
      return first;
    };

    test('2 and 3 threads, in other languages and time zones', async () => {
      const expected = await plain();
      expect(Object.keys(expected)).toHaveLength(4);
      const environment = (language: string, zone: string) => ({ LANG: language, LC_ALL: language, TZ: zone });
      const runs: readonly Run[] = [
        { workers: 2, environment: environment('tr_TR.UTF-8', 'Pacific/Kiritimati') },
        { workers: 3, environment: environment('de_DE', 'America/St_Johns') },
      ];
      for (const run of runs) expect(await planned(run), JSON.stringify(run)).toEqual(expected);
    }, 240_000);

    test('another working folder, an absolute path; other line ends, a mark before the first byte, comments', async () => {
      const expected = await plain();
      const absolute = await planned({ from: (folder) => ({ cwd: tmpdir(), path: join(folder, 'bag.yaml') }) });
      expect(absolute).toEqual(expected);
      const crlf = `\ufeff# Windows\n${bag}`.replaceAll('\n', '\r\n');
      const { report: _, ...files } = expected;
      // The report names lines, which the comment moves; lay and drawings are the same to the byte.
      expect(await planned({ list: crlf })).toMatchObject(files);
    }, 240_000);

    test('what is printed of a lay, in two languages', async () => {
      const folder = folderOf(bag);
      await inFolder(folder, ['plan', 'bag.yaml', ...options, '--out', '.'], {});
      const lay = readdirSync(folder).find((name) => name.endsWith('.lay.json'))!;
      const printed = async (out: string, environment: Run['environment']) => {
        for (const [what, format] of [
          ['marker', 'pdf'],
          ['marker', 'dxf'],
          ['marker', 'svg'],
          ['chalk', 'csv'],
        ] as const) {
          await inFolder(folder, ['print', lay, '--what', what, '--format', format, '--out', out], environment);
        }
        return hashesIn(join(folder, out));
      };
      const expected = await printed('one', {});
      expect(Object.keys(expected)).toHaveLength(4);
      const turkish = { LANG: 'tr_TR.UTF-8', LC_ALL: 'tr_TR.UTF-8', TZ: 'Pacific/Kiritimati' };
      expect(await printed('other', turkish)).toEqual(expected);
    }, 240_000);

    test('a run capped by --seconds is repeated by the effort that it reports', async () => {
      const read = (folder: string) =>
        readFileSync(join(folder, readdirSync(folder).find((name) => name.endsWith('.lay.json'))!), 'utf8');
      const [first, second] = [folderOf(bag), folderOf(bag)];
      const common = ['plan', '../bag.yaml', '--method', 'open', '--cloth', 'canvas 115', '--quiet', '--out', '.'];
      for (const folder of [first, second]) mkdirSync(join(folder, 'run'));
      const [capped, again] = [join(first, 'run'), join(second, 'run')];
      await inFolder(capped, [...common, '--seconds', '0.5'], {});
      const { effort } = JSON.parse(read(capped)) as { effort: number };
      expect(effort).toBeLessThan(20);
      await inFolder(again, [...common, '--effort', `${effort}`], {});
      expect(read(again)).toBe(read(capped));
    }, 240_000);
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

  test('cloths in another order in the file give the same lays', async () => {
    const [head, cloths] = bag.split(/^cloths:\n/m) as [string, string];
    const turned = `${head}cloths:\n${cloths.trimEnd().split('\n').reverse().join('\n')}\n`;
    const lays = async (text: string): Promise<string[]> => {
      const { outputs } = await planText(text, { ...options, effort: 0.25, method: 'open' });
      return outputs.map((output) => output!.layText).sort();
    };
    expect(await lays(turned)).toEqual(await lays(bag));
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
