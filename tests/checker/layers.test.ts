/** What may not be on cloth doubled along or across, on a tube and around flaws; each refusal in its words. */
import { expect, test } from 'vitest';
import { checkLay } from '../../src/checker/check-lay.js';
import type { Cloth } from '../../src/cloth/types.js';
import type { Lay } from '../../src/lay/types.js';
import type { CutPiece } from '../../src/pieces/types.js';
import { firstLay } from '../support/built-lays.js';
import { lawn, plainPiece, slant } from '../support/cut-pieces.js';
import { codesOf, damaged, foldPiece, type Loose, moveCopy, refit } from '../support/damage.js';

const pair = slant({ asDrawn: 1, mirrored: 1 });
const odd: CutPiece = { ...slant({ asDrawn: 1, mirrored: 0 }), id: 'Odd' };
const onFold: CutPiece = {
  ...foldPiece,
  demand: { asDrawn: 1, mirrored: 0 },
  lines: [
    {
      kind: 'fold',
      points: [
        [0, 0],
        [300_000, 0],
      ],
    },
  ],
};
/** Symmetric about x = 0, where its fold is. */
const onFoldAcross: CutPiece = {
  ...plainPiece(
    'Yoke',
    [
      [-150_000, 0],
      [150_000, 0],
      [120_000, 200_000],
      [-120_000, 200_000],
    ],
    { asDrawn: 1, mirrored: 0 },
    true,
  ),
  lines: [
    {
      kind: 'fold',
      points: [
        [0, 0],
        [0, 200_000],
      ],
    },
  ],
};
const tube: Cloth = { ...lawn, width: 1_200_000, usable: [0, 1_200_000] };
const turnable: Cloth = { ...lawn, nap: 'none' };

const sound: Readonly<Record<string, Lay>> = {
  partial: firstLay('partial fold', lawn, [pair, odd, onFold]),
  double: firstLay('double fold', { ...lawn, width: 1_500_000, usable: [10_000, 1_490_000] }, [pair, odd, onFold]),
  tube: firstLay('tube', tube, [pair, onFold]),
  across: firstLay('crosswise fold', turnable, [pair, onFoldAcross]),
  turned: firstLay('crosswise cut and turned', lawn, [pair]),
  stretches: firstLay('combination', lawn, [pair, odd, onFold]),
  flawed: firstLay(
    'lengthwise fold',
    {
      ...lawn,
      flaws: [
        [
          [100_000, 900_000],
          [200_000, 900_000],
          [200_000, 1_000_000],
          [100_000, 1_000_000],
        ],
      ],
    },
    [pair, onFold],
  ),
};

test.each(Object.entries(sound))('%s: sound as it was built', (_, lay) => {
  expect(checkLay(lay).refusals).toEqual([]);
});

/** Copies of the placement of a piece. */
function copiesOf(lay: Loose<Lay>, piece: string): number[] {
  return lay.placements.filter((placement) => placement.piece === piece).flatMap(({ copies }) => copies);
}

test('an odd copy pushed half onto the turned-over part', () => {
  expect(
    codesOf(sound.partial!, (lay) => {
      const [n] = copiesOf(lay, 'Odd');
      const [fold] = lay.stretches[0]!.folds;
      const lowest = Math.min(...lay.copies.find((copy) => copy.n === n)!.outline.map(([, y]) => y));
      moveCopy(lay, n!, 2_000_000, 2 * fold - lowest - 1);
    }),
  ).toEqual(['crosses-edge']);
});

test('a single copy on the doubled part', () => {
  expect(
    codesOf(sound.partial!, (lay) => {
      const [n] = copiesOf(lay, 'Odd');
      const lowest = Math.min(...lay.copies.find((copy) => copy.n === n)!.outline.map(([, y]) => y));
      moveCopy(lay, n!, 2_000_000, 10_000 - lowest);
    }),
  ).toContain('single-on-doubled');
});

test('a pair on the single part', () => {
  expect(
    codesOf(sound.double!, (lay) => {
      const numbers = copiesOf(lay, 'Slant');
      for (const n of numbers) {
        const lowest = Math.min(...lay.copies.find((copy) => copy.n === n)!.outline.map(([, y]) => y));
        moveCopy(lay, n, 1_000_000 * (1 + numbers.indexOf(n)), 2 * lay.stretches[0]!.folds[0] + 20_000 - lowest);
      }
    }),
  ).toContain('pair-on-open');
});

