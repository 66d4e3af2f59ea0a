import { describe, expect, test } from 'vitest';
import { runCli } from '../../src/cli/run.js';
import { fakeWorld } from './fake-world.js';

const flap = `title: Hatch flap
units: cm
drawn: net
pieces:
  Flap:
    outline: {A: [0, 0], B: [20, 0], C: [20, 30], D: [0, 30]}
    curves: {C-D: {arc: [10, 33]}}
    grain: A-D
    cut: {canvas: 1}
    allowance: 1
    measured: {A-B: 20.2}
cloths:
  canvas: {for: canvas, width: 150, usable: 147}
seams:
  - {join: [Flap A-B, Flap B-C]}
`;

test('draw writes SVG and PDF, lists edges and seams, and keeps the cut list', async () => {
  const world = fakeWorld({ 'a.yaml': flap });
  expect(await runCli(['draw', 'a.yaml'], world)).toBe(0);
  expect([...world.files.keys()]).toEqual(['a.yaml', 'lays/a-pieces.svg', 'lays/a-pieces.pdf']);
  expect(Buffer.from(world.files.get('lays/a-pieces.pdf')!).subarray(0, 5).toString()).toBe('%PDF-');
  const lines = world.outText().split('\n');
  expect(lines).toContain('  A-B   20.0 cm   20.2 cm  -0.2 cm');
  expect(lines).toContain('  C-D   21.2 cm');
  expect(lines).toContain('written: lays/a-pieces.svg');
  expect(world.errText()).toContain('[seam-mismatch]');
  expect(await runCli(['draw', 'a.yaml', '--strict'], world)).toBe(1);
});

test('draw refuses a faulty list, a folder that is none and a page size that is none, and writes nothing', async () => {
  const faulty = fakeWorld({ 'a.yaml': flap.replace('A-B: 20.2', 'A-B: 22') });
  expect(await runCli(['draw', 'a.yaml'], faulty)).toBe(2);
  expect(faulty.errText()).toContain('[measured-differs]');
  const inTheWay = fakeWorld({ 'a.yaml': flap, lays: 'a file' });
  expect(await runCli(['draw', 'a.yaml'], inTheWay)).toBe(2);
  const wrong = fakeWorld({ 'a.yaml': flap });
  expect(await runCli(['draw', 'a.yaml', '--page', 'a9'], wrong)).toBe(2);
  for (const world of [faulty, inTheWay, wrong]) {
    expect([...world.files.keys()].filter((path) => path.startsWith('lays/'))).toEqual([]);
  }
});

test('draw, check and plan read the drawings that a cut list names, beside it', async () => {
  const list = `title: Test
units: cm
drawn: cut
pieces:
  Pocket: {svg: {file: paper/pocket.svg}, grain: A-D, cut: {canvas: 1}}
cloths:
  canvas: {for: canvas, width: 150, usable: 147}
`;
  const svg =
    '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="30mm" viewBox="0 0 20 30"><rect width="20" height="30"/></svg>';
  for (const command of ['draw', 'check', 'plan']) {
    const world = fakeWorld({ 'boat/a.yaml': list, 'boat/paper/pocket.svg': svg });
    expect(await runCli([command, 'boat/a.yaml'], world)).toBe(0);
    const without = fakeWorld({ 'boat/a.yaml': list });
    expect(await runCli([command, 'boat/a.yaml'], without)).toBe(2);
    expect(without.errText()).toContain('paper/pocket.svg: there is no such file');
  }
});

test('a cut list without cloths is checked, drawn and printed, and planned only together with another', async () => {
  const list = flap.replace(/cloths:\n.*\n/, '').replace('20.2', '20');
  const world = fakeWorld({ 'a.yaml': list });
  const plain = fakeWorld({ 'a.yaml': list.slice(0, list.indexOf('seams:')) });
  expect(await runCli(['check', 'a.yaml', '--strict'], plain)).toBe(0);
  expect(await runCli(['check', 'a.yaml'], world)).toBe(0);
  expect(world.errText()).toContain(
    'a.yaml:1:1: notice: it has no cloths, so it can be planned only together with a cut list that has [cloths-elsewhere]\n',
  );
  expect(world.outText()).toContain('no faults, 1 warning, 1 notice');
  expect(await runCli(['draw', 'a.yaml'], world)).toBe(0);
  expect(await runCli(['print', 'a.yaml', '--what', 'pieces'], world)).toBe(0);
  for (const command of ['plan', 'compare']) {
    const alone = fakeWorld({ 'a.yaml': list });
    expect(await runCli([command, 'a.yaml'], alone)).toBe(2);
    expect(alone.errText()).toContain('the cut list has no cloths [cloths-missing]');
  }
  // Cloths that are written badly, or not for its material, are told as ever.
  for (const cloths of ['cloths: none\n', 'cloths: {drill: {for: drill, width: 150}}\n']) {
    expect(await runCli(['check', 'a.yaml'], fakeWorld({ 'a.yaml': list + cloths }))).toBe(2);
  }
});

