/** The corners of a closed line, and what lies between them as one edge each. */
import type { Point } from '../units/types.js';
import type { PathEdge } from './svg-path.js';

/** A line that turns more than this has a corner there; cosine of 10 degrees. Common practice, no source. */
const cornerCosine = 0.984_807_753;
/** A straight line at least so long, and so many times as long as the one beside it, is an edge of its own. */
const straightUm = 20_000;
const longerBy = 4;
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
  const n = segments.length;
  const byName = segments.map(({ points }) => named.some((point) => isNear(point, points[0]!)));
  const byTurn = segments.map((segment, i) => isCornerAt(segments[(i + n - 1) % n]!, segment));
  const isCorner = byName.filter(Boolean).length >= 2 ? byName : byTurn;
  const corners = isCorner.flatMap((is, i) => (is ? [i] : []));
  // A round line has no corners: it gets two.
  const found = corners.length >= 2 ? corners : n >= 2 ? [corners[0] ?? 0, ((corners[0] ?? 0) + (n >> 1)) % n] : [];
  if (found.length === 0) return halved(segments[0]!);
  const starts = [...found].sort((a, b) => a - b);
  return starts.map((start, k) => {
    const end = starts[k + 1] ?? starts[0]! + n;
    const parts = Array.from({ length: end - start }, (_, i) => segments[(start + i) % n]!);
    const points = parts.flatMap((part, i) => (i === 0 ? part.points : part.points.slice(1)));
    return { points, curved: parts.length > 1 || parts[0]!.curved };
  });
}

/** Points of a closed polyline where it turns so much that it has a corner there, as far as `edgesOfRing` sees one. */
export function turnPoints(outline: readonly Point[]): Point[] {
  const n = outline.length;
  const segments = outline.map((from, i): PathEdge => ({ points: [from, outline[(i + 1) % n]!], curved: false }));
  return outline.filter((_, i) => isCornerAt(segments[(i + n - 1) % n]!, segments[i]!));
}

function isNear([ax, ay]: Point, [bx, by]: Point): boolean {
  return Math.abs(ax - bx) <= nearUm && Math.abs(ay - by) <= nearUm;
}

function isCornerAt(before: PathEdge, after: PathEdge): boolean {
  return turnsAt(before, after) || bendsAt(before, after);
}

function turnsAt(before: PathEdge, after: PathEdge): boolean {
  const [a, b] = [before.points.at(-2)!, before.points.at(-1)!];
  const [c, d] = [after.points[0]!, after.points[1]!];
  const [ux, uy, vx, vy] = [b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]];
  return ux * vx + uy * vy < cornerCosine * Math.sqrt((ux * ux + uy * uy) * (vx * vx + vy * vy));
}

/** A straight line meets a curve, or the first short chord of one. */
function bendsAt(before: PathEdge, after: PathEdge): boolean {
  const [a, b] = [straightLength(before), straightLength(after)];
  if (before.curved || after.curved) return before.curved !== after.curved && Math.max(a, b) >= straightUm;
  const [short, long] = a < b ? [a, b] : [b, a];
  return long >= straightUm && long > longerBy * short && !inLine(before, after);
}

/** Length of a straight segment, 0 of a curved one. */
function straightLength({ points, curved }: PathEdge): number {
  if (curved) return 0;
  const [[ax, ay], [bx, by]] = points as readonly [Point, Point];
  return Math.sqrt((bx - ax) * (bx - ax) + (by - ay) * (by - ay));
}

function inLine({ points: [a, b] }: PathEdge, { points: [, c] }: PathEdge): boolean {
  return (b![0] - a![0]) * (c![1] - a![1]) === (b![1] - a![1]) * (c![0] - a![0]);
}

function halved({ points }: PathEdge): PathEdge[] {
  const middle = points.length >> 1;
  return [points.slice(0, middle + 1), points.slice(middle)].map((half) => ({ points: half, curved: true }));
}
