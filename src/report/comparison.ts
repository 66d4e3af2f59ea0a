/** What a comparison of cloths and widths comes to: the best by length and by cost, and the width breaks. */
import type { MaterialPlan } from '../planning/types.js';
import { formatLength } from '../units/length.js';
import type { LengthUnit, Um } from '../units/types.js';
import { costMinor } from './money.js';
import { type WidthBreak, widthBreaks } from './width-breaks.js';
import { andList, boughtWidth, roundLength } from './words.js';

/** Up to so many cloths and widths are told in full: every lay method of each. */
export const plansInFull = 6;

/** One material on all the cloths and widths compared. */
export interface Comparison {
  readonly material: string;
  /** Cloth by cloth in the order of the cut list, each from the narrowest width on. */
  readonly plans: readonly MaterialPlan[];
  readonly breaks: readonly WidthBreak[];
  /** A remnant that it comes out of, so that nothing need be bought; the narrowest of them. */
  readonly atHand: MaterialPlan | null;
  /** Least to buy, of equal ones the narrower; null = it fits on no bolt. */
  readonly shortest: MaterialPlan | null;
  /** Least cost, of equal ones the narrower; null where no price is known, or prices are in several currencies. */
  readonly cheapest: MaterialPlan | null;
}

/** Draws the conclusions from the plans of one material. */
export function comparePlans(material: string, plans: readonly MaterialPlan[]): Comparison {
  const byWidth = [...plans].sort((a, b) => widthOf(a) - widthOf(b));
  const names = [...new Set(plans.map(({ cloth }) => cloth.cloth.name))];
  const byCloth = names.map((name) => byWidth.filter(({ cloth }) => cloth.cloth.name === name));
  // Cloths of one width each that differ by nothing else but price are compared with one another.
  const areAlike = new Set(plans.map(rulesOf)).size === 1;
  const rows = areAlike && byCloth.every(({ length }) => length === 1) ? [byWidth] : byCloth;
  return {
    material,
    plans: byCloth.flat(),
    breaks: rows.flatMap(widthBreaks),
    atHand: byWidth.find((plan) => plan.cloth.cloth.length !== null && buyOf(plan) !== null) ?? null,
    shortest: least(byWidth.filter(isBolt), buyOf),
    cheapest: hasOneCurrency(plans) ? least(byWidth, costOf) : null,
  };
}

/** Whether all prices there are can be compared. */
export function hasOneCurrency(plans: readonly MaterialPlan[]): boolean {
  const priced = plans.filter(({ cloth }) => cloth.cloth.priceMinorPerMetre !== null);
  return new Set(priced.map(({ cloth }) => cloth.cloth.currency)).size === 1;
}

function isBolt({ cloth }: MaterialPlan): boolean {
  return cloth.cloth.length === null;
}

/** All that decides how pieces lie on a cloth besides its width. */
function rulesOf({ cloth: { cloth, method } }: MaterialPlan): string {
  const { nap, faces, grain, gap, ends, repeat, flaws, shrinkagePpm, length } = cloth;
  return JSON.stringify([method, nap, faces, grain, gap, ends, repeat, flaws, shrinkagePpm, length]);
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

/** What that costs, in hundredths of the currency; null where there is no lay or no price, or the cloth is at hand. */
export function costOf(plan: MaterialPlan): number | null {
  const buyUm = isBolt(plan) ? buyOf(plan) : null;
  const price = plan.cloth.cloth.priceMinorPerMetre;
  return buyUm === null || price === null ? null : costMinor(buyUm, price);
}

/** Why the lay breaks between two widths: `2 of Bib and Pocket side by side take up 97.4 cm across ...`. */
export function breakInWords(broken: WidthBreak, units: LengthUnit): string {
  const { pieces, needsUm, longerUm, wide } = broken;
  const after = longerUm === null ? '' : `; on narrower cloth the lay is ${formatLength(longerUm, units)} longer`;
  if (pieces.length === 0) return `pieces that reach into each other lie side by side above it${after}`;
  const { cloth } = wide.cloth;
  const lost = boughtWidth(cloth) - (cloth.usable[1] - cloth.usable[0]);
  const needs = `${formatLength(needsUm, units)} across, cloth ${formatLength(needsUm + lost, units)} wide`;
  const names = [...new Set(pieces)].map((name) => {
    const count = pieces.filter((each) => each === name).length;
    return count === 1 ? name : `${count} of ${name}`;
  });
  const take = pieces.length === 1 ? 'takes up' : 'side by side take up';
  return `${andList(names)} ${take} ${needs}${after}`;
}

/** Where a break lies: `between 95 cm and 100 cm`. */
export function breakAt({ narrow, wide }: WidthBreak, units: LengthUnit): string {
  const [from, to] = [narrow, wide].map((plan) => roundLength(boughtWidth(plan.cloth.cloth), units));
  return `between ${from} and ${to}`;
}
