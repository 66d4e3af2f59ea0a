/**
 * Cuts a simple counter-clockwise outline into convex parts with disjoint interiors that together are the outline:
 * ears are clipped (Meisters, "Polygons have ears", 1975), then triangles are joined over their common sides
 * while both ends stay convex (Hertel and Mehlhorn, "Fast triangulation of simple polygons", 1983: at most four
 * times the least number of parts). Exact: every decision is the sign of a whole-number cross product.
 */
import { assert } from '../diagnostics/assert.js';
import type { Outline, Point } from '../units/types.js';
import { cross, twiceArea } from './outline.js';

/** The same ring without points that lie in line between their neighbours. */
export function withoutFlatPoints(outline: Outline): Outline {
  const kept: Point[] = [...outline];
  let i = 0;
  let sinceChange = 0;
  while (kept.length > 3 && sinceChange < kept.length) {
    const n = kept.length;
    if (turnAt(kept[(i + n - 1) % n]!, kept[i % n]!, kept[(i + 1) % n]!) === 0) {
      kept.splice(i % n, 1);
      sinceChange = 0;
      i = (i + n - 2) % (n - 1);
    } else {
      sinceChange++;
      i = (i + 1) % n;
    }
  }
  return kept;
}

/** Convex counter-clockwise parts, each without flat points. */
export function convexParts(outline: Outline): readonly Outline[] {
  const ring = withoutFlatPoints(outline);
  assert(twiceArea(ring) > 0n, 'an outline to cut into convex parts runs counter-clockwise');
  const parts = joinParts(ring, clipEars(ring));
  return parts.map((part) => withoutFlatPoints(part.map((index) => ring[index]!)));
}

function turnAt(a: Point, b: Point, c: Point): number {
  return cross(a[0], a[1], b[0], b[1], c[0], c[1]);
}

/** Triangles (by point index) that together are the ring. */
function clipEars(ring: Outline): number[][] {
  const left = [...ring.keys()];
  const triangles: number[][] = [];
  let i = 0;
  let sinceChange = 0;
  while (left.length > 3) {
    assert(sinceChange <= left.length, 'a simple outline has an ear');
    const n = left.length;
    const before = left[(i + n - 1) % n]!;
    const tip = left[i % n]!;
    const after = left[(i + 1) % n]!;
    const turn = turnAt(ring[before]!, ring[tip]!, ring[after]!);
    if (turn === 0 || (turn > 0 && isEar(ring, left, before, tip, after))) {
      if (turn > 0) triangles.push([before, tip, after]);
      left.splice(i % n, 1);
      sinceChange = 0;
      // Going on two further keeps the triangles from becoming one long fan.
      i = (i + 1) % left.length;
    } else {
      sinceChange++;
      i = (i + 1) % n;
    }
  }
  if (turnAt(ring[left[0]!]!, ring[left[1]!]!, ring[left[2]!]!) > 0) triangles.push(left);
  return triangles;
}

/** No other point of what is left lies in the closed triangle. */
function isEar(ring: Outline, left: readonly number[], before: number, tip: number, after: number): boolean {
  const a = ring[before]!;
  const b = ring[tip]!;
  const c = ring[after]!;
  for (const index of left) {
    if (index === before || index === tip || index === after) continue;
    const p = ring[index]!;
    if (turnAt(a, b, p) >= 0 && turnAt(b, c, p) >= 0 && turnAt(c, a, p) >= 0) return false;
  }
  return true;
}

/** Joins parts over common sides as long as the result is convex. */
function joinParts(ring: Outline, triangles: readonly number[][]): number[][] {
  const n = ring.length;
  const parts: (number[] | null)[] = triangles.map((triangle) => [...triangle]);
  const sideOwner = new Map<number, number>();
  parts.forEach((part, owner) => {
    for (let i = 0; i < 3; i++) sideOwner.set(part![i]! * n + part![(i + 1) % 3]!, owner);
  });
  for (const [side, firstOwner] of [...sideOwner]) {
    const from = Math.floor(side / n);
    const to = side % n;
    if (from > to) continue;
    const a = sideOwner.get(side) ?? firstOwner;
    const b = sideOwner.get(to * n + from);
    if (b === undefined || a === b) continue;
    const joined = joinedOver(ring, parts[a]!, parts[b]!, from, to);
    if (joined === null) continue;
    parts[a] = joined;
    parts[b] = null;
    sideOwner.delete(side);
    sideOwner.delete(to * n + from);
    for (let i = 0; i < joined.length; i++) sideOwner.set(joined[i]! * n + joined[(i + 1) % joined.length]!, a);
  }
  return parts.filter((part) => part !== null);
}

/** The union of `a` (with side from -> to) and `b` (with side to -> from), or null when it is not convex. */
function joinedOver(
  ring: Outline,
  a: readonly number[],
  b: readonly number[],
  from: number,
  to: number,
): number[] | null {
  const i = a.indexOf(to);
  const j = b.indexOf(from);
  // a from `to` round to `from`, then b strictly between `from` and `to`.
  const joined = [...a.slice(i), ...a.slice(0, i)];
  const rest = [...b.slice(j + 1), ...b.slice(0, j)].filter((index) => index !== to);
  joined.push(...rest);
  for (const corner of [from, to]) {
    const at = joined.indexOf(corner);
    const before = joined[(at + joined.length - 1) % joined.length]!;
    const after = joined[(at + 1) % joined.length]!;
    if (turnAt(ring[before]!, ring[corner]!, ring[after]!) < 0) return null;
  }
  return joined;
}
