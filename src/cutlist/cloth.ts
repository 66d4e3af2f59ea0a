/** One cloth of the cut list: its keys -> a declared cloth, or its faults. */
import { type Cloth, type DeclaredCloth, evenWidth, type LayMethod, type Nap } from '../cloth/types.js';
import { makeFault } from '../diagnostics/faults.js';
import type { Fault, Place } from '../diagnostics/types.js';
import type { MapNode, SourceNode } from '../source/types.js';
import { formatLength, umPerUnit } from '../units/length.js';
import type { Um } from '../units/types.js';
import type { Context } from './context.js';
import { readChoice, readKeys, readLength, readText, refuse } from './fields.js';
import { clothLengthMax, clothWidthMax, smallLengthMax } from './limits.js';

export const clothTable = {
  known: [
    'for',
    'width',
    'selvedge',
    'usable',
    'nap',
    'faces',
    'fusible',
    'grain',
    'method',
    'length',
    'ends',
    'gap',
    'price',
    'sold-by',
    'currency',
  ],
  later: ['fold', 'repeat', 'flaws', 'crease', 'shrinkage'],
} as const;

const naps: readonly Nap[] = ['one-way', 'each-garment', 'none'];
const methods = ['open', 'lengthwise fold', 'best'] as const;
const laterMethods = [
  'partial fold',
  'double fold',
  'tube',
  'crosswise fold',
  'crosswise cut and turned',
  'combination',
];

/** Defaults in centimetres, whatever the file's units. */
const selvedgeDefault = 1 * umPerUnit.cm;
const safetyDefault = 1 * umPerUnit.cm;
const endDefault = 3 * umPerUnit.cm;
const gapDefault = 3_000;

/** One cloth of the cut list, or null after its faults. */
export function readCloth(name: string, place: Place, node: MapNode, context: Context): DeclaredCloth | null {
  const before = context.errorCount;
  const keys = readKeys(node, clothTable, context);
  const value = (key: string): SourceNode | null => keys.get(key)?.value ?? null;
  const materials = readMaterials(value('for'), place, context);
  const width = readWidth(value('width'), place, context);
  const usable = width === null ? null : readUsable(value('usable'), value('selvedge'), width, place, context);
  const length = readLengthAtHand(value('length'), context);
  const ends = readEnds(value('ends'), context);
  const gap = optionalLength(value('gap'), gapDefault, { least: 0, most: smallLengthMax, expected: 'a gap' }, context);
  const step = context.units === 'in' ? umPerUnit.yd / 8 : 10 * umPerUnit.cm;
  const soldBy = optionalLength(
    value('sold-by'),
    step,
    { least: 10, most: clothLengthMax, expected: 'a selling step' },
    context,
  );
  const nap = value('nap') === null ? 'one-way' : readChoice(value('nap')!, naps, [], context);
  const faces = value('faces') === null ? 'one' : readChoice(value('faces')!, ['one', 'both'] as const, [], context);
  const method: LayMethod | 'best' | null =
    value('method') === null ? 'best' : readChoice(value('method')!, methods, laterMethods, context);
  const priceMinorPerMetre = readPrice(value('price'), context);
  const currency = value('currency') === null ? null : readText(value('currency')!, 'a currency, such as EUR', context);
  if (value('grain') !== null) readChoice(value('grain')!, ['woven'], ['free'], context);
  if (value('fusible') !== null) readChoice(value('fusible')!, ['no'], ['yes'], context);
  if (context.errorCount > before || width === null || usable === null || ends === null) return null;
  if (gap === null || soldBy === null || nap === null || faces === null || method === null) return null;
  const cloth: Cloth = {
    name,
    width,
    usable: usable.range,
    length,
    ends,
    gap,
    nap,
    faces,
    grain: 'woven',
    fusible: false,
    repeat: null,
    flaws: [],
    shrinkagePpm: null,
    soldBy,
    priceMinorPerMetre,
    currency,
  };
  return { cloth, materials, method, place, notices: usable.notices };
}

function readMaterials(node: SourceNode | null, place: Place, context: Context): string[] {
  if (node === null) {
    context.fault(
      'cloth-for-missing',
      place,
      'it is not said for which material it is',
      'add for, such as "for: shell"',
    );
    return [];
  }
  const items = node.kind === 'list' ? node.items : [node];
  if (items.length === 0) refuse(node, 'a material or a list of materials', context);
  return items.flatMap((item) => readText(item, 'a material or a list of materials', context) ?? []);
}

