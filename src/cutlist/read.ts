/**
 * Cut list text -> pieces and cloths, or all faults of the file at once. Every key of the format is known; one whose
 * meaning is not built yet answers with a fault that names it. See docs/cut-list.md.
 */
import { hasErrors, sortFaults } from '../diagnostics/faults.js';
import type { Fault, Located, Place, Result } from '../diagnostics/types.js';
import { checkPiece, checkUnfinished } from '../pieces/check-piece.js';
import type { DeclaredPiece } from '../pieces/types.js';
import { readYaml } from '../source/read-yaml.js';
import type { MapEntry, SourceNode } from '../source/types.js';
import type { LengthUnit } from '../units/types.js';
import { hashCutList } from './canonical.js';
import { type ReadCloth, readCloth } from './cloth.js';
import { Context } from './context.js';
import { type Drawings, noDrawings, placesOfDrawings } from './drawings.js';
import { type Borrow, makeBorrow } from './edge-names.js';
import {
  asMap,
  isName,
  nameFix,
  nameProblem,
  nearest,
  readChoice,
  readKeys,
  readText,
  refuse,
  shorten,
  tellMany,
} from './fields.js';
import { limits } from './limits.js';
import { type Drawn, drawnWords, type NamedKeys, pieceTable, readPiece } from './piece.js';
import { readSeams } from './seams.js';
import { flatPointsOf, type ReadShape, readShape, shapeKeys, shapeParts } from './shape.js';
import type { CutList } from './types.js';

const fileTable = { known: ['title', 'units', 'drawn', 'pieces', 'cloths', 'seams'] } as const;
const unitWords: readonly LengthUnit[] = ['cm', 'mm', 'in'];

/**
 * Which cloths a cut list has of itself: `needed` where it is planned alone; `if any` where its pieces are only looked at;
 * `here or elsewhere` where it is one of several, and its materials may have theirs in another (see join.ts).
 */
export type OwnCloths = 'needed' | 'if any' | 'here or elsewhere';

/**
 * @param text the whole file
 * @param file its name, for faults
 * @param drawings the files that `drawingsNamed` finds in it
 */
export function readCutList(
  text: string,
  file: string,
  drawings: Drawings = noDrawings,
  ownCloths: OwnCloths = 'needed',
): Result<CutList> {
  const source = readYaml(text, file);
  if (!source.ok) return source;
  const faults: Fault[] = [];
  const start: Place = { file, line: 1, column: 1 };
  const top = new Context('cm', null, faults, drawings);
  const root = asMap(source.value, 'a cut list with title, pieces and cloths', top);
  if (root === null) return { ok: false, faults };
  const keys = readKeys(root, fileTable, top);
  const units = readUnits(keys.get('units')?.value ?? null, start, top);
  const context = new Context(units ?? 'cm', null, faults, drawings);
  const title = readTitle(keys.get('title')?.value ?? null, start, context);
  const drawnNode = keys.get('drawn')?.value ?? null;
  const drawn = drawnNode === null ? null : readChoice(drawnNode, drawnWords, context);
  checkDrawings(source.value, context);
  const pieces = readPieces(keys.get('pieces'), start, drawn ?? (drawnNode === null ? null : 'unread'), context);
  checkMaterialCount(pieces, keys.get('pieces'), context);
  const clothsEntry = keys.get('cloths');
  const areLeftOut = ownCloths !== 'needed' && clothsEntry === undefined;
  const cloths = areLeftOut ? [] : readCloths(clothsEntry, start, context);
  if (ownCloths !== 'here or elsewhere') {
    const areAllPieces = pieces.length === entriesIn(keys.get('pieces'));
    checkMaterials(pieces, areAllPieces, cloths.length === entriesIn(clothsEntry) ? cloths : [], context);
  }
  const seams = readSeams(keys.get('seams'), new Map(pieces.map(({ id, piece }) => [id, piece])), context);
  const all = withoutRepeats(faults);
  // How things were read matters only once they can be read.
  if (hasErrors(all) || title === null)
    return { ok: false, faults: all.filter(({ severity }) => severity !== 'notice') };
  const read = pieces.flatMap(({ piece }) => piece ?? []);
  const offered = cloths.flatMap((entry) => entry.cloths ?? []);
  const value: CutList = {
    file,
    title,
    units: context.units,
    pieces: read,
    cloths: offered,
    seams,
    sha256: hashCutList(title, read, offered),
    notices: all,
  };
  return { ok: true, value };
}

function entriesIn(entry: MapEntry | undefined): number {
  return entry?.value.kind === 'map' ? entry.value.entries.length : 0;
}

