/** Every faulty cut list through the command line: exit 2, its message, nothing written, no stack. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { runCli } from '../../src/cli/run.js';
import { fakeWorld } from './fake-world.js';

const folder = fileURLToPath(new URL('../../fixtures/faults/', import.meta.url));
const names = readdirSync(folder)
  .filter((name) => name.endsWith('.yaml'))
  .sort();

describe.each(['plan', 'check'])('%s', (command) => {
  test.each(names)('%s', async (name) => {
    const world = fakeWorld({ [name]: readFileSync(folder + name, 'utf8') });
    expect(await runCli([command, name], world)).toBe(2);
    const expected = readFileSync(folder + name.replace('.yaml', '.expected'), 'utf8');
    expect(world.errText().startsWith(expected)).toBe(true);
    expect(world.outText()).toBe('');
    expect([...world.files.keys()]).toEqual([name]);
    expect(world.errText()).not.toMatch(/\n\s+at .*:\d+:\d+/);
  });
});
