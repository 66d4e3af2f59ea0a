/** `--keep` through the library: real cut lists, lays edited by hand, and every reason why one cannot be gone on with. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { checkLay } from '../../src/checker/check-lay.js';
import { type CutListSource, type PlanAnswer, type PlanOptions, planCutLists } from '../../src/index.js';
import type { Lay, Placement } from '../../src/lay/types.js';
import { writeLay } from '../../src/lay/write.js';
import type { Loose } from '../support/damage.js';
import { type Planned, plainOptions, plainTools } from '../support/plan.js';

async function answerTo(
  lists: readonly CutListSource[],
  options: Partial<PlanOptions>,
  kept: Lay | null,
): Promise<PlanAnswer> {
  const source = kept === null ? null : { file: 'k.lay.json', text: writeLay(kept), ownName: null };
  return planCutLists(lists, { ...plainOptions, ...options }, plainTools(), source);
}

async function planned(
  lists: readonly CutListSource[],
  options: Partial<PlanOptions> = {},
  kept: Lay | null = null,
): Promise<Planned> {
  const answer = await answerTo(lists, options, kept);
  if (answer.kind === 'faults') throw new Error(answer.faults.map(({ what }) => what).join('\n'));
  return answer;
}

async function layOf(...asked: Parameters<typeof planned>): Promise<Lay> {
  const { outputs } = await planned(...asked);
  return outputs[0]!.lay;
}

async function faultsOf(...asked: Parameters<typeof answerTo>) {
  const answer = await answerTo(...asked);
  return answer.kind === 'faults' ? answer.faults : [];
}

/** Edits a lay as a hand does; nothing is recomputed. */
function edited(lay: Lay, edit: (lay: Loose<Lay>) => void): Lay {
  const loose = JSON.parse(JSON.stringify(lay)) as Loose<Lay>;
  edit(loose);
  return loose as Lay;
}

function pin(lay: Lay, isMeant: (placement: Placement) => boolean): Lay {
  return edited(lay, ({ placements }) => {
    for (const placement of placements) placement.pinned = isMeant(placement as Placement);
  });
}

/** Every pinned placement with its copies, without numbers. */
function pinned({ placements, copies }: Lay) {
  return placements
    .filter((placement) => placement.pinned)
    .map(({ piece, garment, copies: own }) => {
      const lying = own.map((n) => ({ ...copies.find((copy) => copy.n === n)!, n: 0 }));
      return { piece, garment, lying };
    })
    .sort((a, b) => a.lying[0]!.at[0] - b.lying[0]!.at[0] || a.lying[0]!.at[1] - b.lying[0]!.at[1]);
}

function list(pieces: readonly string[], cloth: string, file = 'list.yaml'): CutListSource {
  const text = `title: ${file}\nunits: cm\ndrawn: cut\npieces:\n${pieces.map((piece) => `  ${piece}\n`).join('')}cloths:\n  ticking: {for: shell, ${cloth}}\n`;
  return { file, text };
}

const flags = [
  'Flag: {outline: {A: [0, 0], B: [30, 0], C: [20, 50]}, grain: [[15, 5], [15, 25]], cut: {shell: 4 same way}}',
  'Band: {rectangle: [60, 8], cut: {shell: 2 same way}}',
];

