/** Cut lists that once ended in a wrong answer, each through the whole of `plan`, its lay read and checked again. */
import { describe, expect, test } from 'vitest';
import { checkLay } from '../../src/checker/check-lay.js';
import { checkLayFile } from '../../src/index.js';
import { recomputeLay } from '../../src/lay/recompute.js';
import type { Lay } from '../../src/lay/types.js';
import { firstLay } from '../support/built-lays.js';
import { lawn, slant } from '../support/cut-pieces.js';
import { damaged } from '../support/damage.js';
import { planText } from '../support/plan.js';

function list(pieces: string, cloth: string): string {
  return `title: T\nunits: cm\ndrawn: cut\npieces:\n${pieces}\ncloths:\n  c: {for: s, ${cloth}}\n`;
}

function rectangle(name: string, along: number, across: number, cut: string): string {
  return `  ${name}: {rectangle: [${along}, ${across}], cut: {s: ${cut}}}`;
}

async function only(text: string, options: Parameters<typeof planText>[1] = {}) {
  const answer = await planText(text, { effort: 0.25, ...options });
  const [plan] = answer.plans;
  for (const { lay, bound } of plan!.candidates) {
    if (lay === null) continue;
    expect(checkLay(lay).refusals).toEqual([]);
    expect(bound.um).toBeLessThanOrEqual(lay.totals.lengthUsed);
  }
  return { plan: plan!, output: answer.outputs[0] ?? null };
}

test('a combination with a stretch that cannot be laid ends', async () => {
  const quad = (name: string, x: number) =>
    `  ${name}: {outline: {A: [0, 0], B: [${x}, 0], C: [${x - 3}, 40], D: [2, 37]}, grain: A-D, cut: {s: 3 pairs}}`;
  const text = list(
    [quad('P', 30), quad('Q', 44), rectangle('W', 20, 160, '1 same way')].join('\n'),
    'width: 150, usable: 148',
  );
  const { plan } = await only(text);
  expect(plan.chosen).toBeNull();
  expect(plan.candidates.every(({ status }) => status === 'does not fit')).toBe(true);
});

describe('a flaw at the beginning', () => {
  const pair = [rectangle('A', 50, 90, '1 same way'), rectangle('B', 50, 91, '1 same way')].join('\n');
  test('moves the lay, and not its bound', async () => {
    const flaws = 'flaws: [{at: [3, 0], size: [20, 100]}]';
    const { plan } = await only(list(pair, `width: 100, usable: 98, method: open, ${flaws}`));
    const { totals } = plan.chosen!.lay!;
    expect(totals.buyParts[0]!.why).toBe('before the first piece');
    expect(totals.buyParts[0]!.um).toBeGreaterThanOrEqual(200_000);
  });

  test('so does the slanted end of a remnant', async () => {
    const remnant = 'length: {outline: [[0, 0], [200, 0], [200, 100], [40, 100]]}';
    const { plan } = await only(list(pair, `width: 100, usable: 98, method: open, ${remnant}`));
    expect(plan.chosen).not.toBeNull();
  });
});

test('what is cut on a crosswise fold finds its room there, whatever else is larger', async () => {
  const half = (name: string, x: number, y: number) =>
    `  ${name}: {outline: {A: [0, ${y}], B: [${x}, ${y}], C: [${x}, 0], D: [0, 0]}, fold: D-A, grain: [[1, 1], [${x - 1}, 1]], cut: {s: 4 on fold}}`;
  const pieces = [rectangle('P', 16, 41, '2 pairs'), half('Q', 5, 13), half('R', 8, 16)].join('\n');
  // 4 x 13 + 4 x 16 = 116 cm of 120 on the fold, so none of the larger pairs (16 cm across) may begin there.
  const { plan } = await only(list(pieces, 'width: 122, usable: 120, method: crosswise fold, grain: free'));
  expect(plan.chosen?.lay?.placements).toHaveLength(10);
});

