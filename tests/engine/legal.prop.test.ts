/** Whatever is asked for - zones, fixed y, lattices, blocked areas, gaps - every lay found is legal. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeChain, encodeChain } from '../../src/engine/chain-code.js';
import { build, countThings } from '../../src/engine/construct.js';
import { makeGround } from '../../src/engine/ground.js';
import { decodeSolution, encodeLay } from '../../src/engine/lay-code.js';
import { plainOrders, sizesOf } from '../../src/engine/orders.js';
import { createRandom, type Random } from '../../src/engine/random.js';
import { sameThreadExecutor } from '../../src/engine/same-thread.js';
import { startSearch } from '../../src/engine/search.js';
import { settle } from '../../src/engine/settle.js';
import { forgetTables, makeTables } from '../../src/engine/tables.js';
import { setPlace, totalRoot } from '../../src/engine/tangle.js';
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

  /** A chain over many things that begins to try shakes; null when it came apart before. */
  function trying(problem: Problem, random: Random): Chain | null {
    const chain = plainChain(problem);
    for (let steps = 0; steps < 200 && chain.tangle.pairs === 0; steps++) workOn(chain, 1, random);
    // A round, and untangling is given up.
    workOn(chain, 1, random);
    if (chain.tangle.pairs === 0 || chain.leastTotal === Number.POSITIVE_INFINITY) return null;
    chain.quiet = 1_000_000;
    workOn(chain, 1, random);
    return chain.trialRounds > 0 ? chain : null;
  }

  /** The same chain from its code; what one does does not change the other. */
  function copyOf(chain: Chain): Chain {
    return decodeChain(chain.tangle.tables, encodeChain(chain));
  }

  it('of many things are legal after shakes were tried, and the code says how far that is', () => {
    let trials = 0;
    fc.assert(
      fc.property(crowds, fc.nat(1000), (problem, seed) => {
        const random = createRandom(seed, 0);
        const chain = trying(problem, random);
        if (chain === null) return;
        const { tangle, leastBad } = chain;
        for (let before = chain.trialRounds; before > 0; before = chain.trialRounds) {
          trials++;
          const code = encodeChain(chain);
          expect(encodeChain(copyOf(chain))).toEqual(code);
          if (before % 10 === 3) {
            const here = copyOf(chain);
            let there = copyOf(chain);
            const [once, anew] = [createRandom(seed, before), createRandom(seed, before)];
            for (let round = 0; round < 15; round++) {
              workOn(here, 1, once);
              workOn(there, 1, anew);
              there = copyOf(there);
            }
            expect(encodeChain(there)).toEqual(encodeChain(here));
          }
          workOn(chain, 1, random);
          expect([0, before - 1]).toContain(chain.trialRounds);
          expect(faultOf(problem, decodeSolution(problem, encodeLay(tangle.kinds, chain.best)))).toBeNull();
          if (before > 1 || tangle.pairs === 0 || chain.leastTotal === Number.POSITIVE_INFINITY) continue;
          // The last trial is over: untangled with patience is the least bad one.
          expect(totalRoot(tangle)).toBe(chain.leastTotal);
          expect([...tangle.xs.subarray(0, tangle.movable)]).toEqual([...leastBad.xs]);
        }
      }),
      { numRuns: 8 },
    );
    expect(trials).toBeGreaterThan(120);
  });

  it('leave a shake that led back out, also when it is the least bad one', () => {
    let looked = 0;
    fc.assert(
      fc.property(crowds, fc.nat(1000), (problem, seed) => {
        const chain = trying(problem, createRandom(seed, 0));
        if (chain === null) return;
        // One round before the end of a trial.
        chain.trialRounds = 11;
        const [first, second] = [copyOf(chain), copyOf(chain)];
        const last = copyOf(chain);
        last.trialRounds = 100;
        workOn(last, 1, createRandom(seed, 1));
        if (last.tangle.pairs === 0) return;
        looked++;
        workOn(first, 1, createRandom(seed, 1));
        expect(first.leastTotal).toBe(totalRoot(last.tangle));
        const { choices, xs, ys, movable } = last.tangle;
        second.base.choices.set(choices.subarray(0, movable));
        second.base.xs.set(xs.subarray(0, movable));
        second.base.ys.set(ys.subarray(0, movable));
        workOn(second, 1, createRandom(seed, 1));
        expect(second.leastTotal).toBe(Number.POSITIVE_INFINITY);
      }),
      { numRuns: 8 },
    );
    expect(looked).toBeGreaterThan(3);
  });

  it('know what led back: like things may have changed places, none lies further off than a 16th of its smaller side', () => {
    let beyond = 0;
    fc.assert(
      fc.property(crowds, fc.nat(1000), (problem, seed) => {
        const chain = plainChain(problem);
        const { tangle, base } = chain;
        const { kinds, movable, tables } = tangle;
        expect(isBack(chain)).toBe(true);
        const random = createRandom(seed, 0);
        const put = (k: number, from: number, dx: number, dy: number): void =>
          setPlace(tangle, k, base.choices[from]!, base.xs[from]! + dx, base.ys[from]! + dy);
        const i = random.below(movable);
        const j = kinds.findIndex((kind, k) => k !== i && kind === kinds[i]);
        put(i, j, 1, 0);
        put(j, i, 0, -1);
        expect(isBack(chain)).toBe(true);
        put(i, i, 0, 0);
        put(j, j, 0, 0);
        const { minX, maxX, minY, maxY } = tables.searchedBox[tangle.shapes[i]!]!;
        const near = Math.floor(Math.min(maxX - minX, maxY - minY) / 16);
        for (const [x, y] of [
          [1, 0],
          [-1, 0],
          [0, 1],
          [0, -1],
        ] as const) {
          put(i, i, near * x, near * y);
          expect(isBack(chain)).toBe(true);
        }
        // A micrometre more, where no other one like it lies near.
        for (const [x, y] of [
          [near + 1, 0],
          [0, near + 1],
        ] as const) {
          put(i, i, x, y);
          const isNear = (k: number): boolean =>
            Math.abs(base.xs[k]! - tangle.xs[i]!) <= near && Math.abs(base.ys[k]! - tangle.ys[i]!) <= near;
          if (base.xs.some((_, k) => k !== i && tangle.shapes[k] === tangle.shapes[i] && isNear(k))) continue;
          beyond++;
          expect(isBack(chain)).toBe(false);
        }
      }),
      { numRuns: 50 },
    );
    expect(beyond).toBeGreaterThan(50);
  });

  it('stay with the first rise of weights while it succeeds, and take the others when it does not', () => {
    const [problem] = fc.sample(crowds, { seed: 3, numRuns: 1 });
    const random = createRandom(1, 0);
    const chain = plainChain(problem!);
    const countOf = (tries: number, successes: number): number[] => {
      const taken = [0, 0, 0];
      for (let k = 0; k < 60; k++) {
        while (chain.tangle.pairs === 0 || chain.leastTotal === Number.POSITIVE_INFINITY) workOn(chain, 1, random);
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
    fc.assert(
      fc.property(crowds, fc.nat(1000), (problem, seed) => {
        const chain = plainChain(problem);
        workOn(chain, 700_000, createRandom(seed, 0));
        // As after much more work.
        chain.tries.set([70, 50, 30]);
        chain.successes.set([7, 11, 13]);
        chain.riseTried = 1 + (seed % 2);
        const again = decodeChain(chain.tangle.tables, encodeChain(chain));
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
