/**
 * Pages of every fixture by every lay method, from both sides of the cloth: no text on another text nor on a line,
 * cutting lines first of all.
 */
import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import { type DeclaredCloth, layNames } from '../../src/cloth/types.js';
import { cutPiecesFor } from '../../src/index.js';
import type { Lay } from '../../src/lay/types.js';
import { chalkDrawing } from '../../src/marker/chalk-pages.js';
import { loadPageFont, type PageFont } from '../../src/marker/font.js';
import { planDrawing } from '../../src/marker/plan.js';
import type { CutPiece } from '../../src/pieces/types.js';
import { type Way, waysOf } from '../../src/planning/ways.js';
import { layBuilt } from '../support/built-lays.js';
import { collisionsOf } from '../support/collisions.js';
import { cutListFiles, fixtureCutList, fixtureText } from '../support/fixtures.js';
import { planText } from '../support/plan.js';

let font: PageFont;
beforeAll(async () => {
  font = await loadPageFont();
});

const chartFiles = readdirSync(fileURLToPath(new URL('../../fixtures/chart/', import.meta.url)))
  .filter((file) => file.endsWith('.yaml'))
  .map((file) => `chart/${file}`);

const drawn = new Set<string>();

function expectNoCollisions(lay: Lay): void {
  for (const [side, page, units] of [
    ['right', 'a4', 'cm'],
    ['wrong', 'letter', 'in'],
  ] as const) {
    const options = { page, side, units, measure: font };
    expect(collisionsOf(planDrawing(lay, options)), `${lay.title}, plan, ${page}, ${side}`).toEqual([]);
    expect(collisionsOf(chalkDrawing(lay, options)), `${lay.title}, chalk list, ${page}, ${side}`).toEqual([]);
  }
}

/** Lays of one cloth by every method that it and the pieces allow, built without a search. */
function builtLays(cloth: DeclaredCloth, pieces: readonly CutPiece[]): readonly Lay[] {
  return layNames.flatMap((name) => {
    const answer = waysOf(name, cloth, { pieces, garments: 1 });
    if (!answer.legal) return [];
    const { ways } = answer;
    const hasPair = ({ stretches }: Way) =>
      stretches.some(({ kinds }) => kinds.some(({ rule }) => rule.form === 'pair'));
    const built = layBuilt(ways.find(hasPair) ?? ways[0]!, cloth.cloth, pieces, 0);
    if (built !== null) drawn.add(name);
    return built === null ? [] : [built.lay];
  });
}

describe('pages of the fixtures', () => {
  const few = [
    ...chartFiles,
    'garments/sail-bags.yaml',
    ...cutListFiles.filter((file) => file.startsWith('boatyard/')),
  ];
  test.each(few)('%s: built by each lay method', (file) => {
    const cutList = fixtureCutList(file);
    const lays = cutList.cloths.flatMap((cloth) =>
      cloth.materials.flatMap((material) => builtLays(cloth, cutPiecesFor(cutList, material))),
    );
    expect(lays.length).toBeGreaterThan(0);
    for (const lay of lays) expectNoCollisions(lay);
  });

  test('all lay methods were among them', () => {
    expect(layNames.filter((name) => !drawn.has(name))).toEqual([]);
  });

  test.each([...cutListFiles, ...chartFiles])('%s: planned for a moment as it says', async (file) => {
    const answer = await planText(fixtureText(file), { effort: 0.1 });
    for (const { lay } of answer.plans.flatMap(({ candidates }) => candidates))
      if (lay !== null) expectNoCollisions(lay);
  });
});
