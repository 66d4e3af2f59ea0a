/** Several cut lists in one lay, through the library: whose garment is whose, names, cloths, and the check against them. */
import { describe, expect, test } from 'vitest';
import { type CutListSource, checkLayFile, type PlanOptions, planCutLists } from '../../src/index.js';
import { readLay } from '../../src/lay/read.js';
import { writeLay } from '../../src/lay/write.js';
import { reportJson } from '../../src/report/json.js';
import { reportText } from '../../src/report/text.js';
import { type Planned, plainOptions, plainTools } from '../support/plan.js';

const cloth = '  ticking: {for: shell, width: 150, usable: 148, nap: each-garment, method: open}\n';

function listText(title: string, pieces: readonly string[], cloths = cloth): string {
  const below = cloths === '' ? '' : `cloths:\n${cloths}`;
  return `title: ${title}\nunits: cm\ndrawn: cut\npieces:\n${pieces.map((piece) => `  ${piece}\n`).join('')}${below}`;
}

function piece(name: string, along: number, across: number, cut: string, more = ''): string {
  return `${name}: {rectangle: [${along}, ${across}], cut: ${cut}${more}}`;
}

const apron: CutListSource = {
  file: 'boats/apron.yaml',
  text: listText('Apron', [piece('Bib', 70, 50, '{shell: 1}'), piece('Pocket', 20, 18, '{shell: 1 pair}')]),
  garments: 2,
};
const bag: CutListSource = {
  file: 'bag.yaml',
  text: listText('Oar bag', [piece('Pocket', 30, 25, '{shell: 2 same way}'), piece('Base', 40, 15, '{shell: 1}')], ''),
};

async function plan(sources: readonly CutListSource[], options: Partial<PlanOptions> = {}): Promise<Planned> {
  const answer = await planCutLists(sources, { ...plainOptions, ...options }, plainTools());
  if (answer.kind === 'faults') throw new Error(answer.faults.map(({ what }) => what).join('\n'));
  return answer;
}

async function faultsOf(sources: readonly CutListSource[], options: Partial<PlanOptions> = {}) {
  const answer = await planCutLists(sources, { ...plainOptions, ...options }, plainTools());
  return answer.kind === 'faults' ? answer.faults : [];
}

const both = plan([apron, bag]);

