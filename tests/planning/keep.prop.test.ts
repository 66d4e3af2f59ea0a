/**
 * Placements pinned at random in lays of random pieces on random cloths: what is laid anew around them is accepted by the
 * checker, and every pinned copy lies where it lay, to the byte.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chordBound } from '../../src/bounds/bounds.js';
import { checkLay, checkPinned } from '../../src/checker/check-lay.js';
import type { Cloth, LayName } from '../../src/cloth/types.js';
import { sameThreadExecutor } from '../../src/engine/same-thread.js';
import type { Lay } from '../../src/lay/types.js';
import type { CutPiece } from '../../src/pieces/types.js';
import { type KeptLay, keptFrom } from '../../src/planning/keep.js';
import { makeLay } from '../../src/planning/plan-material.js';
import { type Way, waysOf } from '../../src/planning/ways.js';
import { pinnedEnd } from '../../src/problem/lattice.js';
import { declaredOf, layBuilt } from '../support/built-lays.js';
import { cloths, pieces, tubeOf } from '../support/random-garments.js';
import { search } from '../support/search.js';

const runs = Number(process.env.TEST_RUNS ?? 120);
const methods = ['open', 'lengthwise fold', 'partial fold', 'double fold', 'tube'] as const;

/** The lay with those placements pinned whose bits are set, one at least. */
function pinSome(lay: Lay, bits: number): Lay {
  const one = bits % lay.placements.length;
  const placements = lay.placements.map((placement, i) => ({
    ...placement,
    pinned: i === one || ((bits >> (i % 30)) & 1) === 1,
  }));
  return { ...lay, placements };
}

function keptOf(lay: Lay): KeptLay {
  const answer = keptFrom(lay);
  if (!answer.ok) throw new Error(answer.why);
  return answer.kept;
}

/** Every pinned copy, with its placement, without the numbers that follow from the laying order. */
function pinnedCopies({ placements, copies }: Lay): string[] {
  const found = placements.filter(({ pinned }) => pinned);
  return found
    .map(({ piece, garment, copies: numbers }) => {
      const own = numbers.map((n) => ({ ...copies.find((copy) => copy.n === n)!, n: 0 }));
      return JSON.stringify([piece, garment, own]);
    })
    .sort();
}

function expectKept(found: Lay, before: Lay): void {
  expect(checkLay(found).refusals.map(({ sentence }) => sentence)).toEqual([]);
  expect(pinnedCopies(found)).toEqual(pinnedCopies(before));
}

async function searched(way: Way, cloth: Cloth, all: readonly CutPiece[], garments: number): Promise<Lay | null> {
  const [posed] = way.stretches as [Way['stretches'][number]];
  const tools = { executor: sameThreadExecutor(), clock: () => 0, seconds: null, interrupted: () => false };
  const { solution } = await search(posed.problem, { ...tools, seed: 1, effort: 0.5, onProgress: () => undefined });
  if (solution === null) return null;
  expect(solution.lengthUm).toBeGreaterThanOrEqual(pinnedEnd(posed.problem));
  const words = { title: 'Kept', cutListSha256: '0'.repeat(64), material: 'shell', pieces: all, garments };
  const found = { bound: chordBound(posed.problem), status: 'shortest found' as const };
  return makeLay(words, cloth, [{ posed, solution }], found, { seed: 1, effort: 1 });
}

/** A lay by the method with something pinned, and the ways to go on with it. */
function keptWays(
  method: LayName,
  drawn: Cloth,
  all: readonly CutPiece[],
  { which, garments, bits }: { which: number; garments: number; bits: number },
): { readonly cloth: Cloth; readonly lay: Lay; readonly ways: readonly Way[] } | null {
  const cloth = method === 'tube' ? tubeOf(drawn) : drawn;
  const declared = declaredOf(cloth);
  const answer = waysOf(method, declared, { pieces: all, garments });
  const first = answer.legal ? answer.ways.find(({ tooWide }) => tooWide.length === 0) : undefined;
  const built = first === undefined ? null : layBuilt(first, cloth, all, which, garments);
  if (built === null) return null;
  const lay = pinSome(built.lay, bits);
  const expected = { cutListSha256: lay.cutListSha256, pieces: all, cloth, garments };
  expect(checkPinned(lay, expected).refusals).toEqual([]);
  const kept = keptOf(lay);
  const again = waysOf(method, declared, { pieces: all, garments, pins: kept.pins }, kept);
  if (!again.legal) expect(again.why).toContain('unpin');
  return { cloth, lay, ways: again.legal ? again.ways : [] };
}

describe.each(methods)('%s', (method) => {
  it('is laid anew around what is pinned', () => {
    let laid = 0;
    const some = fc.record({ which: fc.nat(23), garments: fc.constantFrom(1, 1, 2, 3), bits: fc.nat(2 ** 30 - 1) });
    fc.assert(
      fc.property(pieces, cloths, some, fc.nat(23), (all, drawn, chance, other) => {
        const going = keptWays(method, drawn, all, chance);
        for (const way of going?.ways ?? []) {
          const built = layBuilt(way, going!.cloth, all, other, chance.garments);
          if (built === null) continue;
          laid += 1;
          const [{ posed, solution }] = built.solved as [(typeof built.solved)[number]];
          expect(chordBound(posed.problem).um).toBeLessThanOrEqual(built.lay.totals.lengthUsed);
          expect(solution.lengthUm).toBeGreaterThanOrEqual(pinnedEnd(posed.problem));
          expectKept(built.lay, going!.lay);
        }
      }),
      { numRuns: runs },
    );
    expect(laid).toBeGreaterThan(runs / 20);
  });

  it('is searched anew around what is pinned', async () => {
    const some = fc.record({ which: fc.nat(23), garments: fc.constantFrom(1, 2), bits: fc.nat(2 ** 30 - 1) });
    await fc.assert(
      fc.asyncProperty(pieces, cloths, some, async (all, drawn, chance) => {
        const going = keptWays(method, drawn, all, chance);
        if (going === null || going.ways.length === 0) return;
        const found = await searched(going.ways[0]!, going.cloth, all, chance.garments);
        if (found !== null) expectKept(found, going.lay);
      }),
      { numRuns: Math.ceil(runs / 20) },
    );
  });
});
