/**
 * Random cut lists through the whole of `plan`: nothing crashes, every lay found is accepted by the checker when its
 * file is read again, and no length is below its bound. Fixed seeds; each list is printed when it fails.
 */
import { expect, test } from 'vitest';
import { checkLay } from '../src/checker/check-lay.js';
import { layNames } from '../src/cloth/types.js';
import { checkLayFile, planCutList } from '../src/index.js';
import { plainOptions, plainTools } from './support/plan.js';

function dice(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
    return Math.floor(state / 7) % below;
  };
}

function randomPiece(name: string, roll: (below: number) => number): string {
  const [w, h] = [5 + roll(40), 5 + roll(90)];
  const [a, b] = [roll(w), roll(h)];
  switch (roll(5)) {
    case 0:
      return `  ${name}: {rectangle: [${h}, ${w}.${roll(10)}], cut: {shell: ${1 + roll(4)}}, allowance: ${roll(3)}.${roll(10)}}`;
    case 1:
      return `  ${name}: {outline: {A: [0, 0], B: [${w}, ${roll(5)}], C: [${1 + a}, ${h}], D: [0, ${Math.max(1, h - 3)}]}, grain: A-D, fold: D-A, cut: {shell: 1 on fold}, allowance: {all: 1.${roll(10)}, A-B: ${roll(5)}}, curves: {B-C: {arc: [${w + 1}, ${b}]}}}`;
    case 2:
      return `  ${name}: {outline: {A: [0, 0], B: [${w}, ${roll(5)}], C: [${a}, ${h}]}, grain: [[1, 1], [${1 + roll(5)}, ${3 + roll(9)}]], cut: {shell: ${1 + roll(3)} pair}, allowance: ${roll(2)}, notches: [{edge: A-B, at: 1}], awl: [[1, 1]]}`;
    case 3:
      return `  ${name}: {outline: {A: [0, 0], B: [${w}, 0], C: [${w}, ${h}], D: [0, ${Math.max(1, h - 3)}]}, grain: D-A, fold: A-B, cut: {shell: 1 on fold}, allowance: 1}`;
    default:
      return `  ${name}: {outline: {A: [0, 0], B: [${w}, 0], C: [${w}, ${h}], D: [${a}, ${b}], E: [0, ${h}]}, drawn: ${roll(2) === 1 ? 'cut' : 'net'}, grain: A-E, cut: {shell: ${1 + roll(3)} same way + 1 pair}, allowance: {all: 0.${roll(9)}, C-E: ${roll(3)}}}`;
  }
}

function randomList(seed: number): string {
  const roll = dice(seed);
  const pieces = Array.from({ length: 1 + roll(5) }, (_, i) => randomPiece(`P${i}`, roll));
  const nap = ['one-way', 'none', 'each-garment'][roll(3)];
  const gap = ['0', '0.3', '1.5', '0.33'][roll(4)];
  const length = roll(4) > 0 ? '30 m' : `${150 + roll(100)}`;
  const cloth = `{for: shell, width: ${60 + roll(120)}.${roll(10)}, nap: ${nap}, faces: ${roll(3) > 0 ? 'one' : 'both'}, gap: ${gap}, ends: [${roll(3)}, ${roll(4)}.5], length: ${length}}`;
  return `title: T\nunits: ${roll(5) > 0 ? 'cm' : 'in'}\ndrawn: net\npieces:\n${pieces.join('\n')}\ncloths:\n  c: ${cloth}\n`;
}

test('sixteen random lists', async () => {
  let planned = 0;
  const methods = new Map<string, number>();
  for (let seed = 1; seed <= 16; seed++) {
    const text = randomList(seed * 7_919);
    const answer = await planCutList('t.yaml', text, { ...plainOptions, seed }, plainTools());
    if (answer.kind === 'faults') continue;
    for (const [i, output] of answer.outputs.entries()) {
      if (output === null) continue;
      const checked = checkLayFile('t.lay.json', output.layText, [{ file: 't.yaml', text }]);
      expect(checked.ok && checked.value.verdict.refusals, text).toEqual([]);
      expect(checked.ok && checked.value.editedByHand).toBe(false);
      for (const { lay, bound } of answer.plans[i]!.candidates) {
        if (lay === null) continue;
        expect(bound.um, text).toBeLessThanOrEqual(lay.totals.lengthUsed);
        expect(checkLay(lay).refusals, text).toEqual([]);
      }
      planned += 1;
      for (const { method, lay } of answer.plans[i]!.candidates) {
        if (lay !== null) methods.set(method, (methods.get(method) ?? 0) + 1);
      }
    }
  }
  expect(planned).toBeGreaterThan(8);
  for (const method of layNames.filter((name) => name !== 'tube')) {
    expect(methods.get(method) ?? 0, method).toBeGreaterThan(0);
  }
});
