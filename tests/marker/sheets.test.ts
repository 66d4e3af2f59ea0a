/** Pieces at true size on sheets. */
import { beforeAll, describe, expect, test } from 'vitest';
import { drawTruePieces } from '../../src/marker/draw-true-pieces.js';
import { loadPageFont, type PageFont } from '../../src/marker/font.js';
import { sheetsDrawing } from '../../src/marker/sheets.js';
import { sheetsFor } from '../../src/marker/tiling.js';
import { type Picture, truePiece } from '../../src/marker/true-piece.js';
import type { Drawing, LineItem, Page, PagePoint } from '../../src/marker/types.js';
import { proofPieces } from '../../src/report/proof.js';
import { sheetSizesMm } from '../../src/units/paper.js';
import { collisionsOf, sheetCollisionsOf } from '../support/collisions.js';
import { itemsOf, readXml, textsOf } from '../support/drawings.js';
import { cutListFiles, fixtureCutList } from '../support/fixtures.js';

let font: PageFont;
beforeAll(async () => {
  font = await loadPageFont();
});

function proofs(file: string) {
  return proofPieces(fixtureCutList(file));
}

function sheets(pictures: readonly Picture[], widthMm = 210, heightMm: number | null = 297): Drawing {
  return sheetsDrawing(pictures, { title: 'T', sheet: { widthMm, heightMm }, words: ['Do this.'], measure: font });
}

/** Cutting lines of a page, in millimetres from its corner. */
function cutting(page: Page): readonly LineItem[] {
  return page.groups
    .filter(({ clip }) => clip !== undefined)
    .flatMap(({ items }) => items)
    .filter((item): item is LineItem => item.type === 'line' && item.kind === 'cutting');
}

/** ISO 216 (PA1); ANSI/ASME Y14.1 A and B. */
test('sheet sizes', () => {
  const { a0, a1, a2, a3, a4, letter, tabloid } = sheetSizesMm;
  expect([a0, a1, a2, a3, a4]).toEqual([
    [841, 1189],
    [594, 841],
    [420, 594],
    [297, 420],
    [210, 297],
  ]);
  const inches = [...letter, ...tabloid].map((mm) => mm / 25.4);
  expect(inches).toEqual([8.5, 11, 11, 17].map((inch) => expect.closeTo(inch, 9)));
});

/** PA2, derived: ceil((W - o) / (p - o)) with p = sheet - 2 margins, margins and overlap 10 mm. */
test('1500 x 2100 mm on A4: 9 across, 8 along', () => {
  expect([sheetsFor(1500, 190), sheetsFor(2100, 277)]).toEqual([9, 8]);
  expect([sheetsFor(190, 190), sheetsFor(190.1, 190), sheetsFor(370, 190), sheetsFor(370.1, 190)]).toEqual([
    1, 2, 2, 3,
  ]);
});

describe.each(cutListFiles)('%s', (file) => {
  const pieces = proofs(file);

  test('no text on a text or on a line, and the name of every piece stands on it', () => {
    for (const piece of pieces) {
      const picture = truePiece(font, piece);
      const page: Page = {
        widthMm: picture.widthMm,
        heightMm: picture.heightMm,
        groups: [{ title: null, placement: null, items: picture.items }],
      };
      expect(collisionsOf({ title: '', scale: 1, origin: [0, 0], pages: [page] })).toEqual([]);
      expect(textsOf(page).map(({ text }) => text)).toContain(piece.title);
    }
  });

  test('on sheets of every size their own words stand on no word or line, within the border', () => {
    const pictures = pieces.map((piece) => truePiece(font, piece));
    for (const [name, [wide, high]] of Object.entries(sheetSizesMm)) {
      expect([name, ...sheetCollisionsOf(sheets(pictures, wide, high))]).toEqual([name]);
    }
  });

  test('every point of every outline is on a sheet, all moved alike, and neighbours show the same strip', () => {
    const pictures = pieces.map((piece) => truePiece(font, piece));
    const drawing = sheets(pictures);
    for (const picture of pictures) {
      const shown = drawing.pages.flatMap((page) =>
        page.groups
          .filter(({ title, clip }) => clip && title === `piece ${picture.title}`)
          .map(({ items, clip }) => ({ items, clip: clip! })),
      );
      expect(shown.length).toBeGreaterThan(0);
      const visible = new Set<string>();
      for (const { items, clip } of shown) {
        const points = items.flatMap((item) => (item.type === 'line' && item.kind === 'cutting' ? item.points : []));
        const inside = points.filter(
          ([x, y]) =>
            x >= clip.left - 1e-6 && x <= clip.right + 1e-6 && y >= clip.top - 1e-6 && y <= clip.bottom + 1e-6,
        );
        // Paper from the middle of a piece has no line on it.
        if (points.length === 0) continue;
        const shift = shiftOf(picture, items);
        for (const [x, y] of inside) visible.add(key([x - shift[0], y - shift[1]]));
      }
      const drawn = picture.items.flatMap((item) =>
        item.type === 'line' && item.kind === 'cutting' ? item.points : [],
      );
      for (const point of drawn) expect(visible.has(key(point))).toBe(true);
    }
  });
});

/** By how much a sheet moves the picture: from any point that both have, and the same for all of them. */
function shiftOf(picture: Picture, items: readonly { readonly type: string }[]): PagePoint {
  const own = picture.items.flatMap((item) => (item.type === 'line' ? item.points : []));
  const moved = (items as readonly LineItem[]).flatMap((item) => (item.type === 'line' ? item.points : []));
  const candidates = own.map(([x, y]): PagePoint => [moved[0]![0] - x, moved[0]![1] - y]);
  const known = new Set(own.map(key));
  const fits = candidates.filter(([dx, dy]) => moved.every(([x, y]) => known.has(key([x - dx, y - dy]))));
  expect(fits.length).toBeGreaterThan(0);
  return fits[0]!;
}

