/**
 * How much was asked of the second opinion. `SECOND_OPINION_COUNTS=FILE` adds to that file a line for each test file, from
 * which the figures of docs/trust.md are added up.
 */
import { appendFileSync } from 'node:fs';
import { afterAll, expect } from 'vitest';

/** What was asked, over any number of lays. */
export interface Tally {
  lays: number;
  /** Refused for something that leaves overlaps unjudged, such as an outline that crosses itself. */
  unjudged: number;
  copies: number;
  /** Pairs of outlines that were asked about. */
  pairs: number;
  overlaps: number;
  /** Overlaps of less than the tolerance. */
  slight: number;
  gapsShort: number;
  /** Most by which the two libraries differed in an area. */
  areaApartMost: number;
}

export function newTally(): Tally {
  return { lays: 0, unjudged: 0, copies: 0, pairs: 0, overlaps: 0, slight: 0, gapsShort: 0, areaApartMost: 0 };
}

/** A tally for one test file, told when all its tests have been run. */
export function tallyOfFile(): Tally {
  const tally = newTally();
  afterAll(() => {
    const file = process.env.SECOND_OPINION_COUNTS;
    if (file === undefined || tally.pairs === 0) return;
    appendFileSync(file, `${JSON.stringify({ test: expect.getState().testPath, ...tally })}\n`);
  });
  return tally;
}
