/**
 * What stays where it lies while the rest is searched anew: pinned placements of a lay. To the search they are blocked
 * places that count as laid; what the other things have still to give is the demand less their copies.
 */
import type { LayZone } from '../cloth/folding.js';
import { mayTurn } from '../cloth/lay-rules.js';
import type { Cloth } from '../cloth/types.js';
import { boundsOf } from '../geometry/outline.js';
import type { Copy, Placement } from '../lay/types.js';
import { garmentsOf, isTurnedGarment, numbersOf } from '../pieces/garments.js';
import type { CutPiece, Demand } from '../pieces/types.js';
import type { Outline, Point, Um } from '../units/types.js';

/** A pinned placement with its copies, the leading one first. */
export interface Pin {
  readonly placement: Placement;
  readonly copies: readonly Copy[];
}

/** A pinned placement as it lies on the layer on the table, in the flat cloth frame. */
export interface LyingPin {
  /** Of the zones; null when it does not lie wholly within the place that the search has of it. */
  readonly zone: number | null;
  /** The outline as it lies, of a piece across a fold the half on the table. */
  readonly outline: Outline;
  /** The copy of which it is. */
  readonly copy: Copy;
}

type Counts = { -readonly [K in keyof Demand]: number };

/** What the garments of a piece still want besides what is pinned, by their numbers. */
export type Wanted = ReadonlyMap<number, Counts>;

/** What each garment wants of a piece, less the copies of its pinned placements. */
export function wantedOf(piece: CutPiece, garments: number, pins: readonly Pin[]): Wanted {
  const own = numbersOf(garmentsOf(piece, garments));
  const wanted = new Map(own.map((garment): [number, Counts] => [garment, { ...piece.demand }]));
  for (const { placement, copies } of pins) {
    if (placement.piece !== piece.id) continue;
    // A placement that serves two garments is counted to one of them; the other is one that lies as it does.
    const liesAlike = (garment: number) => isTurnedGarment(garment) === isTurnedGarment(placement.garment);
    const rest = own.filter((garment) => garment !== placement.garment);
    const others = [...rest.filter(liesAlike), ...rest.filter((garment) => !liesAlike(garment))];
    for (const { is } of copies) claimOne(wanted, [placement.garment, ...others], is);
  }
  return wanted;
}

/**
 * One copy goes to the first of the garments that still wants one of its kind, or else any.
 * @returns the number of that garment
 */
export function claimOne(wanted: Wanted, garments: readonly number[], is: Copy['is']): number {
  const other = is === 'asDrawn' ? 'mirrored' : 'asDrawn';
  const alike = garments.find((garment) => wanted.get(garment)![is] > 0);
  const garment = alike ?? garments.find((each) => wanted.get(each)![other] > 0)!;
  wanted.get(garment)![alike === undefined ? other : is] -= 1;
  return garment;
}

/** What is still wanted in all, of some garments. */
export function sumWanted(wanted: Wanted, isMeant: (garment: number) => boolean): Demand {
  const sum: Counts = { asDrawn: 0, mirrored: 0 };
  for (const [garment, { asDrawn, mirrored }] of wanted) {
    if (!isMeant(garment)) continue;
    sum.asDrawn += asDrawn;
    sum.mirrored += mirrored;
  }
  return sum;
}

/** Which garments must lie turned end for end, and which must not, so that their nap runs like that of what is pinned. */
export interface TurnsTold {
  readonly turned: ReadonlySet<number>;
  readonly upright: ReadonlySet<number>;
}

/** Where the whole lay has its nap alike, what one pinned copy does all garments do. */
export function turnsToldBy(
  pins: readonly Pin[],
  pieces: readonly CutPiece[],
  garments: number,
  cloth: Cloth,
): TurnsTold {
  const turned = new Set<number>();
  const upright = new Set<number>();
  const all = new Set(pieces.flatMap((piece) => numbersOf(garmentsOf(piece, garments))));
  const pieceOf = new Map(pieces.map((piece) => [piece.id, piece]));
  for (const { placement, copies } of pins) {
    if (mayTurn(cloth, pieceOf.get(placement.piece)!)) continue;
    const told = isHalfTurned(copies[0]!) ? turned : upright;
    for (const garment of cloth.nap === 'each-garment' ? [placement.garment] : all) told.add(garment);
  }
  return { turned, upright };
}

/** Turned a quarter, left and right copies agree when one is turned by one and its mirror image by three. */
function isHalfTurned({ turned, mirror }: Copy): boolean {
  return turned % 180 === 0 ? turned === 180 : (turned === 270) !== mirror;
}

/**
 * How a pinned placement lies on the table.
 * @param halve the half of an outline that lies below (or else above) a fold along the cloth
 */
export function lyingPin(
  { copies }: Pin,
  zones: readonly LayZone[],
  halve: (outline: Outline, foldY: Um, below: boolean) => Outline,
): LyingPin {
  const [first, second] = copies as readonly [Copy, Copy | undefined];
  if (second === undefined) {
    const single = zones.findIndex((zone) => zone.layers === 1 && isWithin(first.outline, zone));
    if (single >= 0) return { zone: single, outline: first.outline, copy: first };
    const z = zones.findIndex(({ folds }) => folds.includes(first.at[1]));
    if (z < 0) return { zone: null, outline: first.outline, copy: first };
    const outline = halve(first.outline, first.at[1], zones[z]!.to === first.at[1]);
    return { zone: isWithin(outline, zones[z]!) ? z : null, outline, copy: first };
  }
  const inside = copies.map(({ outline }) => zones.findIndex((zone) => zone.layers === 2 && isWithin(outline, zone)));
  const onTable = inside.findIndex((zone) => zone >= 0);
  if (onTable >= 0) {
    const copy = copies[onTable]!;
    return { zone: inside[onTable]!, outline: copy.outline, copy };
  }
  // Nearer to the selvedge or the fold than the search would lay it.
  const off = (outline: Outline) =>
    Math.min(...zones.map((zone) => (zone.layers === 2 ? offZone(outline, zone) : Infinity)));
  const copy = off(first.outline) <= off(second.outline) ? first : second;
  return { zone: null, outline: copy.outline, copy };
}

function isWithin(outline: Outline, { from, to }: LayZone): boolean {
  const { minY, maxY } = boundsOf(outline);
  return minY >= from && maxY <= to;
}

function offZone(outline: Outline, { from, to }: LayZone): Um {
  const { minY, maxY } = boundsOf(outline);
  const middle = (minY + maxY) / 2;
  return Math.max(from - middle, middle - to, 0);
}

/** An outline moved by `by`. */
export function movedBy(outline: Outline, [dx, dy]: Point): Outline {
  return outline.map(([x, y]): Point => [x + dx, y + dy]);
}
