/**
 * What of a lay is seen from above, in a frame of its own: x along the cloth from where it begins, y across it from the
 * left edge of what is seen. Open cloth is seen whole, doubled cloth by its layer on the table; a piece on the fold shows
 * its half. Micrometres.
 */

import { foldSumAt } from '../cloth/folding.js';
import type { Cloth } from '../cloth/types.js';
import { washedLength } from '../cloth/washing.js';
import { type ShownPlacement, showPlacement } from '../lay/shown-copy.js';
import { reachOf } from '../lay/totals.js';
import { copyPoint } from '../lay/transform.js';
import type { Lay } from '../lay/types.js';
import {
  type ClothSide,
  type EdgeName,
  grainBeyondFold,
  isBelowFold,
  mirroredName,
  printedSideOf,
  type SeenStretch,
  seenLength,
  seenStretch,
} from '../report/seen-cloth.js';
import { buyVerb } from '../report/words.js';
import type { Outline, Point, Um } from '../units/types.js';
import { matchPlaces } from './match-sign.js';

/** The side of a piece on which its fold lies. */
export type FoldSide = 'left' | 'right' | 'top';

/** One placement's seen part. */
export interface SeenPiece extends ShownPlacement {
  readonly outline: Outline;
  readonly seam: Outline | null;
  readonly lines: readonly { readonly isCut: boolean; readonly points: readonly Point[] }[];
  readonly notches: readonly (readonly [Point, Point])[];
  readonly awl: readonly Point[];
  /** Each once; none on cloth without a repeat, where they mean nothing. */
  readonly match: readonly Point[];
  /** Foot, then head. */
  readonly grain: readonly [Point, Point];
  /** Where its fold lies, for a piece that lies on one. */
  readonly foldSide: FoldSide | null;
  /** Which side of the paper lies up. */
  readonly printedSide: 'up' | 'down';
}

/** A line along the cloth, `at` from the left of what is seen. */
export interface ViewEdge {
  readonly name: EdgeName;
  readonly at: Um;
}

/** A part of the cloth that lies in one way. */
export interface ViewStretch {
  readonly fromUm: Um;
  readonly toUm: Um;
  readonly left: ViewEdge;
  readonly right: ViewEdge;
  /** Where placements end across. */
  readonly limits: readonly Um[];
  /** Raw edges of parts that are turned over onto it. */
  readonly turnedOver: readonly ViewEdge[];
}

export interface ClothView {
  /** The side of the cloth that lies up. */
  readonly side: ClothSide;
  readonly stretches: readonly ViewStretch[];
  /** Some of it lies in two layers. */
  readonly folded: boolean;
  /** Across what is seen. */
  readonly acrossUm: Um;
  /** Along what is seen: the length to buy, or half of it on cloth doubled across. */
  readonly alongUm: Um;
  readonly beginsWith: 'cut end' | 'fold';
  readonly endsWith: 'far end' | 'both cut ends' | 'cut';
  /** The length to buy, or to take when it is at hand. */
  readonly buyUm: Um;
  readonly buyVerb: 'buy' | 'take';
  /** All that is seen has been washed; the length to buy has not. */
  readonly isWashed: boolean;
  /** From the first to the last point that a placement reaches, as seen; and the length of all layers together. */
  readonly usedUm: readonly [Um, Um];
  readonly lengthUsedUm: Um;
  readonly pieces: readonly SeenPiece[];
  /** Where nothing is cut; on doubled cloth flaws of either layer. */
  readonly flaws: readonly Outline[];
  /** Bars of the repeat, as seen: along the cloth at these x, across it at these y. */
  readonly bars: { readonly along: readonly Um[]; readonly across: readonly Um[] };
}

/**
 * @param lay accepted by the checker
 * @param side from which the cloth is seen; from the wrong side all is mirrored across
 */
export function viewCloth(lay: Lay, side: ClothSide = 'right'): ClothView {
  const view = viewFromRight(lay);
  return side === 'right' ? view : mirrorView(view);
}

/** Left and right change places in everything that is seen, and in what it is called. */
function mirrorView(view: ClothView): ClothView {
  const at = (y: Um): Um => view.acrossUm - y;
  const mirror = ([x, y]: Point): Point => [x, at(y)];
  const path = (points: readonly Point[]): readonly Point[] => points.map(mirror);
  /** Still counter-clockwise. */
  const ring = (points: Outline): Outline => points.map(mirror).reverse();
  const pair = (ends: readonly [Point, Point]) => mapPair(ends, mirror);
  const edge = (one: ViewEdge): ViewEdge => ({ name: mirroredName(one.name), at: at(one.at) });
  const foldSides = { left: 'right', right: 'left', top: 'top' } as const;
  return {
    ...view,
    side: 'wrong',
    stretches: view.stretches.map((stretch) => ({
      ...stretch,
      left: edge(stretch.right),
      right: edge(stretch.left),
      limits: stretch.limits.map(at),
      turnedOver: stretch.turnedOver.map(edge),
    })),
    pieces: view.pieces.map((piece) => ({
      ...piece,
      outline: ring(piece.outline),
      seam: piece.seam === null ? null : ring(piece.seam),
      lines: piece.lines.map(({ isCut, points }) => ({ isCut, points: path(points) })),
      notches: piece.notches.map(pair),
      awl: path(piece.awl),
      match: path(piece.match),
      grain: pair(piece.grain),
      foldSide: piece.foldSide === null ? null : foldSides[piece.foldSide],
      printedSide: piece.printedSide === 'up' ? 'down' : 'up',
    })),
    flaws: view.flaws.map(ring),
    bars: { along: view.bars.along, across: view.bars.across.map(at) },
  };
}

