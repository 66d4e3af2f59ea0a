/** Gaps, edges, flaws, folds and layers to the micrometre, each in the words of its refusal. */
import { describe, expect, test } from 'vitest';
import { checkApart } from '../../src/checker/apart.js';
import { checkLay } from '../../src/checker/check-lay.js';
import { checkFlaws } from '../../src/checker/flaws.js';
import { checkLimits, checkStretches } from '../../src/checker/limits.js';
import { type Part, takeApart } from '../../src/checker/parts.js';
import { checkPlacement } from '../../src/checker/placements.js';
import type { Cloth } from '../../src/cloth/types.js';
import type { Lay, Stretch } from '../../src/lay/types.js';
import type { CutPiece } from '../../src/pieces/types.js';
import type { Outline, Point } from '../../src/units/types.js';
import { lawn, plainPiece } from '../support/cut-pieces.js';
import { copyOf, damaged, foldedRow, type Loose, moveCopy, openRow, refit, reposeCopy } from '../support/damage.js';

function box(left: number, low: number, right: number, high: number): Outline {
  return [
    [left, low],
    [right, low],
    [right, high],
    [left, high],
  ];
}

function sentences(lay: Lay, edit: (lay: Loose<Lay>) => void): string[] {
  return checkLay(damaged(lay, edit)).refusals.map(({ sentence }) => sentence);
}

const wide: Cloth = { ...lawn, width: 1_200_000, usable: [0, 1_200_000] };
const [somePart] = partsOf(openRow);

function partsOf(lay: Lay): readonly Part[] {
  const apart = takeApart(lay);
  if ('refusals' in apart) throw new Error(apart.refusals[0]!.sentence);
  return apart.parts;
}

/** A part of which only number, outline and stretch matter. */
function part(n: number, outline: Outline, stretch: Partial<Stretch> = {}): Part {
  const copy = { ...somePart!.copy, n, outline };
  return { ...somePart!, copy, stretch: { ...somePart!.stretch, ...stretch }, name: `copy ${n}` };
}

const tube = { method: 'tube' as const, folds: [300_000, 300_000] as const };

describe('the gap', () => {
  const apart = (other: Outline, gap = 3_000) =>
    checkApart([part(1, box(0, 0, 100_000, 100_000)), part(2, other)], { gap, width: 1_200_000 }).map(
      ({ sentence }) => sentence,
    );
  const short = (by: string) => `copy 1 comes near copy 2: ${by} short of the gap of 3 mm`;

  test('to every side, and from corner to corner', () => {
    const size = 10_000;
    const at = (x: number, y: number) => apart(box(x, y, x + size, y + size));
    expect([at(103_000, 0), at(-13_000, 0), at(0, 103_000), at(0, -13_000)]).toEqual([[], [], [], []]);
    for (const near of [at(102_999, 0), at(-12_999, 0), at(0, 102_999), at(0, -12_999)])
      expect(near).toEqual([short('0.001 mm')]);
    // 3-4-5: 1.8 mm along and 2.4 mm across are 3 mm.
    expect(at(101_800, 102_400)).toEqual([]);
    expect(at(101_799, 102_400)).toEqual([short('less than 0.001 mm')]);
    expect(at(100_000, 50_000)).toEqual(['copy 1 touches copy 2: 3 mm short of the gap of 3 mm']);
    expect(apart(box(100_000, 0, 110_000, 10_000), 0)).toEqual([]);
  });

  test('the copy of the lower number is named first when they are near; the inner one when they overlap', () => {
    const small = box(40_000, 40_000, 60_000, 60_000);
    expect(apart(small)).toEqual(['copy 2 reaches 40 mm into copy 1']);
    const pair = [part(2, box(0, 0, 100_000, 100_000)), part(1, small)];
    expect(checkApart(pair, { gap: 0, width: 1 })[0]!.sentence).toBe('copy 1 reaches 40 mm into copy 2');
    expect(
      checkApart([part(2, box(0, 0, 10, 10)), part(1, box(12, 0, 20, 10))], { gap: 1_000, width: 1 })[0]!.sentence,
    ).toBe('copy 1 comes near copy 2: 0.998 mm short of the gap of 1 mm');
  });

  test('round a tube each pair is told once', () => {
    const a = part(1, box(0, 0, 100_000, 100_000), tube);
    for (const round of [-1_200_000, 0, 1_200_000]) {
      const b = part(2, box(50_000, 50_000 + round, 150_000, 150_000 + round), tube);
      const told = ['copy 1 reaches 50 mm into copy 2'];
      expect(checkApart([a, b], { gap: 0, width: 1_200_000 }).map(({ sentence }) => sentence)).toEqual(told);
      expect(checkApart([b, a], { gap: 0, width: 1_200_000 }).map(({ sentence }) => sentence)).toEqual(told);
    }
    const beside = (by: number) =>
      checkApart([a, part(2, box(0, 1_103_000 + by, 50_000, 1_197_000 + by), tube)], { gap: 3_000, width: 1_200_000 });
    expect(beside(0)).toEqual([]);
    expect(beside(1)).toHaveLength(1);
    // The gap is between copies: one that goes nearly all round keeps none from itself.
    expect(checkApart([part(1, box(0, 0, 9, 1_199_000), tube)], { gap: 3_000, width: 1_200_000 })).toEqual([]);
    // The first layer begins where the last one ends, two rounds further.
    const ends = (by: number) =>
      checkApart([part(1, box(0, -900_000, 9, -800_000), tube), part(2, box(0, 1_400_000, 9, 1_497_000 + by), tube)], {
        gap: 3_000,
        width: 1_200_000,
      });
    expect(ends(0)).toEqual([]);
    expect(ends(1)).toHaveLength(1);
    // On flat cloth they lie far apart.
    expect(
      checkApart([part(1, a.copy.outline), part(2, box(0, 1_200_000, 9, 1_200_009))], { gap: 0, width: 1 }),
    ).toEqual([]);
  });
});

