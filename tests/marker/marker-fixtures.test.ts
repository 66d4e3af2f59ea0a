/** A lay of every fixture on each of its cloths, by every method that is legal: no word of the marker on a word or a line. */
import { beforeAll, describe, expect, test } from 'vitest';
import { viewCloth } from '../../src/marker/cloth-view.js';
import { loadPageFont, type PageFont } from '../../src/marker/font.js';
import { paperLook } from '../../src/marker/marker-looks.js';
import { markerPicture } from '../../src/marker/marker-picture.js';
import { markerSheets } from '../../src/marker/marker-sheets.js';
import { tilesOf } from '../../src/marker/marker-tiles.js';
import { roomOf } from '../../src/marker/tiling.js';
import { sheetSizesMm } from '../../src/units/paper.js';
import { laysOfFixture } from '../support/built-lays.js';
import { collisionsOf, sheetCollisionsOf, wordsOnJoins } from '../support/collisions.js';
import { cutListFiles } from '../support/fixtures.js';

let font: PageFont;
beforeAll(async () => {
  font = await loadPageFont();
});

describe.each(cutListFiles)('%s', (file) => {
  test('no word on a word or on a line, and every number stands somewhere', () => {
    for (const { name, lay } of laysOfFixture(file)) {
      const options = { measure: font, look: paperLook, units: 'cm', farEndUm: lay.cloth.ends[1] } as const;
      const { parts, widthMm, heightMm, unlabelled } = markerPicture(viewCloth(lay), options);
      const drawing = { title: '', scale: 1, origin: [0, 0] as const, pages: [{ widthMm, heightMm, groups: parts }] };
      expect([name, ...collisionsOf(drawing)]).toEqual([name]);
      expect([name, ...unlabelled]).toEqual([name]);
    }
  }, 60_000);

  test('on sheets: their own words on no word or line and within the border, words of all but narrow pieces on no join', () => {
    const sizes = Object.entries(sheetSizesMm);
    const lays = laysOfFixture(file);
    // One lay on every sheet, another on the smallest alone.
    for (const { name, lay } of new Set([lays[0]!, lays.at(-1)!])) {
      const view = viewCloth(lay);
      for (const [size, [widthMm, heightMm]] of lay === lays[0]!.lay ? sizes : sizes.slice(0, 1)) {
        const sheet = { widthMm, heightMm };
        const common = { measure: font, units: 'cm' } as const;
        const picture = markerPicture(view, {
          ...common,
          look: paperLook,
          farEndUm: lay.cloth.ends[1],
          room: roomOf(sheet),
        });
        const drawing = markerSheets(picture, sheet, paperLook, { ...common, lay, view, side: 'right' });
        const where = `${name}, ${size}`;
        expect([where, ...sheetCollisionsOf(drawing)]).toEqual([where]);
        const windows = tilesOf(picture, roomOf(sheet)).tiles.map(({ window }) => window);
        expect([where, ...wordsOnJoins(picture.parts, windows)]).toEqual([where]);
      }
    }
  }, 120_000);
});
