/** Proof of entry: looked at as a drawing list, for every garment we have. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import { readCutList } from '../../src/cutlist/read.js';
import type { CutList } from '../../src/cutlist/types.js';
import { loadPageFont, type PageFont } from '../../src/marker/font.js';
import { proofDrawing } from '../../src/marker/proof.js';
import { toSvg } from '../../src/marker/svg.js';
import { boxOfText } from '../../src/marker/text.js';
import type { Item, Page, TextItem } from '../../src/marker/types.js';
import { proofPieces } from '../../src/report/proof.js';
import { readXml } from '../support/drawings.js';

let font: PageFont;
beforeAll(async () => {
  font = await loadPageFont();
});

const folder = fileURLToPath(new URL('../../fixtures/', import.meta.url));
const files = ['boatyard', 'garments'].flatMap((name) =>
  readdirSync(`${folder}${name}`)
    .filter((file) => file.endsWith('.yaml'))
    .map((file) => `${name}/${file}`),
);

function read(file: string): CutList {
  const answer = readCutList(readFileSync(folder + file, 'utf8'), file);
  if (!answer.ok) throw new Error('the fixture has no faults');
  return answer.value;
}

const textsOn = (page: Page): TextItem[] =>
  page.groups.flatMap(({ items }) => items).filter((item): item is TextItem => item.type === 'text');

function touch(a: ReturnType<typeof boxOfText>, b: ReturnType<typeof boxOfText>): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

/** Some point of the line lies in the box, looked at every tenth of a millimetre. */
function crosses(item: Item, box: ReturnType<typeof boxOfText>): boolean {
  if (item.type !== 'line') return false;
  const { points, closed } = item;
  const last = closed ? points.length : points.length - 1;
  for (let i = 0; i < last; i++) {
    const [[ax, ay], [bx, by]] = [points[i]!, points[(i + 1) % points.length]!];
    const steps = Math.ceil(Math.max(Math.abs(bx - ax), Math.abs(by - ay)) * 10) + 1;
    for (let k = 0; k <= steps; k++) {
      const [x, y] = [ax + ((bx - ax) * k) / steps, ay + ((by - ay) * k) / steps];
      if (x > box.left && x < box.right && y > box.top && y < box.bottom) return true;
    }
  }
  return false;
}

describe.each(['a4', 'letter'] as const)('on %s', (page) => {
  test.each(files)('%s: all is on the page, no text lies on another or on a line', (file) => {
    const cutList = read(file);
    const drawing = proofDrawing(proofPieces(cutList), {
      title: cutList.title,
      page,
      units: cutList.units,
      measure: font,
    });
    expect(readXml(toSvg(drawing)).name).toBe('svg');
    for (const { widthMm, heightMm, groups, ...rest } of drawing.pages) {
      const texts = textsOn({ widthMm, heightMm, groups, ...rest });
      const boxes = texts.map(boxOfText);
      boxes.forEach((box, i) => {
        expect(box.left > 5 && box.top > 5 && box.right < widthMm - 5 && box.bottom < heightMm - 5).toBe(true);
        for (const [j, other] of boxes.entries()) {
          if (j > i)
            expect([texts[i]!.text, texts[j]!.text, touch(box, other)]).toEqual([
              texts[i]!.text,
              texts[j]!.text,
              false,
            ]);
        }
      });
      for (const { items } of groups) {
        const drawn = items.filter((item): item is TextItem => item.type === 'text');
        for (const text of drawn) {
          const box = boxOfText(text);
          // Capitals and digits stand on the baseline; what hangs below it is air here.
          const ink = { ...box, bottom: text.at[1], left: box.left + 0.1, right: box.right - 0.1 };
          expect([text.text, items.some((item) => crosses(item, ink))]).toEqual([text.text, false]);
        }
      }
    }
  });
});

test('every corner is lettered and every edge has its length', () => {
  const cutList = read('garments/oilskin-overall.yaml');
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
