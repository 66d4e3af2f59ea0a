/** One cloth of the cut list: its keys -> a declared cloth, or its faults. */
import { isStrip } from '../cloth/folding.js';
import {
  type Cloth,
  type DeclaredCloth,
  evenWidth,
  type LayName,
  layNames,
  type Nap,
  type Repeat,
  stripEnd,
} from '../cloth/types.js';
import { washedLength } from '../cloth/washing.js';
import { makeFault } from '../diagnostics/faults.js';
import type { Fault, Place } from '../diagnostics/types.js';
import { boundsOf, firstCrossing, isCounterClockwise, twiceArea } from '../geometry/outline.js';
import { outsideOf } from '../geometry/outside.js';
import type { MapEntry, MapNode, SourceNode } from '../source/types.js';
import { formatLength, umPerUnit } from '../units/length.js';
import type { Outline, Point, Um } from '../units/types.js';
import type { Context } from './context.js';
import {
  asList,
  asMap,
  itemsWithin,
  readChoice,
  readKeys,
  readLength,
  readNumber,
  readPoint,
  readPoints,
  readText,
  readYesNo,
  refuse,
} from './fields.js';
import { clothLengthMax, clothWidthMax, clothWidthMin, limits, repeatMax, smallLengthMax } from './limits.js';

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
    'fold',
    'length',
    'ends',
    'gap',
    'price',
    'sold-by',
    'currency',
    'flaws',
    'crease',
    'shrinkage',
    'repeat',
  ],
} as const;

const naps: readonly Nap[] = ['one-way', 'each-garment', 'none'];
const methods = [...layNames, 'best'] as const;

/** Defaults in centimetres, whatever the file's units. */
const selvedgeDefault = 1 * umPerUnit.cm;
const safetyDefault = 1 * umPerUnit.cm;
const endDefault = 3 * umPerUnit.cm;
const gapDefault = 3_000;

export interface ReadCloth {
  /** Of several remnants one for each; null after faults. */
  readonly cloths: readonly DeclaredCloth[] | null;
  /** What it is for, which a faulty cloth may say as well; null where that could not be read. */
  readonly materials: readonly string[] | null;
}

/** One cloth of the cut list. */
export function readCloth(name: string, place: Place, node: MapNode, context: Context): ReadCloth {
  const before = context.errorCount;
  const keys = readKeys(node, clothTable, context);
  const beforeFor = context.errorCount;
  const materials = readMaterials(keys.get('for')?.value ?? null, place, context);
  const isForRead = context.errorCount === beforeFor;
  const cloths = readBought(name, place, keys, materials, before, context);
  return { cloths, materials: isForRead ? materials : null };
}

