import { beforeAll, describe, expect, test } from 'vitest';
import { runCli } from '../../src/cli/run.js';
import type { Lay } from '../../src/lay/types.js';
import { type FakeWorld, fakeWorld } from './fake-world.js';
import { bag } from './scenes.js';

/** A lay as `plan` writes it. */
let layText: string;
let planned: FakeWorld;
beforeAll(async () => {
  planned = fakeWorld({ 'bag.yaml': bag });
  await runCli(['plan', 'bag.yaml', '--effort', '0.1', '--method', 'open', '--quiet'], planned);
  layText = Buffer.from(planned.files.get('lays/bag-canvas.lay.json')!).toString('utf8');
});

const name = 'lays/bag-canvas.lay.json';
const textOf = (world: FakeWorld, path: string) => Buffer.from(world.files.get(path)!).toString('utf8');

/** The lay with one copy moved by hand: the first, or the one that lies nearest to the far end. */
function moved(which: 'first' | 'last', [alongUm, acrossUm]: readonly [number, number]): string {
  const lay = JSON.parse(layText) as Lay;
  const last = lay.copies.reduce((a, b) => (b.outline[0]![0] > a.outline[0]![0] ? b : a));
  const { n } = which === 'first' ? lay.copies[0]! : last;
  return JSON.stringify({
    ...lay,
    copies: lay.copies.map((copy) =>
      copy.n === n ? { ...copy, at: [copy.at[0] + alongUm, copy.at[1] + acrossUm] } : copy,
    ),
  });
}

async function print(files: Readonly<Record<string, string>>, ...words: string[]) {
  const world = fakeWorld(files);
  const code = await runCli(['print', ...words], world);
  const written = [...world.files.keys()].filter((path) => !(path in files));
  return { world, code, written };
}