test('a partial fold deeper than half the width; a fold across where there is none', () => {
  const deeper = (lay: Loose<Lay>) => {
    lay.stretches[0]!.folds = [600_000, 0];
  };
  expect(codesOf(sound.partial!, deeper)).toContain('fold-depth');
  const across = (lay: Loose<Lay>) => {
    lay.stretches[0]!.foldX = 30_000;
  };
  expect(codesOf(sound.partial!, across)).toContain('fold-depth');
  const without = (lay: Loose<Lay>) => {
    delete lay.stretches[0]!.cutX;
  };
  expect(codesOf(sound.turned!, without)).toContain('fold-depth');
});

test('round a tube copies overlap too', () => {
  const lay = damaged(sound.tube!, (loose) => {
    const [first, second] = copiesOf(loose, 'Slant');
    // Once round the tube they lie where they lay; the panel goes where one of them is.
    moveCopy(loose, first!, 0, 1_200_000);
    moveCopy(loose, second!, 0, 1_200_000);
    refit(loose);
  });
  expect(checkLay(lay).refusals.map(({ code }) => code)).not.toContain('copies-overlap');
  const onto = damaged(lay, (loose) => {
    const panel = copiesOf(loose, 'Panel')[0]!;
    const [n] = copiesOf(loose, 'Slant');
    const at = (copy: number) => loose.copies.find((one) => one.n === copy)!.outline[0]!;
    moveCopy(loose, panel, at(n!)[0] - at(panel)[0], at(n!)[1] - 1_200_000 - at(panel)[1]);
    refit(loose);
  });
  expect(checkLay(onto).refusals.map(({ code }) => code)).toContain('copies-overlap');
});

test('a pair off the other layer of a crosswise fold, over its fold, against the nap', () => {
  const [first] = copiesOf(sound.across! as Loose<Lay>, 'Slant');
  expect(codesOf(sound.across!, (lay) => moveCopy(lay, first!, 1, 0))).toContain('not-reflected');
  expect(
    codesOf(sound.across!, (lay) => {
      for (const [i, n] of copiesOf(lay, 'Slant').entries()) moveCopy(lay, n, i === 0 ? -100_000 : 100_000, 0);
    }),
  ).toContain('over-fold');
  const napped = (lay: Loose<Lay>) => {
    lay.cloth.nap = 'one-way';
  };
  expect(codesOf(sound.across!, napped)).toEqual(['against-nap']);
});

test('a piece beside a crosswise fold, or whose fold edge runs along the grain', () => {
  expect(codesOf(sound.across!, (lay) => moveCopy(lay, copiesOf(lay, 'Yoke')[0]!, 1, 0))).toContain('off-fold');
  const along = (lay: Loose<Lay>) => {
    lay.pieces.find(({ id }) => id === 'Yoke')!.lines[0]!.points = [
      [0, 0],
      [10_000, 0],
    ];
  };
  expect(codesOf(sound.across!, along)).toEqual(['fold-along-grain']);
});

test('one copy, or a copy over the cut, on cloth cut across and turned', () => {
  const single = (lay: Loose<Lay>) => {
    lay.placements[0]!.copies = [1];
    lay.copies = lay.copies.filter(({ n }) => n === 1);
  };
  expect(codesOf(sound.turned!, single)).toEqual(['copy-missing', 'fold-depth', 'single-on-doubled']);
  const [first, second] = copiesOf(sound.turned! as Loose<Lay>, 'Slant');
  const over = (lay: Loose<Lay>) => {
    moveCopy(lay, first!, 10_000, 0);
    moveCopy(lay, second!, 10_000, 0);
  };
  // The stretch begins later now, so the layers are no longer as far apart as they were cut.
  expect(codesOf(sound.turned!, over)).toEqual(['not-reflected', 'over-fold']);
});

test('a copy on a flaw, of which only one micrometre counts', () => {
  const onto = (lay: Loose<Lay>) => {
    const copy = lay.copies.find(({ outline }) => Math.min(...outline.map(([, y]) => y)) > 575_000)!;
    const [x, y] = copy.outline[0]!;
    lay.cloth.flaws = [
      [
        [x, y],
        [x + 1, y],
        [x + 1, y + 1],
        [x, y + 1],
      ],
    ];
  };
  const codes = codesOf(sound.flawed!, onto);
  expect(codes).toEqual(['on-flaw']);
  const crossing = (lay: Loose<Lay>) => {
    lay.cloth.flaws = [
      [
        [0, 0],
        [10, 10],
        [10, 0],
        [0, 10],
      ],
    ];
  };
  expect(codesOf(sound.flawed!, crossing)).toEqual(['flaw-not-simple']);
});
