/** Proven bounds against every lay there is of tiny problems, against lays cut from one rectangle, and the search. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boundOf, chordBound } from '../../src/bounds/bounds.js';
import { exactBound } from '../../src/bounds/prove.js';
import { sameThreadExecutor } from '../../src/engine/same-thread.js';
import { boundsOf, turnOutline } from '../../src/geometry/outline.js';
import { outlinesApart } from '../../src/geometry/overlap.js';
import type { Choice, Kind, Lattice, Problem, Shape } from '../../src/problem/types.js';
import type { Outline } from '../../src/units/types.js';
import { gridOutlines } from '../support/polygons.js';
import { sealProblem, stripProblem } from '../support/problems.js';
import { search } from '../support/search.js';

const plenty = 4_000_000;

const box = (dx: number, dy: number): Outline => [
  [0, 0],
  [dx, 0],
  [dx, dy],
  [0, dy],
];

/** Outlines of a few micrometres, so that all whole places can be tried: boxes, triangles, an L, anything on a grid. */
const tinyOutlines: fc.Arbitrary<Outline> = fc.oneof(
  fc.tuple(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 1, max: 4 })).map(([dx, dy]) => box(dx, dy)),
  fc.tuple(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 0, max: 4 }), fc.integer({ min: 1, max: 4 })).map(
    ([dx, tip, dy]): Outline => [
      [0, 0],
      [dx, 0],
      [tip, dy],
    ],
  ),
  fc.tuple(fc.integer({ min: 2, max: 4 }), fc.integer({ min: 2, max: 4 })).map(
    ([dx, dy]): Outline => [
      [0, 0],
      [dx, 0],
      [dx, 1],
      [1, 1],
      [1, dy],
      [0, dy],
    ],
  ),
  gridOutlines(4, 1),
);

interface Asked {
  readonly outline: Outline;
  readonly count: number;
  readonly turns: readonly (0 | 90 | 180)[];
  readonly zones: readonly number[];
  /** Fixed at the foot of its zone. */
  readonly isFixed: boolean;
  readonly lattice: Lattice | null;
}

const asked: fc.Arbitrary<Asked> = fc.record({
  outline: tinyOutlines,
  count: fc.integer({ min: 1, max: 2 }),
  turns: fc.constantFrom([0] as const, [0, 180] as const, [0, 90] as const),
  zones: fc.constantFrom([0], [0], [1], [0, 1]),
  isFixed: fc.boolean(),
  lattice: fc.oneof(
    { weight: 3, arbitrary: fc.constant(null) },
    fc.record({ xStep: fc.constantFrom(0, 2), xOffset: fc.nat(3), yStep: fc.constant(0), yOffset: fc.constant(0) }),
  ),
});

const tinyProblems: fc.Arbitrary<Problem> = fc
  .record({
    things: fc.array(asked, { minLength: 1, maxLength: 3 }),
    heights: fc.tuple(fc.integer({ min: 4, max: 7 }), fc.integer({ min: 4, max: 5 })),
    gapUm: fc.constantFrom(0, 0, 1, 2),
    blocked: fc.array(fc.record({ outline: tinyOutlines, x: fc.nat(6), y: fc.nat(6) }), { maxLength: 1 }),
  })
  .filter(({ things }) => {
    const copies = things.reduce((sum, { count }) => sum + count, 0);
    return copies >= 2 && copies <= 3;
  })
  .map(({ things, heights, gapUm, blocked }) => {
    const zones = [
      { yFrom: 0, yTo: heights[0] },
      { yFrom: heights[0], yTo: heights[0] + heights[1] },
    ];
    const shapes: Shape[] = [];
    const kinds = things.map(({ outline, count, turns, zones: allowed, isFixed, lattice }, k): Kind => {
      const choices: Choice[] = [];
      for (const turn of turns) {
        shapes.push({ outline: turnOutline(outline, turn) });
        const { minY, maxY } = boundsOf(shapes[shapes.length - 1]!.outline);
        for (const zone of allowed) {
          const yMin = zones[zone]!.yFrom - minY;
          const yMax = isFixed ? yMin : zones[zone]!.yTo - maxY;
          choices.push({ shape: shapes.length - 1, zone, yMin, yMax, lattice });
        }
      }
      return { name: `thing ${k}`, count, choices: choices.filter(({ yMin, yMax }) => yMin <= yMax) };
    });
    const lying = blocked.map(({ outline, x, y }) => ({ shape: shapes.push({ outline }) - 1, x, y }));
    return sealProblem({ zones, shapes, kinds, blocked: lying, gapUm, lengthMaxUm: null });
  })
  .filter(({ kinds }) => kinds.every(({ choices }) => choices.length > 0));

