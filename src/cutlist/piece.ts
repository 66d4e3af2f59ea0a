/** One piece of the cut list: its keys -> a declared piece, or its faults. */
import type { Located, Place } from '../diagnostics/types.js';
import type { CornerStyle } from '../geometry/allowance.js';
import { checkWithoutShape, type Sure } from '../pieces/check-piece.js';
import { copiesAsked } from '../pieces/cut-terms.js';
import { lengthOf, runPoints } from '../pieces/grain-frame.js';
import { alongSeam, notchDepth } from '../pieces/marks.js';
import type {
  CutTerm,
  DeclaredDart,
  DeclaredGrain,
  DeclaredNotch,
  DeclaredPiece,
  DeclaredPleat,
  EdgeRun,
  MatchPoint,
  MaterialCut,
} from '../pieces/types.js';
import type { MapEntry, MapNode, SourceNode } from '../source/types.js';
import { formatLength } from '../units/length.js';
import type { Point, Um } from '../units/types.js';
import { readAllowances } from './allowance.js';
import type { Context } from './context.js';
import { parseWording, wordingForms } from './cut-wording.js';
import type { Borrow } from './edge-names.js';
import {
  asList,
  asMap,
  isName,
  itemsWithin,
  nameFix,
  nameProblem,
  readChoice,
  readKeys,
  readLength,
  readNumber,
  readPoint,
  readText,
  readYesNo,
  refuse,
  tellMany,
} from './fields.js';
import { coordinateMax, limits } from './limits.js';
import type { FromDrawing } from './plain-shapes.js';
import { type Lettered, parseRun, readRun } from './runs.js';
import { bareShapes, lettersOf, type ReadShape, readShape, shapeKeys, shapesGiven } from './shape.js';

export const pieceTable = {
  known: [
    ...shapeKeys,
    'curves',
    'like',
    'drawn',
    'fold',
    'grain',
    'cut',
    'allowance',
    'corner',
    'notches',
    'awl',
    'darts',
    'pleats',
    'turn',
    'tilt',
    'match',
    'measured',
    'size',
    'note',
  ],
} as const;

export const drawnWords = ['net', 'cut'] as const;
export type Drawn = (typeof drawnWords)[number];

/** A tape may differ this much from the drawing. Common practice, no source. */
const measureTolerance: Um = 3_000;

type Keys = ReadonlyMap<string, MapEntry>;

/** A piece whose own `like` has been resolved: `keys` are all that hold for it. */
export interface NamedKeys {
  /** The keys given here, not by the piece that it is like. */
  readonly own: ReadonlySet<string>;
  /** No key of these pieces is unknown: what one would have said is not known either. */
  readonly areAllKnown: boolean;
  readonly id: string;
  readonly place: Place;
  readonly keys: Keys;
}

export interface ReadPiece {
  /** null where its shape could not be read. */
  readonly piece: DeclaredPiece | null;
  /** Wordings that could be read. */
  readonly cut: readonly MaterialCut[];
  /** Without faults; else it serves only to find more of them, see checkUnfinished. */
  readonly isWhole: boolean;
  readonly sure: Sure;
}

