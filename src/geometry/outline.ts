/**
 * Outlines: exact predicates, areas, turns and mirrors. All on whole micrometres within `coordinateMaxUm`, so
 * every cross product of two differences is exact in a double; sums of many are taken in BigInt.
 * An outline is a closed ring without its closing point.
 */
import type { Outline, Point, Um } from '../units/types.js';

export interface Bounds {
  readonly minX: Um;
  readonly minY: Um;
  readonly maxX: Um;
  readonly maxY: Um;
}

/** > 0 when a, b, c turn counter-clockwise, < 0 clockwise, 0 in line. Exact. */
export function cross(ax: Um, ay: Um, bx: Um, by: Um, cx: Um, cy: Um): number {
  return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
}

/** Twice the signed area, exact; positive when the ring runs counter-clockwise (y up). */
export function twiceArea(outline: Outline): bigint {
  const [originX, originY] = outline[0] ?? [0, 0];
  let sum = 0n;
  for (let i = 1; i + 1 < outline.length; i++) {
    const [bx, by] = outline[i]!;
    const [cx, cy] = outline[i + 1]!;
    sum += BigInt(cross(originX, originY, bx, by, cx, cy));
  }
  return sum;
}

/** Area in square micrometres (a double: exact below 2^53 um2, about 90 cm2 short of 9 007 m2). */
export function areaUm2(outline: Outline): number {
  const twice = twiceArea(outline);
  return Number(twice < 0n ? -twice : twice) / 2;
}

/** Whether the outline runs counter-clockwise (y up). */
export function isCounterClockwise(outline: Outline): boolean {
  return twiceArea(outline) > 0n;
}

