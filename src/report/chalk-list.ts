/**
 * The chalk list: for each placement the measures by which she lays it on the cloth with a tape. Pure data in whole
 * micrometres; the marker and the report print it.
 * Takes for granted an accepted lay. Distances along the cloth are from the raw cut end (x = 0), on cloth folded across
 * from its fold. Both ends of one grain line are measured across from the same edge, so equal numbers mean "on grain".
 */
import { type ShownPlacement, showPlacement } from '../lay/shown-copy.js';
import { copyPoint } from '../lay/transform.js';
import type { Lay, Stretch } from '../lay/types.js';
import { formatLength } from '../units/length.js';
import type { LengthUnit, Outline, Point, Um } from '../units/types.js';
import {
  type ClothSide,
  type EdgeName,
  grainBeyondFold,
  isBelowFold,
  mirroredName,
  printedSideOf,
  type SeenEdge,
  type SeenStretch,
  seenStretch,
} from './seen-cloth.js';

/** Which end or edge of the cloth the head of the grain line points to. */
export type HeadTowards = 'far end' | 'cut end' | EdgeName;

export interface ChalkPoint {
  /** From the cut end, on cloth folded across from its fold. */
  readonly fromEndUm: Um;
  readonly fromEdgeUm: Um;
}

/** What to do with one placement. */
export interface ChalkLine {
  readonly n: number;
  readonly piece: string;
  readonly size: string | null;
  /** The cut wording, for example `cut 1 pair`. */
  readonly label: string;
  /** Which garment it is for, when the lay has several. */
  readonly garment: number | null;
  /** How many copies this placement gives. */
  readonly copies: number;
  /** How many of them are turned over after cutting. */
  readonly turnedOver: number;
  /** Which side of the paper lies up, looking down on the cloth. */
  readonly printedSide: 'up' | 'down';
  /** Off the grain, in degrees; 0 = on it, so that foot and head are equally far from the edge. */
  readonly tiltDegrees: number;
  /** True when the piece lies the other way round than nap and wording first ask: head not towards the far end. */
  readonly turned: boolean;
  readonly headTowards: HeadTowards;
  /** Its fold edge lies on the fold of the cloth; distances across are from there. */
  readonly onFold: boolean;
  /** A half piece on cloth that is not folded there: it is chalked twice, turned over along its fold edge. */
  readonly opened: boolean;
  readonly edge: EdgeName;
  readonly foot: ChalkPoint;
  readonly head: ChalkPoint;
  /** From-to, from the same end as foot and head. */
  readonly alongUm: readonly [Um, Um];
  /** From-to, from `edge`, the smaller first. */
  readonly acrossUm: readonly [Um, Um];
}

export interface ChalkList {
  /** How distances are measured, in words for the page. */
  readonly rule: string;
  /** What distances along the cloth are measured from. */
  readonly from: 'cut end' | 'fold';
  /** In laying order: from the cut end on, then from the left selvedge, then by number. */
  readonly lines: readonly ChalkLine[];
}

/**
 * The measures of every placement of an accepted lay.
 * @param side from which the cloth is seen; distances are the same from both, the edges they are taken from swap names
 */
export function chalkList(lay: Lay, units: LengthUnit, side: ClothSide = 'right'): ChalkList {
  const shown = lay.placements.map((placement) => showPlacement(lay, placement));
  const ordered = [...shown].sort(
    (a, b) =>
      leastOf(a.lead.outline, 0) - leastOf(b.lead.outline, 0) ||
      fromLeft(a.lead.outline, side) - fromLeft(b.lead.outline, side) ||
      a.placement.n - b.placement.n,
  );
  const seen = new Map(lay.stretches.map((stretch) => [stretch.id, seenStretch(stretch, lay.cloth)]));
  const several = lay.placements.some(({ garment }) => garment > 1);
  /** Edges are called as they lie, seen from the right side of the cloth, until here. */
  const asSeen = (line: ChalkLine): ChalkLine => (side === 'right' ? line : mirroredLine(line));
  const names = new Set([...seen.values()].flatMap(({ edges }) => edges.map(({ name }) => name)));
  const from = [...seen.values()].some(({ beginsWith }) => beginsWith === 'fold') ? 'fold' : 'cut end';
  return {
    rule: [...howToLay(lay, units, side), ruleFor(names, from)].join(' '),
    from,
    lines: ordered.map((one) => asSeen(chalkLine(one, seen.get(one.stretch.id)!, several))),
  };
}

