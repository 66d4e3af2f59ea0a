/**
 * Two outlines on the cloth: do their insides overlap, and are they far enough apart? Exact.
 *
 * Takes for granted two simple counter-clockwise rings. If two edges cross properly, the insides overlap. If none do,
 * every contact is a vertex of one of them; so each edge is cut at the other's vertices that lie on it, and each
 * section lies wholly inside the other ring, wholly outside, or along one of its edges. The insides overlap exactly
 * when a section of either ring lies inside the other, or runs along it in the same direction (cloth on the same
 * side). That covers outlines that pass through each other at vertices alone, containment, and equal outlines.
 * Midpoints of sections are taken in doubled coordinates, so that they are whole numbers.
 */
import type { Outline, Point, Um } from '../units/types.js';
import { type Box, boxOf, distanceRoughly, isBetween, isPointNearer, side, whereIs } from './exact.js';

export interface Shape {
  readonly outline: Outline;
  readonly box: Box;
}

/** True when the insides have a point in common; touching is no overlap. */
export function insidesOverlap(a: Shape, b: Shape): boolean {
  return edgesEnter(a, b) || edgesEnter(b, a);
}

/** True when some point of `a` is nearer than `reach` to `b`; the insides are known not to overlap. */
export function areNearer(a: Shape, b: Shape, reach: Um): boolean {
  return cornersNearer(a, b, reach) || cornersNearer(b, a, reach);
}

/** Distance of two outlines that do not overlap: for sentences only. */
export function distanceApart(a: Shape, b: Shape): number {
  let least = Number.POSITIVE_INFINITY;
  for (const [one, other] of [[a, b] as const, [b, a] as const])
    for (const [x, y] of one.outline) least = Math.min(least, distanceToRing(x, y, other.outline));
  return least;
}

/** A section of an edge of `a` lies inside `b`, runs along it in the same direction, or crosses an edge of it. */
function edgesEnter(a: Shape, b: Shape): boolean {
  const ring = b.outline;
  let from = a.outline.at(-1)!;
  for (const to of a.outline) {
    if (!isBeside(from, to, b.box)) {
      const cuts = cutsOf(from, to, ring);
      if (cuts === 'crossed' || sectionsEnter(from, to, cuts, ring)) return true;
    }
    from = to;
  }
  return false;
}

/** An edge wholly to one side of a box. Only for speed: what lies so has no point in the box. */
function isBeside(a: Point, b: Point, { left, right, low, high }: Box): boolean {
  return (
    (a[0] < left && b[0] < left) ||
    (a[0] > right && b[0] > right) ||
    (a[1] < low && b[1] < low) ||
    (a[1] > high && b[1] > high)
  );
}

/** The vertices of the ring that lie on the edge, unordered; or that the edge is crossed. */
function cutsOf(from: Point, to: Point, ring: Outline): Point[] | 'crossed' {
  const box = boxOf([from, to]);
  const cuts: Point[] = [];
  let c = ring.at(-1)!;
  for (const d of ring) {
    if (!isBeside(c, d, box)) {
      const sideC = side(from[0], from[1], to[0], to[1], c[0], c[1]);
      const sideD = side(from[0], from[1], to[0], to[1], d[0], d[1]);
      if (sideC === 0 && isBetween(from[0], from[1], to[0], to[1], c[0], c[1])) cuts.push(c);
      if (sideC * sideD < 0) {
        const sideFrom = side(c[0], c[1], d[0], d[1], from[0], from[1]);
        const sideTo = side(c[0], c[1], d[0], d[1], to[0], to[1]);
        if (sideFrom * sideTo < 0) return 'crossed';
      }
    }
    c = d;
  }
  return cuts;
}