/** Whether all things fit into the length: every whole place of every choice, one thing after the other. */
function fitsInto(problem: Problem, lengthUm: number): boolean {
  const things = problem.kinds.flatMap(({ count, choices }) => Array.from({ length: count }, () => choices));
  const lying = problem.blocked.map(({ shape, x, y }) => ({ shape, x, y }));
  const apart = new Map<string, boolean>();
  const isApart = (shape: number, other: number, dx: number, dy: number): boolean => {
    const key = `${shape} ${other} ${dx} ${dy}`;
    const known = apart.get(key);
    if (known !== undefined) return known;
    const outline = problem.shapes[shape]!.outline;
    const found = outlinesApart(outline, [dx, dy], problem.shapes[other]!.outline, [0, 0], problem.gapUm);
    apart.set(key, found);
    return found;
  };
  const putNext = (next: number): boolean => {
    if (next === things.length) return true;
    for (const { shape, yMin, yMax, lattice } of things[next]!) {
      const { minX, maxX } = boundsOf(problem.shapes[shape]!.outline);
      for (let x = -minX; x <= lengthUm - maxX; x++) {
        if (lattice !== null && lattice.xStep > 0 && (x - lattice.xOffset) % lattice.xStep !== 0) continue;
        for (let y = yMin; y <= yMax; y++) {
          if (!lying.every((other) => isApart(shape, other.shape, x - other.x, y - other.y))) continue;
          lying.push({ shape, x, y });
          if (putNext(next + 1)) return true;
          lying.pop();
        }
      }
    }
    return false;
  };
  return putNext(0);
}

function shortestLength(problem: Problem): number {
  let lengthUm = 0;
  while (!fitsInto(problem, lengthUm)) lengthUm++;
  return lengthUm;
}

/** Cuts a rectangle into at most `most` by straight cuts across the part that is cut. */
const cutRectangles = (most: number, dx: number, dy: number): fc.Arbitrary<[number, number][]> =>
  fc
    .array(fc.record({ which: fc.nat(), isAlong: fc.boolean(), at: fc.double({ min: 0.1, max: 0.9, noNaN: true }) }), {
      minLength: 1,
      maxLength: most - 1,
    })
    .map((cuts) => {
      const parts: [number, number][] = [[dx, dy]];
      for (const { which, isAlong, at } of cuts) {
        const i = which % parts.length;
        const [x, y] = parts[i]!;
        const first = Math.floor((isAlong ? x : y) * at);
        if (first < 1) continue;
        if (isAlong) parts.splice(i, 1, [first, y], [x - first, y]);
        else parts.splice(i, 1, [x, first], [x, y - first]);
      }
      return parts;
    });

const asThings = (parts: readonly (readonly [number, number])[]) =>
  parts.map(([dx, dy]) => ({ outline: box(dx, dy), count: 1 }));

