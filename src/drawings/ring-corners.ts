/** The corners of a closed line, and what lies between them as one edge each. */
import type { Outline, Point } from '../units/types.js';
import type { PathEdge } from './svg-path.js';

/** A line that turns more than this has a corner there; cosine of 10 degrees. Common practice, no source. */
const cornerCosine = 0.984_807_753;
/** A straight line at least so long, and so many times as long as the one beside it, is an edge of its own. */
const straightUm = 20_000;
const longerBy = 4;
/** What is shorter has no direction of its own: it goes with what comes after it. */
const shortUm = 300;
/** A corner that is named by its place may lie so far off. */
const nearUm = 50;

/**
 * Edges from corner to corner.
 * @param segments a ring: each begins where the one before ends
 * @param named places of the corners where the drawing says them; else corners are where the line turns, and where a
 *   straight line goes over into a curve
 * @returns two edges at least
 */
export function edgesOfRing(segments: readonly PathEdge[], named: readonly Point[]): PathEdge[] {
  const isNamed = segments.map(({ points }) => named.some((point) => isNear(point, points[0]!)));
  if (isNamed.filter(Boolean).length >= 2) return joined(segments, isNamed);
  const parts = withoutShort(segments);
  const n = parts.length;
  return joined(
    parts,
    parts.map((part, i) => isCornerAt(parts[(i + n - 1) % n]!, part)),
  );
}

/** Points of a closed polyline where it has a corner, as `edgesOfRing` finds them. */
export function turnPoints(outline: Outline): Point[] {
  const n = outline.length;
  const segments = outline.map((from, i): PathEdge => ({ points: [from, outline[(i + 1) % n]!], curved: false }));
  return edgesOfRing(segments, []).map(({ points }) => points[0]!);
}

/** One edge from each corner to the next. A round line has no corners: it gets two. */
function joined(segments: readonly PathEdge[], isCorner: readonly boolean[]): PathEdge[] {
  const n = segments.length;
  const corners = isCorner.flatMap((is, i) => (is ? [i] : []));
  if (n === 1) return halved(segments[0]!);
  const first = corners[0] ?? 0;
  const starts = corners.length >= 2 ? corners : [first, (first + (n >> 1)) % n].sort((a, b) => a - b);
  return starts.map((start, k) => {
    const end = starts[k + 1] ?? starts[0]! + n;
    const parts = Array.from({ length: end - start }, (_, i) => segments[(start + i) % n]!);
    const points = parts.flatMap((part, i) => (i === 0 ? part.points : part.points.slice(1)));
    return { points, curved: parts.length > 1 || parts[0]!.curved };
  });
}

/** Each short segment with what follows it, those at the end with what goes before. */
function withoutShort(segments: readonly PathEdge[]): PathEdge[] {
  const parts: PathEdge[] = [];
  let open: PathEdge | null = null;
  for (const segment of segments) {
    const whole: PathEdge =
      open === null ? segment : { points: [...open.points, ...segment.points.slice(1)], curved: segment.curved };
    open = lengthOf(whole) < shortUm ? whole : null;
    if (open === null) parts.push(whole);
  }
  const last = parts.pop();
  if (last === undefined) return [...segments];
  if (open === null) return [...parts, last];
  return [...parts, { points: [...last.points, ...open.points.slice(1)], curved: last.curved }];
}

/** From end to end. */
function lengthOf({ points }: PathEdge): number {
  const [ax, ay] = points[0]!;
  const [bx, by] = points.at(-1)!;
  return Math.sqrt((bx - ax) * (bx - ax) + (by - ay) * (by - ay));
}

function isNear([ax, ay]: Point, [bx, by]: Point): boolean {
  return Math.abs(ax - bx) <= nearUm && Math.abs(ay - by) <= nearUm;
}

function isCornerAt(before: PathEdge, after: PathEdge): boolean {
  return turnsAt(before, after) || bendsAt(before, after);
}

type Vector = readonly [number, number];

function turnsAt(before: PathEdge, after: PathEdge): boolean {
  const [[ux, uy], [vx, vy]] = [wayOut(before), wayIn(after)];
  return ux * vx + uy * vy < cornerCosine * Math.sqrt((ux * ux + uy * uy) * (vx * vx + vy * vy));
}

/** Direction at the end of a segment, and at its beginning: of its own first chord that is long enough. */
function wayOut({ points }: PathEdge): Vector {
  const end = points.at(-1)!;
  return wayBetween(points.findLast((point) => isFarFrom(point, end)) ?? points[0]!, end);
}

function wayIn({ points }: PathEdge): Vector {
  const start = points[0]!;
  return wayBetween(start, points.find((point) => isFarFrom(point, start)) ?? points.at(-1)!);
}

function isFarFrom([ax, ay]: Point, [bx, by]: Point): boolean {
  return (bx - ax) * (bx - ax) + (by - ay) * (by - ay) >= shortUm * shortUm;
}

function wayBetween([ax, ay]: Point, [bx, by]: Point): Vector {
  return [bx - ax, by - ay];
}

/** A straight line meets a curve, or the first short chord of one. */
function bendsAt(before: PathEdge, after: PathEdge): boolean {
  const [a, b] = [before, after].map((part) => (part.curved ? 0 : lengthOf(part))) as [number, number];
  if (before.curved || after.curved) return before.curved !== after.curved && Math.max(a, b) >= straightUm;
  const [short, long] = a < b ? [a, b] : [b, a];
  return long >= straightUm && long > longerBy * short && !inLine(before, after);
}

/** Within what rounding does. */
function inLine(before: PathEdge, after: PathEdge): boolean {
  const [[ux, uy], [vx, vy]] = [wayOut(before), wayIn(after)];
  const [u, v] = [Math.sqrt(ux * ux + uy * uy), Math.sqrt(vx * vx + vy * vy)];
  return Math.abs(ux * vy - uy * vx) <= 2 * Math.max(u, v) && ux * vx + uy * vy > 0;
}

function halved({ points }: PathEdge): PathEdge[] {
  const middle = points.length >> 1;
  return [points.slice(0, middle + 1), points.slice(middle)].map((half) => ({ points: half, curved: true }));
}
