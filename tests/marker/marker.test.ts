/** The marker at true size: what stands on it, and where. */
import { beforeAll, describe, expect, test } from 'vitest';
import { checkLay } from '../../src/checker/check-lay.js';
import { layMethods } from '../../src/cloth/types.js';
import type { Lay } from '../../src/lay/types.js';
import { viewCloth } from '../../src/marker/cloth-view.js';
import { drawMarker, type MarkerOptions } from '../../src/marker/draw-marker.js';
import { loadPageFont, type PageFont } from '../../src/marker/font.js';
import { paperLook, projectedLook } from '../../src/marker/marker-looks.js';
import { markerPages } from '../../src/marker/marker-page.js';
import { type MarkerPicture, markerPicture } from '../../src/marker/marker-picture.js';
import { markerSheets } from '../../src/marker/marker-sheets.js';
import { tilesOf } from '../../src/marker/marker-tiles.js';
import { projectorDrawing } from '../../src/marker/projector.js';
import { type Room, roomOf } from '../../src/marker/tiling.js';
import type { Drawing, Page } from '../../src/marker/types.js';
import { sheetSizesMm } from '../../src/units/paper.js';
import { collisionsOf, sheetCollisionsOf, wordsOnJoins } from '../support/collisions.js';
import { descendants, pathPoints, readXml, textsOf } from '../support/drawings.js';
import { markerLays } from '../support/marker-lays.js';

let font: PageFont;
beforeAll(async () => {
  font = await loadPageFont();
});

const lays = Object.entries(markerLays);
const a4 = { widthMm: 210, heightMm: 297 };

function pictureOf(lay: Lay, look = paperLook, room?: Room): MarkerPicture {
  const farEndUm = lay.cloth.ends[1];
  return markerPicture(viewCloth(lay), { measure: font, look, units: 'cm', farEndUm, ...(room ? { room } : {}) });
}

function onePage({ parts, widthMm, heightMm }: MarkerPicture): Drawing {
  return { title: '', scale: 1, origin: [0, 0], pages: [{ widthMm, heightMm, groups: parts }] };
}

function firstPages(lay: Lay, sheet: { widthMm: number; heightMm: number | null }): readonly Page[] {
  const picture = pictureOf(lay);
  const options = { lay, view: viewCloth(lay), units: 'cm', side: 'right', measure: font } as const;
  return markerPages(picture, tilesOf(picture, roomOf(sheet)), sheet, 1, options);
}

async function draw(lay: Lay, options: Partial<MarkerOptions> = {}) {
  return drawMarker(lay, { what: 'marker', sheet: a4, format: 'pdf', units: 'cm', side: 'right', ...options });
}

test('there is a lay of every method, and the checker accepts all of them', () => {
  const methods = lays.flatMap(([, { stretches }]) => stretches.map(({ method }) => method));
  expect([...new Set(methods)].sort()).toEqual([...layMethods].sort());
  expect(lays.some(([, { stretches }]) => stretches.length > 1)).toBe(true);
  for (const [, lay] of lays) expect(checkLay(lay).refusals).toEqual([]);
});