/** Grows from the left of what is seen to the right. */
function fromLeft(outline: Outline, side: ClothSide): Um {
  return side === 'right' ? leastOf(outline, 1) : 0 - mostOf(outline, 1);
}

/** A line of the list as it is seen from the wrong side of the cloth. */
function mirroredLine(line: ChalkLine): ChalkLine {
  const { headTowards } = line;
  return {
    ...line,
    edge: mirroredName(line.edge),
    headTowards: headTowards === 'far end' || headTowards === 'cut end' ? headTowards : mirroredName(headTowards),
    printedSide: line.printedSide === 'up' ? 'down' : 'up',
  };
}

/** Where the cloth is cut or folded before anything is laid on it, in the order in which she does it. */
function howToLay({ stretches, cloth }: Lay, units: LengthUnit, side: ClothSide): string[] {
  const at = (um: Um) => formatLength(um, units);
  const washed = cloth.shrinkagePpm === null ? [] : ['Wash the cloth first: all measures are of the washed cloth.'];
  const [first] = stretches as [Stretch];
  if (first.cutX !== undefined) {
    const offset = at(first.from);
    return [
      ...washed,
      `Cut the cloth across, ${at(first.cutX)} from the cut end; turn the second part over sideways, ${side} sides together, its new cut edge ${offset} from the cut end of the first.`,
    ];
  }
  if (first.foldX !== undefined) return [...washed, 'Fold the cloth across in the middle of its length.'];
  if (stretches.length < 2) return washed;
  const parts = stretches.map(({ method, from, to }) => `${method} from ${at(from)} to ${at(to)}`);
  return [
    ...washed,
    `Laid in stretches along the cloth: ${parts.join(', then ')}; cut it between them before you lay the next.`,
  ];
}

function ruleFor(names: ReadonlySet<EdgeName>, from: ChalkList['from']): string {
  const along = from === 'fold' ? 'Along the cloth from the fold' : 'Along the cloth from the raw cut end';
  const nearer = 'nearer to the foot of the grain line';
  const hasFold = [...names].some((name) => name.endsWith('fold'));
  if (!hasFold) return `${along}; across it from the raw edge of the selvedge ${nearer}.`;
  if ([...names].every((name) => name === 'left fold' || name === 'right fold')) {
    return `${along}; across it from the fold ${nearer}.`;
  }
  const other = names.has('selvedges') ? 'the selvedges' : 'the selvedge';
  return `${along}; across it from the fold or from ${other}, whichever is ${nearer}.`;
}

