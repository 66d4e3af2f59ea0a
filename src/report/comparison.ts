/** What a comparison of cloths and widths comes to: the best by length and by cost, and the width breaks. */
import type { MaterialPlan } from '../planning/types.js';
import { formatLength } from '../units/length.js';
import type { LengthUnit, Um } from '../units/types.js';
import { costMinor } from './money.js';
import { type WidthBreak, widthBreaks } from './width-breaks.js';
import { boughtWidth, roundLength } from './words.js';

/** One material on all the cloths and widths compared. */
export interface Comparison {
  readonly material: string;
  /** Cloth by cloth in the order of the cut list, each from the narrowest width on. */
  readonly plans: readonly MaterialPlan[];
  readonly breaks: readonly WidthBreak[];
  /** Least to buy, of equal ones the narrower; null = it fits nowhere. */
  readonly shortest: MaterialPlan | null;
  /** Least cost, of equal ones the narrower; null where no price is known, or prices are in several currencies. */
  readonly cheapest: MaterialPlan | null;
}

/** Draws the conclusions from the plans of one material. */
export function comparePlans(material: string, plans: readonly MaterialPlan[]): Comparison {
  const byWidth = [...plans].sort((a, b) => widthOf(a) - widthOf(b));
  const names = [...new Set(plans.map(({ cloth }) => cloth.cloth.name))];
  const byCloth = names.map((name) => byWidth.filter(({ cloth }) => cloth.cloth.name === name));
  // Cloths of one width each are compared with one another.
  const rows = byCloth.every(({ length }) => length === 1) ? [byWidth] : byCloth;
  return {
    material,
    plans: byCloth.flat(),
    breaks: rows.flatMap(widthBreaks),
    shortest: least(byWidth, buyOf),
    cheapest: hasOneCurrency(plans) ? least(byWidth, costOf) : null,
  };
}

/** Whether all prices can be compared. */
export function hasOneCurrency(plans: readonly MaterialPlan[]): boolean {
  return new Set(plans.map(({ cloth }) => cloth.cloth.currency)).size === 1;
}

function widthOf({ cloth }: MaterialPlan): Um {
  return cloth.cloth.width;
}

/** The first of those with the least value. */
function least(plans: readonly MaterialPlan[], measure: (plan: MaterialPlan) => number | null): MaterialPlan | null {
  let [best, smallest]: [MaterialPlan | null, number] = [null, Number.POSITIVE_INFINITY];
  for (const plan of plans) {
    const value = measure(plan);
    if (value === null || value >= smallest) continue;
    [best, smallest] = [plan, value];
  }
  return best;
}

/** What to buy for the shortest lay of a plan; null = there is none. */
export function buyOf({ chosen }: MaterialPlan): Um | null {
  return chosen?.lay?.totals.buy ?? null;
}

/** What that costs, in hundredths of the currency; null where there is no lay or no price. */
export function costOf(plan: MaterialPlan): number | null {
  const buyUm = buyOf(plan);
  const price = plan.cloth.cloth.priceMinorPerMetre;
  return buyUm === null || price === null ? null : costMinor(buyUm, price);
}

/** Why the lay breaks between two widths: `Bib and Patch pocket (2) side by side take up 97.4 cm across`. */
export function breakInWords({ pieces, needsUm, longerUm }: WidthBreak, units: LengthUnit): string {
  const needs = `${formatLength(needsUm, units)} across`;
  const after = longerUm === null ? '' : `, ${formatLength(longerUm, units)} longer below`;
  if (pieces.length === 0) return `pieces that reach into each other lie side by side from here on${after}`;
  if (pieces.length === 1) return `${pieces[0]} takes up ${needs}${after}`;
  const names = [...new Set(pieces)].map((name) => {
    const count = pieces.filter((each) => each === name).length;
    return count === 1 ? name : `${count} of ${name}`;
  });
  return `${andList(names)} side by side take up ${needs}${after}`;
}

function andList(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

/** The headline of a break: `from 100 cm on`. */
export function breakAt({ wide }: WidthBreak, units: LengthUnit): string {
  return `from ${roundLength(boughtWidth(wide.cloth.cloth), units)} on`;
}
