/** `plan`: reads the cut lists, lets it be planned, writes the lays, reports. */
import { join } from 'node:path';
import { formatFaults } from '../diagnostics/faults.js';
import type { Fault } from '../diagnostics/types.js';
import type { Executor } from '../engine/types.js';
import type { CutListSource, LayOutput, MaterialPlan, PlanAnswer, PlanTools } from '../index.js';
import type { LengthUnit } from '../units/types.js';
import { exitCodes } from './exit-codes.js';
import {
  type CutListInput,
  checkFolder,
  editedCode,
  outputFolder,
  readCutListInputs,
  readKept,
  sourceOf,
  type Written,
  writeFiles,
} from './files.js';
import { tellOwnFault } from './own-fault.js';
import { plainPath, plainText } from './plain-text.js';
import { type ProgressLine, progressLine } from './progress.js';
import { reportWidth } from './report-width.js';
import type { PlanSettings, RunSettings } from './settings.js';
import type { World } from './world.js';

type Planned = Extract<PlanAnswer, { kind: 'planned' }>;

/** @returns the exit code */
export async function runPlan(world: World, settings: PlanSettings): Promise<number> {
  const folder = outputFolder(settings.cutLists[0]!.path, settings.out);
  const kept = settings.keep === null ? null : await readKept(world, settings.keep, folder);
  if (kept?.ok === false) return tellFaults(world, kept.faults);
  return searchFor(world, settings, settings.effort, async ({ inputs, sources }, tools) => {
    const begin = world.clock();
    const lastStep = new Map<string, number>();
    const { planCutLists } = await import('../index.js');
    const onProgress: PlanTools['onProgress'] = (step) => {
      lastStep.set(step.material, world.clock());
      tools.onProgress(step);
    };
    const answer = await planCutLists(sources, settings, { ...tools, onProgress }, kept?.value.source ?? null);
    if (answer.kind === 'faults') return { faults: answer.faults };
    const isEmpty = answer.outputs.every((output) => output === null);
    const seconds = secondsOfPlans(answer, begin, lastStep);
    const all = kept === null ? inputs : [...inputs, kept.value.input];
    return { isEmpty, deliver: () => deliver(world, settings, all, answer, seconds) };
  });
}

/** The cut lists of a run: as read, and as the library takes them. */
export interface RunInputs {
  readonly inputs: readonly CutListInput[];
  readonly sources: readonly CutListSource[];
}

/** What a search for lays came to: faults of the input, or something to hand out. */
export type Found =
  | { readonly faults: readonly Fault[] }
  | {
      /** There is no lay at all. */
      readonly isEmpty: boolean;
      /** @returns the exit code */
      readonly deliver: () => Promise<number>;
    };

/**
 * What `plan` and `compare` have in common: reads the cut lists, looks at the folder, runs a search that can be
 * interrupted and shows its progress, and hands out what was found.
 * @param effort that progress is told against
 * @returns the exit code
 */
export async function searchFor(
  world: World,
  settings: RunSettings & { readonly seed: number },
  effort: number,
  find: (lists: RunInputs, tools: PlanTools) => Promise<Found>,
): Promise<number> {
  const progress = progressLine(world, effort, settings.quiet);
  const stop = stopOnInterrupt(world, progress);
  try {
    return await searchUntil(world, settings, effort, find, progress, stop);
  } finally {
    stop.end();
  }
}

async function searchUntil(
  world: World,
  settings: RunSettings & { readonly seed: number },
  effort: number,
  find: (lists: RunInputs, tools: PlanTools) => Promise<Found>,
  progress: ProgressLine,
  stop: Stop,
): Promise<number> {
  const read = await readCutListInputs(
    world,
    settings.cutLists.map(({ path }) => path),
    true,
  );
  if (!read.ok) return tellFaults(world, read.faults);
  const inputs = read.value;
  const sources = inputs.map((input, i) => ({ ...sourceOf(input), garments: settings.cutLists[i]!.garments }));
  const folderFault = await checkFolder(world, outputFolder(settings.cutLists[0]!.path, settings.out));
  if (folderFault !== null) return tellFaults(world, [folderFault]);
  try {
    const found = await withThreads(world, settings.workers, async (executor) => {
      const tellLostThreads = lostThreadsTeller(executor, progress);
      const onProgress: PlanTools['onProgress'] = (step) => {
        tellLostThreads();
        progress.show(step);
      };
      const tools = { executor, clock: world.clock, interrupted: stop.requested, onProgress };
      const answer = await find({ inputs, sources }, tools);
      tellLostThreads();
      return answer;
    });
    progress.end();
    if ('faults' in found) return tellFaults(world, found.faults);
    if (stop.requested() && found.isEmpty) {
      progress.say('interrupted before a first lay was found; nothing is written');
      return exitCodes.interrupted;
    }
    stop.nowWrites();
    return await found.deliver();
  } catch (error) {
    progress.end();
    return tellOwnFault(world, error, { seed: settings.seed, effort, inputSha256: inputs.map(({ sha256 }) => sha256) });
  }
}

async function withThreads<T>(world: World, workers: number, work: (executor: Executor) => Promise<T>): Promise<T> {
  const executor = await world.executor(workers);
  try {
    return await work(executor);
  } finally {
    await executor.close();
  }
}

