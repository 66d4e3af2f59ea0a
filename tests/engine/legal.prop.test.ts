/** Whatever is asked for - zones, fixed y, lattices, blocked areas, gaps - every lay found is legal. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeChain, encodeChain } from '../../src/engine/chain-code.js';
import { build, countThings } from '../../src/engine/construct.js';
import { makeGround } from '../../src/engine/ground.js';
import { decodeSolution, encodeLay } from '../../src/engine/lay-code.js';
import { plainOrders, sizesOf } from '../../src/engine/orders.js';
import { createRandom } from '../../src/engine/random.js';
import { settle } from '../../src/engine/settle.js';
import { makeTables } from '../../src/engine/tables.js';
import { beginChain, workOn } from '../../src/engine/tighten.js';
import { boundsOf, turnOutline } from '../../src/geometry/outline.js';
import { outlinesApart } from '../../src/geometry/overlap.js';
import type { Blocked, Choice, Kind, Lattice, Problem, Shape, Solution } from '../../src/problem/types.js';
import type { Outline } from '../../src/units/types.js';
import { gridOutlines } from '../support/polygons.js';
import { sealProblem } from '../support/problems.js';

const zones = [
  { yFrom: 0, yTo: 300_000 },
  { yFrom: 310_000, yTo: 700_000 },
];
const lattice: fc.Arbitrary<Lattice | null> = fc.oneof(
  fc.constant(null),
  fc.record({
    xStep: fc.constantFrom(0, 40_000, 75_001),
    xOffset: fc.integer({ min: 0, max: 50_000 }),
    yStep: fc.constantFrom(0, 30_000),
    yOffset: fc.integer({ min: 0, max: 29_999 }),
  }),
);

const problems: fc.Arbitrary<Problem> = fc
  .record({
    outlines: fc.array(gridOutlines(5, 14_000), { minLength: 2, maxLength: 4 }),
    counts: fc.array(fc.integer({ min: 1, max: 3 }), { minLength: 4, maxLength: 4 }),
    inZones: fc.array(fc.constantFrom([0], [1], [0, 1]), { minLength: 4, maxLength: 4 }),
    fixed: fc.array(fc.boolean(), { minLength: 4, maxLength: 4 }),
    lattices: fc.array(lattice, { minLength: 4, maxLength: 4 }),
    turned: fc.array(fc.boolean(), { minLength: 4, maxLength: 4 }),
    blocked: fc.array(fc.record({ x: fc.nat(600_000), y: fc.nat(600_000) }), { maxLength: 2 }),
    gapUm: fc.constantFrom(0, 0, 3000, 5001),
  })
  .map(({ outlines, counts, inZones, fixed, lattices, turned, blocked, gapUm }) => {
    const shapes: Shape[] = [];
    const kinds = outlines.map((outline, k): Kind => {
      const choices: Choice[] = [];
      for (const turn of turned[k] ? ([0, 180] as const) : ([0] as const)) {
        shapes.push({ outline: turnOutline(outline, turn) });
        const { minY, maxY } = boundsOf(shapes[shapes.length - 1]!.outline);
        for (const zone of inZones[k]!) {
          const yMin = zones[zone]!.yFrom - minY;
          const yMax = fixed[k] ? yMin : zones[zone]!.yTo - maxY;
          const asked = fixed[k] && lattices[k] !== null ? { ...lattices[k]!, yStep: 0, yOffset: 0 } : lattices[k]!;
          choices.push({ shape: shapes.length - 1, zone, yMin, yMax, lattice: asked });
        }
      }
      return { name: `thing ${k}`, count: counts[k]!, choices };
    });
    const square: Outline = [
      [0, 0],
      [30_000, 0],
      [30_000, 30_000],
      [0, 30_000],
    ];
    shapes.push({ outline: square });
    const lying = blocked.map(({ x, y }): Blocked => ({ shape: shapes.length - 1, x, y }));
    return sealProblem({ zones, shapes, kinds, blocked: lying, gapUm, lengthMaxUm: null });
  });

/** `TEST_RUNS=n` makes so many short runs instead. */
const shortRuns = Number(process.env.TEST_RUNS ?? 250);

