import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatBuy, formatLength, parseLength } from '../../src/units/length.js';
import type { LengthUnit } from '../../src/units/types.js';

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

  test('farther than 1 km is refused', () => {
    expect(um('1e9')).toMatch(/farther than 1 km/);
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
  });
});