/** @param before errors before any of this cloth */
function readBought(
  name: string,
  place: Place,
  keys: ReadonlyMap<string, MapEntry>,
  materials: readonly string[],
  before: number,
  context: Context,
): readonly DeclaredCloth[] | null {
  const value = (key: string): SourceNode | null => keys.get(key)?.value ?? null;
  const methodNode = value('method');
  const isTube = methodNode?.kind === 'scalar' && methodNode.text.trim() === 'tube';
  const width = readWidth(value('width'), isTube, place, context);
  const method: LayName | 'best' | null =
    value('method') === null ? 'best' : readChoice(value('method')!, methods, context);
  const usable =
    width === null
      ? null
      : method === 'tube'
        ? wholeRound(width, [value('usable'), value('selvedge')], place, context)
        : readUsable(value('usable'), value('selvedge'), width, place, context);
  const remnants = readRemnants(value('length'), width, context);
  const ends = readEnds(value('ends'), context);
  const gap = optionalLength(value('gap'), gapDefault, { least: 0, most: smallLengthMax, expected: 'a gap' }, context);
  const step = context.units === 'in' ? umPerUnit.yd / 8 : 10 * umPerUnit.cm;
  const soldBy = optionalLength(
    value('sold-by'),
    step,
    { least: 10, most: clothLengthMax, expected: 'a selling step' },
    context,
  );
  const nap = value('nap') === null ? 'one-way' : readChoice(value('nap')!, naps, context);
  const faces = value('faces') === null ? 'one' : readChoice(value('faces')!, ['one', 'both'] as const, context);
  const fold = width === null ? null : readFold(value('fold'), method, width, context);
  const priceMinorPerMetre = readPrice(value('price'), context);
  const currency = value('currency') === null ? null : readText(value('currency')!, 'a currency, such as EUR', context);
  const grain = value('grain') === null ? 'woven' : readChoice(value('grain')!, ['woven', 'free'] as const, context);
  const fusible = value('fusible') === null ? false : readYesNo(value('fusible')!, context);
  const flaws = readFlaws(value('flaws'), width, context);
  if (value('crease') !== null) readChoice(value('crease')!, ['avoid'] as const, context);
  const shrinkagePpm = readShrinkage(value('shrinkage'), context);
  const isIrregular = remnants.some((remnant) => remnant !== null && remnant.outline !== null);
  const repeat = readRepeat(value('repeat'), flaws.length > 0 || isIrregular, context);
  if (context.errorCount > before || width === null || usable === null || ends === null) return null;
  if (gap === null || soldBy === null || nap === null || faces === null || method === null) return null;
  if (grain === null || fusible === null) return null;
  const repeatNotices = repeat === null || repeat.start !== null ? [] : [startUnknown(place, context)];
  const creases = value('crease') === null ? [] : [creaseOf(width)];
  return remnants.map((remnant, i): DeclaredCloth => {
    const bought: Cloth = {
      name: remnants.length === 1 ? name : `${name} (${i + 1})`,
      width,
      usable: usable.range,
      length: remnant?.lengthUm ?? null,
      ends,
      gap,
      nap,
      faces,
      grain,
      fusible,
      repeat,
      flaws: [...flaws, ...creases, ...(remnant === null ? [] : outsideRemnant(remnant, width))],
      shrinkagePpm,
      soldBy,
      priceMinorPerMetre,
      currency,
    };
    const cloth = washed(bought, isTube);
    const foldUm = fold === null ? null : Math.round((fold * cloth.width) / width);
    const irregular = remnant !== null && remnant.outline !== null;
    return { cloth, materials, method, irregular, foldUm, place, notices: [...usable.notices, ...repeatNotices] };
  });
}

/** A tube has no selvedges: all of its round is usable. */
function wholeRound(width: Um, unused: readonly (SourceNode | null)[], place: Place, context: Context): Usable | null {
  const given = unused.find((node) => node !== null);
  if (given !== undefined && given !== null) {
    return context.fault(
      'tube-has-no-selvedge',
      given.place,
      'a tube has no selvedges',
      'leave usable and selvedge out',
    );
  }
  const what = `the width ${formatLength(width, context.units)} is taken as once round the tube, twice as much as it lies wide`;
  const notice = makeFault('tube-round', place, context.subject, what, 'give the whole round as its width', 'notice');
  return { range: [0, width], notices: [notice] };
}

/** A length at hand; of an irregular remnant its outline too, in the flat cloth frame. */
interface Remnant {
  readonly lengthUm: Um;
  readonly outline: Outline | null;
}

/** Half a centimetre at each side of the middle. */
function creaseOf(width: Um): Outline {
  const [from, to] = [width / 2 - safetyDefault / 2, width / 2 + safetyDefault / 2];
  return rectangleOf(0, stripEnd, from, to);
}

function rectangleOf(left: Um, right: Um, low: Um, high: Um): Outline {
  return [
    [left, low],
    [right, low],
    [right, high],
    [left, high],
  ];
}

function outsideRemnant({ lengthUm, outline }: Remnant, width: Um): readonly Outline[] {
  return outline === null ? [] : outsideOf(outline, lengthUm, width);
}

