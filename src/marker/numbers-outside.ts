/**
 * Numbers of pieces that are too small to hold one: on free cloth nearby, with a leader line into the piece. Where
 * the numbers of a cluster leave one out, that one goes first in the next round.
 */
import { crossingsAt, FreeSpace } from './free-space.js';
import { boxOf, type DrawnPiece, lineOf } from './piece-drawing.js';
import { ascent, type Box, boxOfText, descent, makeText, mmPerPt, widthMm } from './text.js';
import type { Item, PagePoint, TextMeasure } from './types.js';

export interface NumbersOutside {
  readonly items: readonly Item[];
  /** How many pieces found no place for their number anywhere. */
  readonly missing: number;
}

/** A piece that is drawn, and the number it bears. */
export interface NumberedPiece {
  readonly drawn: DrawnPiece;
  readonly number: string;
}

/** With more than these left out there is no room at all, and trying again would only take time. */
const leftOutMax = 12;
const rounds = 6;

/** @param ground the cloth's corners and the lines already drawn on it. */
export function numbersOutside(
  measure: TextMeasure,
  ground: { readonly corners: readonly PagePoint[]; readonly items: readonly Item[] },
  pieces: readonly NumberedPiece[],
): NumbersOutside {
  let order = pieces.filter(({ drawn }) => !drawn.labelled);
  let best: NumbersOutside = { items: [], missing: order.length };
  for (let round = 0; round < rounds && best.missing > 0; round++) {
    const { items, leftOut } = numberAll(measure, ground, pieces, order);
    if (round === 0 || leftOut.length < best.missing) best = { items, missing: leftOut.length };
    if (leftOut.length > leftOutMax) break;
    order = [...leftOut, ...order.filter((piece) => !leftOut.includes(piece))];
  }
  return best;
}

/** One round: each number of `order` in turn at the nearest place that is still free. */
function numberAll(
  measure: TextMeasure,
  ground: { readonly corners: readonly PagePoint[]; readonly items: readonly Item[] },
  pieces: readonly NumberedPiece[],
  order: readonly NumberedPiece[],
): { readonly items: readonly Item[]; readonly leftOut: readonly NumberedPiece[] } {
  // First on bare cloth, then on any free spot of the cloth.
  const bare = new FreeSpace(boxOf(ground.corners));
  const anywhere = new FreeSpace(boxOf(ground.corners));
  for (const space of [bare, anywhere]) blockItems(space, ground.items);
  const texts: Box[] = ground.items.flatMap((item) => (item.type === 'text' ? [boxOfText(item)] : []));
  for (const { drawn } of pieces) {
    bare.blockPolygon(drawn.outline, 'inside');
    for (const space of [bare, anywhere]) blockItems(space, drawn.items);
    for (const item of drawn.items) if (item.type === 'text') texts.push(boxOfText(item));
  }
  const items: Item[] = [];
  const leftOut: NumberedPiece[] = [];
  for (const piece of order) {
    const added = numberWithLeader(measure, piece.number, middleOf(piece.drawn.outline), [bare, anywhere], texts);
    if (added.length === 0) leftOut.push(piece);
    items.push(...added);
    for (const item of added) if (item.type === 'text') texts.push(boxOfText(item));
    for (const space of [bare, anywhere]) blockItems(space, added);
  }
  return { items, leftOut };
}

const outsidePt = 6;
/** White space around a number outside, so that it is not read together with its neighbour. */
const outsideAirMm = 1;
const leaderTrials = 80;
/** A longer leader line cannot be followed. */
const leaderMaxMm = 30;

/** The nearest free place whose leader line crosses no text; nothing when there is none. */
export function numberWithLeader(
  measure: TextMeasure,
  number: string,
  target: PagePoint,
  spaces: readonly FreeSpace[],
  texts: readonly Box[],
  sizePt = outsidePt,
  reachMm = leaderMaxMm,
): readonly Item[] {
  const wide = widthMm(measure, number, sizePt, true);
  const high = (ascent + descent) * sizePt * mmPerPt;
  for (const space of spaces) {
    const trial = space.around(target, reachMm);
    for (let i = 0; i < leaderTrials; i++) {
      const at = trial.find(wide + 2 * outsideAirMm, high + outsideAirMm, target);
      if (at === null) break;
      const leader: readonly [PagePoint, PagePoint] = [edgeOfBox(at, wide + 0.8, high + 0.2, target), target];
      if (!texts.some((box) => crossesBox(leader, box))) {
        const baseline: PagePoint = [at[0], at[1] - high / 2 + ascent * sizePt * mmPerPt];
        return [
          lineOf('leader', leader, false),
          makeText(measure, number, baseline, { sizePt, bold: true, anchor: 'middle' }),
        ];
      }
      trial.blockBox({ left: at[0] - 1, right: at[0] + 1, top: at[1] - 1, bottom: at[1] + 1 });
    }
  }
  return [];
}

/** Whether a straight line comes near a box, tried at points a tenth of a millimetre apart. */
function crossesBox([from, to]: readonly [PagePoint, PagePoint], box: Box): boolean {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const air = 0.1;
  const steps = Math.max(1, Math.ceil(Math.sqrt(dx * dx + dy * dy) / 0.1));
  for (let step = 0; step <= steps; step++) {
    const [x, y] = [from[0] + (dx * step) / steps, from[1] + (dy * step) / steps];
    if (x > box.left - air && x < box.right + air && y > box.top - air && y < box.bottom + air) return true;
  }
  return false;
}

/** Blocks texts, lines and what is black. */
export function blockItems(space: FreeSpace, items: readonly Item[]): void {
  for (const item of items) {
    if (item.type === 'text') space.blockBox(boxOfText(item));
    else if (item.type === 'line') space.blockPath(item.points, item.closed, 0.4);
    else if (item.grey < 0.5) {
      space.blockPath(item.points, true, 0.4);
      space.blockPolygon(item.points, 'inside');
    }
  }
}

/** A point inside a small outline: the middle of its widest part on the line through its middle height. */
export function middleOf(outline: readonly PagePoint[]): PagePoint {
  const box = boxOf(outline);
  const y = (box.top + box.bottom) / 2;
  const xs = crossingsAt(outline, y);
  let best: PagePoint = [(box.left + box.right) / 2, y];
  let widest = 0;
  for (let i = 0; i + 1 < xs.length; i += 2) {
    if (xs[i + 1]! - xs[i]! <= widest) continue;
    widest = xs[i + 1]! - xs[i]!;
    best = [(xs[i]! + xs[i + 1]!) / 2, y];
  }
  return best;
}

/** Where the line from the box's middle to `target` leaves the box. */
function edgeOfBox([x, y]: PagePoint, wide: number, high: number, target: PagePoint): PagePoint {
  const [dx, dy] = [target[0] - x, target[1] - y];
  const part = Math.min(
    dx === 0 ? Number.POSITIVE_INFINITY : wide / 2 / Math.abs(dx),
    dy === 0 ? Number.POSITIVE_INFINITY : high / 2 / Math.abs(dy),
    1,
  );
  return [x + dx * part, y + dy * part];
}
