/** Runs of compare in a world in memory. */
import { expect, it } from 'vitest';
import { runCli } from '../../src/cli/run.js';
import { fakeWorld } from './fake-world.js';
import { bag, tooWide } from './scenes.js';

const words = ['compare', 'bag.yaml', '--effort', '0.1', '--method', 'open'];

it('compares widths: a line each, the plot, and the lay of the best', async () => {
  const world = fakeWorld({ 'bag.yaml': bag });
  expect(await runCli([...words, '--widths', '80..115'], world)).toBe(0);
  const text = world.outText();
  expect(text).toMatch(/^canvas: least to buy, .* of sailcloth, \d+ cm wide/m);
  for (const width of [80, 85, 90, 95, 100, 105, 110, 115])
    expect(text).toMatch(new RegExp(`^ +${width} cm +\\d`, 'm'));
  expect(text).toContain('#');
  const names = [...world.files.keys()].slice(1);
  expect(names[0]).toBe('lays/bag-compared.svg');
  expect(names.slice(1).every((name) => /^lays\/bag-canvas-sailcloth-\d+-cm\.(lay\.json|svg|pdf)$/.test(name))).toBe(
    true,
  );
  expect(names.length === 4 || names.length === 7).toBe(true);
  expect(text).toContain(`written  ${names[0]}`);
});

it('gives the comparison as JSON', async () => {
  const world = fakeWorld({ 'bag.yaml': bag });
  expect(await runCli([...words, '--widths', '80, 150', '--json'], world)).toBe(0);
  const report = JSON.parse(world.outText());
  expect(report.format).toBe('shortlay-comparison/1');
  const [comparison] = report.comparisons;
  expect(comparison.offers.map((offer: { widthCm: number }) => offer.widthCm)).toEqual([80, 150]);
  expect(comparison.offers[1]).toMatchObject({ method: 'open', chosen: true, cloth: 'sailcloth' });
  // 12.00 a metre, by hand.
  expect(comparison.offers[1].cost).toBeCloseTo(comparison.offers[1].buyCm * 0.12, 9);
  expect(comparison.shortest).toEqual({ cloth: 'sailcloth', widthCm: 150 });
  expect(report.files).toEqual([...world.files.keys()].slice(1));
});

it('says what another width takes for granted: what its sides lose, and its price', async () => {
  for (const [text, taken] of [
    [bag, 'lose as much as those of the width in the file, and its price to be the same'],
    [bag.replace(/, price: [^,}]+/, ''), 'lose as much as those of the width in the file [usable-assumed]'],
  ] as const) {
    const world = fakeWorld({ 'bag.yaml': text });
    expect(await runCli([...words, '--widths', '140'], world)).toBe(0);
    expect(world.outText().replace(/\s+/g, ' ')).toContain(taken);
  }
});

it('plans the cloths of the file where no widths are named', async () => {
  const world = fakeWorld({ 'bag.yaml': bag });
  expect(await runCli(['compare', 'bag.yaml', '--effort', '0.1'], world)).toBe(0);
  expect(world.outText()).toMatch(/^ {2}sailcloth +150 cm +open /m);
  expect([...world.files.keys()]).toContain('lays/bag-canvas-sailcloth.lay.json');
});

it('ends with 1 when it fits on none of them', async () => {
  const world = fakeWorld({ 'bag.yaml': tooWide });
  expect(await runCli([...words, '--widths', '100,150'], world)).toBe(1);
  expect(world.outText()).toContain('canvas: it fits on none of them');
});

it.each([
  ['90..', 'found "90..", expected a length'],
  ['160..90', 'the narrower width first'],
  ['10..320', '60 widths at most'],
  ['wide', 'found "wide"'],
  ['90-150', 'expected two dots between the narrowest and the widest: 90..150'],
])('refuses --widths %s', async (widths, said) => {
  const world = fakeWorld({ 'bag.yaml': bag });
  expect(await runCli([...words, '--widths', widths], world)).toBe(2);
  expect(world.errText()).toContain(said);
});

it('takes steps in inches for widths in inches, and a step of its own', async () => {
  const widthsOf = async (...more: string[]) => {
    const world = fakeWorld({ 'bag.yaml': bag });
    expect(await runCli([...words, '--json', ...more], world)).toBe(0);
    return JSON.parse(world.outText()).comparisons[0].offers.map((offer: { widthCm: number }) => offer.widthCm);
  };
  // 1 in = 2.54 cm exactly (international inch, 1959).
  expect(await widthsOf('--widths', '40in..44in')).toEqual([101.6, 106.68, 111.76]);
  expect(await widthsOf('--widths', '40..44 in')).toEqual([101.6, 106.68, 111.76]);
  expect(await widthsOf('--widths', '40, 44 in')).toEqual([101.6, 111.76]);
  expect(await widthsOf('--widths', '90..110', '--step', '10')).toEqual([90, 100, 110]);
  const world = fakeWorld({ 'bag.yaml': bag });
  expect(await runCli([...words, '--step', '10'], world)).toBe(2);
  expect(world.errText()).toContain('--step: it goes with --widths FROM..TO');
});