describe('print', () => {
  test.each([
    ['pdf', '%PDF-'],
    ['svg', '<?xml'],
    ['dxf', '  0\nS'],
  ])('the pieces at true size as %s', async (format, begins) => {
    const world = fakeWorld({ 'a.yaml': flap });
    expect(await runCli(['print', 'a.yaml', '--what', 'pieces', '--format', format], world)).toBe(0);
    const bytes = world.files.get(`lays/a-pieces-true-size.${format}`)!;
    expect(Buffer.from(bytes).toString('latin1').slice(0, 5)).toBe(begins);
    expect(world.outText()).toContain('1 piece at true size');
    expect(world.outText().includes('measure a test square')).toBe(format === 'pdf');
  });

  test.each([
    [['--what', 'marker'], 'it is no lay file'],
    [[], '--what is missing'],
    [['--what', 'pieces', '--sheet', 'a9'], '--sheet: found "a9"'],
    [['--what', 'pieces', '--sheet', 'roll:5'], '--sheet: found "roll:5"'],
    [['--what', 'pieces', '--sheet', 'roll:90x'], '--sheet: found "roll:90x"'],
    [['--what', 'pieces', '--format', 'png'], '--format: found "png"'],
    [['--what', 'pieces', '--wrong-side'], '--wrong-side: it goes with what is printed of a lay'],
  ])('%j is refused', async (words, said) => {
    const world = fakeWorld({ 'a.yaml': flap });
    expect(await runCli(['print', 'a.yaml', ...words], world)).toBe(2);
    expect(world.errText()).toContain(said);
    expect([...world.files.keys()]).toEqual(['a.yaml']);
  });

  test('rolls, with and without a length', async () => {
    for (const sheet of ['roll:90', 'roll:36 inx3 m', 'Roll:0.9mx100', 'A0']) {
      expect(
        await runCli(['print', 'a.yaml', '--what', 'pieces', '--sheet', sheet], fakeWorld({ 'a.yaml': flap })),
      ).toBe(0);
    }
  });
});

test('a drawing that a cut list is made from is never written over, and check knows a drawing', async () => {
  const dxf = '0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n8\nTab\n10\n0\n20\n0\n40\n50\n0\nENDSEC\n0\nEOF\n';
  const list = `title: T
units: cm
drawn: cut
pieces:
  Tab: {dxf: {file: a-pieces-true-size.dxf}, grain: [[0, -4], [0, 4]], cut: {felt: 1}, allowance: 0}
cloths:
  felt: {for: felt, width: 90, usable: 88}
`;
  const world = fakeWorld({ 'a.yaml': list, 'a-pieces-true-size.dxf': dxf });
  expect(await runCli(['print', 'a.yaml', '--what', 'pieces', '--format', 'dxf', '--out', '.'], world)).toBe(2);
  expect(world.errText()).toContain('[out-over-input]');
  expect(Buffer.from(world.files.get('a-pieces-true-size.dxf')!).toString()).toBe(dxf);
  expect(await runCli(['check', 'a-pieces-true-size.dxf'], world)).toBe(2);
  expect(world.errText()).toContain('[file-is-drawing]');
});

describe('import', () => {
  const svg =
    '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="30mm" viewBox="0 0 20 30"><rect id="tab" width="20" height="30"/></svg>';

  test('begins a cut list beside the drawing, or in another folder, and writes over nothing', async () => {
    const world = fakeWorld({ 'paper/tab.svg': svg });
    expect(await runCli(['import', 'paper/tab.svg'], world)).toBe(0);
    expect(Buffer.from(world.files.get('paper/tab.yaml')!).toString()).toContain('svg: {file: tab.svg, id: tab}');
    expect(world.outText()).toContain('1 piece from paper/tab.svg');
    expect(await runCli(['import', 'paper/tab.svg'], world)).toBe(1);
    expect(world.errText()).toContain('[out-exists]');
    expect(await runCli(['import', 'paper/tab.svg', '--out', 'lists', '--units', 'in'], world)).toBe(0);
    const list = Buffer.from(world.files.get('lists/tab.yaml')!).toString();
    expect(list).toContain('svg: {file: "../paper/tab.svg", id: tab}');
    expect(list).toContain('units: in');
  });

  test.each([
    ['nothing.svg', 2, '[file-missing]'],
    ['empty.svg', 2, '[drawing-outline]'],
    ['broken.dxf', 2, 'broken.dxf:1:1: error'],
    ['broken.dxf --out lists', 2, 'broken.dxf:1:1: error'],
  ])('%s', async (file, code, said) => {
    const world = fakeWorld({ 'empty.svg': '<svg xmlns="http://www.w3.org/2000/svg"/>', 'broken.dxf': 'x\n' });
    expect(await runCli(['import', ...file.split(' ')], world)).toBe(code);
    expect(world.errText()).toContain(said);
    expect(world.files.size).toBe(2);
  });

  test('a DXF file in the code page of its machine', async () => {
    const bytes = Buffer.from(
      '0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n8\nGr\xf6\xdfe\n10\n0\n20\n0\n40\n50\n0\nENDSEC\n0\nEOF\n',
      'latin1',
    );
    const world = fakeWorld({});
    world.files.set('old.dxf', bytes);
    expect(await runCli(['import', 'old.dxf'], world)).toBe(0);
    expect(Buffer.from(world.files.get('old.yaml')!).toString('utf8')).toContain('Größe');
  });
});
