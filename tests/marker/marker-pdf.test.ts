/** The marker's PDF: sizes, joined sheets, and its scale as outside programs see it. */
import { describe, expect, test, vi } from 'vitest';
import type { Lay } from '../../src/lay/types.js';
import { viewCloth } from '../../src/marker/cloth-view.js';
import { drawMarker, type MarkerOptions } from '../../src/marker/draw-marker.js';
import { trueSizeStyles } from '../../src/marker/line-styles.js';
import { sheetSizesMm } from '../../src/units/paper.js';
import { markerLays } from '../support/marker-lays.js';
import { type PdfPage, readPdfPages } from '../support/pdf-paths.js';
import { darkRuns, hasProgram, rasterised, saysOf } from '../support/programs.js';

const a4 = { widthMm: 210, heightMm: 297 };
const dotsPerMm = 300 / 25.4;

async function pdfOf(lay: Lay, options: Partial<MarkerOptions> = {}): Promise<Uint8Array> {
  const all = { what: 'marker', sheet: a4, format: 'pdf', units: 'cm', side: 'right', ...options } as const;
  return (await drawMarker(lay, all)).bytes;
}

/** ISO 216 (A sizes), ANSI/ASME Y14.1 A and B (letter, tabloid): widths and heights in millimetres. PA1. */
const published = {
  a4: [210, 297],
  a3: [297, 420],
  a2: [420, 594],
  a1: [594, 841],
  a0: [841, 1189],
  letter: [8.5 * 25.4, 11 * 25.4],
  tabloid: [11 * 25.4, 17 * 25.4],
} as const;

test.each(Object.entries(published))('%s: every page box is exact', async (name, [wide, high]) => {
  const [widthMm, heightMm] = sheetSizesMm[name as keyof typeof published];
  const { pages } = await readPdfPages(await pdfOf(markerLays['apron open']!, { sheet: { widthMm, heightMm } }));
  for (const page of pages) {
    expect(page.widthMm).toBeCloseTo(wide, 6);
    expect(page.heightMm).toBeCloseTo(high, 6);
  }
});

test('rolls: one long page, split at the length of the roll and at 5080 mm', async () => {
  const long = markerLays.long!;
  const sizes = async (heightMm: number | null) => {
    const { pages } = await readPdfPages(await pdfOf(long, { sheet: { widthMm: 1300, heightMm } }));
    return pages.slice(1).map(({ widthMm, heightMm: high }) => [Math.round(widthMm), Math.round(high)] as const);
  };
  const whole = await sizes(null);
  expect(Math.max(...whole.map(([, high]) => high))).toBe(5080);
  expect(new Set(whole.map(([wide]) => wide))).toEqual(new Set([1300]));
  const cut = await sizes(3000);
  expect(new Set(cut.map(([, high]) => high))).toEqual(new Set([3000]));
});

test('layers, no scaling by the viewer, and one numbered place for each sheet', async () => {
  const { pages, layers, scaling } = await readPdfPages(await pdfOf(markerLays['apron plaid with a flaw']!));
  expect(layers).toEqual(['cutting lines', 'seams and marks', 'labels', 'cloth, repeat and flaws', 'joins and checks']);
  expect(scaling).toBe('None');
  const places = pages.slice(1).map(placeOf);
  expect(places.map(({ sheet }) => sheet)).toEqual(pages.slice(1).map((_, i) => i + 2));
  const order = places.map(({ row, column }) => row * 100 + column);
  expect(order).toEqual([...order].sort((a, b) => a - b));
});

function placeOf({ texts }: PdfPage): { readonly row: number; readonly column: number; readonly sheet: number } {
  const [, row, column, sheet] = /row (\d+) of \d+,? column (\d+) of \d+;? sheet (\d+) of \d+/.exec(texts.join(' '))!;
  return { row: Number(row), column: Number(column), sheet: Number(sheet) };
}

/** x of upright, and y of level, join lines of a page: full strokes along its room for drawing. */
function joinsOf({ strokes, widthMm, heightMm }: PdfPage) {
  const near = (a: number, b: number) => Math.abs(a - b) < 0.01;
  const ruled = strokes.filter(
    (stroke) => near(stroke.widthMm, trueSizeStyles.rule.widthMm) && stroke.points.length === 2,
  );
  const upright = ruled.filter(
    ({ points: [a, b] }) => near(a![0], b![0]) && near(Math.abs(a![1] - b![1]), heightMm - 20),
  );
  const level = ruled.filter(({ points: [a, b] }) => near(a![1], b![1]) && near(Math.abs(a![0] - b![0]), widthMm - 20));
  return { xs: upright.map(({ points }) => points[0]![0]), ys: level.map(({ points }) => points[0]![1]) };
}

const joined = Object.entries(markerLays).filter(([name]) => !['crowded', 'long'].includes(name));

