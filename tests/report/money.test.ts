import { describe, expect, it } from 'vitest';
import { costMinor, formatMoney, formatPrice } from '../../src/report/money.js';

describe('cost', () => {
  it('rounds half a cent up, by hand', () => {
    // 0.25 m at 18.50 = 4.625; 0.1 m at 0.04 = 0.004; 0.1 m at 0.05 = 0.005.
    expect(costMinor(250_000, 1850)).toBe(463);
    expect(costMinor(100_000, 4)).toBe(0);
    expect(costMinor(100_000, 5)).toBe(1);
  });

  it('loses nothing of a price per yard', () => {
    // 9.99 a yard, 2 1/2 yd = 2.286 m: 24.975, up to 24.98. 1 yd = 0.9144 m exactly (international yard, 1959).
    expect(costMinor(2_286_000, 999 / 0.9144)).toBe(2498);
    for (let cents = 1; cents < 3000; cents++) expect(costMinor(914_400, cents / 0.9144)).toBe(cents);
  });

  it('writes two decimals and the currency where there is one', () => {
    expect(formatMoney(5, null)).toBe('0.05');
    expect(formatMoney(4255, 'EUR')).toBe('42.55 EUR');
    expect(formatPrice(999 / 0.9144, 'USD', 'in')).toBe('9.99 USD a yard');
  });
});
