/**
 * From the drawing's frame to the grain frame: foot -> head becomes +x, the foot (or, for a piece on the fold,
 * its projection on the fold line) the origin. Rounded once to whole micrometres. A grain line along x or y
 * turns exactly; any other direction through one square root, the same on every machine.
 */
import type { Point, Um } from '../units/types.js';
import type { DeclaredPiece, EdgeRun } from './types.js';

/** How the fold edge lies to the grain line: along it, square to it, or at another angle. */
export type FoldWay = 'along' | 'square' | 'askew';

/** Farthest that a fold edge may stray from a straight line, or from the grain's direction. Common practice, no source. */
export const foldTolerance: Um = 500;

export interface GrainFrame {
  /** Drawing frame -> grain frame, rounded. */
  readonly place: (point: Point) => Point;
  readonly foldWay: FoldWay | null;
}

/** All points of a run, both ends included, in the direction of the run. */
export function runPoints(piece: DeclaredPiece, run: EdgeRun): Point[] {
  const points: Point[] = [];
  for (const index of run.edges) {
    const edge = piece.edges[index]!;
    const ordered = run.reversed ? [...edge.points].reverse() : edge.points;
    points.push(...(points.length === 0 ? ordered : ordered.slice(1)));
  }
  return points;
}

/** Length of a polyline. */
export function lengthOf(points: readonly Point[]): number {
  let sum = 0;
  for (let i = 1; i < points.length; i++) sum += distance(points[i - 1]!, points[i]!);
  return sum;
}

/** Distance of two points. */
export function distance([ax, ay]: Point, [bx, by]: Point): number {
  return Math.sqrt((bx - ax) * (bx - ax) + (by - ay) * (by - ay));
}

/** Farthest that `points` stray from the straight line through the first and the last of them. */
export function strayFromLine(points: readonly Point[]): number {
  const first = points[0]!;
  const last = points.at(-1)!;
  const length = distance(first, last);
  if (length === 0) return Number.POSITIVE_INFINITY;
  let most = 0;
  for (const [x, y] of points) {
    const off = Math.abs((last[0] - first[0]) * (y - first[1]) - (last[1] - first[1]) * (x - first[0])) / length;
    if (off > most) most = off;
  }
  return most;
}

/** The frame of a piece whose grain line and fold edge have been found good (checkPiece). */
export function grainFrame(piece: DeclaredPiece): GrainFrame {
  const { foot, head } = piece.grain.value;
  if (piece.fold === null) return { place: frameAt(foot, head[0] - foot[0], head[1] - foot[1]), foldWay: null };
  const points = runPoints(piece, piece.fold.value);
  const from = points[0]!;
  const to = points.at(-1)!;
  const foldWay = wayOfFold(piece, from, to);
  const [dx, dy] = foldDirection(piece, from, to, foldWay);
  const toFold = projectOn(foot, from, to);
  const place = frameAt(toFold, dx, dy);
  return { place, foldWay };
}

/** The direction of +x: the fold edge's own where it lies along or square to the grain, else the grain line's. */
function foldDirection(piece: DeclaredPiece, from: Point, to: Point, way: FoldWay): [number, number] {
  const { foot, head } = piece.grain.value;
  const grainX = head[0] - foot[0];
  const grainY = head[1] - foot[1];
  const foldX = to[0] - from[0];
  const foldY = to[1] - from[1];
  if (way === 'askew') return [grainX, grainY];
  const [x, y] = way === 'along' ? [foldX, foldY] : [foldY, -foldX];
  return x * grainX + y * grainY >= 0 ? [x, y] : [-x, -y];
}

function wayOfFold(piece: DeclaredPiece, from: Point, to: Point): FoldWay {
  const { foot, head } = piece.grain.value;
  const grainX = head[0] - foot[0];
  const grainY = head[1] - foot[1];
  const grainLength = Math.sqrt(grainX * grainX + grainY * grainY);
  const foldX = to[0] - from[0];
  const foldY = to[1] - from[1];
  if (Math.abs(foldX * grainY - foldY * grainX) / grainLength <= foldTolerance) return 'along';
  if (Math.abs(foldX * grainX + foldY * grainY) / grainLength <= foldTolerance) return 'square';
  return 'askew';
}

function projectOn([x, y]: Point, [fromX, fromY]: Point, [toX, toY]: Point): [number, number] {
  const dx = toX - fromX;
  const dy = toY - fromY;
  const t = ((x - fromX) * dx + (y - fromY) * dy) / (dx * dx + dy * dy);
  return [fromX + t * dx, fromY + t * dy];
}

function frameAt([originX, originY]: readonly [number, number], dx: number, dy: number): (point: Point) => Point {
  const length = Math.sqrt(dx * dx + dy * dy);
  const ux = dx / length;
  const uy = dy / length;
  return ([x, y]) => [
    // + 0 turns minus zero into zero.
    Math.round((x - originX) * ux + (y - originY) * uy) + 0,
    Math.round((y - originY) * ux - (x - originX) * uy) + 0,
  ];
}