/** Every measure of the cloth after washing: lengths and widths less what they lose, rounded so as to be sure. */
function washed(cloth: Cloth, isTube: boolean): Cloth {
  if (cloth.shrinkagePpm === null) return cloth;
  const { along, across } = cloth.shrinkagePpm;
  const less = (um: Um, ppm: number) => (um * (1_000_000 - ppm)) / 1_000_000;
  const left = washedLength(cloth.width, across);
  const width = isTube ? 4 * Math.floor(left / 4) : evenWidth(left);
  const [from, to] = cloth.usable;
  return {
    ...cloth,
    width,
    usable: [Math.ceil(less(from, across)), Math.min(width, washedLength(to, across))],
    length: cloth.length === null ? null : washedLength(cloth.length, along),
    repeat: cloth.repeat === null ? null : washedRepeat(cloth.repeat, less, along, across),
    flaws: cloth.flaws.map((flaw) =>
      isStrip(flaw)
        ? flaw.map(([x, y]): Point => [x, Math.round(less(y, across))])
        : stillSimple(flaw.map(([x, y]): Point => [Math.round(less(x, along)), Math.round(less(y, across))])),
    ),
  };
}

/** Bars lie where they were woven; until somebody measures, the lay says where it would have them. */
function startUnknown(place: Place, context: Context): Fault {
  const what = 'it is not said where a bar of its repeat lies, so the lay takes the place that suits it best';
  const fix = 'measure one bar from the cut end and from the left raw edge, and give it as start of the repeat';
  return makeFault('repeat-start-assumed', place, context.subject, what, fix, 'notice');
}

/** What is cut off to reach a bar moves every place that is measured from the cut end. */
function refuseUnknownBar(place: Place, context: Context): void {
  const what =
    'what is cut off to reach the first bar would move its flaws or its outline, and it is not said where a bar lies';
  const fix =
    'measure one bar from the cut end and from the left raw edge, and give it as start: {along: 8, start: [3, 0]}';
  context.fault('repeat-start-missing', place, what, fix);
}

/** A ring that rounding has made touch itself becomes the rectangle around it. */
function stillSimple(ring: Outline): Outline {
  if (twiceArea(ring) > 0n && firstCrossing(ring) === null) return ring;
  const { minX, minY, maxX, maxY } = boundsOf(ring);
  return rectangleOf(minX, Math.max(maxX, minX + 1), minY, Math.max(maxY, minY + 1));
}

function washedRepeat(repeat: Repeat, less: (um: Um, ppm: number) => number, along: number, across: number): Repeat {
  const by = (um: Um | null, ppm: number) => (um === null ? null : evenWidth(less(um, ppm)));
  const { start } = repeat;
  return {
    ...repeat,
    along: by(repeat.along, along),
    across: by(repeat.across, across),
    start: start === null ? null : [Math.round(less(start[0], along)), Math.round(less(start[1], across))],
  };
}

/** How often the design comes again, where a bar lies (needed along where places count from the cut end), and how it may be mirrored. */
function readRepeat(node: SourceNode | null, hasPlaces: boolean, context: Context): Repeat | null {
  if (node === null) return null;
  const map = asMap(node, 'a repeat, such as {along: 8, across: 6, mirror: across}', context);
  if (map === null) return null;
  const keys = readKeys(map, { known: ['along', 'across', 'start', 'mirror', 'drop'] }, context);
  const value = (key: string): SourceNode | null => keys.get(key)?.value ?? null;
  const range = { least: umPerUnit.mm, most: repeatMax, expected: 'a repeat' };
  const along = optionalLength(value('along'), null, range, context);
  const across = optionalLength(value('across'), null, range, context);
  if (value('along') === null && value('across') === null) {
    const what = 'a repeat comes again along the cloth, across it or both';
    context.fault('repeat-incomplete', node.place, what, 'give along, across or both');
  }
  if (hasPlaces && value('along') !== null && value('start') === null) refuseUnknownBar(node.place, context);
  const start = value('start') === null ? null : readPoint(value('start')!, context);
  const mirrorNode = value('mirror');
  const mirror = mirrorNode === null ? 'none' : readChoice(mirrorNode, ['along', 'across', 'both'] as const, context);
  const drop = value('drop') === null ? null : readChoice(value('drop')!, ['1/2'] as const, context);
  if (drop !== null && (value('along') === null || value('across') === null)) {
    const what = 'a drop belongs to a repeat along and across';
    context.fault('repeat-incomplete', value('drop')!.place, what, 'give both');
  }
  return {
    // Its half, an axis of the design, lies on a whole micrometre as well.
    along: along === null ? null : evenWidth(along),
    across: across === null ? null : evenWidth(across),
    start: start?.value ?? null,
    mirror: mirror ?? 'none',
    drop: drop !== null,
  };
}

