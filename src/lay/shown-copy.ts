/**
 * A placement as it is shown (chalk list, plan): which of its copies is looked at, and what it refers to.
 * Takes for granted a lay that the checker accepted.
 */
import { assert } from '../diagnostics/assert.js';
import type { CutPiece } from '../pieces/types.js';
import type { Outline, Um } from '../units/types.js';
import type { Copy, Lay, Placement, Stretch } from './types.js';

/** A placement with everything it refers to. */
export interface ShownPlacement {
  readonly placement: Placement;
  readonly piece: CutPiece;
  readonly stretch: Stretch;
  /** The copy that is shown: the one nearer the left selvedge, which on folded cloth lies in the lower layer. */
  readonly lead: Copy;
  /** True when the piece lies with its fold edge on the fold of the cloth, so that only half of it is seen. */
  readonly onClothFold: boolean;
}

/** Everything a placement refers to, the copy nearer the left selvedge as its lead. */
export function showPlacement(lay: Lay, placement: Placement): ShownPlacement {
  const piece = lay.pieces.find(({ id }) => id === placement.piece);
  const stretch = lay.stretches.find(({ id }) => id === placement.stretch);
  const copies = lay.copies.filter(({ n }) => placement.copies.includes(n));
  const lead = [...copies].sort((a, b) => leastAcross(a.outline) - leastAcross(b.outline) || a.n - b.n)[0];
  assert(piece !== undefined, 'a placement names a piece of its lay');
  assert(stretch !== undefined, 'a placement names a stretch of its lay');
  assert(lead !== undefined, 'a placement has at least one copy');
  const onClothFold = stretch.method === 'lengthwise fold' && placement.copies.length === 1;
  return { placement, piece, stretch, lead, onClothFold };
}

function leastAcross(outline: Outline): Um {
  return outline.reduce((least, [, y]) => Math.min(least, y), Number.POSITIVE_INFINITY);
}