/** A piece with all faults of its keys told. */
export function readPiece(
  { id, place, keys, own, areAllKnown }: NamedKeys,
  drawnForAll: Drawn | 'unread' | null,
  borrow: Borrow,
  context: Context,
): ReadPiece {
  const before = context.errorCount;
  const drawn = readDrawn(keys, place, drawnForAll, context);
  const shape = readShape(keys, place, borrow, context);
  const beforeCut = context.errorCount;
  const fromDrawing = shape?.fromDrawing ?? null;
  const read: Reading = { shape, corners: shape?.corners ?? lettersOf(keys), keys, context, place };
  const cut = readCut(read);
  const isCutRead = context.errorCount === beforeCut;
  if (drawn === 'net' && fromDrawing?.hasSeamLine) tellSeamLine(place, context);
  const size = readOptional(keys, 'size', context, 'a size, such as 38 or M') ?? fromDrawing?.size ?? null;
  const note = readOptional(keys, 'note', context, 'a note');
  const parts = shape?.parts ?? null;
  if (parts !== null) for (const { terms, place: at } of cut) tellManyCopies(terms, parts, at, context);
  const fold = readFold(read);
  const grain = readGrain(read);
  const beforeAllowances = context.errorCount;
  const allowanceNode = keys.get('allowance')?.value ?? null;
  const allowances = readAllowances(
    allowanceNode,
    read.corners,
    materialsOf(read, cut),
    fold?.value.edges ?? [],
    own.has('fold') === own.has('allowance'),
    context,
  );
  const areSeamsRead = areAllKnown && isCutRead && context.errorCount === beforeAllowances;
  if (drawn === 'net' && !keys.has('allowance')) tellNoAllowance(place, context);
  const cornerStyles = readCorners(read);
  const notches = readNotches(read);
  const awl = readAwl(read);
  const darts = readDarts(read);
  const pleats = readPleats(read);
  const match = readMatch(read);
  const turn = keys.has('turn') ? readYesNo(keys.get('turn')!.value, context) : null;
  const tilt = readTilt(keys, context);
  const measured = readMeasured(read);
  const sure = {
    fold: fold !== undefined && (areAllKnown || keys.has('fold')),
    seams: drawn === 'net' || (drawn === 'cut' && areSeamsRead),
  };
  const shapeless = { id, fold: fold ?? null, grain: grain ?? { value: standIn, place }, cut };
  if (shape === null) {
    context.faults.push(...checkWithoutShape(shapeless, context.units, sure));
    return { piece: null, cut, isWhole: false, sure };
  }
  const asDrawn: DeclaredPiece = {
    ...shapeless,
    place,
    size,
    note,
    drawn: drawn ?? 'cut',
    corners: shape.corners,
    edges: shape.edges,
    yDown: shape.yUp === -1,
    allowanceByMaterial: allowances.byMaterial,
    allowanceDefault: allowances.byDefault,
    cornerStyles,
    notches: notches ?? [],
    awl,
    darts,
    pleats,
    match,
    inner: fromDrawing?.inner ?? [],
    hole: shape.hole,
    parts: shape.parts,
    tiltMaxMicrodegrees: tilt,
    measured,
    turn,
  };
  checkMeasured(asDrawn, context);
  const isWhole = context.errorCount === before && areAllKnown && drawn !== null;
  const piece = isWhole && notches === null ? withNotches(asDrawn, fromDrawing!, place) : asDrawn;
  return { piece, cut, isWhole, sure };
}

/** In the place of a grain line that could not be read. */
const standIn: DeclaredGrain = { foot: [0, 0], head: [0, 100_000], cross: false };

/** Allowances on top of allowances. */
function tellSeamLine(place: Place, context: Context): void {
  const what =
    'its drawing has a seam line within the outline, which so looks like the cutting line, but it is drawn net';
  context.fault('drawing-doubt', place, what, 'say "drawn: cut" if the outline is the cutting line', 'warning');
}

/** Cut on the seam line: right for felt, a costly slip elsewhere. */
function tellNoAllowance(place: Place, context: Context): void {
  const what = 'it is drawn net and has no allowance, so it is cut on its seam line';
  context.fault('no-allowance', place, what, 'add "allowance: 1", or "allowance: 0" if that is meant', 'notice');
}

/** The notches of the drawing, which lie so far along its own lines; a piece drawn cut counts along its seam line. */
function withNotches(piece: DeclaredPiece, { notches }: FromDrawing, place: Place): DeclaredPiece {
  const value = notches.map(({ run, alongUm }) => {
    const atUm = Math.floor(alongSeam(piece, run, alongUm, piece.allowanceDefault));
    return { value: { run, atUm, depthUm: notchDepth, double: false }, place };
  });
  return { ...piece, notches: value };
}

