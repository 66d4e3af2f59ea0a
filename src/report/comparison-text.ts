/**
 * The comparison in the terminal: for each material the best, then a row for each cloth and lay method; or, of many widths, a
 * row for each width with a bar as long as what is to be bought, the width breaks between them. Pure: the same answer
 * gives the same bytes.
 */
import type { Cloth } from '../cloth/types.js';
import type { Fault } from '../diagnostics/types.js';
import type { Candidate, MaterialPlan } from '../planning/types.js';
import { formatBuy, formatLength } from '../units/length.js';
import type { LengthUnit, Um } from '../units/types.js';
import { cautions } from './cautions.js';
import { table, wrap, wrapAfter } from './columns.js';
import { breakAt, breakInWords, buyOf, type Comparison, costOf, hasOneCurrency, plansInFull } from './comparison.js';
import { costMinor, formatMoney, formatPrice } from './money.js';
import { noticeLines } from './text.js';
import type { WidthBreak } from './width-breaks.js';
import { boughtWidth, clothInWords, percent, roundLength } from './words.js';

export interface ComparisonInput {
  readonly title: string;
  readonly units: LengthUnit;
  readonly notices: readonly Fault[];
  readonly comparisons: readonly Comparison[];
}

/** Marks of the longest bar. */
const barMost = 16;

/**
 * The whole report, ending in a line feed.
 * @param files names of the files written
 */
export function comparisonText(input: ComparisonInput, files: readonly string[], width = 80): string {
  const { units } = input;
  const lines = [...wrap(input.title, width), ''];
  for (const comparison of input.comparisons) {
    lines.push(
      ...bestLines(comparison, units, width),
      '',
      ...(comparison.plans.length > plansInFull ? widthLines : methodLines)(comparison, units, width),
      '',
    );
  }
  lines.push(...files.map((file, k) => (k === 0 ? `written  ${file}` : `         ${file}`)), '');
  const plans = input.comparisons.flatMap((comparison) => comparison.plans);
  lines.push(...noticeLines({ notices: input.notices, plans }, width));
  lines.push('Before you cut', ...cautions.flatMap((caution) => wrapAfter('  - ', caution, width)));
  return `${lines.join('\n')}\n`;
}

function bestLines(comparison: Comparison, units: LengthUnit, width: number): string[] {
  const { material, plans, atHand, shortest, cheapest } = comparison;
  const lines: string[] = [];
  if (atHand !== null) {
    const { cloth } = atHand.cloth;
    lines.push(...wrap(`${material}: nothing to buy, it comes out of ${clothInWords(cloth, units)}`, width));
    if (shortest !== null) lines.push(...wrapAfter('  ', `or buy ${offerInWords(shortest, units)}`, width));
  } else if (shortest !== null) {
    lines.push(...wrap(`${material}: least to buy, ${offerInWords(shortest, units)}`, width));
  } else {
    return wrap(`${material}: it fits on none of them`, width);
  }
  if (cheapest !== null && cheapest !== shortest) {
    lines.push(...wrapAfter('  ', `costs least: ${offerInWords(cheapest, units)}`, width));
  } else if (cheapest !== null) {
    lines.push(...wrapAfter('  ', 'and nothing costs less', width));
  }
  const notes = [...costNotes(plans, units), ...runNotes(plans)];
  return [...lines, ...notes.flatMap((note) => wrapAfter('  ', note, width))];
}

