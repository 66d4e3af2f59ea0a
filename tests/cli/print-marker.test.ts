/** `print` of a lay: the marker and the pages for a projector. */
import { describe, expect, test } from 'vitest';
import { runCli } from '../../src/cli/run.js';
import { writeLay } from '../../src/lay/write.js';
import { damaged, moveCopy } from '../support/damage.js';
import { descendants, pathPoints, readXml } from '../support/drawings.js';
import { longLay, openLay, tinyLay } from '../support/sample-lays.js';
import { fakeWorld } from './fake-world.js';

const file = 'lays/apron-shell.lay.json';
const text = writeLay(openLay);

const print = async (words: readonly string[], lay = text) => {
  const world = fakeWorld({ [file]: lay });
  const code = await runCli(['print', file, ...words], world);
  return { world, code };
};

/** The first point of a placement's cutting line, in millimetres. */
function cornerOf(svg: Uint8Array, n: number): readonly [number, number] {
  const all = descendants(readXml(Buffer.from(svg).toString('utf8')));
  const group = all.find(({ attributes }) => attributes.get('id') === `placement-${n}`)!;
  const cutting = group.children.find(({ attributes }) => attributes.get('class') === 'cutting')!;
  return pathPoints(cutting.attributes.get('d')!)[0]!;
}

describe('a lay', () => {
  test.each([
    ['marker', 'pdf', '%PDF-'],
    ['marker', 'svg', '<?xml'],
    ['marker', 'dxf', '  0\nS'],
    ['projector', 'pdf', '%PDF-'],
    ['projector', 'svg', '<?xml'],
  ])('--what %s --format %s lies beside it', async (what, format, begins) => {
    const { world, code } = await print(['--what', what, '--format', format]);
    expect(code).toBe(0);
    const bytes = world.files.get(`lays/apron-shell-${what}.${format}`)!;
    expect(Buffer.from(bytes).toString('latin1').slice(0, 5)).toBe(begins);
    expect(world.outText()).toContain(`${what} of ${openLay.placements.length} placements at true size`);
    expect(world.outText().includes('measure a test square')).toBe(what === 'marker' && format === 'pdf');
    expect(Buffer.from(world.files.get(file)!).toString()).toBe(text);
  });

  test('on other sheets, into another folder', async () => {
    const { world, code } = await print(['--what', 'marker', '--sheet', 'roll:160', '--out', 'paper']);
    expect(code).toBe(0);
    expect([...world.files.keys()]).toContain('paper/apron-shell-marker.pdf');
    expect(world.outText()).toContain('2 sheets (roll:160)');
  });

  test.each([
    ['a4', longLay, true],
    ['A4', longLay, true],
    ['letter', longLay, true],
    ['a4', tinyLay, false],
    ['a0', longLay, false],
    ['roll:20x20', longLay, false],
  ])('on %s: of many sheets it tells of larger paper', async (sheet, lay, isTold) => {
    const { world, code } = await print(['--what', 'marker', '--sheet', sheet], writeLay(lay));
    expect(code).toBe(0);
    const [, sheets] = / (\d+) sheets? /.exec(world.outText())!;
    if (lay === longLay && sheet !== 'a0') expect(Number(sheets)).toBeGreaterThan(40);
    const hint = `${sheets} sheets are many to join: --sheet roll:90 (paper from a roll, here 90 cm wide) or --sheet a0 makes them fewer\n`;
    expect(world.outText().includes(hint)).toBe(isTold);
    expect(world.outText().includes('many to join')).toBe(isTold);
  });

  test('moved by hand it is printed at its new place, also before check --write has been asked', async () => {
    const moved = JSON.parse(text);
    // Away from its neighbours, towards the far end.
    const last = moved.copies.at(-1);
    last.at = [last.at[0] + 1_000, last.at[1]];
    const before = cornerOf(
      (await print(['--what', 'marker', '--format', 'svg'])).world.files.get('lays/apron-shell-marker.svg')!,
      openLay.placements.at(-1)!.n,
    );
    const edited = JSON.stringify(moved);
    const { world, code } = await print(['--what', 'marker', '--format', 'svg'], edited);
    expect([code, world.outText()]).toEqual([0, expect.stringContaining('written')]);
    const after = cornerOf(world.files.get('lays/apron-shell-marker.svg')!, openLay.placements.at(-1)!.n);
    expect(after[0]).toBeCloseTo(before[0], 6);
    expect(after[1]).toBeCloseTo(before[1] + 1, 3);
    expect(await runCli(['check', file, '--write'], world)).toBe(0);
    const written = await runCli(['print', file, '--what', 'marker', '--format', 'svg'], world);
    expect(written).toBe(0);
    expect(cornerOf(world.files.get('lays/apron-shell-marker.svg')!, openLay.placements.at(-1)!.n)).toEqual(after);
  });

  test('refused by the checker, nothing is printed', async () => {
    const overlapping = writeLay(damaged(openLay, (lay) => moveCopy(lay, 1, 0, -40_000)));
    for (const format of ['pdf', 'svg', 'dxf']) {
      const { world, code } = await print(['--what', 'marker', '--format', format], overlapping);
      expect(code).toBe(1);
      expect(world.outText()).toContain(`refused, so nothing is printed: ${file}`);
      expect([...world.files.keys()]).toEqual([file]);
    }
  });
});

test.each([
  ['title: a cut list\n', 'it is no lay file'],
  ['{"format": "shortlay-lay/1"}', 'has no "'],
])('%j is no lay to print', async (lay, said) => {
  const { world, code } = await print(['--what', 'marker'], lay);
  expect(code).toBe(2);
  expect(world.errText()).toContain(said);
  expect([...world.files.keys()]).toEqual([file]);
});

test.each([
  [['--what', 'projector', '--format', 'dxf'], 'a projector shows pdf or svg'],
  [['--what', 'marker', '--format', 'csv'], '--format csv: it goes with --what chalk'],
])('%j is refused', async (words, said) => {
  const { world, code } = await print(words);
  expect(code).toBe(2);
  expect(world.errText()).toContain(said);
});

test('from the wrong side it is another drawing, says so, and is named for it', async () => {
  const { world, code } = await print(['--what', 'marker', '--format', 'svg', '--wrong-side']);
  expect(code).toBe(0);
  expect(world.outText()).toContain('seen from the wrong side of the cloth');
  const right = (await print(['--what', 'marker', '--format', 'svg'])).world;
  const own = (files: ReadonlyMap<string, Uint8Array | string>, ending: string) =>
    [...files].find(([name]) => name.endsWith(ending))!;
  const [name, bytes] = own(world.files, '.svg');
  expect(name).toMatch(/-marker-wrong-side\.svg$/);
  expect(Buffer.from(bytes)).not.toEqual(Buffer.from(own(right.files, '.svg')[1]));
});
