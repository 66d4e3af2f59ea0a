/** What a move says it will cost is what it costs, and what is kept up to date move by move is what is so. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leastLengthOf } from '../../src/bounds/bounds.js';
import { createRandom } from '../../src/engine/random.js';
import { findPlace, relocate } from '../../src/engine/relocate.js';
import { shake } from '../../src/engine/shake.js';
import { makeTables } from '../../src/engine/tables.js';
import {
  costOf,
  gather,
  makeTangle,
  measureAll,
  putAt,
  raiseWeights,
  resetWeights,
  setNear,
  type Tangle,
  totalRoot,
} from '../../src/engine/tangle.js';
import { sealProblem } from '../support/problems.js';
import { problems } from '../support/random-problems.js';

/** All things of the problem crowded on little more than the least length, by their first choices that have a place. */
function crowded(problem: Parameters<typeof makeTables>[0], seed: number): Tangle {
  const tables = makeTables(problem);
  const kinds = Int32Array.from(problem.kinds.flatMap(({ count }, kind) => Array<number>(count).fill(kind)));
  const lengthUm = leastLengthOf(problem) + 40_000;
  const tangle = makeTangle(tables, kinds);
  const random = createRandom(seed, 1);
  tangle.lengthUm = lengthUm;
  kinds.forEach((kind, i) => {
    const choice = problem.kinds[kind]!.choices.findIndex((_, c) => {
      return setNear(tangle, i, c, random.below(300_000), random.below(600_000));
    });
    expect(choice).toBeGreaterThanOrEqual(0);
  });
  measureAll(tangle);
  return tangle;
}

function isNear(a: number, b: number): boolean {
  return Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a), Math.abs(b));
}

/** One thing of the first width and things of the others, by their left ends, on a strip as high as they are. */
function inARow(widths: readonly number[], lefts: readonly number[], lengthUm: number): Tangle {
  const shapes = widths.map((width) => ({
    outline: [
      [0, 0],
      [width, 0],
      [width, 1000],
      [0, 1000],
    ] as const,
  }));
  const kinds = widths.map((_, shape) => ({
    name: `${shape}`,
    count: 1,
    choices: [{ shape, zone: 0, yMin: 0, yMax: 0, lattice: null }],
  }));
  const zones = [{ yFrom: 0, yTo: 1000 }];
  const tables = makeTables(sealProblem({ zones, shapes, kinds, blocked: [], gapUm: 0, lengthMaxUm: null }));
  const tangle = makeTangle(tables, Int32Array.from(widths.keys()));
  tangle.lengthUm = lengthUm;
  lefts.forEach((left, i) => {
    setNear(tangle, i, 0, left, 0);
  });
  measureAll(tangle);
  return tangle;
}

