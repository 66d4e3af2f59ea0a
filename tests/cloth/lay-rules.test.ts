/**
 * The table of what may lie where. Each refusal is told in a sentence that says why and what can be done instead.
 * Sources: which lays suit nap, pairs and folds: Tanzania Institute of Education, "Textiles and Garment Construction",
 * 2024, chapter 9; layouts by name: ICAR e-course "Fundamentals of Clothing Construction", lesson 12. Odd copies on
 * doubled cloth: common practice, no source.
 */
import { describe, expect, test } from 'vitest';
import { type Folding, fixedFolding, zonesOf } from '../../src/cloth/folding.js';
import { isFoldAlongGrain, layRules, type RuleFrame, singleWays } from '../../src/cloth/lay-rules.js';
import type { Cloth, LayMethod } from '../../src/cloth/types.js';
import type { CutPiece } from '../../src/pieces/types.js';
import { lawn, slant, square } from '../support/cut-pieces.js';

const folded = 'lengthwise fold';

function rulesOf(
  method: LayMethod,
  cloth: Partial<Cloth>,
  piece: CutPiece,
  alike: boolean,
  folds?: Folding['folds'],
  more: Partial<Pick<RuleFrame, 'isTurned' | 'singlePairs'>> = {},
) {
  const whole = { ...lawn, ...cloth };
  const folding = folds === undefined ? fixedFolding(method, whole)! : { method, folds };
  const frame = { method, zones: zonesOf(folding, whole), cloth: whole, isTurned: false, singlePairs: 0, ...more };
  const answer = layRules(piece, alike, frame);
  return answer.legal ? answer.rules : answer.why;
}

const up = { mirror: false, turned: 0 };
const down = { mirror: true, turned: 0 };

function onFold(x: number, y: number): CutPiece {
  const lines = [{ kind: 'fold' as const, points: [[0, 0] as const, [x, y] as const] }];
  return { ...square({ asDrawn: 1, mirrored: 0 }), onFold: true, lines };
}
const along = onFold(100_000, 0);
const across = onFold(0, 100_000);
const pair = slant({ asDrawn: 1, mirrored: 1 });
const odd = slant({ asDrawn: 1, mirrored: 0 });

describe('open', () => {
  test('a pair is two placements, the second mirrored; one-way cloth turns nothing', () => {
    expect(rulesOf('open', {}, pair, false)).toEqual([
      { form: 'single', count: 1, is: 'asDrawn', ways: [up] },
      { form: 'single', count: 1, is: 'mirrored', ways: [down] },
    ]);
  });

  test('nap none lets pieces turn end for end; the piece may forbid or ask for it', () => {
    const turns = (cloth: Partial<Cloth>, turn: boolean | null) => {
      const rules = rulesOf('open', cloth, { ...odd, turn }, false);
      return typeof rules === 'string' ? rules : rules[0]!.ways.map(({ turned }) => turned);
    };
    expect(turns({ nap: 'none' }, null)).toEqual([0, 180]);
    expect(turns({ nap: 'none' }, false)).toEqual([0]);
    expect(turns({ nap: 'one-way' }, true)).toEqual([0, 180]);
    expect(turns({ nap: 'each-garment' }, null)).toEqual([0]);
  });

  test('on the cross grain where the piece allows it, left and right turned opposite ways so that their nap agrees', () => {
    const rules = rulesOf('open', {}, { ...pair, cross: true }, false);
    expect(rules).toMatchObject([
      { ways: [up, { mirror: false, turned: 90 }] },
      { ways: [down, { mirror: true, turned: 270 }] },
    ]);
  });

  test('cloth without grain lets any turn', () => {
    const rules = rulesOf('open', { grain: 'free' }, odd, false);
    expect(rules).toMatchObject([{ ways: [{ turned: 0 }, { turned: 180 }, { turned: 90 }, { turned: 270 }] }]);
    expect(rulesOf('open', { grain: 'free' }, pair, false)).toMatchObject([
      { is: 'asDrawn' },
      { is: 'mirrored', ways: [{ turned: 0 }, { turned: 180 }, { turned: 270 }, { turned: 90 }] },
    ]);
    expect(rulesOf('open', { grain: 'free' }, { ...odd, turn: false }, false)).toMatchObject([
      { ways: [{ turned: 0 }, { turned: 90 }] },
    ]);
  });

  test('cloth with two right sides lets a copy lie as the other outline', () => {
    expect(rulesOf('open', { faces: 'both' }, slant({ asDrawn: 2, mirrored: 0 }), false)).toEqual([
      { form: 'single', count: 2, is: 'asDrawn', ways: [up, down] },
    ]);
  });

  test('a piece that is its own mirror image is never mirrored', () => {
    expect(rulesOf('open', { faces: 'both' }, square({ asDrawn: 3, mirrored: 0 }), true)).toEqual([
      { form: 'single', count: 3, is: 'asDrawn', ways: [up] },
    ]);
  });

  test('a piece cut on the fold lies unfolded, whichever way its fold runs', () => {
    for (const piece of [along, across]) {
      expect(rulesOf('open', {}, piece, true)).toEqual([{ form: 'on fold', count: 1, is: 'asDrawn', ways: [up] }]);
    }
  });
});

