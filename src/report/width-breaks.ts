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
/** Rows of more pieces than this are not told. */
const rowMost = 5;

/**
 * The width breaks among the plans of one cloth.
 * @param plans of one material on one cloth at several widths, the narrowest first
 */
export function widthBreaks(plans: readonly MaterialPlan[]): WidthBreak[] {
  return plans.slice(1).flatMap((wide, i): WidthBreak[] => {
    const narrow = plans[i]!;
    const [wideLay, narrowLay] = [wide.chosen?.lay ?? null, narrow.chosen?.lay ?? null];
    if (wideLay === null) return [];
    const [wideUsable, narrowUsable] = [usableOf(wide), usableOf(narrow)];
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
  readonly low: Um;
  readonly high: Um;
}

interface Row {
  readonly pieces: readonly string[];
  readonly needsUm: Um;
}

/** Of all rows of pieces side by side that fit the wider cloth only: the fewest pieces, then the widest of them. */
function fewestInRow(lay: Lay, narrowUm: Um, wideUm: Um): Row | null {
  const laid = laidPieces(lay);
  for (let count = 1; count <= rowMost; count++) {
    let widest: Row | null = null;
    for (const row of rowsOf(laid, count, lay.cloth.gap)) {
      const isBreak = row.needsUm > narrowUm && row.needsUm <= wideUm;
      if (isBreak && (widest === null || row.needsUm > widest.needsUm)) widest = row;
    }
    if (widest !== null) return widest;
  }
  return null;
}

function laidPieces(lay: Lay): Laid[] {
  const pieceOf = new Map(lay.placements.flatMap(({ piece, copies }) => copies.map((n) => [n, piece] as const)));
  return lay.copies.map(({ n, outline }) => {
    const { minX, minY, maxX, maxY } = boundsOf(outline);
    return { piece: pieceOf.get(n)!, from: minX, to: maxX, low: minY, high: maxY };
  });
}

/** So many pieces one above the other across the cloth, all of them along one stretch of the length. */
function rowsOf(laid: readonly Laid[], count: number, gap: Um): Row[] {
  const rows: Row[] = [];
  const add = (members: readonly Laid[], from: Um, to: Um, rest: readonly Laid[]): void => {
    if (members.length === count) {
      const needsUm = members.reduce((sum, { low, high }) => sum + high - low, gap * (count - 1));
      rows.push({ pieces: members.map(({ piece }) => piece), needsUm });
      return;
    }
    for (const next of rest) {
      const [begin, end] = [Math.max(from, next.from), Math.min(to, next.to)];
      if (end - begin < besideUm) continue;
      // Each further across than the one before.
      const beyond = rest.filter((other) => isFurther(other, next) && other.from < end && other.to > begin);
      add([...members, next], begin, end, beyond);
    }
  };
  add([], Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY, laid);
  return rows;
}

function isFurther(a: Laid, b: Laid): boolean {
  return a.low + a.high > b.low + b.high;
}
