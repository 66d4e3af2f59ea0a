/**
 * The program needs no network: with every way to it refused, and on Linux also in a network namespace of its own with
 * nothing in it, it writes and says the same bytes as otherwise, and has tried nothing.
 */
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { boatyard, type How, runProgram } from './run-program.js';
import { filesIn, sceneOf } from './scenes.js';

const preload = new URL('../support/no-network.mjs', import.meta.url).href;
const bag = join(boatyard, 'sail-bag.yaml');
const lay = 'sail-bag-canvas-canvas-115.lay.json';
const runs: readonly (readonly string[])[] = [
  [
    'plan',
    bag,
    '--cloth',
    'canvas 115',
    '--method',
    'open',
    '--effort',
    '0.1',
    '--workers',
    '2',
    '--out',
    '.',
    '--quiet',
  ],
  ['check', lay, bag],
  ['print', lay, '--what', 'marker', '--out', '.'],
  ['print', lay, '--what', 'chalk', '--out', '.'],
  ['print', bag, '--what', 'pieces', '--out', '.'],
];

/** All runs one after the other in a folder of their own: what each said and how it ended, then each file by its name. */
async function make(how: How): Promise<readonly (readonly [string, string])[]> {
  const folder = sceneOf({});
  const said: [string, string][] = [];
  for (const words of runs) {
    const { exitCode, out, err } = await runProgram(words, folder, undefined, how);
    said.push([words.slice(0, 1).join(), `${exitCode}\n${out}\n${err}`.replaceAll(folder, 'FOLDER')]);
  }
  const files = filesIn(folder).map((name) => [name, readFileSync(join(folder, name), 'base64')] as const);
  return [...said, ...files];
}

/** Without a namespace of their own processes cannot be cut off here; `unshare` is of Linux, and some machines forbid it. */
const canCutOff = spawnSync('unshare', ['--net', '--map-root-user', 'true']).status === 0;

describe('without a network', () => {
  it('nothing is tried, in no thread, and the bytes are the same', async () => {
    const log = join(sceneOf({}), 'log');
    const usual = await make({});
    const refused = await make({ nodeWords: ['--import', preload], environment: { NETWORK_LOG: log } });
    expect(usual.length).toBeGreaterThanOrEqual(runs.length + 6);
    expect(usual.slice(0, runs.length).every(([, said]) => said.startsWith('0\n'))).toBe(true);
    expect(refused).toEqual(usual);
    const lines = readFileSync(log, 'utf8').trim().split('\n');
    expect(lines.filter((line) => line.startsWith('tried'))).toEqual([]);
    // The program's own thread of each run, and those of its pool.
    expect(lines.filter((line) => line === 'thread 0')).toHaveLength(runs.length);
    expect(new Set(lines).size).toBeGreaterThan(1);
  }, 300_000);

  it.skipIf(!canCutOff)(
    'the bytes are the same in an empty network namespace (where unshare may be used)',
    async () => {
      expect(await make({ through: ['unshare', '--net', '--map-root-user'] })).toEqual(await make({}));
    },
    300_000,
  );

  it.each([
    `await fetch('http://127.0.0.1:9/')`,
    `(await import('node:net')).connect(9)`,
    `new (await import('node:net')).Socket().connect(9)`,
    `(await import('node:https')).get('https://127.0.0.1:9/')`,
    `await (await import('node:dns/promises')).lookup('localhost')`,
    `(await import('node:dgram')).createSocket('udp4')`,
  ])('a program that does try is caught: %s', (code) => {
    const log = join(sceneOf({}), 'log');
    const words = ['--import', preload, '--input-type=module', '-e', code];
    const { status, stderr } = spawnSync(process.execPath, words, { env: { ...process.env, NETWORK_LOG: log } });
    expect(status).toBe(1);
    expect(String(stderr)).toContain('the network is refused');
    expect(readFileSync(log, 'utf8')).toMatch(/^tried /m);
  });
});
