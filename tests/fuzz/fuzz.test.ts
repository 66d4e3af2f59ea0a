/**
 * A short fuzz: the first cases of one seed, counted in cases so that every machine tries the same. The long one is
 * `npm run fuzz`; DEVELOPERS.md says what to do with what it finds.
 */
import { describe, expect, it } from 'vitest';
import { openRow } from '../support/damage.js';
import { makeCase, readSources } from './cases.js';
import { judgeScene } from './judge.js';
import { filesOf, readScene, type Scene, signatureOf, writeViolation } from './scene.js';
import { shrink } from './shrink.js';
import { addTally, type Tally } from './tally.js';

const quick = { checksApart: false };

describe('fuzz', () => {
  it('finds nothing in twenty-one cases of seed 7', async () => {
    const sources = readSources();
    const whole: Tally = new Map();
    for (let k = 0; k < 21; k++) {
      const tally: Tally = new Map();
      const scene = await makeCase(7, k, sources, tally);
      const violations = await judgeScene(scene, { ...quick, tally });
      expect(violations.map(signatureOf), `case ${k}`).toEqual([]);
      addTally(whole, tally);
    }
    expect(whole.get('lays written and checked')).toBeGreaterThan(2);
    expect(whole.get('damaged lays refused')).toBeGreaterThan(100);
    expect(whole.get('exit code 2')).toBeGreaterThan(50);
  }, 600_000);

  it('draws the same case from the same number', async () => {
    const draw = async (k: number) => {
      const { files, steps } = await makeCase(5, k, readSources(), new Map());
      return writeViolation({ kind: 'none', what: '', scene: { files, steps } });
    };
    for (const k of [0, 1, 2, 3]) expect(await draw(k)).toBe(await draw(k));
  });
});

describe('what the fuzz would notice', () => {
  const good = `${JSON.stringify(openRow)}\n`;
  const checked = (text: string, refusedFor?: string): Scene => ({
    files: filesOf({ 'a.lay.json': text, 'b.yaml': 'title: X\nunits: cm\n' }),
    steps: [
      { do: 'run', words: ['check', 'b.yaml'], as: 'memory' },
      { do: 'run', words: ['check', 'a.lay.json'], as: 'memory', ...(refusedFor === undefined ? {} : { refusedFor }) },
    ],
  });

  it('says nothing of a good lay', async () => {
    expect(await judgeScene(checked(good), { ...quick, tally: new Map() })).toEqual([]);
  });

  it('tells of a lay that should have been refused, in a small scene that can be read again', async () => {
    const [found] = await judgeScene(checked(good, 'a wrong sum'), { ...quick, tally: new Map() });
    expect(found?.kind).toBe('damage-accepted');
    const small = await shrink(found!, quick);
    expect(small.scene.steps).toHaveLength(1);
    expect([...small.scene.files.keys()]).toEqual(['a.lay.json']);
    const again = await judgeScene(readScene(writeViolation(small)), { ...quick, tally: new Map() });
    expect(again.map(signatureOf)).toEqual([signatureOf(found!)]);
  });
});
