/** Bounds against brute force: dual feasibility, and lays built on shelves that no bound may exceed. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chordBound } from '../../src/bounds/bounds.js';
import { profileOf } from '../../src/bounds/chords.js';
import {
  atMostAcross,
  countedWithWide,
  type DualFeasible,
  integralAlong,
  plainShare,
  smallToNothing,
  valueAt,
} from '../../src/bounds/dual-feasible.js';
import { areaUm2, boundsOf, mirrorOutline, turnOutline } from '../../src/geometry/outline.js';
import type { Outline } from '../../src/units/types.js';
import { combOutlines, gridOutlines, transformed } from '../support/polygons.js';
import { stripProblem, type Thing } from '../support/problems.js';

const rounding = 1e-9;

const functions: fc.Arbitrary<DualFeasible> = fc.integer({ min: 2, max: 120 }).chain((capacity) =>
  fc.oneof(
    fc.constant(plainShare(capacity)),
    fc.integer({ min: 1, max: 20 }).map((k) => atMostAcross(k, capacity)),
    fc.integer({ min: 0, max: capacity }).map((small) => smallToNothing(small, capacity)),
    fc.integer({ min: 1, max: capacity }).map((small) => countedWithWide(small, capacity)),
  ),
);

/** Sizes that add up to exactly the capacity, the hardest case; few distinct ones, so that ties abound. */
function splitOf(capacity: number): fc.Arbitrary<number[]> {
  return fc.array(fc.integer({ min: 1, max: capacity }), { minLength: 1, maxLength: 40 }).map((wanted) => {
    const sizes: number[] = [];
    let left = capacity;
    for (const size of wanted) {
      if (size > left) continue;
      sizes.push(size);
      left -= size;
    }
    return left > 0 ? [...sizes, left] : sizes;
  });
}

/** Lays the things on shelves: boxes around them one beside the other across, a new shelf when the width is full. */
function shelfLength(widthUm: number, gapUm: number, things: readonly Thing[]): number {
  const boxes = things.flatMap(({ outline, count }) => {
    const { minX, minY, maxX, maxY } = boundsOf(outline);
    return Array.from({ length: count }, () => ({ dx: maxX - minX, dy: maxY - minY }));
  });
  boxes.sort((a, b) => b.dx - a.dx || b.dy - a.dy);
  const shelves: { dx: number; free: number }[] = [];
  for (const { dx, dy } of boxes) {
    const shelf = shelves.find(({ free }) => dy + gapUm <= free);
    if (shelf === undefined) shelves.push({ dx, free: widthUm - dy });
    else shelf.free -= dy + gapUm;
  }
  return shelves.reduce((sum, { dx }) => sum + dx, 0) + Math.max(0, shelves.length - 1) * gapUm;
}

const boxOutlines: fc.Arbitrary<Outline> = fc
  .tuple(fc.integer({ min: 1, max: 30 }), fc.integer({ min: 1, max: 30 }))
  .map(
    ([dx, dy]): Outline => [
      [0, 0],
      [dx, 0],
      [dx, dy],
      [0, dy],
    ],
  );

const anyThing: fc.Arbitrary<Thing> = fc.record({
  outline: fc.oneof(boxOutlines, combOutlines(), gridOutlines(9, 2)),
  count: fc.integer({ min: 1, max: 6 }),
  turns: fc.constantFrom([0] as const, [0, 180] as const),
});

/** Things and a width that just or amply holds the highest of them, often a simple multiple of its height. */
const scenes = fc
  .record({
    things: fc.array(anyThing, { minLength: 1, maxLength: 5 }),
    extra: fc.integer({ min: 0, max: 60 }),
    gapUm: fc.constantFrom(0, 0, 1, 3),
  })
  .map(({ things, extra, gapUm }) => {
    const highest = Math.max(...things.map(({ outline }) => boundsOf(outline).maxY - boundsOf(outline).minY));
    return { things, widthUm: highest + extra, gapUm };
  });

