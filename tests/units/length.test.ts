import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatBuy, formatDecimal, formatLength, parseLength, toCm } from '../../src/units/length.js';
import { coordinateMaxUm, type LengthUnit } from '../../src/units/types.js';

function um(text: string, unit: LengthUnit = 'cm'): number | string {
  const read = parseLength(text, unit);
  return 'um' in read ? read.um : read.problem;
}

describe('parseLength', () => {
  test.each([
    ['80', 'cm', 800_000],
    ['8.2345', 'cm', 82_345],
    ['8.23455', 'cm', 82_346],
    ['-8.23455', 'cm', -82_346],
    ['1,5 cm', 'in', 15_000],
    ['1.9 m', 'cm', 1_900_000],
    ['12mm', 'in', 12_000],
    ['13 1/2 in', 'cm', 342_900],
    ['13-1/2 in', 'cm', 342_900],
    ['5/8"', 'cm', 15_875],
    ['1½ in', 'cm', 38_100],
    ['2 1/4 yd', 'cm', 2_057_400],
    ['1e1', 'cm', 100_000],
    ['+3', 'mm', 3_000],
    ['.5', 'in', 12_700],
    ['3 ft', 'cm', 914_400],
    ['2 yds', 'cm', 1_828_800],
    ['1 YARD', 'cm', 914_400],
    ['3 inches', 'cm', 76_200],
    ['-1 1/2 in', 'cm', -38_100],
    ['-½ in', 'cm', -12_700],
    ['1 + 1/4 in', 'cm', 31_750],
    ['1/16 in', 'cm', 1_588],
    ['2⅔ yd', 'cm', 2_438_400],
    ['  7  mm ', 'cm', 7_000],
    ['1.5e2', 'mm', 150_000],
    ['25e-1', 'cm', 25_000],
    ['1e-40', 'cm', 0],
    ['0e40', 'cm', 0],
    ['0.00005', 'cm', 1],
    ['0.000049', 'cm', 0],
    ['100000', 'cm', 1_000_000_000],
    ['-100000', 'cm', -1_000_000_000],
  ] as const)('%s (%s)', (text, unit, expected) => {
    expect(um(text, unit)).toBe(expected);
  });

  test('exact inch and yard (international inch and yard, 1959: 25.4 mm, 0.9144 m; check value UN1)', () => {
    expect(um('1 in')).toBe(25_400);
    expect(um('1 yd')).toBe(914_400);
    expect(um('1/8 yd')).toBe(114_300);
  });

  test.each(['', 'cm', '3 cubits', 'NaN', 'Infinity', '0x10', '1/0', '1 2', '1e999', '1..2', '--3', '3 3/'])(
    '%j is refused with a reason',
    (text) => {
      expect(typeof um(text)).toBe('string');
    },
  );

  test('farther than 1 km is refused, either way', () => {
    expect(um('1e9')).toBe('1e9 is farther than 1 km');
    expect(um(' 100000.0001 cm')).toBe('100000.0001 cm is farther than 1 km');
    expect(um('-100000.0001')).toBe('-100000.0001 is farther than 1 km');
  });

  test.each([
    ['', 'there is no number'],
    ['cm', '"cm" is not a length'],
    ['  cm ', '"cm" is not a length'],
    ['3O', '"3O" holds a letter O in the place of a figure'],
    ['1O.5 cm', '"1O.5 cm" holds a letter O in the place of a figure'],
    ['l5', '"l5" holds a letter l in the place of a figure'],
    ['lO', '"lO" is not a length'],
    ['3 cubits', '"cubits" is not a unit (mm, cm, m, in, ft or yd)'],
    ['1 2', '"1 2" is not a length'],
    ['1e41', '"1e41" is not a length'],
    ['1e-41', '"1e-41" is not a length'],
    ['0.1e-40', '"0.1e-40" is not a length'],
    ['3/0 in', '"3/0" divides by nothing'],
  ])('%j: %s', (text, problem) => {
    expect(um(text)).toBe(problem);
  });

  test('whole micrometres written in any unit come back', () => {
    fc.assert(
      fc.property(fc.integer({ min: -1_000_000_000, max: 1_000_000_000 }), (value) => {
        const sign = value < 0 ? '-' : '';
        const digits = String(Math.abs(value)).padStart(5, '0');
        expect(um(`${sign}${digits.slice(0, -4)}.${digits.slice(-4)}`)).toBe(value === 0 ? 0 : value);
        expect(um(`${sign}${digits.slice(0, -3)}.${digits.slice(-3)} mm`)).toBe(value === 0 ? 0 : value);
      }),
    );
  });
});

