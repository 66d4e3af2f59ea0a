/**
 * Curves -> polylines whose chords stray at most 0.02 mm. Points are rounded once, at the end, to whole micrometres;
 * both ends stay exactly as given. Only + - * / and square roots, so every machine gives the same points.
 *
 * Sources: centripetal cubic through points: Catmull and Rom 1974 with knots after Lee 1989 (square root of the
 * distance). Chord error of a cubic cut into n equal steps: at most 0.75 M / n^2, M the larger second difference of
 * its control points. Elliptical arcs: SVG 1.1, appendix F.6.
 */
import type { Point, Um } from '../units/types.js';

/** Farthest that a chord may stray from its curve: 20 um, less what rounding to whole micrometres takes. */
const strayUm = 19;
/** More points than any curve on a cloth needs; a limit on the loop. */
const stepsMax = 4_096;

type Vector = readonly [number, number];

/** A cubic from `from` to `to`, both ends included. */
export function flattenCubic(from: Point, control1: Vector, control2: Vector, to: Point): Point[] {
  const m1 = size(from[0] - 2 * control1[0] + control2[0], from[1] - 2 * control1[1] + control2[1]);
  const m2 = size(control1[0] - 2 * control2[0] + to[0], control1[1] - 2 * control2[1] + to[1]);
  const steps = Math.min(stepsMax, Math.max(1, Math.ceil(Math.sqrt((0.75 * Math.max(m1, m2)) / strayUm))));
  const points: Vector[] = [from];
  for (let i = 1; i < steps; i++) {
    const t = i / steps;
    // Written so that the same curve from its other end goes through the very same sums.
    const u = (steps - i) / steps;
    const a = u * u * u;
    const b = 3 * (u * u) * t;
    const c = 3 * (t * t) * u;
    const d = t * t * t;
    const at = (k: 0 | 1) => a * from[k] + d * to[k] + (b * control1[k] + c * control2[k]);
    points.push([at(0), at(1)]);
  }
  points.push(to);
  return rounded(points);
}

/** A quadratic with one control point, raised to a cubic. */
export function flattenQuadratic(from: Point, control: Vector, to: Point): Point[] {
  const lift = (end: Point): Vector => [(end[0] + 2 * control[0]) / 3, (end[1] + 2 * control[1]) / 3];
  return flattenCubic(from, lift(from), lift(to), to);
}

/**
 * The centripetal cubic through all of `points` (two or more, no two in a row alike): knots by the square root of the
 * distance; beyond each end the neighbour mirrored through the end, 2 P0 - P1.
 */
export function flattenThrough(points: readonly Point[]): Point[] {
  const first = points[0]!;
  const last = points.at(-1)!;
  const all: Vector[] = [mirrorThrough(first, points[1]!), ...points, mirrorThrough(last, points.at(-2)!)];
  const result: Point[] = [first];
  for (let i = 1; i + 2 < all.length; i++) {
    const [before, from, to, after] = [all[i - 1]!, all[i]!, all[i + 1]!, all[i + 2]!];
    const span = knotStep(from, to);
    const leave = tangent(before, from, to, knotStep(before, from), span);
    const arrive = tangent(from, to, after, span, knotStep(to, after));
    const control1: Vector = [from[0] + (leave[0] * span) / 3, from[1] + (leave[1] * span) / 3];
    const control2: Vector = [to[0] - (arrive[0] * span) / 3, to[1] - (arrive[1] * span) / 3];
    result.push(...flattenCubic(from as Point, control1, control2, to as Point).slice(1));
  }
  return result;
}

function mirrorThrough([x, y]: Point, [otherX, otherY]: Point): Vector {
  return [2 * x - otherX, 2 * y - otherY];
}

function knotStep(a: Vector, b: Vector): number {
  return Math.sqrt(size(b[0] - a[0], b[1] - a[1]));
}

/** Derivative at `at` of the parabola through three points with knot steps `one` and `two`. */
function tangent(before: Vector, at: Vector, after: Vector, one: number, two: number): Vector {
  const slope = (k: 0 | 1): number =>
    (at[k] - before[k]) / one + (after[k] - at[k]) / two - (after[k] - before[k]) / (one + two);
  return [slope(0), slope(1)];
}

/**
 * The circle arc from `from` over `over` to `to`; null when the three are in line. It is built from its chord, never
 * from its centre: of a flat arc the centre is so far away that its rounding would be felt at the edge.
 */
