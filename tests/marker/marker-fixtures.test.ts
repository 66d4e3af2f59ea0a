/** A lay of every fixture on each of its cloths, by every method that is legal: no word of the marker on a word or a line. */
import { beforeAll, describe, expect, test } from 'vitest';
import { layMethods } from '../../src/cloth/types.js';
import { cutPiecesFor } from '../../src/index.js';
import type { Lay } from '../../src/lay/types.js';
import { viewCloth } from '../../src/marker/cloth-view.js';
import { loadPageFont, type PageFont } from '../../src/marker/font.js';
import { paperLook } from '../../src/marker/marker-looks.js';
import { markerPicture } from '../../src/marker/marker-picture.js';
import { type Way, waysOf } from '../../src/planning/ways.js';
import { declaredOf, layBuilt } from '../support/built-lays.js';
import { collisionsOf } from '../support/collisions.js';
import { cutListFiles, fixtureCutList } from '../support/fixtures.js';

let font: PageFont;
beforeAll(async () => {
  font = await loadPageFont();
});

/** One built lay for each material, cloth and method. */
function laysOf(file: string): readonly { readonly name: string; readonly lay: Lay }[] {
  const cutList = fixtureCutList(file);
  return cutList.cloths.flatMap(({ cloth, materials }) =>
    materials.flatMap((material) =>
      layMethods.flatMap((method) => {
        const pieces = cutPiecesFor(cutList, material);
        if (pieces.length === 0) return [];
        const answer = waysOf(method, declaredOf(cloth), { pieces, garments: 1 });
        const fits = answer.legal ? answer.ways.find(hasRoom) : undefined;
        const built = fits === undefined ? null : layBuilt(fits, cloth, pieces, 0);
        return built === null ? [] : [{ name: `${cloth.name}, ${method}`, lay: built.lay }];
      }),
    ),
  );
}

function hasRoom({ stretches }: Way): boolean {
  return stretches.every(({ problem }) => problem.kinds.every(({ choices }) => choices.length > 0));
}

describe.each(cutListFiles)('%s', (file) => {
  test('no word on a word or on a line, and every number stands somewhere', () => {
    for (const { name, lay } of laysOf(file)) {
      const options = { measure: font, look: paperLook, units: 'cm', farEndUm: lay.cloth.ends[1] } as const;
      const { parts, widthMm, heightMm, unlabelled } = markerPicture(viewCloth(lay), options);
      const drawing = { title: '', scale: 1, origin: [0, 0] as const, pages: [{ widthMm, heightMm, groups: parts }] };
      expect([name, ...collisionsOf(drawing)]).toEqual([name]);
      expect([name, ...unlabelled]).toEqual([name]);
    }
  }, 60_000);
});
