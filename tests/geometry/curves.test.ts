import { describe, expect, test } from 'vitest';
import {
  flattenArc,
  flattenCubic,
  flattenEllipticalArc,
  flattenQuadratic,
  flattenThrough,
} from '../../src/geometry/curves.js';
import type { Point } from '../../src/units/types.js';

function lengthOf(points: readonly Point[]): number {
  return points.slice(1).reduce((sum, [x, y], i) => sum + Math.hypot(x - points[i]![0], y - points[i]![1]), 0);
}

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

describe('cubics', () => {
  const [a, b, c, d] = [
    [0, 0],
    [100_000, 300_000],
    [400_000, -200_000],
    [500_000, 100_000],
  ] as const;

  test('chords stray at most 0.02 mm, ends are exact', () => {
    const points = flattenCubic(a, b, c, d);
    expect(points[0]).toEqual(a);
    expect(points.at(-1)).toEqual(d);
    for (let i = 0; i <= 5_000; i++) {
      const t = i / 5_000;
      const at = (k: 0 | 1) =>
        (1 - t) ** 3 * a[k] + 3 * (1 - t) ** 2 * t * b[k] + 3 * (1 - t) * t ** 2 * c[k] + t ** 3 * d[k];
      expect(distanceToPolyline([at(0), at(1)], points)).toBeLessThanOrEqual(20);
    }
  });

  test('a quadratic is the cubic with lifted control points', () => {
    const points = flattenQuadratic([0, 0], [200_000, 400_000], [400_000, 0]);
    // The parabola's top is halfway to its control point.
    expect(Math.max(...points.map(([, y]) => y))).toBeGreaterThan(200_000 - 20);
    expect(Math.max(...points.map(([, y]) => y))).toBeLessThanOrEqual(200_000);
  });
});

describe('arcs', () => {
  test.each([
    ['a quarter', [100_000, 0], [70_711, 70_711], [0, 100_000], Math.PI / 2],
    ['a half', [100_000, 0], [0, 100_000], [-100_000, 0], Math.PI],
    ['three quarters', [100_000, 0], [-100_000, 0], [0, -100_000], (3 * Math.PI) / 2],
    ['clockwise', [100_000, 0], [0, -100_000], [-100_000, 0], Math.PI],
    ['more than half, clockwise', [100_000, 0], [-100_000, 0], [0, 100_000], (3 * Math.PI) / 2],
  ] as const)('%s: every point on the circle, chords within 0.02 mm, length r x angle', (_, from, over, to, angle) => {
    const points = flattenArc(from, over, to)!;
    expect(points[0]).toEqual(from);
    expect(points.at(-1)).toEqual(to);
    for (const [x, y] of points) expect(Math.abs(Math.hypot(x, y) - 100_000)).toBeLessThan(1.5);
    points.slice(1).forEach(([x, y], i) => {
      const middle = Math.hypot((x + points[i]![0]) / 2, (y + points[i]![1]) / 2);
      expect(100_000 - middle).toBeLessThanOrEqual(20);
    });
    expect(lengthOf(points) / (100_000 * angle)).toBeCloseTo(1, 3);
  });

  test('an arc as flat as can be stays with its chord', () => {
    // The circle's radius is about 3 x 10^17 um; in 20 m it rises less than a micrometre.
    for (const [x, y] of flattenArc([0, 0], [1_000_003, 333_334], [3_000_000, 999_999])!) {
      expect(Math.abs(x - 3 * y)).toBeLessThanOrEqual(6);
    }
  });

  test('the same from its other end, and mirrored, to the micrometre', () => {
    const arc = flattenArc([-70_001, 3], [11, 55_555], [70_001, 3])!;
    expect(flattenArc([70_001, 3], [11, 55_555], [-70_001, 3])!.reverse()).toEqual(arc);
    expect(flattenArc([70_001, 3], [-11, 55_555], [-70_001, 3])!.map(([x, y]) => [0 - x, y])).toEqual(arc);
  });

  test('three points in line are no arc', () => {
    expect(flattenArc([0, 0], [1_000, 1_000], [2_000, 2_000])).toBe(null);
  });

  test('an elliptical arc satisfies its own equation (SVG 1.1, F.6)', () => {
    const points = flattenEllipticalArc([0, 0], [300_000, 100_000], [200_000, 100_000], 30, false, true);
    const cos = Math.cos(Math.PI / 6);
    const sin = Math.sin(Math.PI / 6);
    // Centre: fitted from the ends by the standard's formula, then every point has u^2 + v^2 = 1.
    const x1 = (cos * -300_000 + sin * -100_000) / 2;
    const y1 = (cos * -100_000 - sin * -300_000) / 2;
    const [rx, ry] = [200_000, 100_000];
    const root = Math.sqrt(
      (rx * rx * ry * ry - rx * rx * y1 * y1 - ry * ry * x1 * x1) / (rx * rx * y1 * y1 + ry * ry * x1 * x1),
    );
    const cx = root * ((rx * y1) / ry);
    const cy = root * ((-ry * x1) / rx);
    for (const [x, y] of points) {
      const px = cos * (x - 150_000) + sin * (y - 50_000) - cx;
      const py = cos * (y - 50_000) - sin * (x - 150_000) - cy;
      expect((px / rx) ** 2 + (py / ry) ** 2).toBeCloseTo(1, 4);
    }
    expect(points.length).toBeGreaterThan(10);
  });

  test('radii too small to reach are enlarged (SVG 1.1, F.6.6)', () => {
    const points = flattenEllipticalArc([0, 0], [200_000, 0], [10_000, 10_000], 0, false, false);
    expect(lengthOf(points) / (Math.PI * 100_000)).toBeCloseTo(1, 3);
  });
});

