/** Grown outlines keep their distance, simplified ones contain the true outline; slides stop exactly at contact. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { growOutline } from '../../src/geometry/grow.js';
import { turnOutline } from '../../src/geometry/outline.js';
import {
  bordersApart,
  flatOutline,
  outlineContains,
  outlinesApart,
  outlinesOverlap,
} from '../../src/geometry/overlap.js';
import { containOutline } from '../../src/geometry/simplify.js';
import { facesOf, roomToSlide } from '../../src/geometry/slide.js';
import type { Outline } from '../../src/units/types.js';
import { gridOutlines, isSimple, transformed, wavyOutline } from '../support/polygons.js';

const wavy = fc
  .tuple(
    fc.integer({ min: 40, max: 240 }),
    fc.integer({ min: 30_000, max: 600_000 }),
    fc.integer({ min: 0, max: 6 }),
    fc.double({ min: 0, max: 0.45, noNaN: true }),
  )
  .map(([n, radius, waves, depth]) => wavyOutline(n, radius, waves, depth))
  .filter(isSimple)
  .chain(transformed);

describe('growing', () => {
  it('contains the outline and keeps the distance everywhere', () => {
    const outlines = fc.oneof(gridOutlines(6, 20_000).chain(transformed), wavy);
    fc.assert(
      fc.property(outlines, fc.integer({ min: 1, max: 6000 }), (outline, byUm) => {
        const grown = growOutline(outline, byUm);
        expect(isSimple(grown)).toBe(true);
        expect(outlineContains(grown, outline)).toBe(true);
        expect(bordersApart(flatOutline(grown, 0, 0), flatOutline(outline, 0, 0), byUm)).toBe(true);
      }),
      { numRuns: 200 },
    );
  });

  it('by half the gap each lets two outlines touch at the full gap', () => {
    const square: Outline = [
      [0, 0],
      [50_000, 0],
      [50_000, 50_000],
      [0, 50_000],
    ];
    const grown = growOutline(square, 1500);
    expect(outlinesOverlap(grown, [0, 0], grown, [53_002, 0])).toBe(false);
    expect(outlinesApart(square, [0, 0], square, [53_002, 0], 3000)).toBe(true);
    expect(growOutline(square, 0)).toBe(square);
  });
});

describe('outer simplification', () => {
  it('contains the true outline, strays little and has fewer points', () => {
    fc.assert(
      fc.property(wavy, fc.constantFrom(100, 300, 1000), (outline, strayUm) => {
        const simple = containOutline(outline, strayUm);
        expect(isSimple(simple)).toBe(true);
        expect(outlineContains(simple, outline)).toBe(true);
        expect(simple.length).toBeLessThanOrEqual(outline.length);
        for (const [x, y] of simple) expect(distanceTo(outline, x, y)).toBeLessThan(2 * strayUm);
      }),
      { numRuns: 200 },
    );
  });

  it('leaves outlines of few points as they are and thins out long curves', () => {
    const few = wavyOutline(32, 100_000, 3, 0.2);
    expect(containOutline(few, 300)).toBe(few);
    expect(containOutline(wavyOutline(240, 200_000, 3, 0.2), 300).length).toBeLessThan(100);
  });

  it('keeps straight sides where they are', () => {
    // A square with one rounded corner.
    const round = Array.from({ length: 60 }, (_, i): [number, number] => {
      const angle = (Math.PI / 2) * (i / 59);
      return [200_000 + Math.round(100_000 * Math.cos(angle)), 200_000 + Math.round(100_000 * Math.sin(angle))];
    });
    const outline: Outline = [[0, 0], [300_000, 0], ...round, [0, 300_000]];
    const simple = containOutline(outline, 300);
    expect(simple.length).toBeLessThan(20);
    expect(Math.max(...simple.map(([x]) => x))).toBe(300_000);
    expect(Math.max(...simple.map(([, y]) => y))).toBe(300_000);
  });
});

describe('sliding', () => {
  it('stops exactly where the interiors would begin to overlap, in all four directions', () => {
    const outlines = gridOutlines(5, 100).chain(transformed);
    const turns = fc.constantFrom(0, 90, 180, 270);
    fc.assert(
      fc.property(outlines, outlines, fc.integer({ min: -9, max: 9 }), turns, (a, b, row, turn) => {
        const fixed = turnOutline(a, turn as 0 | 90 | 180 | 270);
        const moving = turnOutline(b, turn as 0 | 90 | 180 | 270);
        const dy = 100 * row;
        const start = 3000;
        const room = roomToSlide(facesOf(fixed), facesOf(moving), start, dy, 6000);
        for (let at = 0; at <= room; at += 50) {
          expect(outlinesOverlap(fixed, [0, 0], moving, [start - at, dy])).toBe(false);
        }
        expect(outlinesOverlap(fixed, [0, 0], moving, [start - room, dy])).toBe(false);
        if (room < 6000) expect(outlinesOverlap(fixed, [0, 0], moving, [start - room - 1, dy])).toBe(true);
      }),
      { numRuns: 200 },
    );
  });
});

function distanceTo(outline: Outline, x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY;
  outline.forEach(([ax, ay], i) => {
    const [bx, by] = outline[(i + 1) % outline.length]!;
    const length2 = (bx - ax) ** 2 + (by - ay) ** 2;
    const t = Math.min(1, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length2));
    least = Math.min(least, Math.hypot(ax + t * (bx - ax) - x, ay + t * (by - ay) - y));
  });
  return least;
}