describe('dual feasible functions', () => {
  it('give at most 1 in all to sizes that fill the capacity, and never fall', () => {
    fc.assert(
      fc.property(
        functions.chain((f) => fc.record({ f: fc.constant(f), sizes: splitOf(f.capacity) })),
        ({ f, sizes }) => {
          expect(sizes.reduce((sum, size) => sum + valueAt(f, size), 0)).toBeLessThanOrEqual(1 + rounding);
          const values = Array.from({ length: f.capacity + 1 }, (_, size) => valueAt(f, size));
          expect(values.every((value, size) => size === 0 || value >= values[size - 1]! - rounding)).toBe(true);
          expect(valueAt(f, 0)).toBe(0);
          expect(valueAt(f, f.capacity)).toBe(1);
        },
      ),
      { numRuns: 3000 },
    );
  });

  it('give at most 1 to every split of every small capacity', () => {
    for (let capacity = 2; capacity <= 14; capacity++) {
      const all = [plainShare(capacity)];
      for (let k = 1; k <= 15; k++) all.push(atMostAcross(k, capacity));
      for (let small = 1; small <= capacity; small++) {
        all.push(smallToNothing(small, capacity), countedWithWide(small, capacity));
      }
      for (const f of all) expect(mostOfAnySplit(f)).toBeLessThanOrEqual(1 + rounding);
    }
  });

  it('agree with their definitions at every size', () => {
    for (let capacity = 2; capacity <= 40; capacity++) {
      for (let size = 0; size <= capacity; size++) {
        for (let k = 1; k <= 9; k++) {
          const parts = (k + 1) * size;
          const wanted = parts % capacity === 0 ? size / capacity : Math.floor(parts / capacity) / k;
          expect(valueAt(atMostAcross(k, capacity), size)).toBeCloseTo(wanted, 12);
        }
        for (let small = 1; 2 * small <= capacity; small++) {
          const left = size > capacity - small ? 1 : size < small ? 0 : size / capacity;
          expect(valueAt(smallToNothing(small, capacity), size)).toBeCloseTo(left, 12);
          const n = Math.floor(capacity / small);
          const narrow = size < small ? 0 : 1 / n;
          const counted = 2 * size > capacity ? 1 - Math.floor((capacity - size) / small) / n : narrow;
          expect(valueAt(countedWithWide(small, capacity), size)).toBeCloseTo(counted, 12);
        }
      }
    }
  });

  it('are integrated along a slanting chord as sums of many thin slices are', () => {
    fc.assert(
      fc.property(
        functions.chain((f) => {
          const size = fc.integer({ min: 0, max: f.capacity });
          return fc.record({ f: fc.constant(f), ends: fc.tuple(size, size), width: fc.integer({ min: 1, max: 50 }) });
        }),
        ({ f, ends, width }) => {
          const [low, high] = [Math.min(...ends), Math.max(...ends)];
          const slices = 4000;
          let sum = 0;
          for (let i = 0; i < slices; i++) sum += valueAt(f, low + ((high - low) * (i + 0.5)) / slices);
          // A monotone function from 0 to 1 is off by at most one slice.
          const found = integralAlong(f, [{ width, low, high }], 0);
          expect(Math.abs(found - (sum * width) / slices)).toBeLessThanOrEqual((1.01 * width) / slices);
        },
      ),
      { numRuns: 300 },
    );
  });
});

/** The most that f gives to any sizes that add up to the capacity: fill it size by size. */
function mostOfAnySplit(f: DualFeasible): number {
  const most = [0];
  for (let total = 1; total <= f.capacity; total++) {
    let best = 0;
    for (let size = 1; size <= total; size++) best = Math.max(best, most[total - size]! + valueAt(f, size));
    most.push(best);
  }
  return most[f.capacity]!;
}

describe('profile of an outline', () => {
  const outlines = fc.oneof(combOutlines(), gridOutlines(9, 1), gridOutlines(9, 1000));

  it('is the same mirrored, turned end for end and from another first point', () => {
    fc.assert(
      fc.property(outlines, fc.nat(), (outline, start) => {
        const profile = profileOf(outline);
        expect(profileOf(mirrorOutline(outline))).toEqual(profile);
        expect(profileOf(turnOutline(outline, 180))).toEqual(profile);
        const first = start % outline.length;
        expect(profileOf([...outline.slice(first), ...outline.slice(0, first)])).toEqual(profile);
      }),
    );
  });

  it('holds no more than the area, and less only by the rounding of its slanting borders', () => {
    fc.assert(
      fc.property(outlines.chain(transformed), (outline) => {
        const { spans, length } = profileOf(outline);
        const { minX, maxX } = boundsOf(outline);
        const held = spans.reduce((sum, { width, low, high }) => sum + (width * (low + high)) / 2, 0);
        expect(length).toBe(maxX - minX);
        expect(held).toBeLessThanOrEqual(areaUm2(outline) + rounding);
        expect(held).toBeGreaterThanOrEqual(areaUm2(outline) - length * outline.length);
      }),
    );
  });
});

