/** A process is called hanging for what it does, never for a clock that runs while others have the processor. */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';
import { afterEach, describe, expect, it } from 'vitest';
import { type Hang, type Patience, watchProcess } from './watch.js';

const patience: Patience = { everyMs: 50, looksMost: 4, secondsMost: 0.5 };
const started: ChildProcess[] = [];

/** Begun, and told by a word that it is at work. */
async function begun(program: string): Promise<ChildProcess> {
  const child = spawn(process.execPath, ['-e', `console.log('on'); ${program}`], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  started.push(child);
  await once(child.stdout!, 'data');
  return child;
}

afterEach(() => {
  for (const child of started.splice(0)) child.kill('SIGKILL');
});

describe.skipIf(!existsSync('/proc/self/task'))('watch over a process', () => {
  it.each([
    ['spins', 'for (;;);'],
    ['sleeps', 'setTimeout(() => 0, 1e8)'],
  ] as const)(
    'says that it %s',
    async (hang, program) => {
      const child = await begun(program);
      expect(await new Promise<Hang>((tell) => watchProcess(child.pid!, patience, tell))).toBe(hang);
    },
    60_000,
  );

  it.each([
    ['that gets nothing of the processor', 'for (;;);', 'SIGSTOP'],
    [
      'that waits for a child at work',
      'require("node:child_process").spawnSync(process.execPath, ["-e", "for (const end = Date.now() + 3000; Date.now() < end; );"])',
      'SIGCONT',
    ],
  ] as const)(
    'says nothing of one %s',
    async (_, program, signal) => {
      const child = await begun(program);
      child.kill(signal);
      const told: Hang[] = [];
      const end = watchProcess(child.pid!, { ...patience, everyMs: 100 }, (hang) => told.push(hang));
      await wait(1_500);
      end();
      expect(told).toEqual([]);
      child.kill('SIGCONT');
    },
    60_000,
  );
});