interface Reading {
  /** null: it could not be read, and only the faults of the other keys are wanted. */
  readonly shape: ReadShape | null;
  readonly corners: Lettered;
  readonly keys: Keys;
  readonly context: Context;
  /** Of the piece. */
  readonly place: Place;
}

function readOptional(keys: Keys, key: string, context: Context, expected: string): string | null {
  const entry = keys.get(key);
  return entry === undefined ? null : readText(entry.value, expected, context);
}

function readDrawn(keys: Keys, place: Place, drawnForAll: Drawn | 'unread' | null, context: Context): Drawn | null {
  const entry = keys.get('drawn');
  if (entry !== undefined) return readChoice(entry.value, drawnWords, context);
  if (drawnForAll === 'unread') return null;
  if (drawnForAll !== null) return drawnForAll;
  const fix =
    'write "drawn: net" (seam lines, allowances are added) or "drawn: cut" (cutting lines) at the top or here';
  return context.fault(
    'drawn-missing',
    place,
    'it is not said whether the outline is the seam line or the cutting line',
    fix,
  );
}

const notSaidHowMany = 'it is not said how many to cut, of what';
const cutFix = 'add cut, for example "cut: {shell: 1 pair}"';

function readCut(reading: Reading): readonly MaterialCut[] {
  const { shape, keys, place, context } = reading;
  const entry = keys.get('cut');
  if (entry === undefined) {
    const inDrawing = shape?.fromDrawing?.cut ?? [];
    if (inDrawing.length === 0 && !(mayBringMore(reading) && keys.has('dxf')))
      context.fault('cut-missing', place, notSaidHowMany, cutFix);
    return inDrawing;
  }
  const map = asMap(entry.value, 'materials with wordings, {shell: 1 pair}', context);
  if (map === null) return [];
  if (map.entries.length === 0) refuse(map, 'materials with wordings, {shell: 1 pair}', context);
  return map.entries.flatMap((entry): MaterialCut[] => {
    const { key, keyPlace, value } = entry;
    if (!isName(key)) {
      context.fault('bad-name', keyPlace, nameProblem(key, 'material'), nameFix);
      return [];
    }
    const unparted = unpartedWording(entry);
    if (unparted !== null) {
      const what = `"${key}" has no colon and space between material and wording`;
      context.fault('bad-wording', keyPlace, what, `write "${unparted.material}: ${unparted.text}"`);
      return [];
    }
    const text = readText(value, wordingForms, context);
    if (text === null) return [];
    const read = parseWording(text);
    if ('problem' in read) {
      context.fault('bad-wording', value.place, read.problem, `write ${wordingForms}`);
      return [];
    }
    tellManyCopies(read.terms, null, value.place, context);
    return [{ material: key, terms: read.terms, text, place: value.place }];
  });
}

/** `shell 1 on fold` or `shell:1 on fold`, without colon or space; null where that is not what was meant. */
function unpartedWording({ key, value }: MapEntry): { readonly material: string; readonly text: string } | null {
  const [, material = '', text = ''] = (value.kind === 'empty' && /^([^\s:]+)[\s:]+(.+)$/.exec(key)) || [];
  return 'terms' in parseWording(text) ? { material, text } : null;
}

/** Those of a wording that cannot be read too: one fault is enough. Null where it is not known what it is cut from. */
function materialsOf({ keys }: Reading, cut: readonly MaterialCut[]): readonly string[] | null {
  const node = keys.get('cut')?.value;
  if (node?.kind === 'map' && node.entries.length > 0)
    return node.entries.map((each) => unpartedWording(each)?.material ?? each.key);
  return cut.length === 0 ? null : cut.map(({ material }) => material);
}

/** @param parts strips that are joined for each one asked for; null = not joined */
function tellManyCopies(terms: readonly CutTerm[], parts: number | null, place: Place, context: Context): void {
  const found = copiesAsked(terms) * (parts ?? 1);
  const what = parts === null ? 'copies' : 'strips in all';
  const fix = 'write what one garment needs, and plan several garments: CUTLIST=2';
  if (found > limits.copies) tellMany(place, { found, most: limits.copies, what }, fix, context);
}

