/**
 * Lays that the tests make without asking the checker (those that it is asked about are seen by every-verdict.ts): of every
 * fixture by every method, markers, random things in zones. What the checker accepts, two polygon libraries accept too,
 * and all three agree on area and utilisation.
 */
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { checkLay } from '../../src/checker/check-lay.js';
import type { Lay } from '../../src/lay/types.js';
import type { Problem, Solution } from '../../src/problem/types.js';
import type { Outline, Point } from '../../src/units/types.js';
import { builtSolution, laysOfFixture } from '../support/built-lays.js';
import { foldedRow, openRow, tightRow } from '../support/damage.js';
import { cutListFiles } from '../support/fixtures.js';
import { markerLays } from '../support/marker-lays.js';
import { crowds, problems } from '../support/random-problems.js';
import { libraries } from './libraries.js';
import { judgePairs, secondOpinion } from './opinion.js';
import { newTally, tallyOfFile } from './tally.js';
import type { Thing } from './things.js';

vi.unmock('../../src/checker/check-lay.js');

const tally = tallyOfFile();
const runs = Number(process.env.TEST_RUNS ?? 40);

function expectAgreed(lay: Lay): void {
  const verdict = checkLay(lay);
  expect(verdict.refusals.map(({ sentence }) => sentence)).toEqual([]);
  expect(secondOpinion(lay, verdict, tally)).toEqual([]);
}

describe('three opinions agree', () => {
  it.each(cutListFiles)('of every method on every cloth of %s', (file) => {
    const lays = laysOfFixture(file);
    expect(lays.length).toBeGreaterThan(0);
    for (const { lay } of lays) expectAgreed(lay);
  });

  it.each(Object.entries({ ...markerLays, openRow, tightRow, foldedRow }))('of %s', (_name, lay) => {
    expectAgreed(lay);
  });

  it('of random things in zones, before they are a lay', () => {
    const asked = newTally();
    fc.assert(
      fc.property(fc.oneof(problems, crowds), fc.nat(23), (problem, which) => {
        const things = thingsLaid(problem, builtSolution(problem, which)!);
        const measures = libraries.map(({ measure }) => measure(things.map(({ outline }) => outline)));
        const nothing = { overlaps: new Set<string>(), gapsShort: new Set<string>(), isCutShort: false };
        expect(judgePairs(things, measures, problem.gapUm, nothing, asked)).toEqual([]);
      }),
      { numRuns: runs },
    );
    expect(asked.pairs).toBeGreaterThan(runs);
  });
});

/** What lies in a solution, and what was blocked. */
function thingsLaid(problem: Problem, { spots }: Solution): readonly Thing[] {
  const at = (shape: number, x: number, y: number): Outline =>
    problem.shapes[shape]!.outline.map(([px, py]): Point => [px + x, py + y]);
  const laid = spots.map(({ kind, choice, x, y }, i): Thing => {
    const { shape } = problem.kinds[kind]!.choices[choice]!;
    return { outline: at(shape, x, y), copy: i, name: `copy ${i}`, stretch: null };
  });
  const blocked = problem.blocked.map(({ shape, x, y }, i): Thing => {
    return { outline: at(shape, x, y), copy: null, name: `blocked ${i}`, stretch: null };
  });
  return [...laid, ...blocked];
}
