/**
 * As many copies as the cut list wants, never one more. A piece that is its own mirror image may be cut either way
 * up, so there only the number counts.
 */
import type { CutPiece } from '../pieces/types.js';
import { isLikeItsMirror } from './likeness.js';
import type { Laid, TakenApart } from './parts.js';
import type { Refusal } from './types.js';
import { refuse } from './words.js';

/** Demand of each piece times the garments against the copies of the lay. */
export function checkCounts(pieces: readonly CutPiece[], { parts }: TakenApart, garments: number): Refusal[] {
  const refusals: Refusal[] = [];
  for (const piece of pieces) {
    const own = parts.filter((part) => part.piece.id === piece.id);
    const mirrored = own.filter((part) => part.copy.is === 'mirrored').length;
    const wanted = { asDrawn: piece.demand.asDrawn * garments, mirrored: piece.demand.mirrored * garments };
    const judge = (kind: string, found: number, need: number) => {
      const off = Math.abs(found - need);
      if (off === 0) return;
      const code = found > need ? 'copy-surplus' : 'copy-missing';
      const which = `${off} ${off === 1 ? 'copy' : 'copies'} of piece "${piece.id}" too ${found > need ? 'many' : 'few'}`;
      refusals.push(refuse(code, `${which}: ${found}${kind} found, ${need} wanted`));
    };
    if (isLikeItsMirror(piece)) {
      judge('', own.length, wanted.asDrawn + wanted.mirrored);
    } else {
      judge(' as drawn', own.length - mirrored, wanted.asDrawn);
      judge(' mirrored', mirrored, wanted.mirrored);
    }
  }
  return refusals;
}

/** Garments are numbered from 1, each number up to `garments` allowed. */
export function checkGarments(laid: readonly Laid[], garments: number): Refusal[] {
  return laid.flatMap(({ placement }) => {
    const { n, piece, garment } = placement;
    if (Number.isInteger(garment) && garment >= 1 && garment <= garments) return [];
    return [refuse('garment-unknown', `placement ${n} (${piece}) is for garment ${garment}; the lay has ${garments}`)];
  });
}
