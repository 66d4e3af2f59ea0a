/**
 * The checker's own arithmetic, each function against a plain reckoning in whole numbers of any size. Far out, two
 * products that differ by one are told apart (the bound is in the head of the file).
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  boxOf,
  distanceRoughly,
  doubleArea,
  isBetween,
  isPointNearer,
  side,
  whereIs,
} from '../../src/checker/exact.js';
import { deepestInside, distanceApart, insidesOverlap } from '../../src/checker/overlap.js';
import { coordinateMaxUm, type Outline, type Point } from '../../src/units/types.js';
import { gridOutlines } from '../support/polygons.js';

const far = fc.integer({ min: -coordinateMaxUm, max: coordinateMaxUm });
const near = fc.integer({ min: -4, max: 4 });

function cross([ax, ay]: Point, [bx, by]: Point, [cx, cy]: Point): bigint {
  return BigInt(bx - ax) * BigInt(cy - ay) - BigInt(by - ay) * BigInt(cx - ax);
}

function square(dx: number, dy: number): bigint {
  return BigInt(dx) * BigInt(dx) + BigInt(dy) * BigInt(dy);
}

describe('side', () => {
  test('left, right, in line', () => {
    expect([side(0, 0, 4, 0, 2, 1), side(0, 0, 4, 0, 2, -1), side(0, 0, 4, 0, 9, 0)]).toEqual([1, -1, 0]);
  });

  test('two products that differ by one, as far out as coordinates go', () => {
    const m = coordinateMaxUm;
    // (2m)(2m - 2) - (2m - 1)(2m - 1) = -1.
    expect(side(-m, -m, m, m - 1, m - 1, m - 2)).toBe(-1);
    expect(side(-m, -m, m - 1, m - 2, m, m - 1)).toBe(1);
  });
});

describe('doubleArea', () => {
  test('twice the area, counter-clockwise positive, wherever the ring lies', () => {
    const triangle = (x: number, y: number): Outline => [
      [x, y],
      [x + 4, y],
      [x, y + 3],
    ];
    expect(doubleArea(triangle(0, 0))).toBe(12n);
    expect(doubleArea(triangle(-40_000_000, 40_000_000))).toBe(12n);
    expect(doubleArea([...triangle(7, 9)].reverse())).toBe(-12n);
    expect(doubleArea([])).toBe(0n);
  });
});

test('boxOf: whichever corner is listed first', () => {
  const ring: Point[] = [
    [1, 5],
    [-2, 4],
    [3, -7],
    [9, 0],
  ];
  for (let i = 0; i < ring.length; i++) {
    const turned = [...ring.slice(i), ...ring.slice(0, i)];
    expect(boxOf(turned)).toEqual({ left: -2, right: 9, low: -7, high: 5 });
  }
});

test('isBetween: ends count; beyond them does not, on level, upright and slanted sections', () => {
  for (const [dx, dy] of [
    [1, 0],
    [0, 1],
    [2, -1],
    [-3, -2],
  ] as const) {
    const isAt = (share: number) => isBetween(5, 5, 5 + 4 * dx, 5 + 4 * dy, 5 + share * dx, 5 + share * dy);
    expect([-1, 0, 1, 4, 5].map(isAt)).toEqual([false, true, true, true, false]);
    expect(isBetween(5 + 4 * dx, 5 + 4 * dy, 5, 5, 5 + dx, 5 + dy)).toBe(true);
  }
});

describe('whereIs', () => {
  /** By the turns that the ring makes round the point. */
  function plainly(p: Point, ring: Outline): 'in' | 'on' | 'out' {
    let turns = 0;
    for (const [i, a] of ring.entries()) {
      const b = ring[(i + 1) % ring.length]!;
      const lies = cross(a, b, p);
      const isOn = (p[0] - a[0]) * (p[0] - b[0]) + (p[1] - a[1]) * (p[1] - b[1]) <= 0;
      if (lies === 0n && isOn) return 'on';
      if (a[1] <= p[1] && b[1] > p[1] && lies > 0n) turns++;
      if (b[1] <= p[1] && a[1] > p[1] && lies < 0n) turns--;
    }
    return turns === 0 ? 'out' : 'in';
  }

  test('every point of a grid around a ring, corners, sides and level edges among them', () => {
    const met = { in: 0, on: 0, out: 0 };
    fc.assert(
      fc.property(gridOutlines(3), (ring) => {
        const doubled = ring.map(([x, y]): Point => [2 * x, 2 * y]);
        const wrong: Point[] = [];
        for (let x = -8; x <= 8; x++)
          for (let y = -8; y <= 8; y++) {
            const where = plainly([x, y], doubled);
            met[where]++;
            if (whereIs(x, y, ring, 2) !== where || whereIs(x, y, doubled, 1) !== where) wrong.push([x, y]);
          }
        expect(wrong).toEqual([]);
      }),
      { numRuns: 60 },
    );
    expect(Math.min(...Object.values(met))).toBeGreaterThan(500);
  });
});

