/** The words around the plan: title, headline, facts, legend, cautions, foot of the page. */
import { isStrip } from '../cloth/folding.js';
import type { Lay } from '../lay/types.js';
import { costMinor, formatMoney } from '../report/money.js';
import { garmentsInWords, percent, repeatInWords } from '../report/words.js';
import { formatLength } from '../units/length.js';
import type { LengthUnit, Um } from '../units/types.js';
import type { ClothView } from './cloth-view.js';

/** Keeps an addition and its length on one line. */
const noBreak = '\u00A0';

/** A small heading with one or two lines beneath it. */
export interface Fact {
  readonly what: string;
  readonly lines: readonly string[];
}

/** What she wants to know before she lays the cloth out. */
export function facts(lay: Lay, view: ClothView, units: LengthUnit, scale: number): readonly Fact[] {
  const { cloth, totals } = lay;
  const parts = totals.buyParts
    .filter(({ um }) => um !== 0)
    .map(({ why, um }) => `+ ${why} ${formatLength(um, units)}`.replace(/ /g, noBreak));
  const usable = formatLength(cloth.usable[1] - cloth.usable[0], units);
  const gap = totals.lengthUsed - totals.bound.um;
  return [
    { what: 'how the cloth lies', lines: layWords(lay, view, units) },
    { what: 'nap', lines: napWords(lay) },
    ...(cloth.flaws.length === 0 ? [] : [{ what: 'nothing is cut (along, across)', lines: flawWords(lay, units) }]),
    ...(cloth.repeat === null ? [] : [{ what: 'repeat', lines: repeatInWords(lay, units).split('; ') }]),
    {
      what: 'length',
      lines: [`${formatLength(totals.lengthUsed, units)} used`, ...(parts.length > 0 ? [parts.join(' ')] : [])],
    },
    {
      what: 'usable width',
      lines: [
        `${usable} of ${formatLength(cloth.width, units)}`,
        `gap between pieces ${formatLength(cloth.gap, units)}`,
      ],
    },
    {
      what: 'utilisation',
      lines: [percent(totals.utilisationPpm / 10_000), 'of usable width × length used'],
    },
    {
      what: 'no lay can be shorter than',
      lines: [
        `${formatLength(totals.bound.um, units)} (gap ${percent((100 * gap) / totals.lengthUsed)})`,
        `reason: ${totals.bound.why}`,
      ],
    },
    {
      what: 'pieces to lay',
      lines: [
        `${lay.placements.length}`,
        `they give ${lay.copies.length} ${lay.copies.length === 1 ? 'copy' : 'copies'}`,
        ...garmentsInWords(lay),
      ],
    },
    {
      what: cloth.priceMinorPerMetre === null ? 'drawn at' : 'cost, and scale of the drawing',
      lines: [
        ...(cloth.priceMinorPerMetre === null
          ? []
          : [formatMoney(costMinor(totals.buy, cloth.priceMinorPerMetre), cloth.currency)]),
        `scale 1 : ${scale}`,
      ],
    },
  ];
}

function layWords(lay: Lay, view: ClothView, units: LengthUnit): readonly string[] {
  const side = lay.cloth.fusible ? 'glue side' : 'right side';
  if (!view.folded) return [`open, one layer, ${side} up`, 'shown from above'];
  const together = `${side}s together`;
  if (lay.stretches.length > 1) return ['in stretches, one after another', `where folded, ${together}`];
  const [{ method, folds }] = lay.stretches as [Lay['stretches'][number]];
  const deep = (um: Um) => formatLength(um, units);
  switch (method) {
    case 'lengthwise fold':
      return ['folded lengthwise', `${together}, fold at the right`];
    case 'partial fold':
      return [`left side folded in, ${deep(folds[0])} deep`, `${together} where it is doubled`];
    case 'double fold':
      return [`folded in ${deep(folds[0])} at the left,`, `${deep(folds[1])} at the right, ${together}`];
    case 'tube':
      return ['a tube lying flat', `${side} inside, a fold at each side`];
    case 'crosswise fold':
      return ['folded across, cut end on cut end', `${together}, fold on top`];
    default:
      return ['cut across and turned', `${together}, nap of both layers alike`];
  }
}

/** Where flaws lie; the drawing shows the rest. */
const flawsTold = 4;

function flawWords({ cloth }: Lay, units: LengthUnit): readonly string[] {
  const range = (values: readonly number[]) =>
    `${formatLength(Math.min(...values), units)} – ${formatLength(Math.max(...values), units)}`;
  const lines = cloth.flaws.slice(0, flawsTold).map((flaw) => {
    const along = isStrip(flaw) ? 'all along' : range(flaw.map(([x]) => x));
    return `${along}, ${range(flaw.map(([, y]) => y))}`;
  });
  return cloth.flaws.length > flawsTold
    ? [...lines, `and ${cloth.flaws.length - flawsTold} more, see the drawing`]
    : lines;
}

function napWords(lay: Lay): readonly string[] {
  switch (lay.cloth.nap) {
    case 'one-way':
      return ['one-way', 'all grain heads point the same way'];
    case 'each-garment':
      return ['each garment alike', 'heads of one garment the same way'];
    case 'none':
      return ['none', 'pieces may lie head up or down'];
  }
}

/** The last line of each page. */
export function footWords(lay: Lay): string {
  return `checked · ${lay.status} · seed ${lay.seed} · effort ${lay.effort}`;
}
