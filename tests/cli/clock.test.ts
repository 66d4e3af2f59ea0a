/** A clock that jumps or stands still: `--seconds` is a cap only, so every search ends by its effort all the same. */
import { expect, it } from 'vitest';
import { runCli } from '../../src/cli/run.js';
import { fakeWorld } from './fake-world.js';
import { bag } from './scenes.js';

const words = ['plan', 'bag.yaml', '--effort', '0.5', '--seconds', '5', '--method', 'open'];

async function planned(clock: () => number): Promise<{ lay: string; err: string }> {
  const world = { ...fakeWorld({ 'bag.yaml': bag }), clock };
  expect(await runCli(words, world)).toBe(0);
  expect(world.outText()).toMatch(/^buy /m);
  return { lay: Buffer.from(world.files.get('lays/bag-canvas.lay.json')!).toString(), err: world.errText() };
}

it('ends, with the same lay wherever the cap was not reached', { timeout: 600_000 }, async () => {
  let looks = 0;
  const still = await planned(() => 0);
  const back = await planned(() => -1000 * looks++);
  const jumping = await planned(() => (looks++ % 2 === 0 ? 3 : -1e9));
  expect(back.lay).toBe(still.lay);
  expect(jumping.lay).toBe(still.lay);
  // Far ahead at once: the first lay, as if the seconds had passed.
  const ahead = await planned(() => 1e9 * looks++);
  expect(JSON.parse(ahead.lay).effort).toBeLessThanOrEqual(JSON.parse(still.lay).effort);
});
