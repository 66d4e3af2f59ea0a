/**
 * How far an outline can slide straight to the left before it meets another one, exactly, from the edges alone.
 * On every height that both outlines share, the gap between a left-facing edge of the one that moves and a
 * right-facing edge of the other is a linear function, so its least value lies at an end of their common heights;
 * one of the two edges has a vertex there, so the gap is a whole number plus one fraction, rounded down exactly.
 * The three other directions: turn everything by quarter turns.
 * Takes for granted: the interiors do not overlap before the slide.
 */
import type { Outline, Um } from '../units/types.js';
import { crossingCeil } from './no-fit-lines.js';
import { type Bounds, boundsOf } from './outline.js';

/** The edges of an outline that face left (or right), each as lower x, y, upper x, y, by rising lower y. */
export interface Faces {
  readonly left: Float64Array;
  readonly right: Float64Array;
  readonly box: Bounds;
}

/** The edges of an outline that can meet something when it slides to the left, and those that can be met. */
export function facesOf(outline: Outline): Faces {
  const left: number[][] = [];
  const right: number[][] = [];
  outline.forEach(([px, py], i) => {
    const [qx, qy] = outline[(i + 1) % outline.length]!;
    if (qy > py) right.push([px, py, qx, qy]);
    else if (qy < py) left.push([qx, qy, px, py]);
  });
  return { left: flattened(left), right: flattened(right), box: boundsOf(outline) };
}

function flattened(edges: number[][]): Float64Array {
  edges.sort((a, b) => a[1]! - b[1]! || a[0]! - b[0]! || a[3]! - b[3]! || a[2]! - b[2]!);
  return Float64Array.from(edges.flat());
}

/**
 * The most the moving outline, at (dx, dy) from the other, can go left without overlapping it, but no more than
 * `mostUm`.
 */
export function roomToSlide(fixed: Faces, moving: Faces, dx: Um, dy: Um, mostUm: Um): Um {
  let most = mostUm;
  if (moving.box.minX + dx - most >= fixed.box.maxX || moving.box.maxX + dx <= fixed.box.minX) return most;
  if (moving.box.minY + dy >= fixed.box.maxY || moving.box.maxY + dy <= fixed.box.minY) return most;
  const walls = fixed.right;
  const edges = moving.left;
  const { minY, maxX, maxY } = fixed.box;
  // Both lists rise by lower y: a wall that ends below an edge, and all before it, ends below the next edges too.
  let first = 0;
  for (let e = 0; e < edges.length; e += 4) {
    const lowY = edges[e + 1]! + dy;
    if (lowY >= maxY) break;
    const highY = edges[e + 3]! + dy;
    if (highY <= minY) continue;
    const lowX = edges[e]! + dx;
    const highX = edges[e + 2]! + dx;
    if (Math.min(lowX, highX) - maxX >= most) continue;
    while (first < walls.length && walls[first + 3]! <= lowY) first += 4;
    for (let w = first; w < walls.length; w += 4) {
      const wallLowY = walls[w + 1]!;
      if (wallLowY >= highY) break;
      const wallHighY = walls[w + 3]!;
      if (wallHighY <= lowY) continue;
      const wallLowX = walls[w]!;
      const wallHighX = walls[w + 2]!;
      if (Math.min(lowX, highX) - Math.max(wallLowX, wallHighX) >= most) continue;
      const from = Math.max(lowY, wallLowY);
      const to = Math.min(highY, wallHighY);
      const below = gapAt(lowX, lowY, highX, highY, wallLowX, wallLowY, wallHighX, wallHighY, from);
      if (below < 0) continue;
      const above = gapAt(lowX, lowY, highX, highY, wallLowX, wallLowY, wallHighX, wallHighY, to);
      if (above < 0) continue;
      const gap = Math.min(below, above);
      if (gap < most) most = gap;
    }
  }
  return most;
}

/** x of the edge minus x of the wall at height y, a vertex of one of them; rounded down. */
function gapAt(
  lowX: Um,
  lowY: Um,
  highX: Um,
  highY: Um,
  wallLowX: Um,
  wallLowY: Um,
  wallHighX: Um,
  wallHighY: Um,
  y: Um,
): Um {
  if (y === wallLowY || y === wallHighY) {
    const wallX = y === wallLowY ? wallLowX : wallHighX;
    return -crossingCeil(-lowX, lowY, -highX, highY, y) - wallX;
  }
  const edgeX = y === lowY ? lowX : highX;
  return edgeX - crossingCeil(wallLowX, wallLowY, wallHighX, wallHighY, y);
}