function chalkLine(shown: ShownPlacement, seen: SeenStretch, several: boolean): ChalkLine {
  const { placement, piece, lead, onClothFold } = shown;
  const half = onClothFold ? halfOf(shown, seen) : lead.outline;
  const fold = onClothFold ? foldUnder(lead.outline, seen) : null;
  const grain: readonly [Point, Point] = [copyPoint(piece.grain[0], lead), copyPoint(piece.grain[1], lead)];
  const onCrosswiseFold = onClothFold && seen.stretch.foldX !== undefined;
  const [footAt, headAt] = onCrosswiseFold
    ? grainBeyondFold(grain, seen.beginsAt)
    : (grain.map((point) => onSeenHalf(point, fold, onClothFold, seen)) as [Point, Point]);
  // Its paper is turned over about the fold.
  const isBelow = onCrosswiseFold && isBelowFold(grain, seen.beginsAt);
  const turned = isBelow ? (lead.turned === 0 ? 180 : 0) : lead.turned;
  const reference = fold ?? nearestEdge(footAt[1], seen.edges);
  const across = (y: Um): Um => (reference.inwards === 1 ? y - reference.at : reference.at - y);
  const along = (x: Um): Um => x - seen.beginsAt;
  const measure = ([x, y]: Point): ChalkPoint => ({ fromEndUm: along(x), fromEdgeUm: across(y) });
  const [low, high] = [leastOf(half, 1), mostOf(half, 1)];
  const [near, far] = reference.inwards === 1 ? [low, high] : [high, low];
  return {
    n: placement.n,
    piece: piece.id,
    size: piece.size,
    label: piece.label,
    garment: several ? placement.garment : null,
    copies: placement.copies.length,
    turnedOver: shown.turnedOver,
    printedSide: printedSideOf(lead, isBelow ? 'wrong' : 'right'),
    tiltDegrees: lead.tiltMicrodegrees / 1e6,
    turned: turned !== 0,
    headTowards: headTowards(turned, seen),
    onFold: onClothFold,
    opened: piece.onFold && !onClothFold,
    edge: reference.name,
    foot: measure(footAt),
    head: measure(headAt),
    alongUm: [along(leastOf(half, 0)), along(mostOf(half, 0))],
    acrossUm: [across(near), across(far)],
  };
}

/** The fold along the cloth on which a piece lies; null for one on a crosswise fold. */
function foldUnder(outline: Outline, { edges, stretch }: SeenStretch): SeenEdge | null {
  if (stretch.foldX !== undefined) return null;
  const middle = (leastOf(outline, 1) + mostOf(outline, 1)) / 2;
  const folds = edges.filter(({ isFold }) => isFold);
  return folds.reduce((a, b) => (Math.abs(b.at - middle) < Math.abs(a.at - middle) ? b : a));
}

/** Of a piece on the fold, the half that is seen. */
function halfOf(shown: ShownPlacement, seen: SeenStretch): Outline {
  const { outline } = shown.lead;
  const fold = foldUnder(outline, seen);
  const half = outline.map((point) => onSeenHalf(point, fold, true, seen));
  // Its edge on the fold, which no vertex need lie on.
  const [x, y] = half[0]!;
  return [...half, fold === null ? [seen.beginsAt, y] : [x, fold.at]];
}

/** The point, or what lies on it in the layer on the table. */
function onSeenHalf([x, y]: Point, fold: SeenEdge | null, onFold: boolean, { stretch: { foldX } }: SeenStretch): Point {
  if (!onFold) return [x, y];
  if (fold !== null) return [x, fold.at + fold.inwards * Math.abs(y - fold.at)];
  return [Math.max(x, foldX!), y];
}

/** The nearer edge; at equal distances the left one, and a fold before selvedges. */
function nearestEdge(y: Um, [left, right]: readonly [SeenEdge, SeenEdge]): SeenEdge {
  const [toLeft, toRight] = [y - left.at, right.at - y];
  return toRight < toLeft || (right.isFold && !left.isFold && toRight === toLeft) ? right : left;
}

function headTowards(turned: 0 | 90 | 180 | 270, { edges: [left, right], beginsWith }: SeenStretch): HeadTowards {
  switch (turned) {
    case 0:
      return 'far end';
    case 90:
      return right.name;
    case 180:
      return beginsWith;
    case 270:
      return left.name;
  }
}

function leastOf(outline: Outline, axis: 0 | 1): Um {
  return outline.reduce((least, point) => Math.min(least, point[axis]), Number.POSITIVE_INFINITY);
}

function mostOf(outline: Outline, axis: 0 | 1): Um {
  return outline.reduce((most, point) => Math.max(most, point[axis]), Number.NEGATIVE_INFINITY);
}
