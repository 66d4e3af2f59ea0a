/** What is pinned is judged by itself: whether the rest can be laid anew around it. */
import { expect, test } from 'vitest';
import { checkPinned, type Expected } from '../../src/checker/check-lay.js';
import type { Lay } from '../../src/lay/types.js';
import { copyOf, damaged, type Loose, moveCopy, openRow } from '../support/damage.js';

/** Copies 1 (Slant) and 4 (Square) are pinned. */
const pinned = damaged(openRow, (lay) => {
  lay.placements[0]!.pinned = true;
  lay.placements[3]!.pinned = true;
});

const expected: Expected = {
  cutListSha256: pinned.cutListSha256,
  pieces: pinned.pieces,
  cloth: pinned.cloth,
  garments: 1,
};

function codes(edit: (lay: Loose<Lay>) => void, wanted: Partial<Expected> = {}): string[] {
  return checkPinned(damaged(pinned, edit), { ...expected, ...wanted }).refusals.map(({ code }) => code);
}

test('a part of a lay is accepted, its sums not looked at', () => {
  expect(checkPinned(pinned, expected)).toEqual({ accepted: true, refusals: [] });
  expect(
    codes((lay) => {
      lay.totals.buy = 0;
      lay.totals.areaUm2 = 1;
    }),
  ).toEqual([]);
});

test('what is not pinned may lie wrong', () => {
  expect(codes((lay) => moveCopy(lay, 3, 0, 1))).toEqual([]);
  expect(codes((lay) => moveCopy(lay, 2, 0, -900_000))).toEqual([]);
});

test('what is pinned may not', () => {
  expect(codes((lay) => moveCopy(lay, 1, 0, -1))).toEqual(['off-usable-width']);
  expect(codes((lay) => moveCopy(lay, 4, 0, -450_000))).toEqual(['copies-overlap']);
  expect(
    codes((lay) => {
      copyOf(lay, 4).is = 'mirrored';
    }),
  ).toEqual(['wrong-hand']);
  expect(
    codes((lay) => {
      lay.placements[3]!.garment = 2;
    }),
  ).toEqual(['garment-unknown']);
  expect(
    codes((lay) => {
      lay.placements[3]!.stretch = 7;
    }),
  ).toEqual(['stretch-unknown']);
});

test('more than is wanted is refused; fewer are not missing', () => {
  const pieces = damaged(pinned, (lay) => {
    lay.pieces[1]!.demand.asDrawn = 0;
  }).pieces;
  const fewer = (lay: Loose<Lay>) => {
    lay.pieces[1]!.demand.asDrawn = 0;
  };
  expect(codes(fewer, { pieces })).toEqual(['copy-surplus']);
  expect(codes(() => {}, { garments: 5 })).toEqual([]);
});

test('it is held against the cut list', () => {
  expect(codes(() => {}, { cutListSha256: 'f'.repeat(64) })).toEqual(['other-cut-list']);
  expect(codes(() => {}, { cloth: { ...pinned.cloth, gap: 0 } })).toEqual(['cloth-differs']);
});
