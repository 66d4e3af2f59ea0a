/** Ctrl-C, a request to end and a closed terminal at every stage of every command. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCli } from '../../src/cli/run.js';
import type { World } from '../../src/cli/world.js';
import { type FakeWorld, fakeWorld } from './fake-world.js';
import { runProgram } from './run-program.js';
import { bag, filesIn, flags, sceneOf } from './scenes.js';

const patient = { timeout: 600_000 };
const plan = ['plan', 'bag.yaml', '--effort', '0.1', '--method', 'open'];

/** A world in which Ctrl-C is pressed so often when a deed is about to be done for the first time. */
function pressing(world: FakeWorld, deed: 'look' | 'read' | 'makeFolder' | 'makeReady', times: number): World {
  let left = times;
  const press = () => {
    for (; left > 0; left--) world.interrupt();
  };
  return {
    ...world,
    [deed]: (...words: [string, Uint8Array]) => {
      press();
      return (world[deed] as (...all: [string, Uint8Array]) => unknown)(...words);
    },
  };
}

describe('plan and compare', patient, () => {
  it.each(['look', 'read'] as const)(
    'read to the end when pressed at their first %s, then end with 130',
    async (deed) => {
      for (const words of [plan, ['compare', ...plan.slice(1), '--widths', '150']]) {
        const world = fakeWorld({ 'bag.yaml': bag });
        expect(await runCli(words, pressing(world, deed, 1))).toBe(130);
        expect(world.errText()).toContain('nothing is written');
        expect([...world.files.keys()]).toEqual(['bag.yaml']);
        expect(world.leftWith()).toBeNull();
      }
    },
  );

  it.each(['makeFolder', 'makeReady'] as const)('write all of it when pressed at %s, and say so', async (deed) => {
    const world = fakeWorld({ 'bag.yaml': bag });
    expect(await runCli(plan, pressing(world, deed, 1))).toBe(0);
    expect(world.errText()).toBe('the search is done: what it found is being written (once more to leave at once)\n');
    expect(world.files.size).toBe(4);
    expect(world.ready.size).toBe(0);
    const lay = JSON.parse(Buffer.from(world.files.get('lays/bag-canvas.lay.json')!).toString());
    expect(lay.status).not.toBe('interrupted');
  });

  it.each(['look', 'read', 'makeFolder', 'makeReady'] as const)(
    'leave at once when pressed twice at %s',
    async (deed) => {
      const world = fakeWorld({ 'bag.yaml': bag });
      await runCli(plan, pressing(world, deed, 2));
      expect(world.leftWith()).toBe(130);
    },
  );
});

describe('the other commands leave at once', () => {
  const words = [
    ['check', 'bag.yaml'],
    ['draw', 'bag.yaml'],
    ['print', 'bag.yaml', '--what', 'pieces', '--format', 'svg'],
  ];
  it.each(words)('%s', async (...typed) => {
    for (const deed of typed[0] === 'check' ? (['read'] as const) : (['read', 'makeReady'] as const)) {
      const world = fakeWorld({ 'bag.yaml': bag });
      await runCli(typed, pressing(world, deed, 1));
      expect(world.leftWith()).toBe(130);
      expect(world.errText()).not.toContain('once more');
    }
  });

  it('listens no longer when all is done', async () => {
    const world = fakeWorld({ 'bag.yaml': bag });
    await runCli(['check', 'bag.yaml'], world);
    world.interrupt();
    expect(world.leftWith()).toBeNull();
  });
});

describe('the real program', patient, () => {
  const long = ['plan', 'flags.yaml', '--effort', '100000', '--method', 'open'];

  it.each(['SIGINT', 'SIGTERM', 'SIGHUP'] as const)('writes the best lay after one %s', async (signal) => {
    const folder = sceneOf({ 'flags.yaml': flags(25) });
    const ended = await runProgram(long, folder, (child) => {
      // The first line of progress says that the search is under way.
      child.stderr?.once('data', () => child.kill(signal));
    });
    expect(ended.exitCode).toBe(0);
    expect(ended.err).toContain('ending the search');
    expect(ended.out).toContain('interrupted: the best lay found so far');
    expect(filesIn(join(folder, 'lays'))).toHaveLength(3);
    const lay = JSON.parse(readFileSync(join(folder, 'lays', 'flags-bunting.lay.json'), 'utf8'));
    expect(lay.status).toBe('interrupted');
  });

  it('is gone with 130 after two, with its threads, and leaves nothing', async () => {
    const folder = sceneOf({ 'flags.yaml': flags(25) });
    const ended = await runProgram(long, folder, (child) => {
      child.stderr?.once('data', () => {
        child.kill('SIGTERM');
        // Two signals of one kind may count as one until the first is seen.
        child.stderr?.once('data', () => child.kill('SIGINT'));
      });
    });
    // Its pipes are closed: no thread is left that could hold them.
    expect(ended).toMatchObject({ exitCode: 130, out: '' });
    expect(filesIn(folder)).toEqual(['flags.yaml']);
  });
});
