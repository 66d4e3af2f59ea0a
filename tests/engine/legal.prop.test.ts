/** Whatever is asked for - zones, fixed y, lattices, blocked areas, gaps - every lay found is legal. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeChain, encodeChain } from '../../src/engine/chain-code.js';
import { build, countThings } from '../../src/engine/construct.js';
import { makeGround } from '../../src/engine/ground.js';
import { decodeSolution, encodeLay } from '../../src/engine/lay-code.js';
import { plainOrders, sizesOf } from '../../src/engine/orders.js';
import { createRandom } from '../../src/engine/random.js';
import { sameThreadExecutor } from '../../src/engine/same-thread.js';
import { startSearch } from '../../src/engine/search.js';
import { settle } from '../../src/engine/settle.js';
import { forgetTables, makeTables } from '../../src/engine/tables.js';
import { setPlace } from '../../src/engine/tangle.js';
import { beginChain, type Chain, isBack, workOn } from '../../src/engine/tighten.js';
import type { Problem } from '../../src/problem/types.js';
import { crowds, faultOf, problems } from '../support/random-problems.js';

/** `TEST_RUNS=n` makes so many short runs instead. */
const shortRuns = Number(process.env.TEST_RUNS ?? 250);

/** A chain that begins at the first plain lay of a problem. */
function plainChain(problem: Problem): Chain {
  const tables = makeTables(problem);
  const ground = makeGround(tables, countThings(problem));
  const [order] = plainOrders(problem, sizesOf(tables));
  build(ground, order!, 0, Number.POSITIVE_INFINITY);
  const from = ground.blocked;
  const lay = { choices: ground.choiceOf.slice(from), xs: ground.xs.slice(from), ys: ground.ys.slice(from) };
  return beginChain(tables, order!.kinds, lay, ground.lengthAfter[ground.count]!, 0);
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

  it('of a chain are legal and never longer than before; its code says all that it needs to go on', () => {
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
        const boundUm = seed % 2 === 0 ? 0 : Math.floor(0.9 * ground.lengthAfter[ground.count]!);
        let chain = beginChain(tables, kinds, lay, ground.lengthAfter[ground.count]!, boundUm);
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
          expect(chain.leastUm).toBeGreaterThanOrEqual(boundUm);
        }
      }),
      { numRuns: shortRuns },
    );
  });

  it('of a search over many things are legal, get no longer, and are the same from cold tables', async () => {
    await fc.assert(
      fc.asyncProperty(crowds, fc.nat(1000), async (problem, seed) => {
        const lengths: number[] = [];
        const search = startSearch(problem, { seed, executor: sameThreadExecutor() });
        for (let batch = 0; batch < 3 && !search.finished; batch++) {
          await search.step();
          const { solution } = search.result(false);
          expect(faultOf(problem, solution!)).toBeNull();
          lengths.push(solution!.lengthUm);
        }
        expect(lengths).toEqual([...lengths].sort((a, b) => b - a));
        forgetTables();
        const again = startSearch(problem, { seed, executor: sameThreadExecutor() });
        for (const length of lengths) {
          await again.step();
          expect(again.result(false).solution!.lengthUm).toBe(length);
        }
      }),
      { numRuns: 4 },
    );
  });

  it('of many things are legal after shakes were tried, and the code says how far that is', () => {
    let trials = 0;
    fc.assert(
      fc.property(crowds, fc.nat(1000), (problem, seed) => {
        let chain = plainChain(problem);
        const { tables, kinds } = chain.tangle;
        const random = createRandom(seed, 0);
        for (let steps = 0; steps < 200 && chain.tangle.pairs === 0; steps++) workOn(chain, 1, random);
        // Two rounds, and untangling is given up.
        workOn(chain, 1, random);
        workOn(chain, 1, random);
        if (chain.tangle.pairs === 0 || chain.leastTotal === Number.POSITIVE_INFINITY) return;
        chain.quiet = 1_000_000;
        workOn(chain, 1, random);
        while (chain.trialRounds > 0) {
          trials++;
          const code = encodeChain(chain);
          chain = decodeChain(tables, code);
          expect(encodeChain(chain)).toEqual(code);
          const before = chain.trialRounds;
          workOn(chain, 1, random);
          expect([0, before - 1]).toContain(chain.trialRounds);
          expect(faultOf(problem, decodeSolution(problem, encodeLay(kinds, chain.best)))).toBeNull();
        }
      }),
      { numRuns: 8 },
    );
    expect(trials).toBeGreaterThan(60);
  });

  it('know a shake that led back: like things may have changed places, none lies elsewhere or by another choice', () => {
    let exchanged = 0;
    fc.assert(
      fc.property(crowds, fc.nat(1000), (problem, seed) => {
        const chain = plainChain(problem);
        const { tangle, base } = chain;
        const { kinds, movable } = tangle;
        expect(isBack(chain)).toBe(true);
        const random = createRandom(seed, 0);
        const put = (i: number, from: number, dx: number): void =>
          setPlace(tangle, i, base.choices[from]!, base.xs[from]! + dx, base.ys[from]!);
        const i = random.below(movable);
        const j = Array.from({ length: movable }, (_, k) => k).find((k) => k !== i && kinds[k] === kinds[i]);
        if (j !== undefined) {
          exchanged++;
          put(i, j, 1);
          put(j, i, -1);
          expect(isBack(chain)).toBe(true);
          // Two where there was one.
          put(i, i, 0);
          put(j, i, 0);
          const samePlace = base.xs[i] === base.xs[j] && base.ys[i] === base.ys[j];
          expect(isBack(chain)).toBe(samePlace);
          put(j, j, 0);
        }
        put(i, i, 100_000_000);
        expect(isBack(chain)).toBe(false);
        put(i, i, 0);
        const { choices } = problem.kinds[kinds[i]!]!;
        if (choices.length > 1) {
          const other = (base.choices[i]! + 1) % choices.length;
          setPlace(tangle, i, other, base.xs[i]!, base.ys[i]!);
          expect(isBack(chain)).toBe(false);
        }
      }),
      { numRuns: 50 },
    );
    expect(exchanged).toBeGreaterThan(20);
  });

  it('stay with the first rise of weights while it succeeds, and take the others when it does not', () => {
    const [problem] = fc.sample(crowds, { seed: 3, numRuns: 1 });
    const random = createRandom(1, 0);
    const chain = plainChain(problem!);
    const countOf = (tries: number, successes: number): number[] => {
      const taken = [0, 0, 0];
      for (let k = 0; k < 60; k++) {
        while (chain.tangle.pairs === 0) workOn(chain, 1, random);
        chain.tries.set([tries, 0, 0]);
        chain.successes.set([successes, 0, 0]);
        const before = chain.riseTried;
        chain.quiet = 1_000_000;
        workOn(chain, 1, random);
        if (chain.tangle.pairs > 0) expect(chain.tries[before]).toBe((before === 0 ? tries : 0) + 1);
        taken[chain.riseTried]!++;
      }
      return taken;
    };
    expect(countOf(1000, 1000)[0]).toBeGreaterThan(55);
    const [first, second, third] = countOf(1000, 0);
    expect(first).toBeLessThan(5);
    expect(Math.min(second!, third!)).toBeGreaterThan(15);
  });

  it('go on from their code just as without', () => {
    let learnt = 0;
    fc.assert(
      fc.property(crowds, fc.nat(1000), (problem, seed) => {
        const chain = plainChain(problem);
        workOn(chain, 700_000, createRandom(seed, 0));
        const again = decodeChain(chain.tangle.tables, encodeChain(chain));
        learnt += Number(again.riseTried > 0) + again.successes.reduce((sum, one) => sum + one, 0);
        expect([...again.tries, ...again.successes, again.riseTried]).toEqual([
          ...chain.tries,
          ...chain.successes,
          chain.riseTried,
        ]);
        workOn(chain, 20_000, createRandom(seed, 1));
        workOn(again, 20_000, createRandom(seed, 1));
        expect(encodeChain(again)).toEqual(encodeChain(chain));
      }),
      { numRuns: 4 },
    );
    expect(learnt).toBeGreaterThan(0);
  });

  it('go on in parts just as in one go', () => {
    fc.assert(
      fc.property(problems, fc.nat(1000), (problem, seed) => {
        const [whole, parts] = [plainChain(problem), plainChain(problem)];
        const [once, again] = [createRandom(seed, 0), createRandom(seed, 0)];
        workOn(whole, 4000, once);
        while (parts.tangle.steps < whole.tangle.steps && parts.bestUm > parts.leastUm) workOn(parts, 1, again);
        const { share, shakes, quiet, bestUm, leastTotal, riseTried, tries, successes } = whole;
        expect(parts).toMatchObject({ share, shakes, quiet, bestUm, leastTotal, riseTried, tries, successes });
      }),
      { numRuns: 40 },
    );
  });
});