export function flattenArc(from: Point, over: Point, to: Point): Point[] | null {
  const [ax, ay] = [from[0] - over[0], from[1] - over[1]];
  const [bx, by] = [to[0] - over[0], to[1] - over[1]];
  const cross = ax * by - ay * bx;
  if (cross === 0) return null;
  const radius = (size(ax, ay) * size(bx, by) * size(bx - ax, by - ay)) / (2 * Math.abs(cross));
  // Seen from a point of more than half a circle, the chord is narrower than a right angle.
  const large = ax * bx + ay * by > 0;
  const middles: Vector[] = [];
  halveArc(from, to, { radius, bulge: cross < 0 ? 1 : -1 }, large, middles);
  return rounded([from, ...middles, to]);
}

/** `bulge` is +1 where the arc lies to the right of the way along its chord. */
interface Circle {
  readonly radius: number;
  readonly bulge: 1 | -1;
}

/**
 * Adds points strictly between the ends, in order. The middle of an arc stands square on the middle of its chord, as
 * high as the arc; each half is treated alike until it is flat enough. The height at least halves with every level.
 */
function halveArc(from: Vector, to: Vector, circle: Circle, large: boolean, found: Vector[]): void {
  const dx = to[0] - from[0];
  const dy = to[1] - from[1];
  const square = (dx * dx + dy * dy) / 4;
  const { radius, bulge } = circle;
  const deep = Math.sqrt(Math.max(0, radius * radius - square));
  const height = large ? radius + deep : square / (radius + deep);
  if (height <= strayUm) return;
  const along = (bulge * height) / (2 * Math.sqrt(square));
  const middle: Vector = [(from[0] + to[0]) / 2 + dy * along, (from[1] + to[1]) / 2 - dx * along];
  halveArc(from, middle, circle, false, found);
  found.push(middle);
  halveArc(middle, to, circle, false, found);
}

/**
 * Directions strictly between two on the unit circle, close enough that each chord's middle lies at least `near` from
 * the centre. Halving needs no angles: the middle direction is the sum of the two, made one long.
 */
function bisectArc(from: Vector, to: Vector, counterClockwise: boolean, near: number): Vector[] {
  const found: Vector[] = [];
  const stack: { from: Vector; to: Vector; depth: number }[] = [{ from, to, depth: 0 }];
  while (stack.length > 0) {
    const part = stack.pop()!;
    if (part.depth > 0 && part.from !== from) found.push(part.from);
    let at = part;
    while (needsHalving(at.from, at.to, counterClockwise, near) && at.depth < 12) {
      const middle = middleOf(at.from, at.to, counterClockwise);
      stack.push({ from: middle, to: at.to, depth: at.depth + 1 });
      at = { from: at.from, to: middle, depth: at.depth + 1 };
    }
  }
  return found;
}

