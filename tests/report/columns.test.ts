import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shownWidth, table, wrap } from '../../src/report/columns.js';

describe('wrapping', () => {
  it('parts no number from its fraction or its unit', () => {
    expect(wrap('it is 13 1/2 in', 10)).toEqual(['it is', '13 1/2 in']);
    expect(wrap('a length of 215.0 cm', 17)).toEqual(['a length of', '215.0 cm']);
    expect(wrap('waste 28.7 %', 10)).toEqual(['waste', '28.7 %']);
  });

  it('keeps every word, in order, and fits every line that can fit', () => {
    const words = fc.array(fc.stringMatching(/^[a-zäξд0-9.]{1,12}$/u), { minLength: 1, maxLength: 30 });
    fc.assert(
      fc.property(words, fc.integer({ min: 30, max: 60 }), (list, width) => {
        const lines = wrap(list.join(' '), width);
        expect(lines.join(' ')).toBe(list.join(' '));
        for (const line of lines) expect(shownWidth(line)).toBeLessThanOrEqual(width);
      }),
    );
  });
});

describe('tables', () => {
  it('aligns what looks wide or takes no room', () => {
    // Two wide letters take four columns; e with a combining accent takes one.
    const rows = [
      ['帆布', '1', ''],
      ['toile\u0301', '22', ''],
    ];
    expect(table(rows, ['left', 'right', 'left'], 0, 80)).toEqual(['帆布    1', 'toile\u0301  22']);
  });
});
