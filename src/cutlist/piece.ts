/** One piece of the cut list: its keys -> a declared piece, or its faults. */
import type { Located, Place } from '../diagnostics/types.js';
import { lengthOf, runPoints } from '../pieces/grain-frame.js';
import type {
  CornerStyle,
  DeclaredGrain,
  DeclaredNotch,
  DeclaredPiece,
  EdgeRun,
  MaterialCut,
} from '../pieces/types.js';
import type { MapEntry, MapNode, SourceNode } from '../source/types.js';
import { formatLength } from '../units/length.js';
import type { Point, Um } from '../units/types.js';
import { readAllowances } from './allowance.js';
import type { Context } from './context.js';
import { parseWording, wordingForms } from './cut-wording.js';
import {
  asList,
  asMap,
  isName,
  nameFix,
  readChoice,
  readKeys,
  readLength,
  readPoint,
  readText,
  readYesNo,
  refuse,
} from './fields.js';
import { coordinateMax, limits } from './limits.js';
import { parseRun, readRun } from './runs.js';
import { type ReadShape, readShape, shapesLater } from './shape.js';

export const pieceTable = {
  known: [
    'outline',
    'curves',
    'path',
    'rectangle',
    'like',
    'drawn',
    'fold',
    'grain',
    'cut',
    'allowance',
    'corner',
    'notches',
    'awl',
    'measured',
    'size',
    'note',
  ],
  later: [...shapesLater, 'darts', 'pleats', 'turn', 'tilt', 'match'],
} as const;

export const drawnWords = ['net', 'cut'] as const;
export type Drawn = (typeof drawnWords)[number];

/** Depth of a notch that gives none. Common practice, no source. */
const notchDepth: Um = 4_000;
/** A tape may differ this much from the drawing. Common practice, no source. */
const measureTolerance: Um = 3_000;

type Keys = ReadonlyMap<string, MapEntry>;

/** A piece whose own `like` has been resolved: `keys` are all that hold for it. */
export interface NamedKeys {
  readonly id: string;
  readonly place: Place;
  readonly keys: Keys;
  /** It has a shape that is not supported yet, and has been told so. */
  readonly shapeComesLater: boolean;
}

export function readPiece(
  { id, place, keys, shapeComesLater }: NamedKeys,
  drawnForAll: Drawn | null,
  context: Context,
): DeclaredPiece | null {
  const before = context.errorCount;
  const cut = readCut(keys, place, context);
  const drawn = readDrawn(keys, place, drawnForAll, context);
  const shape = shapeComesLater ? null : readShape(keys, place, context);
  const size = readOptional(keys, 'size', context, 'a size, such as 38 or M');
  const note = readOptional(keys, 'note', context, 'a note');
  if (shape === null) return null;
  const read = { shape, keys, context };
  const fold = readFold(read);
  const grain = readGrain(read, place);
  const materials = cut.map(({ material }) => material);
  const allowances = readAllowances(keys.get('allowance')?.value ?? null, shape.corners, materials, context);
  if (drawn === 'net' && !keys.has('allowance')) tellNoAllowance(place, context);
  const cornerStyles = readCorners(read);
  const notches = readNotches(read);
  const awl = readAwl(read);
  const measured = readMeasured(read);
  if (context.errorCount > before || grain === null || drawn === null) return null;
  const piece: DeclaredPiece = {
    id,
    place,
    size,
    note,
    drawn,
    corners: shape.corners,
    edges: shape.edges,
    fold,
    grain,
    cut,
    allowanceByMaterial: allowances.byMaterial,
    allowanceDefault: allowances.byDefault,
    cornerStyles,
    notches,
    awl,
    measured,
    turn: null,
  };
  checkMeasured(piece, context);
  return context.errorCount > before ? null : piece;
}

/** Cut on the seam line: right for felt, a costly slip elsewhere. */
function tellNoAllowance(place: Place, context: Context): void {
  const what = 'it is drawn net and has no allowance, so it is cut on its seam line';
  context.fault('no-allowance', place, what, 'add "allowance: 1", or "allowance: 0" if that is meant', 'notice');
}

interface Reading {
  readonly shape: ReadShape;
  readonly keys: Keys;
  readonly context: Context;
}

function readOptional(keys: Keys, key: string, context: Context, expected: string): string | null {
  const entry = keys.get(key);
  return entry === undefined ? null : readText(entry.value, expected, context);
}

