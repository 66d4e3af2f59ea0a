/** What is pinned: it never moves, counts for the length and the bound, and may lie nearer to its like than the search lays. */
import { expect, test } from 'vitest';
import { chordBound, leastLengthOf } from '../../src/bounds/bounds.js';
import { sameThreadExecutor } from '../../src/engine/same-thread.js';
import type { Problem } from '../../src/problem/types.js';
import type { Outline, Point, Um } from '../../src/units/types.js';
import { sealProblem, stripProblem } from '../support/problems.js';
import { search } from '../support/search.js';

const mm = 1_000;
/** Grown outlines are rounded outwards by a few micrometres. */
const roundingUm = 10;

function box(dx: number, dy: number): Outline {
  return (
    [
      [0, 0],
      [dx, 0],
      [dx, dy],
      [0, dy],
    ] as const
  ).map(([x, y]): Point => [x * mm, y * mm]);
}

/** The problem with a box of this size pinned at some places. */
function withPinned(problem: Problem, outline: Outline, places: readonly Point[]): Problem {
  const { hash, ...rest } = problem;
  const shape = rest.shapes.length;
  const pinned = places.map(([x, y]) => ({ name: 'pinned', shape, zone: 0, x: x * mm, y: y * mm }));
  const blocked = pinned.map(({ x, y }) => ({ shape, x, y }));
  return sealProblem({ ...rest, shapes: [...rest.shapes, { outline }], blocked, pinned });
}

async function lengthOf(problem: Problem, effort = 2): Promise<{ lengthUm: Um; effort: number }> {
  const tools = { executor: sameThreadExecutor(), clock: () => 0, seconds: null, interrupted: () => false };
  const result = await search(problem, { ...tools, seed: 1, effort, onProgress: () => undefined });
  return { lengthUm: result.solution!.lengthUm, effort: result.effort };
}

test('all lies before the end of what is pinned: the length is that end, and the search is over', async () => {
  const strip = stripProblem(100 * mm, [{ outline: box(100, 60), count: 3 }], 3 * mm);
  const problem = withPinned(strip, box(100, 100), [[450, 0]]);
  expect(leastLengthOf(problem)).toBe(550 * mm);
  const { lengthUm, effort } = await lengthOf(problem, 20);
  expect(lengthUm).toBe(550 * mm);
  expect(effort).toBeLessThan(1);
});

test('what has no room before it lies behind it', async () => {
  const strip = stripProblem(100 * mm, [{ outline: box(100, 60), count: 3 }], 3 * mm);
  const problem = withPinned(strip, box(50, 100), [[120, 0]]);
  // 0 to 100, 120 to 170, then two of 100 with the gap before each.
  const { lengthUm } = await lengthOf(problem, 0.5);
  expect(lengthUm).toBeGreaterThanOrEqual((170 + 2 * 103) * mm);
  expect(lengthUm).toBeLessThan((170 + 2 * 103) * mm + roundingUm);
});

test('the bound counts it like any other thing, and from its first to its last point', () => {
  const strip = stripProblem(100 * mm, [{ outline: box(100, 60), count: 3 }]);
  expect(chordBound(strip).um).toBe(300 * mm);
  const beside = withPinned(strip, box(200, 60), [[0, 20]]);
  expect(chordBound(beside).um).toBe(500 * mm);
  const apart = withPinned(strip, box(10, 60), [
    [50, 0],
    [940, 0],
  ]);
  expect(chordBound(apart)).toEqual({
    um: 900 * mm,
    why: 'what is pinned takes up this length, from its first to its last point',
  });
});

test('two of it may lie nearer to each other than the search would lay them', async () => {
  const strip = stripProblem(100 * mm, [{ outline: box(40, 50), count: 2 }], 3 * mm);
  const problem = withPinned(strip, box(60, 100), [
    [0, 0],
    [60, 0],
  ]);
  expect((await lengthOf(problem, 0.5)).lengthUm).toBeLessThan((120 + 3 + 40 + 43) * mm + roundingUm);
});
