/** What would save cloth, or make it fit: each change tried alone. */
import { describe, expect, it } from 'vitest';
import type { Advice } from '../../src/planning/types.js';
import { planText } from '../support/plan.js';

function list(pieces: string, cloth: string): string {
  return `title: Locker cover\nunits: cm\ndrawn: net\npieces:\n${pieces}\ncloths:\n  duck: {for: duck, ${cloth}}\n`;
}

async function helpFor(pieces: string, cloth: string, advise: boolean): Promise<readonly Advice[] | null> {
  return (await planText(list(pieces, cloth), { advise })).plans[0]!.wouldHelp;
}

function changeOf(help: readonly Advice[] | null, words: RegExp): Advice | undefined {
  return help?.find(({ change }) => words.test(change));
}

const front = `  Front:
    outline: {A: [0, 0], B: [26, 0], C: [26, 60], D: [0, 60]}
    fold: D-A
    grain: A-D
    cut: {duck: 1 on fold}
    allowance: {all: 1, A-B: 4}`;
const band = '  Band: {rectangle: [70, 5], cut: {duck: 1 same way}, allowance: 1}';

describe('where it does not fit', () => {
  it('tells of a seam instead of the fold, with its allowance', async () => {
    // Unfolded 54 cm across; its two halves are 28 each and lie one after the other, 65 long: 130.3 with the gap.
    const help = await helpFor(front, 'width: 50, usable: 48, method: open', false);
    const seam = changeOf(help, /^Front with a seam instead of the fold, 1\.0 cm of allowance added$/);
    expect(seam).toMatchObject({ changesLook: true });
    expect(seam!.lengthUm).toBeCloseTo(1_303_000, -2);
  });

  it('tells of shorter hems, and that they are seen', async () => {
    // 65 cm with its hem of 4, 63 with one of 2; the remnant has 64 between its ends.
    const help = await helpFor(front, 'width: 90, usable: 88, method: open, length: 70', false);
    expect(changeOf(help, /^hems of 2\.0 cm \(Front\)$/)).toEqual({
      change: 'hems of 2.0 cm (Front)',
      changesLook: true,
      lengthUm: 630_000,
      buyUm: 690_000,
    });
  });

  it('tells of a band on the cross grain, and of a piece from other cloth', async () => {
    const help = await helpFor(`${front}\n${band}`, 'width: 120, usable: 118, method: open, length: 74', false);
    expect(changeOf(help, /^Band from other cloth$/)).toMatchObject({ lengthUm: 650_000, changesLook: true });
    expect(changeOf(help, /Front from other cloth/)).toBeUndefined();
    const wide = await helpFor(`${band}`, 'width: 120, usable: 118, method: open, length: 74', false);
    expect(changeOf(wide, /^Band cut on the cross grain$/)).toMatchObject({ lengthUm: 70_000, changesLook: true });
  });

  it('tells of another lay method where one is named', async () => {
    // Of 40 cm one pair lies across the folded cloth, three rows; three lie across the open one, two rows.
    const pieces = '  Side: {rectangle: [40, 40], cut: {duck: 3 pairs}, allowance: 0}';
    const help = await helpFor(pieces, 'width: 126, usable: 122, method: lengthwise fold, length: 90', false);
    const other = changeOf(help, /^another lay method than lengthwise fold/);
    expect(other).toMatchObject({ changesLook: false });
    expect(other!.lengthUm).toBeCloseTo(803_000, -2);
  });
});

it('is not told when it was broken off', async () => {
  let clock = 0;
  const text = list(front, 'width: 90, usable: 88, method: open, length: 70');
  const { plans } = await planText(text, { seconds: 2, effort: 0.1 }, { clock: () => clock++ });
  expect([plans[0]!.chosen, plans[0]!.wouldHelp]).toEqual([null, null]);
});

describe('where it fits', () => {
  const slants = `  Gusset:
    outline: {A: [0, 0], B: [30, 0], C: [0, 50]}
    grain: A-C
    cut: {duck: 2 same way}
    allowance: 0`;

  it('says nothing unless it is asked', async () => {
    expect(await helpFor(slants, 'width: 36, usable: 34, method: open', false)).toBeNull();
  });

  it('tells of turned pieces, and only of what needs less', async () => {
    const help = await helpFor(slants, 'width: 36, usable: 34, method: open, sold-by: 1', true);
    const turned = changeOf(help, /^pieces turned end for end, against the nap$/);
    expect(turned).toMatchObject({ changesLook: true });
    const { plans } = await planText(list(slants, 'width: 36, usable: 34, method: open, sold-by: 1'));
    const now = plans[0]!.chosen!.lay!.totals.buy;
    for (const { buyUm } of help!) expect(buyUm).toBeLessThan(now);
    const looks = help!.map(({ changesLook }) => Number(changesLook));
    expect(looks).toEqual([...looks].sort());
  });
});
