/**
 * Cloth folded on the table: where its folds lie, what is seen from above, and the bands that strips of flaws leave.
 * The model is docs/lay-file.md (folds, tube) and docs/cut-list.md (flaws, crease: the gap is kept from what is not cut).
 * That both layers of doubled cloth are spoilt where one of them is: common practice, no source.
 */
import { describe, expect, test } from 'vitest';
import {
  type Folding,
  fixedFolding,
  foldAxes,
  foldSumAt,
  isCrosswise,
  isStrip,
  seenRange,
  zonesOf,
} from '../../src/cloth/folding.js';
import { evenWidth, type LayMethod, layMethods, stripEnd } from '../../src/cloth/types.js';
import { unwashedLength, washedLength } from '../../src/cloth/washing.js';
import type { Outline } from '../../src/units/types.js';

const width = 1_200_000;
const whole = { width, usable: [0, width] as const, gap: 4_000, flaws: [] };
const partial: Folding = { method: 'partial fold', folds: [300_000, 0] };
const double: Folding = { method: 'double fold', folds: [200_000, 250_000] };

function strip(from: number, to: number): Outline {
  return [
    [0, from],
    [stripEnd, from],
    [stripEnd, to],
    [0, to],
  ];
}

function fixed(method: LayMethod): Folding {
  return fixedFolding(method, whole)!;
}

test('the depths that a lay method fixes; partial and double folds have many', () => {
  expect(layMethods.map((method) => fixedFolding(method, whole)?.folds ?? null)).toEqual([
    [0, 0],
    [600_000, 0],
    null,
    null,
    [300_000, 300_000],
    [0, 0],
    [0, 0],
  ]);
  expect(layMethods.filter(isCrosswise)).toEqual(['crosswise fold', 'crosswise cut and turned']);
});

test('where folds lie across, and what is seen from above', () => {
  const seen = (folding: Folding) => [foldAxes(folding, width), seenRange(folding, width)];
  expect(seen(fixed('open'))).toEqual([[], [0, width]]);
  expect(seen(fixed('lengthwise fold'))).toEqual([[600_000], [0, 600_000]]);
  expect(seen(partial)).toEqual([[300_000], [300_000, width]]);
  expect(seen({ method: 'partial fold', folds: [0, 300_000] })).toEqual([[900_000], [0, 900_000]]);
  expect(seen(double)).toEqual([
    [200_000, 950_000],
    [200_000, 950_000],
  ]);
  expect(seen(fixed('tube'))).toEqual([
    [300_000, -300_000],
    [-300_000, 300_000],
  ]);
  expect(seen(fixed('crosswise fold'))).toEqual([[], [0, width]]);
  expect(seen({ method: 'double fold', folds: [1, 1] })).toEqual([
    [1, width - 1],
    [1, width - 1],
  ]);
});

test('an outline is reflected in the fold of its own band, y -> sum - y', () => {
  expect(foldSumAt(fixed('open'), width, 5)).toBeNull();
  expect(foldSumAt(fixed('crosswise fold'), width, 5)).toBeNull();
  expect(foldSumAt(fixed('lengthwise fold'), width, 5)).toBe(width);
  expect(foldSumAt(fixed('tube'), width, 5)).toBe(600_000);
  // Doubled to twice the depth from each selvedge, single between.
  const sums = (folding: Folding, ys: readonly number[]) => ys.map((y) => foldSumAt(folding, width, y));
  expect(sums(partial, [599_999, 600_000, 1_199_999])).toEqual([600_000, null, null]);
  expect(sums(double, [399_999, 400_000, 700_000, 700_001])).toEqual([400_000, null, null, 1_900_000]);
});

test('a strip runs on to where no cloth ends; a flaw is a ring before that', () => {
  // docs/lay-file.md: one that reaches 45 m along.
  expect(stripEnd).toBe(45_000_000);
  expect(isStrip(strip(0, 10))).toBe(true);
  expect(
    isStrip([
      [0, 0],
      [stripEnd - 1, 0],
      [stripEnd - 1, 10],
    ]),
  ).toBe(false);
});

