/** What the fuzz draws: nothing that a plan can ask for is so rare that a run of some hundred cases hardly meets it. */
import { expect, it } from 'vitest';
import { layNames } from '../../src/cloth/types.js';
import { makeCase, readSources } from './cases.js';
import { askedOf } from './mixture.js';

/** The keys of docs/cut-list.md, and what else a plan may be asked; in percent of the cases that plan. */
const least: readonly (readonly [number, readonly string[]])[] = [
  [6, [...layNames, 'best'].map((name) => `method ${name}`)],
  [
    3,
    [
      ...[
        'for',
        'width',
        'selvedge',
        'usable',
        'nap',
        'faces',
        'method',
        'fold',
        'length',
        'repeat',
        'flaws',
        'crease',
      ],
      ...['shrinkage', 'ends', 'gap', 'price', 'sold-by', 'currency', 'grain', 'fusible'],
    ].map((key) => `cloth: ${key}`),
  ],
  [3, ['both faces', 'free grain', 'fusible', 'drop', 'remnants', 'seams', 'several lists', 'several garments']],
  [3, ['piece: match', 'piece: tilt', 'piece: turn', 'piece: like', 'piece: fold', '--keep', '--advise', 'a process']],
];

it('asks for everything often enough', async () => {
  // Nothing is planned or read here.
  const drawnOnly = { lay: async () => Buffer.from('{}', 'utf8'), isGood: async () => true };
  const sources = { ...readSources(), ...drawnOnly };
  const counts = new Map<string, number>();
  for (let k = 0; k < 1_500; k++) {
    for (const what of askedOf(await makeCase(3, k, sources, new Map()))) counts.set(what, (counts.get(what) ?? 0) + 1);
  }
  const planned = counts.get('plan')!;
  expect(planned).toBeGreaterThan(700);
  const share = (what: string) => (100 * (counts.get(what) ?? 0)) / planned;
  const rare = least.flatMap(([percent, all]) =>
    all.filter((what) => share(what) < percent).map((what) => `${what}: ${share(what).toFixed(1)} %`),
  );
  expect(rare).toEqual([]);
}, 120_000);
