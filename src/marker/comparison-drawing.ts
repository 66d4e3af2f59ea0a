/**
 * The comparison on one page for each material: what to buy against the width of the cloth, below it what that costs, the
 * width breaks as numbered lines with their reasons beneath.
 */
import { breakAt, breakInWords, buyOf, type Comparison, costOf, hasOneCurrency } from '../report/comparison.js';
import { formatMoney } from '../report/money.js';
import { boughtWidth, roundLength } from '../report/words.js';
import { formatBuy, umPerUnit } from '../units/length.js';
import type { LengthUnit } from '../units/types.js';
import { marginMm, type PageSize, pageSizesMm } from './page-sizes.js';
import { makeText, wrap } from './text.js';
import type { Box, Drawing, Item, ItemGroup, LineKind, PagePoint, TextMeasure } from './types.js';

export interface ComparisonPageOptions {
  readonly title: string;
  readonly page: PageSize;
  readonly units: LengthUnit;
  readonly measure: TextMeasure;
}

/** A curve: what one cloth asks for at each width, by its shortest lay or by one method. */
interface Curve {
  readonly name: string;
  readonly kind: LineKind;
  readonly points: readonly { readonly width: number; readonly value: number }[];
}

/** How values are told; ticks stand 1, 2 or 5 times a power of ten of `tick` apart. */
interface Axis {
  readonly tick: number;
  readonly format: (value: number) => string;
}

const curveKinds: readonly LineKind[] = ['first curve', 'second curve', 'third curve', 'fourth curve'];
const plotHighMostMm = 88;
const plotHighLeastMm = 45;
const wordsPt = 7.5;
const axisLeftMm = 24;
const lineMm = 4.2;
const markMm = 0.9;
/** Ticks of an axis are so many at most. */
const ticksMost = 8;

/** One page for each comparison. */
export function comparisonDrawing(comparisons: readonly Comparison[], options: ComparisonPageOptions): Drawing {
  const [widthMm, heightMm] = pageSizesMm[options.page];
  const pages = comparisons.map((comparison) => ({
    widthMm,
    heightMm,
    groups: [drawPage(comparison, options, widthMm - marginMm, heightMm - marginMm)],
  }));
  return { title: `${options.title}: cloths compared`, scale: 1, origin: [0, 0], pages };
}

function drawPage(comparison: Comparison, options: ComparisonPageOptions, right: number, bottom: number): ItemGroup {
  const { measure, units, title } = options;
  const items: Item[] = [];
  let y = marginMm + 6;
  const lengths = curvesOf(comparison, buyOf);
  const costs = curvesOf(comparison, costOf);
  const hasCosts = hasOneCurrency(comparison.plans) && costs.some(({ points }) => points.length > 0);
  const reasons = comparison.breaks.map((each, i) => `${i + 1}  ${breakAt(each, units)}: ${breakInWords(each, units)}`);
  const wordLines = reasons.flatMap((reason) => wrap(measure, reason, right - marginMm, wordsPt, false)).length;
  const wordsMm = (lengths.length + wordLines) * lineMm + 50;
  const highMm = (bottom - y - wordsMm) / (hasCosts ? 2 : 1) - 12;
  const plotHighMm = Math.max(plotHighLeastMm, Math.min(plotHighMostMm, highMm));
  const say = (text: string, sizePt: number, bold = false, left = marginMm) => {
    for (const line of wrap(measure, text, right - left, sizePt, bold)) {
      items.push(makeText(measure, line, [left, y], { sizePt, bold }));
      y += sizePt * 0.5 + 0.4;
    }
  };
  say(title, 13, true);
  say(`${comparison.material}: how much to buy, by the width of the cloth`, 9);
  y += 3;
  const plot = (heading: string, curves: readonly Curve[], axis: Axis) => {
    say(heading, 8, true);
    const box: Box = { left: marginMm + axisLeftMm, right: right - 2, top: y, bottom: y + plotHighMm };
    items.push(...drawPlot(curves, comparison, box, axis, options));
    y = box.bottom + 12;
  };
  const tick = units === 'in' ? umPerUnit.yd / 4 : umPerUnit.cm * 10;
  plot('to buy', lengths, { tick, format: (um) => formatBuy(um, units) });
  const currency = comparison.plans[0]?.cloth.cloth.currency ?? null;
  if (hasCosts) {
    plot('cost', costs, { tick: 100, format: (minor) => formatMoney(minor, currency) });
  }
  for (const { name, kind, points } of lengths) {
    items.push({
      type: 'line',
      kind,
      points: [
        [marginMm, y - 1],
        [marginMm + 14, y - 1],
      ],
      closed: false,
    });
    items.push(markAt([marginMm + 7, y - 1], kind));
    const words = points.length === 0 ? `${name}: none that fits` : name;
    items.push(makeText(measure, words, [marginMm + 17, y], { sizePt: wordsPt }));
    y += lineMm;
  }
  if (comparison.breaks.length > 0) {
    y += 2;
    say('Width breaks: where the lay needs more than the lost width explains', 8, true);
    reasons.forEach((reason, i) => {
      if (y < bottom - 2 * lineMm) say(reason, wordsPt);
      else if (y < bottom - lineMm) say(`and ${reasons.length - i} more, told in the terminal`, wordsPt);
    });
  }
  return { title: null, placement: null, items };
}

