/** The lay against the cut list it was made from: hash, pieces with all their marks, cloth and its rules. */
import type { Cloth } from '../cloth/types.js';
import type { Lay } from '../lay/types.js';
import type { CutListHash } from '../pieces/garments.js';
import type { CutPiece } from '../pieces/types.js';
import type { Refusal } from './types.js';
import { refuse } from './words.js';

/** What the cut list yields for the lay's material and cloth. */
export interface Expected {
  readonly cutListSha256: CutListHash;
  /** Of several cut lists each says for which garments it is. */
  readonly pieces: readonly CutPiece[];
  readonly cloth: Cloth;
  /** In all. */
  readonly garments: number;
}

/** Whether the lay holds what the cut list asks for, on the cloth that it names: pieces, copies, cloth. */
export function checkAgainst(lay: Lay, expected: Expected): Refusal[] {
  return [...checkHash(lay, expected), ...checkPieces(lay, expected), ...checkCloth(lay, expected)];
}

function checkHash(lay: Lay, expected: Expected): Refusal[] {
  const [found, wanted] = [lay.cutListSha256, expected.cutListSha256];
  const refuseOther = (which: string) =>
    refuse('other-cut-list', `the lay was made from another cut list or another state of it: ${which}`);
  if (typeof found === 'string' && typeof wanted === 'string') {
    return found === wanted ? [] : [refuseOther(`its cut list is ${short(found)}, this one is ${short(wanted)}`)];
  }
  if (typeof found === 'string' || typeof wanted === 'string') {
    const count = (hash: CutListHash) => (typeof hash === 'string' ? 'one' : hash.length);
    return [refuseOther(`it is of ${count(found)}, and it is held against ${count(wanted)}`)];
  }
  const given = new Map(wanted.map((list) => [list.name, list]));
  const known = new Set(found.map(({ name }) => name));
  return [
    ...found.flatMap(({ name, sha256, garments }) => {
      const list = given.get(name);
      if (list === undefined) return [refuseOther(`its cut list "${name}" is not among those given`)];
      if (list.sha256 !== sha256)
        return [refuseOther(`its "${name}" is ${short(sha256)}, this one is ${short(list.sha256)}`)];
      const where = findDifference(garments, list.garments, 'garments');
      return where === null ? [] : [refuseOther(`of "${name}" ${where}`)];
    }),
    ...wanted.flatMap(({ name }) => (known.has(name) ? [] : [refuseOther(`"${name}" is not among its cut lists`)])),
  ];
}

function short(hash: string): string {
  return `${hash.slice(0, 12)}...`;
}

function checkPieces(lay: Lay, expected: Expected): Refusal[] {
  const own = new Map(lay.pieces.map((piece) => [piece.id, piece]));
  const wanted = new Set(expected.pieces.map((piece) => piece.id));
  const refusals: Refusal[] = [];
  for (const piece of expected.pieces) {
    const found = own.get(piece.id);
    if (found === undefined) {
      refusals.push(refuse('piece-missing', `piece "${piece.id}" of the cut list is not in the lay`));
      continue;
    }
    const where = findDifference(found, piece, '');
    if (where !== null)
      refusals.push(refuse('piece-differs', `piece "${piece.id}" differs from the cut list: ${where}`));
  }
  for (const { id } of lay.pieces)
    if (!wanted.has(id)) refusals.push(refuse('piece-surplus', `piece "${id}" of the lay is not in the cut list`));
  return refusals;
}

function checkCloth(lay: Lay, expected: Expected): Refusal[] {
  const where = findDifference(lay.cloth, expected.cloth, '');
  if (where === null) return [];
  return [refuse('cloth-differs', `cloth "${lay.cloth.name}" differs from the cut list: ${where}`)];
}

/** The first place, in order of keys, where two values differ, with both values in words; null when they are equal. */
function findDifference(found: unknown, wanted: unknown, path: string): string | null {
  if (found === wanted) return null;
  if (!isHolder(found) || !isHolder(wanted) || Array.isArray(found) !== Array.isArray(wanted))
    return `${path} is ${wordValue(found)}, not ${wordValue(wanted)}`;
  if (Array.isArray(found) && Array.isArray(wanted) && found.length !== wanted.length)
    return `${path} has ${found.length} entries, not ${wanted.length}`;
  for (const key of [...new Set([...Object.keys(found), ...Object.keys(wanted)])].sort()) {
    const inner = Array.isArray(found) ? `${path}[${key}]` : path === '' ? key : `${path}.${key}`;
    const where = findDifference(found[key], wanted[key], inner);
    if (where !== null) return where;
  }
  return null;
}

function isHolder(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null;
}

function wordValue(value: unknown): string {
  if (value === undefined) return 'missing';
  const written = JSON.stringify(value);
  return written.length > 60 ? `${written.slice(0, 59)}…` : written;
}