describe('print of a lay', () => {
  test.each([
    ['plan', 'pdf', '%PDF-'],
    ['plan', 'svg', '<?xml'],
    ['chalk', 'pdf', '%PDF-'],
    ['chalk', 'svg', '<?xml'],
    ['chalk', 'csv', 'numbe'],
  ])('%s as %s, from the lay file alone, beside it', async (what, format, begins) => {
    const { world, code, written } = await print({ [name]: layText }, name, '--what', what, '--format', format);
    expect(code).toBe(0);
    expect(written).toEqual([`lays/bag-canvas-${what}.${format}`]);
    expect(Buffer.from(world.files.get(written[0]!)!).toString('latin1').slice(0, 5)).toBe(begins);
    expect(world.outText()).toContain('of 4 placements');
    expect(world.outText()).toContain(`written: ${written[0]}`);
  });

  test('the plan is the one that plan wrote, and the same each time', async () => {
    const { world } = await print({ [name]: layText }, name, '--what', 'plan');
    expect(world.files.get('lays/bag-canvas-plan.pdf')).toEqual(planned.files.get('lays/bag-canvas.pdf'));
  });

  test('from the wrong side, on other paper, in inches, into another folder', async () => {
    const options = ['--wrong-side', '--sheet', 'A3', '--units', 'in', '--out', 'paper', '--format', 'svg'];
    const plan = await print({ [name]: layText }, name, '--what', 'plan', ...options);
    expect(plan.written).toEqual(['paper/bag-canvas-plan-wrong-side.svg']);
    const svg = textOf(plan.world, plan.written[0]!);
    expect(svg).toContain('width="297mm"');
    expect(svg).toContain('seen from the wrong side of the cloth: left and right are swapped');
    expect(svg).toContain('in inches');
    expect(plan.world.outText()).toContain('(a3), seen from the wrong side of the cloth');
    const csv = await print(
      { [name]: layText },
      name,
      '--what',
      'chalk',
      '--wrong-side',
      '--units',
      'in',
      '--format',
      'csv',
    );
    expect(csv.written).toEqual(['lays/bag-canvas-chalk-wrong-side.csv']);
    const text = textOf(csv.world, csv.written[0]!);
    expect(text).toContain('grain foot from cut end (in)');
    expect(text).toContain(',down,far end,');
  });

  test('a lay edited by hand prints its new places, and says so; one that is refused prints nothing', async () => {
    const edited = moved('last', [10_000, 0]);
    const before = await print({ [name]: layText }, name, '--what', 'chalk', '--format', 'csv');
    const after = await print({ [name]: edited }, name, '--what', 'chalk', '--format', 'csv');
    expect(after.code).toBe(0);
    const rows = (printed: typeof before) => textOf(printed.world, printed.written[0]!).split('\r\n').sort();
    const changed = rows(after).filter((row) => !rows(before).includes(row));
    expect(changed).toHaveLength(1);
    const drawn = await print({ [name]: edited }, name, '--what', 'chalk', '--format', 'svg');
    expect(textOf(drawn.world, drawn.written[0]!)).toContain('edited by hand');
    expect(textOf(drawn.world, name)).toBe(edited);

    for (const what of ['plan', 'chalk']) {
      const refused = await print({ [name]: moved('first', [0, 2_000_000]) }, name, '--what', what);
      expect(refused.code).toBe(1);
      expect(refused.written).toEqual([]);
      expect(refused.world.outText()).toContain(`refused, so nothing is printed: ${name}`);
      expect(refused.world.outText()).toMatch(/ {2}- .+ \[[a-z-]+\]\n/);
    }
  });

  test.each([
    [['--what', 'plan', '--format', 'csv'], '--format csv: it goes with --what chalk'],
    [['--what', 'plan', '--format', 'dxf'], '--format dxf: it goes with --what marker or pieces'],
    [['--what', 'chalk', '--format', 'dxf'], '--format dxf: it goes with --what marker or pieces'],
    [['--what', 'pieces', '--format', 'csv'], '--format csv: it goes with --what chalk'],
    [['--what', 'chalk', '--format', 'png'], '--format: found "png"'],
    [['--what', 'chalk', '--sheet', 'roll:90'], '--sheet: found "roll:90"'],
    [['--what', 'chalk', '--units', 'ells'], '--units: found "ells"'],
    [['--what', 'chalk', '--out', ''], '--out: found ""'],
    [['--what', 'pieces', '--units', 'cm'], '--units: it goes with what is printed of a lay'],
    [['--what', 'list'], '--what: found "list"'],
    [[], '--what is missing'],
  ])('%j is a fault of usage', async (words, said) => {
    const { world, code, written } = await print({ [name]: layText }, name, ...words);
    expect(code).toBe(2);
    expect(world.errText()).toContain(said);
    expect(written).toEqual([]);
  });

  test('what is no lay, is not there or cannot be written is told', async () => {
    const list = await print({ 'bag.yaml': bag }, 'bag.yaml', '--what', 'plan');
    expect(list.code).toBe(2);
    expect(list.world.errText()).toContain('[file-no-lay]');
    const pieces = await print({ [name]: layText }, name, '--what', 'pieces');
    expect([pieces.code, pieces.world.errText().match(/\[[a-z-]+\]/g)]).toEqual([2, ['[file-is-lay]']]);
    const none = await print({}, 'a.lay.json', '--what', 'chalk');
    expect([none.code, none.world.errText().includes('[file-missing]')]).toEqual([2, true]);
    const spoilt = await print({ [name]: layText.slice(0, -20) }, name, '--what', 'chalk');
    expect(spoilt.code).toBe(2);
    const inTheWay = await print({ [name]: layText, paper: 'a file' }, name, '--what', 'chalk', '--out', 'paper');
    expect([inTheWay.code, inTheWay.written]).toEqual([2, []]);
    const own = await print({ 'x-chalk.csv': layText }, 'x-chalk.csv', '--what', 'chalk', '--format', 'csv');
    expect(own.world.files.has('x-chalk.csv-chalk.csv')).toBe(true);
    const full = fakeWorld({ [name]: layText });
    full.failures.set('makeReady lays/bag-canvas-chalk.pdf', 'ENOSPC');
    expect(await runCli(['print', name, '--what', 'chalk'], full)).toBe(2);
  });
});
