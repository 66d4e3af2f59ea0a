/** A wrong verdict is noticed: the second opinion is given lays with what a mistaken checker would say of them. */
import { describe, expect, it, vi } from 'vitest';
import { checkLay } from '../../src/checker/check-lay.js';
import type { Verdict } from '../../src/checker/types.js';
import type { Lay } from '../../src/lay/types.js';
import { damaged, type Loose, moveCopy, openRow, refit, tightRow } from '../support/damage.js';
import { secondOpinion } from './opinion.js';
import { newTally } from './tally.js';

vi.unmock('../../src/checker/check-lay.js');

const accepted: Verdict = { accepted: true, refusals: [] };

function refusedFor(code: string, sentence: string): Verdict {
  return { accepted: false, refusals: [{ code, sentence }] };
}

function opinionOn(lay: Lay, verdict: Verdict): readonly string[] {
  return secondOpinion(lay, verdict, newTally());
}

/** The lay after an edit, totals made to fit. */
function after(lay: Lay, edit: (lay: Loose<Lay>) => void): Lay {
  return damaged(lay, (loose) => {
    edit(loose);
    refit(loose);
  });
}

const faults: readonly { readonly what: string; readonly lay: Lay; readonly word: RegExp }[] = [
  {
    what: 'an overlap of one micrometre',
    lay: after(tightRow, (lay) => moveCopy(lay, 3, 0, 1)),
    word: /copy 3 on copy 4: the checker finds no overlap.*200000 um2.*200000 um2/,
  },
  {
    what: 'a gap one micrometre short',
    lay: after(openRow, (lay) => moveCopy(lay, 3, 0, 1)),
    word: /copy 3 on copy 4: nearer than 3000 um.* 2999 um.* 2999 um/,
  },
  {
    what: 'a copy over the left edge',
    lay: after(openRow, (lay) => moveCopy(lay, 1, 0, -1)),
    word: /copy 1 on the left edge/,
  },
  {
    what: 'a copy over the right edge',
    lay: after(openRow, (lay) => moveCopy(lay, 4, 0, 300_000)),
    word: /copy 4 on the right edge/,
  },
  {
    what: 'a copy in the cut end',
    lay: after(openRow, (lay) => moveCopy(lay, 4, -1, 0)),
    word: /copy 4 on the cut end/,
  },
  {
    what: 'a copy past the length at hand',
    lay: after(openRow, (lay) => {
      lay.cloth.length = 239_999;
    }),
    word: /copy 1 on the far end/,
  },
  {
    what: 'a copy out of its stretch',
    lay: damaged(openRow, (lay) => {
      lay.stretches[0]!.from += 1;
    }),
    word: /copy 1 on its stretch begins/,
  },
  {
    what: 'a copy on a flaw',
    lay: damaged(openRow, (lay) => {
      lay.cloth.flaws = [
        [
          [30_000, 20_000],
          [31_000, 20_000],
          [31_000, 21_000],
          [30_000, 21_000],
        ],
      ];
    }),
    word: /copy 1 on flaw 1/,
  },
  {
    what: 'a wrong area',
    lay: damaged(openRow, (lay) => {
      lay.totals.areaUm2 += 10;
    }),
    word: /the area is given as/,
  },
  {
    what: 'a wrong utilisation',
    lay: damaged(openRow, (lay) => {
      lay.totals.utilisationPpm += 1;
    }),
    word: /the utilisation is given as/,
  },
];

describe('a checker that overlooks', () => {
  it.each(faults)('$what', ({ lay, word }) => {
    expect(opinionOn(lay, accepted).join('\n')).toMatch(word);
    expect(opinionOn(lay, checkLay(lay))).toEqual([]);
  });

  it('nothing is overlooked in a legal lay', () => {
    for (const lay of [openRow, tightRow]) expect(opinionOn(lay, accepted)).toEqual([]);
  });

  it('copies that overlap round a tube', () => {
    const lay = damaged(openRow, (loose) => {
      Object.assign(loose.cloth, { width: 1_160_000, usable: [0, 1_160_000] });
      Object.assign(loose.stretches[0]!, { method: 'tube', folds: [290_000, 290_000] });
      // From 679 mm on; moved so that it ends one micrometre past the beginning of copy 1, a round further.
      moveCopy(loose, 4, 0, 1_170_001 - 879_000);
      refit(loose);
    });
    expect(opinionOn(lay, accepted).join('\n')).toMatch(/copy 1 on copy 4: the checker finds no overlap/);
    expect(opinionOn(lay, checkLay(lay))).toEqual([]);
  });
});

describe('a checker that imagines', () => {
  it.each([
    ['copies-overlap', 'copy 3 (Square) reaches 0.001 mm into copy 4 (Square)'],
    ['copies-overlap', 'copy 1 (Slant) reaches 0.001 mm into copy 4 (Square)'],
    ['gap-short', 'copy 1 (Slant) comes near copy 4 (Square): 0.001 mm short of the gap of 3 mm'],
    ['off-usable-width', 'copy 1 (Slant) reaches 0.001 mm over the left edge of the usable width'],
    ['off-stretch', 'copy 1 (Slant) reaches 0.001 mm out of stretch 1 towards the far end'],
    ['on-flaw', 'copy 1 (Slant) lies on flaw 1, which begins 30 mm from the cut end'],
    ['total-area', 'the area of the copies is given as 1 um2; it is 2 um2'],
    ['total-utilisation', 'the utilisation is given as 1 parts in a million; it is 2'],
  ])('%s: %s', (code, sentence) => {
    expect(opinionOn(openRow, refusedFor(code, sentence))).toHaveLength(code.startsWith('total') ? 2 : 1);
  });
});