/** A shape that could not be read, or is still to be given, may say what the keys do not. */
function mayBringMore({ shape, keys }: Reading): boolean {
  const given = shapesGiven(keys);
  return shape === null && (given.length === 0 || given.some((key) => !bareShapes.includes(key)));
}

/** `fold: none` for a piece whose drawing has a mirror line that is not to be one; undefined: it could not be read. */
function readFold(reading: Reading): Located<EdgeRun> | null | undefined {
  const { shape, corners, keys, context, place } = reading;
  const entry = keys.get('fold');
  if (entry === undefined) {
    if (mayBringMore(reading)) return undefined;
    return shape?.fromDrawing?.fold ? { value: shape.fromDrawing.fold, place } : null;
  }
  if (entry.value.kind === 'scalar' && entry.value.text.trim() === 'none') return null;
  const run = readRun(entry.value, corners, context);
  return run === null ? undefined : { value: run, place: entry.value.place };
}

/** A point of the piece in the frame of its shape; path data counts y downwards. */
function readPiecePoint(node: SourceNode, { shape, context }: Reading): Located<Point> | null {
  const read = readPoint(node, context);
  if (read === null || shape === null || shape.yUp === 1) return read;
  return { value: [read.value[0], 0 - read.value[1]], place: read.place };
}

function readGrain(reading: Reading): Located<DeclaredGrain> | null {
  const { shape, corners, keys, context, place } = reading;
  const entry = keys.get('grain');
  if (entry === undefined) {
    if (shape !== null && shape.grain !== null) return { value: shape.grain, place };
    if (mayBringMore(reading)) return null;
    const fix = 'name an edge from foot to head, "grain: A-D", or two points, "grain: [[9, 2], [9, 15]]"';
    return context.fault('grain-missing', place, 'it has no grain line', fix);
  }
  const { value } = entry;
  if (value.kind === 'list') {
    if (value.items.length !== 2) return refuse(value, 'two points, foot and head', context, 'bad-grain');
    const [foot, head] = value.items.map((item) => readPiecePoint(item, reading));
    if (!foot || !head) return null;
    return { value: { foot: foot.value, head: head.value, cross: false }, place: value.place };
  }
  const read = value.kind === 'map' ? readGrainMap(value, context) : { edge: value, cross: false };
  const run = read === null ? null : readRun(read.edge, corners, context);
  if (read === null || run === null || shape === null) return null;
  const ends = runEnds(run, shape);
  return { value: { foot: ends[0], head: ends[1], cross: read.cross }, place: value.place };
}

const grainTable = { known: ['edge', 'also'] };

/** `grain: {edge: A-D, also: cross}`. */
function readGrainMap(map: MapNode, context: Context): { edge: SourceNode; cross: boolean } | null {
  const before = context.errorCount;
  const keys = readKeys(map, grainTable, context);
  const edge = keys.get('edge');
  const also = keys.get('also');
  if (also !== undefined) readChoice(also.value, ['cross'], context);
  if (context.errorCount > before) return null;
  if (edge === undefined) return refuse(map, 'an edge, or two points, foot and head', context, 'bad-grain');
  return { edge: edge.value, cross: also !== undefined };
}

function runEnds(run: EdgeRun, shape: ReadShape): readonly [Point, Point] {
  const first = shape.edges[run.edges[0]!]!.points;
  const last = shape.edges[run.edges.at(-1)!]!.points;
  return run.reversed ? [first.at(-1)!, last[0]!] : [first[0]!, last.at(-1)!];
}

const cornerWords = ['plain', 'square', 'hem'] as const;

