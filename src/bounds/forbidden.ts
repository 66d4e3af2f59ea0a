/**
 * Forbidden places: where a thing certainly must not lie relative to another one, told only as far as it is quick to
 * tell. Everything here errs towards allowing, so what is proven with it holds for the true outlines.
 *
 * Thing a lies at the origin, thing b at d = (dx, dy). The place d is forbidden when it lies in one of a few open convex
 * polygons: sums A_i + G + (-B_j), where the A_i and B_j are convex and lie within the outlines, and G is a polygon
 * within the circle of the gap. In such a place some point of a is nearer than the gap to one of b (without a gap: the
 * interiors have a point in common). Corners of G lie on the axes, so side by side the gap counts in full.
 *
 * Strips. Take whole numbers v0 <= v1. A convex polygon that reaches below v0 and above v1 covers at every height
 * between them at least the u that it covers both at v0 and at v1: its left border is a convex function of v and its
 * right border a concave one. So the first u >= from not covered in that way is one that no allowed place with
 * from <= u can be short of, whatever its height in the strip. With v0 = v1 it is the exact first free place.
 */
import { buildNoFit, type NoFit } from '../geometry/no-fit.js';
import { crossingCeil } from '../geometry/no-fit-lines.js';
import type { Outline, Point, Um } from '../units/types.js';

/** The polygons seen along one direction: u runs that way, v across it. */
export interface Side {
  /** Edges starts[i] .. starts[i + 1] - 1 are those of polygon i. */
  readonly starts: Int32Array;
  /** uLow, vLow, uHigh, vHigh of each edge that is not level, vLow < vHigh. */
  readonly edges: Float64Array;
  /** Whether the edge runs upwards round the ring it was taken from. */
  readonly rises: readonly boolean[];
  /** minU, minV, maxU, maxV of each polygon. */
  readonly boxes: Float64Array;
  readonly isBox: readonly boolean[];
}

export interface Forbidden {
  readonly polygons: number;
  /** Around all of them. */
  readonly minX: Um;
  readonly minY: Um;
  readonly maxX: Um;
  readonly maxY: Um;
  readonly right: Side;
  readonly left: Side;
  readonly up: Side;
  readonly down: Side;
  /** True when the only polygon is a rectangle along the axes. */
  readonly isBox: boolean;
  /** Work to look at it once along one direction. */
  readonly steps: number;
}

/** Forbidden places for a thing with the second parts relative to one with the first. */
export function forbiddenPlaces(parts: readonly Outline[], otherParts: readonly Outline[], gapUm: Um): Forbidden {
  const around = withinCircle(gapUm);
  const grown = around === null ? parts : parts.map((part) => ringOf(buildNoFit([part], [around]), 0));
  const noFit = buildNoFit(grown, otherParts);
  const rings = Array.from({ length: noFit.sums }, (_, i) => ringOf(noFit, i));
  const { minX, minY, maxX, maxY } = noFit;
  const right = sideOf(rings, ([x, y]) => [x, y]);
  return {
    polygons: noFit.sums,
    ...{ minX, minY, maxX, maxY },
    right,
    left: sideOf(rings, ([x, y]) => [-x, y]),
    up: sideOf(rings, ([x, y]) => [y, x]),
    down: sideOf(rings, ([x, y]) => [-y, x]),
    isBox: noFit.sums === 1 && right.isBox[0]!,
    steps: 1 + (right.isBox.every((is) => is) ? noFit.sums : right.edges.length >> 2),
  };
}

/** An octagon within the circle, its corners on the axes and halfway; a square when it is too small for that. */
function withinCircle(radius: Um): Outline | null {
  if (radius === 0) return null;
  const halfway = Math.floor(radius * Math.SQRT1_2);
  const isRound = 2 * halfway > radius && 2 * halfway * halfway <= radius * radius;
  const quarter: Point[] = isRound
    ? [
        [radius, 0],
        [halfway, halfway],
      ]
    : [[radius, 0]];
  const turns: ((point: Point) => Point)[] = [
    ([x, y]) => [x, y],
    ([x, y]) => [-y, x],
    ([x, y]) => [-x, -y],
    ([x, y]) => [y, -x],
  ];
  return turns.flatMap((turn) => quarter.map(turn));
}

function ringOf({ starts, xs, ys }: NoFit, sum: number): Point[] {
  const ring: Point[] = [];
  for (let k = starts[sum]!; k < starts[sum + 1]!; k++) ring.push([xs[k]!, ys[k]!]);
  return ring;
}