describe('bound', () => {
  it('is never above a lay on shelves, nor below the longest piece and the area', () => {
    fc.assert(
      fc.property(scenes, ({ things, widthUm, gapUm }) => {
        const { um, why } = chordBound(stripProblem(widthUm, things, gapUm));
        expect(um).toBeLessThanOrEqual(shelfLength(widthUm, gapUm, things));
        const lengths = things.map(({ outline }) => boundsOf(outline).maxX - boundsOf(outline).minX);
        const area = things.reduce((sum, { outline, count }) => sum + count * areaUm2(outline), 0);
        expect(um).toBeGreaterThanOrEqual(Math.max(...lengths));
        expect(um).toBeGreaterThanOrEqual(area / widthUm - rounding);
        expect(why.length).toBeGreaterThan(0);
      }),
      { numRuns: 2000 },
    );
  });

  it('is never above a lay whose boxes were cut from one full rectangle', () => {
    // Shelves filled to the last micrometre: every function is put to the test where it is tightest.
    const filled = fc.integer({ min: 10, max: 90 }).chain((widthUm) =>
      fc.record({
        widthUm: fc.constant(widthUm),
        shelves: fc.array(fc.record({ dx: fc.integer({ min: 1, max: 40 }), across: splitOf(widthUm) }), {
          minLength: 1,
          maxLength: 6,
        }),
      }),
    );
    fc.assert(
      fc.property(filled, ({ widthUm, shelves }) => {
        const things = shelves.flatMap(({ dx, across }) =>
          across.map((dy): Thing => {
            const outline: Outline = [
              [0, 0],
              [dx, 0],
              [dx, dy],
              [0, dy],
            ];
            return { outline, count: 1 };
          }),
        );
        expect(chordBound(stripProblem(widthUm, things)).um).toBe(shelves.reduce((sum, { dx }) => sum + dx, 0));
      }),
      { numRuns: 1000 },
    );
  });

  it('never falls with one more copy, and does not care whether copies are one kind or two', () => {
    fc.assert(
      fc.property(scenes, fc.nat(), ({ things, widthUm, gapUm }, which) => {
        const before = chordBound(stripProblem(widthUm, things, gapUm)).um;
        const k = which % things.length;
        const oneMore = things.map((thing, i) => (i === k ? { ...thing, count: thing.count + 1 } : thing));
        expect(chordBound(stripProblem(widthUm, oneMore, gapUm)).um).toBeGreaterThanOrEqual(before);
        const apart = [...things, { ...things[k]!, count: 1 }];
        expect(chordBound(stripProblem(widthUm, apart, gapUm)).um).toBe(
          chordBound(stripProblem(widthUm, oneMore, gapUm)).um,
        );
      }),
    );
  });

  it('is never above a lay on shelves a thousand times as large', () => {
    fc.assert(
      fc.property(scenes, ({ things, widthUm, gapUm }) => {
        const large = things.map((thing) => ({
          ...thing,
          outline: thing.outline.map(([x, y]) => [x * 1000, y * 1000] as const),
        }));
        const { um } = chordBound(stripProblem(widthUm * 1000, large, gapUm * 1000));
        expect(um).toBeLessThanOrEqual(1000 * shelfLength(widthUm, gapUm, things));
      }),
    );
  });

  it('by area never grows with the width', () => {
    fc.assert(
      fc.property(scenes, fc.integer({ min: 1, max: 50 }), ({ things, widthUm, gapUm }, more) => {
        const areaBound = (capacity: number): number =>
          things.reduce(
            (sum, { outline, count }) =>
              sum + count * integralAlong(plainShare(capacity), profileOf(outline).spans, gapUm),
            0,
          );
        expect(areaBound(widthUm + gapUm + more)).toBeLessThanOrEqual(areaBound(widthUm + gapUm));
      }),
    );
  });
});
