/** The corners of a closed line, and what lies between them as one edge each. */
import type { Point } from '../units/types.js';
import type { PathEdge } from './svg-path.js';

/** A line that turns more than this has a corner there; cosine of 10 degrees. Common practice, no source. */
const cornerCosine = 0.984_807_753;
/** A corner that is named by its place may lie so far off. */
const nearUm = 50;

/**
 * Edges from corner to corner.
 * @param segments a ring: each begins where the one before ends
 * @param named places of the corners where the drawing says them; else corners are where the line turns
 * @returns two edges at least
 */
export function edgesOfRing(segments: readonly PathEdge[], named: readonly Point[]): PathEdge[] {
  const n = segments.length;
  const byName = segments.map(({ points }) => named.some((point) => isNear(point, points[0]!)));
  const byTurn = segments.map((segment, i) => turnsAt(segments[(i + n - 1) % n]!, segment));
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

function isNear([ax, ay]: Point, [bx, by]: Point): boolean {
  return Math.abs(ax - bx) <= nearUm && Math.abs(ay - by) <= nearUm;
}

function turnsAt(before: PathEdge, after: PathEdge): boolean {
  const [a, b] = [before.points.at(-2)!, before.points.at(-1)!];
  const [c, d] = [after.points[0]!, after.points[1]!];
  const [ux, uy, vx, vy] = [b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]];
  return ux * vx + uy * vy < cornerCosine * Math.sqrt((ux * ux + uy * uy) * (vx * vx + vy * vy));
}

function halved({ points }: PathEdge): PathEdge[] {
  const middle = points.length >> 1;
  return [points.slice(0, middle + 1), points.slice(middle)].map((half) => ({ points: half, curved: true }));
}
