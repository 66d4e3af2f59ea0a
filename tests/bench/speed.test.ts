import { expect, test } from 'vitest';
import type { Instance } from '../../src/bench/instance.js';
import { measureSpeed, measures } from '../../src/bench/speed.js';
import { sameThreadExecutor } from '../../src/engine/same-thread.js';

/** Two slats lie side by side and one behind, so the first batch reaches the bound; a thousand stay a short lay. */
const outline = [
  [0, 0],
  [0.05, 0],
  [0.05, 4],
  [0, 4],
] as const;
const tiles: Instance = {
  name: 'tiles',
  stripWidth: 10,
  allowedRotationsDegrees: [0],
  pieces: [{ id: 'tile', quantity: 3, outline }],
};

/** A clock that shows the next second at each look: all times are whole numbers of looks. */
function tools() {
  let now = 0;
  return { startExecutor: () => sameThreadExecutor(), clock: () => ++now };
}

test('every measure is taken, and executors compute what plain calls do', async () => {
  const figures = await measureSpeed(tiles, 1, tools());
  expect(figures.map(({ name }) => name)).toEqual([...measures.map(({ name }) => name), 'speed-up with 2 workers']);
  const hashOf = (wanted: string) => figures.find(({ name }) => name === wanted)!.hash;
  expect(hashOf('steps')).toMatch(/^[0-9a-f]{16}$/);
  expect(hashOf('batch, 1 worker')).toBe(hashOf('steps'));
  expect(hashOf('batch, 2 workers')).toBe(hashOf('steps'));
  expect(hashOf('first lay x10')).not.toBe(hashOf('first lay'));
  // One look at the clock apart: a second, so 1000 ms, and as long with two workers as with one.
  expect(figures.find(({ name }) => name === 'no-fit set-up')).toMatchObject({ median: 1000, least: 1000, most: 1000 });
  expect(figures.at(-1)).toMatchObject({ median: 1, least: 1, most: 1 });
});
