/**
 * The line beside an outline: seam line -> cutting line (outwards) or cutting line -> seam line (inwards), with
 * an allowance of its own for every segment. At a plain corner both offset lines are extended until they meet;
 * where that would reach farther than 3 x the larger allowance from the corner, it is cut square there; at a square
 * corner already at 1 1/2 x, so that a right angle stays whole and a spike goes. At a hem corner the narrower
 * edge's line runs on to the wider one's own line, the hem, and is mirrored about it. Where the two
 * lines meet behind the corner (a wide allowance beside a narrow one at a shallow corner), meeting would rob the wide
 * edge of its allowance, so the line steps at the corner instead. A fold edge keeps its own line: the line beside its
 * neighbour always runs on to it.
 *
 * Takes for granted: a simple counter-clockwise ring. Each raw corner is built from its two offset lines (outer
 * corners) or led through the corner itself (inner corners); clipper-lib then keeps what is wound positively,
 * which removes the small loops that narrow inner curves make (A. Vatti 1992 by way of clipper-lib).
 */
import ClipperLib from 'clipper-lib';
import { assert } from '../diagnostics/assert.js';
import type { Outline, Point, Um } from '../units/types.js';
import { twiceArea } from './outline.js';

export type CornerStyle = 'plain' | 'square' | 'hem';

/** How far a corner may reach, in larger allowances, before it is cut square. */
const cornerReach = { plain: 3, square: 1.5, hem: 3 } as const;

interface Line {
  readonly x: number;
  readonly y: number;
  /** Unit direction. */
  readonly dx: number;
  readonly dy: number;
  readonly byUm: number;
  readonly isFold: boolean;
}

/** How far behind a corner the lines may meet before they step: what rounding makes, and no more. */
const behindUm = 2;

/**
 * Offsets each segment of `outline` by its own distance.
 * @param outline simple, counter-clockwise
 * @param byUm one distance per segment (segment i runs from point i to point i + 1), all >= 0 or all <= 0;
 *   positive is outwards
 * @param isFold tells which segments lie on the fold; their distance is 0
 * @param styleOf of the corner at which a segment begins; inwards all corners are plain
 * @returns the offset ring, counter-clockwise, or null when nothing is left of it (inwards only)
 */
export function offsetOutline(
  outline: Outline,
  byUm: readonly Um[],
  isFold: (segment: number) => boolean = () => false,
  styleOf: (segment: number) => CornerStyle = () => 'plain',
): Outline | null {
  assert(byUm.length === outline.length, 'one allowance for every segment');
  if (byUm.every((by) => by === 0)) return outline;
  const lines = outline.map((point, i) => offsetLine(point, outline[(i + 1) % outline.length]!, byUm[i]!, isFold(i)));
  const raw = outline.flatMap((corner, i) => offsetCorner(corner, lines.at(i - 1)!, lines[i]!, styleOf(i)));
  return largestPositiveRing(raw);
}

function offsetLine([x, y]: Point, [toX, toY]: Point, byUm: Um, isFold: boolean): Line {
  const length = Math.sqrt((toX - x) * (toX - x) + (toY - y) * (toY - y));
  const dx = (toX - x) / length;
  const dy = (toY - y) / length;
  // Outwards of a counter-clockwise ring is to the right of the way: (dy, -dx).
  return { x: x + dy * byUm, y: y - dx * byUm, dx, dy, byUm, isFold };
}

/** Raw points that join the offset of the segment before a corner to that of the segment after it. */
function offsetCorner(corner: Point, before: Line, after: Line, style: CornerStyle): Point[] {
  if (before.byUm === 0 && after.byUm === 0) return [corner];
  const hem = style === 'hem' ? hemCorner(corner, before, after) : null;
  if (hem !== null) return hem;
  const sine = before.dx * after.dy - before.dy * after.dx;
  const ahead = before.dx * after.dx + before.dy * after.dy;
  const footBefore = footOf(corner, before);
  const footAfter = footOf(corner, after);
  const outwards = before.byUm + after.byUm > 0;
  if (Math.abs(sine) < 1e-9 && ahead > 0) return distinct([footBefore, footAfter]);
  const opens = outwards ? sine > 0 : sine < 0;
  if (!opens && Math.abs(sine) >= 1e-9) return distinct([footBefore, corner, footAfter]);
  return extendedCorner(corner, before, after, sine, cornerReach[style]);
}

/** Sine of 30 degrees. */
const clearTurn = 0.5;