describe('through points', () => {
  test('passes through every point and keeps straight lines straight', () => {
    const points: Point[] = [
      [0, 0],
      [50_000, 80_000],
      [120_000, 90_000],
      [200_000, 0],
    ];
    const flat = flattenThrough(points);
    for (const point of points) expect(flat).toContainEqual(point);
    const straight = flattenThrough([
      [0, 0],
      [10_000, 10_000],
      [50_000, 50_000],
    ]);
    for (const [x, y] of straight) expect(Math.abs(x - y)).toBeLessThanOrEqual(1);
  });

  test('on points of a circle it comes close to the circle', () => {
    const points = [0, 15, 30, 45, 60, 75, 90].map(
      (degrees): Point => [
        Math.round(200_000 * Math.cos((degrees * Math.PI) / 180)),
        Math.round(200_000 * Math.sin((degrees * Math.PI) / 180)),
      ],
    );
    expect(lengthOf(flattenThrough(points)) / (100_000 * Math.PI)).toBeCloseTo(1, 2);
  });

  test('agrees with the pyramid of linear interpolations (Barry and Goldman 1988), an independent calculation', () => {
    const points: Point[] = [
      [0, 0],
      [60_000, 55_000],
      [150_000, 40_000],
    ];
    const flat = flattenThrough(points);
    const all = [[-60_000, -55_000], ...points, [240_000, 25_000]] as const;
    const knots = [0];
    for (let i = 1; i < all.length; i++) {
      knots.push(knots[i - 1]! + Math.hypot(all[i]![0] - all[i - 1]![0], all[i]![1] - all[i - 1]![1]) ** 0.5);
    }
    for (let span = 1; span <= 2; span++) {
      for (let i = 0; i <= 200; i++) {
        const t = knots[span]! + (i / 200) * (knots[span + 1]! - knots[span]!);
        expect(distanceToPolyline(pyramid(all, knots, span, t), flat)).toBeLessThanOrEqual(21);
      }
    }
  });
});

function pyramid(
  all: readonly (readonly [number, number])[],
  knots: readonly number[],
  span: number,
  t: number,
): [number, number] {
  const blend = (k: 0 | 1): number => {
    const mix = (lower: number, upper: number, a: number, b: number) =>
      ((knots[upper]! - t) * a + (t - knots[lower]!) * b) / (knots[upper]! - knots[lower]!);
    const p = (i: number) => all[i]![k];
    const a1 = mix(span - 1, span, p(span - 1), p(span));
    const a2 = mix(span, span + 1, p(span), p(span + 1));
    const a3 = mix(span + 1, span + 2, p(span + 1), p(span + 2));
    return mix(span, span + 1, mix(span - 1, span + 1, a1, a2), mix(span, span + 2, a2, a3));
  };
  return [blend(0), blend(1)];
}