describe('two cut lists in one lay', () => {
  test('number their garments on, and tell pieces of one name apart', async () => {
    const { outputs, title, units } = await both;
    expect({ title, units, name: outputs[0]!.name }).toEqual({
      title: 'Apron and Oar bag',
      units: 'cm',
      name: 'apron-bag-shell',
    });
    const { lay } = outputs[0]!;
    expect(lay.cutListSha256).toMatchObject([
      { name: 'Apron', garments: [1, 2] },
      { name: 'Oar bag', garments: [3, 3] },
    ]);
    const garmentsOf = (id: string) => {
      const own = lay.placements.filter(({ piece }) => piece === id);
      return own.map(({ garment }) => garment).sort();
    };
    expect(lay.pieces.map(({ id }) => id)).toEqual(['Apron: Pocket', 'Base', 'Bib', 'Oar bag: Pocket']);
    expect(garmentsOf('Apron: Pocket')).toEqual([1, 1, 2, 2]);
    expect(garmentsOf('Bib')).toEqual([1, 2]);
    expect(garmentsOf('Oar bag: Pocket')).toEqual([3, 3]);
    expect(garmentsOf('Base')).toEqual([3]);
    // Nothing but the name is changed.
    expect(lay.pieces[0]!.label).toBe('cut 1 pair');
  });

  test('are multiplied by --garments', async () => {
    const { outputs } = await plan([apron, bag], { garments: 2 });
    expect(outputs[0]!.lay.cutListSha256).toMatchObject([{ garments: [1, 4] }, { garments: [5, 6] }]);
    expect(outputs[0]!.lay.copies).toHaveLength(2 * (2 * 3 + 3));
  });

  test('are told in the report, each with its garments', async () => {
    const answer = await both;
    const text = reportText(answer, { files: [[]] });
    expect(text).toMatch(/\n *for +garments 1 and 2: Apron\n +garment 3: Oar bag\n/);
    const { lays } = JSON.parse(reportJson(answer, { files: [[]], seconds: [null] }));
    expect(lays[0].cutLists).toEqual([
      { name: 'Apron', garments: [1, 2] },
      { name: 'Oar bag', garments: [3, 3] },
    ]);
    expect(answer.outputs[0]!.svg).toContain('garment 3: Oar bag');
    expect(answer.outputs[0]!.svg).toContain('garment 2');
  });

  test('keep the numbers of their garments where only one of them is cut from a material', async () => {
    const lined = `${cloth}  poplin: {for: lining, width: 115, nap: none, method: open}\n`;
    const other = { ...bag, text: listText('Oar bag', [piece('Base', 40, 15, '{shell: 1, lining: 1}')], lined) };
    const bare = { ...apron, text: apron.text.replace(cloth, '').replace('cloths:\n', '') };
    const { outputs } = await plan([bare, other]);
    const lining = outputs.find((output) => output!.lay.material === 'lining')!;
    expect(lining.lay.placements.map(({ garment }) => garment)).toEqual([3]);
    expect(lining.name).toBe('apron-bag-lining');
    const checked = checkLayFile('l.lay.json', lining.layText, [bare, other]);
    expect(checked.ok && checked.value.verdict.refusals).toEqual([]);
  });

  test('have match groups of their own', async () => {
    const striped = cloth.replace('method: open', 'method: open, repeat: {along: 10}');
    const match = ', match: [{point: [5, 5], group: hip}, {point: [5, 15], group: bar}]';
    const text = (title: string) => listText(title, [piece('Front', 30, 20, '{shell: 1}', match)], striped);
    const { outputs } = await plan([
      { file: 'a.yaml', text: text('A') },
      { file: 'b.yaml', text: text('B') },
    ]);
    const groups = outputs[0]!.lay.pieces.flatMap(({ match }) => match.map(({ group }) => group));
    expect(groups).toEqual(['A: hip', 'bar', 'B: hip', 'bar']);
  });

  test('of one title go by the names of their files', async () => {
    const one = { file: 'small.yaml', text: apron.text };
    const { outputs } = await plan([one, { file: 'large.yaml', text: apron.text }]);
    expect(outputs[0]!.lay.pieces.map(({ id }) => id)).toEqual([
      'large: Bib',
      'large: Pocket',
      'small: Bib',
      'small: Pocket',
    ]);
    const same = await plan([one, { file: 'other/small.yaml', text: apron.text }]);
    expect(same.outputs[0]!.lay.pieces[0]!.id).toBe('list 1: Bib');
  });

  test('may lie the other way round garment by garment, where the nap allows that', async () => {
    const wedge = 'Wedge: {outline: {A: [0, 0], B: [70, 0], C: [70, 50], D: [60, 50]}, grain: A-B, cut: {shell: 1}}';
    const text = (title: string) => listText(title, [wedge], cloth.replace('150, usable: 148', '53, usable: 51'));
    const { outputs, plans } = await plan([
      { file: 'a.yaml', text: text('A') },
      { file: 'b.yaml', text: text('B') },
    ]);
    const { lay } = outputs[0]!;
    // Head to foot they interlock: two of 70 cm in less than 140.
    expect(new Set(lay.copies.map(({ turned }) => turned))).toEqual(new Set([0, 180]));
    expect(lay.totals.lengthUsed).toBeLessThan(1_100_000);
    expect(plans[0]!.chosen!.bound.um).toBeLessThanOrEqual(lay.totals.lengthUsed);
  });
});