function sideOf(rings: readonly (readonly Point[])[], seen: (point: Point) => Point): Side {
  const starts = new Int32Array(rings.length + 1);
  const edges: number[] = [];
  const rises: boolean[] = [];
  const boxes: number[] = [];
  const isBox: boolean[] = [];
  rings.forEach((ring, i) => {
    const points = ring.map(seen);
    points.forEach(([u, v], k) => {
      const [nextU, nextV] = points[(k + 1) % points.length]!;
      if (v === nextV) return;
      rises.push(v < nextV);
      if (v < nextV) edges.push(u, v, nextU, nextV);
      else edges.push(nextU, nextV, u, v);
    });
    starts[i + 1] = edges.length >> 2;
    const us = points.map(([u]) => u);
    const vs = points.map(([, v]) => v);
    boxes.push(Math.min(...us), Math.min(...vs), Math.max(...us), Math.max(...vs));
    isBox.push(ring.length === 4 && new Set(us).size === 2 && new Set(vs).size === 2);
  });
  return { starts, edges: Float64Array.from(edges), rises, boxes: Float64Array.from(boxes), isBox };
}

/**
 * A whole number such that no allowed place with u >= from and vLow <= v <= vHigh has a smaller u; beyond `most` it does
 * not go on looking.
 */
export function firstAllowed(side: Side, vLow: Um, vHigh: Um, from: Um, most: Um): Um {
  const { boxes, isBox } = side;
  let u = from;
  let hasMoved = true;
  while (hasMoved && u <= most) {
    hasMoved = false;
    for (let i = 0; i < isBox.length; i++) {
      const b = 4 * i;
      if (u <= boxes[b]! || u >= boxes[b + 2]! || vLow <= boxes[b + 1]! || vHigh >= boxes[b + 3]!) continue;
      const end = isBox[i]! ? boxes[b + 2]! : coveredTo(side, i, vLow, vHigh, u);
      if (end <= u) continue;
      u = end;
      hasMoved = true;
    }
  }
  return u;
}

/** Where polygon i stops covering u, u + 1, ... throughout the strip; u itself when it does not cover that. */
function coveredTo({ starts, edges }: Side, i: number, vLow: Um, vHigh: Um, u: Um): Um {
  let end = Number.POSITIVE_INFINITY;
  for (let pass = 0; pass < (vLow === vHigh ? 1 : 2); pass++) {
    const v = pass === 0 ? vLow : vHigh;
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (let e = 4 * starts[i]!; e < 4 * starts[i + 1]!; e += 4) {
      if (edges[e + 1]! > v || edges[e + 3]! < v) continue;
      const ceil = crossingCeil(edges[e]!, edges[e + 1]!, edges[e + 2]!, edges[e + 3]!, v);
      const floor = -crossingCeil(-edges[e]!, edges[e + 1]!, -edges[e + 2]!, edges[e + 3]!, v);
      if (floor < low) low = floor;
      if (ceil > high) high = ceil;
    }
    if (u <= low) return u;
    if (high < end) end = high;
  }
  return end;
}

/** True when no place in the rectangle is forbidden. */
export function isAllAllowed({ right }: Forbidden, xLow: Um, xHigh: Um, yLow: Um, yHigh: Um): boolean {
  const { boxes, isBox } = right;
  for (let i = 0; i < isBox.length; i++) {
    const b = 4 * i;
    if (xHigh <= boxes[b]! || xLow >= boxes[b + 2]! || yHigh <= boxes[b + 1]! || yLow >= boxes[b + 3]!) continue;
    if (isBox[i]! || !isBesideAnEdge(right, i, xLow, xHigh, yLow, yHigh)) return false;
  }
  return true;
}

/** Whether the line along one of the polygon's edges has the whole rectangle on its outer side. */
function isBesideAnEdge({ starts, edges, rises }: Side, i: number, x0: Um, x1: Um, y0: Um, y1: Um): boolean {
  for (let k = starts[i]!; k < starts[i + 1]!; k++) {
    const e = 4 * k;
    const px = edges[e]!;
    const py = edges[e + 1]!;
    const run = edges[e + 2]! - px;
    const rise = edges[e + 3]! - py;
    // Round a counter-clockwise ring the inside is on the left of an edge that rises, on the right of one that falls.
    const x = rises[k] ? x0 : x1;
    const y = run > 0 === rises[k] ? y1 : y0;
    const turn = run * (y - py) - rise * (x - px);
    if (rises[k] ? turn <= 0 : turn >= 0) return true;
  }
  return false;
}