/** Smallest upright box around the outline. */
export function boundsOf(outline: Outline): Bounds {
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (const [x, y] of outline) {
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  return { minX, minY, maxX, maxY };
}

/** y -> -y, listed in reversed order beginning with the image of the last point, so it keeps its sense. */
export function mirrorOutline(outline: Outline): Outline {
  return outline.map(([x, y]): Point => [x, negate(y)]).reverse();
}

/** The point mirrored in the x axis. */
export function mirrorPoint([x, y]: Point): Point {
  return [x, negate(y)];
}

/** A text that is equal for equal rings, at whatever point they are begun. */
export function ringKey(outline: Outline): string {
  let first = 0;
  outline.forEach(([x, y], i) => {
    const [leastX, leastY] = outline[first]!;
    if (x < leastX || (x === leastX && y < leastY)) first = i;
  });
  return JSON.stringify([...outline.slice(first), ...outline.slice(0, first)]);
}

/** A quarter, half or three-quarter turn counter-clockwise about the origin. */
export function turnPoint([x, y]: Point, turn: 0 | 90 | 180 | 270): Point {
  switch (turn) {
    case 0:
      return [x, y];
    case 90:
      return [negate(y), x];
    case 180:
      return [negate(x), negate(y)];
    case 270:
      return [y, negate(x)];
  }
}

/** The outline turned about [0, 0] counter-clockwise, exactly. */
export function turnOutline(outline: Outline, turn: 0 | 90 | 180 | 270): Outline {
  return outline.map((point) => turnPoint(point, turn));
}

/** Minus zero never gets into a file or a comparison. */
function negate(value: Um): Um {
  return value === 0 ? 0 : -value;
}

/** True when the point lies inside the ring or on it. Exact. */
export function containsPoint(outline: Outline, [px, py]: Point): boolean {
  let inside = false;
  for (let i = 0; i < outline.length; i++) {
    const [ax, ay] = outline[i]!;
    const [bx, by] = outline[(i + 1) % outline.length]!;
    const side = cross(ax, ay, bx, by, px, py);
    if (side === 0 && within(ax, ay, bx, by, px, py)) return true;
    if (ay > py !== by > py && side > 0 === by > ay) inside = !inside;
  }
  return inside;
}

/** Where a ring touches or crosses itself: the two edges (by the index of their first point) and a point there. */
export interface Crossing {
  readonly edge: number;
  readonly other: number;
  readonly at: Point;
}

/**
 * First place where the ring is not simple: two edges that are not neighbours share a point, two neighbours
 * double back over each other, or a point stands twice in a row. Sweeps edges by their left end. Exact.
 */
export function firstCrossing(outline: Outline): Crossing | null {
  const n = outline.length;
  const order = [...outline.keys()].sort((a, b) => leftEnd(outline, a) - leftEnd(outline, b) || a - b);
  let best: Crossing | null = null;
  let active: number[] = [];
  for (const edge of order) {
    const left = leftEnd(outline, edge);
    active = active.filter((other) => rightEnd(outline, other) >= left);
    for (const other of active) {
      const at = meetingPoint(outline, Math.min(edge, other), Math.max(edge, other), n);
      if (at === null) continue;
      const found = { edge: Math.min(edge, other), other: Math.max(edge, other), at };
      if (best === null || found.edge < best.edge || (found.edge === best.edge && found.other < best.other))
        best = found;
    }
    active.push(edge);
  }
  return best;
}

function leftEnd(outline: Outline, edge: number): Um {
  return Math.min(outline[edge]![0], outline[(edge + 1) % outline.length]![0]);
}

function rightEnd(outline: Outline, edge: number): Um {
  return Math.max(outline[edge]![0], outline[(edge + 1) % outline.length]![0]);
}

/** A point that edges i < j share unlawfully, or null. Neighbours may share their common end only. */
function meetingPoint(outline: Outline, i: number, j: number, n: number): Point | null {
  const [ax, ay] = outline[i]!;
  const [bx, by] = outline[(i + 1) % n]!;
  const [cx, cy] = outline[j]!;
  const [dx, dy] = outline[(j + 1) % n]!;
  if (ax === bx && ay === by) return [ax, ay];
  if (cx === dx && cy === dy) return [cx, cy];
  if (j === i + 1) return doublesBack(ax, ay, bx, by, dx, dy) ? [bx, by] : null;
  if (i === 0 && j === n - 1) return doublesBack(cx, cy, ax, ay, bx, by) ? [ax, ay] : null;
  const c = Math.sign(cross(ax, ay, bx, by, cx, cy));
  const d = Math.sign(cross(ax, ay, bx, by, dx, dy));
  const a = Math.sign(cross(cx, cy, dx, dy, ax, ay));
  const b = Math.sign(cross(cx, cy, dx, dy, bx, by));
  if (c * d < 0 && a * b < 0) {
    const t = cross(cx, cy, dx, dy, ax, ay) / (cross(cx, cy, dx, dy, ax, ay) - cross(cx, cy, dx, dy, bx, by));
    return [Math.round(ax + t * (bx - ax)), Math.round(ay + t * (by - ay))];
  }
  if (c === 0 && within(ax, ay, bx, by, cx, cy)) return [cx, cy];
  if (d === 0 && within(ax, ay, bx, by, dx, dy)) return [dx, dy];
  if (a === 0 && within(cx, cy, dx, dy, ax, ay)) return [ax, ay];
  if (b === 0 && within(cx, cy, dx, dy, bx, by)) return [bx, by];
  return null;
}

/** a-b then b-c runs back over itself. */
function doublesBack(ax: Um, ay: Um, bx: Um, by: Um, cx: Um, cy: Um): boolean {
  return cross(ax, ay, bx, by, cx, cy) === 0 && (bx - ax) * (cx - bx) + (by - ay) * (cy - by) < 0;
}

/** p, known to be in line with a-b, lies in the box of a-b. */
function within(ax: Um, ay: Um, bx: Um, by: Um, px: Um, py: Um): boolean {
  return px >= Math.min(ax, bx) && px <= Math.max(ax, bx) && py >= Math.min(ay, by) && py <= Math.max(ay, by);
}
