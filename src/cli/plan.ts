/** `plan`: reads the cut lists, lets them be planned, writes the lays, reports. */
import { join } from 'node:path';
import { formatFaults } from '../diagnostics/faults.js';
import type { Fault } from '../diagnostics/types.js';
import type { KeptSource, PlanAnswer, PlanTools } from '../index.js';
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
import { plainText } from './plain-text.js';
import { type ProgressLine, progressLine } from './progress.js';
import type { PlanSettings } from './settings.js';
import type { World } from './world.js';

type Planned = Extract<PlanAnswer, { kind: 'planned' }>;

/** @returns the exit code */
export async function runPlan(world: World, settings: PlanSettings): Promise<number> {
  const paths = settings.cutLists.map(({ path }) => path);
  const read = await readCutListInputs(world, paths);
  if (!read.ok) return tellFaults(world, read.faults);
  const folder = outputFolder(paths[0]!, settings.out);
  const folderFault = await checkFolder(world, folder);
  if (folderFault !== null) return tellFaults(world, [folderFault]);
  const kept = settings.keep === null ? null : await readKept(world, settings.keep, folder);
  if (kept?.ok === false) return tellFaults(world, kept.faults);
  const inputs = { cutLists: read.value, kept: kept?.value.source ?? null };
  const progress = progressLine(world, settings.effort, settings.quiet);
  const stop = stopOnInterrupt(world, progress);
  try {
    const { answer, seconds } = await search(world, settings, inputs, progress, stop.requested);
    progress.end();
    if (answer.kind === 'faults') return tellFaults(world, answer.faults);
    if (stop.requested() && answer.outputs.every((output) => output === null)) {
      progress.say('interrupted before a first lay was found; nothing is written');
      return exitCodes.interrupted;
    }
    return await deliver(
      world,
      settings,
      kept === null ? read.value : [...read.value, kept.value.input],
      answer,
      seconds,
    );
  } catch (error) {
    progress.end();
    const { seed, effort } = settings;
    return tellOwnFault(world, error, { seed, effort, inputSha256: read.value.map(({ sha256 }) => sha256) });
  } finally {
    stop.end();
  }
}

/** Tells faults of the input. @returns the exit code for bad input */
export function tellFaults(world: World, faults: readonly Fault[]): number {
  world.err(plainText(`${formatFaults(faults)}\n`));
  return exitCodes.badInput;
}

/** First interruption: the search ends and the best lay is written. Second: out at once. */
function stopOnInterrupt(world: World, progress: ProgressLine): { requested: () => boolean; end: () => void } {
  let count = 0;
  const end = world.onInterrupt(() => {
    count += 1;
    if (count > 1) return world.leave(exitCodes.interrupted);
    progress.say('ending the search: the best lay so far is written (once more to leave at once)');
  });
  return { requested: () => count > 0, end };
}

async function search(
  world: World,
  settings: PlanSettings,
  inputs: { readonly cutLists: readonly CutListInput[]; readonly kept: KeptSource | null },
  progress: ProgressLine,
  interrupted: () => boolean,
): Promise<{ answer: PlanAnswer; seconds: (number | null)[] }> {
  const { planCutLists } = await import('../index.js');
  const executor = await world.executor(settings.workers);
  const begin = world.clock();
  const lastStep = new Map<string, number>();
  try {
    const sources = inputs.cutLists.map((input, i) => ({
      ...sourceOf(input),
      garments: settings.cutLists[i]!.garments,
    }));
    const tools = {
      executor,
      clock: world.clock,
      interrupted,
      onProgress: (step) => {
        lastStep.set(step.material, world.clock());
        progress.show(step);
      },
    } satisfies PlanTools;
    const answer = await planCutLists(sources, settings, tools, inputs.kept);
    return { answer, seconds: answer.kind === 'faults' ? [] : secondsOfPlans(answer, begin, lastStep) };
  } finally {
    await executor.close();
  }
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
  const written = await writeAll(world, settings, inputs, answer);
  const files = written.map((each) => each.files);
  if (settings.json) {
    const { reportJson } = await import('../report/json.js');
    world.out(reportJson(answer, { files, seconds }));
  } else {
    const { reportText } = await import('../report/text.js');
    world.out(plainText(reportText(answer, { files })));
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
  const { checkLayFile } = await import('../index.js');
  const isOurs = (path: string, text: string): boolean => {
    const checked = checkLayFile(path, text, []);
    return checked.ok && !checked.value.editedByHand;
  };
  const folder = outputFolder(settings.cutLists[0]!.path, settings.out);
  const all: Written[] = [];
  for (const output of answer.outputs) {
    if (output === null) {
      all.push({ files: [], fault: null });
      continue;
    }
    const base = join(folder, output.name);
    const files = [
      { path: `${base}.lay.json`, bytes: Buffer.from(output.layText, 'utf8') },
      { path: `${base}.svg`, bytes: Buffer.from(output.svg, 'utf8') },
      { path: `${base}.pdf`, bytes: output.pdf },
    ];
    all.push(await writeFiles(world, { folder, layPath: `${base}.lay.json`, files }, inputs, isOurs));
  }
  return all;
}

function exitCodeOf(settings: PlanSettings, answer: Planned, faults: readonly Fault[]): number {
  if (faults.some(({ code }) => code !== editedCode)) return exitCodes.badInput;
  const notices = [...answer.notices, ...answer.plans.flatMap((plan) => plan.notices)];
  const warned = settings.strict && notices.some(({ severity }) => severity === 'warning');
  const fitting = new Set(answer.plans.filter(({ chosen }) => chosen !== null).map(({ material }) => material));
  const nothingFits = answer.plans.some(({ material }) => !fitting.has(material));
  return faults.length > 0 || nothingFits || warned ? exitCodes.no : exitCodes.done;
}