describe('isPointNearer', () => {
  /** Distance to the section squared, times its length squared, so that all is whole. */
  function plainly(p: Point, a: Point, b: Point, reach: number): boolean {
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const along = BigInt(p[0] - a[0]) * BigInt(dx) + BigInt(p[1] - a[1]) * BigInt(dy);
    const wanted = BigInt(reach) * BigInt(reach);
    const length = square(dx, dy);
    if (along <= 0n) return square(p[0] - a[0], p[1] - a[1]) < wanted;
    if (along >= length) return square(p[0] - b[0], p[1] - b[1]) < wanted;
    const off = cross(a, b, p);
    return off * off < wanted * length;
  }

  const points = (coordinate: fc.Arbitrary<number>) =>
    fc.tuple(fc.tuple(coordinate, coordinate), fc.tuple(coordinate, coordinate), fc.tuple(coordinate, coordinate));

  test('near by, where the distance is often met exactly', () => {
    fc.assert(
      fc.property(points(near), fc.integer({ min: 1, max: 9 }), ([p, a, b], reach) => {
        expect(isPointNearer(...p, ...a, ...b, reach)).toBe(plainly(p, a, b, reach));
      }),
      { numRuns: 3_000 },
    );
  });

  test('far out, a micrometre around the distance', () => {
    fc.assert(
      fc.property(points(far), fc.integer({ min: -1, max: 2 }), ([p, a, b], more) => {
        const reach = Math.max(1, Math.floor(distanceRoughly(...p, a, b)) + more);
        expect(isPointNearer(...p, ...a, ...b, reach)).toBe(plainly(p, a, b, reach));
      }),
      { numRuns: 2_000 },
    );
  });

  test('as near to the reach as whole numbers come, where a double no longer tells them apart', () => {
    /** [x, y] with x * dy - y * dx = 1, for dx and dy without a common divisor. */
    function unit(dx: bigint, dy: bigint): [bigint, bigint] {
      if (dx === 0n) return [dy, 0n];
      const [x, y] = unit(dy % dx, dx);
      return [-y, -(x + (dy / dx) * y)];
    }
    const from: Point = [-coordinateMaxUm, -coordinateMaxUm];
    const length = fc.integer({ min: 70_000_000, max: 2 * coordinateMaxUm });
    const wrong: unknown[] = [];
    let close = 0;
    fc.assert(
      fc.property(
        length,
        length,
        fc.integer({ min: 1_000_000, max: 9_000_000 }),
        fc.boolean(),
        (dx, dy, reach, over) => {
          const [x, y] = unit(BigInt(dx), BigInt(dy));
          fc.pre(x * BigInt(dy) - y * BigInt(dx) === 1n);
          // The point so many units off the line, in the first of all places beside it.
          const off = BigInt(Math.floor(reach * Math.sqrt(dx * dx + dy * dy)) + (over ? 1 : 0));
          const along = (((off * x) % BigInt(dx)) + BigInt(dx)) % BigInt(dx);
          const across = (along * BigInt(dy) - off) / BigInt(dx);
          const p: Point = [from[0] + Number(along), from[1] + Number(across)];
          const to: Point = [from[0] + dx, from[1] + dy];
          fc.pre(Math.abs(p[1]) <= coordinateMaxUm);
          if (isPointNearer(...p, ...from, ...to, reach) !== plainly(p, from, to, reach)) wrong.push([p, to, reach]);
          const exact = BigInt(reach) * BigInt(reach) * square(dx, dy);
          if ((off * off > exact ? off * off - exact : exact - off * off) < exact >> 52n) close++;
        },
      ),
      { numRuns: 10_000 },
    );
    expect(wrong).toEqual([]);
    expect(close).toBeGreaterThan(200);
  });

  test('exactly the reach away is not nearer, on a corner and on a slanted edge far out', () => {
    // 3-4-5, ten million times: squares beyond what a double holds exactly.
    const [k, m] = [10_000_000, 9_000_001];
    expect(isPointNearer(3 * m, 4 * m, 0, 0, -1, -1, 5 * m)).toBe(false);
    expect(isPointNearer(3 * m, 4 * m, 0, 0, -1, -1, 5 * m + 1)).toBe(true);
    expect(isPointNearer(3 * m - 1, 4 * m, 0, 0, -1, -1, 5 * m)).toBe(true);
    for (let more = 0; more < 1_000; more++)
      expect(isPointNearer(3 * (m + more), 4 * (m + more), 0, 0, -1, -1, 5 * (m + more))).toBe(false);
    // (0, 0) lies 12 k / 5 from the line through (3k, 0) and (0, 4k).
    expect(isPointNearer(0, 0, 3 * k, 0, 0, 4 * k, (12 * k) / 5)).toBe(false);
    expect(isPointNearer(0, 0, 3 * k, 0, 0, 4 * k, (12 * k) / 5 + 1)).toBe(true);
    expect(isPointNearer(1, 0, 3 * k, 0, 0, 4 * k, (12 * k) / 5)).toBe(true);
  });
});

