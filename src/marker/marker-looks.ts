/** How large words and marks of a marker are: on paper, and thrown on cloth by a projector. */
import { projectedStyles, trueSizeStyles } from './line-styles.js';
import type { ContentLayer, Item, LineStyles } from './types.js';

export interface MarkerLook {
  readonly styles: LineStyles;
  /** Room around the cloth for the names of its edges and for check lines. */
  readonly gutterMm: number;
  /** Of the names of edges. */
  readonly edgePt: number;
  /** Numbers of pieces, the largest first; the last is the least size of any word on a piece. */
  readonly numberPt: readonly number[];
  /** From this size on a number may stand with all its words. */
  readonly withWordsPt: number;
  /** White room around lines, of a piece that has the room. */
  readonly clearanceMm: number;
  readonly grainHeadMm: number;
  readonly awlMm: number;
  /** Half the side of the sign of a match point. */
  readonly matchMm: number;
  /** How many times larger than on the plan a fold bracket is. */
  readonly bracketTimes: number;
  /** How far a number outside may stand from its piece. */
  readonly reachMm: number;
}

export const paperLook: MarkerLook = {
  styles: trueSizeStyles,
  gutterMm: 8,
  edgePt: 7,
  numberPt: [40, 32, 26, 21, 17, 14, 12, 10, 9, 8, 7, 6],
  withWordsPt: 10,
  clearanceMm: 3,
  grainHeadMm: 6,
  awlMm: 2.5,
  matchMm: 3,
  bracketTimes: 2.5,
  reachMm: 50,
};

export const projectedLook: MarkerLook = {
  styles: projectedStyles,
  gutterMm: 24,
  edgePt: 20,
  numberPt: [96, 80, 64, 52, 42, 34, 28, 24, 20, 16],
  withWordsPt: 28,
  clearanceMm: 6,
  grainHeadMm: 14,
  awlMm: 5,
  matchMm: 8,
  bracketTimes: 5,
  reachMm: 90,
};

/** The same items, each on a layer. */
export function onLayer<T extends Item>(layer: ContentLayer, items: readonly T[]): readonly T[] {
  return items.map((item) => ({ ...item, layer }));
}
