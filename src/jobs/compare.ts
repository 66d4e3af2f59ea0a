/** Which cloth to buy: the main job on several cloths and widths, and what it comes to. */
import { baseName } from '../cutlist/join.js';
import type { Fault } from '../diagnostics/types.js';
import { type Comparison, comparePlans } from '../report/comparison.js';
import { boughtWidth, roundLength } from '../report/words.js';
import type { LengthUnit } from '../units/types.js';
import { fileWord, nameOf, outputName } from './names.js';
import { type LayOutput, makeOutput, type PlanOptions, type PlanTools, planAll } from './plan.js';
import type { CutListSource } from './sources.js';

export interface CompareOptions extends Omit<PlanOptions, 'effort' | 'advise' | 'tidies'> {
  /** For each material; null = 40 shared by all of them. */
  readonly effort: number | null;
}

export type CompareAnswer =
  | { readonly kind: 'faults'; readonly faults: readonly Fault[] }
  | {
      readonly kind: 'compared';
      readonly title: string;
      readonly units: LengthUnit;
      readonly notices: readonly Fault[];
      readonly comparisons: readonly Comparison[];
      /** Name of the plot without folder and ending, and the plot itself. */
      readonly plot: { readonly name: string; readonly svg: string };
      /** Of each material the lays that need least and cost least. */
      readonly outputs: readonly LayOutput[];
    };

/** Effort of a whole comparison, where none is given. */
export const comparisonEffort = 40;

/**
 * The same on several cloths or at several widths, without writing all of their lays: how much to buy and what it costs on
 * each, and where the lay breaks.
 */
export async function compareCutLists(
  sources: readonly CutListSource[],
  options: CompareOptions,
  tools: PlanTools,
): Promise<CompareAnswer> {
  const answer = await planAll(sources, options, tools, {
    ofMany: ['open', 'lengthwise fold'],
    share: (materials) => options.effort ?? comparisonEffort / materials,
    advise: 'never',
    tidies: false,
    kept: null,
    namesCloths: true,
  });
  if (!answer.ok) return { kind: 'faults', faults: answer.faults };
  const { cutList, planned } = answer.value;
  const { title, units, notices } = cutList;
  await tools.executor.rest();
  const files = sources.map(({ file }) => file);
  const comparisons: Comparison[] = [];
  const outputs: LayOutput[] = [];
  for (const { order, plans } of planned) {
    const comparison = comparePlans(order.material, plans);
    comparisons.push(comparison);
    for (const plan of new Set([comparison.atHand, comparison.shortest, comparison.cheapest])) {
      if (plan === null) continue;
      const wide = options.widthsUm === null ? [] : [roundLength(boughtWidth(plan.cloth.cloth), units)];
      const name = [outputName(files, { ...order, manyCloths: true }, plan.cloth.cloth.name), ...wide.map(fileWord)];
      outputs.push(await makeOutput(plan, name.join('-'), { ...options, units }));
    }
  }
  const { drawComparison } = await import('../marker/draw-comparison.js');
  const svg = await drawComparison(comparisons, { title, units, page: options.page });
  const plot = { name: nameOf(...files.map(baseName), 'compared'), svg };
  return { kind: 'compared', title, units, notices, comparisons, plot, outputs };
}
