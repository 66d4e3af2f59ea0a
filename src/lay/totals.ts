/**
 * The sums of a lay: length used, what to ask for in the shop, area and utilisation. Whole numbers throughout;
 * areas and their ratio are taken in BigInt, so that two machines never round apart.
 */
import type { Cloth } from '../cloth/types.js';
import { unwashedLength } from '../cloth/washing.js';
import type { CutPiece } from '../pieces/types.js';
import type { Outline, Um } from '../units/types.js';
import type { Totals } from './types.js';

/** Names of the additions, as they stand in the lay file. */
const buyPartNames = {
  before: 'before the first piece',
  ends: 'ends',
  shrinkage: 'shrinkage',
  firstBar: 'reaching the first bar',
  roundingUp: 'rounding up',
} as const;

/**
 * What to buy for a lay: what lies clear before the first piece, the ends, one repeat where it is not known how far the
 * first bar is from the cut end, what washing will take (so that the needed length is left: needed / (1 - loss)), then
 * rounding up to the step in which the shop sells; a length that is at hand already is not rounded. An addition of
 * nothing is left out. `buy` = length used + all parts.
 */
function buyLength(cloth: Cloth, from: Um, to: Um, firstBarUm: Um): Pick<Totals, 'buyParts' | 'buy'> {
  const beforeUm = Math.max(0, from - cloth.ends[0]);
  const endsUm = cloth.ends[0] + cloth.ends[1];
  const washedUm = to - from + beforeUm + endsUm + firstBarUm;
  const shrinkageUm = unwashedLength(washedUm, cloth.shrinkagePpm?.along ?? 0) - washedUm;
  const neededUm = washedUm + shrinkageUm;
  const roundingUm = cloth.length === null ? (cloth.soldBy - (neededUm % cloth.soldBy)) % cloth.soldBy : 0;
  const buyParts = [
    { why: buyPartNames.before, um: beforeUm },
    { why: buyPartNames.ends, um: endsUm },
    { why: buyPartNames.firstBar, um: firstBarUm },
    { why: buyPartNames.shrinkage, um: shrinkageUm },
    { why: buyPartNames.roundingUp, um: roundingUm },
  ].filter((part) => part.um > 0);
  return { buyParts, buy: neededUm + roundingUm };
}

/** One repeat, when pieces are matched along the cloth and nobody has said where its bars lie. */
function firstBarOf({ repeat }: Cloth, pieces: readonly Pick<CutPiece, 'match'>[]): Um {
  if (repeat === null || repeat.along === null || repeat.start !== null) return 0;
  const isMatched = pieces.some(({ match }) => match.some(({ way }) => way !== 'across' || repeat.drop));
  return isMatched ? repeat.along : 0;
}

/** What may be used of a cloth at hand: between its ends, less what reaching the first bar may take; null = no limit. */
export function roomOf(cloth: Cloth, pieces: readonly Pick<CutPiece, 'match'>[]): Um | null {
  const { length, ends } = cloth;
  return length === null ? null : length - ends[0] - ends[1] - firstBarOf(cloth, pieces);
}

/** All totals of a lay from the outlines of its copies (flat cloth frame, at least one copy). */
export function computeTotals(
  cloth: Cloth,
  pieces: readonly Pick<CutPiece, 'match'>[],
  outlines: readonly Outline[],
  bound: Totals['bound'],
): Totals {
  const { from, to } = reachOf(outlines);
  const lengthUsed = to - from;
  const twiceAreaSum = outlines.reduce((sum, outline) => sum + twiceArea(outline), 0n);
  return {
    lengthUsed,
    ...buyLength(cloth, from, to, firstBarOf(cloth, pieces)),
    areaUm2: Number(twiceAreaSum) / 2,
    utilisationPpm: utilisationPpm(twiceAreaSum, cloth.usable[1] - cloth.usable[0], lengthUsed),
    bound,
  };
}

/** First and last x that any of the outlines reaches; [0, 0] when there is none. */
export function reachOf(outlines: readonly Outline[]): { readonly from: Um; readonly to: Um } {
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  for (const outline of outlines) {
    for (const [x] of outline) {
      if (x < from) from = x;
      if (x > to) to = x;
    }
  }
  return from > to ? { from: 0, to: 0 } : { from, to };
}

/** Area over usable width x length used, in parts per million, half up. */
function utilisationPpm(twiceAreaSum: bigint, usableWidthUm: Um, lengthUsedUm: Um): number {
  const under = 2n * BigInt(usableWidthUm) * BigInt(lengthUsedUm);
  return under === 0n ? 0 : Number((2n * 1_000_000n * twiceAreaSum + under) / (2n * under));
}

/** Twice the area of a counter-clockwise ring, exact. */
function twiceArea(outline: Outline): bigint {
  let sum = 0n;
  for (let i = 0; i < outline.length; i++) {
    const [ax, ay] = outline[i]!;
    const [bx, by] = outline[(i + 1) % outline.length]!;
    sum += BigInt(ax) * BigInt(by) - BigInt(bx) * BigInt(ay);
  }
  return sum;
}
