/** The report's words for lay methods, nap, status and lengths. One wording each, used wherever the thing is said. */
import type { Cloth, LayName, Nap } from '../cloth/types.js';
import { unwashedLength } from '../cloth/washing.js';
import type { Lay } from '../lay/types.js';
import type { GarmentRange } from '../pieces/types.js';
import { formatBuy, formatLength } from '../units/length.js';
import type { LengthUnit, Um } from '../units/types.js';
import type { Outcome } from './outcome.js';
import type { ClothSide } from './seen-cloth.js';

const methodWords: Readonly<Record<LayName, string>> = {
  open: 'the cloth lies in one layer, right side up',
  'lengthwise fold': 'folded along its length, selvedge on selvedge; each pair is cut in one go',
  'partial fold': 'one selvedge folded in part of the way, the rest in one layer',
  'double fold': 'both selvedges folded in towards the middle',
  tube: 'a tube lying flat, a fold on each side and no selvedge',
  'crosswise fold': 'folded across its length, cut end on cut end',
  'crosswise cut and turned': 'cut across, the second layer turned end for end so that the nap runs alike',
  combination: 'laid in stretches, one after another',
};

/** A lay's own method, with the depths where they are not given by the method. */
export function layInWords({ stretches }: Pick<Lay, 'stretches'>, units: LengthUnit): string {
  const named = stretches.map(({ method, folds }) => {
    const deep = folds.filter((um) => um > 0).map((um) => roundLength(um, units));
    return method === 'partial fold' || method === 'double fold' ? `${method} ${deep.join(' and ')} deep` : method;
  });
  if (stretches.length > 1) return `combination: ${named.join(', then ')}`;
  return `${named[0]}: ${methodWords[stretches[0]!.method]}`;
}

const napWords: Readonly<Record<Nap, string>> = {
  'one-way': 'one-way: the head of every piece points the same way',
  'each-garment': 'each garment: within one garment every head points the same way',
  none: 'none: a piece may lie head up or head down',
};

/** The nap as the report says it. */
export function napInWords(nap: Nap): string {
  return napWords[nap];
}

/**
 * For how many garments a lay is, or of several cut lists which garments belong to which; nothing to say of a single
 * garment.
 */
export function garmentsInWords(lay: Pick<Lay, 'cutListSha256' | 'pieces' | 'placements'>): readonly string[] {
  const lists = garmentsByList(lay);
  if (lists !== null) return lists.map(({ name, garments }) => `${numbersInWords(garments)}: ${name}`);
  const garments = lay.placements.reduce((most, { garment }) => Math.max(most, garment), 1);
  return garments === 1 ? [] : [`for ${garments} garments`];
}

/** Of several cut lists those of which something lies here, each with its garments; null for a single one. */
export function garmentsByList({
  cutListSha256: lists,
  pieces,
}: Pick<Lay, 'cutListSha256' | 'pieces'>):
  | readonly { readonly name: string; readonly garments: GarmentRange }[]
  | null {
  if (typeof lists === 'string') return null;
  const firsts = new Set(pieces.map(({ garments }) => garments?.[0]));
  return lists.filter(({ garments }) => firsts.has(garments[0]));
}

function numbersInWords([first, last]: GarmentRange): string {
  if (first === last) return `garment ${first}`;
  return `garments ${first} ${last === first + 1 ? 'and' : 'to'} ${last}`;
}

