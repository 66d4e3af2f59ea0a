/** The files themselves: SVG read by a strict little XML reader, PDF read back by pdfjs, another library. */
import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { beforeAll, describe, expect, test } from 'vitest';
import { drawPlan } from '../../src/marker/draw-plan.js';
import { loadPageFont, type PageFont } from '../../src/marker/font.js';
import { planDrawing } from '../../src/marker/plan.js';
import { toSvg } from '../../src/marker/svg.js';
import { descendants, pathPoints, readXml, textsOf } from '../support/drawings.js';
import { longLay, openLay, sampleLays } from '../support/sample-lays.js';

let font: PageFont;
beforeAll(async () => {
  font = await loadPageFont();
});

/** Titles in scripts that a dressmaker's names may use. */
const foreign = { ...openLay, title: 'Schürze für Žofii · Ποδιά μωρού · Фартук' };

async function readPdf(bytes: Uint8Array) {
  const document = await getDocument({ data: bytes.slice(), useSystemFonts: false, verbosity: 0 }).promise;
  const pages = [];
  for (let n = 1; n <= document.numPages; n++) {
    const page = await document.getPage(n);
    const content = await page.getTextContent();
    const texts = content.items.flatMap((item) => ('str' in item && item.str.trim() !== '' ? [item.str] : []));
    pages.push({ view: page.view, texts, operators: await page.getOperatorList() });
  }
  const { info } = await document.getMetadata();
  return { pages, info: info as Record<string, unknown> };
}

describe('SVG', () => {
  test.each(Object.entries(sampleLays))(
    '%s: well formed, in millimetres, one titled group for each placement',
    (_, lay) => {
      const drawing = planDrawing(lay, { page: 'a4', units: 'cm', measure: font });
      const root = readXml(toSvg(drawing));
      expect(root.name).toBe('svg');
      expect(root.attributes.get('width')).toBe('210mm');
      const box = root.attributes.get('viewBox')!.split(' ').map(Number);
      expect(`${box[3]}mm`).toBe(root.attributes.get('height'));
      const groups = descendants(root).filter(({ attributes }) => attributes.get('id')?.startsWith('placement-'));
      expect(groups.map(({ attributes }) => attributes.get('id'))).toEqual(
        lay.placements.map(({ n }) => `placement-${n}`),
      );
      for (const group of groups) expect(group.children[0]!.name).toBe('title');
    },
  );

  test('outlines are those of the lay at the stated scale, within half a thousandth of a millimetre', () => {
    const drawing = planDrawing(openLay, { page: 'a4', units: 'cm', measure: font });
    const all = descendants(readXml(toSvg(drawing)));
    const [left, top] = drawing.origin;
    for (const { n, copies } of openLay.placements) {
      const group = all.find(({ attributes }) => attributes.get('id') === `placement-${n}`)!;
      const cutting = group.children.find(({ attributes }) => attributes.get('class') === 'cutting')!;
      const { outline } = openLay.copies.find((copy) => copy.n === copies[0])!;
      pathPoints(cutting.attributes.get('d')!).forEach(([x, y], i) => {
        expect(Math.abs(x - left - outline[i]![1] / 1000 / drawing.scale)).toBeLessThanOrEqual(0.000_51);
        expect(Math.abs(y - top - outline[i]![0] / 1000 / drawing.scale)).toBeLessThanOrEqual(0.000_51);
      });
    }
  });
});

describe('PDF', () => {
  // A4: ISO 216, 210 x 297 mm. Letter: 8 1/2 x 11 in. One point is 1/72 in (PDF 1.7, 8.3.2.3).
  test.each([
    ['a4', (210 / 25.4) * 72, (297 / 25.4) * 72],
    ['letter', 8.5 * 72, 11 * 72],
  ] as const)('%s has its exact page size', async (page, width, height) => {
    const { pages } = await readPdf((await drawPlan(openLay, { page, units: 'cm' })).pdf);
    for (const { view } of pages) {
      expect(view[2]! - view[0]!).toBeCloseTo(width, 4);
      expect(view[3]! - view[1]!).toBeCloseTo(height, 4);
    }
  });

  test('every text of the drawing can be read back, whatever its script', async () => {
    const drawing = planDrawing(foreign, { page: 'a4', units: 'cm', measure: font });
    const { pages, info } = await readPdf((await drawPlan(foreign, { page: 'a4', units: 'cm' })).pdf);
    expect(pages).toHaveLength(drawing.pages.length);
    drawing.pages.forEach((page, i) => {
      const read = pages[i]!.texts.join('').replace(/\s/g, '');
      for (const { text } of textsOf(page)) expect(read).toContain(text.replace(/\s/g, ''));
    });
    expect(pages[0]!.texts.join(' ')).toContain('Žofii');
    expect(pages[0]!.texts.join(' ')).toContain('Ποδιά');
    expect(pages[0]!.texts.join(' ')).toContain('Фартук');
    expect(info.Title).toContain('Фартук');
  });

  test('cutting lines lie where the lay says, at the stated scale', async () => {
    const drawing = planDrawing(openLay, { page: 'a4', units: 'cm', measure: font });
    const { pages } = await readPdf((await drawPlan(openLay, { page: 'a4', units: 'cm' })).pdf);
    const { fnArray, argsArray } = pages[0]!.operators;
    const corners = new Set<string>();
    const key = (x: number, y: number) => `${x.toFixed(2)} ${y.toFixed(2)}`;
    fnArray.forEach((operator: number, i: number) => {
      if (operator !== OPS.constructPath) return;
      const [, [data]] = argsArray[i] as [number, [Float32Array]];
      // 0 moveTo and 1 lineTo with two numbers each, 4 closePath.
      for (let at = 0; at < data.length; ) {
        const code = data[at]!;
        if (code > 1) {
          at += 1;
          continue;
        }
        corners.add(key(data[at + 1]!, data[at + 2]!));
        at += 3;
      }
    });
    const [left, top] = drawing.origin;
    const height = drawing.pages[0]!.heightMm;
    for (const { copies } of openLay.placements) {
      const { outline } = openLay.copies.find((copy) => copy.n === copies[0])!;
      for (const [x, y] of outline) {
        const across = ((left + y / 1000 / drawing.scale) * 72) / 25.4;
        const up = ((height - top - x / 1000 / drawing.scale) * 72) / 25.4;
        const near = [-0.01, 0, 0.01].some((dx) =>
          [-0.01, 0, 0.01].some((dy) => corners.has(key(across + dx, up + dy))),
        );
        expect(near, `${across} ${up}`).toBe(true);
      }
    }
  });

  test('a long lay keeps to whole pages, each numbered', async () => {
    const { pages } = await readPdf((await drawPlan(longLay, { page: 'letter', units: 'in' })).pdf);
    pages.forEach(({ texts }, i) => {
      expect(texts.join(' ')).toContain(`page ${i + 1} of ${pages.length}`);
    });
  });

  test('the same lay gives the same bytes', async () => {
    const once = await drawPlan(foreign, { page: 'a4', units: 'cm' });
    const again = await drawPlan(foreign, { page: 'a4', units: 'cm' });
    expect(Buffer.from(again.pdf).equals(Buffer.from(once.pdf))).toBe(true);
    expect(again.svg).toBe(once.svg);
  });
});
