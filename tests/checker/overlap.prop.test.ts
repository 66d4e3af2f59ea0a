/**
 * The exact test for overlap and distance against two general-purpose libraries: clipper-lib (area of the common part)
 * and @flatten-js/core (distance of two polygons). Outlines on a coarse grid, so that corners on corners, corners on
 * edges, edges along edges and equal outlines come up all the time.
 */
import Flatten from '@flatten-js/core';
import ClipperLib from 'clipper-lib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxOf } from '../../src/checker/exact.js';
import { areNearer, distanceApart, insidesOverlap, type Shape } from '../../src/checker/overlap.js';
import type { Outline, Point } from '../../src/units/types.js';
import { combOutlines, gridOutlines, transformed } from '../support/polygons.js';

/** On this grid a common part has at least some 10^8 um2; rounding corners to whole micrometres moves 10^7. */
const scale = 1_000_000;
const leastArea = 3e7;

function shapeOf(outline: Outline): Shape {
  return { outline, box: boxOf(outline) };
}

function movedBy(outline: Outline, dx: number, dy: number): Outline {
  return outline.map(([x, y]): Point => [x + dx, y + dy]);
}

function commonArea(a: Outline, b: Outline): number {
  const path = (outline: Outline) => outline.map(([x, y]) => ({ X: x, Y: y }));
  const clipper = new ClipperLib.Clipper();
  clipper.AddPath(path(a), ClipperLib.PolyType.ptSubject, true);
  clipper.AddPath(path(b), ClipperLib.PolyType.ptClip, true);
  const common: { X: number; Y: number }[][] = [];
  const fill = ClipperLib.PolyFillType.pftNonZero;
  clipper.Execute(ClipperLib.ClipType.ctIntersection, common, fill, fill);
  return common.reduce((sum, ring) => sum + ClipperLib.Clipper.Area(ring), 0);
}

const outlines = fc.oneof(gridOutlines(4), combOutlines().chain(transformed));

const pairs = fc
  .record({
    a: outlines,
    b: outlines,
    same: fc.boolean(),
    dx: fc.integer({ min: -7, max: 7 }),
    dy: fc.integer({ min: -7, max: 7 }),
  })
  .map(({ a, b, same, dx, dy }) => {
    const grow = (outline: Outline) => outline.map(([x, y]): Point => [x * scale, y * scale]);
    // Both lie in the range in which doubled coordinates are exact.
    const other = same ? a : b;
    return {
      a: movedBy(grow(a), 20 * scale, 20 * scale),
      b: movedBy(grow(other), (20 + dx) * scale, (20 + dy) * scale),
    };
  });

describe('overlap', () => {
  it('agrees with the area of the common part', () => {
    let overlapping = 0;
    fc.assert(
      fc.property(pairs, ({ a, b }) => {
        const area = commonArea(a, b);
        const found = insidesOverlap(shapeOf(a), shapeOf(b));
        if (found) overlapping++;
        expect(found).toBe(area > leastArea);
        expect(insidesOverlap(shapeOf(b), shapeOf(a))).toBe(found);
      }),
      { numRuns: 3_000 },
    );
    expect(overlapping).toBeGreaterThan(300);
    expect(overlapping).toBeLessThan(2_700);
  });

  it('one micrometre more or less decides, wherever two outlines touch', () => {
    fc.assert(
      fc.property(gridOutlines(4, 10_000), fc.integer({ min: 0, max: 40_000_000 }), (outline, far) => {
        const a = movedBy(outline, far, 1_000_000);
        const { left, right } = boxOf(a);
        const wall = (x: number): Outline => [
          [x, 0],
          [x + 10, 0],
          [x + 10, 2_000_000],
          [x, 2_000_000],
        ];
        expect(insidesOverlap(shapeOf(a), shapeOf(wall(right)))).toBe(false);
        expect(insidesOverlap(shapeOf(a), shapeOf(wall(right - 1)))).toBe(true);
        expect(insidesOverlap(shapeOf(wall(left - 10)), shapeOf(a))).toBe(false);
        expect(insidesOverlap(shapeOf(wall(left - 9)), shapeOf(a))).toBe(true);
        expect(areNearer(shapeOf(a), shapeOf(wall(right + 3_000)), 3_000)).toBe(false);
        expect(areNearer(shapeOf(a), shapeOf(wall(right + 2_999)), 3_000)).toBe(true);
      }),
      { numRuns: 300 },
    );
  });
});

describe('distance', () => {
  it('agrees with the distance of two polygons', () => {
    fc.assert(
      fc.property(pairs, fc.integer({ min: 1, max: 4 * scale }), ({ a, b }, reach) => {
        fc.pre(!insidesOverlap(shapeOf(a), shapeOf(b)));
        const polygon = (outline: Outline) => new Flatten.Polygon(outline.map(([x, y]): [number, number] => [x, y]));
        const [apart] = polygon(a).distanceTo(polygon(b));
        expect(distanceApart(shapeOf(a), shapeOf(b))).toBeCloseTo(apart, 2);
        if (Math.abs(apart - reach) > 0.01) expect(areNearer(shapeOf(a), shapeOf(b), reach)).toBe(apart < reach);
      }),
      { numRuns: 1_000 },
    );
  });

  it('is exact on slanted edges: the 3-4-5 triangle, grown', () => {
    // The distance of (0, 0) from the line through (5k, 0) and (0, 20k/3) is 4k.
    const wall: Outline = [
      [25_000_000, 10_000_000],
      [10_000_000, 30_000_000],
      [26_000_000, 31_000_000],
    ];
    const corner = (dx: number): Outline => [
      [10_000_000 + dx, 10_000_000],
      [9_000_000, 10_000_100],
      [9_000_000, 9_999_900],
    ];
    expect(areNearer(shapeOf(corner(0)), shapeOf(wall), 12_000_000)).toBe(false);
    expect(areNearer(shapeOf(corner(0)), shapeOf(wall), 12_000_001)).toBe(true);
    expect(areNearer(shapeOf(corner(1)), shapeOf(wall), 12_000_000)).toBe(true);
  });
});