describe('a proven bound', () => {
  it('is never above the shortest of all lays of a tiny problem', () => {
    let closed = 0;
    let tried = 0;
    fc.assert(
      fc.property(tinyProblems, (problem) => {
        const shortest = shortestLength(problem);
        const um = exactBound(problem, 0, plenty)?.um ?? 0;
        expect(um).toBeLessThanOrEqual(shortest);
        tried++;
        if (um === shortest) closed++;
      }),
      { numRuns: 600 },
    );
    // Lattices, round gaps and nooks leave some open.
    expect(closed).toBeGreaterThan(0.7 * tried);
  });

  it('is the shortest length of a few tiny boxes', () => {
    const sizes = fc.tuple(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 1, max: 4 }));
    fc.assert(
      fc.property(fc.array(sizes, { minLength: 2, maxLength: 5 }), fc.integer({ min: 4, max: 6 }), (boxes, widthUm) => {
        const problem = stripProblem(widthUm, asThings(boxes));
        expect(exactBound(problem, 0, plenty)!.um).toBe(shortestLength(problem));
      }),
      { numRuns: 80 },
    );
  });

  it('is the length of the rectangle that up to seven were cut from', () => {
    fc.assert(
      fc.property(cutRectangles(7, 1_300_000, 900_000), (parts) => {
        fc.pre(parts.length > 1);
        expect(exactBound(stripProblem(900_000, asThings(parts)), 0, plenty)!.um).toBe(1_300_000);
      }),
      { numRuns: 150 },
    );
  });

  it('is never above a lay of rectangles cut from one, each drawn apart by the gap', () => {
    // Every part gives up the gap at its far ends, so two of them are a gap apart; the strip is as much narrower.
    const gapUm = 5000;
    fc.assert(
      fc.property(cutRectangles(6, 1_300_000, 900_000), (parts) => {
        fc.pre(parts.length > 1 && parts.every(([dx, dy]) => dx > gapUm && dy > gapUm));
        const smaller = parts.map(([dx, dy]) => [dx - gapUm, dy - gapUm] as const);
        const problem = stripProblem(900_000 - gapUm, asThings(smaller), gapUm);
        const { um } = exactBound(problem, 0, plenty)!;
        expect(um).toBeLessThanOrEqual(1_300_000 - gapUm);
        // Corner to corner the gap counts by an octagon, and two gaps short of that is out of reach.
        expect(um).toBeGreaterThan(1_300_000 - 4 * parts.length * gapUm);
      }),
      { numRuns: 100 },
    );
  });

  it('is never above a rectangle cut aslant into pieces that all but are rectangles', () => {
    const [dx, dy] = [1_300_000, 900_000];
    const cut = fc.tuple(fc.integer({ min: 300_000, max: 1_000_000 }), fc.integer({ min: -40_000, max: 40_000 }));
    const cuts = fc.array(cut, { minLength: 1, maxLength: 2 });
    fc.assert(
      fc.property(cuts, cuts, fc.integer({ min: 200_000, max: 700_000 }), fc.boolean(), (lower, upper, at, turns) => {
        const bands = [
          { from: 0, to: at, cuts: lower },
          { from: at, to: dy, cuts: upper },
        ];
        const outlines = bands.flatMap(({ from, to, cuts: slants }) => {
          const sides = [[0, 0], ...slants, [dx, 0]].sort((a, b) => a[0]! - b[0]!) as [number, number][];
          return sides.slice(1).map(([x, slant], i): Outline => {
            const [before, slantBefore] = sides[i]!;
            return [
              [before, from],
              [x, from],
              [x + slant, to],
              [before + slantBefore, to],
            ];
          });
        });
        fc.pre(outlines.every(([a, b, c, d]) => b![0] - a![0] > 0 && c![0] - d![0] > 0));
        const allowed = turns ? ([0, 180] as const) : ([0] as const);
        const things = outlines.map((outline) => ({ outline, count: 1, turns: allowed }));
        const { um } = exactBound(stripProblem(dy, things), 0, plenty)!;
        expect(um).toBeLessThanOrEqual(dx);
        expect(um).toBeGreaterThan(0.8 * dx);
      }),
      { numRuns: 60 },
    );
  });

  it('does not depend on the order of kinds and choices, nor on which copies are one kind', () => {
    fc.assert(
      fc.property(tinyProblems, (problem) => {
        const turnedRound = problem.kinds.map((kind) => ({ ...kind, choices: [...kind.choices].reverse() })).reverse();
        const apart = turnedRound.flatMap((kind) => Array.from({ length: kind.count }, () => ({ ...kind, count: 1 })));
        expect(exactBound({ ...problem, kinds: apart }, 0, plenty)?.um).toBe(exactBound(problem, 0, plenty)?.um);
      }),
      { numRuns: 300 },
    );
  });

  it('is never above what the search finds, and takes no less than the chords prove', async () => {
    const sizes = fc.integer({ min: 40_000, max: 300_000 });
    const things = fc.record({
      outline: fc.oneof(
        fc.tuple(sizes, sizes).map(([dx, dy]) => box(dx, dy)),
        gridOutlines(6, 45_000),
      ),
      count: fc.integer({ min: 1, max: 3 }),
      turns: fc.constantFrom([0] as const, [0, 180] as const),
    });
    const scenes = fc.record({
      things: fc.array(things, { minLength: 2, maxLength: 4 }),
      extraUm: fc.nat(300_000),
      gapUm: fc.constantFrom(0, 3000),
    });
    await fc.assert(
      fc.asyncProperty(scenes, async ({ things, extraUm, gapUm }) => {
        const heights = things.map(({ outline }) => boundsOf(outline).maxY - boundsOf(outline).minY);
        const problem = stripProblem(Math.max(...heights) + extraUm, things, gapUm);
        const bound = boundOf(problem);
        expect(bound.um).toBeGreaterThanOrEqual(chordBound(problem).um);
        const { solution } = await search(problem, {
          ...{ seed: 1, effort: 0.25, seconds: null, clock: () => 0, executor: sameThreadExecutor() },
          onProgress: () => {},
          interrupted: () => false,
        });
        expect(bound.um).toBeLessThanOrEqual(solution!.lengthUm);
      }),
      { numRuns: 12 },
    );
  });
});
