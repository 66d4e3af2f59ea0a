import { beforeAll, describe, expect, test } from 'vitest';
import { loadPageFont, type PageFont } from '../../src/marker/font.js';
import type { PageSize } from '../../src/marker/page-sizes.js';
import { planDrawing } from '../../src/marker/plan.js';
import type { Drawing, LineItem, PagePoint } from '../../src/marker/types.js';
import { chalkList } from '../../src/report/chalk-list.js';
import { formatLength } from '../../src/units/length.js';
import type { LengthUnit } from '../../src/units/types.js';
import { collisionsOf } from '../support/collisions.js';
import { itemsOf, textBox, textsOf } from '../support/drawings.js';
import { layOf, pieceCm, ticking } from '../support/lays.js';
import { crowdedLay, exampleLay, foldedLay, longLay, openLay, sampleLays, tinyLay } from '../support/sample-lays.js';

let font: PageFont;
beforeAll(async () => {
  font = await loadPageFont();
});

const draw = (lay: typeof openLay, page: PageSize = 'a4', units: LengthUnit = 'cm') =>
  planDrawing(lay, { page, units, measure: font });

const every = Object.entries(sampleLays).flatMap(([name, lay]) =>
  (['a4', 'letter'] as const).flatMap((page) =>
    (['cm', 'in', 'mm'] as const).map((units) => ({ name, lay, page, units })),
  ),
);

function cuttingLine(drawing: Drawing, n: number): LineItem {
  const group = drawing.pages[0]!.groups.find(({ placement }) => placement === n)!;
  return group.items.find((item): item is LineItem => item.type === 'line' && item.kind === 'cutting')!;
}

