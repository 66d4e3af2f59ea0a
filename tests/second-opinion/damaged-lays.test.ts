/**
 * Lays that have been damaged at random: one copy is put nearer to another, from one micrometre into it to right on top of
 * it. Every overlap and every gap too small that the checker finds the two libraries find too, with one area between them,
 * and the other way round.
 */
import fc from 'fast-check';
import { expect, it, vi } from 'vitest';
import { checkLay } from '../../src/checker/check-lay.js';
import type { Lay } from '../../src/lay/types.js';
import type { Outline, Point } from '../../src/units/types.js';
import { damaged, foldedRow, moveCopy, openRow, refit, tightRow } from '../support/damage.js';
import { markerLays } from '../support/marker-lays.js';
import { secondOpinion } from './opinion.js';
import { tallyOfFile } from './tally.js';

vi.unmock('../../src/checker/check-lay.js');

const runs = Number(process.env.TEST_RUNS ?? 300);

/** Lays of a kind have pieces with few corners and with many, in rows and nested, folded and open. */
const sound: readonly Lay[] = [...Object.values(markerLays), openRow, tightRow, foldedRow];

const tally = tallyOfFile();

function middle(outline: Outline): Point {
  const mean = (k: 0 | 1) => outline.reduce((sum, point) => sum + point[k], 0) / outline.length;
  return [mean(0), mean(1)];
}

/** One copy brought nearer to another by a share of their distance, then by so many micrometres. */
const damages = fc.record({
  lay: fc.nat(sound.length - 1),
  one: fc.nat(),
  other: fc.nat(),
  share: fc.oneof(fc.constant(0), fc.constant(1), fc.double({ min: 0, max: 1, noNaN: true })),
  dx: fc.integer({ min: -3, max: 3 }),
  dy: fc.integer({ min: -3, max: 3 }),
});

it(
  'overlaps of damaged lays are found by all three, with one area',
  () => {
    let accepted = 0;
    fc.assert(
      fc.property(damages, ({ lay: which, one, other, share, dx, dy }) => {
        const lay = sound[which]!;
        const [moved, still] = [lay.copies[one % lay.copies.length]!, lay.copies[other % lay.copies.length]!];
        const [from, to] = [middle(moved.outline), middle(still.outline)];
        const by = (k: 0 | 1) => Math.round(share * (to[k] - from[k]));
        const found = damaged(lay, (loose) => {
          moveCopy(loose, moved.n, by(0) + dx, by(1) + dy);
          if (loose.stretches.length === 1) refit(loose);
        });
        const verdict = checkLay(found);
        if (verdict.accepted) accepted += 1;
        expect(secondOpinion(found, verdict, tally)).toEqual([]);
      }),
      { numRuns: runs },
    );
    expect(tally.unjudged).toBe(0);
    expect(tally.overlaps).toBeGreaterThan(runs / 3);
    expect(tally.gapsShort).toBeGreaterThan(0);
    expect(accepted).toBeGreaterThan(0);
  },
  1_000 * runs,
);
