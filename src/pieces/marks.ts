/**
 * Marks: from "so far along this edge's seam line" to slits on the cutting line, for notches, darts and pleats. A slit
 * stands square to its edge; its outer end lies on the cutting line, its inner end `depth` further in.
 */
import { isCounterClockwise } from '../geometry/outline.js';
import type { Point, Um } from '../units/types.js';
import { distance, lengthOf, runPoints } from './grain-frame.js';
import type { DeclaredDart, DeclaredNotch, DeclaredPiece, EdgeAllowances, EdgeRun } from './types.js';

/** Depth of a notch that gives none. Common practice, no source. */
export const notchDepth: Um = 4_000;
/** The awl goes in so far short of a dart's tip, where the stitches cover it. Common practice, no source. */
const awlShort: Um = 10_000;
/** The two slits of a double notch stand this far apart. Common practice, no source. */
const doubleNotchApart: Um = 6_000;

/** Slits of all notches in the grain frame, as [on the cutting line, inner end]. */
export function placeNotches(
  piece: DeclaredPiece,
  allowances: EdgeAllowances,
  place: (point: Point) => Point,
): (readonly [Point, Point])[] {
  const slits: (readonly [Point, Point])[] = [];
  for (const notch of notchesOf(piece)) {
    const half = notch.double ? doubleNotchApart / 2 : 0;
    // Near an end of the edge both slits move inwards, so that they stay as far apart as they should.
    const room = seamLengthOf(piece, notch.run, allowances) - half;
    const middle = notch.double ? Math.max(half, Math.min(notch.atUm, room)) : notch.atUm;
    for (const shift of notch.double ? [-half, half] : [0]) {
      const slit = slitAt(piece, notch, allowances, middle + shift);
      slits.push([place(slit[0]), place(slit[1])]);
    }
  }
  return slits;
}

/** Its own notches, and those that mark darts and pleats. */
export function notchesOf({ notches, darts, pleats }: DeclaredPiece): DeclaredNotch[] {
  const two = (run: EdgeRun, atUm: Um, half: number): DeclaredNotch[] =>
    [-half, half].map((off) => ({ run, atUm: atUm + off, depthUm: notchDepth, double: false }));
  return [
    ...notches.map(({ value }) => value),
    ...darts.flatMap(({ value }) => two(value.run, value.atUm, value.widthUm / 2)),
    ...pleats.flatMap(({ value }) => two(value.run, value.atUm, value.depthUm)),
  ];
}

/** Where the awl pricks a dart, in the drawing frame: on its middle line, short of the tip. */
export function dartAwl(piece: DeclaredPiece, dart: DeclaredDart, allowances: EdgeAllowances): Point {
  const { point: mouth } = onSeam(piece, dart.run, dart.atUm, allowances);
  const length = distance(mouth, dart.tip);
  const share = length < 2 * awlShort ? 0 : awlShort / length;
  return [dart.tip[0] + share * (mouth[0] - dart.tip[0]), dart.tip[1] + share * (mouth[1] - dart.tip[1])];
}

/** The two sides of a dart, seam line to tip to seam line, in the drawing frame. */
export function dartLine(piece: DeclaredPiece, dart: DeclaredDart, allowances: EdgeAllowances): Point[] {
  const side = (off: number): Point => onSeam(piece, dart.run, dart.atUm + off, allowances).point;
  return [side(-dart.widthUm / 2), dart.tip, side(dart.widthUm / 2)];
}

/** Which edge a place along a run's seam line lies on. */
export function edgeAt(piece: DeclaredPiece, run: EdgeRun, atUm: Um, allowances: EdgeAllowances): number {
  return onSeam(piece, run, atUm, allowances).edge;
}

/** On the drawn edge beside that place of the seam line (on it, for a piece drawn net). */
function onSeam(piece: DeclaredPiece, run: EdgeRun, atUm: number, allowances: EdgeAllowances) {
  return walk(piece, run, piece.drawn === 'net' ? atUm : atUm + seamStart(piece, run, allowances));
}

