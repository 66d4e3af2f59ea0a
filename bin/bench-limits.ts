/**
 * `npm run bench:limits -- [--kinds N (40)] [--corners N (500)] [--folder DIR]`: the largest work, planned, checked and
 * printed by the program itself, each step a process of its own whose time and greatest memory are told. Memory is read from
 * /proc, so elsewhere than on Linux it is left out.
 */
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { largeCutList, largestWork } from '../src/bench/largest.js';
import { readNumber } from '../src/bench/settings.js';

const { values } = parseArgs({
  options: {
    kinds: { type: 'string', default: `${largestWork.kinds}` },
    corners: { type: 'string', default: `${largestWork.corners}` },
    folder: { type: 'string' },
  },
});
const work = {
  ...largestWork,
  kinds: readNumber('kinds', values.kinds, true),
  corners: readNumber('corners', values.corners, true),
};
const folder = values.folder ?? mkdtempSync(join(tmpdir(), 'shortlay-limits-'));
mkdirSync(folder, { recursive: true });
const list = join(folder, 'fleet.yaml');
const lay = join(folder, 'fleet-shell.lay.json');
writeFileSync(list, largeCutList(work));
const program = fileURLToPath(new URL('shortlay.js', import.meta.url));

interface Spent {
  readonly seconds: number;
  /** Of all threads together. */
  readonly cpuSeconds: number;
  readonly megabytes: number;
  readonly out: string;
}

/** What the system says of a process while it runs; null where there is no /proc, or it is gone. */
function lookAt(id: number): { readonly kilobytes: number; readonly cpuSeconds: number } | null {
  try {
    const kilobytes = Number(/VmHWM:\s+(\d+)/.exec(readFileSync(`/proc/${id}/status`, 'utf8'))?.[1] ?? 0);
    const fields = readFileSync(`/proc/${id}/stat`, 'utf8').split(') ')[1]!.split(' ');
    return { kilobytes, cpuSeconds: (Number(fields[11]) + Number(fields[12])) / 100 };
  } catch {
    return null;
  }
}

async function runStep(words: readonly string[]): Promise<Spent> {
  const startedAt = performance.now();
  const child = spawn(process.execPath, [program, ...words], { stdio: ['ignore', 'pipe', 'inherit'] });
  let [out, kilobytes, cpuSeconds] = ['', 0, 0];
  child.stdout.on('data', (chunk) => {
    out += chunk;
  });
  const look = setInterval(() => {
    const seen = lookAt(child.pid!);
    if (seen === null) return;
    kilobytes = Math.max(kilobytes, seen.kilobytes);
    cpuSeconds = Math.max(cpuSeconds, seen.cpuSeconds);
  }, 20);
  const code = await new Promise<number | null>((resolve) => child.on('close', resolve));
  clearInterval(look);
  if (code !== 0) throw new Error(`shortlay ${words.join(' ')} ended with ${code}`);
  return { seconds: (performance.now() - startedAt) / 1000, cpuSeconds, megabytes: kilobytes / 1024, out };
}

const planWords = ['plan', list, '--effort', '0.1', '--quiet', '--out', folder];
const printWords = ['print', lay, '--what', 'marker'];
const written = (name: string) => `${(statSync(join(folder, name)).size / 1e6).toFixed(1)} MB`;
const steps: readonly (readonly [string, readonly string[], (out: string) => string])[] = [
  ['check the cut list', ['check', list], (out) => `${out.trim().split('\n').length} lines`],
  [
    'plan, open: to the first lay and its page',
    [...planWords, '--method', 'open', '--json'],
    (out) => {
      const [found] = (JSON.parse(out) as { lays: { seconds: number; copies: number; lengthUsedCm: number }[] }).lays;
      return `${found!.copies} copies on ${(found!.lengthUsedCm / 100).toFixed(1)} m; search ${found!.seconds.toFixed(0)} s`;
    },
  ],
  [
    'plan, all lay methods',
    planWords,
    () => `lay file ${written('fleet-shell.lay.json')}, PDF ${written('fleet-shell.pdf')}`,
  ],
  ['check the lay with its cut list', ['check', lay, list], () => written('fleet-shell.lay.json')],
  ['print the marker on A4', printWords, () => written('fleet-shell-marker.pdf')],
  [
    'print the marker on a roll 160 cm wide',
    [...printWords, '--sheet', 'roll:160'],
    () => written('fleet-shell-marker.pdf'),
  ],
];

process.stdout.write('| step | time | processor | memory | result |\n|---|---|---|---|---|\n');
for (const [what, words, told] of steps) {
  const { seconds, cpuSeconds, megabytes, out } = await runStep(words);
  const figures = [`${seconds.toFixed(0)} s`, `${cpuSeconds.toFixed(0)} s`, `${megabytes.toFixed(0)} MB`];
  process.stdout.write(`| ${what} | ${figures.join(' | ')} | ${told(out)} |\n`);
}
process.stdout.write(`\nload of the machine at the end: ${loadavg()[0]!.toFixed(1)}\n`);
