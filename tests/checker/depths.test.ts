/** Depths of folds that a stretch may have, and the bands they double: docs/lay-file.md, "stretches". */
import { describe, expect, test } from 'vitest';
import { depthsWrong, doubledBands, partnerOf } from '../../src/checker/layers.js';
import type { Cloth, LayMethod } from '../../src/cloth/types.js';
import type { Stretch } from '../../src/lay/types.js';
import { lawn } from '../support/cut-pieces.js';

const cloth: Cloth = { ...lawn, width: 1_200_000, usable: [0, 1_200_000] };

function stretch(method: LayMethod, folds: readonly [number, number] = [0, 0], more: Partial<Stretch> = {}): Stretch {
  return { id: 1, from: 20_000, to: 500_000, method, folds, ...more };
}

describe('depths', () => {
  test.each<[LayMethod, readonly [number, number], boolean]>([
    ['open', [0, 0], true],
    ['open', [1, 0], false],
    ['open', [0, 1], false],
    ['lengthwise fold', [600_000, 0], true],
    ['lengthwise fold', [599_999, 0], false],
    ['lengthwise fold', [600_000, 1], false],
    ['partial fold', [1, 0], true],
    ['partial fold', [599_999, 0], true],
    ['partial fold', [600_000, 0], false],
    ['partial fold', [0, 0], false],
    ['partial fold', [300_000, 1], false],
    ['double fold', [1, 1], true],
    ['double fold', [300_000, 300_000], true],
    ['double fold', [300_000, 300_001], false],
    ['double fold', [0, 300_000], false],
    ['double fold', [300_000, 0], false],
    ['tube', [300_000, 300_000], true],
    ['tube', [300_000, 300_001], false],
    ['tube', [299_999, 300_000], false],
  ])('%s %j: %s', (method, folds, isRight) => {
    expect(depthsWrong(stretch(method, folds), cloth)).toBe(isRight ? null : 'folds');
  });

  test('a tube has no selvedge to lose', () => {
    const tube = stretch('tube', [300_000, 300_000]);
    expect(depthsWrong(tube, { ...cloth, usable: [1, 1_200_000] })).toBe('folds');
    expect(depthsWrong(tube, { ...cloth, usable: [0, 1_199_999] })).toBe('folds');
  });

  test('a fold or a cut across where there is one, within the stretch, and nowhere else', () => {
    const fold = 'a place of the fold across it (foldX)';
    const cut = 'a place of the cut across it (cutX)';
    expect(depthsWrong(stretch('crosswise fold', [0, 0], { foldX: 260_000 }), cloth)).toBeNull();
    expect(depthsWrong(stretch('crosswise fold'), cloth)).toBe(fold);
    expect(depthsWrong(stretch('open', [0, 0], { foldX: 260_000 }), cloth)).toBe(fold);
    expect(depthsWrong(stretch('crosswise cut and turned', [0, 0], { cutX: 260_000 }), cloth)).toBeNull();
    expect(depthsWrong(stretch('crosswise cut and turned'), cloth)).toBe(cut);
    expect(depthsWrong(stretch('open', [0, 0], { cutX: 260_000 }), cloth)).toBe(cut);
    for (const folds of [
      [1, 0],
      [0, 1],
    ] as const) {
      expect(depthsWrong(stretch('crosswise fold', folds, { foldX: 260_000 }), cloth)).toBe('folds');
      expect(depthsWrong(stretch('crosswise cut and turned', folds, { cutX: 260_000 }), cloth)).toBe('folds');
    }
    const outside = (foldX: number) => depthsWrong(stretch('crosswise fold', [0, 0], { foldX }), cloth);
    expect([19_999, 20_000, 500_000, 500_001].map(outside)).toEqual([
      'a fold or cut outside of it',
      null,
      null,
      'a fold or cut outside of it',
    ]);
  });
});

test('doubled bands: both layers of each, and twice the place of its fold', () => {
  expect(doubledBands(stretch('open'), cloth)).toEqual([]);
  expect(doubledBands(stretch('crosswise fold', [0, 0], { foldX: 260_000 }), cloth)).toEqual([]);
  expect(doubledBands(stretch('lengthwise fold', [600_000, 0]), cloth)).toEqual([
    { from: 0, to: 1_200_000, twiceFold: 1_200_000 },
  ]);
  expect(doubledBands(stretch('partial fold', [200_000, 0]), cloth)).toEqual([
    { from: 0, to: 400_000, twiceFold: 400_000 },
  ]);
  expect(doubledBands(stretch('double fold', [200_000, 250_000]), cloth)).toEqual([
    { from: 0, to: 400_000, twiceFold: 400_000 },
    { from: 700_000, to: 1_200_000, twiceFold: 1_900_000 },
  ]);
  // A tube is doubled about its folds at a quarter of the round to either side, and again once round it.
  expect(doubledBands(stretch('tube', [300_000, 300_000]), cloth)).toEqual([
    { from: -300_000, to: 900_000, twiceFold: 600_000 },
    { from: -900_000, to: 300_000, twiceFold: -600_000 },
    { from: 300_000, to: 1_500_000, twiceFold: 1_800_000 },
  ]);
});

test('where a copy comes to lie in the other layer', () => {
  const at = [30_000, 70_000] as const;
  const across = stretch('crosswise fold', [0, 0], { foldX: 260_000 });
  expect(partnerOf(across, null, 1_200_000, true)!(at)).toEqual([490_000, 70_000]);
  const turned = stretch('crosswise cut and turned', [0, 0], { cutX: 260_000 });
  expect(partnerOf(turned, null, 1_200_000, true)!(at)).toEqual([270_000, 1_130_000]);
  expect(partnerOf(turned, null, 1_200_000, false)!([270_000, 1_130_000])).toEqual(at);
  const band = { from: 0, to: 400_000, twiceFold: 400_000 };
  expect(partnerOf(stretch('partial fold', [200_000, 0]), band, 1_200_000, true)!(at)).toEqual([30_000, 330_000]);
  expect(partnerOf(stretch('open'), null, 1_200_000, true)).toBeNull();
});