/** Length of a run's seam line: of the drawn edge itself, or, for a piece drawn cut, between its seam corners. */
export function seamLengthOf(piece: DeclaredPiece, run: EdgeRun, allowances: EdgeAllowances): number {
  const drawn = lengthOf(runPoints(piece, run));
  if (piece.drawn === 'net') return drawn;
  return drawn - seamStart(piece, run, allowances) - seamStart(piece, turnAround(run), allowances);
}

/** How far along a run's seam line the place lies that is so far along its drawn edge; between the ends of both. */
export function alongSeam(piece: DeclaredPiece, run: EdgeRun, alongUm: number, allowances: EdgeAllowances): number {
  const start = piece.drawn === 'net' ? 0 : seamStart(piece, run, allowances);
  return Math.max(0, Math.min(alongUm - start, seamLengthOf(piece, run, allowances)));
}

function turnAround(run: EdgeRun): EdgeRun {
  return { name: run.name, edges: [...run.edges].reverse(), reversed: !run.reversed };
}

/** In the drawing frame. */
function slitAt(piece: DeclaredPiece, notch: DeclaredNotch, allowances: EdgeAllowances, atUm: number): [Point, Point] {
  const { run } = notch;
  const { point, ux, uy, edge } = onSeam(piece, run, atUm, allowances);
  // Outwards is to the right of the way round a counter-clockwise ring.
  const side = outwardSide(piece, run);
  const outX = side * uy;
  const outY = -side * ux;
  const by = piece.drawn === 'net' ? allowances.byEdge[edge]! : 0;
  const outer: Point = [point[0] + outX * by, point[1] + outY * by];
  return [outer, [outer[0] - outX * notch.depthUm, outer[1] - outY * notch.depthUm]];
}

/** +1 when outwards is to the right of the run's direction, else -1. */
function outwardSide(piece: DeclaredPiece, run: EdgeRun): 1 | -1 {
  const ring = piece.edges.flatMap((edge) => edge.points.slice(0, -1));
  return isCounterClockwise(ring) === run.reversed ? -1 : 1;
}

/** The point so far along a run, its direction there, and the edge it is on. Clamped to the run's ends. */
function walk(
  piece: DeclaredPiece,
  run: EdgeRun,
  along: number,
): { point: Point; ux: number; uy: number; edge: number } {
  let left = Math.max(0, along);
  let found = { point: [0, 0] as Point, ux: 1, uy: 0, edge: run.edges[0]! };
  for (const index of run.edges) {
    const edge = piece.edges[index]!;
    const points = run.reversed ? [...edge.points].reverse() : edge.points;
    for (let i = 1; i < points.length; i++) {
      const from = points[i - 1]!;
      const to = points[i]!;
      const length = distance(from, to);
      if (length === 0) continue;
      const ux = (to[0] - from[0]) / length;
      const uy = (to[1] - from[1]) / length;
      const part = Math.min(left, length);
      found = { point: [from[0] + ux * part, from[1] + uy * part], ux, uy, edge: index };
      if (left <= length) return found;
      left -= length;
    }
  }
  return found;
}

/**
 * How far along the drawn (cutting) edge the seam line's corner lies from the drawn corner, at a run's start:
 * the corner of the two inward lines, projected on the run's first segment.
 */
function seamStart(piece: DeclaredPiece, run: EdgeRun, allowances: EdgeAllowances): number {
  const first = run.edges[0]!;
  const n = piece.edges.length;
  const neighbour = run.reversed ? (first + 1) % n : (first + n - 1) % n;
  const after = walk(piece, { ...run, edges: [first] }, 0);
  const before = walk(piece, { ...run, edges: [neighbour] }, Number.POSITIVE_INFINITY);
  const sine = outwardSide(piece, run) * (before.ux * after.uy - before.uy * after.ux);
  if (Math.abs(sine) < 1e-6) return 0;
  const ahead = before.ux * after.ux + before.uy * after.uy;
  return (allowances.byEdge[neighbour]! - allowances.byEdge[first]! * ahead) / sine;
}
