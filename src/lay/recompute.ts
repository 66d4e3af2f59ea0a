/**
 * A lay after its `at`, `turned` or `pinned` were edited by hand: outlines, stretch and totals made to fit again.
 * It judges nothing: whether the result is a legal lay is the checker's to say.
 */
import type { CutPiece } from '../pieces/types.js';
import { partnerPose } from './partner.js';
import { computeTotals, reachOf } from './totals.js';
import { copyOutline, middleOf, type Pose } from './transform.js';
import type { Copy, Lay, Placement } from './types.js';

/**
 * Outlines from `at`, `turned` and `mirror`; on doubled cloth the first copy of a placement leads and the second
 * becomes its reflection in the fold; stretches and totals renewed. The hash stays as it was: it goes on saying that
 * somebody has edited this lay, so that it is never written over. A placement of an unknown piece or
 * copy is left as it stands, for the checker to name. A lay longer than its bound is no longer called proven.
 */
export function recomputeLay(lay: Lay): Lay {
  const pieces = new Map(lay.pieces.map((piece) => [piece.id, piece]));
  const copies = new Map(lay.copies.map((copy) => [copy.n, copy]));
  for (const placement of lay.placements) {
    const piece = pieces.get(placement.piece);
    if (piece !== undefined) recomputePlacement(lay, placement, piece, copies);
  }
  const renewed = lay.copies.map((copy) => copies.get(copy.n)!);
  const outlines = renewed.map((copy) => copy.outline);
  const totals = computeTotals(lay.cloth, lay.pieces, outlines, lay.totals.bound);
  const shortest = lay.status !== 'proven shortest' || totals.lengthUsed === totals.bound.um;
  return {
    ...lay,
    status: shortest ? lay.status : 'shortest found',
    stretches: lay.stretches.map((stretch) => {
      const numbers = new Set(lay.placements.filter((p) => p.stretch === stretch.id).flatMap((p) => p.copies));
      const inside = renewed.filter((copy) => numbers.has(copy.n)).map((copy) => copy.outline);
      if (inside.length === 0) return stretch;
      const reach = reachOf(inside);
      // Layers of cloth cut across stay as far apart as they were.
      const cut = stretch.cutX === undefined ? {} : { cutX: stretch.cutX + reach.from - stretch.from };
      return { ...stretch, ...reach, ...cut };
    }),
    copies: renewed,
    totals,
  };
}

/** Renews the copies of one placement in `copies`. */
function recomputePlacement(lay: Lay, placement: Placement, piece: CutPiece, copies: Map<number, Copy>): void {
  const [lead, partner] = placement.copies.map((n) => copies.get(n));
  if (lead === undefined) return;
  const outline = copyOutline(piece, lead);
  copies.set(lead.n, { ...lead, outline });
  if (partner === undefined) return;
  const stretch = lay.stretches.find((candidate) => candidate.id === placement.stretch);
  const doubled = stretch === undefined ? null : partnerPose(lead, stretch, lay.cloth.width, middleOf(outline));
  const pose = doubled ?? partner;
  copies.set(partner.n, { ...partner, ...poseOf(pose), outline: copyOutline(piece, pose) });
}

function poseOf({ mirror, turned, tiltMicrodegrees, at }: Pose): Pose {
  return { mirror, turned, tiltMicrodegrees, at };
}
