/** Proof of entry: looked at as a drawing list, for every garment we have. */
import { beforeAll, describe, expect, test } from 'vitest';
import { readCutList } from '../../src/cutlist/read.js';
import type { CutList } from '../../src/cutlist/types.js';
import { loadPageFont, type PageFont } from '../../src/marker/font.js';
import { proofDrawing } from '../../src/marker/proof.js';
import { toSvg } from '../../src/marker/svg.js';
import { proofPieces } from '../../src/report/proof.js';
import { collisionsOf } from '../support/collisions.js';
import { readXml, textBox, textsOf } from '../support/drawings.js';
import { cutListFiles, fixtureCutList } from '../support/fixtures.js';

let font: PageFont;
beforeAll(async () => {
  font = await loadPageFont();
});

describe.each(['a4', 'letter'] as const)('on %s', (page) => {
  test.each(cutListFiles)('%s: all is on the page, no text lies on another or on a line', (file) => {
    const cutList = fixtureCutList(file);
    const drawing = proofDrawing(proofPieces(cutList), {
      title: cutList.title,
      page,
      units: cutList.units,
      measure: font,
    });
    expect(readXml(toSvg(drawing)).name).toBe('svg');
    expect(collisionsOf(drawing)).toEqual([]);
    for (const each of drawing.pages) {
      for (const { left, right, top, bottom } of textsOf(each).map(textBox)) {
        expect(left > 5 && top > 5 && right < each.widthMm - 5 && bottom < each.heightMm - 5).toBe(true);
      }
    }
  });
});

test('every corner is lettered and every edge has its length', () => {
  const cutList = fixtureCutList('garments/oilskin-overall.yaml');
  const drawing = proofDrawing(proofPieces(cutList), { title: 'x', page: 'a4', units: 'cm', measure: font });
  const groups = drawing.pages.flatMap((page) => page.groups);
  for (const { title, edges } of proofPieces(cutList)) {
    const { items } = groups.find((group) => group.title === `piece ${title}`)!;
    const texts = items.flatMap((item) => (item.type === 'text' ? [item.text] : []));
    for (const { letter } of edges) expect(texts).toContain(letter);
    for (const { length } of edges) expect(texts).toContain(length);
  }
});

test('materials that cut a piece alike share a drawing, others have their own', () => {
  const text = `title: Test
units: cm
drawn: net
pieces:
  Flap: {rectangle: [30, 20], cut: {shell: 1, lining: 1, felt: 1}, allowance: {shell: 1, lining: 1, felt: 0}}
cloths:
  all: {for: [shell, lining, felt], width: 150, usable: 147}
`;
  const answer = readCutList(text, 'test.yaml');
  const pieces = proofPieces((answer as { value: CutList }).value);
  expect(pieces.map(({ words }) => words[0])).toEqual([
    'cut 1 from shell, read as 1 copy; cut 1 from lining, read as 1 copy',
    'cut 1 from felt, read as 1 copy',
  ]);
  expect(pieces.map(({ shape }) => shape.seam === null)).toEqual([false, true]);
});

test('a name that ends in the size of its piece tells it once', () => {
  const cutList = fixtureCutList('garments/oilskin-overall.yaml');
  const [piece, ...others] = cutList.pieces;
  const sized = { ...cutList, pieces: [{ ...piece!, id: 'Bib M', size: 'M' }, ...others] };
  expect(proofPieces(sized)[0]!.title).toMatch(/^Bib M(?! M)/);
});