describe.each(joined)('%s', (_, lay) => {
  test('cut at their marks and joined, the sheets give every outline within 0.2 mm', async () => {
    const { pages } = await readPdfPages(await pdfOf(lay));
    const sheets = pages.slice(1).map((page) => ({ page, joins: joinsOf(page), ...placeOf(page) }));
    // A sheet is cut along its left and upper line, and laid with them on the right and lower line of the one before.
    const steps = { x: 0, y: 0 };
    for (const { joins, row, column } of sheets) {
      if (joins.xs.length === 2) steps.x = Math.max(...joins.xs) - Math.min(...joins.xs);
      if (joins.ys.length === 2) steps.y = Math.max(...joins.ys) - Math.min(...joins.ys);
      expect(joins.xs.some((x) => Math.abs(x - 10) < 0.01)).toBe(column > 1);
      expect(joins.ys.some((y) => Math.abs(y - 10) < 0.01)).toBe(row > 1);
      for (const x of joins.xs) expect(Math.min(Math.abs(x - 10), Math.abs(x - 190))).toBeLessThan(0.01);
      for (const y of joins.ys) expect(Math.min(Math.abs(y - 10), Math.abs(y - 277))).toBeLessThan(0.01);
    }
    const points = sheets.flatMap(({ page, row, column }) =>
      page.strokes
        .filter(({ widthMm }) => Math.abs(widthMm - trueSizeStyles.cutting.widthMm) < 0.01)
        .flatMap((stroke) => stroke.points)
        .filter(([x, y]) => x >= 9.99 && x <= 200.01 && y >= 9.99 && y <= 287.01)
        .map(([x, y]) => [x + (column - 1) * (steps.x || 180), y + (row - 1) * (steps.y || 267)] as const),
    );
    const wanted = viewCloth(lay).pieces.flatMap(({ outline }) =>
      outline.map(([x, y]) => [y / 1000, x / 1000] as const),
    );
    const least = (all: readonly (readonly [number, number])[], axis: 0 | 1) =>
      Math.min(...all.map((point) => point[axis]));
    const [dx, dy] = [least(points, 0) - least(wanted, 0), least(points, 1) - least(wanted, 1)];
    for (const [x, y] of wanted) {
      const distance = Math.min(...points.map(([px, py]) => Math.max(Math.abs(px - x - dx), Math.abs(py - y - dy))));
      expect(distance).toBeLessThan(0.2);
    }
  });
});

describe('seen by outside programs', () => {
  if (!hasProgram('pdftoppm')) console.warn('pdftoppm is missing: the scale of the marker is not checked from outside');

  test.skipIf(!hasProgram('pdftoppm'))(
    'the test squares at 300 dots per inch: 5 cm and 2 in within 0.1 mm',
    async () => {
      const pdf = await pdfOf(markerLays.open!);
      const page = rasterised(pdf, 1, [0, 0, Math.round(210 * dotsPerMm), Math.round(297 * dotsPerMm)]);
      // A row that crosses the four upright lines and no word.
      const rows = Array.from({ length: page.height }, (_, y) => darkRuns(page.width, (x) => page.at(x, y)));
      const roughly = (row: readonly number[]) =>
        row.length === 4 && Math.abs((row[1]! - row[0]!) / dotsPerMm - 50) < 10;
      const runs = rows.find(roughly)!;
      const [a, b, c, d] = runs as unknown as [number, number, number, number];
      expect(Math.abs((b - a) / dotsPerMm - 50)).toBeLessThan(0.1);
      expect(Math.abs((d - c) / dotsPerMm - 50.8)).toBeLessThan(0.1);
      const down = darkRuns(page.height, (y) => page.at(Math.round(a + 8 * dotsPerMm), y));
      const side = down.flatMap((y, i) => down.slice(i + 1).map((other) => (other - y) / dotsPerMm));
      expect(side.some((mm) => Math.abs(mm - 50) < 0.1)).toBe(true);
    },
  );

  test.skipIf(!hasProgram('pdftoppm'))('the 1 m check line of a roll within 0.1 mm', async () => {
    const pdf = await pdfOf(markerLays.open!, { sheet: { widthMm: 1700, heightMm: null } });
    const strip = rasterised(pdf, 2, [0, 0, Math.round(20 * dotsPerMm), Math.round(1100 * dotsPerMm)]);
    // Beside the line, where only its two end bars are.
    const beside = Math.round((10 + 8 * 0.16 + 0.4) * dotsPerMm);
    const bars = darkRuns(strip.height, (y) => strip.at(beside, y));
    expect(bars).toHaveLength(2);
    expect(Math.abs((bars[1]! - bars[0]!) / dotsPerMm - 1000)).toBeLessThan(0.1);
  });

  const some = ['example', 'tiny', 'apron double fold', 'apron plaid with a flaw', 'long'];
  const kinds = some.flatMap((name) => [
    { name, what: 'marker', sheet: a4 } as const,
    { name, what: 'marker', sheet: { widthMm: 900, heightMm: null } } as const,
    { name, what: 'projector', sheet: a4 } as const,
  ]);

  test.each(kinds)('$name as $what: read without a warning', async ({ name, what, sheet }) => {
    const warn = vi.spyOn(console, 'log').mockImplementation(() => undefined);
    const pdf = await pdfOf(markerLays[name]!, { what, sheet });
    await readPdfPages(pdf);
    expect(warn.mock.calls).toEqual([]);
    warn.mockRestore();
    if (hasProgram('pdfinfo')) expect(saysOf('pdfinfo', (path) => [path], pdf)).not.toMatch(/error|warning/i);
    if (hasProgram('pdftoppm')) {
      expect(saysOf('pdftoppm', (path) => ['-r', '5', '-l', '3', path, `${path}.out`], pdf)).toBe('');
    }
    if (hasProgram('gs')) {
      expect(saysOf('gs', (path) => ['-q', '-o', '/dev/null', '-sDEVICE=nullpage', path], pdf)).toBe('');
    }
  });
});
