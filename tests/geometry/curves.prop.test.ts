import fc from 'fast-check';
import { expect, test } from 'vitest';
import { flattenArc, flattenCubic, flattenEllipticalArc, flattenThrough } from '../../src/geometry/curves.js';
import type { Point } from '../../src/units/types.js';

const reach = 20_000_000;
const near = fc.integer({ min: -500_000, max: 500_000 });
const far = fc.integer({ min: -reach, max: reach });
const point: fc.Arbitrary<Point> = fc.oneof(
  { arbitrary: fc.tuple(near, near), weight: 9 },
  { arbitrary: fc.tuple(far, far), weight: 1 },
);

function distanceToPolyline([px, py]: readonly [number, number], points: readonly Point[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i < points.length; i++) {
    const [ax, ay] = points[i - 1]!;
    const [bx, by] = points[i]!;
    const square = (bx - ax) ** 2 + (by - ay) ** 2;
    const t = Math.max(0, Math.min(1, ((px - ax) * (bx - ax) + (py - ay) * (by - ay)) / square));
    least = Math.min(least, Math.hypot(px - ax - t * (bx - ax), py - ay - t * (by - ay)));
  }
  return least;
}

/** Whole coordinates, both ends exact, no point twice in a row. */
function expectSound(points: readonly Point[], from: Point, to: Point): void {
  expect(points[0]).toEqual(from);
  expect(points.at(-1)).toEqual(to);
  for (const [x, y] of points) expect(Number.isSafeInteger(x) && Number.isSafeInteger(y)).toBe(true);
  points.slice(1).forEach(([x, y], i) => {
    expect(x === points[i]![0] && y === points[i]![1]).toBe(false);
  });
}

function alike(a: Point, b: Point): boolean {
  return a[0] === b[0] && a[1] === b[1];
}

test('cubics: sound, and within 0.02 mm of the curve', () => {
  fc.assert(
    fc.property(point, point, point, point, (a, b, c, d) => {
      fc.pre(!alike(a, d));
      const points = flattenCubic(a, b, c, d);
      expectSound(points, a, d);
      for (let i = 1; i < 16; i++) {
        const t = i / 16;
        const at = (k: 0 | 1) =>
          (1 - t) ** 3 * a[k] + 3 * (1 - t) ** 2 * t * b[k] + 3 * (1 - t) * t ** 2 * c[k] + t ** 3 * d[k];
        expect(distanceToPolyline([at(0), at(1)], points)).toBeLessThanOrEqual(20);
      }
    }),
  );
});

const mirror = ([x, y]: Point): Point => [0 - x, y];

test('cubics and curves through points are the same from the other end, and mirrored', () => {
  fc.assert(
    fc.property(fc.array(fc.tuple(near, near), { minLength: 4, maxLength: 4 }), (given: Point[]) => {
      fc.pre(given.every((each, i) => i === 0 || !alike(each, given[i - 1]!)));
      const [a, b, c, d] = given as [Point, Point, Point, Point];
      fc.pre(!alike(a, d));
      expect(flattenCubic(d, c, b, a).reverse()).toEqual(flattenCubic(a, b, c, d));
      expect(flattenCubic(mirror(a), mirror(b), mirror(c), mirror(d))).toEqual(flattenCubic(a, b, c, d).map(mirror));
      expect(flattenThrough([d, c, b, a]).reverse()).toEqual(flattenThrough(given));
      expect(flattenThrough(given.map(mirror))).toEqual(flattenThrough(given).map(mirror));
    }),
  );
});

test('curves through points: sound, and pass through all of them', () => {
  fc.assert(
    fc.property(fc.array(fc.tuple(near, near), { minLength: 2, maxLength: 8 }), (given: Point[]) => {
      fc.pre(given.every((each, i) => i === 0 || !alike(each, given[i - 1]!)));
      const points = flattenThrough(given);
      expectSound(points, given[0]!, given.at(-1)!);
      for (const each of given) expect(points).toContainEqual(each);
    }),
  );
});

/**
 * How far a point lies from the circle through three others, in exact whole numbers as far as it goes: with m as the
 * origin and centre u / d, |p - u/d|^2 - r^2 = (|p|^2 d - 2 p u) / d.
 */
function strayFromCircle(from: Point, over: Point, to: Point, p: Point): number {
  const big = (point: Point) => [BigInt(point[0] - over[0]), BigInt(point[1] - over[1])] as const;
  const [ax, ay] = big(from);
  const [bx, by] = big(to);
  const [px, py] = big(p);
  const d = 2n * (ax * by - ay * bx);
  const ux = by * (ax * ax + ay * ay) - ay * (bx * bx + by * by);
  const uy = ax * (bx * bx + by * by) - bx * (ax * ax + ay * ay);
  const radius = Math.sqrt(Number(ux * ux + uy * uy)) / Math.abs(Number(d));
  return Math.abs(Number((px * px + py * py) * d - 2n * (px * ux + py * uy)) / Number(d)) / (2 * radius);
}

test('arcs: sound, and every point on the circle, however flat', () => {
  const flat = fc.tuple(
    point,
    point,
    fc.double({ min: 0.01, max: 0.99, noNaN: true }),
    fc.integer({ min: -3, max: 3 }),
  );
  const three = fc.oneof(
    fc.tuple(point, point, point),
    flat.map(([from, to, t, off]): [Point, Point, Point] => [
      from,
      [Math.round(from[0] + t * (to[0] - from[0])) + off, Math.round(from[1] + t * (to[1] - from[1])) - off],
      to,
    ]),
  );
  fc.assert(
    fc.property(three, ([from, over, to]) => {
      fc.pre(!alike(from, to) && !alike(from, over) && !alike(over, to));
      const points = flattenArc(from, over, to);
      if (points === null) {
        const cross = (over[0] - from[0]) * (to[1] - from[1]) - (over[1] - from[1]) * (to[0] - from[0]);
        expect(cross).toBe(0);
        return;
      }
      fc.pre(points.every(([x, y]) => Math.abs(x) < 2 * reach && Math.abs(y) < 2 * reach));
      expectSound(points, from, to);
      for (const each of points) expect(strayFromCircle(from, over, to, each)).toBeLessThanOrEqual(1);
      expect(distanceToPolyline(over, points)).toBeLessThanOrEqual(21);
    }),
    { numRuns: 200 },
  );
});

test('an elliptical arc of any kind is sound; turned by a quarter it is the same arc turned', () => {
  const radius = fc.integer({ min: 1_000, max: 900_000 });
  fc.assert(
    fc.property(
      fc.tuple(near, near),
      fc.tuple(near, near),
      radius,
      radius,
      fc.integer({ min: -360, max: 360 }),
      fc.boolean(),
      fc.boolean(),
      (from: Point, to: Point, rx, ry, tilt, large, sweep) => {
        fc.pre(!alike(from, to));
        const points = flattenEllipticalArc(from, to, [rx, ry], tilt, large, sweep);
        expectSound(points, from, to);
        const turn = ([x, y]: Point): Point => [0 - y, x];
        const turned = flattenEllipticalArc(turn(from), turn(to), [rx, ry], tilt + 90, large, sweep);
        expect(turned.length).toBe(points.length);
        turned.forEach(([x, y], i) => {
          const [expectedX, expectedY] = turn(points[i]!);
          expect(Math.abs(x - expectedX) + Math.abs(y - expectedY)).toBeLessThanOrEqual(2);
        });
      },
    ),
  );
});