describe('cloths of several cut lists', () => {
  const other = (cloths: string): CutListSource => ({
    file: 'bag.yaml',
    text: listText('Bag', [piece('Base', 40, 15, '{shell: 1}')], cloths),
  });

  test('serve when all declare them alike, whatever the order of keys', async () => {
    const again = '  ticking: {usable: 148, for: shell, width: 1500 mm, nap: each-garment, method: open}\n';
    expect((await plan([apron, other(again)])).plans[0]!.cloth.cloth.name).toBe('ticking');
  });

  test('that differ are a fault that names both places', async () => {
    const [fault, ...more] = await faultsOf([apron, other(cloth.replace('150', '140').replace('148', '138'))]);
    expect(more).toEqual([]);
    expect(fault).toMatchObject({
      code: 'cloths-disagree',
      place: { file: 'bag.yaml', line: 7 },
      subject: 'cloth "ticking"',
      what: 'it is not the same in boats/apron.yaml:8: width, usable differ',
      fix: 'make the two alike, or remove one of them',
    });
  });

  test('of other names are a fault, unless one is asked for', async () => {
    const drill = '  drill: {for: shell, width: 90, method: open}\n';
    const [fault] = await faultsOf([apron, other(drill)]);
    expect(fault).toMatchObject({ code: 'cloths-disagree', fix: expect.stringContaining('--cloth') });
    expect(fault!.what).toContain('"ticking" (boats/apron.yaml:8)');
    const { plans } = await plan([apron, other(drill)], { cloth: 'drill' });
    expect(plans.map((each) => each.cloth.cloth.name)).toEqual(['drill']);
  });

  test('that nobody declares are a fault; one that nobody needs is a warning', async () => {
    const faults = await faultsOf([{ ...apron, text: apron.text.replace('for: shell', 'for: lining') }, bag]);
    expect(faults.map(({ code }) => code)).toEqual(['no-cloth', 'cloth-unused']);
    const answer = await plan([apron, other('  poplin: {for: lining, width: 115}\n')]);
    expect(answer.notices.map(({ code }) => code)).toContain('cloth-unused');
  });

  test('and all other faults of all lists are told at once', async () => {
    const faults = await faultsOf([
      { ...apron, text: apron.text.replace('70, 50', '70') },
      { ...bag, text: bag.text.replace('30, 25', '-3, 25') },
    ]);
    expect(new Set(faults.map(({ place }) => place!.file))).toEqual(new Set(['bag.yaml', 'boats/apron.yaml']));
  });
});

describe('a lay of several cut lists is checked against them', () => {
  async function refusals(sources: readonly CutListSource[], change = (text: string) => text): Promise<string[]> {
    const { outputs } = await both;
    const checked = checkLayFile('l.lay.json', change(outputs[0]!.layText), sources);
    if (!checked.ok) return checked.faults.map(({ code }) => code);
    return checked.value.verdict.refusals.map(({ sentence }) => sentence);
  }

  test('in any order, without being told how many garments', async () => {
    expect(await refusals([])).toEqual([]);
    expect(await refusals([{ file: apron.file, text: apron.text }, bag])).toEqual([]);
    // Whoever says how many must say it right.
    expect(await refusals([{ ...apron, garments: 1 }, bag])).toEqual(['cut-lists-of-lay']);
    expect(await refusals([bag, apron])).toEqual([]);
  });

  test('one that was changed, one that is missing, one too many', async () => {
    const changed = { ...bag, text: bag.text.replace('[40, 15]', '[40, 16]') };
    expect((await refusals([apron, changed]))[0]).toMatch(
      /another state of it: its "Oar bag" is \w+\.\.\., this one is/,
    );
    expect(await refusals([apron])).toEqual(['cut-lists-of-lay']);
    const third = { file: 'cap.yaml', text: listText('Cap', [piece('Crown', 20, 20, '{shell: 1}')]) };
    expect((await refusals([apron, bag, third]))[0]).toContain('"Cap" is not among its cut lists');
  });

  test('a copy of one list for a garment of the other is found without the lists', async () => {
    const moved = await refusals([], (text) =>
      text.replace('"piece": "Base", "garment": 3', '"piece": "Base", "garment": 2'),
    );
    expect(moved.join('\n')).toMatch(/placement \d \(Base\) is for garment 2; its piece is for garment 3/);
    const fewer = await refusals([], (text) =>
      text.replace('"garments": [1, 2]}, {"name"', '"garments": [1, 1]}, {"name"'),
    );
    expect(fewer.join('\n')).toContain('cut list "Oar bag" has garment 3; its first is 2');
  });

  test('reads and writes as the same file', async () => {
    const { outputs } = await both;
    const read = readLay(outputs[0]!.layText, 'l.lay.json');
    expect(read.ok && writeLay(read.value)).toBe(outputs[0]!.layText);
  });
});