function readDrawn(keys: Keys, place: Place, drawnForAll: Drawn | null, context: Context): Drawn | null {
  const entry = keys.get('drawn');
  if (entry !== undefined) return readChoice(entry.value, drawnWords, [], context);
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

function readCut(keys: Keys, place: Place, context: Context): MaterialCut[] {
  const entry = keys.get('cut');
  if (entry === undefined) {
    context.fault(
      'cut-missing',
      place,
      'it is not said how many to cut, of what',
      'add cut, for example "cut: {shell: 1 pair}"',
    );
    return [];
  }
  const map = asMap(entry.value, 'materials with wordings, {shell: 1 pair}', context);
  if (map === null) return [];
  if (map.entries.length === 0) refuse(map, 'materials with wordings, {shell: 1 pair}', context);
  return map.entries.flatMap(({ key, keyPlace, value }): MaterialCut[] => {
    if (!isName(key)) {
      context.fault('bad-name', keyPlace, 'a material cannot be called so', nameFix);
      return [];
    }
    const text = readText(value, wordingForms, context);
    if (text === null) return [];
    const read = parseWording(text);
    if ('problem' in read) {
      context.fault('bad-wording', value.place, read.problem, `write ${wordingForms}`);
      return [];
    }
    return [{ material: key, terms: read.terms, text, place: value.place }];
  });
}

function readFold({ shape, keys, context }: Reading): Located<EdgeRun> | null {
  const entry = keys.get('fold');
  if (entry === undefined) return null;
  const run = readRun(entry.value, shape.corners, context);
  return run === null ? null : { value: run, place: entry.value.place };
}

/** A point of the piece in the frame of its shape; path data counts y downwards. */
function readPiecePoint(node: SourceNode, { shape, context }: Reading): Located<Point> | null {
  const read = readPoint(node, context);
  if (read === null || shape.yUp === 1) return read;
  return { value: [read.value[0], 0 - read.value[1]], place: read.place };
}

function readGrain(reading: Reading, place: Place): Located<DeclaredGrain> | null {
  const { shape, keys, context } = reading;
  const entry = keys.get('grain');
  if (entry === undefined) {
    if (shape.grain !== null) return { value: shape.grain, place };
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
  const edge = value.kind === 'map' ? readGrainEdge(value, context) : value;
  const run = edge === null ? null : readRun(edge, shape.corners, context);
  if (run === null) return null;
  const ends = runEnds(run, shape);
  return { value: { foot: ends[0], head: ends[1], cross: false }, place: value.place };
}

const grainTable = { known: ['edge'], later: ['also'] };

/** The edge of `grain: {edge: A-D}`. */
function readGrainEdge(map: MapNode, context: Context): SourceNode | null {
  const before = context.errorCount;
  const edge = readKeys(map, grainTable, context).get('edge');
  if (edge !== undefined || context.errorCount > before) return edge?.value ?? null;
  return refuse(map, 'an edge, or two points, foot and head', context, 'bad-grain');
}

function runEnds(run: EdgeRun, shape: ReadShape): readonly [Point, Point] {
  const first = shape.edges[run.edges[0]!]!.points;
  const last = shape.edges[run.edges.at(-1)!]!.points;
  return run.reversed ? [first.at(-1)!, last[0]!] : [first[0]!, last.at(-1)!];
}

function readCorners({ shape, keys, context }: Reading): CornerStyle[] {
  const styles: CornerStyle[] = shape.corners.map(() => 'plain');
  const entry = keys.get('corner');
  const map = entry === undefined ? null : asMap(entry.value, 'corners with styles, {E: plain}', context);
  for (const { key, keyPlace, value } of map?.entries ?? []) {
    if (!shape.corners.some(({ label }) => label === key)) {
      const labels = shape.corners.map(({ label }) => label).join(', ');
      context.fault('no-such-corner', keyPlace, `there is no corner "${key}"`, `its corners are ${labels}`);
    }
    readChoice(value, ['plain'], ['square', 'hem'], context);
  }
  return styles;
}

const notchTable = { known: ['edge', 'at', 'depth', 'double'], later: [] };

function readNotches({ shape, keys, context }: Reading): Located<DeclaredNotch>[] {
  const entry = keys.get('notches');
  const list = entry === undefined ? null : asList(entry.value, 'a list of notches [{edge: A-B, at: 10}]', context);
  if (list !== null && list.items.length > limits.marks)
    refuse(list, `at most ${limits.marks} notches`, context, 'too-many');
  return (list?.items ?? []).slice(0, limits.marks).flatMap((item): Located<DeclaredNotch>[] => {
    const map = asMap(item, 'a notch {edge: A-B, at: 10}', context);
    if (map === null) return [];
    const found = readKeys(map, notchTable, context);
    const edge = found.get('edge');
    const at = found.get('at');
    if (edge === undefined || at === undefined) {
      refuse(item, 'a notch with edge and at', context);
      return [];
    }
    const run = readRun(edge.value, shape.corners, context);
    const atUm = readLength(
      at.value,
      { least: 0, most: coordinateMax, expected: 'a distance along the edge' },
      context,
    );
    const depth = found.get('depth');
    const depthRange = { least: 500, most: 50_000, expected: 'a notch depth' };
    const depthUm = depth === undefined ? notchDepth : readLength(depth.value, depthRange, context);
    const twice = found.get('double');
    const double = twice === undefined ? false : readYesNo(twice.value, context);
    if (run === null || atUm === null || depthUm === null || double === null) return [];
    return [{ value: { run, atUm, depthUm, double }, place: item.place }];
  });
}

function readAwl(reading: Reading): Located<Point>[] {
  const { keys, context } = reading;
  const entry = keys.get('awl');
  const list = entry === undefined ? null : asList(entry.value, 'a list of points [[x, y], ...]', context);
  if (list !== null && list.items.length > limits.marks)
    refuse(list, `at most ${limits.marks} awl points`, context, 'too-many');
  return (list?.items ?? []).slice(0, limits.marks).flatMap((item) => readPiecePoint(item, reading) ?? []);
}

type Measured = Located<{ readonly run: EdgeRun; readonly lengthUm: Um }>;

function readMeasured({ shape, keys, context }: Reading): Measured[] {
  const entry = keys.get('measured');
  const map = entry === undefined ? null : asMap(entry.value, 'edges with tape lengths, {C-D: 23.9}', context);
  const range = { least: 1, most: 4 * coordinateMax, expected: 'a tape length' };
  return (map?.entries ?? []).flatMap(({ key, keyPlace, value }): Measured[] => {
    const run = parseRun(key, keyPlace, shape.corners, context);
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