/** `Bib, Pocket and Tie`. */
export function andList(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

/**
 * The name of a piece with its size, which is not said twice where the name ends in it: `Back M`. A number at the end of
 * a name may count pieces, so a size that is a number is said all the same: `Strap 2, size 2`.
 */
export function nameWithSize(name: string, size: string | null): string {
  if (size === null) return name;
  if (!endsIn(name, size)) return `${name} ${size}`;
  return isNumber(size) ? nameAndSize(name, size) : name;
}

/** The same with the word: `Back, size M`. */
export function nameAndSize(name: string, size: string | null): string {
  return size === null || (endsIn(name, size) && !isNumber(size)) ? name : `${name}, size ${size}`;
}

function endsIn(name: string, size: string): boolean {
  return ` ${name.trim()}`.endsWith(` ${size}`);
}

function isNumber(size: string): boolean {
  return /^\d+$/.test(size);
}

/** How sure we are that no shorter lay exists. */
export function statusInWords(outcome: Outcome): string {
  switch (outcome.status) {
    case 'proven shortest':
      return `proven shortest for this lay method: ${outcome.bound?.why ?? ''}`;
    case 'interrupted':
      return outcome.lay === null
        ? 'interrupted before a first lay was found'
        : 'interrupted: the best lay found so far; a longer run may shorten it';
    case 'does not fit':
      return outcome.fitProven === true ? 'does not fit, proven' : 'no lay that fits was found';
    case 'shortest found': {
      const { starts, of } = outcome.reachedBy ?? { starts: 0, of: 0 };
      if (of < 2) return 'shortest found';
      return `shortest found; the same length was reached from ${starts} of ${of} starts`;
    }
  }
}

/** `150 cm`, `112.5 cm`, `59 in`: a length without idle zeros, for headlines. */
export function roundLength(um: Um, unit: LengthUnit): string {
  return formatLength(um, unit).replace(/\.0(?= )/, '');
}

/** Cloth is bought, or, when it is at hand already, taken. */
export function buyVerb(cloth: Pick<Cloth, 'length'>): 'buy' | 'take' {
  return cloth.length === null ? 'buy' : 'take';
}

/** The width as it is bought, before washing. */
export function boughtWidth({ width, shrinkagePpm }: Pick<Cloth, 'width' | 'shrinkagePpm'>): Um {
  return unwashedLength(width, shrinkagePpm?.across ?? 0);
}

function boughtLength(um: Um, { shrinkagePpm }: Pick<Cloth, 'shrinkagePpm'>): Um {
  return unwashedLength(um, shrinkagePpm?.along ?? 0);
}

/** `ticking, 150 cm wide`, and what there is of it when it is at hand. */
export function clothInWords(cloth: Cloth, units: LengthUnit): string {
  const atHand = cloth.length === null ? '' : `, ${roundLength(boughtLength(cloth.length, cloth), units)} at hand`;
  return `${cloth.name}, ${roundLength(boughtWidth(cloth), units)} wide${atHand}`;
}

/** The headline: `buy 2.3 m of ticking, 150 cm wide`. */
export function headlineOf(
  { cloth, totals, stretches }: Pick<Lay, 'cloth' | 'totals' | 'stretches'>,
  units: LengthUnit,
): string {
  const isTube = stretches.some(({ method }) => method === 'tube');
  const flat = isTube ? ` round, a tube that lies ${roundLength(boughtWidth(cloth) / 2, units)} wide` : '';
  const words = clothInWords(cloth, units);
  return `${buyVerb(cloth)} ${formatBuy(totals.buy, units)} of ${isTube ? words.replace(' wide', flat) : words}`;
}

/** The shop's selling step: `10 cm`, `1/8 yd`. */
export function sellingStep(um: Um, unit: LengthUnit): string {
  return unit === 'in' ? formatBuy(um, unit) : roundLength(um, unit);
}

/** Hundredths of a percent and finer, shown with one decimal. */
export function percent(value: number): string {
  return `${value.toFixed(1)} %`;
}

/** `1 copy`, `2 copies`. */
export function counted(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

/**
 * `8 cm along, 6 cm across; the first bar lies 2.0 cm from the cut end ...` where it was measured. Else along the cloth
 * it can be cut to; across, where bars lie as they were woven, the lay is only for a cloth that has one there.
 */
export function repeatInWords(
  { cloth: { repeat, width }, stretches, pieces }: Pick<Lay, 'cloth' | 'stretches' | 'pieces'>,
  units: LengthUnit,
  side: ClothSide = 'right',
): string {
  if (repeat === null) return 'none';
  const { along, across, drop } = repeat;
  const steps = [
    ...(along === null ? [] : [`${roundLength(along, units)} along`]),
    ...(across === null ? [] : [`${roundLength(across, units)} across`]),
    ...(drop ? ['every second column half a repeat further along'] : []),
  ];
  const bar = repeat.start ?? stretches[0]?.barAt;
  if (bar === undefined) return steps.join(', ');
  const fromLeft = side === 'right' || across === null ? bar[1] : ((width - bar[1]) % across) + across;
  const fromEnd = along === null ? null : `${formatLength(bar[0] % along, units)} from the cut end`;
  const fromEdge = across === null ? null : `${formatLength(fromLeft % across, units)} from the left raw edge`;
  const isMeasured = repeat.start !== null;
  const isFolded = stretches.some(({ method }) => method !== 'open');
  const hangsOnEdge =
    !isMeasured && (isFolded || pieces.some(({ match }) => match.some(({ way }) => way !== 'along' || drop)));
  const places = [fromEnd, isMeasured ? fromEdge : null].filter((place) => place !== null).join(' and ');
  return [
    steps.join(', '),
    ...(places === '' ? [] : [`${isMeasured ? 'the first bar lies' : 'lay the first bar'} ${places}`]),
    ...(!hangsOnEdge || fromEdge === null
      ? []
      : [`only for cloth with a bar ${fromEdge}: measure yours, give it as start`]),
  ].join('; ');
}
