/** What the library promises at its edge: a lay belongs to its cut list, its material and its cloth. */
import { expect, test } from 'vitest';
import { sameThreadExecutor } from '../src/engine/same-thread.js';
import { checkLayFile, planCutList } from '../src/index.js';
import { sealLay } from '../src/lay/build.js';
import { writeLay } from '../src/lay/write.js';

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
  const options = { material: 'lining', cloth: null, widthUm: null, lengthUm: null, nap: null, method: null };
  const tools = {
    executor: sameThreadExecutor(),
    clock: () => 0,
    interrupted: () => false,
    onProgress: () => undefined,
  };
  const answer = await planCutList(
    'bag.yaml',
    list,
    { ...options, effort: 0.25, seconds: null, seed: 1, page: 'a4' },
    tools,
  );
  if (answer.kind === 'faults') throw new Error('faults');
  return answer.outputs[0]!;
}

test('a lay is accepted against its own cut list only', async () => {
  const { lay, layText } = await planned();
  const against = (text: string, cutList: string) =>
    checkLayFile('bag.lay.json', text, { file: 'bag.yaml', text: cutList });
  const own = against(layText, list);
  expect(own.ok && own.value.verdict).toEqual({ accepted: true, refusals: [] });
  const changed = against(layText, list.replace('[40, 30]', '[40, 31]'));
  expect(changed.ok && changed.value.verdict.accepted).toBe(false);
  // The poplin is offered for the lining, not for the shell.
  const other = against(writeLay(sealLay({ ...lay, material: 'shell' })), list);
  expect(other.ok ? [] : other.faults.map(({ code }) => code)).toEqual(['other-cut-list']);
});

test('a run that is interrupted says so, one that spent its effort does not', async () => {
  const options = { material: 'shell', cloth: null, widthUm: null, lengthUm: null, nap: null, method: 'open' as const };
  const statusOf = async (interrupted: () => boolean, seconds: number | null) => {
    const wide = list.replace('[40, 30]', '[40, 23.7]').replace('1 pair, lining', '7 pairs, lining');
    const tools = { executor: sameThreadExecutor(), clock: () => 5, interrupted, onProgress: () => undefined };
    const answer = await planCutList(
      'bag.yaml',
      wide,
      { ...options, effort: 0.5, seconds, seed: 1, page: 'a4' },
      tools,
    );
    if (answer.kind === 'faults') throw new Error('faults');
    return { status: answer.outputs[0]?.lay.status };
  };
  let asked = 0;
  expect((await statusOf(() => ++asked > 1, null)).status).toBe('interrupted');
  expect((await statusOf(() => false, 0)).status).toBe('shortest found');
});

test('a width for the run needs to know for which cloth', async () => {
  const options = { material: null, cloth: null, widthUm: 900_000, lengthUm: null, nap: null, method: null };
  const tools = {
    executor: sameThreadExecutor(),
    clock: () => 0,
    interrupted: () => false,
    onProgress: () => undefined,
  };
  const plan = (cloth: string | null) =>
    planCutList('bag.yaml', list, { ...options, cloth, effort: 0.25, seconds: null, seed: 1, page: 'a4' }, tools);
  const several = await plan(null);
  expect(several.kind === 'faults' ? several.faults.map(({ code }) => code) : []).toEqual(['which-cloth']);
  const one = await plan('poplin');
  expect(one.kind === 'planned' ? one.plans[0]!.notices.map(({ code }) => code) : []).toEqual(['usable-assumed']);
});