describe('edges', () => {
  const limits = (outline: Outline, cloth: Partial<Cloth> = {}, stretch: Partial<Stretch> = {}) =>
    checkLimits([part(1, outline, { from: 0, to: 2_000_000, ...stretch })], { ...wide, ...cloth }).map(
      ({ sentence }) => sentence,
    );

  test('of the usable width and the length at hand', () => {
    const cloth = { usable: [10_000, 1_190_000] as const, ends: [20_000, 30_000] as const, length: 1_000_000 };
    expect(limits(box(20_000, 10_000, 970_000, 1_190_000), cloth)).toEqual([]);
    expect(limits(box(19_999, 9_999, 970_001, 1_190_001), cloth)).toEqual([
      'copy 1 reaches 0.001 mm over the left edge of the usable width',
      'copy 1 reaches 0.001 mm over the right edge of the usable width',
      'copy 1 reaches 0.001 mm into the end that is kept clear at the cut end',
      'copy 1 reaches 0.001 mm beyond the length at hand less the end that is kept clear',
    ]);
    expect(limits(box(20_000, 10_000, 40_000_000, 20_000), {}, { to: 40_000_000 })).toEqual([]);
  });

  test('of its stretch', () => {
    const stretch = { id: 3, from: 100_000, to: 200_000 };
    expect(limits(box(100_000, 0, 200_000, 9), {}, stretch)).toEqual([]);
    expect(limits(box(99_998, 0, 200_003, 9), {}, stretch)).toEqual([
      'copy 1 reaches 0.002 mm out of stretch 3 towards the cut end',
      'copy 1 reaches 0.003 mm out of stretch 3 towards the far end',
    ]);
  });

  test('a tube has none across, but a copy goes round it once at most', () => {
    expect(limits(box(20_000, -500_000, 30_000, 700_000), {}, tube)).toEqual([]);
    expect(limits(box(20_000, -500_001, 30_000, 700_000), {}, tube)).toEqual([
      'copy 1 reaches 0.001 mm farther than once round the tube',
    ]);
  });

  test('stretches one after another, in whatever order they are listed', () => {
    const stretch = (id: number, from: number, to: number): Stretch => ({
      id,
      from,
      to,
      method: 'open',
      folds: [0, 0],
    });
    const told = (...stretches: Stretch[]) => checkStretches(stretches, wide).map(({ sentence }) => sentence);
    expect(told(stretch(2, 300, 400), stretch(1, 100, 300), stretch(3, 400, 401))).toEqual([]);
    expect(told(stretch(3, 399, 500), stretch(1, 100, 300), stretch(2, 299, 400))).toEqual([
      'stretch 2 begins 0.001 mm inside stretch 1',
      'stretch 3 begins 0.001 mm inside stretch 2',
    ]);
    expect(told(stretch(2, 100, 200), stretch(1, 100, 200))).toEqual(['stretch 2 begins 0.1 mm inside stretch 1']);
    expect(told(stretch(1, 100, 100))).toEqual(['stretch 1 ends 0 mm before it begins']);
  });
});

