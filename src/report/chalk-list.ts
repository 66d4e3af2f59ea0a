/**
 * The chalk list: for each placement the measures by which she lays it on the cloth with a tape. Pure data in whole
 * micrometres; the marker and the report print it.
 * Takes for granted an accepted lay, open or folded lengthwise. Distances along the cloth are from the raw cut end
 * (x = 0). Both ends of one grain line are measured across from the same edge, so equal numbers mean "on grain".
 */
import { assert } from '../diagnostics/assert.js';
import { type ShownPlacement, showPlacement } from '../lay/shown-copy.js';
import { copyPoint } from '../lay/transform.js';
import type { Lay } from '../lay/types.js';
import type { Outline, Point, Um } from '../units/types.js';

/** The edge that distances across the cloth are measured from. `selvedges`: both, lying together. */
export type ChalkEdge = 'left selvedge' | 'right selvedge' | 'selvedges' | 'fold';

/** Which end or edge of the cloth the head of the grain line points to. */
export type HeadTowards = 'far end' | 'cut end' | 'left selvedge' | 'right selvedge' | 'selvedges' | 'fold';

export interface ChalkPoint {
  readonly fromCutEndUm: Um;
  readonly fromEdgeUm: Um;
}

/** What to do with one placement. */
export interface ChalkLine {
  readonly n: number;
  readonly piece: string;
  readonly size: string | null;
  /** The cut wording, for example `cut 1 pair`. */
  readonly label: string;
  /** How many copies this placement gives. */
  readonly copies: number;
  /** Which side of the paper lies up, looking down on the cloth. */
  readonly printedSide: 'up' | 'down';
  /** True when the piece lies the other way round than nap and wording first ask: head not towards the far end. */
  readonly turned: boolean;
  readonly headTowards: HeadTowards;
  /** Its fold edge lies on the fold of the cloth; distances across are from there. */
  readonly onFold: boolean;
  /** A half piece on cloth that is not folded there: it is chalked twice, turned over along its fold edge. */
  readonly opened: boolean;
  readonly edge: ChalkEdge;
  readonly foot: ChalkPoint;
  readonly head: ChalkPoint;
  /** From-to, from the raw cut end. */
  readonly alongUm: readonly [Um, Um];
  /** From-to, from `edge`, the smaller first. */
  readonly acrossUm: readonly [Um, Um];
}

export interface ChalkList {
  /** How distances are measured, in words for the page. */
  readonly rule: string;
  /** In laying order: from the cut end on, then from the left selvedge, then by number. */
  readonly lines: readonly ChalkLine[];
}

/** Where distances across are counted from: `at` is the edge's y, `sign` the way into the cloth. */
interface Reference {
  readonly edge: ChalkEdge;
  readonly at: Um;
  readonly sign: 1 | -1;
}

/** The measures of every placement of an accepted lay. */
export function chalkList(lay: Lay): ChalkList {
  const shown = lay.placements.map((placement) => showPlacement(lay, placement));
  const ordered = [...shown].sort(
    (a, b) =>
      leastOf(a.lead.outline, 0) - leastOf(b.lead.outline, 0) ||
      leastOf(a.lead.outline, 1) - leastOf(b.lead.outline, 1) ||
      a.placement.n - b.placement.n,
  );
  const folded = lay.stretches.some(({ method }) => method === 'lengthwise fold');
  return {
    rule: folded
      ? 'Along the cloth from the raw cut end; across it from the fold or from the selvedges, whichever is nearer to the foot of the grain line.'
      : 'Along the cloth from the raw cut end; across it from the raw edge of the selvedge nearer to the foot of the grain line.',
    lines: ordered.map((one) => chalkLine(one, lay.cloth.width)),
  };
}

function chalkLine(shown: ShownPlacement, widthUm: Um): ChalkLine {
  const { placement, piece, stretch, lead, onClothFold } = shown;
  const { method } = stretch;
  assert(lead.tiltMicrodegrees === 0, 'a piece on the chalk list lies on the grain, not tilted');
  assert(method === 'open' || method === 'lengthwise fold', 'a chalk list is for open or lengthwise folded cloth');
  const folded = method === 'lengthwise fold';
  const [footAt, headAt] = grainOf(shown, widthUm);
  const reference = onClothFold ? foldOf(widthUm) : nearestEdge(footAt[1], widthUm, folded);
  const across = (y: Um): Um => (reference.sign === 1 ? y - reference.at : reference.at - y);
  const measure = ([x, y]: Point): ChalkPoint => ({ fromCutEndUm: x, fromEdgeUm: across(y) });
  const [least, most] = onClothFold
    ? [leastOf(lead.outline, 1), widthUm / 2]
    : [leastOf(lead.outline, 1), mostOf(lead.outline, 1)];
  const [near, far] = reference.sign === 1 ? [least, most] : [most, least];
  return {
    n: placement.n,
    piece: piece.id,
    size: piece.size,
    label: piece.label,
    copies: placement.copies.length,
    printedSide: lead.mirror ? 'down' : 'up',
    turned: lead.turned !== 0,
    headTowards: headTowards(lead.turned, folded),
    onFold: onClothFold,
    opened: piece.onFold && !onClothFold,
    edge: reference.edge,
    foot: measure(footAt),
    head: measure(headAt),
    alongUm: [leastOf(lead.outline, 0), mostOf(lead.outline, 0)],
    acrossUm: [across(near), across(far)],
  };
}

/** Foot and head of the grain line; of a piece on the fold on the half that is seen. */
function grainOf({ piece, lead, onClothFold }: ShownPlacement, widthUm: Um): readonly [Point, Point] {
  const seen = ([x, y]: Point): Point => [x, onClothFold ? Math.min(y, widthUm - y) : y];
  return [seen(copyPoint(piece.grain[0], lead)), seen(copyPoint(piece.grain[1], lead))];
}

function foldOf(widthUm: Um): Reference {
  return { edge: 'fold', at: widthUm / 2, sign: -1 };
}

/** The nearer edge; at equal distances the left selvedge, and the fold before the selvedges. */
function nearestEdge(y: Um, widthUm: Um, folded: boolean): Reference {
  const left: Reference = { edge: folded ? 'selvedges' : 'left selvedge', at: 0, sign: 1 };
  const right: Reference = folded ? foldOf(widthUm) : { edge: 'right selvedge', at: widthUm, sign: -1 };
  const toRight = right.at - y;
  return toRight < y || (folded && toRight === y) ? right : left;
}

function headTowards(turned: 0 | 90 | 180 | 270, folded: boolean): HeadTowards {
  switch (turned) {
    case 0:
      return 'far end';
    case 90:
      return folded ? 'fold' : 'right selvedge';
    case 180:
      return 'cut end';
    case 270:
      return folded ? 'selvedges' : 'left selvedge';
  }
}

function leastOf(outline: Outline, axis: 0 | 1): Um {
  return outline.reduce((least, point) => Math.min(least, point[axis]), Number.POSITIVE_INFINITY);
}

function mostOf(outline: Outline, axis: 0 | 1): Um {
  return outline.reduce((most, point) => Math.max(most, point[axis]), Number.NEGATIVE_INFINITY);
}
