import { beforeAll, describe, expect, test } from 'vitest';
import type { Lay } from '../../src/lay/types.js';
import { chalkDrawing } from '../../src/marker/chalk-pages.js';
import { fillColumns, type TableRow } from '../../src/marker/chalk-table.js';
import { loadPageFont, type PageFont } from '../../src/marker/font.js';
import { planDrawing } from '../../src/marker/plan.js';
import type { Drawing } from '../../src/marker/types.js';
import { cautions } from '../../src/report/cautions.js';
import { transferList } from '../../src/report/transfer-list.js';
import type { SheetName } from '../../src/units/paper.js';
import { collisionsOf } from '../support/collisions.js';
import { itemsOf, textBox, textsOf } from '../support/drawings.js';
import { crowdedLay, exampleLay, openLay, sampleLays } from '../support/sample-lays.js';

let font: PageFont;
beforeAll(async () => {
  font = await loadPageFont();
});

const draw = (
  lay: Lay,
  page: SheetName = 'a4',
  units: 'cm' | 'in' = 'cm',
  side: 'right' | 'wrong' = 'right',
): Drawing => chalkDrawing(lay, { page, units, side, measure: font });
const wordsOf = (drawing: Drawing) => drawing.pages.map((page) => textsOf(page).map(({ text }) => text));

/** The same lay with its pieces, and so its pages, many times as many. */
function manyPieces(lay: Lay, times: number): Lay {
  const rounds = Array.from({ length: times }, (_, i) => i);
  return {
    ...lay,
    pieces: rounds.flatMap((i) => lay.pieces.map((piece) => ({ ...piece, id: `${piece.id} ${i}` }))),
    placements: lay.placements.map((placement, i) => ({ ...placement, piece: `${placement.piece} ${i % times}` })),
  };
}

const every = Object.entries({ ...sampleLays, 'many pieces': manyPieces(crowdedLay, 12) }).flatMap(([name, lay]) =>
  (['a4', 'letter', 'a3', 'a0'] as const).flatMap((page) =>
    (['right', 'wrong'] as const).map((side) => ({ name, lay, page, side })),
  ),
);

