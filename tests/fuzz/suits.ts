/**
 * What a lay method asks of pieces and cloth, so that a cut list drawn for it has a lay by it more often than not. Which
 * copies lie where: docs/cut-list.md, "Where copies may lie".
 */
import { type LayName, layNames } from '../../src/cloth/types.js';
import type { Dice } from './dice.js';

export interface Suit {
  /** Cut wordings of whole pieces: those of the first one, and of the others. */
  readonly cuts: readonly [readonly string[], readonly string[]];
  /** How the grain of half pieces may run to their fold edge; none = there are none. */
  readonly halves: readonly ('along' | 'across')[];
  readonly widths: readonly number[];
  readonly flaws: boolean;
  /** Ways in which the design looks the same mirrored, and ways in which it comes again. */
  readonly mirrors: readonly string[];
  readonly repeats: readonly ('along' | 'across')[];
  /** The fold lies on an axis of the design only where the lay may choose the place of a bar. */
  readonly freeStart: boolean;
  /** Naps that it may have; null = any. */
  readonly naps: readonly string[] | null;
}

const any = ['1', '2', '3', '4', '1 pair', '2 pairs', '2 same way', '1 pair + 1 same way', '2 + 1 pair'];
const pairs = ['1 pair', '1 pair', '2 pairs', '2', '4'];
const odd = ['1 pair + 1 same way', '3', '2 pairs + 1 same way'];

const open: Suit = {
  cuts: [any, any],
  halves: ['along', 'across'],
  widths: [60, 75, 90, 112, 140, 150, 150.3],
  flaws: true,
  mirrors: ['along', 'across', 'both'],
  repeats: ['along', 'across'],
  freeStart: false,
  naps: null,
};
const folded: Suit = {
  ...open,
  cuts: [pairs, pairs],
  halves: ['along'],
  widths: [90, 112, 140, 150, 150.3],
  mirrors: ['across', 'both'],
  freeStart: true,
};

/** By lay method. */
export const suits: Readonly<Record<LayName, Suit>> = {
  open,
  'lengthwise fold': folded,
  'partial fold': { ...folded, cuts: [any, any] },
  'double fold': { ...folded, cuts: [pairs, any], widths: [140, 150, 150.3, 180] },
  // Both its folds would have to lie on an axis of a repeat across.
  tube: { ...folded, widths: [112, 140, 180, 200, 240], repeats: ['along'] },
  'crosswise fold': {
    ...folded,
    halves: ['across'],
    flaws: false,
    mirrors: ['both'],
    repeats: ['across'],
    naps: ['none'],
  },
  'crosswise cut and turned': { ...folded, halves: [], flaws: false },
  // Something lies doubled and something is left over: the first piece sees to both.
  combination: { ...folded, cuts: [odd, [...pairs, '1', '1 same way']], flaws: false, repeats: ['across'] },
};

/** Those twice that come to a lay less often. */
const drawn: readonly LayName[] = [...layNames, 'combination', 'tube', 'crosswise fold', 'lengthwise fold'];

/** A lay method to draw a cut list for. */
export function someMethod(dice: Dice): LayName {
  return dice.pick(drawn);
}