/** A flaw: a rectangle from its corner nearest to the cut end and the left selvedge, or a ring. */
function readFlaws(node: SourceNode | null, width: Um | null, context: Context): readonly Outline[] {
  const list = node === null ? null : asList(node, 'a list of flaws', context);
  const items =
    list === null ? [] : itemsWithin(list, limits.flaws, 'flaws', 'take several near each other as one', context);
  return items.flatMap((item) => {
    const flaw = readFlaw(item, context);
    if (flaw === null) return [];
    const { minX, minY, maxX, maxY } = boundsOf(flaw);
    if (width === null || (maxY > 0 && minY < width && maxX > 0 && minX < clothLengthMax)) return [flaw];
    const what = `the flaw lies beside the cloth, which is ${formatLength(width, context.units)} wide`;
    const fix = 'give its place from the cut end first, then from the left raw edge';
    context.fault('flaw-outside', item.place, what, fix);
    return [];
  });
}

function readFlaw(item: SourceNode, context: Context): Outline | null {
  const map = asMap(item, 'a flaw, such as {at: [80, 40], size: [6, 3]}', context);
  if (map === null) return null;
  const keys = readKeys(map, { known: ['at', 'size', 'outline'] }, context);
  const [at, size, outline] = ['at', 'size', 'outline'].map((key) => keys.get(key)?.value ?? null);
  if (outline !== null && outline !== undefined) {
    return readRing(outline, context);
  }
  if (!at || !size) {
    const what = 'a flaw needs at and size, or an outline';
    context.fault(
      'flaw-incomplete',
      item.place,
      what,
      'such as {at: [80, 40], size: [6, 3]}: from the cut end, then from the left raw edge',
    );
    return null;
  }
  const [corner, extent] = [readPoint(at, context), readPoint(size, context)];
  if (corner === null || extent === null) return null;
  const [[x, y], [along, across]] = [corner.value, extent.value];
  if (along <= 0 || across <= 0) {
    context.fault(
      'flaw-incomplete',
      size.place,
      'the size of a flaw is more than nothing',
      'give it along, then across',
    );
    return null;
  }
  return rectangleOf(x, x + along, y, y + across);
}

/** A simple ring, counter-clockwise. */
function readRing(node: SourceNode, context: Context): Outline | null {
  const points = readPoints(node, 3, limits.corners, context);
  if (points === null) return null;
  const ring = points.map(({ value }) => value);
  const outline = isCounterClockwise(ring) ? ring : [...ring].reverse();
  if (twiceArea(outline) > 0n && firstCrossing(outline) === null) return outline;
  return context.fault(
    'outline-not-simple',
    node.place,
    'the outline crosses or touches itself',
    'list its corners in order, each once',
  );
}

/** What washing takes, in percent of the length before. */
function readShrinkage(node: SourceNode | null, context: Context): Cloth['shrinkagePpm'] {
  if (node === null) return null;
  const map = asMap(node, 'a shrinkage, such as {along: 4, across: 2}', context);
  if (map === null) return null;
  const keys = readKeys(map, { known: ['along', 'across'] }, context);
  const ppm = (key: string) => {
    const value = keys.get(key)?.value;
    if (value === undefined) return 0;
    const percent = readNumber(
      value,
      { least: 0, most: 50, expected: 'a shrinkage in percent, from 0 to 50' },
      context,
    );
    return percent === null ? 0 : Math.round(percent * 10_000);
  };
  return { along: ppm('along'), across: ppm('across') };
}