/** Our own account of what is legal, word for word from the problem's contract. */
function faultOf(problem: Problem, { spots, lengthUm }: Solution): string | null {
  const things = spots.map(({ kind, choice, x, y }) => {
    const chosen = problem.kinds[kind]!.choices[choice]!;
    return { chosen, outline: problem.shapes[chosen.shape]!.outline, x, y };
  });
  let reach = 0;
  for (const { chosen, outline, x, y } of things) {
    const box = boundsOf(outline);
    const zone = problem.zones[chosen.zone]!;
    if (y < chosen.yMin || y > chosen.yMax || y + box.minY < zone.yFrom || y + box.maxY > zone.yTo) return 'zone';
    if (x + box.minX < 0) return 'start';
    const { xStep, xOffset, yStep, yOffset } = chosen.lattice ?? { xStep: 0, xOffset: 0, yStep: 0, yOffset: 0 };
    if (xStep > 0 && (x - xOffset) % xStep !== 0) return 'lattice along';
    if (yStep > 0 && (y - yOffset) % yStep !== 0) return 'lattice across';
    reach = Math.max(reach, x + box.maxX);
  }
  if (reach !== lengthUm) return 'length';
  const lying = problem.blocked.map(({ shape, x, y }) => ({ outline: problem.shapes[shape]!.outline, x, y }));
  for (const [i, a] of things.entries()) {
    for (const b of [...things.slice(i + 1), ...lying]) {
      if (!outlinesApart(a.outline, [a.x, a.y], b.outline, [b.x, b.y], problem.gapUm)) return 'distance';
    }
  }
  return null;
}

describe('lays', () => {
  it('are legal before and after settling, by every rule, and settling never makes them longer', () => {
    fc.assert(
      fc.property(problems, fc.nat(23), (problem, which) => {
        const tables = makeTables(problem);
        const ground = makeGround(tables, countThings(problem));
        const orders = plainOrders(problem, sizesOf(tables));
        const order = orders[which % orders.length]!;
        expect(build(ground, order, 0, Number.POSITIVE_INFINITY)).toBe(true);
        const from = ground.blocked;
        const lay = {
          choices: ground.choiceOf.slice(from),
          xs: ground.xs.slice(from),
          ys: ground.ys.slice(from),
        };
        const built = decodeSolution(problem, encodeLay(order.kinds, lay));
        const settled = decodeSolution(problem, encodeLay(order.kinds, settle(tables, order.kinds, lay)));
        expect(faultOf(problem, built)).toBeNull();
        expect(faultOf(problem, settled)).toBeNull();
        expect(settled.lengthUm).toBeLessThanOrEqual(built.lengthUm);
      }),
      { numRuns: 400 },
    );
  });

  it('of a chain are legal, never longer than before, and do not depend on where its work is cut', () => {
    fc.assert(
      fc.property(problems, fc.nat(23), fc.nat(1000), (problem, which, seed) => {
        const tables = makeTables(problem);
        const ground = makeGround(tables, countThings(problem));
        const orders = plainOrders(problem, sizesOf(tables));
        const { kinds } = orders[which % orders.length]!;
        expect(build(ground, orders[which % orders.length]!, 0, Number.POSITIVE_INFINITY)).toBe(true);
        const from = ground.blocked;
        const lay = {
          choices: ground.choiceOf.slice(from),
          xs: ground.xs.slice(from),
          ys: ground.ys.slice(from),
        };
        let chain = beginChain(tables, kinds, lay, ground.lengthAfter[ground.count]!);
        for (let part = 0; part < 4; part++) {
          const before = chain.bestUm;
          workOn(chain, 2000, createRandom(seed, part));
          expect(chain.bestUm).toBeLessThanOrEqual(before);
          const found = decodeSolution(problem, encodeLay(kinds, chain.best));
          expect(faultOf(problem, found)).toBeNull();
          expect(found.lengthUm).toBe(chain.bestUm);
          const settled = decodeSolution(problem, encodeLay(kinds, settle(tables, kinds, chain.best)));
          expect(faultOf(problem, settled)).toBeNull();
          const code = encodeChain(chain);
          chain = decodeChain(makeTables(problem), code);
          expect(encodeChain(chain)).toEqual(code);
        }
      }),
      { numRuns: shortRuns },
    );
  });
});
