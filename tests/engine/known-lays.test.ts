/** Problems whose shortest lay is known. */
import { describe, expect, it } from 'vitest';
import { sameThreadExecutor } from '../../src/engine/same-thread.js';
import type { SearchResult } from '../../src/engine/types.js';
import { mirrorOutline } from '../../src/geometry/outline.js';
import type { Problem } from '../../src/problem/types.js';
import type { Outline } from '../../src/units/types.js';
import { arcPoints, scaled, sealProblem, stripProblem } from '../support/problems.js';
import { search } from '../support/search.js';

const inch = 25_400;

async function solve(problem: Problem, effort = 1): Promise<SearchResult> {
  return search(problem, {
    seed: 1,
    effort,
    seconds: null,
    clock: () => 0,
    executor: sameThreadExecutor(),
    onProgress: () => {},
    interrupted: () => false,
  });
}

async function lengthOf(problem: Problem): Promise<number> {
  const { solution } = await solve(problem);
  return solution!.lengthUm;
}

describe('known lays', () => {
  it('two right triangles head to tail fill their rectangle', async () => {
    // Derived: two right triangles 20 x 30, one turned, complete a 20 x 30 rectangle.
    const triangle = scaled(
      [
        [0, 0],
        [30, 0],
        [0, 20],
      ],
      inch,
    );
    const problem = stripProblem(20 * inch, [{ outline: triangle, count: 2, turns: [0, 180] }]);
    expect(await lengthOf(problem)).toBe(30 * inch);
  });

  // A gore: 10 at the top, 20 at the bottom, 70 high, straight along x. Derived: n/2 (a + b) + (b - a)/2 across
  // when they alternate, n b when all lie the same way.
  const gore = scaled(
    [
      [0, 0],
      [70, 5],
      [70, 15],
      [0, 20],
    ],
    10_000,
  );

  it('four gores by turns need a width of 65, the same way 80', async () => {
    expect(await lengthOf(stripProblem(650_000, [{ outline: gore, count: 4, turns: [0, 180] }]))).toBe(700_000);
    expect(await lengthOf(stripProblem(800_000, [{ outline: gore, count: 4 }]))).toBe(700_000);
  });

  it('one millimetre less of width and the gores need more length', async () => {
    expect(await lengthOf(stripProblem(649_000, [{ outline: gore, count: 4, turns: [0, 180] }]))).toBeGreaterThan(
      700_000,
    );
    expect(await lengthOf(stripProblem(799_000, [{ outline: gore, count: 4 }]))).toBeGreaterThan(700_000);
  });

  const radius = 914_400;
  const half: Outline = arcPoints(radius, 0, 0.5);

  it('two half circles, one turned, need (2 + sqrt 3) R of a cloth R wide', async () => {
    // Derived: the arcs touch midway between the centres, each R/2 high there. R = 36 in.
    const exact = (2 + Math.sqrt(3)) * radius;
    const turned = await lengthOf(stripProblem(radius, [{ outline: half, count: 2, turns: [0, 180] }]));
    expect(Math.abs(turned - exact)).toBeLessThan(0.0004 * radius);
    const mirrored = mirrorOutline(half);
    const pair = stripProblem(radius, [
      { outline: half, count: 1 },
      { outline: mirrored, count: 1 },
    ]);
    expect(Math.abs((await lengthOf(pair)) - exact)).toBeLessThan(0.0004 * radius);
  });

  it('two half circles the same way need 4 R', async () => {
    // 'Sew a poodle skirt', craft page, August 2011: 4 yd for R = 36 in.
    expect(await lengthOf(stripProblem(radius, [{ outline: half, count: 2 }]))).toBe(4 * radius);
  });

  it('63 squares of 2 1/2 in on 44 in take four rows', async () => {
    // 'Preparing to buy fabric', quilt how-to: 17 in a row, 4 rows, 10 in.
    const side = 2.5 * inch;
    const square: Outline = [
      [0, 0],
      [side, 0],
      [side, side],
      [0, side],
    ];
    const { solution, status } = await solve(stripProblem(44 * inch, [{ outline: square, count: 63 }]));
    expect(solution!.lengthUm).toBe(10 * inch);
    expect(['proven shortest', 'shortest found']).toContain(status);
  });

  it('a circle needs its diameter, and that is proven', async () => {
    const circle = arcPoints(300_000, 0, 1).slice(0, -1);
    const { solution, status } = await solve(stripProblem(1_000_000, [{ outline: circle, count: 1 }]));
    // The flattened circle may miss its outermost point by the chord error of 0.02 mm.
    expect(Math.abs(solution!.lengthUm - 600_000)).toBeLessThanOrEqual(20);
    expect(status).toBe('proven shortest');
  });

  it('squares keep their gap and need none at the edges', async () => {
    const side = 100_000;
    const square: Outline = [
      [0, 0],
      [side, 0],
      [side, side],
      [0, side],
    ];
    const length = await lengthOf(stripProblem(203_010, [{ outline: square, count: 4 }], 3000));
    expect(length).toBeGreaterThanOrEqual(203_000);
    expect(length).toBeLessThanOrEqual(203_010);
  });
});

describe('when it does not fit', () => {
  const square: Outline = [
    [0, 0],
    [100_000, 0],
    [100_000, 100_000],
    [0, 100_000],
  ];

  it('says so with proof when the bound is longer than the cloth, and spends no effort', async () => {
    const answer = await solve(stripProblem(100_000, [{ outline: square, count: 3 }], 0, 250_000));
    expect(answer).toMatchObject({ solution: null, status: 'does not fit', fitProven: true, effort: 0 });
  });

  it('says so without proof when no lay was short enough', async () => {
    // Discs side by side cannot be had on a cloth a hair too narrow, but their area would fit; too many to try all.
    const disc = arcPoints(50_000, 0, 1).slice(0, -1);
    const answer = await solve(stripProblem(199_000, [{ outline: disc, count: 12 }], 0, 600_001));
    expect(answer).toMatchObject({ solution: null, status: 'does not fit', fitProven: false });
  });

  it('says so with proof when a kind has no choice at all', async () => {
    const problem = sealProblem({
      ...stripProblem(100_000, [{ outline: square, count: 1 }]),
      kinds: [{ name: 'x', count: 1, choices: [] }],
    });
    expect(await solve(problem)).toMatchObject({ solution: null, status: 'does not fit', fitProven: true });
  });

  it('lays nothing in no length', async () => {
    const answer = await solve(stripProblem(100_000, []));
    expect(answer).toMatchObject({ solution: { spots: [], lengthUm: 0 }, status: 'proven shortest' });
  });
});