function sectionsEnter(from: Point, to: Point, cuts: Point[], ring: Outline): boolean {
  const forth = to[0] !== from[0] ? Math.sign(to[0] - from[0]) : 0;
  const up = Math.sign(to[1] - from[1]);
  cuts.sort((one, other) => (forth !== 0 ? forth * (one[0] - other[0]) : up * (one[1] - other[1])));
  let start = from;
  for (const end of [...cuts, to]) {
    if (end[0] === start[0] && end[1] === start[1]) continue;
    const middleX = start[0] + end[0];
    const middleY = start[1] + end[1];
    const where = whereIs(middleX, middleY, ring, 2);
    if (where === 'in') return true;
    if (where === 'on' && runsAlong(start, end, middleX, middleY, ring)) return true;
    start = end;
  }
  return false;
}

/** The edge of the ring under the section has the same direction. `middle` is the section's middle, doubled. */
function runsAlong(start: Point, end: Point, middleX: number, middleY: number, ring: Outline): boolean {
  let c = ring.at(-1)!;
  for (const d of ring) {
    const inLine =
      side(c[0], c[1], d[0], d[1], start[0], start[1]) === 0 && side(c[0], c[1], d[0], d[1], end[0], end[1]) === 0;
    if (inLine && isBetween(2 * c[0], 2 * c[1], 2 * d[0], 2 * d[1], middleX, middleY))
      return (d[0] - c[0]) * (end[0] - start[0]) + (d[1] - c[1]) * (end[1] - start[1]) > 0;
    c = d;
  }
  return false;
}

function cornersNearer(a: Shape, b: Shape, reach: Um): boolean {
  const around = grown(b.box, reach);
  for (const corner of a.outline) {
    if (isBeside(corner, corner, around)) continue;
    const [x, y] = corner;
    const near = grown({ left: x, right: x, low: y, high: y }, reach);
    let c = b.outline.at(-1)!;
    for (const d of b.outline) {
      if (!isBeside(c, d, near) && isPointNearer(x, y, c[0], c[1], d[0], d[1], reach)) return true;
      c = d;
    }
  }
  return false;
}

function grown({ left, right, low, high }: Box, by: Um): Box {
  return { left: left - by, right: right + by, low: low - by, high: high + by };
}

function distanceToRing(x: number, y: number, ring: Outline): number {
  let least = Number.POSITIVE_INFINITY;
  let c = ring.at(-1)!;
  for (const d of ring) {
    least = Math.min(least, distanceRoughly(x, y, c, d));
    c = d;
  }
  return least;
}

/**
 * How far the deepest point found of the outline lies inside the ring: for sentences only. Looked for on its corners
 * and in the middle of the sections of its edges; 0 when none is inside.
 */
export function deepestInside(outline: Outline, ring: Outline): number {
  let most = 0;
  const look = (x: number, y: number) => {
    if (whereIs(x, y, ring, 1) === 'in') most = Math.max(most, distanceToRing(x, y, ring));
  };
  let from = outline.at(-1)!;
  for (const to of outline) {
    const shares = [0, ...crossingShares(from, to, ring), 1].sort((one, other) => one - other);
    for (let i = 1; i < shares.length; i++) {
      const middle = (shares[i - 1]! + shares[i]!) / 2;
      look(from[0] + middle * (to[0] - from[0]), from[1] + middle * (to[1] - from[1]));
    }
    look(to[0], to[1]);
    from = to;
  }
  return most;
}

/** Where along the edge (0 to 1) it meets edges of the ring, roughly. */
function crossingShares(from: Point, to: Point, ring: Outline): number[] {
  const shares: number[] = [];
  const dx = to[0] - from[0];
  const dy = to[1] - from[1];
  let c = ring.at(-1)!;
  for (const d of ring) {
    const under = dx * (d[1] - c[1]) - dy * (d[0] - c[0]);
    if (under !== 0) {
      const share = ((c[0] - from[0]) * (d[1] - c[1]) - (c[1] - from[1]) * (d[0] - c[0])) / under;
      const other = ((c[0] - from[0]) * dy - (c[1] - from[1]) * dx) / under;
      if (share > 0 && share < 1 && other >= 0 && other <= 1) shares.push(share);
    }
    c = d;
  }
  return shares;
}
