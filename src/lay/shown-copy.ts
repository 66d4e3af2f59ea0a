/**
 * A placement as it is shown (chalk list, plan): which of its copies is looked at, and what it refers to.
 * Takes for granted a lay that the checker accepted.
 */
import { seenRange } from '../cloth/folding.js';
import { assert } from '../diagnostics/assert.js';
import type { CutPiece } from '../pieces/types.js';
import type { Outline, Um } from '../units/types.js';
import { middleOf } from './transform.js';
import type { Copy, Lay, Placement, Stretch } from './types.js';

/** A placement with everything it refers to. */
export interface ShownPlacement {
  readonly placement: Placement;
  readonly piece: CutPiece;
  readonly stretch: Stretch;
  /** The copy that is shown: on doubled cloth the one in the layer on the table. */
  readonly lead: Copy;
  /** How many of its copies are turned over after cutting. */
  readonly turnedOver: number;
  /** True when the piece lies with its fold edge on the fold of the cloth, so that only half of it is seen. */
  readonly onClothFold: boolean;
}

/** Everything a placement refers to, the copy in the layer on the table as its lead. */
export function showPlacement(lay: Lay, placement: Placement): ShownPlacement {
  const piece = lay.pieces.find(({ id }) => id === placement.piece);
  const stretch = lay.stretches.find(({ id }) => id === placement.stretch);
  const copies = lay.copies.filter(({ n }) => placement.copies.includes(n));
  assert(piece !== undefined, 'a placement names a piece of its lay');
  assert(stretch !== undefined, 'a placement names a stretch of its lay');
  const lead = copies.find(({ outline }) => liesOnTable(outline, stretch, lay.cloth.width)) ?? copies[0];
  assert(lead !== undefined, 'a placement has at least one copy');
  const [least, most] = seenRange(stretch, lay.cloth.width);
  const ys = lead.outline.map(([, y]) => y);
  const [low, high] = [Math.min(...ys), Math.max(...ys)];
  const xs = lead.outline.map(([x]) => x);
  const isAcross = stretch.foldX !== undefined && Math.min(...xs) < stretch.foldX;
  const onClothFold = copies.length === 1 && (low < least || high > most || isAcross);
  const turnedOver = copies.filter((copy) => copy.turnedOver).length;
  return { placement, piece, stretch, lead, turnedOver, onClothFold };
}

/** The middle of its box lies in the layer on the table. */
function liesOnTable(outline: Outline, stretch: Stretch, width: Um): boolean {
  const [x, y] = middleOf(outline);
  const [least, most] = seenRange(stretch, width);
  return x >= (stretch.foldX ?? stretch.from) && x <= (stretch.cutX ?? stretch.to) && y >= least && y <= most;
}
