/**
 * Which garments the pieces of a lay are for. Garments are numbered from 1. Of one cut list every piece goes into all of
 * them; of several cut lists in one lay, numbered on from list to list, each piece goes into those of its own list.
 */
import type { CutPiece, GarmentRange } from './types.js';

/** One of several cut lists in a lay. */
export interface ListedGarments {
  readonly name: string;
  /** Of its canonical form. */
  readonly sha256: string;
  /** Numbers of its garments. */
  readonly garments: GarmentRange;
}

/** What tells which cut list a lay is of: its hash, or where there are several the list of them. */
export type CutListHash = string | readonly ListedGarments[];

/**
 * The garments that a piece goes into.
 * @param all number of garments of the whole order
 */
export function garmentsOf({ garments }: Pick<CutPiece, 'garments'>, all: number): GarmentRange {
  return garments ?? [1, all];
}

/** How many garments a piece goes into. */
export function garmentCount(piece: Pick<CutPiece, 'garments'>, all: number): number {
  const [first, last] = garmentsOf(piece, all);
  return last - first + 1;
}

/** The pieces go into more than one garment altogether. */
export function areSeveralGarments(pieces: readonly Pick<CutPiece, 'garments'>[], all: number): boolean {
  const ranges = pieces.map((piece) => garmentsOf(piece, all));
  return Math.max(...ranges.map(([, last]) => last)) > Math.min(...ranges.map(([first]) => first));
}

/** Where half of the garments lie the other way round, every second one does, so that each cut list has its share. */
export function isTurnedGarment(garment: number): boolean {
  return garment % 2 === 0;
}

/** The numbers of a range. */
export function numbersOf([first, last]: GarmentRange): readonly number[] {
  return Array.from({ length: last - first + 1 }, (_, i) => first + i);
}