function viewFromRight(lay: Lay): ClothView {
  const { cloth, totals } = lay;
  const seen = lay.stretches.map((stretch) => seenStretch(stretch, cloth));
  const [first, last] = [seen[0]!, seen.at(-1)!];
  const leftmost = Math.min(...seen.map(({ edges }) => edges[0].at));
  const rightmost = Math.max(...seen.map(({ edges }) => edges[1].at));
  const { beginsAt, beginsWith } = first;
  const washedUm = washedLength(totals.buy, cloth.shrinkagePpm?.along ?? 0);
  const endsAt = seenLength(last.stretch, washedUm);
  const toView = ([x, y]: Point): Point => [x - beginsAt, y - leftmost];
  const byId = new Map(seen.map((one) => [one.stretch.id, one]));
  const pieces = lay.placements.map((placement) => {
    const shown = showPlacement(lay, placement);
    return seePiece(shown, byId.get(shown.stretch.id)!, toView, cloth.repeat !== null);
  });
  const used = reachOf(pieces.map(({ outline }) => outline));
  return {
    side: 'right',
    stretches: seen.map((one, i) => {
      const between = (a: SeenStretch, b: SeenStretch) => (a.stretch.to + b.stretch.from) / 2 - beginsAt;
      return {
        fromUm: i === 0 ? 0 : between(seen[i - 1]!, one),
        toUm: i === seen.length - 1 ? endsAt : between(one, seen[i + 1]!),
        left: { name: one.edges[0].name, at: one.edges[0].at - leftmost },
        right: { name: one.edges[1].name, at: one.edges[1].at - leftmost },
        limits: one.limits.map((y) => y - leftmost),
        turnedOver: one.turnedOver.map(({ name, at }) => ({ name, at: at - leftmost })),
      };
    }),
    folded: lay.stretches.some(({ method }) => method !== 'open'),
    acrossUm: rightmost - leftmost,
    alongUm: endsAt,
    beginsWith,
    endsWith: beginsWith === 'fold' ? 'both cut ends' : last.stretch.cutX === undefined ? 'far end' : 'cut',
    buyUm: totals.buy,
    buyVerb: buyVerb(cloth),
    isWashed: cloth.shrinkagePpm !== null,
    usedUm: [used.from, used.to],
    lengthUsedUm: totals.lengthUsed,
    pieces,
    bars: {
      along: barsWithin(lay, 0, beginsAt, endsAt),
      across: barsWithin(lay, 1, leftmost, rightmost - leftmost),
    },
    flaws: seen.flatMap((one) => flawsOn(one, lay.cloth, beginsAt + endsAt).map((ring) => ring.map(toView))),
  };
}

/** Bars nearer together than this would only darken the drawing. */
const barsApart: Um = 50_000;

/** Places of bars on an axis from `from` on, counted from there; none when it is not known where they are. */
function barsWithin({ cloth: { repeat }, stretches }: Lay, axis: 0 | 1, from: Um, within: Um): readonly Um[] {
  const step = axis === 0 ? repeat?.along : repeat?.across;
  const bar = repeat?.start ?? stretches[0]?.barAt;
  if (step == null || step < barsApart || bar === undefined) return [];
  const first = (((bar[axis] - from) % step) + step) % step;
  return Array.from({ length: Math.max(0, Math.ceil((within - first) / step)) }, (_, i) => first + i * step);
}

/** Flaws of both layers as they lie on what is seen of a stretch. */
function flawsOn({ stretch, edges: [left, right], beginsAt }: SeenStretch, cloth: Cloth, endsAt: Um): Outline[] {
  const sums = new Set([left, right].map(({ at, inwards }) => foldSumAt(stretch, cloth.width, at + inwards)));
  const rounds = stretch.method === 'tube' ? [0, -cloth.width] : [0];
  const images = cloth.flaws.flatMap((flaw) =>
    rounds.flatMap((round) => {
      const own = flaw.map(([x, y]): Point => [x, y + round]);
      const mirrored = [...sums].flatMap((sum) =>
        sum === null ? [] : [own.map(([x, y]): Point => [x, sum - y]).reverse()],
      );
      return [own, ...mirrored];
    }),
  );
  const sides: ((point: Point) => number)[] = [
    ([x]) => x - beginsAt,
    ([x]) => endsAt - x,
    ([, y]) => y - left.at,
    ([, y]) => right.at - y,
  ];
  return images
    .map((ring) => sides.reduce<Outline>((rest, inside) => clipRing(rest, inside), ring))
    .filter((ring) => ring.length >= 3);
}