function needsHalving(a: Vector, b: Vector, counterClockwise: boolean, near: number): boolean {
  const side = a[0] * b[1] - a[1] * b[0];
  if (counterClockwise ? side <= 0 : side >= 0) return true;
  return size((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) < near;
}

function middleOf(a: Vector, b: Vector, counterClockwise: boolean): Vector {
  const sumX = a[0] + b[0];
  const sumY = a[1] + b[1];
  const length = size(sumX, sumY);
  // Opposite ends: a quarter turn from the first. More than a half turn: the far side of the circle.
  if (length < 1e-9) return counterClockwise ? [-a[1], a[0]] : [a[1], -a[0]];
  const side = a[0] * b[1] - a[1] * b[0];
  const sign = (counterClockwise ? side > 0 : side < 0) ? 1 : -1;
  return [(sign * sumX) / length, (sign * sumY) / length];
}

/**
 * An elliptical arc as SVG path data describes it, in a frame where y runs the way of `from` and `to`.
 * @param sweep true when the arc runs in the direction of growing angle (x towards y)
 */
export function flattenEllipticalArc(
  from: Point,
  to: Point,
  radii: Vector,
  tiltDegrees: number,
  large: boolean,
  sweep: boolean,
): Point[] {
  let rx = Math.abs(radii[0]);
  let ry = Math.abs(radii[1]);
  if (rx === 0 || ry === 0) return [from, to];
  const [cos, sin] = directionOf(tiltDegrees);
  const halfX = (from[0] - to[0]) / 2;
  const halfY = (from[1] - to[1]) / 2;
  const x = cos * halfX + sin * halfY;
  const y = cos * halfY - sin * halfX;
  // Radii too small to reach are enlarged just enough.
  const reach = (x * x) / (rx * rx) + (y * y) / (ry * ry);
  if (reach > 1) {
    rx *= Math.sqrt(reach);
    ry *= Math.sqrt(reach);
  }
  const under = rx * rx * y * y + ry * ry * x * x;
  const factor = Math.sqrt(Math.max(0, (rx * rx * ry * ry - under) / under)) * (large === sweep ? -1 : 1);
  const centreX = (factor * rx * y) / ry;
  const centreY = (-factor * ry * x) / rx;
  const start: Vector = [(x - centreX) / rx, (y - centreY) / ry];
  const end: Vector = [(-x - centreX) / rx, (-y - centreY) / ry];
  const turns = bisectArc(start, end, sweep, 1 - strayUm / Math.max(rx, ry));
  const middleX = (from[0] + to[0]) / 2;
  const middleY = (from[1] + to[1]) / 2;
  const points = turns.map(([u, v]): Vector => {
    const px = centreX + rx * u;
    const py = centreY + ry * v;
    return [cos * px - sin * py + middleX, sin * px + cos * py + middleY];
  });
  return rounded([from, ...points, to]);
}

/** A curve is cut into at least so many parts, and each is halved at most so often. */
const partsLeast = 4;
const halvingsMost = 12;

/**
 * Any smooth curve, given by its points for t from `begin` to `end`: halved until its points at the quarters lie near
 * the chord. Both ends are included, rounded.
 */
export function flattenSmooth(at: (t: number) => Vector, begin: number, end: number): Point[] {
  const points: Vector[] = [at(begin)];
  const halve = (t0: number, p0: Vector, t1: number, p1: Vector, left: number): void => {
    const middle = (t0 + t1) / 2;
    const between = [(t0 + middle) / 2, middle, (middle + t1) / 2].map(at);
    if (left > 0 && between.some((point) => offChord(point, p0, p1) > strayUm / 2)) {
      halve(t0, p0, middle, between[1]!, left - 1);
      halve(middle, between[1]!, t1, p1, left - 1);
    } else {
      points.push(p1);
    }
  };
  for (let k = 0; k < partsLeast; k++) {
    const [t0, t1] = [k, k + 1].map((part) => begin + ((end - begin) * part) / partsLeast) as [number, number];
    halve(t0, points.at(-1)!, t1, at(k + 1 === partsLeast ? end : t1), halvingsMost);
  }
  return rounded(points);
}

/** Distance of a point from the line through two others, or from the first where they are one. */
function offChord([x, y]: Vector, [ax, ay]: Vector, [bx, by]: Vector): number {
  const [dx, dy] = [bx - ax, by - ay];
  const length = size(dx, dy);
  return length === 0 ? size(x - ax, y - ay) : Math.abs(dx * (y - ay) - dy * (x - ax)) / length;
}

/** Cosine and sine by whole quarter turns and a power series: the same digits on every machine. */
export function directionOf(degrees: number): readonly [cos: number, sin: number] {
  const quarters = Math.round(degrees / 90);
  const angle = ((degrees - 90 * quarters) * Math.PI) / 180;
  let cos = 1;
  let sin = angle;
  let term = angle;
  for (let k = 2; k < 24; k++) {
    term = (term * angle) / k;
    if (k % 4 === 0) cos += term;
    else if (k % 4 === 1) sin += term;
    else if (k % 4 === 2) cos -= term;
    else sin -= term;
  }
  const turn = ((quarters % 4) + 4) % 4;
  if (turn === 0) return [cos, sin];
  if (turn === 1) return [-sin, cos];
  return turn === 2 ? [-cos, -sin] : [sin, -cos];
}

function size(x: number, y: number): number {
  return Math.sqrt(x * x + y * y);
}

/** Whole micrometres, no point twice in a row; ends exact. */
function rounded(points: readonly Vector[]): Point[] {
  const whole: Point[] = [];
  for (const [x, y] of points) {
    const point: Point = [nearestWhole(x), nearestWhole(y)];
    const last = whole.at(-1);
    if (last === undefined || last[0] !== point[0] || last[1] !== point[1]) whole.push(point);
  }
  return whole;
}

/** Half away from zero, so that a mirrored curve gives mirrored points; never minus zero. */
function nearestWhole(value: number): Um {
  const whole = Math.round(Math.abs(value));
  return value < 0 && whole !== 0 ? -whole : whole;
}