describe('bands of the whole cloth', () => {
  test('cut and turned: both layers usable, the upper one with its selvedges changed over', () => {
    const cloth = { ...whole, usable: [10_000, 1_170_000] as const };
    expect(zonesOf(fixed('crosswise cut and turned'), cloth)).toEqual([
      { layers: 2, from: 30_000, to: 1_170_000, folds: [] },
    ]);
    const other = { ...whole, usable: [30_000, 1_190_000] as const };
    expect(zonesOf(fixed('crosswise cut and turned'), other)).toEqual([
      { layers: 2, from: 30_000, to: 1_170_000, folds: [] },
    ]);
    expect(zonesOf(fixed('crosswise fold'), cloth)).toEqual([{ layers: 2, from: 10_000, to: 1_170_000, folds: [] }]);
  });

  test('a tube has its lower layer, from fold to fold about y = 0', () => {
    expect(zonesOf(fixed('tube'), whole)).toEqual([
      { layers: 2, from: -300_000, to: 300_000, folds: [-300_000, 300_000] },
    ]);
  });

  test('a lengthwise fold loses the wider of the two selvedges on both layers', () => {
    const fold = { layers: 2, to: 600_000, folds: [600_000] };
    expect(zonesOf(fixed('lengthwise fold'), { ...whole, usable: [50_000, 1_190_000] })).toEqual([
      { ...fold, from: 50_000 },
    ]);
    expect(zonesOf(fixed('lengthwise fold'), { ...whole, usable: [10_000, 1_150_000] })).toEqual([
      { ...fold, from: 50_000 },
    ]);
  });

  test('a double fold of unlike depths and selvedges', () => {
    // The left selvedge loses 30 mm, the right one 20 mm: of the turned-over parts and of what they lie on.
    expect(zonesOf(double, { ...whole, usable: [30_000, 1_180_000] })).toEqual([
      { layers: 2, from: 200_000, to: 370_000, folds: [200_000] },
      { layers: 1, from: 400_000, to: 700_000, folds: [] },
      { layers: 2, from: 720_000, to: 950_000, folds: [950_000] },
    ]);
    // Where the gap is wider than what the selvedge loses, it parts the copies beside the edge of the turned-over part.
    expect(zonesOf(double, { ...whole, usable: [1_000, 1_199_000], gap: 10_001 })).toEqual([
      { layers: 2, from: 200_000, to: 394_999, folds: [200_000] },
      { layers: 1, from: 405_000, to: 695_000, folds: [] },
      { layers: 2, from: 705_001, to: 950_000, folds: [950_000] },
    ]);
  });

  test('a fold of a micrometre still takes two of it from what is single', () => {
    const least: Folding = { method: 'double fold', folds: [1, 1] };
    expect(zonesOf(least, { ...whole, gap: 0 })).toEqual([
      { layers: 2, from: 1, to: 2, folds: [1] },
      { layers: 1, from: 2, to: width - 2, folds: [] },
      { layers: 2, from: width - 2, to: width - 1, folds: [width - 1] },
    ]);
  });

  test('folds that meet leave nothing single; a fold no deeper than its selvedge gives no band', () => {
    const meeting: Folding = { method: 'double fold', folds: [300_000, 300_000] };
    expect(zonesOf(meeting, { ...whole, gap: 0 }).map(({ layers }) => layers)).toEqual([2, 2]);
    const shallow: Folding = { method: 'partial fold', folds: [20_000, 0] };
    expect(zonesOf(shallow, { ...whole, usable: [20_000, width] })).toEqual([
      { layers: 1, from: 40_000, to: width, folds: [] },
    ]);
    // On the right no band can end before what is usable on the left begins.
    const right: Folding = { method: 'partial fold', folds: [0, 590_000] };
    expect(zonesOf(right, { ...whole, usable: [40_000, width] })).toEqual([
      { layers: 2, from: 40_000, to: 610_000, folds: [610_000] },
    ]);
  });
});

