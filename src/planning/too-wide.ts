/** Which pieces are too wide for a cloth, said with the place where the cut list names them. */
import type { DeclaredCloth, LayName } from '../cloth/types.js';
import { makeFault } from '../diagnostics/faults.js';
import type { Fault, Place, Severity } from '../diagnostics/types.js';
import type { CutPiece } from '../pieces/types.js';
import type { TooWide } from '../problem/build.js';
import { formatLength } from '../units/length.js';
import type { LengthUnit } from '../units/types.js';
import { methodsOf, waysOf } from './ways.js';

/** What the faults are worded from. */
export interface PieceWords {
  readonly places: ReadonlyMap<string, Place>;
  readonly units: LengthUnit;
}

/** One fault for each piece that is too wide for the cloth in every way that one lay method allows. */
export function tellTooWide(
  method: LayName,
  cloth: DeclaredCloth,
  tooWide: readonly TooWide[],
  words: PieceWords,
  severity: Severity,
): Fault[] {
  // Pairs and single copies of a piece are told apart where they are laid, not here.
  const widest = new Map<string, TooWide>();
  for (const one of tooWide) {
    const known = widest.get(one.piece.id);
    if (known === undefined || known.needsUm - known.usableUm < one.needsUm - one.usableUm)
      widest.set(one.piece.id, one);
  }
  return [...widest.values()].map(({ piece, needsUm, usableUm }) => {
    const needs = formatLength(needsUm, words.units);
    const usable = formatLength(usableUm, words.units);
    const what = `${needs} across is wider than the usable ${usable} of ${cloth.cloth.name} (${method})`;
    const fix = 'use a wider cloth or another lay method, or divide the piece and add a seam';
    return makeFault('piece-too-wide', words.places.get(piece.id) ?? null, `piece "${piece.id}"`, what, fix, severity);
  });
}

/**
 * Without a search: warnings for the pieces that are too wide for a cloth under every legal lay method, told for the
 * first of them.
 */
export function checkWidths(pieces: readonly CutPiece[], cloth: DeclaredCloth, words: PieceWords): Fault[] {
  const posed: { method: LayName; tooWide: readonly TooWide[] }[] = [];
  for (const method of methodsOf(cloth)) {
    const answer = waysOf(method, cloth, { pieces, garments: 1 });
    if (!answer.legal) continue;
    // Where one way has room for all of them nothing more need be looked at.
    if (answer.ways.some(({ tooWide }) => tooWide.length === 0)) return [];
    posed.push({ method, tooWide: answer.ways[0]!.tooWide });
  }
  const [first] = posed;
  if (first === undefined) return [];
  return tellTooWide(first.method, cloth, first.tooWide, words, 'warning');
}