describe('what is pinned stays, and the rest is laid anew', () => {
  test('on open cloth, moved by hand before', async () => {
    const lists = [list(flags, 'width: 92, usable: 90, method: open')];
    const first = await layOf(lists);
    const last = first.placements.reduce((a, b) => (b.n > a.n ? b : a));
    const kept = edited(
      pin(first, ({ n }) => n === last.n),
      ({ copies }) => {
        const copy = copies.find(({ n }) => n === last.copies[0]!)!;
        copy.at = [copy.at[0] + 123_456, copy.at[1]];
      },
    );
    const lay = await layOf(lists, {}, kept);
    expect(lay.placements.filter((placement) => placement.pinned)).toHaveLength(1);
    const [{ lying }] = pinned(lay) as [ReturnType<typeof pinned>[number]];
    expect(lying[0]!.at).toEqual(kept.copies.find(({ n }) => n === last.copies[0])!.at);
    // No lay ends before it, and here all the rest has room before its end.
    const end = Math.max(...lying[0]!.outline.map(([x]) => x));
    expect(lay.stretches[0]!.to).toBe(end);
    expect(checkLay(lay).refusals).toEqual([]);
  });

  test('on a lengthwise fold: a pair, and a piece on the fold', async () => {
    const file = 'slipway-apron.yaml';
    const text = readFileSync(new URL(`../../fixtures/boatyard/${file}`, import.meta.url), 'utf8');
    const options = { material: 'shell', cloth: 'ticking', method: 'lengthwise fold' as const };
    const first = await layOf([{ file, text }], options);
    const kept = pin(first, ({ piece }) => piece === 'Bib' || piece === 'Rule pocket');
    const answer = await planned([{ file, text }], { ...options, method: null, seed: 2 }, kept);
    const { lay, name } = answer.outputs[0]!;
    expect(lay.stretches[0]).toMatchObject({ method: 'lengthwise fold', folds: first.stretches[0]!.folds });
    expect(pinned(lay)).toEqual(pinned(kept));
    // Only its own material and cloth are planned, under the name they always have.
    expect(answer.plans).toHaveLength(1);
    expect(name).toBe('slipway-apron-shell-ticking');
  });

  test.each([
    ['partial fold', 'width: 120, usable: 118, method: partial fold'],
    ['double fold', 'width: 150, usable: 148, method: double fold'],
    ['tube', 'width: 110, method: tube'],
  ])('on a %s', async (method, cloth) => {
    const pieces = [
      'Front: {rectangle: [50, 22], cut: {shell: 1 pair}}',
      'Pocket: {rectangle: [20, 16], cut: {shell: 1 pair}}',
      ...(method === 'partial fold' ? ['Yoke: {rectangle: [15, 40], cut: {shell: 1}}'] : []),
    ];
    const lists = [list(pieces, cloth)];
    const first = await layOf(lists);
    const kept = pin(first, ({ piece }) => piece !== 'Pocket');
    const lay = await layOf(lists, { seed: 3 }, kept);
    expect(lay.stretches[0]).toMatchObject({ method, folds: first.stretches[0]!.folds });
    expect(pinned(lay)).toEqual(pinned(kept));
  });

  test('where everything is pinned', async () => {
    const lists = [list(flags, 'width: 92, usable: 90, method: open')];
    const first = await layOf(lists);
    const lay = await layOf(
      lists,
      {},
      pin(first, () => true),
    );
    expect(lay.copies).toEqual(first.copies);
    expect(lay.totals.lengthUsed).toBe(first.totals.lengthUsed);
  });

  test('with the nap as it has it: all of the rest is turned too', async () => {
    const lists = [
      list(
        ['Flag: {rectangle: [40, 20], cut: {shell: 3 same way}, notches: [{edge: A-B, at: 5}]}'],
        'width: 62, usable: 60, gap: 0, method: open',
      ),
    ];
    const first = await layOf(lists);
    const kept = edited(
      pin(first, ({ n }) => n === 1),
      ({ copies }) => {
        const xs = copies[0]!.outline.map(([x]) => x);
        const ys = copies[0]!.outline.map(([, y]) => y);
        const [x, y] = copies[0]!.at;
        copies[0]!.turned = 180;
        copies[0]!.at = [Math.min(...xs) + Math.max(...xs) - x, Math.min(...ys) + Math.max(...ys) - y];
      },
    );
    const lay = await layOf(lists, {}, kept);
    expect(lay.copies.map(({ turned }) => turned)).toEqual([180, 180, 180]);
    expect(checkLay(lay).refusals).toEqual([]);
  });

  test('garment by garment, and for more garments than before', async () => {
    const lists = [list(flags, 'width: 92, usable: 90, nap: each-garment, method: open')];
    const first = await layOf(lists, { garments: 2 });
    const kept = pin(first, ({ garment }) => garment === 2);
    const lay = await layOf(lists, { garments: 3, seed: 2 }, kept);
    expect(pinned(lay)).toEqual(pinned(kept));
    expect(lay.copies).toHaveLength(18);
    for (const garment of [1, 2, 3]) {
      expect(lay.placements.filter((placement) => placement.garment === garment)).toHaveLength(6);
    }
  });

  const matched = 'Flag: {rectangle: [40, 20], cut: {shell: 3 same way}, match: [{point: [10, 0], group: hem}]}';

  test('beside flaws, on a repeat whose bars were measured', async () => {
    const flaws = 'flaws: [{at: [10, 20], size: [5, 5]}]';
    const cloth = `width: 62, usable: 60, method: open, repeat: {along: 12, start: [4, 0]}, ${flaws}`;
    const lists = [list([matched, flags[1]!], cloth)];
    const kept = pin(await layOf(lists), ({ piece, n }) => piece === 'Flag' && n > 1);
    expect(pinned(await layOf(lists, { seed: 2 }, kept))).toEqual(pinned(kept));
  });

  test('on a repeat', async () => {
    const lists = [list([matched, flags[1]!], 'width: 62, usable: 60, method: open, repeat: {along: 12}')];
    const first = await layOf(lists);
    const kept = pin(first, ({ piece, n }) => piece === 'Flag' && n > 1);
    const lay = await layOf(lists, { seed: 2 }, kept);
    expect(pinned(lay)).toEqual(pinned(kept));
    expect(lay.stretches[0]!.barAt).toEqual(first.stretches[0]!.barAt);
    expect(lay.totals.buyParts.map(({ why }) => why)).toContain('reaching the first bar');
    // Off the places of the rest: legal by itself, and said to be where it cannot stay.
    const { n: moved } = first.placements.find(({ piece }) => piece === 'Flag')!;
    const isMoved = ({ n }: Placement) => n === moved;
    const off = edited(pin(first, isMoved), ({ copies }) => {
      const [x, y] = copies[moved - 1]!.at;
      copies[moved - 1]!.at = [x + 410_000, y];
    });
    const { plans } = await planned(lists, {}, off);
    expect(plans[0]!.chosen).toBeNull();
    expect(plans[0]!.refused[0]!.why).toMatch(/^Flag, pinned in placement \d, is matched, and lies on another place/);
  });

  test('of several cut lists', async () => {
    const lists = [
      list(flags, 'width: 92, usable: 90, method: open', 'a.yaml'),
      list(flags.slice(0, 1), 'width: 92, usable: 90, method: open', 'b.yaml'),
    ];
    const first = await layOf(lists);
    const kept = pin(first, ({ garment, piece }) => garment === 2 || piece === 'Band');
    const lay = await layOf(lists, { seed: 2 }, kept);
    expect(pinned(lay)).toEqual(pinned(kept));
    expect(lay.placements).toHaveLength(first.placements.length);
  });
});

