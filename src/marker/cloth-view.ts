/**
 * What of a lay is seen from above: the whole open cloth, or the lower layer of cloth folded lengthwise, from the left
 * selvedge to the fold; a piece on the fold shows its half. Flat cloth frame, micrometres.
 */
import { assert } from '../diagnostics/assert.js';
import { type ShownPlacement, showPlacement } from '../lay/shown-copy.js';
import { copyPoint } from '../lay/transform.js';
import type { Lay } from '../lay/types.js';
import { buyVerb } from '../report/words.js';
import type { Outline, Point, Um } from '../units/types.js';

/** One placement's seen part. */
export interface SeenPiece extends ShownPlacement {
  readonly outline: Outline;
  readonly seam: Outline | null;
  readonly lines: readonly { readonly isCut: boolean; readonly points: readonly Point[] }[];
  readonly notches: readonly (readonly [Point, Point])[];
  readonly awl: readonly Point[];
  /** Foot, then head. */
  readonly grain: readonly [Point, Point];
}

export interface ClothView {
  readonly folded: boolean;
  /** Across what is seen: the width, or half of it. */
  readonly acrossUm: Um;
  /** Where placements may lie across: [from, to], `to` at the fold on folded cloth. */
  readonly usableUm: readonly [Um, Um];
  /** The length to buy, or to take when it is at hand. */
  readonly alongUm: Um;
  readonly buyVerb: 'buy' | 'take';
  /** From the first to the last point that a placement reaches. */
  readonly usedUm: readonly [Um, Um];
  readonly pieces: readonly SeenPiece[];
}

/** @param lay accepted by the checker; open or folded lengthwise, in one stretch. */
export function viewCloth(lay: Lay): ClothView {
  const stretch = lay.stretches[0];
  assert(stretch !== undefined && lay.stretches.length === 1, 'a lay that is drawn has one stretch');
  const folded = stretch.method === 'lengthwise fold';
  assert(folded || stretch.method === 'open', 'a lay that is drawn is open or folded lengthwise');
  const acrossUm = folded ? lay.cloth.width / 2 : lay.cloth.width;
  return {
    folded,
    acrossUm,
    usableUm: [lay.cloth.usable[0], Math.min(lay.cloth.usable[1], acrossUm)],
    alongUm: lay.totals.buy,
    buyVerb: buyVerb(lay.cloth),
    usedUm: [stretch.from, stretch.to],
    pieces: lay.placements.map((placement) => seePiece(showPlacement(lay, placement), acrossUm)),
  };
}

function seePiece(shown: ShownPlacement, foldAt: Um): SeenPiece {
  const { piece, lead, onClothFold } = shown;
  const onCloth = (points: readonly Point[]): Outline => points.map((point) => copyPoint(point, lead));
  const seen = ([, y]: Point): boolean => !onClothFold || y <= foldAt;
  const half = (ring: Outline): Outline => (onClothFold ? clipRing(ring, foldAt) : ring);
  return {
    ...shown,
    outline: half(lead.outline),
    seam: piece.seam === null ? null : half(onCloth(piece.seam)),
    // The fold edge is shown by its bracket on folded cloth; on open cloth nothing is done along it.
    lines: piece.lines
      .filter(({ kind }) => kind !== 'fold')
      .flatMap(({ kind, points }) => {
        const paths = onClothFold ? clipPath(onCloth(points), foldAt) : [onCloth(points)];
        return paths.map((path) => ({ isCut: kind === 'inner', points: path }));
      }),
    notches: piece.notches
      .map(([edge, inner]): readonly [Point, Point] => [copyPoint(edge, lead), copyPoint(inner, lead)])
      .filter(([edge]) => seen(edge)),
    awl: onCloth(piece.awl).filter(seen),
    grain: [copyPoint(piece.grain[0], lead), copyPoint(piece.grain[1], lead)],
  };
}

/** The part of a ring at y <= limit (Sutherland and Hodgman 1974, one clipping line). */
function clipRing(ring: Outline, limit: Um): Outline {
  return ring.flatMap((point, i) => {
    const next = ring[(i + 1) % ring.length]!;
    const kept = point[1] <= limit ? [point] : [];
    return crosses(point, next, limit) ? [...kept, crossingOf(point, next, limit)] : kept;
  });
}

/** The parts of an open path at y <= limit. */
function clipPath(path: readonly Point[], limit: Um): readonly (readonly Point[])[] {
  const parts: Point[][] = [[]];
  path.forEach((point, i) => {
    if (point[1] <= limit) parts.at(-1)!.push(point);
    const next = path[i + 1];
    if (next === undefined || !crosses(point, next, limit)) return;
    if (point[1] > limit) parts.push([]);
    parts.at(-1)!.push(crossingOf(point, next, limit));
  });
  return parts.filter((part) => part.length > 1);
}

function crosses(a: Point, b: Point, limit: Um): boolean {
  return (a[1] - limit) * (b[1] - limit) < 0;
}

function crossingOf(a: Point, b: Point, limit: Um): Point {
  return [a[0] + ((b[0] - a[0]) * (limit - a[1])) / (b[1] - a[1]), limit];
}