test('distanceRoughly: beside the section, before it, past it, and of a section that is a point', () => {
  const a: Point = [10, 20];
  const b: Point = [20, 20];
  expect(distanceRoughly(13, 27, a, b)).toBe(7);
  expect(distanceRoughly(7, 16, a, b)).toBe(5);
  expect(distanceRoughly(23, 24, a, b)).toBe(5);
  expect(distanceRoughly(13, 24, a, a)).toBe(5);
  // On the line through (0, 0) and (4, 3), five from each end of which (8, 6) is one.
  expect(distanceRoughly(4 - 3, 3 + 4, [0, 0], [8, 6])).toBeCloseTo(5, 12);
});

describe('amounts for the sentences', () => {
  const box = (left: number, low: number, right: number, high: number): Outline => [
    [left, low],
    [right, low],
    [right, high],
    [left, high],
  ];
  const shape = (outline: Outline) => ({ outline, box: boxOf(outline) });

  test('how deep one lies in another, also where no corner lies inside', () => {
    const bar = box(30, -50, 70, 150);
    const block = box(0, 0, 100, 100);
    expect(deepestInside(bar, block)).toBe(30);
    expect(deepestInside(block, bar)).toBe(20);
    expect(deepestInside(box(10, 20, 30, 40), block)).toBe(30);
    expect(deepestInside(block, box(10, 20, 30, 40))).toBe(0);
    expect(deepestInside(box(90, 80, 190, 190), block)).toBe(10);
    expect(deepestInside(box(100, 0, 200, 100), block)).toBe(0);
  });

  test('a slanted bar right through, no corner inside', () => {
    const block = box(0, 0, 100, 100);
    // Its edges rise by one in five; at x = 50, half way through the block, they are at 40 and 50.
    const bar: Outline = [
      [-50, 20],
      [350, 100],
      [350, 110],
      [-50, 30],
    ];
    expect(deepestInside(bar, block)).toBeCloseTo(50, 9);
    // Half of 10 across, seen square to the bar.
    expect(deepestInside(block, bar)).toBeCloseTo(5 / Math.sqrt(1.04), 9);
  });

  test('what lies beyond the ends of an edge does not count', () => {
    // A bar in a corridor 20 wide, in line with the chamber that it opens into: its ends lie 10 deep, in the chamber it were 15.
    const rooms: Outline = [
      [0, 0],
      [60, 0],
      [60, -50],
      [90, -50],
      [90, 70],
      [60, 70],
      [60, 20],
      [0, 20],
    ];
    const bar = box(20, 5, 58, 15);
    for (let i = 0; i < 4; i++) {
      const listed = [...bar.slice(i), ...bar.slice(0, i)];
      expect(deepestInside(listed, rooms)).toBe(10);
      expect(
        deepestInside(
          listed.map(([x, y]): Point => [-x, -y]),
          rooms.map(([x, y]): Point => [-x, -y]),
        ),
      ).toBe(10);
    }
  });

  test('how far apart two are', () => {
    const block = shape(box(0, 0, 100, 100));
    expect(distanceApart(block, shape(box(107, 20, 200, 60)))).toBe(7);
    expect(distanceApart(shape(box(103, 104, 200, 200)), block)).toBe(5);
    expect(distanceApart(block, shape(box(100, 50, 200, 150)))).toBe(0);
    // A tip against the middle of a side: the corner that is near is one of the other's.
    const tip: Outline = [
      [111, 50],
      [200, 0],
      [200, 100],
    ];
    expect(distanceApart(block, shape(tip))).toBe(11);
    expect(distanceApart(shape(tip), block)).toBe(11);
  });

  test('two that overlap have a depth, one at least', () => {
    let deep = 0;
    fc.assert(
      fc.property(gridOutlines(4), gridOutlines(4), near, near, (a, other, dx, dy) => {
        const b = other.map(([x, y]): Point => [x + dx, y + dy]);
        const depth = Math.max(deepestInside(a, b), deepestInside(b, a));
        if (depth > 0) deep++;
        if (depth > 0) expect(insidesOverlap(shape(a), shape(b))).toBe(true);
        const isSame = a.every((point) => b.some((own) => own[0] === point[0] && own[1] === point[1]));
        if (insidesOverlap(shape(a), shape(b)) && !isSame) expect(depth).toBeGreaterThan(0);
      }),
      { numRuns: 500 },
    );
    expect(deep).toBeGreaterThan(200);
  });
});
