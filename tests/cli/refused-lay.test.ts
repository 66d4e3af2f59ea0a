/**
 * Should the search ever bring a lay that the checker refuses, the program says that it is at fault itself, and neither
 * writes nor tells of that lay. A search that does so is not to be had, so the checker is made to refuse here.
 */
import { expect, it, vi } from 'vitest';
import { runCli } from '../../src/cli/run.js';
import { fakeWorld } from './fake-world.js';
import { bag } from './scenes.js';

vi.mock('../../src/checker/check-lay.js', () => {
  const refusals = [{ code: 'copies-overlap', sentence: 'copy 1 (Side) reaches 1 mm into copy 2 (Side)' }];
  const refuse = () => ({ accepted: false, refusals });
  return { checkLay: refuse, checkLayAgainst: refuse, checkPinned: refuse };
});

const bagRun = 'bag.yaml --effort 0.1';

it.each([`plan ${bagRun} --method open`, `plan ${bagRun} --method open --json`, `compare ${bagRun} --widths 150`])(
  'a refused lay is neither written nor told: %s',
  async (typed) => {
    const world = fakeWorld({ 'bag.yaml': bag });
    expect(await runCli(typed.split(' '), world)).toBe(70);
    expect([...world.files.keys()]).toEqual(['bag.yaml']);
    expect(world.outText()).toBe('');
    expect(world.errText()).toMatch(/our own fault, not yours: .*copy 1 \(Side\) reaches 1 mm into copy 2 \(Side\)/);
  },
);