describe('flaws', () => {
  const on = (flaws: readonly Outline[], stretch: Partial<Stretch> = {}) =>
    checkFlaws([part(1, box(0, 0, 100_000, 100_000), stretch)], { ...wide, flaws }).map(({ sentence }) => sentence);

  test('beside one is legal, one micrometre on it is not', () => {
    const far = box(500_000, 0, 600_000, 10_000);
    expect(on([far, box(100_000, 0, 120_000, 50_000)])).toEqual([]);
    expect(on([far, box(99_999, 0, 120_000, 50_000)])).toEqual([
      'copy 1 lies on flaw 2, which begins 99.999 mm from the cut end',
    ]);
  });

  test('once in every round of a tube', () => {
    for (const round of [-1_200_000, 1_200_000]) {
      const flaw = box(50_000, 50_000 + round, 60_000, 60_000 + round);
      expect(on([flaw], tube)).toEqual(['copy 1 lies on flaw 1, which begins 50 mm from the cut end']);
      expect(on([flaw])).toEqual([]);
    }
    for (const round of [-1_200_000, 0, 1_200_000]) {
      expect(on([box(0, round - 10_000, 100_000, round)], tube)).toEqual([]);
      expect(on([box(0, round + 100_000, 100_000, round + 110_000)], tube)).toEqual([]);
    }
  });

  test('a ring that crosses itself or runs clockwise is no flaw', () => {
    const sentence = 'flaw 2 of the cloth is no simple ring that runs counter-clockwise';
    const right = box(500_000, 0, 600_000, 10_000);
    expect(on([right, [...box(0, 0, 10, 10)].reverse()])).toEqual([sentence]);
    // The larger loop runs the right way.
    const crossing: Outline = [
      [0, 0],
      [100, 0],
      [0, 40],
      [60, 40],
    ];
    expect(on([right, crossing])).toEqual([sentence]);
    expect(on([right, []])).toEqual([sentence]);
    expect(on([right, right.slice(0, 2)])).toEqual([sentence]);
  });
});

describe('on a lengthwise fold', () => {
  test('both copies of a pair may reach to the fold, not over it', () => {
    const toFold = (by: number) =>
      sentences(foldedRow, (lay) => {
        lay.cloth.gap = 0;
        // Away from the Panel, its high edge to the fold at 575 mm.
        moveCopy(lay, 1, 400_000, 575_000 - 240_000 + by);
        const { at, outline } = copyOf(lay, 1);
        Object.assign(copyOf(lay, 2), {
          at: [at[0], 1_150_000 - at[1]],
          outline: [...outline].reverse().map(([x, y]): Point => [x, 1_150_000 - y]),
        });
        refit(lay);
      });
    expect(toFold(0)).toEqual([]);
    expect(toFold(2).slice(0, 2)).toEqual([
      'copy 1 (Slant) reaches 0.002 mm over the fold',
      'copy 2 (Slant) reaches 0.002 mm over the fold',
    ]);
  });

  test('both mirrored; another number of points', () => {
    expect(sentences(foldedRow, (lay) => reposeCopy(lay, 1, { mirror: true, is: 'mirrored' }))).toContain(
      'copy 1 (Slant) and copy 2 (Slant) come from one cut through doubled cloth but are both mirrored',
    );
    expect(
      sentences(foldedRow, (lay) => {
        copyOf(lay, 2).outline.pop();
      }),
    ).toContain('copy 2 (Slant) does not lie on copy 1 (Slant) in the other layer: it has 3 points, not 4');
  });

  test('halves may be listed from any point on', () => {
    const around = (outline: Outline) =>
      checkPlacement(laidOnFold(outline), { ...lawn, width: 200, usable: [0, 200] }).map(({ code }) => code);
    const ring: Point[] = [
      [0, 90],
      [30, 80],
      [30, 120],
      [0, 110],
      [-5, 100],
    ];
    for (let i = 0; i < ring.length; i++) expect(around([...ring.slice(i), ...ring.slice(0, i)])).toEqual([]);
    for (let i = 0; i < ring.length; i++) {
      const off = ring.map(([x, y], j): Point => (i === j ? [x + 1, y] : [x, y]));
      // The point on the fold line is its own image.
      expect(around(off)).toEqual(i === 4 ? [] : ['halves-differ']);
    }
  });

  function laidOnFold(outline: Outline) {
    const piece: CutPiece = { ...plainPiece('Panel', outline, { asDrawn: 1, mirrored: 0 }, true) };
    const stretch: Stretch = { id: 1, from: 0, to: 30, method: 'lengthwise fold', folds: [100, 0] };
    const only = { ...part(1, outline, stretch), piece };
    return { placement: only.placement, piece, stretch, parts: [only] };
  }
});

