/** A lay of every fixture on each of its cloths, by every method that is legal: no word of the marker on a word or a line. */
import { beforeAll, describe, expect, test } from 'vitest';
import { viewCloth } from '../../src/marker/cloth-view.js';
import { loadPageFont, type PageFont } from '../../src/marker/font.js';
import { paperLook } from '../../src/marker/marker-looks.js';
import { markerPicture } from '../../src/marker/marker-picture.js';
import { laysOfFixture } from '../support/built-lays.js';
import { collisionsOf } from '../support/collisions.js';
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
});
