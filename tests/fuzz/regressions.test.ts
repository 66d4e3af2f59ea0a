/** Every scene under fixtures/regressions once showed something that must not be; now none does. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { fixtures } from './cases.js';
import { judgeScene } from './judge.js';
import { readScene, signatureOf } from './scene.js';

const folder = `${fixtures}regressions/`;
const names = existsSync(folder) ? readdirSync(folder).filter((name) => name.endsWith('.json')) : [];

describe('regressions', () => {
  it.each(names)('%s', async (name) => {
    const scene = readScene(readFileSync(folder + name, 'utf8'));
    const violations = await judgeScene(scene, { tally: new Map(), checksApart: false });
    expect(violations.map(signatureOf)).toEqual([]);
  });

  it('are there, or none was ever found', () => {
    expect(existsSync(folder)).toBe(names.length > 0);
  });
});
