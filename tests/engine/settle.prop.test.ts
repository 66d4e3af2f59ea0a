/** Settling by lists of neighbours against settling by looking at everything. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeSolution, encodeLay, type Places } from '../../src/engine/lay-code.js';
import { settle } from '../../src/engine/settle.js';
import { makeTables } from '../../src/engine/tables.js';
import { boundsOf } from '../../src/geometry/outline.js';
import { latticeDown, latticeUp } from '../../src/problem/lattice.js';
import type { Problem } from '../../src/problem/types.js';
import { settlePlainly } from '../support/plain-settle.js';
import { faultOf, problems } from '../support/random-problems.js';

/** A very loose lay: one thing behind the other, beyond all that is blocked, at any height. */
function looseLay(problem: Problem, times: number, heights: readonly number[]): { kinds: Int32Array; lay: Places } {
  const kinds: number[] = [];
  const choices: number[] = [];
  const xs: number[] = [];
  const ys: number[] = [];
  let end = 700_000;
  problem.kinds.forEach((kind, k) => {
    for (let i = 0; i < kind.count * times; i++) {
      const c = i % kind.choices.length;
      const { shape, lattice, yMin, yMax } = kind.choices[c]!;
      const { xStep, xOffset, yStep, yOffset } = lattice ?? { xStep: 0, xOffset: 0, yStep: 0, yOffset: 0 };
      const box = boundsOf(problem.shapes[shape]!.outline);
      const least = latticeUp(yMin, yStep, yOffset);
      const height = heights[kinds.length % heights.length]! / 1000;
      kinds.push(k);
      choices.push(c);
      xs.push(latticeUp(end - box.minX, xStep, xOffset));
      ys.push(Math.max(least, latticeDown(Math.round(least + height * (yMax - least)), yStep, yOffset)));
      end = xs[xs.length - 1]! + box.maxX + 10_000;
    }
  });
  const lay = { choices: Int32Array.from(choices), xs: Float64Array.from(xs), ys: Float64Array.from(ys) };
  return { kinds: Int32Array.from(kinds), lay };
}

describe('settling', () => {
  it('gives the same bytes as trying every thing against all others, and a legal lay', () => {
    const heights = fc.array(fc.nat(1000), { minLength: 7, maxLength: 7 });
    fc.assert(
      fc.property(problems, fc.constantFrom(1, 3), heights, (problem, times, drawn) => {
        fc.pre(problem.kinds.every(({ choices }) => choices.every(({ yMin, yMax }) => yMin <= yMax)));
        const tables = makeTables(problem);
        const { kinds, lay } = looseLay(problem, times, drawn);
        const settled = settle(tables, kinds, lay);
        expect(settled).toEqual(settlePlainly(tables, kinds, lay));
        const reach = (places: Places): number => decodeSolution(problem, encodeLay(kinds, places)).lengthUm;
        expect(reach(settled)).toBeLessThan(reach(lay));
        const solution = decodeSolution(problem, encodeLay(kinds, settled));
        if (faultOf(problem, decodeSolution(problem, encodeLay(kinds, lay))) === null) {
          expect(faultOf(problem, solution)).toBeNull();
        }
      }),
      { numRuns: 60 },
    );
  });
});