function key([x, y]: PagePoint): string {
  return `${Math.round(x * 1000)}:${Math.round(y * 1000)}`;
}

function square(title: string, side: number, high = side): Picture {
  const outline: PagePoint[] = [
    [0, 0],
    [side, 0],
    [side, high],
    [0, high],
  ];
  const items: LineItem[] = [{ type: 'line', kind: 'cutting', points: outline, closed: true }];
  return { title, items, widthMm: side, heightMm: high, outline };
}

test('small pieces share a sheet, large ones have their own; empty sheets are left out', () => {
  const drawing = sheets([square('a', 80), square('b', 80), square('c', 80), square('d', 300)]);
  expect(drawing.pages.map((page) => cutting(page).length > 0)).toEqual([false, true, true, true, true, true]);
  expect(cutting(drawing.pages[1]!).length).toBe(3);
  // A long thin slanting strip crosses few of the 3 x 3 sheets.
  const strip: PagePoint[] = [
    [0, 0],
    [20, 0],
    [540, 780],
    [520, 780],
  ];
  const items: LineItem[] = [{ type: 'line', kind: 'cutting', points: strip, closed: true }];
  const slanting = { title: 's', items, widthMm: 540, heightMm: 780, outline: strip };
  expect(sheets([slanting]).pages.length - 1).toBeLessThan(9);
});

test('sheets are numbered as the pages of the file, also when the map takes several', () => {
  const many = Array.from({ length: 90 }, (_, i) => square(`p${i}`, 180));
  const { pages } = sheets(many);
  const numbered = pages.map((page) => textsOf(page).flatMap(({ text }) => /sheet (\d+) of (\d+)$/.exec(text) ?? []));
  const first = pages.findIndex((page) => cutting(page).length > 0);
  expect(first).toBeGreaterThan(1);
  pages.slice(first).forEach((_, i) => {
    expect(numbered[first + i]!.slice(1)).toEqual([String(first + i + 1), String(pages.length)]);
  });
  expect(textsOf(pages[0]!).some(({ text }) => text === `p0: sheet ${first + 1}`)).toBe(true);
});

test('a piece exactly as wide as the room is on one sheet, whatever the sums of decimals', () => {
  for (let wide = 900; wide < 1_000; wide += 0.337) {
    expect(sheets([square('a', wide, 50)], wide + 20, null).pages.length).toBe(2);
  }
});

test('a join: both sheets have the line and the halves of the same diamonds, 10 mm from the edge of one', () => {
  const { pages } = sheets([square('wide', 300, 100)]);
  const marks = pages
    .slice(1)
    .map((page) =>
      itemsOf(page).filter((item): item is LineItem => item.type === 'line' && ['rule', 'box'].includes(item.kind)),
    );
  const [first, second] = marks as [LineItem[], LineItem[]];
  const x = (item: LineItem) => item.points.map(([px]) => px);
  // Room for drawing from 10 to 200 mm; the next sheet begins at 190 of the first.
  expect(x(first.find(({ kind }) => kind === 'rule')!)).toEqual([190, 190]);
  expect(x(second.find(({ kind }) => kind === 'rule')!)).toEqual([10, 10]);
  const heights = (items: LineItem[]) =>
    items.filter(({ kind }) => kind === 'box').map(({ points }) => Math.max(...points.map(([, y]) => y)));
  expect(heights(first)).toEqual(heights(second));
});

test('a roll: one page as long as needed, split where no reader goes on', () => {
  const { pages } = sheets([square('a', 600), square('b', 600)], 900, null);
  expect(pages.length).toBe(2);
  expect([pages[1]!.widthMm, pages[1]!.heightMm]).toEqual([900, 1224]);
  const long = sheets([square('a', 600, 12_000)], 900, null).pages;
  expect(long.slice(1).every(({ heightMm }) => heightMm <= 5_080)).toBe(true);
  expect(long.length).toBe(4);
});

test('PDF: page sizes exact, nothing scaled by the viewer, the same bytes again; SVG: one picture in millimetres', async () => {
  const pieces = proofs('boatyard/slipway-apron.yaml');
  const options = { title: 'T', units: 'cm', sheet: { widthMm: 594, heightMm: 841 }, format: 'pdf' } as const;
  const { bytes, sheets: count } = await drawTruePieces(pieces, options);
  expect(Buffer.from((await drawTruePieces(pieces, options)).bytes).equals(Buffer.from(bytes))).toBe(true);
  const { getDocument } = await import('pdfjs-dist/legacy/build/pdf.mjs');
  const pdf = await getDocument({ data: new Uint8Array(bytes) }).promise;
  expect(pdf.numPages).toBe(count);
  const page = await pdf.getPage(1);
  expect(page.view.slice(2).map((pt) => (pt * 25.4) / 72)).toEqual([expect.closeTo(594, 6), expect.closeTo(841, 6)]);
  expect((await pdf.getViewerPreferences()) as unknown).toMatchObject({ PrintScaling: 'None' });
  const svg = Buffer.from((await drawTruePieces(pieces, { ...options, format: 'svg' })).bytes).toString('utf8');
  expect(readXml(svg).name).toBe('svg');
  expect(svg).toMatch(/width="[\d.]+mm"/);
});
