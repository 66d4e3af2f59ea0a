/** The comparison for programs: `shortlay-comparison/1`, every key always there, null where a value does not apply. */
import type { LayName } from '../cloth/types.js';
import type { MaterialPlan } from '../planning/types.js';
import { toCm } from '../units/length.js';
import type { Comparison } from './comparison.js';
import type { ComparisonInput } from './comparison-text.js';
import { type JsonNotice, jsonNotice } from './json.js';
import { costMinor } from './money.js';
import { allNotices } from './text.js';
import { boughtWidth } from './words.js';

/** One cloth at one width, laid by one method. */
export interface JsonOffer {
  readonly cloth: string;
  readonly widthCm: number;
  readonly usableWidthCm: number;
  readonly method: LayName;
  readonly lengthUsedCm: number | null;
  readonly buyCm: number | null;
  readonly cost: number | null;
  readonly currency: string | null;
  readonly utilisationPercent: number | null;
  readonly wastePercent: number | null;
  readonly boundCm: number;
  readonly status: string;
  readonly fitProven: boolean | null;
  /** It is the method to choose on this cloth. */
  readonly chosen: boolean;
}

export interface JsonComparison {
  readonly material: string;
  readonly offers: readonly JsonOffer[];
  readonly widthBreaks: readonly {
    readonly cloth: string;
    readonly fromCm: number;
    readonly pieces: readonly string[];
    readonly needsCm: number | null;
    readonly longerCm: number | null;
  }[];
  /** A remnant that it comes out of. */
  readonly atHand: { readonly cloth: string; readonly widthCm: number } | null;
  readonly shortest: { readonly cloth: string; readonly widthCm: number } | null;
  readonly cheapest: { readonly cloth: string; readonly widthCm: number } | null;
  /** Spent on this material: the number that repeats it. */
  readonly effort: number;
  readonly seed: number;
}

/** The report as text, ending in a line feed. */
export function comparisonJson(input: ComparisonInput, files: readonly string[]): string {
  const plans = input.comparisons.flatMap((comparison) => comparison.plans);
  const notices: JsonNotice[] = allNotices({ notices: input.notices, plans }).map(jsonNotice);
  const comparisons = input.comparisons.map(jsonComparison);
  const report = { format: 'shortlay-comparison/1', title: input.title, notices, comparisons, files };
  return `${JSON.stringify(report, null, 2)}\n`;
}

function jsonComparison({ material, plans, breaks, atHand, shortest, cheapest }: Comparison): JsonComparison {
  return {
    material,
    offers: plans.flatMap(offersOf),
    widthBreaks: breaks.map(({ wide, pieces, needsUm, longerUm }) => ({
      cloth: wide.cloth.cloth.name,
      fromCm: toCm(boughtWidth(wide.cloth.cloth)),
      pieces,
      needsCm: pieces.length === 0 ? null : toCm(needsUm),
      longerCm: longerUm === null ? null : toCm(longerUm),
    })),
    atHand: whichOf(atHand),
    shortest: whichOf(shortest),
    cheapest: whichOf(cheapest),
    effort: plans[0]?.effort ?? 0,
    seed: plans[0]?.seed ?? 0,
  };
}

function whichOf(plan: MaterialPlan | null): JsonComparison['shortest'] {
  return plan === null ? null : { cloth: plan.cloth.cloth.name, widthCm: toCm(boughtWidth(plan.cloth.cloth)) };
}

function offersOf({ cloth: { cloth }, candidates, chosen }: MaterialPlan): JsonOffer[] {
  return candidates.map((candidate): JsonOffer => {
    const { method, lay, bound, status, fitProven } = candidate;
    const totals = lay?.totals ?? null;
    const price = cloth.priceMinorPerMetre;
    return {
      cloth: cloth.name,
      widthCm: toCm(boughtWidth(cloth)),
      usableWidthCm: toCm(cloth.usable[1] - cloth.usable[0]),
      method,
      lengthUsedCm: totals === null ? null : toCm(totals.lengthUsed),
      buyCm: totals === null ? null : toCm(totals.buy),
      cost: totals === null || price === null || cloth.length !== null ? null : costMinor(totals.buy, price) / 100,
      currency: cloth.currency,
      utilisationPercent: totals === null ? null : totals.utilisationPpm / 10_000,
      wastePercent: totals === null ? null : (1_000_000 - totals.utilisationPpm) / 10_000,
      boundCm: toCm(bound.um),
      status,
      fitProven,
      chosen: candidate === chosen,
    };
  });
}
