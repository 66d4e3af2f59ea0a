/**
 * Measures the speed of the search on one instance. In every round each measure is taken once, so that measures to be
 * compared alternate (A, B, A, B) and a slow minute of the machine meets all of them; told are medians, and the median of
 * the ratios within a round. What was computed is hashed: equal hashes, equal work.
 *
 * Measured are the first batches of a real search, again and again: its tasks one after the other in this thread, and the
 * whole search on warm threads. To measure one thing more, add an entry to `measures`.
 */
import { createHash } from 'node:crypto';
import { assert } from '../diagnostics/assert.js';
import { sameThreadExecutor } from '../engine/same-thread.js';
import { type Search, startSearch } from '../engine/search.js';
import { makeTables, noFitOf } from '../engine/tables.js';
import { runTask } from '../engine/task.js';
import type { Executor, Task, TaskResult } from '../engine/types.js';
import type { Problem } from '../problem/types.js';
import { type Instance, instanceSubject } from './instance.js';
import { measureMoves, problemOf } from './moves.js';
import type { BenchTools } from './run.js';

/** Batches that are measured; fewer when the search ends before. */
const batchesMost = 8;
/** Threads of the program on the machine that the aims are set for. */
const manyWorkers = 2;

/** What the measures of one instance share. */
export interface Workbench {
  readonly tools: BenchTools;
  readonly instance: Instance;
  readonly problem: Problem;
  readonly tasks: readonly Task[];
  /** Executors whose threads have done such tasks before, by number of threads. */
  readonly warm: ReadonlyMap<number, Executor>;
}

export interface Taken {
  readonly figure: number;
  /** The numbers computed, in an order that depends on the work alone; null: only the time counts. */
  readonly computed: readonly Int32Array[] | null;
}

export interface Measure {
  readonly name: string;
  readonly unit: string;
  take(bench: Workbench): Promise<Taken>;
}

export const measures: readonly Measure[] = [
  { name: 'no-fit set-up', unit: 'ms', take: takeSetUp },
  { name: 'steps', unit: 'million/s', take: takeSteps },
  { name: 'batch, 1 worker', unit: 'ms', take: (bench) => takeBatch(bench, 1) },
  { name: 'batch, 2 workers', unit: 'ms', take: (bench) => takeBatch(bench, manyWorkers) },
  { name: 'move, about 50 copies', unit: 'us', take: (bench) => takeMoves(bench, 50) },
  { name: 'move, about 200 copies', unit: 'us', take: (bench) => takeMoves(bench, 200) },
  { name: 'move, about 1000 copies', unit: 'us', take: (bench) => takeMoves(bench, 1000) },
  { name: 'first lay', unit: 'ms', take: (bench) => takeFirstLay(bench, 1) },
  { name: 'first lay x10', unit: 'ms', take: (bench) => takeFirstLay(bench, 10) },
];

/** Ratios within a round: name, above, below. */
const ratios: readonly (readonly [string, string, string])[] = [
  ['speed-up with 2 workers', 'batch, 1 worker', 'batch, 2 workers'],
];

export interface Figure {
  readonly name: string;
  readonly unit: string;
  readonly median: number;
  readonly least: number;
  readonly most: number;
  /** Of what was computed; null where only the time counts. */
  readonly hash: string | null;
}

/** Takes every measure in each of the rounds. */
export async function measureSpeed(instance: Instance, rounds: number, tools: BenchTools): Promise<readonly Figure[]> {
  assert(rounds >= 1, 'a measure is taken at least once');
  const bench = await prepare(instance, tools);
  try {
    const taken = new Map(measures.map(({ name }): [string, Taken[]] => [name, []]));
    for (let round = 0; round < rounds; round++) {
      for (const measure of measures) taken.get(measure.name)!.push(await measure.take(bench));
    }
    const figures = measures.map(({ name, unit }) => {
      const all = taken.get(name)!;
      const values = all.map(({ figure }) => figure);
      return toFigure(name, unit, values, commonHash(name, all));
    });
    return [...figures, ...ratios.map(([name, above, below]) => toRatio(name, taken.get(above)!, taken.get(below)!))];
  } finally {
    for (const executor of bench.warm.values()) await executor.close();
  }
}

async function prepare(instance: Instance, tools: BenchTools): Promise<Workbench> {
  const { problem } = instanceSubject(instance, 1);
  const recorder = recordTasks(sameThreadExecutor());
  await runBatches(startSearch(problem, { seed: 1, executor: recorder.executor }));
  const warm = new Map([1, manyWorkers].map((workers) => [workers, tools.startExecutor(workers)]));
  for (const executor of warm.values()) await runBatches(startSearch(problem, { seed: 1, executor }));
  return { tools, instance, problem, tasks: recorder.tasks, warm };
}

/** Goes on to the last batch that is measured; how many there were. */
async function runBatches(search: Search): Promise<number> {
  let batches = 0;
  for (; batches < batchesMost && !search.finished; batches++) await search.step();
  return batches;
}

