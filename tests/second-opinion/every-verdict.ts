/**
 * Verdicts of the checker in any test are held against the second opinion on the spot, whatever made the lay: files,
 * samples, generators, the search, damage by hand. A disagreement fails that test. It costs far more than the verdict
 * itself, so of one test, which may go through thousands of random lays, the first few are taken; `SECOND_OPINION=every`
 * takes all.
 */
import { expect, vi } from 'vitest';
import type { Verdict } from '../../src/checker/types.js';
import type { Lay } from '../../src/lay/types.js';
import { tallyOfFile } from './tally.js';

/** Of a thousand copies piled up every pair is close: hours for the libraries. */
const copiesMost = 300;
/** More than any test has that is not random. */
const mostOfOneTest = process.env.SECOND_OPINION === 'every' ? Number.POSITIVE_INFINITY : 30;

const tally = tallyOfFile();
const taken = new Map<string, number>();

type Opinion = typeof import('./opinion.js').secondOpinion;

function agreed(secondOpinion: Opinion, lay: Lay, verdict: Verdict, sums = true): Verdict {
  const test = expect.getState().currentTestName ?? '';
  const before = taken.get(test) ?? 0;
  taken.set(test, before + 1);
  if (before >= mostOfOneTest || lay.copies.length > copiesMost) return verdict;
  const differences = secondOpinion(lay, verdict, tally, sums);
  if (differences.length > 0) throw new Error(`the second opinion differs:\n${differences.join('\n')}`);
  return verdict;
}

vi.mock('../../src/checker/check-lay.js', async (importOriginal) => {
  // The libraries are loaded for those tests alone that the checker is loaded for.
  const { secondOpinion } = await import('./opinion.js');
  const agree = agreed.bind(null, secondOpinion);
  const checker = await importOriginal<typeof import('../../src/checker/check-lay.js')>();
  return {
    ...checker,
    checkLay: (lay: Lay) => agree(lay, checker.checkLay(lay)),
    checkLayAgainst: (lay: Lay, expected: Parameters<typeof checker.checkLayAgainst>[1]) =>
      agree(lay, checker.checkLayAgainst(lay, expected)),
    checkPinned: (lay: Lay, expected: Parameters<typeof checker.checkPinned>[1]) => {
      const placements = lay.placements.filter(({ pinned }) => pinned);
      const numbers = new Set(placements.flatMap(({ copies }) => copies));
      const part = { ...lay, placements, copies: lay.copies.filter(({ n }) => numbers.has(n)) };
      return agree(part, checker.checkPinned(lay, expected), false);
    },
  };
});