describe('a lay that cannot be gone on with', () => {
  const lists = [list(flags, 'width: 92, usable: 90, method: open')];
  const first = layOf(lists);

  test('nothing is pinned in it', async () => {
    const [fault] = await faultsOf(lists, {}, await first);
    expect(fault).toMatchObject({ code: 'nothing-pinned', place: { file: 'k.lay.json' } });
    expect(fault!.fix).toContain('"pinned": true');
  });

  test('it is of something else', async () => {
    const kept = pin(await first, () => true);
    const other = [list(flags, 'width: 93, usable: 90, method: open')];
    const faults = await faultsOf(other, {}, kept);
    expect(faults.map(({ code }) => code)).toEqual(['kept-differs']);
    expect(faults[0]!.what).toBe('the cut list was changed after the lay was made, or is another of the same title');
    const what = async (sources: typeof lists, options: Partial<PlanOptions> = {}, lay = kept) => {
      const [fault, ...more] = await faultsOf(sources, options, lay);
      expect({ code: fault!.code, more }).toEqual({ code: 'kept-differs', more: [] });
      return fault!.what;
    };
    expect(await what([list(flags, 'width: 92, usable: 90, method: open', 'other.yaml')])).toBe(
      'it was made from the cut list "list.yaml", and this plan is of "other.yaml"',
    );
    expect(await what(lists, { widthsUm: [1_000_000] })).toBe(
      'it is laid on ticking, 92 cm wide, and this plan is for ticking, 100 cm wide',
    );
    expect(await what(lists, { lengthUm: 4_000_000 })).toBe(
      'it is laid on ticking, 92 cm wide, and this plan is for ticking, 92 cm wide, 400 cm at hand',
    );
    expect(await what(lists, { nap: 'none' })).toBe(
      'its cloth is taken with nap "one-way", and in this plan with "none"',
    );
    const relabelled = edited(kept, (lay) => {
      for (const piece of lay.pieces) piece.label = 'by hand';
    });
    expect(await what(lists, {}, relabelled)).toMatch(
      /^it was planned from something else: piece "\w+" differs from the cut list: label .*; and 1 more such$/,
    );
    const renamed = edited(kept, (lay) => {
      lay.material = 'lining';
    });
    expect((await faultsOf(lists, {}, renamed))[0]).toMatchObject({
      code: 'kept-differs',
      what: 'it is a lay of lining on ticking, and that is not planned here',
    });
  });

  test('it is of other cut lists, of another order of them, or for other numbers of garments', async () => {
    const cloth = 'width: 92, usable: 90, method: open';
    const [a, b, c] = ['a', 'b', 'c'].map((name) => list(flags.slice(1), cloth, `${name}.yaml`)) as [
      CutListSource,
      CutListSource,
      CutListSource,
    ];
    const kept = pin(await layOf([a, b]), ({ n }) => n === 1);
    const what = async (...sources: CutListSource[]) => {
      const [fault, ...more] = await faultsOf(sources, {}, kept);
      expect({ code: fault!.code, more }).toEqual({ code: 'kept-differs', more: [] });
      return fault!.what;
    };
    expect(await what(a)).toBe('it was made from 2 cut lists, "a.yaml" and "b.yaml", and this plan has 1');
    expect(await what(a, b, c)).toBe('it was made from 2 cut lists, "a.yaml" and "b.yaml", and this plan has 3');
    expect(await what(a, c)).toBe('it was made from "a.yaml" and "b.yaml", and this plan is of "a.yaml" and "c.yaml"');
    expect(await what(b, a)).toBe(
      'the order of the cut lists is another: the lay has "a.yaml" and "b.yaml", this plan "b.yaml" and "a.yaml"',
    );
    expect(await what({ ...a, garments: 2 }, b)).toBe('it is for 1 garment of "a.yaml", and this plan for 2');
    expect(await what(a, { ...b, text: b.text.replace('[60, 8]', '[60, 9]') })).toBe(
      'the cut list "b.yaml" was changed after the lay was made, or is another of the same name',
    );
    const single = pin(await layOf([a]), ({ n }) => n === 1);
    expect((await faultsOf([a, b], {}, single))[0]!.what).toBe('it was made from 1 cut list, and this plan has 2');
  });

  test('what is pinned is not legal by itself', async () => {
    const kept = edited(
      pin(await first, ({ n }) => n < 3),
      ({ copies }) => {
        copies[1]!.at = [copies[0]!.at[0] + 1_000, copies[0]!.at[1] + 1_000];
      },
    );
    const faults = await faultsOf(lists, {}, kept);
    expect(faults[0]).toMatchObject({ code: 'kept-refused' });
    expect(faults[0]!.what).toMatch(/^copy 1 \(\w+\) reaches .* into copy 2 \(\w+\)/);
    const twice = edited(await first, ({ placements, copies }) => {
      for (const placement of placements) placement.pinned = true;
      const { piece } = placements[0]!;
      const n = copies.length + 1;
      const far = { ...copies[0]!, n, at: [copies[0]!.at[0] + 3_000_000, copies[0]!.at[1]] as [number, number] };
      copies.push(far);
      placements.push({ ...placements[0]!, n, piece, copies: [n] });
    });
    expect((await faultsOf(lists, {}, twice)).map(({ what }) => what).join('\n')).toMatch(
      /1 copy of piece "\w+" too many/,
    );
  });

  test('its cloth lies in a way that depends on its length', async () => {
    const turned = ['Flag: {rectangle: [40, 20], cut: {shell: 2 pairs}}'];
    const crosswise = [list(turned, 'width: 62, usable: 60, method: crosswise cut and turned')];
    const kept = pin(await layOf(crosswise), ({ n }) => n === 1);
    const [fault] = await faultsOf(crosswise, {}, kept);
    expect(fault).toMatchObject({ code: 'kept-method', fix: expect.stringContaining('--method open') });
  });

  test('--method asks for another than it is laid by', async () => {
    const kept = pin(await first, ({ n }) => n === 1);
    const [fault] = await faultsOf(lists, { method: 'lengthwise fold' }, kept);
    expect(fault!.what).toBe('it is laid by the method open, and --method says lengthwise fold');
  });
});
