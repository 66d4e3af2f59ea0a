/** What the library promises at its edge: a lay belongs to its cut list, its material and its cloth. */
import { expect, test } from 'vitest';
import { checkLayFile, planCutList } from '../src/index.js';
import { sealLay } from '../src/lay/build.js';
import { writeLay } from '../src/lay/write.js';
import { plainOptions, plainTools, planText } from './support/plan.js';

const list = `title: Oilskin bag
units: cm
drawn: net
pieces:
  Panel: {rectangle: [40, 30], cut: {shell: 1 pair, lining: 1 pair}, allowance: 1}
cloths:
  oilskin: {for: shell, width: 100, usable: 98}
  poplin: {for: lining, width: 100, usable: 98}
`;

async function planned() {
  return (await planText(list, { material: 'lining' })).outputs[0]!;
}

test('a lay is accepted against its own cut list only', async () => {
  const { lay, layText } = await planned();
  const against = (text: string, cutList: string) =>
    checkLayFile('bag.lay.json', text, [{ file: 'bag.yaml', text: cutList }]);
  const own = against(layText, list);
  expect(own.ok && own.value.verdict).toEqual({ accepted: true, refusals: [] });
  const changed = against(layText, list.replace('[40, 30]', '[40, 31]'));
  expect(changed.ok && changed.value.verdict.accepted).toBe(false);
  // The poplin is offered for the lining, not for the shell.
  const other = against(writeLay(sealLay({ ...lay, material: 'shell' })), list);
  expect(other.ok ? [] : other.faults.map(({ code }) => code)).toEqual(['other-cut-list']);
});

test('against quite another cut list it is told whose it is, also where that one has no cloths', async () => {
  const { layText } = await planned();
  const told = (cutList: string) => {
    const checked = checkLayFile('bag.lay.json', layText, [{ file: 'cap.yaml', text: cutList }]);
    return checked.ok ? [] : checked.faults.map(({ code, what }) => `${code}: ${what}`);
  };
  const withoutCloths = list.slice(0, list.indexOf('cloths:'));
  const others = 'other-cut-list: the lay was made from another cut list, "Oilskin bag", and this one is "Cap"';
  expect(told(withoutCloths.replace('Oilskin bag', 'Cap'))).toEqual([others]);
  expect(told(list.replace('Oilskin bag', 'Cap').replaceAll('lining', 'facing'))).toEqual([others]);
  const state = 'other-cut-list: the lay was made from another cut list, or another state of it: this one has';
  expect(told(withoutCloths)).toEqual([`${state} no cloths`]);
  expect(told(list.replaceAll('lining', 'facing'))).toEqual([
    `${state} no material "lining" with a cloth "poplin" for it`,
  ]);
});

test('a run that is interrupted says so, one that spent its effort does not', async () => {
  const wide = list.replace('[40, 30]', '[40, 23.7]').replace('1 pair, lining', '7 pairs, lining');
  const statusOf = async (interrupted: () => boolean, seconds: number | null) => {
    const options = { material: 'shell', method: 'open' as const, effort: 0.5, seconds };
    return (await planText(wide, options, { clock: () => 5, interrupted })).outputs[0]?.lay.status;
  };
  let asked = 0;
  expect(await statusOf(() => ++asked > 1, null)).toBe('interrupted');
  expect(await statusOf(() => false, 0)).toBe('shortest found');
});

test('a width for the run needs to know for which cloth', async () => {
  const wish = { ...plainOptions, widthsUm: [900_000] };
  const several = await planCutList('bag.yaml', list, wish, plainTools());
  expect(several.kind === 'faults' ? several.faults.map(({ code }) => code) : []).toEqual(['which-cloth']);
  const one = await planText(list, { ...wish, cloth: 'poplin' });
  expect(one.plans[0]!.notices.map(({ code }) => code)).toEqual(['usable-assumed']);
});
