/**
 * Every page of a lay that can be drawn from the fixtures, by every lay method, from both sides of the cloth: no text on
 * another text nor on a line, cutting lines first of all.
 */
import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import { layNames } from '../../src/cloth/types.js';
import type { Lay } from '../../src/lay/types.js';
import { chalkDrawing } from '../../src/marker/chalk-pages.js';
import { loadPageFont, type PageFont } from '../../src/marker/font.js';
import { planDrawing } from '../../src/marker/plan.js';
import { collisionsOf } from '../support/collisions.js';
import { cutListFiles, fixtureText } from '../support/fixtures.js';
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

describe('pages of the fixtures', () => {
  test.each([...cutListFiles, ...chartFiles])('%s: a quick lay by each method that it may have', async (file) => {
    const answer = await planText(fixtureText(file), { effort: 0.1, method: 'best' });
    const lays = answer.plans.flatMap(({ candidates }) =>
      candidates.flatMap(({ lay, method }) => (lay === null ? [] : [{ lay, method }])),
    );
    expect(lays.length).toBeGreaterThan(0);
    for (const { lay, method } of lays) {
      expectNoCollisions(lay);
      drawn.add(method);
    }
  });

  test('and a tube, which no fixture is: so all lay methods are drawn', async () => {
    const text = fixtureText('garments/smock.yaml').replace('method: lengthwise fold', 'method: tube, selvedge: 0');
    const [tube] = (await planText(text.replace('usable: 147, ', ''), { effort: 0.1 })).plans;
    expectNoCollisions(tube!.chosen!.lay!);
    drawn.add(tube!.chosen!.method);
    expect(layNames.filter((name) => !drawn.has(name))).toEqual([]);
  });
});