/** What to mind about the costs. */
function costNotes(plans: readonly MaterialPlan[], units: LengthUnit): string[] {
  const cloths = plans.map(({ cloth }) => cloth.cloth).filter(({ length }) => length === null);
  const isPriced = ({ priceMinorPerMetre }: Cloth) => priceMinorPerMetre !== null;
  if (!cloths.some(isPriced)) return [];
  if (!hasOneCurrency(plans)) return ['costs are not compared: the prices are in several currencies'];
  const notes: string[] = [];
  const unpriced = new Set(cloths.filter((cloth) => !isPriced(cloth)).map(({ name }) => name));
  if (unpriced.size > 0) notes.push(`without a price, so not among the costs: ${[...unpriced].join(', ')}`);
  for (const name of new Set(cloths.filter(isPriced).map((cloth) => cloth.name))) {
    const own = cloths.filter((cloth) => cloth.name === name);
    if (new Set(own.map(({ width }) => width)).size < 2) continue;
    const price = formatPrice(own[0]!.priceMinorPerMetre!, own[0]!.currency, units);
    notes.push(`all widths of ${name} at its one price, ${price}: ask what other widths cost`);
  }
  return notes;
}

/** How much was searched, and whether somebody ended it. */
function runNotes(plans: readonly MaterialPlan[]): string[] {
  const [first] = plans;
  if (first === undefined) return [];
  const isCut = plans.some(({ candidates }) => candidates.some(({ status }) => status === 'interrupted'));
  return [
    ...(isCut ? ['interrupted: the best found so far; a longer run may shorten them'] : []),
    `effort ${first.effort}, seed ${first.seed}`,
  ];
}

/** `1.4 m of ticking, 135 cm wide, 25.90 EUR`. */
function offerInWords(plan: MaterialPlan, units: LengthUnit): string {
  const { cloth } = plan.cloth;
  const cost = costOf(plan);
  const price = cost === null ? '' : `, ${formatMoney(cost, cloth.currency)}`;
  return `${formatBuy(buyOf(plan)!, units)} of ${cloth.name}, ${roundLength(boughtWidth(cloth), units)} wide${price}`;
}

function methodLines({ plans, breaks }: Comparison, units: LengthUnit, width: number): string[] {
  const hasPrices = plans.some(({ cloth }) => cloth.cloth.priceMinorPerMetre !== null);
  const head = ['cloth', 'width', 'lay method', 'used', 'waste', 'buy', ...(hasPrices ? ['cost'] : []), ''];
  const rows = plans.flatMap((plan) => {
    const { cloth } = plan.cloth;
    const names = [cloth.name, roundLength(boughtWidth(cloth), units)];
    if (plan.candidates.length === 0)
      return [[...names, 'none is allowed', '-', '-', '-', ...(hasPrices ? ['-'] : []), '']];
    return plan.candidates.map((candidate, i) => [
      ...(i === 0 ? names : ['', '']),
      ...candidateCells(candidate, plan, units, hasPrices),
    ]);
  });
  const aligns = head.map((_, i) =>
    i === 0 || i === 2 || i === head.length - 1 ? ('left' as const) : ('right' as const),
  );
  // Cloths of the same widths often break alike.
  const lines = [...new Set(breaks.map((each) => breakLine(each, units)))];
  const broken = lines.flatMap((line) => wrapAfter('  -- ', line, width));
  return [...table([head, ...rows], aligns, 2, width), ...refusedLines(plans, width), ...broken];
}

/** Methods that serve on none of them, each with its reason. */
function refusedLines(plans: readonly MaterialPlan[], width: number): string[] {
  const tried = new Set(plans.flatMap(({ candidates }) => candidates.map(({ method }) => method)));
  const refused = new Map(plans.flatMap((plan) => plan.refused.map(({ method, why }) => [method, why] as const)));
  return [...refused]
    .filter(([method]) => !tried.has(method))
    .flatMap(([method, why]) => wrapAfter('  ', `${method} not allowed: ${why}`, width));
}

function breakLine(broken: WidthBreak, units: LengthUnit): string {
  return `${breakAt(broken, units)}: ${breakInWords(broken, units)}`;
}

