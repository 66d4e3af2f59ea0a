/** What a job is given: cut lists as text, read and checked, and the pieces cut from them. */
import type { Expected } from '../checker/check-lay.js';
import type { Cloth } from '../cloth/types.js';
import type { Drawings } from '../cutlist/drawings.js';
import type { JoinedLists } from '../cutlist/join.js';
import { type OwnCloths, readCutList } from '../cutlist/read.js';
import type { CutList } from '../cutlist/types.js';
import { assert } from '../diagnostics/assert.js';
import { compareText, sortFaults } from '../diagnostics/faults.js';
import type { Place, Result } from '../diagnostics/types.js';
import { makeCutPiece } from '../pieces/cut-piece.js';
import type { CutPiece } from '../pieces/types.js';

/** A cut list as text. */
export interface CutListSource {
  /** Its name, for faults and output names. */
  readonly file: string;
  readonly text: string;
  /** The files that `drawingsNamed` finds in it. */
  readonly drawings?: Drawings;
  /** Garments of this list, one when left out. */
  readonly garments?: number;
}

/** The text of a lay file. */
export interface KeptSource {
  readonly file: string;
  readonly text: string;
  /** Its name without its ending when it lies where the outputs go; null = it lies elsewhere. */
  readonly ownName: string | null;
}

/**
 * All cut lists, or the faults of all of them.
 * @param ofSingle the cloths of a cut list that is the only one
 */
export function readAll(sources: readonly CutListSource[], ofSingle: OwnCloths = 'needed'): Result<readonly CutList[]> {
  const ownCloths = sources.length === 1 ? ofSingle : 'here or elsewhere';
  const read = sources.map(({ file, text, drawings }) => readCutList(text, file, drawings, ownCloths));
  const faults = read.flatMap((each) => (each.ok ? [] : each.faults));
  if (faults.length > 0) return { ok: false, faults: sortFaults(faults) };
  return { ok: true, value: read.flatMap((each) => (each.ok ? [each.value] : [])) };
}

/**
 * The pieces cut from one material, by name, so that their order in the file decides nothing. The reader has checked
 * that each can be made.
 */
export function cutPiecesFor(
  cutList: Pick<CutList, 'pieces'> & Partial<Pick<JoinedLists, 'garmentsOf'>>,
  material: string,
): readonly CutPiece[] {
  return cutList.pieces
    .filter(({ cut }) => cut.some((entry) => entry.material === material))
    .sort((a, b) => compareText(a.id, b.id))
    .map((piece) => {
      const made = makeCutPiece(piece, material);
      assert(made.ok, `piece "${piece.id}" was checked and can be cut from ${material}`);
      const garments = cutList.garmentsOf?.get(piece.id);
      return garments === undefined ? made.value : { ...made.value, garments };
    });
}

/** Where each piece's name stands. */
export function placesOf(cutList: Pick<CutList, 'pieces'>): ReadonlyMap<string, Place> {
  return new Map(cutList.pieces.map((piece) => [piece.id, piece.place]));
}

export function expectedOf({ sha256, garments }: JoinedLists, pieces: readonly CutPiece[], cloth: Cloth): Expected {
  return { cutListSha256: sha256, pieces, cloth, garments };
}
