/**
 * Where a stretch lies doubled, and what of one layer lies on what of the other. Taken from the depths that stand in the
 * lay, with words and arithmetic of this room's own. Folds may lie at half a micrometre, so places across the cloth are
 * compared doubled.
 */
import type { Cloth } from '../cloth/types.js';
import type { Stretch } from '../lay/types.js';
import type { Point, Um } from '../units/types.js';

/** A band of the flat cloth that is folded on itself along the cloth: both layers of it, and twice the fold's y. */
export interface DoubledBand {
  readonly from: Um;
  readonly to: Um;
  readonly twiceFold: Um;
}

/** The bands of a stretch that lie doubled by folds along the cloth. A tube has one for each of its two folds. */
export function doubledBands({ method, folds: [left, right] }: Stretch, { width }: Cloth): readonly DoubledBand[] {
  if (method === 'lengthwise fold') return [{ from: 0, to: width, twiceFold: width }];
  if (method === 'tube') {
    return [
      { from: -width / 4, to: (3 * width) / 4, twiceFold: width / 2 },
      { from: (-3 * width) / 4, to: width / 4, twiceFold: -width / 2 },
      { from: width / 4, to: (5 * width) / 4, twiceFold: (3 * width) / 2 },
    ];
  }
  if (method !== 'partial fold' && method !== 'double fold') return [];
  const bands: DoubledBand[] = [];
  if (left > 0) bands.push({ from: 0, to: 2 * left, twiceFold: 2 * left });
  if (right > 0) bands.push({ from: width - 2 * right, to: width, twiceFold: 2 * (width - right) });
  return bands;
}

/** Why the depths of a stretch, or where it is folded or cut across, cannot be; null when they can. */
export function depthsWrong(stretch: Stretch, { width, usable }: Cloth): string | null {
  const { method, folds, foldX, cutX, from, to } = stretch;
  const [left, right] = folds;
  if ((foldX !== undefined) !== (method === 'crosswise fold')) return 'a place of the fold across it (foldX)';
  if ((cutX !== undefined) !== (method === 'crosswise cut and turned')) return 'a place of the cut across it (cutX)';
  const across = foldX ?? cutX;
  if (across !== undefined && (across < from || across > to)) return 'a fold or cut outside of it';
  const isRight = {
    open: left === 0 && right === 0,
    'lengthwise fold': left === width / 2 && right === 0,
    'partial fold': left > 0 && 2 * left < width && right === 0,
    'double fold': left > 0 && right > 0 && 2 * (left + right) <= width,
    tube: left === width / 4 && right === width / 4 && usable[0] === 0 && usable[1] === width,
    'crosswise fold': left === 0 && right === 0,
    'crosswise cut and turned': left === 0 && right === 0,
  }[method];
  return isRight ? null : 'folds';
}

/**
 * How the copy in one layer lies on that in the other: across the cloth, along it, or shifted and across it.
 * @param isNear of a copy in the layer at the cut end, on cloth cut across
 */
export function partnerOf(
  stretch: Stretch,
  band: DoubledBand | null,
  width: Um,
  isNear: boolean,
): ((point: Point) => Point) | null {
  const { foldX, cutX, from } = stretch;
  if (foldX !== undefined) return ([x, y]) => [2 * foldX - x, y];
  if (cutX !== undefined) return ([x, y]) => [isNear ? x + cutX - from : x - cutX + from, width - y];
  return band === null ? null : ([x, y]) => [x, band.twiceFold - y];
}
