import { describe, expect, test } from 'vitest';
import { noFitOf, tablesOf } from '../../src/engine/tables.js';
import { mirrorOutline, turnOutline } from '../../src/geometry/outline.js';
import { outlineContains } from '../../src/geometry/overlap.js';
import { bodice, stripProblem } from '../support/problems.js';

const one = bodice(120, 1000);
const image = turnOutline(mirrorOutline(one), 0);

describe('tables', () => {
  test('problems of the same shapes and gap share what is derived from them, others do not', () => {
    const narrow = tablesOf(stripProblem(900_000, [{ outline: one, count: 2, turns: [0, 180] }], 4000));
    const wide = tablesOf(stripProblem(1_200_000, [{ outline: one, count: 3, turns: [0, 180] }], 4000));
    const apart = tablesOf(stripProblem(900_000, [{ outline: one, count: 2, turns: [0, 180] }], 6000));
    expect(wide.problem).not.toBe(narrow.problem);
    expect(noFitOf(wide, 0, 1)).toBe(noFitOf(narrow, 0, 1));
    expect(noFitOf(apart, 0, 1)).not.toBe(noFitOf(narrow, 0, 1));
  });

  test('tables are let go of by the time since they were asked for', () => {
    const problem = (width: number) => stripProblem(width, [{ outline: bodice(40, width), count: 1 }]);
    const first = tablesOf(problem(1001));
    for (let width = 1002; width < 1012; width++) tablesOf(problem(width));
    expect(tablesOf(problem(1001))).toBe(first);
    for (let width = 1012; width < 1023; width++) tablesOf(problem(width));
    expect(tablesOf(problem(1001))).toBe(first);
    for (let width = 1023; width < 1036; width++) tablesOf(problem(width));
    expect(tablesOf(problem(1001))).not.toBe(first);
  });

  test('what the search looks at contains the true piece, of a mirror image too', () => {
    const things = [one, image, turnOutline(image, 180)].map((outline) => ({ outline, count: 1 }));
    const tables = tablesOf(stripProblem(900_000, things, 3001));
    expect(tables.forms).toBe(2);
    tables.searched.forEach((outline, shape) => {
      expect(outlineContains(outline, tables.grown[shape]!)).toBe(true);
      expect(outlineContains(tables.grown[shape]!, tables.problem.shapes[shape]!.outline)).toBe(true);
    });
    expect(tables.searched[1]).toEqual(mirrorOutline(tables.searched[0]!));
  });
});