describe('where cloth is doubled in part', () => {
  /** Folds of 20 cm from the left and 25 cm from the right: doubled to 40 cm and from 70 cm on. */
  const stretch: Stretch = { id: 1, from: 0, to: 900_000, method: 'double fold', folds: [200_000, 250_000] };
  const placed = (...outlines: Outline[]) => {
    const parts = outlines.map((outline, i): Part => {
      const one = part(i + 1, outline, stretch);
      return { ...one, copy: { ...one.copy, mirror: i === 1 } };
    });
    const { placement, piece } = somePart!;
    return checkPlacement({ placement, piece, stretch, parts }, wide).map(({ sentence }) => sentence);
  };
  const image = (outline: Outline, sum: number): Outline => [...outline].reverse().map(([x, y]): Point => [x, sum - y]);

  test('single copies on the single part alone', () => {
    expect(placed(box(0, 400_000, 10, 700_000))).toEqual([]);
    expect(placed(box(0, 399_999, 10, 500_000))).toEqual([
      'copy 1 reaches 100 mm over the edge of the turned-over part it lies on',
    ]);
    expect(placed(box(0, 500_000, 10, 700_002))).toEqual([
      'copy 1 reaches 200 mm over the edge of the turned-over part it lies on',
    ]);
    expect(placed(box(0, 390_000, 10, 700_001))).toEqual([
      'copy 1 reaches 300.001 mm over the edge of the turned-over part it lies on',
    ]);
    const single = 'copy 1 lies single on doubled cloth, but its piece is not cut on the fold';
    expect(placed(box(0, 300_000, 10, 400_000))).toEqual([single]);
    expect(placed(box(0, 700_000, 10, 720_000))).toEqual([single]);
  });

  test('pairs on the doubled parts alone, each in its own layer', () => {
    const left = box(0, 220_000, 10, 390_000);
    expect(placed(left, image(left, 400_000))).toEqual([]);
    const right = box(0, 710_000, 10, 940_000);
    expect(placed(right, image(right, 1_900_000))).toEqual([]);
    expect(placed(left, image(left, 400_002))).toEqual([
      'copy 2 is off its place on copy 1 in the other layer by 0.002 mm',
    ]);
    const between = box(0, 500_000, 10, 600_000);
    expect(placed(between, image(between, 1_200_000))).toEqual([
      'placement 1 (Slant) yields copies 1 and 2, but single cloth gives one at a time',
    ]);
    const over = box(0, 199_997, 10, 390_000);
    expect(placed(over, image(over, 400_000))).toEqual([
      'copy 1 reaches 0.003 mm over the fold',
      'copy 2 reaches 0.003 mm over the fold',
    ]);
    const lower = box(0, 10_000, 10, 200_004);
    expect(placed(lower, image(lower, 400_000))).toEqual([
      'copy 1 reaches 0.004 mm over the fold',
      'copy 2 reaches 0.004 mm over the fold',
    ]);
  });

  test('what is cut on the fold lies on the nearest fold', () => {
    const onFold = (low: number, high: number, more: Partial<Stretch> = {}) => {
      const outline = box(0, low, 10, high);
      const piece = plainPiece('Panel', outline, { asDrawn: 1, mirrored: 0 }, true);
      const only = { ...part(1, outline, { ...stretch, ...more }), piece };
      return checkPlacement({ placement: only.placement, piece, stretch: only.stretch, parts: [only] }, wide).map(
        ({ sentence }) => sentence,
      );
    };
    expect(onFold(100_000, 300_000)).toEqual([]);
    expect(onFold(850_000, 1_050_000)).toEqual([]);
    expect(onFold(850_000, 1_050_003)).toEqual(['the middle of copy 1 lies 0.0015 mm beside the fold']);
    for (const fold of [-300_000, 300_000, 900_000]) {
      expect(onFold(fold - 50_000, fold + 50_000, tube)).toEqual([]);
      expect(onFold(fold - 550_000, fold + 550_000, tube)).toEqual([]);
      expect(onFold(fold - 50_000, fold + 50_002, tube)).toEqual([
        'the middle of copy 1 lies 0.001 mm beside the fold',
      ]);
    }
    expect(onFold(850_000, 1_050_001)).toEqual(['the middle of copy 1 lies 0.0005 mm beside the fold']);
    expect(onFold(100_000, 299_998)).toEqual(['the middle of copy 1 lies 0.001 mm beside the fold']);
  });
});

