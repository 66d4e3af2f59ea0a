/**
 * The checker's own arithmetic. It shares no line with the rooms whose work it judges.
 *
 * Whole micrometres. Differences of two coordinates stay within 94 906 264 (2 x `coordinateMaxUm`), whose square is
 * below 2^53; so each product in `side` is exact, and because a floating subtraction is rounded correctly the sign of
 * the result is exact too, also for doubled coordinates when the points lie in [0, coordinateMaxUm]. Distances are
 * compared squared, in doubles with a margin wider than every rounding, and in BigInt inside that margin.
 */
import type { Outline, Point, Um } from '../units/types.js';

/** Where c lies, seen along a -> b: 1 on the left, -1 on the right, 0 in line. Exact. */
export function side(ax: Um, ay: Um, bx: Um, by: Um, cx: Um, cy: Um): -1 | 0 | 1 {
  const left = (bx - ax) * (cy - ay);
  const right = (by - ay) * (cx - ax);
  return left > right ? 1 : left < right ? -1 : 0;
}

/** Twice the signed area of a ring, exact; positive = counter-clockwise. */
export function doubleArea(outline: Outline): bigint {
  let sum = 0n;
  let [lastX, lastY] = outline.at(-1) ?? [0, 0];
  for (const [x, y] of outline) {
    sum += BigInt(lastX) * BigInt(y) - BigInt(x) * BigInt(lastY);
    lastX = x;
    lastY = y;
  }
  return sum;
}

export interface Box {
  readonly left: Um;
  readonly right: Um;
  readonly low: Um;
  readonly high: Um;
}

/** The smallest upright box around an outline. */
export function boxOf(outline: Outline): Box {
  let [left, low] = outline[0]!;
  let [right, high] = outline[0]!;
  for (const [x, y] of outline) {
    if (x < left) left = x;
    if (x > right) right = x;
    if (y < low) low = y;
    if (y > high) high = y;
  }
  return { left, right, low, high };
}

/** p, known to be in line with a-b, lies between them or on one of them. */
export function isBetween(ax: Um, ay: Um, bx: Um, by: Um, px: Um, py: Um): boolean {
  return (px - ax) * (px - bx) <= 0 && (py - ay) * (py - by) <= 0;
}

/** Where a point lies to a ring: in it, on its line, or out of it. Exact; `scale` multiplies the ring's coordinates. */
export function whereIs(px: number, py: number, ring: Outline, scale: 1 | 2): 'in' | 'on' | 'out' {
  let inside = false;
  let [ax, ay] = ring.at(-1)!;
  ax *= scale;
  ay *= scale;
  for (const point of ring) {
    const bx = point[0] * scale;
    const by = point[1] * scale;
    if (ay > py !== by > py) {
      const turn = side(ax, ay, bx, by, px, py);
      if (turn === 0) return 'on';
      if (turn > 0 === by > ay) inside = !inside;
    } else if (ay === py && by === py) {
      if ((px - ax) * (px - bx) <= 0) return 'on';
    } else if ((ax === px && ay === py) || (bx === px && by === py)) {
      return 'on';
    }
    ax = bx;
    ay = by;
  }
  return inside ? 'in' : 'out';
}

/** True when p is nearer to the closed segment a-b than `reach`. Exact. */
export function isPointNearer(px: Um, py: Um, ax: Um, ay: Um, bx: Um, by: Um, reach: Um): boolean {
  const dx = bx - ax;
  const dy = by - ay;
  const along = (px - ax) * dx + (py - ay) * dy;
  const square = dx * dx + dy * dy;
  if (along <= 0) return isSquareLess(px - ax, py - ay, reach);
  if (along >= square) return isSquareLess(px - bx, py - by, reach);
  const off = (px - ax) * dy - (py - ay) * dx;
  const found = off * off;
  const wanted = reach * reach * square;
  if (found < wanted * (1 - 1e-9) - 1e9) return true;
  if (found > wanted * (1 + 1e-9) + 1e9) return false;
  const exactOff = BigInt(px - ax) * BigInt(dy) - BigInt(py - ay) * BigInt(dx);
  const exactSquare = BigInt(dx) * BigInt(dx) + BigInt(dy) * BigInt(dy);
  return exactOff * exactOff < BigInt(reach) * BigInt(reach) * exactSquare;
}

function isSquareLess(dx: number, dy: number, reach: Um): boolean {
  const found = dx * dx + dy * dy;
  const wanted = reach * reach;
  if (found < wanted * (1 - 1e-9)) return true;
  if (found > wanted * (1 + 1e-9)) return false;
  return BigInt(dx) * BigInt(dx) + BigInt(dy) * BigInt(dy) < BigInt(reach) * BigInt(reach);
}

/** Distance from a point to a closed segment in a double: for sentences, and for a tolerance of half a millimetre. */
export function distanceRoughly(px: number, py: number, a: Point, b: Point): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const square = dx * dx + dy * dy;
  const share = square === 0 ? 0 : Math.min(1, Math.max(0, ((px - a[0]) * dx + (py - a[1]) * dy) / square));
  const offX = px - a[0] - share * dx;
  const offY = py - a[1] - share * dy;
  return Math.sqrt(offX * offX + offY * offY);
}
