/**
 * As many copies as the cut list wants, never one more. A piece that is its own mirror image may be cut either way
 * up, so there only the number counts.
 */
import type { Lay } from '../lay/types.js';
import type { CutPiece } from '../pieces/types.js';
import { isLikeItsMirror } from './likeness.js';
import type { Laid, TakenApart } from './parts.js';
import type { Refusal } from './types.js';
import { refuse } from './words.js';

/** The garments that a piece is for: those of its own cut list, where there are several. */
function ownGarments({ garments }: CutPiece, all: number): readonly [number, number] {
  return garments ?? [1, all];
}

/** Demand of each piece times its garments against the copies of the lay. */
export function checkCounts(pieces: readonly CutPiece[], { parts }: TakenApart, garments: number): Refusal[] {
  const refusals: Refusal[] = [];
  for (const piece of pieces) {
    const own = parts.filter((part) => part.piece.id === piece.id);
    const mirrored = own.filter((part) => part.copy.is === 'mirrored').length;
    const [from, to] = ownGarments(piece, garments);
    const times = to - from + 1;
    const wanted = { asDrawn: piece.demand.asDrawn * times, mirrored: piece.demand.mirrored * times };
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

/** Garments are numbered from 1; a placement is for one that its piece is for. */
export function checkGarments(laid: readonly Laid[], garments: number): Refusal[] {
  return laid.flatMap(({ placement, piece }) => {
    const { n, garment } = placement;
    const [from, to] = ownGarments(piece, garments);
    if (Number.isInteger(garment) && garment >= from && garment <= to) return [];
    const has = piece.garments === undefined ? `the lay has ${garments}` : `its piece is for ${range(piece.garments)}`;
    return [refuse('garment-unknown', `placement ${n} (${piece.id}) is for garment ${garment}; ${has}`)];
  });
}

/** Cut lists number their garments on from one to the next, and each piece is for the garments of one of them. */
export function checkCutLists({ cutListSha256: lists, pieces }: Lay): Refusal[] {
  const refusals: Refusal[] = [];
  const listed = new Map<string, string>();
  const names = new Set<string>();
  let next = 1;
  for (const { name, garments } of typeof lists === 'string' ? [] : lists) {
    if (names.has(name)) refusals.push(refuse('cut-lists-disagree', `cut list "${name}" is listed twice`));
    names.add(name);
    if (garments[0] !== next || garments[1] < garments[0])
      refusals.push(refuse('cut-lists-disagree', `cut list "${name}" has ${range(garments)}; its first is ${next}`));
    next = garments[1] + 1;
    listed.set(range(garments), name);
  }
  for (const { id, garments } of pieces) {
    if (garments === undefined && typeof lists === 'string') continue;
    if (garments !== undefined && listed.has(range(garments))) continue;
    const found = garments === undefined ? 'of no cut list' : `for ${range(garments)}`;
    refusals.push(
      refuse('cut-lists-disagree', `piece "${id}" is ${found}, and no cut list of the lay has such garments`),
    );
  }
  return refusals;
}

function range([from, to]: readonly [number, number]): string {
  return from === to ? `garment ${from}` : `garments ${from} to ${to}`;
}