function seePiece(
  shown: ShownPlacement,
  seen: SeenStretch,
  toView: (point: Point) => Point,
  hasRepeat: boolean,
): SeenPiece {
  const { piece, lead, onClothFold } = shown;
  const foldSide = onClothFold ? foldSideOf(shown, seen) : null;
  /** How far inside the half that is seen a point lies. */
  const inside = insideOf(foldSide, seen);
  const onCloth = (points: readonly Point[]): Outline => points.map((point) => copyPoint(point, lead));
  const inHalf = (points: readonly Point[]) =>
    onCloth(points)
      .filter((point) => inside(point) >= 0)
      .map(toView);
  const grain = mapPair(piece.grain, (point) => copyPoint(point, lead));
  const half = (ring: Outline): Outline => (onClothFold ? clipRing(ring, inside) : ring).map(toView);
  return {
    ...shown,
    foldSide,
    printedSide: printedSideOf(lead, foldSide === 'top' && isBelowFold(grain, seen.beginsAt) ? 'wrong' : 'right'),
    outline: half(lead.outline),
    seam: piece.seam === null ? null : half(onCloth(piece.seam)),
    // The fold edge is shown by its bracket on folded cloth; on open cloth nothing is done along it.
    lines: piece.lines
      .filter(({ kind }) => kind !== 'fold')
      .flatMap(({ kind, points }) => {
        const paths = onClothFold ? clipPath(onCloth(points), inside) : [onCloth(points)];
        return paths.map((path) => ({ isCut: kind === 'inner', points: path.map(toView) }));
      }),
    notches: piece.notches
      .map(([edge, inner]): readonly [Point, Point] => [copyPoint(edge, lead), copyPoint(inner, lead)])
      .filter(([edge]) => inside(edge) >= 0)
      .map(([edge, inner]): readonly [Point, Point] => [toView(edge), toView(inner)]),
    awl: inHalf(piece.awl),
    match: hasRepeat ? inHalf(matchPlaces(piece.match).map(({ at }) => at)) : [],
    grain: mapPair(foldSide === 'top' ? grainBeyondFold(grain, seen.beginsAt) : grain, toView),
  };
}

function mapPair([a, b]: readonly [Point, Point], move: (point: Point) => Point): readonly [Point, Point] {
  return [move(a), move(b)];
}

/** The fold that a piece lies across. */
function foldSideOf({ lead }: ShownPlacement, { stretch, edges: [left] }: SeenStretch): FoldSide {
  if (stretch.foldX !== undefined) return 'top';
  return left.isFold && lead.outline.some(([, y]) => y < left.at) ? 'left' : 'right';
}

function insideOf(side: FoldSide | null, { stretch, edges: [left, right] }: SeenStretch): (point: Point) => number {
  switch (side) {
    case null:
      return () => 0;
    case 'top':
      return ([x]) => x - stretch.foldX!;
    case 'left':
      return ([, y]) => y - left.at;
    case 'right':
      return ([, y]) => right.at - y;
  }
}

/** The part of a ring where `inside` is not negative (Sutherland and Hodgman 1974, one clipping line). */
function clipRing(ring: Outline, inside: (point: Point) => number): Outline {
  return ring.flatMap((point, i) => {
    const next = ring[(i + 1) % ring.length]!;
    const kept = inside(point) >= 0 ? [point] : [];
    return crosses(point, next, inside) ? [...kept, crossingOf(point, next, inside)] : kept;
  });
}

/** The parts of an open path where `inside` is not negative. */
function clipPath(path: readonly Point[], inside: (point: Point) => number): readonly (readonly Point[])[] {
  const parts: Point[][] = [[]];
  path.forEach((point, i) => {
    if (inside(point) >= 0) parts.at(-1)!.push(point);
    const next = path[i + 1];
    if (next === undefined || !crosses(point, next, inside)) return;
    if (inside(point) < 0) parts.push([]);
    parts.at(-1)!.push(crossingOf(point, next, inside));
  });
  return parts.filter((part) => part.length > 1);
}

function crosses(a: Point, b: Point, inside: (point: Point) => number): boolean {
  return inside(a) * inside(b) < 0;
}

function crossingOf(a: Point, b: Point, inside: (point: Point) => number): Point {
  const part = inside(a) / (inside(a) - inside(b));
  return [a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part];
}