/** Both offset lines extended to meet, or cut square where they meet too far out. */
function extendedCorner(corner: Point, before: Line, after: Line, sine: number, largerTimes: number): Point[] {
  const footBefore = footOf(corner, before);
  const footAfter = footOf(corner, after);
  const reach = largerTimes * Math.max(Math.abs(before.byUm), Math.abs(after.byUm));
  if (Math.abs(sine) >= 1e-9) {
    // Walk along the line with the smaller allowance: a fold edge (0) then keeps its own line to the micrometre.
    const [base, other] = Math.abs(before.byUm) <= Math.abs(after.byUm) ? [before, after] : [after, before];
    const along =
      ((other.x - base.x) * other.dy - (other.y - base.y) * other.dx) / (base.dx * other.dy - base.dy * other.dx);
    const meetX = base.x + base.dx * along;
    const meetY = base.y + base.dy * along;
    const ahead = (meetX - footBefore[0]) * before.dx + (meetY - footBefore[1]) * before.dy;
    const behind = (meetX - footAfter[0]) * after.dx + (meetY - footAfter[1]) * after.dy;
    const steps = ahead < -behindUm || behind > behindUm;
    // A raw edge that turns well away runs on: a bias strip stays a strip.
    const runsOn = base.byUm === 0 && Math.abs(sine) >= clearTurn;
    if (steps && !runsOn && !before.isFold && !after.isFold) return distinct([footBefore, footAfter]);
    const awayX = meetX - corner[0];
    const awayY = meetY - corner[1];
    const away = Math.sqrt(awayX * awayX + awayY * awayY);
    if (away <= reach) return [[Math.round(meetX), Math.round(meetY)]];
    return distinct([
      cutSquare(corner, before, awayX / away, awayY / away, reach),
      cutSquare(corner, after, awayX / away, awayY / away, reach),
    ]);
  }
  // The edge turns back on itself: cut square straight ahead.
  return distinct([
    footBefore,
    cutSquare(corner, before, before.dx, before.dy, reach),
    cutSquare(corner, after, before.dx, before.dy, reach),
    footAfter,
  ]);
}

/**
 * The side's line as far as the hem, the wider edge's own line, then mirrored about it as far as the hem's offset line;
 * null where the two allowances are alike, inwards, or where the side would run beside the hem.
 */
function hemCorner(corner: Point, before: Line, after: Line): Point[] | null {
  const { byUm: wide } = before.byUm > after.byUm ? before : after;
  const [hem, side] = before.byUm > after.byUm ? [before, after] : [after, before];
  if (wide <= 0 || before.byUm === after.byUm || side.byUm < 0) return null;
  const sine = hem.dx * side.dy - hem.dy * side.dx;
  if (Math.abs(sine) < 0.1) return null;
  // The side's offset line cuts the hem so far from the corner along the hem.
  const along = ((side.x - corner[0]) * side.dy - (side.y - corner[1]) * side.dx) / sine;
  const foldX = corner[0] + hem.dx * along;
  const foldY = corner[1] + hem.dy * along;
  // Mirrored about the hem, the side goes as far along it again as it went inside over the same depth.
  const slant = (hem.dx * side.dx + hem.dy * side.dy) / sine;
  const outerX = foldX + hem.dy * wide + hem.dx * slant * wide;
  const outerY = foldY - hem.dx * wide + hem.dy * slant * wide;
  const fold: Point = [Math.round(foldX), Math.round(foldY)];
  const outer: Point = [Math.round(outerX), Math.round(outerY)];
  return distinct(hem === before ? [outer, fold] : [fold, outer]);
}

/** Where an offset line meets the square cut, `reach` from the corner in direction (ux, uy). */
function cutSquare(corner: Point, line: Line, ux: number, uy: number, reach: number): Point {
  const along = (reach - ((line.x - corner[0]) * ux + (line.y - corner[1]) * uy)) / (line.dx * ux + line.dy * uy);
  return [Math.round(line.x + line.dx * along), Math.round(line.y + line.dy * along)];
}

/** The corner moved square off its segment onto that segment's offset line. */
function footOf(corner: Point, line: Line): Point {
  return [Math.round(corner[0] + line.dy * line.byUm), Math.round(corner[1] - line.dx * line.byUm)];
}

function distinct(points: readonly Point[]): Point[] {
  return points.filter((point, i) => i === 0 || point[0] !== points[i - 1]![0] || point[1] !== points[i - 1]![1]);
}

/** Largest counter-clockwise ring of the region that `ring` winds round positively. */
function largestPositiveRing(ring: readonly Point[]): Outline | null {
  const clipper = new ClipperLib.Clipper();
  clipper.StrictlySimple = true;
  clipper.AddPath(
    ring.map(([X, Y]) => ({ X, Y })),
    ClipperLib.PolyType.ptSubject,
    true,
  );
  const united: { X: number; Y: number }[][] = [];
  const fill = ClipperLib.PolyFillType.pftPositive;
  clipper.Execute(ClipperLib.ClipType.ctUnion, united, fill, fill);
  let best: Outline | null = null;
  let bestArea = 0n;
  for (const path of united) {
    const outline = path.map(({ X, Y }): Point => [X, Y]);
    const area = twiceArea(outline);
    if (area > bestArea) {
      best = outline;
      bestArea = area;
    }
  }
  return best;
}
