/**
 * Sizes of sheets: ISO 216 (A0 has 1 m2 and sides as 1 to the root of 2, each next one is its half, in whole
 * millimetres); ANSI/ASME Y14.1 A and B, 8 1/2 x 11 and 11 x 17 in. From memory.
 */
import { expect, test } from 'vitest';
import { sheetNames, sheetSizesMm } from '../../src/units/paper.js';

test('the A series: half of the next larger, down to the whole millimetre', () => {
  const series = [sheetSizesMm.a0, sheetSizesMm.a1, sheetSizesMm.a2, sheetSizesMm.a3, sheetSizesMm.a4];
  // sqrt(1 m2 / sqrt 2) and sqrt(1 m2 x sqrt 2), to the nearest millimetre.
  expect(series[0]).toEqual([Math.round(1_000 / 2 ** 0.25), Math.round(1_000 * 2 ** 0.25)]);
  for (let i = 1; i < series.length; i++) {
    const [short, long] = series[i - 1]!;
    expect(series[i]).toEqual([Math.floor(long / 2), short]);
  }
});

test('letter and tabloid, in inches', () => {
  const inches = (name: 'letter' | 'tabloid') => sheetSizesMm[name].map((mm) => mm / 25.4);
  expect(inches('letter')[0]).toBeCloseTo(8.5, 12);
  expect(inches('letter')[1]).toBeCloseTo(11, 12);
  expect(inches('tabloid')[0]).toBeCloseTo(11, 12);
  expect(inches('tabloid')[1]).toBeCloseTo(17, 12);
});

test('their names, the smallest first', () => {
  expect(sheetNames).toEqual(['a4', 'a3', 'a2', 'a1', 'a0', 'letter', 'tabloid']);
});