/** One length, or a list of remnants: lengths, or outlines in the flat cloth frame. No length: as long as needed. */
function readRemnants(node: SourceNode | null, width: Um | null, context: Context): readonly (Remnant | null)[] {
  if (node === null) return [null];
  const items = node.kind === 'list' ? node.items : [node];
  if (items.length === 0) refuse(node, 'a length at hand, or a list of remnants', context);
  if (node.kind === 'list') itemsWithin(node, limits.cloths, 'remnants', 'divide them into several cut lists', context);
  return items.slice(0, limits.cloths).map((item): Remnant | null => {
    if (item.kind !== 'map') {
      const range = { least: 1, most: clothLengthMax, expected: 'a length at hand' };
      const lengthUm = readLength(item, range, context);
      return lengthUm === null ? null : { lengthUm, outline: null };
    }
    const keys = readKeys(item, { known: ['outline'] }, context);
    const value = keys.get('outline')?.value;
    if (value === undefined)
      return refuse(item, 'a remnant, such as {outline: [[0, 0], [120, 0], [100, 90]]}', context);
    const outline = readRing(value, context);
    if (outline === null) return null;
    const { minX, minY, maxX, maxY } = boundsOf(outline);
    if (minX >= 0 && minY >= 0 && maxY <= (width ?? maxY) && maxX <= clothLengthMax) return { lengthUm: maxX, outline };
    const what = 'the outline of the remnant reaches beyond its width, or before its cut end';
    const fix = 'list its corners as [along, across], from the cut end and the left raw edge of a cloth of that width';
    return context.fault('remnant-outside', value.place, what, fix);
  });
}

/** Depth of a partial fold, from the left selvedge; null: searched. */
function readFold(node: SourceNode | null, method: LayName | 'best' | null, width: Um, context: Context): Um | null {
  if (node === null) return null;
  if (method !== null && method !== 'partial fold') {
    const what = `a fold depth belongs to a partial fold, not to ${method}`;
    return context.fault('fold-depth-unused', node.place, what, 'write method: partial fold, or leave fold out');
  }
  return readLength(node, { least: umPerUnit.cm, most: width / 2 - 1, expected: 'the depth of the fold' }, context);
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
  if (node.kind === 'list')
    itemsWithin(node, limits.materials, 'materials', 'divide them into several cut lists', context);
  return items
    .slice(0, limits.materials)
    .flatMap((item) => readText(item, 'a material or a list of materials', context) ?? []);
}

function readWidth(node: SourceNode | null, isTube: boolean, place: Place, context: Context): Um | null {
  if (node === null)
    return context.fault('width-missing', place, 'it has no width', 'measure it from edge to edge: "width: 150"');
  const width = readLength(node, { least: clothWidthMin, most: clothWidthMax, expected: 'a width' }, context);
  // A fold of it lies on a whole micrometre, on a tube at a quarter.
  return width === null ? null : isTube ? 4 * Math.floor(width / 4) : evenWidth(width);
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
    if (to - from >= clothWidthMin && to <= width) return { range: [from, to], notices: [] };
    if (to <= width && from < to) {
      const what = `usable from ${formatLength(from, context.units)} to ${formatLength(to, context.units)} is less than ${formatLength(clothWidthMin, context.units)}`;
      return context.fault('usable-impossible', node.place, what, 'measure both from the left raw edge');
    }
    const what = `usable from ${formatLength(from, context.units)} to ${formatLength(to, context.units)} does not lie within the width ${formatLength(width, context.units)}`;
    return context.fault('usable-impossible', node.place, what, 'measure both from the left raw edge');
  }
  const usable = readLength(node, { ...range, least: clothWidthMin }, context);
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
  if (width - 2 * side < clothWidthMin) {
    const what = `a width of ${formatLength(width, context.units)} leaves nothing between selvedges of ${formatLength(selvedge, context.units)}`;
    return context.fault('width-too-small', place, what, 'give the whole width of the cloth');
  }
  const usable = formatLength(width - 2 * side, context.units);
  const what = `usable width taken as ${usable}: the width less its selvedges and 1 cm`;
  const fix = 'measure the cloth and give usable';
  const notice = makeFault('usable-assumed', place, context.subject, what, fix, 'notice');
  return { range: [side, width - side], notices: [notice] };
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