test('a fold that lies half way between two bars is an axis of the design too', async () => {
  const front =
    '  F: {outline: {A: [0, 0], B: [30, 0], C: [28, 44], D: [0, 60]}, fold: D-A, grain: A-D, cut: {s: 1 on fold}, match: [{point: [11, 12], group: p}]}';
  const pocket =
    '  P: {outline: {A: [0, 0], B: [18, 0], C: [18, 22], D: [0, 22]}, cut: {s: 1 pair}, grain: A-D, match: [{point: [0, 0], group: p}]}';
  // The fold at 75 cm lies on a bar of the second cloth, and half way between two of the first.
  for (const start of [3.75, 0]) {
    const repeat = `repeat: {along: 6, across: 7.5, start: [2, ${start}], mirror: both}`;
    const cloth = `width: 150, usable: 146, ${repeat}, method: lengthwise fold`;
    const { plan } = await only(list([front, pocket].join('\n'), cloth));
    expect(plan.chosen?.lay?.placements, `${start}`).toHaveLength(2);
  }
});

test('a match group has one place in both stretches of a combination', async () => {
  const front =
    '  F: {outline: {A: [0, 0], B: [30, 0], C: [28, 44], D: [0, 60]}, fold: D-A, grain: A-D, cut: {s: 1 on fold}, match: [{point: [11, 12], group: p}]}';
  const patch =
    '  P: {outline: {A: [0, 0], B: [18, 0], C: [14, 22], D: [0, 22]}, cut: {s: 1 same way}, grain: A-D, match: [{point: [0, 0], group: p}]}';
  const repeat = 'repeat: {across: 7.5, start: [0, 3.75], mirror: across}';
  const text = list([front, patch].join('\n'), `width: 150, usable: 146, ${repeat}`);
  const { plan } = await only(text, { method: 'combination' });
  expect(plan.chosen?.lay?.placements).toHaveLength(2);
});

describe('more cut on a crosswise fold than has room along it', () => {
  const half =
    '  Q: {outline: {A: [0, 33], B: [20, 33], C: [20, 0], D: [0, 0]}, fold: D-A, grain: [[1, 1], [19, 1]], cut: {s: 4 on fold}}';
  const pieces = [half, rectangle('R', 40, 30, '4 same way')].join('\n');

  test('takes no effort from the other lay methods', async () => {
    const { plan } = await only(list(pieces, 'width: 122, usable: 120, grain: free'), { effort: 1 });
    const by = (method: string) => plan.candidates.find((candidate) => candidate.method === method);
    expect(by('crosswise fold')!.lay).toBeNull();
    expect(by('crosswise fold')!.effort).toBeLessThanOrEqual(0.25);
    expect(by('open')!.lay).not.toBeNull();
    expect(by('combination')!.lay).not.toBeNull();
  });

  test('is told, with what helps against it', async () => {
    const { output, plan } = await only(list(pieces, 'width: 122, usable: 120, grain: free, method: crosswise fold'));
    expect(plan.chosen).toBeNull();
    expect(output).toBeNull();
    expect(plan.refused).toEqual([
      {
        method: 'crosswise fold',
        why: 'no lay was found in which all that is cut on the fold has room along it, so lay it another way, take wider cloth, or cut fewer copies at a time',
      },
    ]);
  });
});

test('layers and stretches may lie nearer together than they are laid: no bound counts their gap', async () => {
  const cloth = 'width: 150, usable: 148, gap: 0.3, method: crosswise cut and turned';
  const { plan } = await only(list(rectangle('A', 50, 20, '2 same way'), cloth));
  expect(plan.chosen!.bound.um).toBe(1_000_000);
  expect(plan.chosen!.status).toBe('shortest found');
});

test('a length given for cloth that is washed is the length before', async () => {
  const text = list(
    rectangle('A', 192, 20, '1 same way'),
    'width: 100, usable: 98, ends: [0, 0], shrinkage: {along: 4}',
  );
  expect((await only(text, { lengthUm: 1_990_000 })).plan.chosen).toBeNull();
  expect((await only(text, { lengthUm: 2_000_000 })).plan.chosen).not.toBeNull();
});

test('reaching the first bar takes of the cloth at hand', async () => {
  const piece = '  A: {rectangle: [192, 20], cut: {s: 1 same way}, match: [{point: [5, 0], group: bar}]}';
  const cloth = (cm: number) => `width: 100, usable: 98, ends: [0, 0], repeat: {along: 8}, method: open, length: ${cm}`;
  expect((await only(list(piece, cloth(199.9)))).plan.chosen).toBeNull();
  expect((await only(list(piece, cloth(200)))).plan.chosen).not.toBeNull();
});

