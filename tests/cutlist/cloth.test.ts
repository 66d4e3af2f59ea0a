/**
 * Cloths of a cut list: what is measured, what is assumed and told, and all measures after washing. The law is
 * docs/cut-list.md, "Cloths"; shrinkage as in ISO 5077, a share of the length before.
 */
import { describe, expect, test } from 'vitest';
import { stripEnd } from '../../src/cloth/types.js';
import { readCutList } from '../../src/cutlist/read.js';
import type { Outline } from '../../src/units/types.js';

function answerOf(keys: string) {
  const text = `title: T\nunits: cm\ndrawn: cut\npieces:\n  P: {rectangle: [5, 5], cut: {shell: 1}}\ncloths:\n  c: {for: shell, ${keys}}\n`;
  return readCutList(text, 'list.yaml');
}

function clothsOf(keys: string) {
  const answer = answerOf(keys);
  if (!answer.ok) throw new Error(answer.faults.map(({ what }) => what).join('\n'));
  return answer.value.cloths;
}

function cloth(keys: string) {
  return clothsOf(keys)[0]!.cloth;
}

/** Code and words of every fault. */
function faults(keys: string): string[] {
  const answer = answerOf(keys);
  return answer.ok ? [] : answer.faults.map(({ code, what }) => `${code}: ${what}`);
}

function notices(keys: string): string[] {
  return clothsOf(keys)[0]!.notices.map(({ code }) => code);
}

const plain = 'width: 150, usable: 148';

function box(left: number, low: number, right: number, high: number): Outline {
  return [
    [left, low],
    [right, low],
    [right, high],
    [left, high],
  ];
}

describe('widths', () => {
  test('usable: the middle of it, a range, or assumed and told', () => {
    expect(cloth('width: 150, usable: 148').usable).toEqual([10_000, 1_490_000]);
    expect(cloth('width: 150, usable: [1, 149.5]').usable).toEqual([10_000, 1_495_000]);
    // Selvedges of 1 cm, and 1 cm more.
    expect(cloth('width: 150').usable).toEqual([15_000, 1_485_000]);
    expect(cloth('width: 150, selvedge: 2').usable).toEqual([25_000, 1_475_000]);
    expect(notices('width: 150')).toEqual(['usable-assumed']);
    expect(notices(plain)).toEqual([]);
  });

  test('a usable width that does not lie within the cloth', () => {
    expect(faults('width: 150, usable: [2, 151]')).toEqual([
      'usable-impossible: usable from 2.0 cm to 151.0 cm does not lie within the width 150.0 cm',
    ]);
    expect(faults('width: 150, usable: [9, 9]')).toHaveLength(1);
    expect(faults('width: 150, usable: [0, 150]')).toEqual([]);
    expect(faults('width: 150, usable: 150.1')[0]).toMatch(/^usable-impossible/);
  });

  test('an odd number of micrometres is taken down to an even one; a tube to four', () => {
    expect(cloth('width: 150.0003, usable: 148').width).toBe(1_500_002);
    expect(cloth('width: 150.0003, method: tube').width).toBe(1_500_000);
  });

  test('a tube has no selvedges, and its width is told to be the round', () => {
    expect(cloth('width: 150, method: tube').usable).toEqual([0, 1_500_000]);
    expect(notices('width: 150, method: tube')).toEqual(['tube-round']);
    expect(faults('width: 150, method: tube, usable: 148')).toEqual(['tube-has-no-selvedge: a tube has no selvedges']);
    expect(faults('width: 150, method: tube, selvedge: 1')[0]).toMatch(/^tube-has-no-selvedge/);
  });

  test('the depth of a partial fold, up to half the width', () => {
    expect(clothsOf(`${plain}, method: partial fold, fold: 30`)[0]!.foldUm).toBe(300_000);
    expect(clothsOf(`${plain}, method: partial fold`)[0]!.foldUm).toBeNull();
    expect(faults(`${plain}, method: partial fold, fold: 74.9`)).toEqual([]);
    expect(faults(`${plain}, method: partial fold, fold: 75`)).toHaveLength(1);
    // Washed, the fold lies at the same share of the width.
    expect(clothsOf(`${plain}, method: partial fold, fold: 30, shrinkage: {across: 10}`)[0]!.foldUm).toBe(270_000);
  });
});

describe('flaws', () => {
  test('a rectangle from its corner, a ring either way round, half a centimetre at each side of the crease', () => {
    const ring = '[[10, 10], [10, 20], [30, 10]]';
    expect(cloth(`${plain}, flaws: [{at: [80, 40], size: [6, 3]}, {outline: ${ring}}], crease: avoid`).flaws).toEqual([
      box(800_000, 400_000, 860_000, 430_000),
      [
        [300_000, 100_000],
        [100_000, 200_000],
        [100_000, 100_000],
      ],
      box(0, 745_000, stripEnd, 755_000),
    ]);
  });

  test('one that lies beside the cloth', () => {
    const told = ['flaw-outside: the flaw lies beside the cloth, which is 150.0 cm wide'];
    const at = (x: number, y: number) => faults(`${plain}, flaws: [{at: [${x}, ${y}], size: [2, 2]}]`);
    expect([at(0, 150), at(0, -2), at(-2, 10)]).toEqual([told, told, told]);
    expect([at(0, 149.9), at(0, -1.9), at(-1.9, 10)]).toEqual([[], [], []]);
  });
});

