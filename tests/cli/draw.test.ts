import { expect, test } from 'vitest';
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
