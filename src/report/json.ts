/** The report for programs: `shortlay-report/1`, every key always there, null where a value does not apply. */
import type { LayName } from '../cloth/types.js';
import type { Fault } from '../diagnostics/types.js';
import type { MaterialPlan } from '../planning/types.js';
import { toCm } from '../units/length.js';
import { costMinor } from './money.js';
import { type Outcome, outcomeOf } from './outcome.js';
import { allNotices } from './text.js';
import type { ReportFacts, ReportInput } from './types.js';
import { garmentsByList } from './words.js';

/** A notice or warning; place and subject null where it has none. */
export interface JsonNotice {
  readonly severity: Fault['severity'];
  readonly code: string;
  readonly file: string | null;
  readonly line: number | null;
  readonly column: number | null;
  readonly subject: string | null;
  readonly what: string;
  readonly fix: string;
}

/** One material on one cloth. Lengths in cm, costs in whole currency, percent as they stand. */
export interface JsonLay {
  readonly material: string;
  readonly cloth: string;
  readonly method: LayName | null;
  readonly foldDepthsCm: readonly [number, number] | null;
  readonly widthCm: number;
  readonly usableWidthCm: number;
  readonly lengthUsedCm: number | null;
  readonly buyCm: number | null;
  readonly buyParts: readonly { readonly why: string; readonly cm: number }[] | null;
  readonly cost: number | null;
  readonly currency: string | null;
  readonly utilisationPercent: number | null;
  readonly wastePercent: number | null;
  readonly boundCm: number | null;
  readonly boundReason: string | null;
  readonly gapPercent: number | null;
  readonly status: Outcome['status'];
  readonly fitProven: boolean | null;
  readonly placements: number | null;
  readonly copies: number | null;
  /** Of several cut lists in one lay, in their order: first and last of the garments of each. */
  readonly cutLists: readonly { readonly name: string; readonly garments: readonly [number, number] }[] | null;
  readonly verified: true | null;
  readonly seed: number;
  /** For the material, all its cloths and lay methods together: the number that repeats the run. */
  readonly effort: number;
  /** Spent on the material, all its cloths together. */
  readonly seconds: number | null;
  readonly files: readonly string[];
  /** What would make it fit, or save cloth, each with the length that it would use; null = it was not asked. */
  readonly wouldHelp:
    | readonly { readonly change: string; readonly lengthCm: number; readonly changesLook: boolean }[]
    | null;
}

export interface JsonReport {
  readonly format: 'shortlay-report/1';
  readonly title: string;
  readonly notices: readonly JsonNotice[];
  readonly lays: readonly JsonLay[];
}

/** The report as an object, keys in the order of its description. */
function reportObject(input: ReportInput, facts: ReportFacts): JsonReport {
  return {
    format: 'shortlay-report/1',
    title: input.title,
    notices: allNotices(input).map(jsonNotice),
    lays: input.plans.map((plan, index) => ({
      ...jsonLay(plan),
      seed: plan.seed,
      effort: plan.effort,
      seconds: secondsRounded(facts.seconds[index] ?? null),
      files: facts.files[index] ?? [],
      wouldHelp:
        plan.wouldHelp?.map(({ change, lengthUm, changesLook }) => ({
          change,
          lengthCm: toCm(lengthUm),
          changesLook,
        })) ?? null,
    })),
  };
}

/** The report as text, ending in a line feed. */
export function reportJson(input: ReportInput, facts: ReportFacts): string {
  return `${JSON.stringify(reportObject(input, facts), null, 2)}\n`;
}

/** A notice as it stands in the report. */
export function jsonNotice({ severity, code, place, subject, what, fix }: Fault): JsonNotice {
  const { file, line, column } = place ?? { file: null, line: null, column: null };
  return { severity, code, file, line, column, subject, what, fix };
}

function secondsRounded(seconds: number | null): number | null {
  return seconds === null ? null : Math.round(seconds * 1000) / 1000;
}

/** What the plan itself says of a lay. */
function jsonLay(plan: MaterialPlan): Omit<JsonLay, 'seed' | 'effort' | 'seconds' | 'files' | 'wouldHelp'> {
  const outcome = outcomeOf(plan);
  const { lay, bound } = outcome;
  const { cloth } = plan.cloth;
  const totals = lay?.totals ?? null;
  const folds = lay?.stretches[0]?.folds ?? null;
  const price = cloth.priceMinorPerMetre;
  return {
    material: plan.material,
    cloth: cloth.name,
    method: outcome.method,
    foldDepthsCm: folds === null ? null : [toCm(folds[0]), toCm(folds[1])],
    widthCm: toCm(cloth.width),
    usableWidthCm: toCm(cloth.usable[1] - cloth.usable[0]),
    lengthUsedCm: totals === null ? null : toCm(totals.lengthUsed),
    buyCm: totals === null ? null : toCm(totals.buy),
    buyParts: totals === null ? null : totals.buyParts.map(({ why, um }) => ({ why, cm: toCm(um) })),
    cost: totals === null || price === null ? null : costMinor(totals.buy, price) / 100,
    currency: cloth.currency,
    utilisationPercent: totals === null ? null : totals.utilisationPpm / 10_000,
    wastePercent: totals === null ? null : (1_000_000 - totals.utilisationPpm) / 10_000,
    boundCm: bound === null ? null : toCm(bound.um),
    boundReason: bound === null ? null : bound.why,
    gapPercent: outcome.gapPercent,
    status: outcome.status,
    fitProven: outcome.fitProven,
    placements: lay === null ? null : lay.placements.length,
    copies: lay === null ? null : lay.copies.length,
    cutLists: lay === null ? null : (garmentsByList(lay)?.map(({ name, garments }) => ({ name, garments })) ?? null),
    verified: lay === null ? null : true,
  };
}
