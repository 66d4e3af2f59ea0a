/** kill -9 at any moment leaves the old file or the whole new one. */
import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { killRuns } from './kills.js';
import { builtRoot } from './run-program.js';

/** Writes the file again and again, all of one letter, another one each time; says so once it is at it. */
const writer = `
  const { nodeWorld } = await import(process.argv[1]);
  const world = nodeWorld();
  for (let i = 0; ; i++) {
    const bytes = Buffer.alloc(300_000 + 1000 * (i % 26), 97 + (i % 26));
    await (await world.makeReady(process.argv[2], bytes)).putInPlace();
    if (i === 0) process.stdout.write('writing');
  }`;

/** Kills a writer so many milliseconds after its first file was whole; gives what stands there then. */
function killAfter(milliseconds: number, path: string): Promise<string> {
  const world = new URL('src/cli/node-world.js', `file://${builtRoot}`).href;
  const child = spawn(process.execPath, ['--input-type=module', '-e', writer, world, path]);
  child.stdout.once('data', () => setTimeout(() => child.kill('SIGKILL'), milliseconds));
  return new Promise((resolve) => child.on('close', () => resolve(readFileSync(path, 'latin1'))));
}

it('leaves a whole file behind, 30 times', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'shortlay-kill-'));
  const left: string[] = [];
  for (let round = 0; round < 10; round++) {
    // Three at a time; moments spread over some writes of a few milliseconds each.
    const paths = [0, 1, 2].map((i) => join(folder, `${i}.lay.json`));
    for (const path of paths) writeFileSync(path, '');
    left.push(...(await Promise.all(paths.map((path, i) => killAfter(3 * round + 0.7 * i, path)))));
  }
  for (const content of left) {
    const letter = content.charCodeAt(0) - 97;
    expect(content.length).toBe(300_000 + 1000 * letter);
    expect(content).toBe((content[0] ?? '').repeat(content.length));
  }
  expect(new Set(left.map((content) => content[0])).size).toBeGreaterThan(1);
  rmSync(folder, { recursive: true });
});

/**
 * `SHORTLAY_KILLS=1000 SHORTLAY_KILLS_SEED=7` kills so often. Without them a few fixed ones; which moments of the program those
 * are depends on the machine.
 */
const times = Number(process.env.SHORTLAY_KILLS ?? 10);

it(`leaves whole files of the real program behind, ${times} times`, { timeout: 60_000 + 20_000 * times }, async () => {
  const folder = mkdtempSync(join(tmpdir(), 'shortlay-kills-'));
  const seed = Number(process.env.SHORTLAY_KILLS_SEED ?? 1);
  const tally = await killRuns(folder, times, seed, (soFar) => {
    if (soFar.kills % 50 === 0) process.stderr.write(`${JSON.stringify(soFar)}\n`);
  });
  if (process.env.SHORTLAY_KILLS !== undefined)
    process.stderr.write(`seed ${seed}: ${JSON.stringify(tally, null, 1)}\n`);
  expect(tally.broken).toEqual([]);
  expect(tally.kills).toBe(times);
  rmSync(folder, { recursive: true });
});