describe.each(lays)('%s', (_, lay) => {
  test('no word on a word or on a line, none smaller than 6 points, none left out', () => {
    const picture = pictureOf(lay);
    expect(collisionsOf(onePage(picture))).toEqual([]);
    const texts = textsOf(onePage(picture).pages[0]!);
    expect(Math.min(...texts.map(({ sizePt }) => sizePt))).toBeGreaterThanOrEqual(6);
    expect(picture.unlabelled).toEqual([]);
    for (const { n } of lay.placements) {
      expect(texts.filter(({ text }) => new RegExp(`^${n}( ↓)?(  |$)`).test(text))).toHaveLength(1);
    }
  });

  test('for a projector: no word on a word or on a line, all lines at least 1.2 mm thick', () => {
    const picture = pictureOf(lay, projectedLook);
    expect(collisionsOf(onePage(picture))).toEqual([]);
    const [squares] = projectorDrawing(picture, {
      title: 'T',
      look: projectedLook,
      units: 'cm',
      measure: font,
      isSplit: true,
    }).pages;
    expect(collisionsOf({ title: '', scale: 1, origin: [0, 0], pages: [squares!] })).toEqual([]);
  });

  test.each(Object.entries(sheetSizesMm))(
    'the first page on %s: no word on a word or on a line, all within the margins',
    (_name, [widthMm, heightMm]) => {
      const pages = firstPages(lay, { widthMm, heightMm });
      expect(collisionsOf({ title: '', scale: 1, origin: [0, 0], pages })).toEqual([]);
      for (const page of pages) {
        for (const { at, widthMm: wide, anchor } of textsOf(page)) {
          const left = anchor === 'middle' ? at[0] - wide / 2 : at[0];
          expect(left).toBeGreaterThanOrEqual(10);
          expect(left + wide).toBeLessThanOrEqual(widthMm - 10);
          expect(at[1]).toBeLessThanOrEqual(heightMm - 10);
        }
      }
    },
  );

  test.each([...Object.entries(sheetSizesMm), ['roll of 90 cm', [900, null]] as const])(
    'sheets of %s: their own words on no word or line, within the border; words of all but narrow pieces on no join',
    (_name, [widthMm, heightMm]) => {
      const sheet = { widthMm, heightMm };
      const view = viewCloth(lay);
      const picture = pictureOf(lay, paperLook, roomOf(sheet));
      const drawing = markerSheets(picture, sheet, paperLook, { lay, view, units: 'cm', side: 'right', measure: font });
      expect(sheetCollisionsOf(drawing)).toEqual([]);
      const windows = tilesOf(picture, roomOf(sheet)).tiles.map(({ window }) => window);
      expect(wordsOnJoins(picture.parts, windows)).toEqual([]);
      expect(collisionsOf(onePage(picture))).toEqual([]);
    },
  );

  test('SVG: in millimetres at true size, a titled group for each placement, outlines as the lay has them', async () => {
    const { bytes, sheets } = await draw(lay, { format: 'svg' });
    expect(sheets).toBe(null);
    const root = readXml(Buffer.from(bytes).toString('utf8'));
    const [, , width] = root.attributes.get('viewBox')!.split(' ');
    expect(root.attributes.get('width')).toBe(`${width}mm`);
    const groups = descendants(root).filter(({ attributes }) => attributes.get('id')?.startsWith('placement-'));
    expect(groups.map(({ attributes }) => attributes.get('id'))).toEqual(
      lay.placements.map(({ n }) => `placement-${n}`),
    );
    const view = viewCloth(lay);
    for (const group of groups) {
      expect(group.children[0]!.name).toBe('title');
      const seen = view.pieces.find(({ placement }) => `placement-${placement.n}` === group.attributes.get('id'))!;
      const drawn = group.children
        .filter(({ attributes }) => attributes.get('class') === 'cutting')
        .flatMap(({ attributes }) => pathPoints(attributes.get('d')!));
      for (const [x, y] of seen.outline) {
        const near = drawn.some(
          ([px, py]) => Math.abs(px - 8 - y / 1000) < 0.001 && Math.abs(py - 8 - x / 1000) < 0.001,
        );
        expect(near).toBe(true);
      }
    }
  });

  test('DXF: millimetres declared, a closed cutting line for each placement', async () => {
    const { bytes } = await draw(lay, { format: 'dxf' });
    const text = Buffer.from(bytes).toString('latin1');
    expect(text).toMatch(/\$INSUNITS\n 70\n4\n/);
    const names = [...text.matchAll(/ {2}0\nLAYER\n {2}2\n(.*)\n/g)].map(([, name]) => name);
    const match = viewCloth(lay).pieces.flatMap((seen) => seen.match);
    const own = match.length > 0 ? ['MATCH'] : [];
    expect(names).toEqual(['0', 'CUT', 'SEAM', 'GRAIN', 'NOTCH', 'AWL', ...own, 'INNER', 'TEXT', 'CLOTH']);
    expect(text.split('POINT\n  8\nMATCH\n')).toHaveLength(match.length + 1);
    const closed = [...text.matchAll(/POLYLINE\n {2}8\nCUT\n 66\n1\n 10\n0\.000\n 20\n0\.000\n 30\n0\.0\n 70\n1\n/g)];
    expect(closed).toHaveLength(lay.placements.length);
    // Plain letters only.
    expect(text).not.toContain('U+00B7');
    const [seen] = [...viewCloth(lay).pieces].sort((a, b) => a.placement.n - b.placement.n);
    const [x, y] = seen!.outline[0]!.map((um) => (Math.round(um) / 1000).toFixed(3));
    expect(text).toContain(`VERTEX\n  8\nCUT\n 10\n${x}\n 20\n${y}\n`);
  });
});