function readWidth(node: SourceNode | null, place: Place, context: Context): Um | null {
  if (node === null)
    return context.fault('width-missing', place, 'it has no width', 'measure it from edge to edge: "width: 150"');
  const width = readLength(node, { least: umPerUnit.cm, most: clothWidthMax, expected: 'a width' }, context);
  return width === null ? null : evenWidth(width);
}

interface Usable {
  readonly range: readonly [Um, Um];
  readonly notices: readonly Fault[];
}

function readUsable(
  node: SourceNode | null,
  selvedgeNode: SourceNode | null,
  width: Um,
  place: Place,
  context: Context,
): Usable | null {
  const range = { least: 0, most: clothWidthMax, expected: 'a width' };
  const selvedge = optionalLength(selvedgeNode, selvedgeDefault, { ...range, expected: 'a selvedge' }, context);
  if (selvedge === null) return null;
  if (node === null) return assumeUsable(width, selvedge, place, context);
  if (node.kind === 'list') {
    if (node.items.length !== 2) return refuse(node, 'a usable width, or [from, to]', context);
    const [from, to] = node.items.map((item) => readLength(item, range, context)) as [Um | null, Um | null];
    if (from === null || to === null) return null;
    if (from < to && to <= width) return { range: [from, to], notices: [] };
    const what = `usable from ${formatLength(from, context.units)} to ${formatLength(to, context.units)} does not lie within the width ${formatLength(width, context.units)}`;
    return context.fault('usable-impossible', node.place, what, 'measure both from the left raw edge');
  }
  const usable = readLength(node, { ...range, least: umPerUnit.cm }, context);
  if (usable === null) return null;
  if (usable > width) {
    const what = `${formatLength(usable, context.units)} usable is more than the width ${formatLength(width, context.units)}`;
    return context.fault('usable-impossible', node.place, what, 'give the width between the selvedges');
  }
  const side = Math.ceil((width - usable) / 2);
  return { range: [side, width - side], notices: [] };
}

/** Less the selvedges and one centimetre, half of it at each side. */
function assumeUsable(width: Um, selvedge: Um, place: Place, context: Context): Usable | null {
  const side = selvedge + safetyDefault / 2;
  if (width - 2 * side < umPerUnit.cm) {
    const what = `a width of ${formatLength(width, context.units)} leaves nothing between selvedges of ${formatLength(selvedge, context.units)}`;
    return context.fault('width-too-small', place, what, 'give the whole width of the cloth');
  }
  const usable = formatLength(width - 2 * side, context.units);
  const what = `usable width taken as ${usable}: the width less its selvedges and 1 cm`;
  const fix = 'measure the cloth and give usable';
  const notice = makeFault('usable-assumed', place, context.subject, what, fix, 'notice');
  return { range: [side, width - side], notices: [notice] };
}

/** One length; a list of remnants comes later. */
function readLengthAtHand(node: SourceNode | null, context: Context): Um | null {
  if (node?.kind === 'list') {
    const fix = 'give the length of one remnant, and the others as cloths of their own';
    return context.fault('not-supported-yet', node.place, 'a list of lengths at hand is not supported yet', fix);
  }
  return optionalLength(node, null, { least: 1, most: clothLengthMax, expected: 'a length at hand' }, context);
}

function readEnds(node: SourceNode | null, context: Context): readonly [Um, Um] | null {
  if (node === null) return [endDefault, endDefault];
  const expected = 'both ends, [3, 3]';
  if (node.kind !== 'list' || node.items.length !== 2) return refuse(node, expected, context);
  const range = { least: 0, most: smallLengthMax, expected: 'a length to keep clear' };
  const [from, to] = node.items.map((item) => readLength(item, range, context)) as [Um | null, Um | null];
  return from === null || to === null ? null : [from, to];
}

function optionalLength<T extends Um | null>(
  node: SourceNode | null,
  otherwise: T,
  range: { readonly least: Um; readonly most: Um; readonly expected: string },
  context: Context,
): Um | T | null {
  return node === null ? otherwise : readLength(node, range, context);
}

/** Hundredths per metre; a file in inches gives its price per yard. Converted prices keep six decimals. */
function readPrice(node: SourceNode | null, context: Context): number | null {
  if (node === null) return null;
  const text = node.kind === 'scalar' ? node.text.trim() : '';
  if (!/^\d{1,7}([.,]\d{1,4})?$/.test(text))
    return refuse(node, 'a price per metre (per yard with in), such as 18.50', context);
  const minor = Number(text.replace(',', '.')) * 100;
  const perMetre = context.units === 'in' ? minor / 0.9144 : minor;
  return Math.round(perMetre * 1e6) / 1e6;
}
