/** The words around the plan: title, headline, facts, legend, cautions, foot of the page. */
import { isStrip } from '../cloth/folding.js';
import { isEditedByHand } from '../lay/build.js';
import type { Lay } from '../lay/types.js';
import { costMinor, formatMoney } from '../report/money.js';
import type { ClothSide } from '../report/seen-cloth.js';
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

/**
 * What she wants to know before she lays the cloth out.
 * @param scale of the drawing; null where nothing is drawn
 */
export function facts(lay: Lay, view: ClothView, units: LengthUnit, scale: number | null): readonly Fact[] {
  const { cloth, totals } = lay;
  const parts = totals.buyParts
    .filter(({ um }) => um !== 0)
    .map(({ why, um }) => `+ ${why} ${formatLength(um, units)}`.replace(/ /g, noBreak));
  const usable = formatLength(cloth.usable[1] - cloth.usable[0], units);
  const gap = totals.lengthUsed - totals.bound.um;
  return [
    { what: 'how the cloth lies', lines: layWords(lay, view, units) },
    { what: 'nap', lines: napWords(lay) },
    ...(cloth.flaws.length === 0
      ? []
      : [{ what: 'nothing is cut (along, across)', lines: flawWords(lay, view, units) }]),
    ...(cloth.repeat === null ? [] : [{ what: 'repeat', lines: repeatInWords(lay, units, view.side).split('; ') }]),
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
    ...costAndScale(lay, scale),
  ];
}

function costAndScale({ cloth, totals }: Lay, scale: number | null): readonly Fact[] {
  const price = cloth.priceMinorPerMetre;
  const cost = price === null ? [] : [formatMoney(costMinor(totals.buy, price), cloth.currency)];
  const drawnAt = scale === null ? [] : [`scale 1 : ${scale}`];
  if (cost.length === 0) return scale === null ? [] : [{ what: 'drawn at', lines: drawnAt }];
  return [{ what: scale === null ? 'cost' : 'cost, and scale of the drawing', lines: [...cost, ...drawnAt] }];
}

/** How the cloth lies: layers, and which side is up. */
export function layWords(lay: Lay, view: ClothView, units: LengthUnit): readonly string[] {
  const side = sideWords(lay, view);
  if (!view.folded) return [`open, one layer, ${side} up`, 'shown from above'];
  const together = `${side}s together`;
  if (lay.stretches.length > 1) return ['in stretches, one after another', `where folded, ${together}`];
  const [{ method, folds }] = lay.stretches as [Lay['stretches'][number]];
  const isRight = view.side === 'right';
  const [left, right] = isRight ? folds : [folds[1], folds[0]];
  const deep = (um: Um) => formatLength(um, units);
  switch (method) {
    case 'lengthwise fold':
      return ['folded lengthwise, two layers', `${together}, fold at the ${isRight ? 'right' : 'left'}`];
    case 'partial fold':
      return [
        `${left > 0 ? 'left' : 'right'} side folded in, ${deep(left + right)} deep`,
        `two layers there, ${together}`,
      ];
    case 'double fold':
      return [`folded in ${deep(left)} at the left, ${deep(right)} at the right`, `two layers there, ${together}`];
    case 'tube':
      return ['a tube lying flat, two layers', `${side} inside, a fold at each side`];
    case 'crosswise fold':
      return ['folded across, cut end on cut end, two layers', `${together}, fold on top`];
    default:
      return ['cut across and turned, two layers', `${together}, nap of both layers alike`];
  }
}

/** The side that lies up on open cloth, and inside where it is folded. */
function sideWords({ cloth }: Lay, { side }: ClothView): string {
  if (side === 'right') return cloth.fusible ? 'glue side' : 'right side';
  return cloth.fusible ? 'plain side' : 'wrong side';
}

/** Where flaws lie; the drawing shows the rest. */
const flawsTold = 4;

function flawWords({ cloth }: Lay, { side }: ClothView, units: LengthUnit): readonly string[] {
  const across = (y: Um): Um => (side === 'right' ? y : cloth.width - y);
  const range = (values: readonly number[]) =>
    `${formatLength(Math.min(...values), units)} – ${formatLength(Math.max(...values), units)}`;
  const lines = cloth.flaws.slice(0, flawsTold).map((flaw) => {
    const along = isStrip(flaw) ? 'all along' : range(flaw.map(([x]) => x));
    return `${along}, ${range(flaw.map(([, y]) => across(y)))}`;
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
  const edited = isEditedByHand(lay) ? ' · edited by hand' : '';
  return `checked · ${lay.status} · seed ${lay.seed} · effort ${lay.effort}${edited}`;
}

/** Said in the title line when the cloth lies with its other side up. */
export function wrongSideWords({ cloth }: Pick<Lay, 'cloth'>, side: ClothSide): string {
  if (side === 'right') return '';
  return `seen from the ${cloth.fusible ? 'side without glue' : 'wrong side of the cloth'}: left and right are swapped`;
}
