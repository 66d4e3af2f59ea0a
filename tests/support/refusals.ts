/** Tables of damages with the refusal that each must meet. */
import { describe, expect, it } from 'vitest';
import { checkLay } from '../../src/checker/check-lay.js';
import type { Lay } from '../../src/lay/types.js';
import { damaged, type Loose } from './damage.js';

export interface Damage {
  readonly what: string;
  readonly lay: Lay;
  readonly edit: (lay: Loose<Lay>) => void;
  /** All codes of the verdict. */
  readonly codes: readonly string[];
  readonly sentence: string;
}

function expectRefused({ lay, edit, codes, sentence }: Damage): void {
  expect(checkLay(lay)).toEqual({ accepted: true, refusals: [] });
  const verdict = checkLay(damaged(lay, edit));
  expect(verdict.accepted).toBe(false);
  expect({
    sentences: verdict.refusals.map((refusal) => refusal.sentence),
    codes: [...new Set(verdict.refusals.map(({ code }) => code))].sort(),
  }).toEqual({ sentences: expect.arrayContaining([sentence]), codes: [...codes].sort() });
}

/** One test for each damage: its lay is accepted as it stands, and refused with exactly these codes once damaged. */
export function table(name: string, damages: readonly Damage[]): void {
  describe(name, () => {
    it.each(damages)('$what', expectRefused);
  });
}
