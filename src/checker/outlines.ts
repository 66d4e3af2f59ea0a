/**
 * Outlines: each piece a simple ring that runs counter-clockwise; each copy's outline the transform it claims.
 * Simple: edges share a point only where they follow one another. Exact.
 */
import type { CutPiece } from '../pieces/types.js';
import type { Outline, Point, Um } from '../units/types.js';
import { doubleArea, isBetween, side } from './exact.js';
import type { Part } from './parts.js';
import type { Refusal } from './types.js';
import { amount, mm, refuse } from './words.js';

/** Refusals for the outline of one piece. */
export function checkPieceOutline(piece: CutPiece): Refusal[] {
  const area = doubleArea(piece.outline);
  if (area === 0n) return [refuse('outline-no-area', `the outline of piece "${piece.id}" encloses nothing`)];
  const at = findMeeting(piece.outline);
  if (at !== null)
    return [
      refuse('outline-not-simple', `the outline of piece "${piece.id}" meets itself at (${mm(at[0])}, ${mm(at[1])})`),
    ];
  return area < 0n ? [refuse('outline-clockwise', `the outline of piece "${piece.id}" runs clockwise`)] : [];
}

/** The copy's outline against its piece mirrored, turned and moved as the copy says. */
export function checkClaim({ copy, piece, name }: Part): Refusal[] {
  const claimed = layOut(piece.outline, copy.mirror, copy.turned, copy.tiltMicrodegrees, copy.at);
  if (claimed.length !== copy.outline.length)
    return [
      refuse(
        'outline-not-claimed',
        `the outline of ${name} has ${copy.outline.length} points, its piece ${claimed.length}`,
      ),
    ];
  const off = farthest(claimed, copy.outline);
  return off === 0 ? [] : [refuse('outline-not-claimed', `the outline of ${name} is off its place by ${amount(off)}`)];
}

/** Greatest distance between points of the same number; 0 only when all agree exactly. */
export function farthest(a: Outline, b: Outline): number {
  let square = 0;
  for (let i = 0; i < a.length; i++) {
    const dx = a[i]![0] - b[i]![0];
    const dy = a[i]![1] - b[i]![1];
    square = Math.max(square, dx * dx + dy * dy);
  }
  return Math.sqrt(square);
}

/** Quarter turns by whole numbers: (cosine, sine) of the turn. */
const quarterTurns: Readonly<Record<number, readonly [number, number]>> = {
  0: [1, 0],
  90: [0, 1],
  180: [-1, 0],
  270: [0, -1],
};

function layOut(outline: Outline, mirror: boolean, turned: number, tilt: number, at: Point): Outline {
  const [cosine, sine] = quarterTurns[turned] ?? [Number.NaN, Number.NaN];
  const [along, across] = turnBy((tilt / 1e6) * (Math.PI / 180));
  const laid: Point[] = [];
  for (let i = 0; i < outline.length; i++) {
    const [x, drawnY] = outline[mirror ? outline.length - 1 - i : i]!;
    const y = mirror ? -drawnY : drawnY;
    const [u, v] = [x * cosine - y * sine, x * sine + y * cosine];
    laid.push([nearestUm(u * along - v * across) + at[0], nearestUm(u * across + v * along) + at[1]]);
  }
  return laid;
}

/** Cosine and sine by their series, term by term: docs/lay-file.md fixes their last digit so. */
function turnBy(radians: number): readonly [number, number] {
  const sums = [0, 0];
  let power = 1;
  for (let n = 0; n < 24; n++) {
    sums[n % 2]! += (n % 4 < 2 ? 1 : -1) * power;
    power = (power * radians) / (n + 1);
  }
  return [sums[0]!, sums[1]!];
}

/** To the nearest whole micrometre, halves away from zero. */
function nearestUm(value: number): Um {
  return Math.sign(value) * Math.round(Math.abs(value));
}

interface Edge {
  readonly index: number;
  readonly a: Point;
  readonly b: Point;
  readonly left: Um;
  readonly right: Um;
}

/** A point in which two edges meet that should not, or null. Edges in order of their left end, compared while they last. */
export function findMeeting(outline: Outline): Point | null {
  const last = outline.length - 1;
  const edges = outline.map((a, index): Edge => {
    const b = outline[index === last ? 0 : index + 1]!;
    return { index, a, b, left: Math.min(a[0], b[0]), right: Math.max(a[0], b[0]) };
  });
  edges.sort((one, other) => one.left - other.left || one.index - other.index);
  let open: Edge[] = [];
  for (const edge of edges) {
    open = open.filter((other) => other.right >= edge.left);
    for (const other of open) {
      const [first, second] = other.index < edge.index ? [other, edge] : [edge, other];
      const at =
        second.index === first.index + 1
          ? findBend(first, second)
          : first.index === 0 && second.index === last
            ? findBend(second, first)
            : findCommonPoint(first, second);
      if (at !== null) return at;
    }
    open.push(edge);
  }
  return null;
}

/** The corner between two edges that follow one another, when the second runs back along the first or one is a point. */
function findBend(first: Edge, second: Edge): Point | null {
  const [ax, ay] = first.a;
  const [bx, by] = first.b;
  const [cx, cy] = second.b;
  if (side(ax, ay, bx, by, cx, cy) !== 0) return null;
  return Math.sign(bx - ax) === Math.sign(cx - bx) && Math.sign(by - ay) === Math.sign(cy - by) ? null : first.b;
}

/**
 * Where two edges meet, to the nearest micrometre; null when they cross nowhere and neither begins on the other. (One
 * that ends on the other is met by the edge after it, which begins there.)
 */
function findCommonPoint(one: Edge, other: Edge): Point | null {
  const { a, b } = one;
  const { a: c, b: d } = other;
  const sideC = side(a[0], a[1], b[0], b[1], c[0], c[1]);
  const sideD = side(a[0], a[1], b[0], b[1], d[0], d[1]);
  const sideA = side(c[0], c[1], d[0], d[1], a[0], a[1]);
  const sideB = side(c[0], c[1], d[0], d[1], b[0], b[1]);
  if (sideC * sideD < 0 && sideA * sideB < 0) return crossingForWords(a, b, c, d);
  if (sideC === 0 && isBetween(a[0], a[1], b[0], b[1], c[0], c[1])) return c;
  if (sideA === 0 && isBetween(c[0], c[1], d[0], d[1], a[0], a[1])) return a;
  return null;
}

/** Rounded, for the sentence alone. */
function crossingForWords(a: Point, b: Point, c: Point, d: Point): Point {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const under = dx * (d[1] - c[1]) - dy * (d[0] - c[0]);
  const share = ((c[0] - a[0]) * (d[1] - c[1]) - (c[1] - a[1]) * (d[0] - c[0])) / under;
  return [Math.round(a[0] + share * dx), Math.round(a[1] + share * dy)];
}