function candidateCells(
  { method, lay, status, fitProven }: Candidate,
  plan: MaterialPlan,
  units: LengthUnit,
  hasPrices: boolean,
): string[] {
  const price = plan.cloth.cloth.priceMinorPerMetre;
  if (lay === null) {
    const why = status === 'interrupted' ? 'interrupted' : fitProven === true ? 'does not fit' : 'none found that fits';
    return [method, '-', '-', '-', ...(hasPrices ? ['-'] : []), why];
  }
  const { lengthUsed, buy, utilisationPpm } = lay.totals;
  const isAtHand = plan.cloth.cloth.length !== null;
  const cost = price === null || isAtHand ? '-' : formatMoney(costMinor(buy, price), plan.cloth.cloth.currency);
  return [
    method,
    formatLength(lengthUsed, units),
    percent(100 - utilisationPpm / 10_000),
    formatBuy(buy, units),
    ...(hasPrices ? [cost] : []),
    [...(isAtHand ? ['taken from what is at hand'] : []), ...(status === 'proven shortest' ? [status] : [])].join(', '),
  ];
}

/** Each width on a line, one cloth after another. */
function widthLines({ plans, breaks }: Comparison, units: LengthUnit, width: number): string[] {
  const longest = Math.max(0, ...plans.map((plan) => buyOf(plan) ?? 0));
  const names = [...new Set(plans.map(({ cloth }) => cloth.cloth.name))];
  return names.flatMap((name, i) => {
    const own = plans.filter(({ cloth }) => cloth.cloth.name === name);
    const hasPrice = own.some((plan) => costOf(plan) !== null);
    const isFolded = own.some((plan) => foldedBuyOf(plan) !== null);
    const head = [
      name,
      'to buy',
      ...(hasPrice ? ['cost'] : []),
      'used',
      'waste',
      ...(isFolded ? ['buy when folded'] : []),
      '',
    ];
    const rows = own.map((plan) => widthCells(plan, units, longest, { hasPrice, isFolded }));
    const aligns = head.map((_, k) => (k === head.length - 1 ? ('left' as const) : ('right' as const)));
    const [first = '', ...lines] = table([head, ...rows], aligns, 2, width);
    const withBreaks = own.flatMap((plan, k) => {
      const broken = breaks.find(({ wide }) => wide === plan);
      const line = lines[k]!;
      if (broken === undefined) return [line];
      return [...wrapAfter('  -- ', breakLine(broken, units), width), line];
    });
    return [...(i === 0 ? [] : ['']), first, ...withBreaks, ...refusedLines(own, width)];
  });
}

function widthCells(
  plan: MaterialPlan,
  units: LengthUnit,
  longestUm: Um,
  { hasPrice, isFolded }: { readonly hasPrice: boolean; readonly isFolded: boolean },
): string[] {
  const { cloth } = plan.cloth;
  const wide = roundLength(boughtWidth(cloth), units);
  const lay = plan.chosen?.lay ?? null;
  if (lay === null)
    return [wide, '-', ...(hasPrice ? ['-'] : []), '-', '-', ...(isFolded ? ['-'] : []), 'does not fit'];
  const { buy, lengthUsed, utilisationPpm } = lay.totals;
  const cost = costOf(plan);
  const folded = foldedBuyOf(plan);
  return [
    wide,
    formatBuy(buy, units),
    ...(hasPrice ? [cost === null ? '-' : formatMoney(cost, cloth.currency)] : []),
    formatLength(lengthUsed, units),
    percent(100 - utilisationPpm / 10_000),
    ...(isFolded ? [folded === null ? '-' : formatBuy(folded, units)] : []),
    '#'.repeat(barOf(buy, longestUm)),
  ];
}

/** What to buy when the cloth is folded lengthwise; null = it cannot be, or was not tried. */
function foldedBuyOf({ candidates }: MaterialPlan): Um | null {
  return candidates.find(({ method }) => method === 'lengthwise fold')?.lay?.totals.buy ?? null;
}

function barOf(buyUm: Um, longestUm: Um): number {
  return Math.max(1, Math.round((barMost * buyUm) / longestUm));
}