/** Says, once, when the threads of the search were given up; it goes on without them by itself. */
function lostThreadsTeller(executor: Executor, progress: ProgressLine): () => void {
  let isTold = false;
  return () => {
    if (isTold || !executor.hasLostThreads) return;
    isTold = true;
    progress.say(
      'note: the threads of the search ended, did not start or did not answer, so it goes on without them, more slowly; the same effort gives the same lay',
    );
  };
}

/** Tells faults of the input. @returns the exit code for bad input */
export function tellFaults(world: World, faults: readonly Fault[]): number {
  world.err(plainText(`${formatFaults(faults)}\n`));
  return exitCodes.badInput;
}

/** Whether somebody asked to end. */
interface Stop {
  readonly requested: () => boolean;
  /** There is nothing left to search. */
  readonly nowWrites: () => void;
  readonly end: () => void;
}

/** First interruption: the search ends and the best lay is written. Second: out at once. */
function stopOnInterrupt(world: World, progress: ProgressLine): Stop {
  let count = 0;
  let deed = 'ending the search: the best lay so far is written';
  const end = world.onInterrupt(() => {
    count += 1;
    if (count > 1) return world.leave(exitCodes.interrupted);
    progress.say(`${deed} (once more to leave at once)`);
  });
  return {
    requested: () => count > 0,
    nowWrites: () => {
      deed = 'the search is done: what it found is being written';
    },
    end,
  };
}

/** Bare numbers are centimetres; whoever works in inches may have meant those. */
export function tellBareLengths(world: World, { bareLengths }: RunSettings, units: LengthUnit): void {
  if (units !== 'in' || bareLengths.length === 0) return;
  const [example] = bareLengths;
  world.err(plainText(`note: ${bareLengths.join(' and ')} is read in cm; for inches write "${example} in"\n`));
}

/** Materials are planned one after another, each from the end of the one before to its own last sign of progress. */
function secondsOfPlans({ plans }: Planned, begin: number, lastStep: ReadonlyMap<string, number>): (number | null)[] {
  const spent = new Map<string, number>();
  let from = begin;
  for (const [material, end] of lastStep) {
    spent.set(material, end - from);
    from = end;
  }
  return plans.map(({ material }) => spent.get(material) ?? null);
}

/** Writes what fits, reports on stdout, tells what could not be written. */
async function deliver(
  world: World,
  settings: PlanSettings,
  inputs: readonly CutListInput[],
  answer: Planned,
  seconds: readonly (number | null)[],
): Promise<number> {
  tellBareLengths(world, settings, answer.units);
  const written = await writeAll(world, settings, inputs, answer);
  const files = written.map((each) => each.files);
  if (settings.json) {
    const { reportJson } = await import('../report/json.js');
    world.out(reportJson(answer, { files, seconds }));
  } else {
    const { reportText } = await import('../report/text.js');
    const shown = files.map((each) => each.map(plainPath));
    world.out(plainText(reportText(answer, { files: shown }, reportWidth(world))));
  }
  const faults = written.flatMap(({ fault }) => (fault === null ? [] : [fault]));
  if (faults.length > 0) tellFaults(world, faults);
  return exitCodeOf(settings, answer, faults);
}

async function writeAll(
  world: World,
  settings: PlanSettings,
  inputs: readonly CutListInput[],
  answer: Planned,
): Promise<Written[]> {
  const all: Written[] = [];
  for (const output of answer.outputs) {
    all.push(output === null ? { files: [], fault: null } : await writeLayFiles(world, settings, inputs, output));
  }
  return all;
}

/** Writes a lay and its drawings, unless the lay that stands there is somebody's work. */
export async function writeLayFiles(
  world: World,
  settings: RunSettings,
  inputs: readonly CutListInput[],
  output: LayOutput,
): Promise<Written> {
  const { checkLayFile } = await import('../index.js');
  const isOurs = (path: string, text: string): boolean => {
    const checked = checkLayFile(path, text, []);
    return checked.ok && !checked.value.editedByHand;
  };
  const folder = outputFolder(settings.cutLists[0]!.path, settings.out);
  const base = join(folder, output.name);
  const files = [
    { path: `${base}.lay.json`, bytes: Buffer.from(output.layText, 'utf8') },
    { path: `${base}.svg`, bytes: Buffer.from(output.svg, 'utf8') },
    { path: `${base}.pdf`, bytes: output.pdf },
  ];
  return writeFiles(world, { folder, layPath: `${base}.lay.json`, files }, inputs, isOurs);
}

/** The answer is no when nothing fits for some material, something could not be written, or a warning is not wanted. */
export function exitCodeOf(
  settings: RunSettings,
  answer: { readonly notices: readonly Fault[]; readonly plans: readonly MaterialPlan[] },
  faults: readonly Fault[],
): number {
  if (faults.some(({ code }) => code !== editedCode)) return exitCodes.badInput;
  const notices = [...answer.notices, ...answer.plans.flatMap((plan) => plan.notices)];
  const warned = settings.strict && notices.some(({ severity }) => severity === 'warning');
  const fitting = new Set(answer.plans.filter(({ chosen }) => chosen !== null).map(({ material }) => material));
  const nothingFits = answer.plans.some(({ material }) => !fitting.has(material));
  return faults.length > 0 || nothingFits || warned ? exitCodes.no : exitCodes.done;
}
