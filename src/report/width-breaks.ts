/**
 * Width breaks: widths below which a lay becomes longer by more than the lost width explains, because pieces that lay side
 * by side no longer do. Each is told with what no longer fits across, by extents, seen in the lay of the wider cloth.
 */
import { boundsOf } from '../geometry/outline.js';
import type { Lay } from '../lay/types.js';
import type { MaterialPlan } from '../planning/types.js';
import type { Um } from '../units/types.js';

/** Below the wider of two neighbouring widths the lay breaks. */
export interface WidthBreak {
  /** The plans on either side of it. */
  readonly narrow: MaterialPlan;
  readonly wide: MaterialPlan;
  /** Pieces that lie side by side on the wider cloth and have no room on the narrower one; none when no such row was found. */
  readonly pieces: readonly string[];
  /** What they take up across, gaps between them counted. */
  readonly needsUm: Um;
  /** How much longer the lay is on the narrower cloth; null when nothing can be laid there. */
  readonly longerUm: Um | null;
}

/** A lay longer by more than this share beyond what the width explains is a break. */
const breakShare = 0.03;
/** Side by side for at least so much of the length. */
const besideUm: Um = 10_000;

/**
 * The width breaks among the plans of one cloth.
 * @param plans of one material on cloths that differ by their width, the narrowest first
 */
export function widthBreaks(plans: readonly MaterialPlan[]): WidthBreak[] {
  return plans.slice(1).flatMap((wide, i): WidthBreak[] => {
    const narrow = plans[i]!;
    const [wideLay, narrowLay] = [wide.chosen?.lay ?? null, narrow.chosen?.lay ?? null];
    const [wideUsable, narrowUsable] = [usableOf(wide), usableOf(narrow)];
    // A length at hand has reasons of its own.
    const isAtHand = narrow.cloth.cloth.length !== null || wide.cloth.cloth.length !== null;
    if (wideLay === null || wideUsable <= narrowUsable || isAtHand) return [];
    const explained = wideLay.totals.lengthUsed * (wideUsable / narrowUsable + breakShare);
    if (narrowLay !== null && narrowLay.totals.lengthUsed <= explained) return [];
    const row = fewestInRow(wideLay, narrowUsable, wideUsable) ?? { pieces: [], needsUm: 0 };
    const longerUm = narrowLay === null ? null : narrowLay.totals.lengthUsed - wideLay.totals.lengthUsed;
    return [{ narrow, wide, ...row, longerUm }];
  });
}

function usableOf({ cloth: { cloth } }: MaterialPlan): Um {
  return cloth.usable[1] - cloth.usable[0];
}

interface Laid {
  readonly piece: string;
  readonly from: Um;
  readonly to: Um;
  readonly across: Um;
}

interface Row {
  readonly pieces: readonly string[];
  readonly needsUm: Um;
}

/**
 * The fewest pieces side by side that fit the wider cloth only. At every place along the cloth where the pieces across it
 * change, the widest of those there are taken until they need more than the narrower one has.
 */
function fewestInRow(lay: Lay, narrowUm: Um, wideUm: Um): Row | null {
  const laid = laidPieces(lay);
  const { gap } = lay.cloth;
  let fewest: Row | null = null;
  for (const { from } of laid) {
    const across = laid
      .filter((each) => each.from <= from && each.to >= from + besideUm)
      .sort((a, b) => b.across - a.across);
    const pieces: string[] = [];
    let needsUm = -gap;
    for (const { piece, across: um } of across) {
      if (needsUm > narrowUm) break;
      pieces.push(piece);
      needsUm += um + gap;
    }
    if (needsUm <= narrowUm || needsUm > wideUm) continue;
    const isFewer = fewest === null || pieces.length < fewest.pieces.length;
    const isWider = fewest !== null && pieces.length === fewest.pieces.length && needsUm > fewest.needsUm;
    if (isFewer || isWider) fewest = { pieces, needsUm };
  }
  return fewest;
}

function laidPieces(lay: Lay): Laid[] {
  const pieceOf = new Map(lay.placements.flatMap(({ piece, copies }) => copies.map((n) => [n, piece] as const)));
  return lay.copies.map(({ n, outline }) => {
    const { minX, minY, maxX, maxY } = boundsOf(outline);
    return { piece: pieceOf.get(n)!, from: minX, to: maxX, across: maxY - minY };
  });
}
