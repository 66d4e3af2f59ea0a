import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { type Instance, judgeSolution, poseInstance } from '../../src/bench/instance.js';
import { sameThreadExecutor } from '../../src/engine/same-thread.js';
import { search } from '../support/search.js';

function read(name: string): Instance {
  const file = fileURLToPath(new URL(`../../fixtures/instances/${name}.json`, import.meta.url));
  return JSON.parse(readFileSync(file, 'utf8')) as Instance;
}

async function solve(instance: Instance) {
  const posed = poseInstance(instance);
  const found = await search(posed.problem, {
    seed: 1,
    effort: 0.25,
    seconds: null,
    clock: () => 0,
    executor: sameThreadExecutor(),
    onProgress: () => undefined,
    interrupted: () => false,
  });
  return { posed, found, solution: found.solution! };
}

// Areas of the instances: sum of quantity x area as its data set gives it (ESICUP 2d_irregular).
test.each([
  ['albano', 42_656_785, 4900],
  ['dighe1', 10_000, 100],
])('%s: the first batch is verified and its utilisation is area over width x length', async (name, area, width) => {
  const instance = read(name);
  const { posed, found, solution } = await solve(instance);
  const judged = judgeSolution(instance, posed, solution);
  expect(judged.verified).toBe(true);
  expect(judged.utilisationPercent).toBeCloseTo((100 * area) / (width * judged.length), 2);
  expect(found.bound.um / posed.scale).toBeLessThanOrEqual(judged.length);
});

test('a damaged solution is not verified', async () => {
  const instance = read('dighe1');
  const { posed, solution } = await solve(instance);
  const [first, ...rest] = solution.spots;
  // The lay fills its strip, so a piece that moves a micrometre up enters another or leaves the strip.
  const onTop = { ...solution, spots: [{ ...first!, y: first!.y + 1 }, ...rest] };
  expect(judgeSolution(instance, posed, onTop).verified).toBe(false);
  expect(judgeSolution(instance, posed, { ...solution, spots: rest }).verified).toBe(false);
});