function readCorners({ corners, keys, context }: Reading): CornerStyle[] {
  const styles: CornerStyle[] = (corners ?? []).map(() => 'plain');
  const entry = keys.get('corner');
  const map = entry === undefined ? null : asMap(entry.value, 'corners with styles, {E: plain}', context);
  for (const { key, keyPlace, value } of map?.entries ?? []) {
    const corner = (corners ?? []).findIndex(({ label }) => label === key);
    if (corners !== null && corner === -1) {
      const labels = corners.map(({ label }) => label).join(', ');
      context.fault('no-such-corner', keyPlace, `there is no corner "${key}"`, `its corners are ${labels}`);
    }
    const style = readChoice(value, cornerWords, context);
    if (corner !== -1 && style !== null) styles[corner] = style;
  }
  return styles;
}

const marksFix = 'leave out those that nobody sews by';

/** The maps of a list such as notches: [{edge: A-B, at: 10}], each with its edge and its place along it. */
function readAlongEdges<T>(
  key: string,
  form: string,
  more: readonly string[],
  { corners, keys, context }: Reading,
  complete: (run: EdgeRun, atUm: Um, found: Keys, place: Place) => T | null,
): Located<T>[] {
  const entry = keys.get(key);
  const list = entry === undefined ? null : asList(entry.value, `a list of ${key}, each ${form}`, context);
  const items = list === null ? [] : itemsWithin(list, limits.marks, key, marksFix, context);
  return items.flatMap((item): Located<T>[] => {
    const map = asMap(item, form, context);
    if (map === null) return [];
    const before = context.errorCount;
    const found = readKeys(map, { known: ['edge', 'at', ...more] }, context);
    const edge = found.get('edge');
    const at = found.get('at');
    if (context.errorCount > before) return [];
    if (edge === undefined || at === undefined) {
      refuse(item, form, context);
      return [];
    }
    const run = readRun(edge.value, corners, context);
    const atUm = readLength(
      at.value,
      { least: 0, most: coordinateMax, expected: 'a distance along the edge' },
      context,
    );
    const value = run === null || atUm === null ? null : complete(run, atUm, found, item.place);
    return value === null ? [] : [{ value, place: item.place }];
  });
}

/** null: those of the drawing. */
function readNotches(reading: Reading): Located<DeclaredNotch>[] | null {
  const { context, keys, shape } = reading;
  if (!keys.has('notches') && shape !== null && shape.fromDrawing !== null) return null;
  return readAlongEdges('notches', 'a notch {edge: A-B, at: 10}', ['depth', 'double'], reading, (run, atUm, found) => {
    const depth = found.get('depth');
    const depthRange = { least: 500, most: 50_000, expected: 'a notch depth' };
    const depthUm = depth === undefined ? notchDepth : readLength(depth.value, depthRange, context);
    const twice = found.get('double');
    const double = twice === undefined ? false : readYesNo(twice.value, context);
    return depthUm === null || double === null ? null : { run, atUm, depthUm, double };
  });
}

function readDarts(reading: Reading): Located<DeclaredDart>[] {
  const { context } = reading;
  const example = 'a dart {edge: A-B, at: 10, width: 2.5, tip: [8, 12]}';
  return readAlongEdges('darts', example, ['width', 'tip'], reading, (run, atUm, found, place) => {
    const [width, tip] = [found.get('width'), found.get('tip')];
    if (width === undefined || tip === undefined) {
      return context.fault('dart-measures', place, 'a dart without its width or its tip', `write ${example}`);
    }
    const widthUm = readLength(width.value, { least: 1_000, most: coordinateMax, expected: 'a dart width' }, context);
    const point = readPiecePoint(tip.value, reading);
    return widthUm === null || point === null ? null : { run, atUm, widthUm, tip: point.value };
  });
}

function readPleats(reading: Reading): Located<DeclaredPleat>[] {
  const { context } = reading;
  const example = 'a pleat {edge: A-B, at: 10, depth: 2}';
  return readAlongEdges('pleats', example, ['depth'], reading, (run, atUm, found, place) => {
    const depth = found.get('depth');
    if (depth === undefined) {
      return context.fault('pleat-measures', place, 'a pleat without its depth', `write ${example}`);
    }
    const depthUm = readLength(depth.value, { least: 500, most: coordinateMax, expected: 'a pleat depth' }, context);
    return depthUm === null ? null : { run, atUm, depthUm };
  });
}

