/**
 * `npm run fuzz -- --minutes N [--seed S] [--jobs 2] [--cases N] [--from K] [--out FOLDER]`: plays case after case of a seed in so
 * many processes, writes every violation, made small, into FOLDER (fixtures/regressions), and prints the counts at the end or
 * at Ctrl-C.
 */
import { fork } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { fixtures } from './cases.js';
import { addTally, count, type Tally, tallyText } from './tally.js';
import { type Hang, type Patience, watchProcess } from './watch.js';
import type { Told } from './worker.js';

const { values } = parseArgs({
  options: {
    minutes: { type: 'string', default: '5' },
    seed: { type: 'string', default: '1' },
    jobs: { type: 'string', default: '2' },
    cases: { type: 'string', default: '1000000000' },
    from: { type: 'string', default: '0' },
    out: { type: 'string', default: `${fixtures}regressions` },
  },
});

/** Ten minutes of sleep, or of the processor; a program that is tried is watched for itself, and less long. */
const patience: Patience = { everyMs: 10_000, looksMost: 60, secondsMost: 600 };
/** A process is renewed after so many cases. */
const casesOfWorker = 150;

const begin = Date.now();
const end = begin + Number(values.minutes) * 60_000;
const last = Number(values.from) + Number(values.cases);
const tally: Tally = new Map();
const written = new Map<string, number>();
/** Cases that were lost once, perhaps through no fault of theirs. */
const again: number[] = [];
const lost = new Set<number>();
let next = Number(values.from);
let isStopped = false;

process.on('SIGINT', () => {
  if (isStopped) process.exit(130);
  isStopped = true;
});
await Promise.all(Array.from({ length: Number(values.jobs) }, workOn));
const minutes = ((Date.now() - begin) / 60_000).toFixed(1);
process.stdout.write(
  `seed ${values.seed}, cases ${values.from} to ${next - 1}, ${minutes} minutes\n${tallyText(tally)}`,
);
if ([...tally.keys()].some((what) => what.startsWith('violations'))) process.exitCode = 1;

function isOver(): boolean {
  return isStopped || (again.length === 0 && (next >= last || Date.now() >= end));
}

/** Keeps one process at work until the end. */
async function workOn(): Promise<void> {
  while (!isOver()) await useWorker();
}

function useWorker(): Promise<void> {
  const path = fileURLToPath(new URL('./worker.js', import.meta.url));
  const child = fork(path, [values.seed], { execArgv: ['--max-old-space-size=2048'] });
  return new Promise((resolve) => {
    let current = -1;
    let left = casesOfWorker;
    let hang: Hang | null = null;
    let endWatch = () => {};
    const handOut = (): void => {
      endWatch();
      if (isOver() || left-- === 0) {
        current = -1;
        child.disconnect();
        return;
      }
      current = again.shift() ?? next++;
      endWatch = watchProcess(child.pid!, patience, (told) => {
        hang = told;
        child.kill('SIGKILL');
      });
      child.send({ number: current });
    };
    child.on('message', (message: 'ready' | Told) => {
      if (message !== 'ready') take(message);
      handOut();
    });
    child.on('exit', (code, signal) => {
      endWatch();
      if (current >= 0 && !isStopped) lose(current, hang, `${signal ?? code}`);
      resolve();
    });
  });
}

function take({ number, tally: part, violations }: Told): void {
  count(tally, 'cases');
  addTally(tally, part);
  // On a terminal Ctrl-C reaches the programs that are tried as well: nobody knows then whose fault it is.
  if (isStopped) return;
  for (const { kind, signature, text } of violations) {
    count(tally, `violations: ${kind}`);
    const times = (written.get(signature) ?? 0) + 1;
    written.set(signature, times);
    process.stdout.write(`case ${number}: ${signature}\n`);
    if (times > 1) continue;
    mkdirSync(values.out, { recursive: true });
    const hash = createHash('sha256').update(signature).digest('hex').slice(0, 8);
    writeFileSync(`${values.out}/${kind}-${hash}.json`, text);
  }
}

/** Told when it hangs, or when it is lost twice: the first time somebody else may have ended the process. */
function lose(number: number, hang: Hang | null, how: string): void {
  if (hang === null && !lost.has(number)) {
    lost.add(number);
    again.push(number);
    return;
  }
  count(tally, 'cases');
  count(tally, 'violations: process lost');
  process.stdout.write(
    `case ${number}: the fuzz process ${hang ?? `ended by ${how}`}; --from ${number} --cases 1 plays it again\n`,
  );
}