/** The shortest lay of each cloth; and of a single cloth that on a lengthwise fold, where it is another. */
function curvesOf({ plans }: Comparison, measure: (plan: Comparison['plans'][number]) => number | null): Curve[] {
  const names = [...new Set(plans.map(({ cloth }) => cloth.cloth.name))];
  const pointsOf = (name: string, read: typeof measure) =>
    plans
      .filter(({ cloth }) => cloth.cloth.name === name)
      .flatMap((plan) => {
        const value = read(plan);
        return value === null ? [] : [{ width: boughtWidth(plan.cloth.cloth), value }];
      });
  const folded = (plan: Comparison['plans'][number]) => {
    const candidate = plan.candidates.find(({ method }) => method === 'lengthwise fold') ?? null;
    return candidate?.lay == null ? null : measure({ ...plan, chosen: candidate });
  };
  const shortest = names.map((name) => ({ name: `${name}, shortest lay`, points: pointsOf(name, measure) }));
  const single = names.length === 1 ? pointsOf(names[0]!, folded) : [];
  const all = single.length === 0 ? shortest : [...shortest, { name: `${names[0]}, lengthwise fold`, points: single }];
  return all.map((curve, i) => ({ ...curve, kind: curveKinds[i % curveKinds.length]! }));
}

function drawPlot(
  curves: readonly Curve[],
  { breaks, plans }: Comparison,
  box: Box,
  { tick, format }: Axis,
  { units, measure }: ComparisonPageOptions,
): Item[] {
  const points = curves.flatMap((curve) => curve.points);
  if (points.length === 0) return [];
  const widths = plans.map(({ cloth }) => boughtWidth(cloth.cloth));
  const unit = units === 'in' ? umPerUnit.in : umPerUnit.cm;
  const [least, most] = [Math.min(...widths), Math.max(...widths)];
  const room = Math.max(unit * 2, (most - least) * 0.04);
  const [from, to] = [least - room, most + room];
  const top = Math.max(1, ...points.map(({ value }) => value)) * 1.08;
  const x = (width: number) => box.left + ((width - from) / (to - from)) * (box.right - box.left);
  const y = (value: number) => box.bottom - (value / top) * (box.bottom - box.top);
  const line = (kind: LineKind, a: PagePoint, b: PagePoint): Item => ({
    type: 'line',
    kind,
    points: [a, b],
    closed: false,
  });
  const items: Item[] = [];
  const step = niceStep(top, tick);
  for (let value = 0; value <= top; value += step) {
    items.push(line('rule', [box.left, y(value)], [box.right, y(value)]));
    items.push(makeText(measure, format(value), [box.left - 2, y(value) + 1], { sizePt: 7, anchor: 'end' }));
  }
  const shown = spread([...new Set(widths)].sort((a, b) => a - b));
  for (const width of shown) {
    items.push(line('rule', [x(width), box.bottom], [x(width), box.bottom + 1.5]));
    items.push(
      makeText(measure, roundLength(width, units), [x(width), box.bottom + 5], { sizePt: 7, anchor: 'middle' }),
    );
  }
  breaks.forEach((each, i) => {
    const at = x((boughtWidth(each.narrow.cloth.cloth) + boughtWidth(each.wide.cloth.cloth)) / 2);
    items.push(line('width break', [at, box.top], [at, box.bottom]));
    items.push(makeText(measure, String(i + 1), [at, box.top - 1], { sizePt: 7, anchor: 'middle' }));
  });
  for (const curve of curves) {
    const at = curve.points.map(({ width, value }): PagePoint => [x(width), y(value)]);
    if (at.length > 1) items.push({ type: 'line', kind: curve.kind, points: at, closed: false });
    for (const point of at) items.push(markAt(point, curve.kind));
  }
  items.push({ type: 'line', kind: 'box', points: cornersOf(box), closed: true });
  return items;
}

/** So many of the ticks that their words have room. */
function spread(widths: readonly number[]): readonly number[] {
  const every = Math.ceil(widths.length / ticksMost);
  return widths.filter((_, i) => i % every === 0);
}

/** A step of 1, 2 or 5 times a power of ten of the unit that gives few enough ticks. */
function niceStep(top: number, unit: number): number {
  for (let scale = unit; ; scale *= 10) {
    for (const factor of [1, 2, 5]) if (top / (factor * scale) <= ticksMost) return factor * scale;
  }
}

/** Each curve has a mark of its own: a full square, an open one, an open diamond, an upright stroke. */
function markAt([x, y]: PagePoint, kind: LineKind): Item {
  const box = cornersOf({ left: x - markMm, right: x + markMm, top: y - markMm, bottom: y + markMm });
  const r = markMm * 1.5;
  switch (kind) {
    case 'second curve':
      return { type: 'line', kind: 'box', points: box, closed: true };
    case 'third curve':
      return {
        type: 'line',
        kind: 'box',
        points: [
          [x - r, y],
          [x, y - r],
          [x + r, y],
          [x, y + r],
        ],
        closed: true,
      };
    case 'fourth curve':
      return {
        type: 'line',
        kind: 'first curve',
        points: [
          [x, y - r],
          [x, y + r],
        ],
        closed: false,
      };
    default:
      return { type: 'area', grey: 0, points: box };
  }
}

function cornersOf({ left, right, top, bottom }: Box): readonly PagePoint[] {
  return [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ];
}
