/** `compare`: what to buy on each cloth or at each width; writes the plot and the lays that are best. */
import { join } from 'node:path';
import type { CompareAnswer } from '../index.js';
import { type CutListInput, outputFolder, writeFiles } from './files.js';
import { plainPath, plainText } from './plain-text.js';
import { exitCodeOf, searchFor, tellBareLengths, tellFaults, writeLayFiles } from './plan.js';
import { reportWidth } from './report-width.js';
import type { CompareSettings } from './settings.js';
import type { World } from './world.js';

type Compared = Extract<CompareAnswer, { kind: 'compared' }>;

/** @returns the exit code */
export async function runCompare(world: World, settings: CompareSettings): Promise<number> {
  const { comparisonEffort } = await import('../index.js');
  return searchFor(world, settings, settings.effort ?? comparisonEffort, async ({ inputs, sources }, tools) => {
    const { compareCutLists } = await import('../index.js');
    const answer = await compareCutLists(sources, settings, tools);
    if (answer.kind === 'faults') return { faults: answer.faults };
    return { isEmpty: answer.outputs.length === 0, deliver: () => deliver(world, settings, inputs, answer) };
  });
}

/** Writes plot and lays, reports on stdout, tells what could not be written. */
async function deliver(
  world: World,
  settings: CompareSettings,
  inputs: readonly CutListInput[],
  answer: Compared,
): Promise<number> {
  tellBareLengths(world, settings, answer.units);
  const folder = outputFolder(settings.cutLists[0]!.path, settings.out);
  const plot = { path: join(folder, `${answer.plot.name}.svg`), bytes: Buffer.from(answer.plot.svg, 'utf8') };
  const written = [await writeFiles(world, { folder, layPath: null, files: [plot] }, inputs, () => true)];
  for (const output of answer.outputs) written.push(await writeLayFiles(world, settings, inputs, output));
  const files = written.flatMap((each) => each.files);
  if (settings.json) {
    const { comparisonJson } = await import('../report/comparison-json.js');
    world.out(comparisonJson(answer, files));
  } else {
    const { comparisonText } = await import('../report/comparison-text.js');
    world.out(plainText(comparisonText(answer, files.map(plainPath), reportWidth(world))));
  }
  const faults = written.flatMap(({ fault }) => (fault === null ? [] : [fault]));
  if (faults.length > 0) tellFaults(world, faults);
  const plans = answer.comparisons.flatMap((comparison) => comparison.plans);
  return exitCodeOf(settings, { notices: answer.notices, plans }, faults);
}