test.each(['long', 'crowded', 'apron open'])(
  '%s: the map names every sheet once, the empty ones are hatched',
  (name) => {
    for (const [widthMm, heightMm] of [
      [210, 297],
      [215.9, 279.4],
      [594, 841],
    ] as const) {
      const { tiles } = tilesOf(pictureOf(markerLays[name]!), roomOf({ widthMm, heightMm }));
      const printed = tiles.filter(({ isPrinted }) => isPrinted).length;
      const pages = firstPages(markerLays[name]!, { widthMm, heightMm });
      const numbers = pages.flatMap(textsOf).flatMap(({ text }) => (/^\d+$/.test(text) ? [Number(text)] : []));
      expect(numbers).toEqual(Array.from({ length: printed }, (_, i) => i + 2));
      const hatched = pages
        .flatMap(({ groups }) => groups.flatMap(({ items }) => items))
        .some((item) => item.type === 'line' && item.kind === 'hatch');
      expect(hatched).toBe(printed < tiles.length);
    }
  },
);

/**
 * PA2, derived: ceil((W - o) / (p - o)) with p = sheet - 2 margins, margins and overlap 10 mm: 9 columns of 8 rows for
 * 1500 x 2100 mm on A4, 72 sheets, before any is left out.
 */
test('1500 x 2100 mm on A4: 72 sheets, also with the room for names around it', () => {
  for (const more of [0, 16]) {
    const size = { widthMm: 1500 + more, heightMm: 2100 + more };
    const { tiles } = tilesOf({ ...pictureOf(markerLays.open!), parts: [], ...size }, roomOf(a4));
    expect(tiles).toHaveLength(72);
  }
});

test('the grid is shifted where that leaves more pieces whole, within the same number of sheets', () => {
  const outline = [
    [175, 20],
    [245, 20],
    [245, 80],
    [175, 80],
  ] as const;
  const box = { left: 175, top: 20, right: 245, bottom: 80 };
  const part = { title: '1', placement: 1, items: [], box, outline, isContent: true };
  const picture = { ...pictureOf(markerLays.open!), parts: [part], widthMm: 260, heightMm: 200 };
  const { columns, whole, tiles } = tilesOf(picture, roomOf(a4));
  expect([columns, whole]).toEqual([2, 1]);
  expect(tiles[0]!.window.left).toBeLessThan(0);
  expect(tiles.at(-1)!.window.right).toBeGreaterThanOrEqual(260);
});

test('empty sheets are left out, but never so that the rest falls apart', () => {
  const block = (left: number, top: number) => {
    const box = { left, top, right: left + 50, bottom: top + 50 };
    const outline = [
      [left, top],
      [left + 50, top],
      [left + 50, top + 50],
      [left, top + 50],
    ] as const;
    return {
      title: null,
      placement: 1,
      items: [],
      box,
      outline: outline.map(([x, y]) => [x, y] as const),
      isContent: true,
    };
  };
  const parts = [block(70, 110), block(610, 910)].map((part) => ({
    ...part,
    items: [{ type: 'line' as const, kind: 'cutting' as const, points: part.outline, closed: true }],
  }));
  const picture = { ...pictureOf(markerLays.open!), parts, widthMm: 730, heightMm: 1078 };
  const { tiles, rows, columns } = tilesOf(picture, roomOf(a4));
  expect([rows, columns]).toEqual([4, 4]);
  const printed = new Set(tiles.flatMap(({ isPrinted }, i) => (isPrinted ? [i] : [])));
  // Two sheets with something, and the fewest between them.
  expect(printed.size).toBe(7);
});

test('the same lay gives the same bytes, in every form', async () => {
  const lay = markerLays['apron plaid with a flaw']!;
  for (const what of ['marker', 'projector'] as const) {
    for (const format of ['pdf', 'svg', 'dxf'] as const) {
      const [once, again] = [await draw(lay, { what, format }), await draw(lay, { what, format })];
      expect(Buffer.from(again.bytes).equals(Buffer.from(once.bytes))).toBe(true);
    }
  }
});

test('what the marker names: edges, folds, ends, places to roll up to, what is turned over', () => {
  const words = (name: string) => textsOf(onePage(pictureOf(markerLays[name]!)).pages[0]!).map(({ text }) => text);
  expect(words('apron open')).toEqual(expect.arrayContaining(['cut end', 'left selvedge', 'right selvedge']));
  expect(words('apron lengthwise fold')).toEqual(expect.arrayContaining(['both selvedges', 'fold']));
  expect(words('apron double fold')).toEqual(
    expect.arrayContaining(['left fold', 'right fold', 'left selvedge, turned over']),
  );
  expect(words('apron combination')).toContain('from here on one layer');
  expect(words('tiny')).toContain('roll up to here');
  expect(words('crowded')).toEqual(expect.arrayContaining(['check line 100.0 cm', 'check line 50.0 cm']));
});
