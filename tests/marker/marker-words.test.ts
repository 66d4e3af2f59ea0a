/** The words of the first page and of the corners of a marker's sheets. */
import { beforeAll, describe, expect, test } from 'vitest';
import type { Lay } from '../../src/lay/types.js';
import { viewCloth } from '../../src/marker/cloth-view.js';
import { loadPageFont, type PageFont } from '../../src/marker/font.js';
import { paperLook, projectedLook } from '../../src/marker/marker-looks.js';
import { markerPicture } from '../../src/marker/marker-picture.js';
import { markerSheets } from '../../src/marker/marker-sheets.js';
import { projectorDrawing } from '../../src/marker/projector.js';
import { roomOf } from '../../src/marker/tiling.js';
import type { ClothSide } from '../../src/report/seen-cloth.js';
import type { LengthUnit } from '../../src/units/types.js';
import { itemsOf, textsOf } from '../support/drawings.js';
import { markerLays } from '../support/marker-lays.js';

let font: PageFont;
beforeAll(async () => {
  font = await loadPageFont();
});

const sheet = { widthMm: 210, heightMm: 297 };

function sheetsOf(lay: Lay, units: LengthUnit = 'cm', side: ClothSide = 'right') {
  const view = viewCloth(lay, side);
  const look = paperLook;
  const picture = markerPicture(view, {
    measure: font,
    look,
    units,
    farEndUm: lay.cloth.ends[1],
    room: roomOf(sheet),
  });
  return { picture, pages: markerSheets(picture, sheet, look, { lay, view, units, side, measure: font }).pages };
}

/** All words of a page in one line. */
function wordsOn(page: Parameters<typeof textsOf>[0]): string {
  return textsOf(page)
    .map(({ text }) => text)
    .join(' ');
}

const firstPage = (name: string, units?: LengthUnit, side?: ClothSide) =>
  wordsOn(sheetsOf(markerLays[name]!, units, side).pages[0]!);

describe('the first page', () => {
  test.each([
    ['apron open', 'plies: one; open'],
    ['apron lengthwise fold', 'plies: two; folded lengthwise'],
    ['apron tube', 'plies: two; a tube'],
    ['pockets crosswise fold', 'plies: two; folded across'],
    ['apron partial fold', 'plies: one, two where folded; left side folded in'],
    ['apron combination', 'plies: one, two where folded; in stretches'],
  ])('%s: how many plies', (name, words) => {
    expect(firstPage(name)).toContain(words);
  });

  test('a double fold has its two depths in one sentence', () => {
    const words = firstPage('apron double fold');
    expect(words).toMatch(/folded in [\d.]+ cm at the left, [\d.]+ cm at the right/);
    expect(words).not.toContain(',,');
  });

  test('pale lines are explained where there are any', () => {
    expect(firstPage('apron open')).toContain('Pale dots along the cloth: no piece reaches beyond.');
    expect(firstPage('apron open')).not.toContain('bars of the repeat');
    expect(firstPage('apron plaid with a flaw')).toContain('Pale dashes: bars of the repeat.');
  });

  test('from the wrong side it says so, and tells the first bar from the edge that then lies at the left', () => {
    const across = 9;
    const wide = markerLays['apron plaid with a flaw']!.cloth.width / 10_000;
    const words = firstPage('apron plaid with a flaw', 'cm', 'wrong');
    expect(words).toContain('seen from the wrong side of the cloth: left and right are swapped');
    const at = (((wide - 4.5) % across) + across) % across;
    expect(words).toContain(`${at.toFixed(1)} cm from the left raw edge`);
  });

  test('washed cloth is told', () => {
    const lay = markerLays['apron open']!;
    const washed = { ...lay, cloth: { ...lay.cloth, shrinkagePpm: { along: 40_000, across: 20_000 } } };
    expect(wordsOn(sheetsOf(washed).pages[0]!)).toContain('wash the cloth first: the marker is for the washed cloth');
    expect(firstPage('apron open')).not.toContain('wash the cloth first');
  });

  test('in inches the check lines are round in inches', () => {
    expect(firstPage('apron open', 'in')).toMatch(/check lines 20 in across the top and \d+ in along/);
  });

  test('pieces with their numbers alone are named', () => {
    expect(firstPage('blouse open')).toMatch(/With their numbers alone: [\d, –]+ Armhole binding\./);
    expect(firstPage('apron open')).not.toContain('numbers alone');
  });
});

test('each sheet says from which side it is seen', () => {
  const [, second] = sheetsOf(markerLays['apron open']!, 'cm', 'wrong').pages;
  expect(wordsOn(second!)).toContain('seen from the wrong side');
  expect(wordsOn(sheetsOf(markerLays['apron open']!).pages[1]!)).not.toContain('wrong side');
});

test('a flaw that runs on over the end of the paper is drawn to the end of the marker', () => {
  const lay = markerLays['apron open']!;
  const flaw = [
    [0, 10_000],
    [40_000_000, 10_000],
    [40_000_000, 14_000],
    [0, 14_000],
  ] as const;
  const creased = { ...lay, cloth: { ...lay.cloth, flaws: [flaw] } };
  const { picture } = sheetsOf(creased);
  const page = { widthMm: 1, heightMm: 1, groups: picture.parts };
  const hatched = itemsOf(page).filter((item) => item.type === 'line' && item.kind === 'hatch');
  expect(hatched.length).toBeGreaterThan(10);
  for (const item of hatched) {
    if (item.type !== 'line') continue;
    for (const [, y] of item.points) expect(y).toBeLessThanOrEqual(picture.heightMm - paperLook.gutterMm + 0.001);
  }
});

test.each([
  ['cm', '5.0 cm', '50.0 cm', 50],
  ['in', '2 in', '20 in', 50.8],
] as const)('a projector is set by lengths that are round in %s', (units, square, line, mm) => {
  const lay = markerLays['apron open']!;
  const look = projectedLook;
  const picture = markerPicture(viewCloth(lay), { measure: font, look, units, farEndUm: lay.cloth.ends[1] });
  const [page] = projectorDrawing(picture, { title: 'T', look, units, measure: font, isSplit: true }).pages;
  expect(wordsOn(page!)).toContain(`every square is ${square} on each side`);
  expect(wordsOn(page!)).toContain(`the thick lines are ${line} between their ends`);
  const thick = itemsOf(page!).flatMap((item) =>
    item.type === 'line' && item.kind === 'cutting' ? [item.points] : [],
  );
  const [[ax], [bx]] = thick[0] as unknown as readonly [readonly [number, number], readonly [number, number]];
  expect(bx - ax).toBeCloseTo(10 * mm, 6);
});