describe.each([folded, 'tube'] as const)('%s', (method) => {
  const cloth = method === 'tube' ? { usable: [0, lawn.width] as const } : {};

  test('a pair is one placement, printed side up or down', () => {
    expect(rulesOf(method, cloth, slant({ asDrawn: 2, mirrored: 2 }), false)).toEqual([
      { form: 'pair', count: 2, is: 'asDrawn', ways: [up, down] },
    ]);
  });

  test('odd and same-way copies are refused; same way only on cloth with two right sides', () => {
    const sentence =
      'Slant is not cut in pairs (cut 1), and doubled cloth gives a left and a right each time; lay it open, or on a partial or double fold, which leaves part of the cloth single';
    expect(rulesOf(method, cloth, { ...odd, label: 'cut 1' }, false)).toBe(sentence);
    expect(rulesOf(method, cloth, slant({ asDrawn: 2, mirrored: 0 }), false)).toMatch(/not cut in pairs/);
    const bothSided = { ...cloth, faces: 'both' as const };
    expect(rulesOf(method, bothSided, slant({ asDrawn: 2, mirrored: 0 }), false)).toHaveLength(1);
    expect(rulesOf(method, bothSided, slant({ asDrawn: 3, mirrored: 0 }), false)).toMatch(/needs 3 copies/);
  });

  test('of its own mirror image only the number counts', () => {
    expect(rulesOf(method, cloth, square({ asDrawn: 2, mirrored: 0 }), true)).toHaveLength(1);
    expect(rulesOf(method, cloth, square({ asDrawn: 3, mirrored: 0 }), true)).toBe(
      'Square needs 3 copies, and doubled cloth gives two at a time; lay it open, or on a partial or double fold, which leaves part of the cloth single',
    );
  });

  test('a piece on the fold lies on it; one whose fold is square to the grain cannot', () => {
    expect(rulesOf(method, cloth, along, true)).toEqual([{ form: 'on fold', count: 1, is: 'asDrawn', ways: [up] }]);
    expect(rulesOf(method, cloth, across, true)).toBe(
      'the fold edge of Square is square to the grain, so it cannot lie on a fold along the cloth; lay it open or on a crosswise fold',
    );
  });
});

describe.each([
  ['partial fold', [200_000, 0]],
  ['double fold', [200_000, 200_000]],
] as const)('%s', (method, folds) => {
  test('pairs lie doubled, what is over lies on the single part', () => {
    expect(rulesOf(method, {}, slant({ asDrawn: 3, mirrored: 2 }), false, folds)).toEqual([
      { form: 'pair', count: 2, is: 'asDrawn', ways: [up, down] },
      { form: 'single', count: 1, is: 'asDrawn', ways: [up] },
    ]);
    expect(rulesOf(method, {}, square({ asDrawn: 3, mirrored: 0 }), true, folds)).toEqual([
      { form: 'pair', count: 1, is: 'asDrawn', ways: [up] },
      { form: 'single', count: 1, is: 'asDrawn', ways: [up] },
    ]);
  });

  test('a fold square to the grain lies unfolded on the single part', () => {
    expect(rulesOf(method, {}, across, true, folds)).toHaveLength(1);
  });
});

test('two folds that meet in the middle leave nothing single for odd copies', () => {
  const folds = [lawn.width / 4, lawn.width / 4] as const;
  expect(rulesOf('double fold', {}, odd, false, folds)).toMatch(/not cut in pairs/);
});

