/**
 * Single pairs of outlines, where calculations go astray most easily: corners on corners, corners on edges, edges along
 * edges, equal outlines, and each of these off by a micrometre or two, near the cut end and as far along the cloth as
 * coordinates go. Checker and libraries agree on all of them.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { boxOf } from '../../src/checker/exact.js';
import { areNearer, insidesOverlap, type Shape } from '../../src/checker/overlap.js';
import { coordinateMaxUm, type Outline, type Point } from '../../src/units/types.js';
import { combOutlines, gridOutlines, transformed } from '../support/polygons.js';
import { libraries } from './libraries.js';
import { judgePairs } from './opinion.js';
import { tallyOfFile } from './tally.js';
import type { Thing } from './things.js';

const tally = tallyOfFile();
const runs = Number(process.env.TEST_RUNS ?? 500);

const outlines = fc.oneof(gridOutlines(4), combOutlines().chain(transformed));
const cells = fc.integer({ min: -5, max: 5 });
const slip = fc.integer({ min: -2, max: 2 });

/** Two outlines on one grid, the second a little off it. */
const pairs = fc
  .record({
    a: outlines,
    b: fc.option(outlines, { nil: null }),
    cell: fc.constantFrom(1_000, 10_000, 14_001, 100_000),
    far: fc.constantFrom(0, 20_000_000, coordinateMaxUm - 4_000_000),
    dx: cells,
    dy: cells,
    slipX: slip,
    slipY: slip,
  })
  .map(({ a, b, cell, far, dx, dy, slipX, slipY }): readonly [Outline, Outline] => {
    const put = (outline: Outline, x: number, y: number) =>
      outline.map(([px, py]): Point => [(px + 20) * cell + far + x, (py + 20) * cell + y]);
    return [put(a, 0, 0), put(b ?? a, dx * cell + slipX, dy * cell + slipY)];
  });

it('two outlines: overlap or not, how much of it, and nearer than a gap or not', () => {
  fc.assert(
    fc.property(pairs, fc.constantFrom(0, 1_000, 3_000, 14_001), ([a, b], gapUm) => {
      const [one, other] = [a, b].map((outline) => ({ outline, box: boxOf(outline) })) as [Shape, Shape];
      const isOver = insidesOverlap(one, other);
      const isNear = !isOver && gapUm > 0 && areNearer(one, other, gapUm);
      const things = [a, b].map((outline, i): Thing => ({ outline, copy: i, name: `copy ${i}`, stretch: null }));
      const measures = libraries.map(({ measure }) => measure([a, b]));
      const key = (is: boolean) => new Set(is ? ['copy 0 on copy 1'] : []);
      const said = { overlaps: key(isOver), gapsShort: key(isNear), isCutShort: false };
      expect(judgePairs(things, measures, gapUm, said, tally)).toEqual([]);
    }),
    { numRuns: runs },
  );
  expect(tally.overlaps).toBeGreaterThan(runs / 8);
  expect(tally.gapsShort).toBeGreaterThan(runs / 20);
  expect(tally.pairs - tally.overlaps - tally.gapsShort).toBeGreaterThan(runs / 20);
});