describe('beside a strip', () => {
  test('on open cloth two bands, from edge to edge of it', () => {
    expect(zonesOf(fixed('open'), { ...whole, flaws: [strip(500_000, 510_000)] })).toEqual([
      { layers: 1, from: 0, to: 500_000, folds: [] },
      { layers: 1, from: 510_000, to: width, folds: [] },
    ]);
  });

  test('along a selvedge it leaves one, over all of the cloth none, beside it nothing changes', () => {
    const zones = (from: number, to: number) =>
      zonesOf(fixed('open'), { ...whole, usable: [10_000, 1_190_000], flaws: [strip(from, to)] }).map((zone) => [
        zone.from,
        zone.to,
      ]);
    expect(zones(0, 40_000)).toEqual([[40_000, 1_190_000]]);
    expect(zones(1_100_000, width)).toEqual([[10_000, 1_100_000]]);
    expect(zones(0, width)).toEqual([]);
    expect(zones(0, 10_000)).toEqual([[10_000, 1_190_000]]);
    expect(zones(1_190_000, width)).toEqual([[10_000, 1_190_000]]);
  });

  test('two strips leave three bands', () => {
    const flaws = [strip(700_000, 710_000), strip(300_000, 310_000)];
    expect(zonesOf(fixed('open'), { ...whole, flaws }).map(({ from, to }) => [from, to])).toEqual([
      [0, 300_000],
      [310_000, 700_000],
      [710_000, width],
    ]);
  });

  test('a flaw that ends is not a strip and parts nothing', () => {
    const flaw: Outline = [
      [0, 500_000],
      [90_000, 500_000],
      [90_000, 510_000],
      [0, 510_000],
    ];
    expect(zonesOf(fixed('open'), { ...whole, flaws: [flaw] })).toHaveLength(1);
  });

  test('on doubled cloth a strip of either layer parts both', () => {
    const bands = [
      { layers: 2, from: 0, to: 300_000, folds: [] },
      { layers: 2, from: 310_000, to: 600_000, folds: [600_000] },
    ];
    expect(zonesOf(fixed('lengthwise fold'), { ...whole, flaws: [strip(300_000, 310_000)] })).toEqual(bands);
    expect(zonesOf(fixed('lengthwise fold'), { ...whole, flaws: [strip(890_000, 900_000)] })).toEqual(bands);
  });

  test('along the fold itself, nearer to it than half the gap on the far side, half the gap is kept', () => {
    // A crease of 1 cm about the middle: the fold is in it, and copies end where it begins.
    expect(zonesOf(fixed('lengthwise fold'), { ...whole, flaws: [strip(595_000, 605_000)] })).toEqual([
      { layers: 2, from: 0, to: 595_000, folds: [] },
    ]);
    // It begins 1 mm before the fold, less than the 2 mm that a pair keeps from its fold.
    expect(zonesOf(fixed('lengthwise fold'), { ...whole, flaws: [strip(599_000, 601_000)] })).toEqual([
      { layers: 2, from: 0, to: 598_000, folds: [] },
    ]);
    expect(zonesOf(fixed('lengthwise fold'), { ...whole, flaws: [strip(598_000, 602_000)] })).toEqual([
      { layers: 2, from: 0, to: 598_000, folds: [] },
    ]);
    // Half of an odd gap is rounded up.
    expect(zonesOf(fixed('lengthwise fold'), { ...whole, gap: 4_001, flaws: [strip(599_000, 601_000)] })).toEqual([
      { layers: 2, from: 0, to: 597_999, folds: [] },
    ]);
    // At the fold of a partial fold, which its band begins at.
    expect(zonesOf(partial, { ...whole, flaws: [strip(299_000, 301_000)] })[0]).toEqual({
      layers: 2,
      from: 302_000,
      to: 598_000,
      folds: [],
    });
  });

  test('on cloth cut and turned its image is that with the selvedges changed over', () => {
    const zones = zonesOf(fixed('crosswise cut and turned'), { ...whole, flaws: [strip(100_000, 120_000)] });
    expect(zones.map(({ from, to }) => [from, to])).toEqual([
      [0, 100_000],
      [120_000, 1_080_000],
      [1_100_000, width],
    ]);
    expect(zonesOf(fixed('crosswise fold'), { ...whole, flaws: [strip(100_000, 120_000)] })).toHaveLength(2);
  });

  test('on a partial fold it parts the doubled band by its image, the single one by itself alone', () => {
    // 100 to 120 mm lies turned over on 480 to 500 mm.
    expect(zonesOf(partial, { ...whole, flaws: [strip(100_000, 120_000)] })).toEqual([
      { layers: 2, from: 300_000, to: 480_000, folds: [300_000] },
      { layers: 2, from: 500_000, to: 598_000, folds: [] },
      { layers: 1, from: 602_000, to: width, folds: [] },
    ]);
    expect(zonesOf(partial, { ...whole, flaws: [strip(800_000, 820_000)] }).map(({ from, to }) => [from, to])).toEqual([
      [300_000, 598_000],
      [602_000, 800_000],
      [820_000, width],
    ]);
  });

  test('on a double fold each doubled band has the image in its own fold', () => {
    // In the right band, doubled about 950 mm, 1100 to 1120 mm lies on 780 to 800 mm.
    const bands = (from: number, to: number) =>
      zonesOf(double, { ...whole, flaws: [strip(from, to)] }).map((zone) => [zone.layers, zone.from, zone.to]);
    const parted = [
      [2, 200_000, 398_000],
      [1, 402_000, 698_000],
      [2, 702_000, 780_000],
      [2, 800_000, 950_000],
    ];
    expect(bands(1_100_000, 1_120_000)).toEqual(parted);
    expect(bands(780_000, 800_000)).toEqual(parted);
  });

  test('round a tube it lies once in every round, and in the upper layer by its image', () => {
    const bands = (from: number, to: number) =>
      zonesOf(fixed('tube'), { ...whole, flaws: [strip(from, to)] }).map((zone) => [zone.from, zone.to]);
    const parted = [
      [-300_000, -200_000],
      [-190_000, 300_000],
    ];
    // The same strip once round the tube; and 600 mm + 200 mm, which lies on it in the upper layer.
    expect(bands(-200_000, -190_000)).toEqual(parted);
    expect(bands(1_000_000, 1_010_000)).toEqual(parted);
    expect(bands(790_000, 800_000)).toEqual(parted);
  });
});