describe('plan drawing', () => {
  test.each(every)('$name on $page in $units: no text on a text or a line', ({ lay, page, units }) => {
    expect(collisionsOf(draw(lay, page, units))).toEqual([]);
  });

  test.each(every)('$name on $page in $units: everything is inside the margins', ({ lay, page, units }) => {
    for (const sheet of draw(lay, page, units).pages) {
      const inside = ([x, y]: PagePoint) => x >= 10 && y >= 10 && x <= sheet.widthMm - 10 && y <= sheet.heightMm - 10;
      for (const item of itemsOf(sheet)) {
        if (item.type !== 'text') {
          expect(item.points.every(inside)).toBe(true);
          continue;
        }
        const { left, right, top, bottom } = textBox(item);
        expect([left, top].concat(inside([left, top]) ? [] : (['outside', item.text] as never[]))).toEqual([left, top]);
        expect([right, bottom].concat(inside([right, bottom]) ? [] : (['outside', item.text] as never[]))).toEqual([
          right,
          bottom,
        ]);
        expect(item.sizePt).toBeGreaterThanOrEqual(5);
      }
    }
  });

  test.each(Object.entries(sampleLays))('%s: each placement is drawn once and its number can be read', (_, lay) => {
    const drawing = draw(lay);
    const groups = drawing.pages.flatMap((page) => page.groups).filter(({ placement }) => placement !== null);
    expect(groups.map(({ placement }) => placement)).toEqual(lay.placements.map(({ n }) => n));
    for (const { items } of groups) {
      expect(items.filter((item) => item.type === 'line' && item.kind === 'cutting')).toHaveLength(1);
    }
    const words = textsOf(drawing.pages[0]!).map(({ text }) => text);
    for (const { n, copies } of lay.placements) {
      const lead = lay.copies.find((copy) => copy.n === copies[0])!;
      const number = lead.mirror ? `${n} ↓` : `${n}`;
      expect(words.some((text) => text === number || text.startsWith(`${number}  `))).toBe(true);
    }
  });

  test.each(Object.entries(sampleLays))('%s: texts of a placement lie inside its piece', (_, lay) => {
    const drawing = draw(lay);
    for (const group of drawing.pages[0]!.groups) {
      const area = group.items.find((item) => item.type === 'area');
      if (group.placement === null || area === undefined) continue;
      for (const item of group.items) {
        if (item.type !== 'text') continue;
        const box = textBox(item);
        for (const corner of [
          [box.left, box.top],
          [box.right, box.top],
          [box.left, box.bottom],
          [box.right, box.bottom],
        ] as const) {
          expect(contains(area.points, corner), `${item.text} in ${group.title}`).toBe(true);
        }
      }
    }
  });

  test('outlines are the lay at the stated scale: x down the page, y to the right', () => {
    for (const lay of [openLay, crowdedLay, longLay, tinyLay]) {
      const drawing = draw(lay);
      const [left, top] = drawing.origin;
      for (const { n, copies } of lay.placements) {
        const { outline } = lay.copies.find((copy) => copy.n === copies[0])!;
        const drawn = cuttingLine(drawing, n);
        expect(drawn.closed).toBe(true);
        drawn.points.forEach(([x, y], i) => {
          expect((x - left) * drawing.scale * 1000).toBeCloseTo(outline[i]![1], 3);
          expect((y - top) * drawing.scale * 1000).toBeCloseTo(outline[i]![0], 3);
        });
      }
      expect(Number.isInteger(drawing.scale)).toBe(true);
      expect(textsOf(drawing.pages[0]!).map(({ text }) => text)).toContain(`scale 1 : ${drawing.scale}`);
    }
  });

  test('on the fold half a piece is drawn, and nothing is cut along the fold', () => {
    const drawing = draw(exampleLay);
    const [left, top] = drawing.origin;
    const line = cuttingLine(drawing, 1);
    expect(line.closed).toBe(false);
    const cm = line.points.map(([x, y]) => [((y - top) * drawing.scale) / 10, ((x - left) * drawing.scale) / 10]);
    // Half of Front: 25 cm wide at the foot (x = 2), 20 cm at the head (x = 52), fold at 57.5.
    const corners = [
      [2, 57.5],
      [2, 32.5],
      [52, 37.5],
      [52, 57.5],
    ];
    expect(cm).toHaveLength(4);
    for (const [x, y] of corners) {
      expect(cm.some((point) => Math.abs(point[0]! - x!) < 1e-6 && Math.abs(point[1]! - y!) < 1e-6)).toBe(true);
    }
    expect([cm[0]![1], cm.at(-1)![1]]).toEqual([expect.closeTo(57.5, 6), expect.closeTo(57.5, 6)]);
    const words = textsOf(drawing.pages[0]!).map(({ text }) => text);
    expect(words).toEqual(expect.arrayContaining(['fold', 'both selvedges', 'cut end', 'far end']));
    expect(drawing.pages[0]!.groups.some(({ title }) => title === '2: Back (copies 2 and 3)')).toBe(true);
  });

  test('headline, lengths and list say what the lay says', () => {
    const drawing = draw(openLay);
    const words = drawing.pages.flatMap(textsOf).map(({ text }) => text);
    expect(words).toContain('buy 2.4 m of ticking, 150 cm wide');
    expect(words).toEqual(expect.arrayContaining(['width 150.0 cm', 'buy 2.4 m', 'left selvedge', 'right selvedge']));
    expect(words).toContain(`length used ${formatLength(openLay.totals.lengthUsed, 'cm')}`);
    // 2.4 m at 18.50 a metre.
    expect(words).toContain('44.40 EUR');
    for (const line of chalkList(openLay, 'cm').lines) {
      const range = line.alongUm.map((um) => formatLength(um, 'cm').replace(' cm', '')).join(' – ');
      expect(words).toContain(range);
    }
    expect(words.some((text) => text.startsWith('checked · shortest found · seed 1 · effort 4'))).toBe(true);
    expect(words.join(' ')).toContain('Check the lay on the cloth before the first cut');
    expect(words.join(' ')).toContain('not at true scale');
  });

  test('a short list stands on the first page; a long one goes on with its headings and page numbers', () => {
    expect(draw(exampleLay).pages).toHaveLength(1);
    expect(draw(foldedLay, 'letter', 'in').pages).toHaveLength(1);
    expect(draw(longLay).pages).toHaveLength(1);
    const crowded = draw(crowdedLay);
    expect(crowded.pages.length).toBeGreaterThan(1);
    crowded.pages.forEach((page, i) => {
      const words = textsOf(page).map(({ text }) => text);
      expect(words).toContain(`page ${i + 1} of ${crowded.pages.length}`);
      if (i > 0) expect(words.filter((text) => text === 'cut end').length).toBeGreaterThan(0);
    });
    const boxes = crowded.pages
      .flatMap(itemsOf)
      .filter((item) => item.type === 'line' && item.kind === 'box' && item.closed);
    expect(boxes).toHaveLength(60);
  });

  test('page sizes are those of ISO 216 (210 x 297 mm) and 8 1/2 x 11 in', () => {
    expect(draw(exampleLay).pages[0]).toMatchObject({ widthMm: 210, heightMm: 297 });
    expect(draw(exampleLay, 'letter').pages[0]).toMatchObject({ widthMm: 215.9, heightMm: 279.4 });
  });

  test('odd words do no harm: endless names, control characters, half letters, markup', () => {
    const title = `A "<title>" & ${'very '.repeat(40)}long\u0000 one\uD800`;
    const pieces = openLay.pieces.map((piece) => ({ ...piece, id: `${piece.id} & <${'Unterarmkeil'.repeat(6)}>` }));
    const placements = openLay.placements.map((placement) => ({
      ...placement,
      piece: `${placement.piece} & <${'Unterarmkeil'.repeat(6)}>`,
    }));
    const cloth = { ...ticking, name: 'extraordinarily long name of a cloth with stripes '.repeat(3) };
    const drawing = draw({ ...openLay, title, pieces, placements, cloth });
    expect(collisionsOf(drawing)).toEqual([]);
    for (const { text } of drawing.pages.flatMap(textsOf)) expect(text).not.toMatch(/[\p{Cc}\p{Surrogate}]/u);
  });

  test('pieces too small and too many for their numbers are counted on the page', () => {
    const tab = pieceCm('Tab', [
      [0, 0],
      [2, 0],
      [2, 2],
      [0, 2],
    ]);
    const puts = Array.from({ length: 150 }, () => ({ piece: tab, mirror: true }));
    const drawing = draw(layOf({ title: 'Tabs', cloth: ticking, puts }));
    expect(collisionsOf(drawing)).toEqual([]);
    const words = textsOf(drawing.pages[0]!).map(({ text }) => text);
    const shown = words.filter((text) => /^\d+ ↓$/.test(text)).length;
    const told = words.find((text) => text.startsWith('far end · too small for their numbers here: '));
    const missing = Number(told?.split(': ')[1]);
    expect(missing).toBeGreaterThan(0);
    expect(shown + missing).toBe(150);
  });

  test('the same lay gives the same drawing', () => {
    expect(draw(tinyLay)).toEqual(draw(tinyLay));
  });
});

/** Even-odd rule. */
function contains(ring: readonly PagePoint[], [x, y]: PagePoint): boolean {
  let inside = false;
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length]!;
    if (ay > y !== by > y && x < ax + ((bx - ax) * (y - ay)) / (by - ay)) inside = !inside;
  });
  return inside;
}