/** What a piece is like is read once for each of the two; its faults are told once. */
function withoutRepeats(faults: readonly Fault[]): Fault[] {
  const seen = new Set<string>();
  return sortFaults(faults).filter(({ code, place, what }) => {
    const key = JSON.stringify([code, place, what]);
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

function readUnits(node: SourceNode | null, start: Place, context: Context): LengthUnit | null {
  if (node !== null) return readChoice(node, unitWords, context);
  const what = 'no units are named, so bare numbers are read as centimetres';
  context.fault('units-assumed', start, what, 'add "units: cm" (or mm, or in)', 'notice');
  return 'cm';
}

function readTitle(node: SourceNode | null, start: Place, context: Context): string | null {
  if (node !== null) return readText(node, 'a title', context);
  return context.fault(
    'title-missing',
    start,
    'the cut list has no title',
    'add "title: ..." with a name for the garment',
  );
}

/** Named things of the file, in its order; `null` where one could not be read. */
interface ReadPieceEntry {
  readonly id: string;
  readonly piece: DeclaredPiece | null;
  /** Of the wordings that could be read, so that a bad piece does not hide that there is no cloth for it. */
  readonly materials: readonly Located<string>[];
}

function namedMaps(entry: MapEntry | undefined, what: 'piece' | 'cloth', most: number, start: Place, context: Context) {
  if (entry === undefined) {
    context.fault(
      `${what}s-missing`,
      start,
      `the cut list has no ${what}s`,
      `add "${what}s:" with at least one ${what}`,
    );
    return [];
  }
  const map = asMap(entry.value, `${what}s by name`, context);
  if (map === null) return [];
  if (map.entries.length === 0) refuse(map, `at least one ${what}`, context);
  const found = map.entries.length;
  if (found > most)
    tellMany(
      map.entries[most]!.keyPlace,
      { found, most, what: `${what}s` },
      'divide them into several cut lists',
      context,
    );
  return map.entries.slice(0, most).flatMap(({ key, keyPlace, value }) => {
    const own = context.about(`${what} "${shorten(key)}"`);
    if (!isName(key)) {
      own.fault('bad-name', keyPlace, nameProblem(key, what), nameFix);
      return [];
    }
    const node = asMap(value, `the keys of a ${what}`, own);
    return node === null ? [] : [{ name: key, place: keyPlace, node, own }];
  });
}

function readPieces(
  entry: MapEntry | undefined,
  start: Place,
  drawn: Drawn | 'unread' | null,
  context: Context,
): ReadPieceEntry[] {
  const maps = namedMaps(entry, 'piece', limits.pieces, start, context);
  const byName = new Map<string, KeyedPiece>();
  for (const { name, place, node, own } of maps) {
    const before = own.errorCount;
    const keys = readKeys(node, pieceTable, own);
    byName.set(name, { place, own, keys, areAllKnown: own.errorCount === before });
  }
  // What is wrong with a lent shape is told once, where its own piece is read.
  const shapeOf = (id: string, borrow: Borrow): ReadShape | null => {
    const quiet = new Context(context.units, null, [], context.drawings);
    const named = resolveLike(id, new Map([...byName].map(([other, each]) => [other, { ...each, own: quiet }])));
    return named === null ? null : readShape(named.keys, byName.get(id)!.place, borrow, quiet);
  };
  const borrowFor = makeBorrow(byName, shapeOf);
  let points = 0;
  const read = maps.map(({ name, own }): ReadPieceEntry => {
    const named = resolveLike(name, byName);
    if (named === null) return { id: name, piece: null, materials: [] };
    const { piece, cut, isWhole, sure } = readPiece(named, drawn, borrowFor(name), own);
    const materials = cut.map(({ material, place: at }) => ({ value: material, place: at }));
    points += piece === null ? 0 : flatPointsOf(piece.edges);
    if (piece === null || points > limits.flatPointsInAll) return { id: name, piece: null, materials };
    const faults = isWhole ? checkPiece(piece, context.units) : checkUnfinished(piece, context.units, sure);
    context.faults.push(...faults);
    return { id: name, piece: isWhole ? piece : null, materials };
  });
  if (points > limits.flatPointsInAll) {
    const counted = { found: points, most: limits.flatPointsInAll, what: 'points in all pieces together' };
    tellMany(entry!.keyPlace, counted, 'divide them into several cut lists', context);
  }
  return read;
}

interface KeyedPiece {
  readonly place: Place;
  readonly own: Context;
  readonly keys: ReadonlyMap<string, MapEntry>;
  readonly areAllKnown: boolean;
}

/**
 * The keys of a piece, those of the piece it is like filled in. A key given here replaces that key whole, and a shape
 * replaces the other's shape with its curves.
 */
function resolveLike(name: string, byName: ReadonlyMap<string, KeyedPiece>): NamedKeys | null {
  const chain: string[] = [];
  let keys = new Map<string, MapEntry>();
  let current: string | null = name;
  while (current !== null) {
    const piece: KeyedPiece = byName.get(current)!;
    const hasShape = shapeKeys.some((key) => keys.has(key));
    const more = [...piece.keys].filter(([key]) => !keys.has(key) && !(hasShape && shapeParts.includes(key)));
    keys = new Map([...keys, ...more.filter(([key]) => key !== 'like')]);
    chain.push(current);
    const next = nameLiked(piece, byName);
    if (next === undefined) return null;
    if (next !== null && chain.includes(next)) {
      const at = piece.keys.get('like')!.value.place;
      piece.own.fault(
        'like-circle',
        at,
        `like goes round in a circle: ${[...chain, next].join(', ')}`,
        'give one of them a shape of its own',
      );
      return null;
    }
    current = next;
  }
  return {
    id: name,
    place: byName.get(name)!.place,
    keys,
    own: new Set(byName.get(name)!.keys.keys()),
    areAllKnown: chain.every((each) => byName.get(each)!.areAllKnown),
  };
}

/** The piece that this one is like; null = none, undefined = a fault. */
function nameLiked({ keys, own }: KeyedPiece, byName: ReadonlyMap<string, KeyedPiece>): string | null | undefined {
  const entry = keys.get('like');
  if (entry === undefined) return null;
  const other = readText(entry.value, 'the name of another piece', own);
  if (other === null) return undefined;
  if (byName.has(other)) return other;
  const near = nearest(other, [...byName.keys()]);
  const fix = near === null ? 'name a piece of this file' : `did you mean "${near}"?`;
  own.fault('like-unknown', entry.value.place, `there is no piece "${other}" to be like`, fix);
  return undefined;
}

interface ReadClothEntry extends ReadCloth {
  readonly name: string;
  readonly place: Place;
}

function readCloths(entry: MapEntry | undefined, start: Place, context: Context): ReadClothEntry[] {
  const all = namedMaps(entry, 'cloth', limits.cloths, start, context).map(({ name, place, node, own }) => ({
    name,
    place,
    ...readCloth(name, place, node, own),
  }));
  const found = all.reduce((sum, { cloths }) => sum + (cloths?.length ?? 1), 0);
  if (found > limits.cloths && all.length <= limits.cloths) {
    const counted = { found, most: limits.cloths, what: 'cloths, each remnant counted' };
    tellMany(entry!.keyPlace, counted, 'divide them into several cut lists', context);
  }
  return all;
}

/** More drawings than are read are not opened at all. */
function checkDrawings(root: SourceNode, context: Context): void {
  const named = placesOfDrawings(root);
  const over = named[limits.drawings];
  if (over === undefined) return;
  const counted = { found: named.length, most: limits.drawings, what: 'different drawings' };
  tellMany(over.place, counted, 'draw several pieces in one file, or divide them into several cut lists', context);
}

function checkMaterialCount(pieces: readonly ReadPieceEntry[], entry: MapEntry | undefined, context: Context): void {
  const found = new Set(pieces.flatMap(({ materials }) => materials.map(({ value }) => value))).size;
  if (found <= limits.materials) return;
  const counted = { found, most: limits.materials, what: 'different materials' };
  tellMany(entry!.keyPlace, counted, 'divide them into several cut lists', context);
}

/**
 * Every material needs a cloth; a cloth for a material that nothing is cut from is worth a warning.
 * @param cloths none where not all of them are here
 */
function checkMaterials(
  pieces: readonly ReadPieceEntry[],
  areAllPieces: boolean,
  cloths: readonly ReadClothEntry[],
  context: Context,
): void {
  const wanted = new Set(pieces.flatMap(({ materials }) => materials.map(({ value }) => value)));
  if (cloths.some(({ materials }) => materials === null) || cloths.length === 0) return;
  // A piece that could not be read would make its cloth look unused.
  const piecesSound = areAllPieces && pieces.every(({ piece }) => piece !== null);
  const offered = cloths.flatMap(({ materials }) => materials ?? []);
  for (const { id, materials } of pieces) {
    for (const { value: material, place } of materials) {
      if (offered.includes(material)) continue;
      const near = nearest(material, [...new Set(offered)]);
      const fix =
        near === null
          ? `add a cloth with "for: ${material}"`
          : `did you mean "${near}"? or add a cloth with "for: ${material}"`;
      context.about(`piece "${id}"`).fault('no-cloth', place, `there is no cloth for ${material}`, fix);
    }
  }
  for (const { name, place, materials } of piecesSound ? cloths : []) {
    for (const material of materials!.filter((each) => !wanted.has(each))) {
      const what = `no piece is cut from ${material}`;
      context
        .about(`cloth "${name}"`)
        .fault('cloth-unused', place, what, 'check the names of the materials', 'warning');
    }
  }
}