test('the largest coordinate: products of differences stay exact in a double, one further they do not', () => {
  const exact = 2 ** 53;
  expect((2 * coordinateMaxUm) ** 2).toBeLessThanOrEqual(exact);
  expect((2 * (coordinateMaxUm + 1)) ** 2).toBeGreaterThan(exact);
});

describe('formatting', () => {
  test('lengths', () => {
    expect(formatLength(118_000, 'cm')).toBe('11.8 cm');
    expect(formatLength(118_499, 'cm')).toBe('11.8 cm');
    expect(formatLength(118_500, 'cm')).toBe('11.9 cm');
    expect(formatLength(118_499, 'mm')).toBe('118 mm');
    expect(formatLength(117_475, 'in')).toBe('4 5/8 in');
    expect(formatLength(25_400 - 1, 'in')).toBe('1 in');
    expect(formatLength(12_700, 'in')).toBe('1/2 in');
    expect(formatLength(-400, 'cm')).toBe('0.0 cm');
    expect(formatLength(-500, 'cm')).toBe('-0.1 cm');
    expect(formatLength(-12_345, 'cm')).toBe('-1.2 cm');
    expect(formatLength(0, 'in')).toBe('0 in');
    expect(formatLength(-12_700, 'in')).toBe('-1/2 in');
    expect(formatLength(-700, 'in')).toBe('0 in');
    // To the nearest sixteenth, 1.5875 mm: half of one up.
    expect(formatLength(793, 'in')).toBe('0 in');
    expect(formatLength(794, 'in')).toBe('1/16 in');
    expect(formatLength(3 * 25_400 + 3 * 1_588, 'in')).toBe('3 3/16 in');
  });

  test('any number of decimals, rounded half away from nothing', () => {
    expect(formatDecimal(1_234_567, 1_000_000, 3)).toBe('1.235');
    expect(formatDecimal(1_234_499, 1_000_000, 3)).toBe('1.234');
    expect(formatDecimal(-1_234_500, 1_000_000, 3)).toBe('-1.235');
    expect(formatDecimal(1_500, 1_000, 0)).toBe('2');
    expect(formatDecimal(-1_500, 1_000, 0)).toBe('-2');
    expect(formatDecimal(-499, 1_000, 0)).toBe('0');
    expect(formatDecimal(7, 1_000, 2)).toBe('0.01');
  });

  test('centimetres as a plain number', () => {
    expect(toCm(82_345)).toBe(8.2345);
  });

  test('buy lengths', () => {
    expect(formatBuy(2_300_000, 'cm')).toBe('2.3 m');
    expect(formatBuy(2_350_000, 'mm')).toBe('2.35 m');
    expect(formatBuy(2_057_400, 'in')).toBe('2 1/4 yd');
    expect(formatBuy(914_400, 'in')).toBe('1 yd');
    // Never less than it is: 1.0936 yd, 1.0204 m.
    expect(formatBuy(1_000_000, 'in')).toBe('1.1 yd');
    expect(formatBuy(1_020_400, 'cm')).toBe('1.021 m');
    expect(formatBuy(1_020_000, 'cm')).toBe('1.02 m');
    expect(formatBuy(1_020_001, 'cm')).toBe('1.021 m');
    expect(formatBuy(3_000_000, 'cm')).toBe('3.0 m');
    // An eighth of a yard as it is sold, and the next hundredth otherwise.
    expect(formatBuy(114_300, 'in')).toBe('1/8 yd');
    expect(formatBuy(114_301, 'in')).toBe('0.13 yd');
    expect(formatBuy(914_400 + 9_144, 'in')).toBe('1.01 yd');
    expect(formatBuy(914_400 + 9_145, 'in')).toBe('1.02 yd');
    expect(formatBuy(10 * 914_400 - 1, 'in')).toBe('10 yd');
  });
});