describe('chalk pages', () => {
  test.each(every)(
    '$name on $page, $side side: nothing on anything else, all inside the margins',
    ({ lay, page, side }) => {
      const drawing = draw(lay, page, side === 'right' ? 'cm' : 'in', side);
      expect(collisionsOf(drawing)).toEqual([]);
      for (const sheet of drawing.pages) {
        for (const item of itemsOf(sheet)) {
          const box = item.type === 'text' ? textBox(item) : null;
          const corners =
            box === null
              ? (item as { points: readonly (readonly [number, number])[] }).points
              : [[box.left, box.top] as const, [box.right, box.bottom] as const];
          for (const [x, y] of corners) {
            expect(x >= 11.9 && y >= 11.9 && x <= sheet.widthMm - 11.9 && y <= sheet.heightMm - 11).toBe(true);
          }
        }
      }
    },
  );

  test('title block, list, transfer list and cautions, in this order', () => {
    const [words] = wordsOf(draw(exampleLay)) as [string[]];
    const order = [
      'Example · shell',
      'buy 1.1 m of lawn 115, 115 cm wide',
      'folded lengthwise, two layers',
      'right sides together, fold at the right',
      'one-way',
      '100.3 cm used',
      'usable width',
      'utilisation',
      'chalk list',
      'Front',
      'transfer list',
      'awl point',
      '1 pair (one as drawn, one mirrored)',
      'to mind',
    ];
    const at = order.map((text) => words.indexOf(text));
    expect(at.filter((i) => i < 0).map((_, i) => order[i])).toEqual([]);
    expect(at).toEqual([...at].sort((a, b) => a - b));
    const all = words.join(' ');
    for (const caution of cautions) expect(all).toContain(caution.split(' ').slice(0, 3).join(' '));
    // Nothing is drawn, so there is no scale to tell.
    expect(all).not.toContain('scale 1');
  });

  test('a long list goes on with its headings and page numbers, and a box to tick for every line', () => {
    const lay = manyPieces(crowdedLay, 12);
    const drawing = draw(lay);
    const pages = wordsOf(drawing);
    expect(pages.length).toBeGreaterThan(2);
    pages.forEach((words, i) => {
      expect(words).toContain(`page ${i + 1} of ${pages.length}`);
      expect(words.some((text) => text.startsWith(lay.title))).toBe(true);
    });
    // 60 placements on more than one page: the columns are named on both.
    expect(pages[1]).toContain('cut end');
    const boxes = drawing.pages.flatMap(itemsOf).filter((item) => item.type === 'line' && item.kind === 'box');
    const marks = transferList(lay).pieces.reduce((sum, { marks }) => sum + marks.length, 0);
    expect(boxes.length).toBeGreaterThanOrEqual(lay.placements.length + marks);
    expect(pages.flat().filter((text) => text === 'notch')).toHaveLength(
      transferList(lay)
        .pieces.flatMap(({ marks }) => marks)
        .filter(({ what }) => what === 'notch').length,
    );
  });

  test('a piece whose marks go on in the next column is named there again', () => {
    const notches = Array.from({ length: 120 }, (_, i) => [[i * 1000, 0] as const, [i * 1000, 4000] as const] as const);
    const lay = {
      ...openLay,
      pieces: openLay.pieces.map((piece) => (piece.id === 'Tie' ? { ...piece, notches } : piece)),
    };
    const words = wordsOf(draw(lay)).flat();
    expect(words).toContain('Tie, continued');
    expect(words.filter((text) => text === 'notch').length).toBeGreaterThanOrEqual(120);
  });

  test('endless names, notes and numbers, and many pieces off the grain, stay on their pages', () => {
    const long = 'hem it, press it and try it on before the next seam, then do the other one alike, '.repeat(60);
    const lay = {
      ...crowdedLay,
      title: 'long '.repeat(80),
      pieces: crowdedLay.pieces.map((piece) => ({
        ...piece,
        id: `${piece.id} ${'Unterarmkeil'.repeat(9)}`,
        note: long,
      })),
      placements: crowdedLay.placements.map((placement) => ({
        ...placement,
        piece: `${placement.piece} ${'Unterarmkeil'.repeat(9)}`,
      })),
      copies: crowdedLay.copies.map((copy) => ({ ...copy, tiltMicrodegrees: 1_500_000 })),
    };
    const drawing = draw(lay);
    expect(collisionsOf(drawing)).toEqual([]);
    for (const page of drawing.pages) {
      for (const text of textsOf(page)) expect(textBox(text).bottom).toBeLessThan(page.heightMm - 11);
    }
    const words = wordsOf(drawing).flat();
    expect(words.join(' ').match(/try it on/g)!.length).toBeGreaterThan(100);
    expect(words).toContain('no. 1 lies 1.5° off the grain');
  });

  test('columns: a heading never stands alone at a foot, and rows keep their order', () => {
    const row = (heightMm: number): TableRow => ({ heightMm, draw: () => [] });
    const [heading, continued] = [row(2), row(3)];
    const rows = Array.from({ length: 7 }, () => row(4));
    const columns = fillColumns(
      [
        { heading, continued, rows },
        { heading, rows: [row(9)] },
        { heading, rows: [], beginsColumn: true },
      ],
      () => 15,
    );
    const [a, b, c] = rows.slice(0, 3);
    expect(columns[0]).toEqual([heading, a, b, c]);
    expect(columns[1]![0]).toBe(continued);
    expect(columns[2]).toEqual([continued, rows[6]]);
    expect(columns[3]).toHaveLength(2);
    expect(columns[4]).toEqual([heading]);
    for (const column of columns)
      expect(column.reduce((sum, { heightMm }) => sum + heightMm, 0)).toBeLessThanOrEqual(15);
  });

  test('the same lay gives the same drawing', () => {
    expect(draw(openLay)).toEqual(draw(openLay));
  });
});

test('a name that ends in the size of its piece tells it once, in the chalk list, the transfer list and the plan', () => {
  const named = (id: string) => (id === 'Bib' ? 'Bib M' : id);
  const lay: Lay = {
    ...openLay,
    pieces: openLay.pieces.map((piece) => ({ ...piece, id: named(piece.id) })),
    placements: openLay.placements.map((placement) => ({ ...placement, piece: named(placement.piece) })),
  };
  const plan = planDrawing(lay, { page: 'a4', units: 'cm', measure: font });
  for (const drawing of [draw(lay), plan]) {
    const words = wordsOf(drawing).flat();
    expect(words.some((text) => text.includes('Bib M'))).toBe(true);
    expect(words.filter((text) => text.includes('M M'))).toEqual([]);
  }
});

test('the name of a match group is told in full, however long', () => {
  const groups = ['Deck smock for the summer: armhole', 'Deck smock for the summer: hem'];
  const lay: Lay = {
    ...openLay,
    pieces: openLay.pieces.map((piece) => ({
      ...piece,
      match: groups.map((group) => ({ at: piece.grain[0], group, way: 'both' as const })),
    })),
  };
  for (const page of ['a4', 'letter', 'a3'] as const) {
    const drawing = draw(lay, page);
    expect(collisionsOf(drawing)).toEqual([]);
    const words = wordsOf(drawing).flat().join(' ');
    for (const group of groups) {
      expect(words.split(`match point, group ${group}`)).toHaveLength(lay.pieces.length + 1);
    }
  }
});