describe('washing: what is left, and what it takes (ISO 5077: change in length as a share of that before)', () => {
  test('whole micrometres, never more than is left, never less than is needed', () => {
    expect(washedLength(1_000_000, 40_000)).toBe(960_000);
    expect(washedLength(1_000_001, 40_000)).toBe(960_000);
    expect(washedLength(25, 500_000)).toBe(12);
    expect(washedLength(1_000_001, 0)).toBe(1_000_001);
    expect(unwashedLength(960_000, 40_000)).toBe(1_000_000);
    expect(unwashedLength(960_001, 40_000)).toBe(1_000_002);
    expect(unwashedLength(0, 40_000)).toBe(0);
    expect(unwashedLength(1_000_001, 0)).toBe(1_000_001);
  });

  test('the least length of which so much is left', () => {
    for (const ppm of [1, 33_333, 50_000, 99_999])
      for (const washed of [1, 7, 960_001, 1_234_567, 39_999_999]) {
        const least = unwashedLength(washed, ppm);
        expect(washedLength(least, ppm)).toBeGreaterThanOrEqual(washed);
        expect(washedLength(least - 1, ppm)).toBeLessThan(washed);
      }
  });

  test('a width is taken down to an even number, so that its middle is whole', () => {
    expect([evenWidth(10), evenWidth(11)]).toEqual([10, 10]);
  });
});