describe('crosswise fold', () => {
  test('pairs only where the nap lets them turn, since the upper layer runs the other way', () => {
    expect(rulesOf('crosswise fold', { nap: 'none' }, pair, false)).toMatchObject([{ form: 'pair', count: 1 }]);
    for (const nap of ['one-way', 'each-garment'] as const) {
      expect(rulesOf('crosswise fold', { nap }, pair, false)).toBe(
        'the nap of the upper layer of a crosswise fold runs against that of the lower one, so the two copies of Slant would differ; lay it on a lengthwise fold, or cut the cloth across and turn the layer',
      );
    }
  });

  test('odd copies are refused', () => {
    expect(rulesOf('crosswise fold', { nap: 'none' }, odd, false)).toMatch(/not cut in pairs/);
  });

  test('a fold square to the grain lies on it whatever the nap; a fold along the grain cannot', () => {
    expect(rulesOf('crosswise fold', {}, across, true)).toMatchObject([{ form: 'on fold', count: 1 }]);
    expect(rulesOf('crosswise fold', {}, along, true)).toBe(
      'the fold edge of Square runs along the grain, so it cannot lie on a crosswise fold; lay it open or on a lengthwise fold',
    );
  });
});

describe('crosswise cut and turned', () => {
  test('pairs whatever the nap, since the upper layer is turned to run alike', () => {
    expect(rulesOf('crosswise cut and turned', {}, pair, false)).toEqual([
      { form: 'pair', count: 1, is: 'asDrawn', ways: [up, down] },
    ]);
  });

  test('neither odd copies nor anything on a fold', () => {
    expect(rulesOf('crosswise cut and turned', {}, odd, false)).toMatch(/not cut in pairs/);
    for (const piece of [along, across]) {
      expect(rulesOf('crosswise cut and turned', {}, piece, true)).toBe(
        'Square is cut on the fold, and cloth cut across has no fold left; lay it open or on a fold',
      );
    }
  });
});

describe('what of a piece is left for the single part', () => {
  const folds = [200_000, 0] as const;
  const counts = (piece: CutPiece, cloth: Partial<Cloth>, alike: boolean, singlePairs = 0) => {
    const rules = rulesOf('partial fold', cloth, piece, alike, folds, { singlePairs });
    return typeof rules === 'string' ? rules : rules.map(({ form, is, count }) => `${count} ${form} ${is}`);
  };

  test('so many pairs less lie doubled as are wanted single, never fewer than none', () => {
    const two = slant({ asDrawn: 2, mirrored: 2 });
    expect(counts(two, {}, false, 1)).toEqual(['1 pair asDrawn', '1 single asDrawn', '1 single mirrored']);
    expect(counts(two, {}, false, 2)).toEqual(['2 single asDrawn', '2 single mirrored']);
    expect(counts(two, {}, false, 3)).toEqual(['2 single asDrawn', '2 single mirrored']);
  });

  test('where nothing lies single, all pairs lie doubled', () => {
    const rules = rulesOf(folded, {}, slant({ asDrawn: 2, mirrored: 2 }), false, undefined, { singlePairs: 1 });
    expect(rules).toMatchObject([{ form: 'pair', count: 2 }]);
  });

  test('where any two make a pair, both kinds are taken evenly, then what there is', () => {
    const both = { faces: 'both' as const };
    expect(counts(slant({ asDrawn: 2, mirrored: 1 }), both, false)).toEqual(['1 pair asDrawn', '1 single asDrawn']);
    expect(counts(slant({ asDrawn: 1, mirrored: 2 }), both, false)).toEqual(['1 pair asDrawn', '1 single mirrored']);
    expect(counts(slant({ asDrawn: 0, mirrored: 3 }), both, false)).toEqual(['1 pair asDrawn', '1 single mirrored']);
    expect(counts(slant({ asDrawn: 4, mirrored: 1 }), both, false)).toEqual(['2 pair asDrawn', '1 single asDrawn']);
    expect(counts(slant({ asDrawn: 1, mirrored: 4 }), both, false)).toEqual(['2 pair asDrawn', '1 single mirrored']);
    expect(counts(square({ asDrawn: 2, mirrored: 3 }), {}, true)).toEqual(['2 pair asDrawn', '1 single mirrored']);
  });
});