test('the depth of a fold shrinks with the cloth, and never reaches the middle', async () => {
  const pieces = [rectangle('A', 50, 20, '2 same way'), rectangle('B', 30, 10, '1 same way')].join('\n');
  const cloth = 'width: 100, usable: 98, method: partial fold, fold: 40, shrinkage: {across: 5}';
  const { plan } = await only(list(pieces, cloth));
  expect(plan.chosen!.lay!.stretches[0]!.folds).toEqual([380_000, 0]);
  const { plan: narrow } = await only(list(pieces, 'width: 100, usable: 98, method: partial fold, fold: 49'), {
    widthsUm: [900_000],
  });
  expect(narrow.refused[0]!.why).toMatch(/as deep as half the width/);
});

test('a width of which the crease leaves one half', async () => {
  const pieces = [rectangle('A', 50, 20, '2 same way'), rectangle('B', 30, 10, '1 same way')].join('\n');
  const { plan } = await only(list(pieces, 'width: 150, usable: [74.6, 148], crease: avoid'));
  expect(plan.chosen).not.toBeNull();
});

test('another width has its crease in its own middle', async () => {
  const text = list(rectangle('A', 50, 20, '2 same way'), 'width: 150, usable: 148, crease: avoid, method: open');
  const { plan } = await only(text, { widthsUm: [1_150_000] });
  expect(plan.chosen!.lay!.cloth.flaws[0]!.map(([, y]) => y)).toEqual([570_000, 570_000, 580_000, 580_000]);
});

describe('pieces on the fold on a repeat that is the same mirrored', () => {
  const half = (name: string, x: number, group: string) =>
    `  ${name}: {outline: {A: [0, 0], B: [20, 0], C: [20, 30], D: [0, 30]}, fold: D-A, grain: A-D, cut: {s: 1 on fold}, match: [{point: [${x}, 10], group: ${group}}]}`;
  const cloth = 'width: 150, usable: 148, repeat: {across: 6, mirror: across}';
  test('lie with their fold on a bar or half way between', async () => {
    const { plan } = await only(list(half('A', 3, 'bar'), cloth));
    expect(plan.candidates.map(({ method }) => method)).toContain('lengthwise fold');
  });

  test('two of them may have one on a bar and one between', async () => {
    const { plan } = await only(list([half('A', 3, 'hip'), half('B', 6, 'hip')].join('\n'), cloth));
    expect(plan.chosen).not.toBeNull();
  });

  test('a point that suits neither is told with the distance', async () => {
    const { plan } = await only(list(half('A', 4, 'bar'), cloth));
    expect(plan.refused[0]!.why).toMatch(/the fold of A would lie 1\.00 cm off an axis of the repeat/);
  });
});

test('a lay for two garments of which one cut serves both is read as one for two', async () => {
  const text = list(rectangle('A', 30, 20, '1 same way'), 'width: 150, usable: 148, method: lengthwise fold');
  const { output } = await only(text, { garments: 2 });
  const checked = checkLayFile('t.lay.json', output!.layText, [{ file: 'list.yaml', text }]);
  expect(checked.ok && checked.value.verdict.refusals).toEqual([]);
});

test('a tube that is washed is the same cloth to plan and to check', async () => {
  const text = list(rectangle('A', 30, 20, '2 same way'), 'width: 90.1, method: tube, shrinkage: {across: 3.7}');
  const { output } = await only(text);
  const checked = checkLayFile('t.lay.json', output!.layText, [{ file: 'list.yaml', text }]);
  expect(checked.ok && checked.value.verdict.refusals).toEqual([]);
});

test('layers of cloth cut across stay together when a lay is recomputed', () => {
  const lay = firstLay('crosswise cut and turned', lawn, [slant({ asDrawn: 1, mirrored: 1 })]);
  const moved = damaged(lay, (loose) => {
    for (const copy of loose.copies) copy.at = [copy.at[0] + 10_000, copy.at[1]];
  });
  expect(checkLay(recomputeLay(moved as Lay)).refusals).toEqual([]);
});
