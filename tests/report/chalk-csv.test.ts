import { describe, expect, test } from 'vitest';
import { chalkCsv, textCell } from '../../src/report/chalk-csv.js';
import { chalkList } from '../../src/report/chalk-list.js';
import { exampleLay, openLay, sampleLays } from '../support/sample-lays.js';

/** Reads RFC 4180, strictly: every line ends in CRLF. */
function readCsv(text: string): string[][] {
  const rows: string[][] = [];
  let rest = text;
  while (rest !== '') {
    const row: string[] = [];
    for (;;) {
      const match = /^(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)/.exec(rest);
      if (match === null) throw new Error(`not a cell: ${rest.slice(0, 40)}`);
      row.push(match[1]?.replace(/""/g, '"') ?? match[2]!);
      rest = rest.slice(match[0].length);
      if (match[3] !== ',') break;
    }
    rows.push(row);
  }
  return rows;
}

describe('chalk list as CSV', () => {
  test('a header, then a row for each placement in laying order, by hand', () => {
    expect(readCsv(chalkCsv(chalkList(exampleLay, 'cm'), 'cm'))).toEqual([
      [
        'number',
        'piece',
        'size',
        'garment',
        'cut',
        'copies',
        'turn over after cutting',
        'printed side',
        'head towards',
        'degrees off the grain',
        'fold edge',
        'edge measured from',
        'grain foot from cut end (cm)',
        'grain foot from edge (cm)',
        'grain head from cut end (cm)',
        'grain head from edge (cm)',
        'along from (cm)',
        'along to (cm)',
        'across from (cm)',
        'across to (cm)',
      ],
      '1,Front,,1,cut 1 on fold,1,0,up,far end,0,on the fold,fold,9.50,0.00,44.50,0.00,2.00,52.00,0.00,25.00'.split(
        ',',
      ),
      '2,Back,,1,cut 1 pair,2,0,up,far end,0,,selvedges,57.30,10.00,97.30,10.00,52.30,102.30,1.00,24.00'.split(','),
    ]);
  });

  test.each(Object.entries(sampleLays))('%s: lengths are plain numbers in every unit and agree', (_, lay) => {
    const perCm = { cm: 1, mm: 0.1, in: 2.54 } as const;
    for (const units of ['cm', 'mm', 'in'] as const) {
      const list = chalkList(lay, units);
      const [head, ...rows] = readCsv(chalkCsv(list, units));
      expect(rows).toHaveLength(lay.placements.length);
      const at = head!.indexOf(`along to (${units})`);
      rows.forEach((row, i) => {
        expect(row).toHaveLength(head!.length);
        for (const cell of row.slice(12)) expect(cell).toMatch(/^\d+\.\d+$/);
        expect(Number(row[at]) * perCm[units]).toBeCloseTo(list.lines[i]!.alongUm[1] / 10_000, 2);
      });
    }
  });

  test.each([
    ['=HYPERLINK("x")', `"'=HYPERLINK(""x"")"`],
    ['+1', `"'+1"`],
    ['-2', `"'-2"`],
    ['@SUM(A1)', `"'@SUM(A1)"`],
    [' =1', `"' =1"`],
    ['\t=1', `"'\t=1"`],
    ['\rA', `"'\rA"`],
    ['＝1', `"'＝1"`],
    ['Back, upper', '"Back, upper"'],
    ['6" tab', '"6"" tab"'],
    ["O'Hara", `"O'Hara"`],
    ['two\nlines', '"two\nlines"'],
    ['Πλάτη', 'Πλάτη'],
    ['a=b', 'a=b'],
    ['', ''],
  ])('%j stays a text', (text, cell) => {
    expect(textCell(text)).toBe(cell);
  });

  test('a name that is a formula comes back as a text', () => {
    const rename = (name: string) => (name === 'Tie' ? '=1+2,"x"' : name);
    const lay = {
      ...openLay,
      pieces: openLay.pieces.map((piece) => ({ ...piece, id: rename(piece.id) })),
      placements: openLay.placements.map((placement) => ({ ...placement, piece: rename(placement.piece) })),
    };
    const rows = readCsv(chalkCsv(chalkList(lay, 'cm'), 'cm'));
    expect(rows.filter(([, piece]) => piece === `'=1+2,"x"`)).toHaveLength(2);
    expect(rows.flat().filter((cell) => /^[=+@-]/.test(cell))).toEqual([]);
  });
});