describe('doubled across', () => {
  const fold: Stretch = { id: 1, from: 20_000, to: 500_000, method: 'crosswise fold', folds: [0, 0], foldX: 260_000 };
  const { foldX: _, ...rest } = fold;
  const cut: Stretch = { ...rest, method: 'crosswise cut and turned', cutX: 260_000 };
  const placed = (stretch: Stretch, outlines: readonly Outline[], piece = somePart!.piece) => {
    const parts = outlines.map((outline, i): Part => {
      const one = part(i + 1, outline, stretch);
      return { ...one, piece, copy: { ...one.copy, mirror: i === 1 } };
    });
    return checkPlacement({ placement: somePart!.placement, piece, stretch, parts }, wide).map(
      ({ sentence }) => sentence,
    );
  };
  const folded = (outline: Outline): Outline => [...outline].reverse().map(([x, y]): Point => [520_000 - x, y]);
  const turned = (outline: Outline, by = 240_000): Outline =>
    [...outline].reverse().map(([x, y]): Point => [x + by, 1_200_000 - y]);

  test('a pair reflected in the fold, whichever copy is listed first', () => {
    const near = box(30_000, 0, 260_000, 50_000);
    expect(placed(fold, [near, folded(near)])).toEqual([]);
    expect(placed(fold, [folded(near), near])).toEqual([]);
    const over = box(30_000, 0, 260_002, 50_000);
    const reach = (n: number) => `copy ${n} reaches 0.002 mm over the fold`;
    expect(placed(fold, [over, folded(over)])).toEqual([reach(1), reach(2)]);
    expect(placed(fold, [folded(over), over])).toEqual([reach(2), reach(1)]);
    expect(placed(fold, [near, folded(over)])[0]).toBe(
      'copy 2 is off its place on copy 1 in the other layer by 0.002 mm',
    );
  });

  test('a pair on cloth cut and turned lies shifted, selvedge for selvedge', () => {
    const near = box(30_000, 0, 260_000, 50_000);
    expect(placed(cut, [near, turned(near)])).toEqual([]);
    expect(placed(cut, [turned(near), near])).toEqual([]);
    const early = box(19_999, 0, 260_001, 50_000);
    expect(placed(cut, [early, turned(early)])).toEqual([
      'copy 1 reaches 0.001 mm over the cut',
      'copy 2 reaches 0.001 mm over the cut',
    ]);
    expect(placed(cut, [near, turned(near, 240_005)])).toEqual([
      'copy 2 is off its place on copy 1 in the other layer by 0.005 mm',
    ]);
  });

  test('one copy lies across the fold; on cut cloth there is none', () => {
    const yoke: CutPiece = {
      ...plainPiece('Yoke', box(-50_000, 0, 50_000, 9), { asDrawn: 1, mirrored: 0 }, true),
      lines: [
        {
          kind: 'fold',
          points: [
            [0, 0],
            [0, 9],
          ],
        },
      ],
    };
    expect(placed(fold, [box(210_000, 0, 310_000, 9)], yoke)).toEqual([]);
    expect(placed(fold, [box(210_000, 0, 310_003, 9)], yoke)).toEqual([
      'the middle of copy 1 lies 0.0015 mm beside the fold',
    ]);
    expect(placed(fold, [box(210_000, 0, 310_001, 9)], yoke)).toEqual([
      'the middle of copy 1 lies 0.0005 mm beside the fold',
    ]);
    const lopsided: Outline = [
      [210_000, 0],
      [310_000, 0],
      [310_000, 8],
      [210_000, 9],
    ];
    expect(placed(fold, [lopsided], yoke)).toEqual([
      'copy 1 lies across the fold, but its two halves are not mirror images in the fold line',
    ]);
    const alone = 'placement 1 (Slant) yields one copy, but cloth doubled across gives two';
    expect(placed(fold, [box(210_000, 0, 310_000, 9)])).toEqual([alone]);
    const onCut = placed(cut, [box(210_000, 0, 310_000, 9)], yoke);
    expect(onCut).toEqual(['placement 1 (Yoke) yields one copy, but cloth doubled across gives two']);
    const along = { ...yoke, lines: [{ kind: 'fold' as const, points: box(0, 0, 50_000, 0).slice(0, 2) }] };
    expect(placed(fold, [box(210_000, 0, 310_000, 9)], along)).toEqual([
      'copy 1 lies on a fold across the cloth, but the fold edge of its piece runs along the grain',
    ]);
  });
});
