import { describe, expect, it } from 'vitest';
import { shownWidth } from '../../src/report/columns.js';
import { reportText } from '../../src/report/text.js';
import type { ReportInput } from '../../src/report/types.js';
import { folded, inputOf, open, pairNotice, planned, remnant, tooShort } from './samples.js';

function report(input: ReportInput, files: string[][] = []): string {
  return reportText(input, { files });
}

describe('the report in the terminal', () => {
  it('begins with what to buy, at which width, and the cost rounded half up', () => {
    const lines = report(inputOf(planned)).split('\n');
    expect(lines[2]).toBe('buy 2.3 m of lawn, 115 cm wide');
    // 2.3 m at 18.50 a metre: 42.55, by hand.
    expect(lines[3]).toBe('for shell; cost 42.55 EUR, at 18.50 EUR a metre');
  });

  it('gives each addition a line of its own, in columns', () => {
    const text = report(inputOf(planned));
    expect(text).toContain(
      [
        '     length used  215.0 cm',
        '  +  ends           4.0 cm  2.0 cm at the cut end, 2.0 cm at the far end',
        "  +  rounding up   11.0 cm  to the shop's 10 cm",
        '  =  to buy       230.0 cm',
      ].join('\n'),
    );
  });

  it('adds up to what is seen where each line is rounded by itself', () => {
    const buyParts = [
      { why: 'ends', um: 60_000 },
      { why: 'rounding up', um: 32_550 },
    ] as const;
    const totals = { ...folded.lay!.totals, lengthUsed: 1_507_450, buyParts, buy: 1_600_000 };
    const chosen = { ...folded, lay: { ...folded.lay!, totals } };
    const text = report(inputOf({ ...planned, chosen }));
    expect(text).toContain('length used  150.75 cm');
    expect(text).toContain('rounding up    3.25 cm');
  });

  it('says the basis of the utilisation, the bound with its reason, the gap and how often the length was reached', () => {
    const text = report(inputOf(planned)).replace(/\s+/g, ' ');
    expect(text).toContain('71.3 % of the usable 113.0 cm x 215.0 cm; waste 28.7 %');
    // (215.0 - 198.23) / 215.0 = 7.8 %, by hand.
    expect(text).toContain('no lay of this kind can be shorter than 198.2 cm (area of all copies); gap 7.8 %');
    expect(text).toContain('shortest found; the same length was reached from 14 of 20 starts');
    expect(text).toContain('2 placements, 3 copies');
    // 1.5 for one lay method and 2.25 for the other: the sum repeats the run.
    expect(text).toContain('effort 3.75, seed 1');
  });

  it('calls the usable width assumed only where the file does not give it', () => {
    const assumed = { ...planned, notices: planned.cloth.notices };
    expect(report(inputOf(assumed))).toContain('113.0 cm, assumed until you have measured it');
    expect(report(inputOf(planned))).not.toContain('assumed');
  });

  it('sets the lay methods side by side, with the reason of one that is not allowed', () => {
    const refused = [{ method: 'tube' as const, why: 'the cloth is not a tube' }];
    const text = report(inputOf({ ...planned, refused }));
    expect(text).toContain(
      [
        '  lay method       length used    buy',
        '  open                250.1 cm  2.6 m',
        '  lengthwise fold     215.0 cm  2.3 m  this lay',
        '  tube not allowed: the cloth is not a tube',
      ].join('\n'),
    );
    expect(report(inputOf({ ...planned, candidates: [folded] }))).not.toContain('lay method');
  });

  it('says that a material does not fit, with the reason, and whether that is proven', () => {
    const proven = report(inputOf(remnant));
    expect(proven).toContain('shell does not fit on remnant, 115 cm wide, 120 cm at hand\n  proven\n');
    expect(proven.replace(/\s+/g, ' ')).toContain(
      'no lay can be shorter than 198.0 cm (longest piece); between its ends the cloth has 116.0 cm',
    );
    const searched = { ...remnant, candidates: [{ ...tooShort, fitProven: false }] };
    expect(report(inputOf(searched))).toContain('not proven: effort 0.5 found no lay that fits');
  });

  it('takes the reason from a piece that is too wide', () => {
    const warning = {
      ...pairNotice,
      severity: 'warning' as const,
      what: '118.0 cm across is too wide',
      fix: 'add a seam',
    };
    const text = report(inputOf({ ...remnant, notices: [warning] }));
    expect(text).toContain('  - piece "Pocket": 118.0 cm across is too wide\n  fix: add a seam\n');
  });

  it('says so when nothing was found before the interruption', () => {
    const none = { ...remnant, candidates: [{ ...tooShort, status: 'interrupted' as const, fitProven: null }] };
    expect(report(inputOf(none)).replace(/\s+/g, ' ')).toContain('no lay yet for shell on remnant');
  });

  it('compares several cloths for one material after the last of them', () => {
    const text = report(inputOf(planned, remnant));
    expect(text).toContain(
      [
        'shell, the cloths compared',
        '  cloth     width    buy       cost',
        '  lawn     115 cm  2.3 m  42.55 EUR',
        '  remnant  115 cm      -          -  does not fit',
      ].join('\n'),
    );
    expect(report(inputOf(planned))).not.toContain('compared');
  });

  it('lists a notice once, wherever it was raised, and the cautions', () => {
    const text = report({ ...inputOf({ ...planned, notices: [pairNotice] }), notices: [pairNotice] });
    expect(text.split('2 is read as 1 pair').length).toBe(2);
    expect(text).toContain('fix: write 1 pair, or 2 same way');
    expect(text).toContain('Check the lay on the cloth before the first cut');
  });

  it('keeps to 80 letters and ends with one line feed', () => {
    const text = report(inputOf({ ...planned, candidates: [open, folded] }, remnant), [['lays/a.lay.json'], []]);
    for (const line of text.split('\n')) expect(shownWidth(line)).toBeLessThanOrEqual(80);
    expect(text).toMatch(/[^\n]\n$/);
    expect(text).not.toMatch(/[ \t]\n/);
  });

  it('speaks inches and yards in an inch list', () => {
    const text = report({ ...inputOf(planned), units: 'in' });
    expect(text).toContain('of lawn, 45 1/4 in wide');
    expect(text).toContain('a yard');
  });
});