/** An executor that notes what it is asked and what it answers, by number of the task. */
function recordTasks(executor: Executor): {
  readonly executor: Executor;
  readonly tasks: readonly Task[];
  readonly results: ReadonlyMap<number, TaskResult>;
} {
  const tasks: Task[] = [];
  const results = new Map<number, TaskResult>();
  const run: Executor['run'] = async (problem, task) => {
    tasks.push(task);
    const result = await executor.run(problem, task);
    if (result !== null) results.set(task.number, result);
    return result;
  };
  return { executor: { ...executor, run }, tasks, results };
}

/** Everything derived from the problem before the first step, with the no-fit polygon of every pair of shapes. */
async function takeSetUp({ problem, tools }: Workbench): Promise<Taken> {
  const startedAt = tools.clock();
  const tables = makeTables(problem);
  for (let fixed = 0; fixed < tables.shapes; fixed++) {
    for (let moving = 0; moving < tables.shapes; moving++) {
      if (tables.formOf[fixed]! <= tables.formOf[moving]!) noFitOf(tables, fixed, moving);
    }
  }
  return { figure: 1000 * (tools.clock() - startedAt), computed: null };
}

/** In this thread, tables warm since the tasks were recorded. */
async function takeSteps({ problem, tasks, tools }: Workbench): Promise<Taken> {
  const startedAt = tools.clock();
  const results = tasks.map((task) => runTask(problem, task));
  const seconds = tools.clock() - startedAt;
  const steps = results.reduce((sum, result) => sum + result.steps, 0);
  return { figure: steps / seconds / 1_000_000, computed: numbersOf(results) };
}

/** The search as it is, tasks asked for ahead too; those of the batch after the last count nothing. */
async function takeBatch({ problem, tasks, tools, warm }: Workbench, workers: number): Promise<Taken> {
  const { executor, results } = recordTasks(warm.get(workers)!);
  const search = startSearch(problem, { seed: 1, executor });
  const startedAt = tools.clock();
  const batches = await runBatches(search);
  const figure = (1000 * (tools.clock() - startedAt)) / batches;
  return { figure, computed: numbersOf(tasks.flatMap(({ number }) => results.get(number) ?? [])) };
}

async function takeMoves({ instance, tools }: Workbench, copies: number): Promise<Taken> {
  const { each, places } = measureMoves(problemOf(instance, copies), tools.clock);
  return { figure: each, computed: [places] };
}

/** From the frozen problem to the first lay: threads started but never used for this problem. */
async function takeFirstLay({ instance, tools }: Workbench, times: number): Promise<Taken> {
  const { problem } = instanceSubject(instance, times);
  const executor = tools.startExecutor(manyWorkers);
  try {
    await startThreads(executor);
    const startedAt = tools.clock();
    const search = startSearch(problem, { seed: 1, executor });
    while ((await search.step()).lengthUm === null) assert(!search.finished, 'an instance has a lay');
    const milliseconds = 1000 * (tools.clock() - startedAt);
    const { solution } = search.result(true);
    assert(solution !== null, 'an instance has a lay');
    const numbers = solution.spots.flatMap(({ kind, choice, x, y }) => [kind, choice, x, y]);
    return { figure: milliseconds, computed: [Int32Array.from(numbers)] };
  } finally {
    await executor.close();
  }
}

/** One square to lay, so that the threads have started and loaded their code. */
async function startThreads(executor: Executor): Promise<void> {
  const outline = [[0, 0], [1, 0], [1, 1], [0, 1]] as const; // biome-ignore format: a square
  const square = { id: 'square', quantity: 2, outline };
  const tiny: Instance = { name: 'square', stripWidth: 1, allowedRotationsDegrees: [0], pieces: [square] };
  await startSearch(instanceSubject(tiny, 1).problem, { seed: 1, executor }).step();
}

function numbersOf(results: readonly TaskResult[]): readonly Int32Array[] {
  return results.flatMap(({ number, best, chain, steps }) => [
    Int32Array.of(number, best.length, chain.length, steps),
    best,
    chain,
  ]);
}

/** The hash that all takings of a measure share. */
function commonHash(name: string, taken: readonly Taken[]): string | null {
  const hashes = new Set(taken.map(({ computed }) => (computed === null ? null : hashOf(computed))));
  assert(hashes.size === 1, `${name}: every round computes the same`);
  return [...hashes][0]!;
}

function hashOf(computed: readonly Int32Array[]): string {
  const hash = createHash('sha256');
  for (const { buffer, byteOffset, byteLength } of computed)
    hash.update(new Uint8Array(buffer, byteOffset, byteLength));
  return hash.digest('hex').slice(0, 16);
}

function toRatio(name: string, above: readonly Taken[], below: readonly Taken[]): Figure {
  const values = above.map(({ figure }, round) => figure / below[round]!.figure);
  return toFigure(name, 'times', values, null);
}

function toFigure(name: string, unit: string, values: readonly number[], hash: string | null): Figure {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const median = sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
  return { name, unit, median, least: sorted[0]!, most: sorted.at(-1)!, hash };
}
