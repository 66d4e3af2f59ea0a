/** Places on a repeat, to the micrometre; folds and layers on an axis of the design. */
import { describe, expect, test } from 'vitest';
import { checkLay } from '../../src/checker/check-lay.js';
import type { Cloth, Repeat } from '../../src/cloth/types.js';
import type { Lay } from '../../src/lay/types.js';
import type { CutPiece } from '../../src/pieces/types.js';
import { firstLay } from '../support/built-lays.js';
import { lawn, slant } from '../support/cut-pieces.js';
import { codesOf, foldPiece, type Loose, moveCopy, reposeCopy } from '../support/damage.js';

const plaid: Repeat = { along: 80_000, across: 60_000, start: null, mirror: 'both', drop: false };
const matched: CutPiece = {
  ...slant({ asDrawn: 1, mirrored: 1 }),
  match: [
    { at: [50_000, 0], group: 'hip', way: 'both' },
    { at: [200_000, 180_000], group: 'hem', way: 'along' },
  ],
};
const front: CutPiece = {
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
  match: [
    { at: [100_000, 90_000], group: 'hip', way: 'both' },
    { at: [100_000, -90_000], group: 'hip', way: 'both' },
  ],
};

function clothOf(repeat: Partial<Repeat>, rest: Partial<Cloth> = {}): Cloth {
  return { ...lawn, repeat: { ...plaid, ...repeat }, ...rest };
}

const open = firstLay('open', clothOf({}), [matched, front]);
const folded = firstLay('lengthwise fold', clothOf({}), [matched, front]);
const dropped = firstLay('open', clothOf({ drop: true, mirror: 'none' }, { nap: 'none' }), [
  { ...matched, match: matched.match.slice(0, 1) },
]);
const turned = firstLay('crosswise cut and turned', clothOf({}), [matched]);
const across = firstLay('crosswise fold', clothOf({}, { nap: 'none' }), [matched]);

test.each(Object.entries({ open, folded, dropped, turned, across }))('%s: sound as it was built', (_, lay) => {
  expect(checkLay(lay).refusals).toEqual([]);
});

describe('a micrometre off its place', () => {
  test.each([
    ['along', 1, 0],
    ['across', 0, 1],
  ] as const)('%s', (_, dx, dy) => {
    expect(codesOf(open, (lay) => moveCopy(lay, lay.copies.at(-1)!.n, dx, dy))).toContain('off-repeat');
  });

  test('a whole repeat away is the same place', () => {
    expect(codesOf(open, (lay) => moveCopy(lay, lay.copies.at(-1)!.n, 400_000, 0))).toEqual([]);
  });

  test('with a drop a column further is half a repeat further along', () => {
    const move = (dx: number, dy: number) =>
      codesOf(dropped, (lay) => moveCopy(lay, lay.copies.at(-1)!.n, 400_000 + dx, dy)).includes('off-repeat');
    expect(move(40_000, 60_000)).toBe(false);
    expect(move(0, 120_000)).toBe(false);
    expect(move(0, 60_000)).toBe(true);
  });
});

test('a point of the group "bar" lies on a bar', () => {
  const barred = firstLay('open', clothOf({ start: [10_000, 7_000] }), [
    { ...matched, match: [{ at: [50_000, 0], group: 'bar', way: 'both' }] },
  ]);
  expect(checkLay(barred).refusals).toEqual([]);
  const shifted = (lay: Loose<Lay>) => {
    lay.cloth.repeat!.start = [10_001, 7_000];
  };
  expect(codesOf(barred, shifted)).toEqual(['off-repeat']);
});

test('a copy turned where the design does not look the same turned', () => {
  const plain = firstLay('open', clothOf({ mirror: 'none' }, { nap: 'none' }), [
    { ...matched, demand: { asDrawn: 2, mirrored: 0 } },
  ]);
  expect(codesOf(plain, (lay) => reposeCopy(lay, 2, { turned: 180 }))).toContain('turned-on-repeat');
});

test('a fold beside the axis of the design, or of a design that is not the same mirrored', () => {
  const shifted = (lay: Loose<Lay>) => {
    lay.cloth.repeat!.start = [0, 575_001];
  };
  expect(codesOf(folded, shifted)).toContain('fold-off-repeat');
  const plain = (lay: Loose<Lay>) => {
    lay.cloth.repeat!.mirror = 'none';
  };
  for (const lay of [folded, turned, across]) expect(codesOf(lay, plain)).toContain('fold-off-repeat');
});

test('layers of cloth cut across that are no whole number of repeats apart', () => {
  const longer = (lay: Loose<Lay>) => {
    lay.cloth.repeat!.along = 81_000;
  };
  expect(codesOf(turned, longer)).toContain('fold-off-repeat');
});

test('one repeat more is bought where it is not known how far the first bar is', () => {
  const partOf = (lay: Lay) => lay.totals.buyParts.find(({ why }) => why === 'reaching the first bar')?.um ?? 0;
  expect(partOf(open)).toBe(80_000);
  expect(partOf(firstLay('open', clothOf({ start: [0, 0] }), [matched, front]))).toBe(0);
  const onlyAcross = { ...matched, match: [{ at: [50_000, 0] as const, group: 'hip', way: 'across' as const }] };
  expect(partOf(firstLay('open', clothOf({}), [onlyAcross]))).toBe(0);
});