const matchWays = ['along', 'across', 'both'] as const;

function readMatch(reading: Reading): Located<MatchPoint>[] {
  const { keys, context } = reading;
  const entry = keys.get('match');
  const example = 'a match point {point: [9, 0], group: hip}';
  const list = entry === undefined ? null : asList(entry.value, `a list, each ${example}`, context);
  const items = list === null ? [] : itemsWithin(list, limits.marks, 'match points', marksFix, context);
  return items.flatMap((item): Located<MatchPoint>[] => {
    const map = asMap(item, example, context);
    if (map === null) return [];
    const before = context.errorCount;
    const found = readKeys(map, { known: ['point', 'group', 'way'] }, context);
    const [point, group, way] = [found.get('point'), found.get('group'), found.get('way')];
    if (context.errorCount > before) return [];
    if (point === undefined || group === undefined) {
      refuse(item, example, context);
      return [];
    }
    const at = readPiecePoint(point.value, reading);
    const name = readText(group.value, 'the name of a match group', context);
    const direction = way === undefined ? 'both' : readChoice(way.value, matchWays, context);
    if (at === null || name === null || direction === null) return [];
    return [{ value: { at: at.value, group: name, way: direction }, place: item.place }];
  });
}

function readTilt(keys: Keys, context: Context): number {
  const entry = keys.get('tilt');
  if (entry === undefined) return 0;
  const range = { least: 0, most: 45, expected: 'degrees from 0 to 45' };
  return Math.round((readNumber(entry.value, range, context) ?? 0) * 1_000_000);
}

function readAwl(reading: Reading): Located<Point>[] {
  const { keys, context, shape, place } = reading;
  const entry = keys.get('awl');
  if (entry === undefined) return (shape?.fromDrawing?.awl ?? []).map((value) => ({ value, place }));
  const list = entry === undefined ? null : asList(entry.value, 'a list of points [[x, y], ...]', context);
  if (list !== null && list.items.length === 2 && list.items.every(({ kind }) => kind === 'scalar')) {
    const what = 'found one point, expected a list of points';
    return context.fault('bad-point', list.place, what, 'put it into brackets of its own: [[x, y]]') ?? [];
  }
  const items = list === null ? [] : itemsWithin(list, limits.marks, 'awl points', marksFix, context);
  return items.flatMap((item) => readPiecePoint(item, reading) ?? []);
}

type Measured = Located<{ readonly run: EdgeRun; readonly lengthUm: Um }>;

function readMeasured({ corners, keys, context }: Reading): Measured[] {
  const entry = keys.get('measured');
  const map = entry === undefined ? null : asMap(entry.value, 'edges with tape lengths, {C-D: 23.9}', context);
  const range = { least: 1, most: 4 * coordinateMax, expected: 'a tape length' };
  return (map?.entries ?? []).flatMap(({ key, keyPlace, value }): Measured[] => {
    const run = parseRun(key, keyPlace, corners, context);
    const lengthUm = readLength(value, range, context);
    return run === null || lengthUm === null ? [] : [{ value: { run, lengthUm }, place: value.place }];
  });
}

/** A tape length that the drawing does not have points to a slip in one of the two. */
function checkMeasured(piece: DeclaredPiece, context: Context): void {
  for (const { value, place } of piece.measured) {
    const drawn = Math.round(lengthOf(runPoints(piece, value.run)));
    if (Math.abs(drawn - value.lengthUm) <= measureTolerance) continue;
    const tape = formatLength(value.lengthUm, context.units);
    const what = `edge ${value.run.name} measures ${tape} by the tape, but ${formatLength(drawn, context.units)} in the drawing`;
    context.fault(
      'measured-differs',
      place,
      what,
      'check its corners and curve points against the paper, or measure again',
    );
  }
}
