/** The leftmost place of the sweep against trying places one by one. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { build, countThings } from '../../src/engine/construct.js';
import { type Ground, makeGround } from '../../src/engine/ground.js';
import { plainOrders, sizesOf } from '../../src/engine/orders.js';
import { leftmostPlace, makeSweep, meets } from '../../src/engine/sweep.js';
import { makeTables } from '../../src/engine/tables.js';
import { latticeDown, latticeUp } from '../../src/problem/lattice.js';
import { problems } from '../support/random-problems.js';

/** A free place that reaches less far along the strip may be missed. */
const missedMostUm = 512;

function isFree(ground: Ground, shape: number, x: number, y: number): boolean {
  for (let i = 0; i < ground.count; i++) if (meets(ground, i, shape, x, y)) return false;
  return true;
}

describe('the sweep', () => {
  it('finds a free place, with no wider one left of it and no better height on its line', () => {
    const draws = fc.array(fc.tuple(fc.nat(9999), fc.nat(9999)), { minLength: 40, maxLength: 40 });
    let probed = 0;
    fc.assert(
      fc.property(problems, fc.nat(23), fc.boolean(), draws, (problem, which, isHighest, drawn) => {
        const tables = makeTables(problem);
        const ground = makeGround(tables, countThings(problem));
        const orders = plainOrders(problem, sizesOf(tables));
        build(ground, orders[which % orders.length]!, 0, Number.POSITIVE_INFINITY);
        const sweep = makeSweep(ground.count);
        for (const choice of problem.kinds.flatMap(({ choices }) => choices)) {
          const { shape, lattice } = choice;
          const { xStep, xOffset, yStep, yOffset } = lattice ?? { xStep: 0, xOffset: 0, yStep: 0, yOffset: 0 };
          const yMin = latticeUp(choice.yMin, yStep, yOffset);
          const yMax = latticeDown(choice.yMax, yStep, yOffset);
          if (yMin > yMax) continue;
          const xMin = 0 - tables.trueBox[shape]!.minX;
          expect(leftmostPlace(sweep, ground, choice, xMin, 1e8, isHighest)).toBe(true);
          const { x, y } = sweep;
          expect(isFree(ground, shape, x, y)).toBe(true);
          expect([x, y]).toEqual([latticeUp(x, xStep, xOffset), latticeUp(y, yStep, yOffset)]);
          for (const [alongShare, acrossShare] of drawn) {
            const drawnY = latticeDown(yMin + Math.floor(((yMax - yMin) * acrossShare) / 9999), yStep, yOffset);
            if (isHighest ? drawnY > y : drawnY < y) expect(isFree(ground, shape, x, drawnY)).toBe(false);
            const drawnX = latticeUp(xMin + Math.floor(((x - xMin) * alongShare) / 9999), xStep, xOffset);
            if (drawnX >= x - missedMostUm) continue;
            probed++;
            let reach = drawnX;
            while (reach <= drawnX + missedMostUm && isFree(ground, shape, reach, drawnY)) reach++;
            expect(reach).toBeLessThanOrEqual(xStep > 0 ? drawnX : drawnX + missedMostUm);
          }
        }
      }),
      { numRuns: 150 },
    );
    expect(probed).toBeGreaterThan(1000);
  });
});
