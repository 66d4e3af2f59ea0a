/**
 * `npm run mutants -- --sample 300 --seed 1`: makes every mutant of the rooms, draws a sample, and looks for each
 * whether the tests see it. Prints survivors and counts; `--out FILE` keeps a line of JSON for each mutant, `--again FILE`
 * tries those anew that survived in such a file, `--list` only counts.
 */
import { type ChildProcess, fork } from 'node:child_process';
import { appendFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { type Mutant, makeMutants } from './make.js';
import { filesIn, importsOf, type MutatedRoom, mutatedRooms, testsOf } from './rooms.js';
import { sampleMutants } from './sample.js';
import type { Message, Trial } from './trial.js';
import { keepTypesValid } from './types-valid.js';

interface Outcome {
  readonly mutant: Mutant;
  readonly is: 'killed' | 'hung' | 'survived';
  /** 1 = by tests of its own room. */
  readonly stage: number | null;
  readonly by: string | null;
  readonly ms: number;
}

const root = process.cwd();
/** A test file that takes so many times as long as without a mutant, and at least so many seconds, hangs. */
const hang = { times: 8, msLeast: 25_000 };

const { values: options } = parseArgs({
  options: {
    sample: { type: 'string', default: '300' },
    seed: { type: 'string', default: '1' },
    out: { type: 'string' },
    again: { type: 'string' },
    list: { type: 'boolean', default: false },
  },
});

/** The warm process, started anew after a hang. */
class Runner {
  private child: ChildProcess | null = null;
  readonly msOf = new Map<string, number>();
  testCount = 0;

  /** The first failure, null when there is none, or that a test file hangs. */
  async try(trial: Trial): Promise<{ readonly failed: string | null } | 'hung'> {
    this.child ??= fork(fileURLToPath(new URL('trial.js', import.meta.url)), {
      stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
    });
    const child = this.child;
    return new Promise((resolve, reject) => {
      let timer: NodeJS.Timeout | undefined;
      const settle = (answer: () => void) => {
        clearTimeout(timer);
        child.removeAllListeners();
        answer();
      };
      const wait = (ms: number) => {
        clearTimeout(timer);
        timer = setTimeout(() => settle(() => this.stop(resolve)), ms);
      };
      wait(10 * hang.msLeast);
      child.on('exit', (code) => settle(() => reject(new Error(`the test process ended with ${code}`))));
      child.on('message', (message: Message) => {
        if (message.is === 'done') {
          settle(() => resolve({ failed: message.failed }));
        } else if (message.is === 'begun') {
          wait(
            trial.mutant === null ? 600_000 : Math.max(hang.msLeast, hang.times * (this.msOf.get(message.test) ?? 0)),
          );
        } else if (trial.mutant === null) {
          this.msOf.set(message.test, message.ms);
          this.testCount += message.count;
        }
      });
      child.send(trial);
    });
  }

  private stop(resolve: (answer: 'hung') => void): void {
    this.end();
    resolve('hung');
  }

  end(): void {
    this.child?.removeAllListeners();
    this.child?.kill('SIGKILL');
    this.child = null;
  }
}

const runner = new Runner();

function allOf({ name }: MutatedRoom): Mutant[] {
  const files = filesIn(root, `src/${name}`, '.ts');
  return files.flatMap((file) => makeMutants(file, readFileSync(join(root, file), 'utf8')));
}

const stagesOf = new Map<string, string[][]>(
  mutatedRooms.map(({ name, stages }) => [name, stages.map((paths) => testsOf(root, paths))]),
);

/** The tests as they are: all must pass, and how long each takes says in which order they are tried. */
async function measure(): Promise<void> {
  const tests = [...new Set([...stagesOf.values()].flat(2))];
  const answer = await runner.try({ mutant: null, tests });
  if (answer === 'hung' || answer.failed !== null) throw new Error(`without a mutant: ${JSON.stringify(answer)}`);
  console.log(`${runner.testCount} tests in ${tests.length} files pass without a mutant; the slowest files are`);
  const slowest = [...runner.msOf].sort(([, one], [, other]) => other - one).slice(0, 8);
  for (const [test, ms] of slowest) console.log(`${(ms / 1000).toFixed(1)} s ${test}`);
}

const reachOf = new Map<string, ReadonlySet<string>>();

function reaches(test: string, file: string): boolean {
  const known = reachOf.get(test) ?? importsOf(root, test);
  reachOf.set(test, known);
  return known.has(file);
}

/** The test file that found the last mutant of a file: tried first. */
const killerOf = new Map<string, string>();

async function judge(mutant: Mutant): Promise<Outcome> {
  const begun = Date.now();
  const ended = (is: Outcome['is'], stage: number | null, by: string | null): Outcome => ({
    mutant,
    is,
    stage,
    by,
    ms: Date.now() - begun,
  });
  const stages = stagesOf.get(mutant.file.split('/')[1]!)!;
  for (const [i, stage] of stages.entries()) {
    const tests = stage.filter((test) => reaches(test, mutant.file));
    if (tests.length === 0) continue;
    const haste = (test: string) => (killerOf.get(mutant.file) === test ? 0 : (runner.msOf.get(test) ?? 0));
    tests.sort((one, other) => haste(one) - haste(other));
    const answer = await runner.try({ mutant, tests });
    if (answer === 'hung') return ended('hung', i + 1, null);
    if (answer.failed !== null) killerOf.set(mutant.file, tests.find((test) => answer.failed?.startsWith(test)) ?? '');
    if (answer.failed !== null) return ended('killed', i + 1, answer.failed);
  }
  return ended('survived', null, null);
}

function print({ file, line, was, becomes, kind }: Mutant): string {
  const short = (text: string) => JSON.stringify(text.length > 70 ? `${text.slice(0, 69)}…` : text);
  return `${file}:${line}  ${kind}: ${short(was)} -> ${short(becomes)}`;
}

function chosen(): Mutant[] {
  const rooms = mutatedRooms.map(allOf);
  if (options.again !== undefined) {
    const lines = readFileSync(options.again, 'utf8').trim().split('\n');
    const outcomes = lines.map((line): Outcome => JSON.parse(line));
    const living = new Set(outcomes.filter(({ is }) => is === 'survived').map(({ mutant }) => JSON.stringify(mutant)));
    return rooms.flat().filter((mutant) => living.has(JSON.stringify(mutant)));
  }
  mutatedRooms.forEach(({ name }, i) => {
    console.log(`${name}: ${rooms[i]!.length} mutants`);
  });
  const keep = (mutants: readonly Mutant[]) => keepTypesValid(root, mutants);
  return sampleMutants(rooms, Number(options.sample), Number(options.seed), keep);
}

async function main(): Promise<void> {
  const mutants = chosen();
  console.log(`${mutants.length} mutants to try`);
  if (options.list) return;
  await measure();
  if (options.out !== undefined) writeFileSync(options.out, '');
  const outcomes: Outcome[] = [];
  for (const mutant of mutants) {
    const outcome = await judge(mutant);
    outcomes.push(outcome);
    if (options.out !== undefined) appendFileSync(options.out, `${JSON.stringify(outcome)}\n`);
    if (outcome.is !== 'killed') console.log(`${outcomes.length} ${outcome.is} (${outcome.ms} ms): ${print(mutant)}`);
  }
  for (const { name } of mutatedRooms)
    summarize(
      name,
      outcomes.filter(({ mutant }) => mutant.file.startsWith(`src/${name}/`)),
    );
  summarize('all', outcomes);
}

function summarize(name: string, outcomes: readonly Outcome[]): void {
  const count = (is: Outcome['is'], stage?: number) =>
    outcomes.filter((one) => one.is === is && (stage === undefined || one.stage === stage)).length;
  const dead = count('killed') + count('hung');
  const share = ((100 * dead) / Math.max(1, outcomes.length)).toFixed(1);
  const how = `${count('killed', 1)} by its own tests, ${count('killed', 2)} by others, ${count('hung')} hung`;
  console.log(`${name}: ${dead} of ${outcomes.length} killed (${share} %): ${how}; ${count('survived')} survived`);
}

try {
  await main();
} finally {
  runner.end();
}