describe('a length at hand', () => {
  test('one, several, an outline; each a cloth of its own', () => {
    expect(clothsOf(`${plain}, length: 200`).map((each) => each.cloth.length)).toEqual([2_000_000]);
    expect(clothsOf(`${plain}, length: [200, 90]`).map((each) => each.cloth.length)).toEqual([2_000_000, 900_000]);
    const remnant = clothsOf(`${plain}, length: {outline: [[0, 0], [120, 0], [100, 150], [0, 150]]}`)[0]!;
    expect(remnant.irregular).toBe(true);
    expect(remnant.cloth.length).toBe(1_200_000);
    // What is missing of the rectangle around it is a flaw.
    expect(remnant.cloth.flaws.length).toBeGreaterThan(0);
    expect(clothsOf(`${plain}, length: 200`)[0]!.irregular).toBe(false);
  });

  test('an outline beyond the width or before the cut end', () => {
    const told = ['remnant-outside: the outline of the remnant reaches beyond its width, or before its cut end'];
    const at = (left: number, low: number, high: number) =>
      faults(`${plain}, length: {outline: [[${left}, ${low}], [120, ${low}], [100, ${high}]]}`);
    expect([at(0, 0, 150.1), at(-1, 0, 150), at(0, -1, 150)]).toEqual([told, told, told]);
    expect(at(0, 0, 150)).toEqual([]);
  });
});

describe('a repeat', () => {
  test('even lengths, where its bars lie, how it may be mirrored; told when a bar is not known', () => {
    expect(cloth(`${plain}, repeat: {along: 8.0001, across: 6, start: [2, 3], mirror: across}`).repeat).toEqual({
      along: 80_000,
      across: 60_000,
      start: [20_000, 30_000],
      mirror: 'across',
      drop: false,
    });
    expect(cloth(`${plain}, repeat: {along: 8, across: 6, drop: 1/2}`).repeat).toMatchObject({
      start: null,
      mirror: 'none',
      drop: true,
    });
    expect(notices(`${plain}, repeat: {along: 8}`)).toEqual(['repeat-start-assumed']);
    expect(notices(`${plain}, repeat: {along: 8, start: [0, 0]}`)).toEqual([]);
  });

  test('a bar along must be known where something is measured from the cut end, which reaching the bar would cut off', () => {
    const flaws = 'flaws: [{at: [85, 30], size: [6, 2]}]';
    const told = [expect.stringMatching(/^repeat-start-missing: /)];
    expect(faults(`${plain}, ${flaws}, repeat: {along: 8}`)).toEqual(told);
    const remnant = 'length: {outline: [[0, 0], [120, 0], [100, 90], [0, 90]]}';
    expect(faults(`${plain}, ${remnant}, repeat: {along: 8}`)).toEqual(told);
    expect(faults(`${plain}, ${flaws}, repeat: {along: 8, start: [2, 0]}`)).toEqual([]);
    expect(faults(`${plain}, ${flaws}, repeat: {across: 8}`)).toEqual([]);
  });
});

describe('washed before it is cut', () => {
  const wash = 'shrinkage: {along: 4, across: 2}';

  test('every measure is that of the washed cloth, rounded so as to be sure', () => {
    const washed = cloth(
      `${plain}, ${wash}, length: 200, flaws: [{at: [100, 50], size: [10, 5]}], crease: avoid, repeat: {along: 8, across: 6, start: [10, 20]}`,
    );
    expect(washed).toMatchObject({
      width: 1_470_000,
      usable: [9_800, 1_460_200],
      length: 1_920_000,
      shrinkagePpm: { along: 40_000, across: 20_000 },
      repeat: { along: 76_800, across: 58_800, start: [96_000, 196_000] },
    });
    expect(washed.flaws).toEqual([
      box(960_000, 490_000, 1_056_000, 539_000),
      // A crease is as long as the cloth, however long that is.
      box(0, 730_100, stripEnd, 739_900),
    ]);
  });

  test('one way alone; a tube keeps a quarter of its round whole', () => {
    expect(cloth(`${plain}, shrinkage: {along: 5}, length: 100`)).toMatchObject({ width: 1_500_000, length: 950_000 });
    expect(cloth(`${plain}, shrinkage: {across: 5}, length: 100`)).toMatchObject({
      width: 1_425_000,
      length: 1_000_000,
    });
    expect(cloth(`${plain}, shrinkage: {along: 5}, repeat: {across: 6}`).repeat).toMatchObject({
      along: null,
      across: 60_000,
      start: null,
    });
    const tube = cloth('width: 150, method: tube, shrinkage: {across: 3.3333}');
    expect([tube.width, tube.usable]).toEqual([1_450_000, [0, 1_450_000]]);
  });

  test('a flaw so small that rounding makes it touch itself becomes the rectangle around it', () => {
    const washedOf = (ring: string) =>
      cloth(`${plain}, shrinkage: {along: 50, across: 50}, flaws: [{outline: ${ring}}]`).flaws;
    const square = '[[10, 10], [10.0001, 10], [10.0001, 10.0001], [10, 10.0001]]';
    const sliver = '[[10, 10], [10.0002, 10.0001], [10.0002, 10.0002]]';
    const one = [box(50_000, 50_000, 50_001, 50_001)];
    expect([washedOf(square), washedOf(sliver)]).toEqual([one, one]);
  });
});