describe('a tangle', () => {
  it('finds a free place on a line wherever there is one, to the micrometre', () => {
    const found = { free: 0, none: 0 };
    const things = fc.array(fc.record({ width: fc.integer({ min: 20, max: 90 }), left: fc.nat(900) }), {
      minLength: 20,
      maxLength: 60,
    });
    fc.assert(
      fc.property(things, fc.integer({ min: 10, max: 60 }), fc.nat(900), fc.nat(1000), (others, width, left, seed) => {
        const length = 1000;
        const tangle = inARow(
          [width, ...others.map((one) => one.width)],
          [left, ...others.map((one) => one.left)],
          length,
        );
        const cost = costOf(tangle, 0);
        if (cost === 0) return;
        const isFree = (x: number): boolean =>
          others.every((_, k) => x + width <= tangle.left[k + 1]! || x >= tangle.right[k + 1]!);
        const free = Array.from({ length: length - width + 1 }, (_, x) => x).some(isFree);
        const place = findPlace(tangle, 0, cost, createRandom(seed, 0));
        expect(place.cost === 0).toBe(free);
        expect(!free || isFree(place.x)).toBe(true);
        found[free ? 'free' : 'none']++;
      }),
      { numRuns: 400 },
    );
    expect(Math.min(found.free, found.none)).toBeGreaterThan(20);
  });

  it('costs after a move what the move foretold, and never more than before', () => {
    let moves = 0;
    fc.assert(
      fc.property(problems, fc.nat(1000), (problem, seed) => {
        const tangle = crowded(problem, seed);
        const random = createRandom(seed, 2);
        for (let round = 0; round < 4; round++) {
          for (let i = 0; i < tangle.movable; i++) {
            const before = costOf(tangle, i);
            if (before === 0) continue;
            const place = findPlace(tangle, i, before, random);
            expect(place.cost).toBeLessThanOrEqual(before);
            putAt(tangle, i, place.choice, place.x, place.y);
            expect(isNear(costOf(tangle, i), place.cost)).toBe(true);
            const { yMin, yMax, shape } = problem.kinds[tangle.kinds[i]!]!.choices[place.choice]!;
            const box = tangle.tables.trueBox[shape]!;
            expect(place.y >= yMin && place.y <= yMax).toBe(true);
            expect(place.x + box.minX >= 0 && place.x + box.maxX <= tangle.lengthUm).toBe(true);
            moves++;
          }
          raiseWeights(tangle, 1.5, 0.95);
        }
      }),
      { numRuns: 200 },
    );
    expect(moves).toBeGreaterThan(200);
  });

  it('knows its pairs after moves and shakes as if all were measured anew', () => {
    fc.assert(
      fc.property(problems, fc.nat(1000), (problem, seed) => {
        const tangle = crowded(problem, seed);
        const random = createRandom(seed, 3);
        for (let step = 0; step < 30; step++) {
          const i = random.below(tangle.movable);
          if (step % 10 === 9) shake(tangle, random);
          else if (tangle.overlaps[i]! > 0) relocate(tangle, i, random);
        }
        const kept = {
          roots: Array.from(tangle.roots),
          overlaps: Array.from(tangle.overlaps),
          pairs: tangle.pairs,
          total: totalRoot(tangle),
        };
        measureAll(tangle);
        expect(Array.from(tangle.roots)).toEqual(kept.roots);
        expect(Array.from(tangle.overlaps)).toEqual(kept.overlaps);
        expect(tangle.pairs).toBe(kept.pairs);
        expect(totalRoot(tangle)).toBe(kept.total);
      }),
      { numRuns: 150 },
    );
  });

  it('finds what meets a rectangle as a look at every box does, from left to right', () => {
    fc.assert(
      fc.property(problems, fc.nat(1000), (problem, seed) => {
        const tangle = crowded(problem, seed);
        const random = createRandom(seed, 5);
        const { left, right, low, high, count } = tangle;
        for (let step = 0; step < 40; step++) {
          const i = random.below(tangle.movable);
          if (step % 8 === 7) shake(tangle, random);
          else if (tangle.overlaps[i]! > 0) relocate(tangle, i, random);
          const x = random.below(tangle.lengthUm);
          const y = random.below(600_000);
          const [toX, toY] = [x + random.below(200_000), y + random.below(200_000)];
          gather(tangle, i, x, toX, y, toY);
          const meeting = Array.from({ length: count }, (_, j) => j).filter(
            (j) => j !== i && right[j]! > x && left[j]! < toX && high[j]! > y && low[j]! < toY,
          );
          meeting.sort((a, b) => left[a]! - left[b]! || a - b);
          expect(Array.from(tangle.near.subarray(0, tangle.nearEnd))).toEqual(meeting);
        }
      }),
      { numRuns: 100 },
    );
  });

  it('raises the weights of pairs that overlap, lets others fall, and never below where they began', () => {
    fc.assert(
      fc.property(problems, fc.nat(1000), (problem, seed) => {
        const tangle = crowded(problem, seed);
        const began = Array.from(tangle.weights);
        const random = createRandom(seed, 4);
        for (let round = 0; round < 6; round++) {
          const before = Array.from(tangle.weights);
          raiseWeights(tangle, 1.5, 0.95);
          tangle.weights.forEach((weight, at) => {
            const i = Math.floor(at / tangle.count);
            if (i >= tangle.movable && at % tangle.count >= tangle.movable) return;
            const expected = tangle.roots[at]! > 0 ? before[at]! * 1.5 : Math.max(began[at]!, before[at]! * 0.95);
            expect(isNear(weight, expected)).toBe(true);
          });
          for (let i = 0; i < tangle.movable; i++) if (tangle.overlaps[i]! > 0) relocate(tangle, i, random);
        }
        resetWeights(tangle);
        expect(Array.from(tangle.weights)).toEqual(began);
      }),
      { numRuns: 60 },
    );
  });
});
