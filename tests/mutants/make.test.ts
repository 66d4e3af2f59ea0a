/** Mutants of small texts: each kind of change where it belongs, and none in types, imports and texts of messages. */
import { expect, test } from 'vitest';
import { makeMutants } from './make.js';
import { sampleMutants } from './sample.js';
import { applyMutant } from './types-valid.js';

function mutated(text: string): string[] {
  return makeMutants('one.ts', text).map((mutant) => applyMutant(mutant, text));
}

test('operators: the other way, and the border changed over', () => {
  expect(mutated('a < b;')).toEqual(['{}', 'a <= b;', 'a >= b;']);
  expect(mutated('const c = (a) + /* and */ (b);')).toEqual(['const c = (a) - /* and */ (b);']);
  expect(mutated('const c = a && !b;')).toEqual(['const c = a || !b;', 'const c = a && b;']);
  expect(mutated('c += d;')).toEqual(['{}', 'c -= d;']);
});

test('numbers: one more, one less, nothing; bigints too', () => {
  expect(mutated('const a = [0, 5];')).toEqual([
    'const a = [1, 5];',
    'const a = [(-1), 5];',
    'const a = [0, 6];',
    'const a = [0, 4];',
    'const a = [0, 0];',
  ]);
  expect(mutated('const a = 2n;')).toEqual(['const a = 3n;', 'const a = 1n;']);
});

test('conditions forced, statements removed, values emptied', () => {
  expect(mutated('if (a) b();')).toEqual(['if (true) b();', 'if (false) b();', 'if (a) {}']);
  expect(mutated('for (const a of b) continue;')).toEqual(['{}', 'for (const a of b) {}']);
  expect(mutated('function f(): number { return a; }')).toEqual(['function f(): number { return 0; }']);
  expect(mutated('function f(): string | null { return a; }')).toEqual([
    'function f(): string | null { return null; }',
  ]);
  expect(mutated('const f = () => [a, ...b];')).toEqual(['const f = () => [];', 'const f = () => [a, ...[]];']);
});

test('methods', () => {
  expect(mutated('const c = a.some(b);')).toEqual(['const c = a.every(b);']);
  expect(mutated('const c = Math.min(a, b);')).toEqual(['const c = Math.max(a, b);']);
  expect(mutated('const c = a.filter(b);')).toEqual(['const c = a;']);
  expect(mutated('const c = Math.abs(a - b);')).toEqual(['const c = (a - b);', 'const c = Math.abs(a + b);']);
});

test('nothing in types, imports, keys and texts', () => {
  const text = `import { a } from './a.js';
type B = 0 | 1 | true;
interface C { readonly d: 3 }
const e: 4 = a as 4;
const f = { 90: 'one < two', g: \`\${e} > 1\` };`;
  expect(mutated(text)).toEqual([]);
});

test('a sample takes from each room its share, the same for the same seed, of what can be built only', () => {
  const rooms = [40, 20, 5].map((count, i) => makeMutants(`room ${i}`, 'a = b < 1;\n'.repeat(count)));
  const keep = (mutants: readonly (typeof rooms)[0][number][]) => mutants.filter(({ kind }) => kind !== 'number');
  const sample = (seed: number) => sampleMutants(rooms, 26, seed, keep);
  const shares = rooms.map((_, i) => sample(1).filter(({ file }) => file === `room ${i}`).length);
  expect(shares).toEqual([16, 8, 2]);
  expect(sample(1)).toEqual(sample(1));
  expect(sample(2)).not.toEqual(sample(1));
  expect(sample(1).some(({ kind }) => kind === 'number')).toBe(false);
  expect(new Set(sample(1)).size).toBe(26);
});