describe('ways to lie', () => {
  const waysOf = (cloth: Partial<Cloth>, piece: CutPiece) => singleWays({ ...lawn, ...cloth }, piece);

  test('a piece of which none is wanted needs no placement', () => {
    expect(rulesOf('open', {}, slant({ asDrawn: 0, mirrored: 0 }), false)).toEqual([]);
    expect(rulesOf(folded, {}, slant({ asDrawn: 0, mirrored: 0 }), false)).toEqual([]);
  });

  test('tilted: all of what a piece allows and half of it, to either side, in every way it may lie', () => {
    const tilted = { ...odd, tiltMaxMicrodegrees: 1_500_001 };
    const tilts = waysOf({}, tilted).map(({ tiltMicrodegrees }) => tiltMicrodegrees ?? 0);
    expect(tilts).toEqual([0, 1_500_001, -1_500_001, 750_001, -750_001]);
    expect(waysOf({ nap: 'none' }, tilted)).toHaveLength(10);
    expect(waysOf({ nap: 'none' }, tilted).at(-1)).toEqual({
      mirror: false,
      turned: 180,
      tiltMicrodegrees: -750_001,
    });
    expect(waysOf({}, odd)).toHaveLength(1);
  });

  test('on a repeat nothing is tilted', () => {
    const repeat = { along: 80_000, across: null, start: null, mirror: 'none' as const, drop: false };
    expect(waysOf({ repeat }, { ...odd, tiltMaxMicrodegrees: 1_000_000 })).toEqual([up]);
  });

  test('mirrored too where mirrored copies are wanted', () => {
    expect(waysOf({}, odd)).toEqual([up]);
    expect(waysOf({}, pair)).toEqual([up, down]);
  });

  test('a garment turned end for end: every way by half a turn', () => {
    const turned = rulesOf('open', {}, { ...pair, cross: true }, false, undefined, { isTurned: true });
    expect(turned).toMatchObject([
      { is: 'asDrawn', ways: [{ turned: 180 }, { mirror: false, turned: 270 }] },
      { is: 'mirrored', ways: [{ turned: 180 }, { mirror: true, turned: 90 }] },
    ]);
    expect(rulesOf(folded, {}, odd, false, undefined, { isTurned: true })).toMatch(/not cut in pairs/);
  });

  test('which way a fold edge runs; without a fold edge neither', () => {
    expect([along, across, odd].map(isFoldAlongGrain)).toEqual([true, false, false]);
  });

  test('one copy on doubled cloth is called so', () => {
    expect(rulesOf(folded, {}, square({ asDrawn: 1, mirrored: 0 }), true)).toMatch(/^Square needs 1 copy, and/);
  });
});

describe('where placements lie across', () => {
  test('on a lengthwise fold both layers must be usable', () => {
    const cloth = { ...lawn, width: 1_150_000, usable: [10_000, 1_130_000] as const };
    expect(zonesOf(fixedFolding(folded, cloth)!, cloth)).toEqual([
      { layers: 2, from: 20_000, to: 575_000, folds: [575_000] },
    ]);
    expect(zonesOf(fixedFolding('open', cloth)!, cloth)).toEqual([
      { layers: 1, from: 10_000, to: 1_130_000, folds: [] },
    ]);
  });

  test('a partial fold: doubled from the fold to where the turned-over selvedge is usable, then single', () => {
    const cloth = { ...lawn, width: 1_000_000, usable: [20_000, 980_000] as const, gap: 3_000 };
    expect(zonesOf({ method: 'partial fold', folds: [300_000, 0] }, cloth)).toEqual([
      { layers: 2, from: 300_000, to: 580_000, folds: [300_000] },
      { layers: 1, from: 600_000, to: 980_000, folds: [] },
    ]);
  });

  test('without a selvedge to lose, copies at both sides of the turned-over edge keep the gap', () => {
    const cloth = { ...lawn, width: 1_000_000, usable: [0, 1_000_000] as const, gap: 4_000 };
    expect(zonesOf({ method: 'double fold', folds: [200_000, 200_000] }, cloth)).toEqual([
      { layers: 2, from: 200_000, to: 398_000, folds: [200_000] },
      { layers: 1, from: 402_000, to: 598_000, folds: [] },
      { layers: 2, from: 602_000, to: 800_000, folds: [800_000] },
    ]);
  });
});
