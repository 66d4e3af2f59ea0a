/**
 * SOURCE_DATE_EPOCH: the date in every PDF. Specification of that name, version 1.1, reproducible-builds.org: digits of
 * whole seconds since 1970-01-01 00:00 UTC, without a fraction; what is malformed should end with an error.
 */
import { createHash } from 'node:crypto';
import { PDFDocument } from 'pdf-lib';
import { describe, expect, it } from 'vitest';
import { nodeWorld } from '../../src/cli/node-world.js';
import { runCli } from '../../src/cli/run.js';
import { writeLay } from '../../src/lay/write.js';
import { openLay } from '../support/sample-lays.js';
import { fakeWorld } from './fake-world.js';

/** One board: proven shortest at once. */
const bag = `title: Rope bag
units: cm
drawn: cut
pieces:
  Side: {rectangle: [60, 40], cut: {canvas: 1}}
cloths:
  sailcloth: {for: canvas, width: 150, usable: 147}
`;

const lay = 'lays/apron-shell.lay.json';
const quick = ['--effort', '0.01', '--method', 'open', '--workers', '1', '--quiet'];

/** Every command that writes a PDF. */
const commands: readonly (readonly string[])[] = [
  ['plan', 'bag.yaml', ...quick],
  ['compare', 'bag.yaml', ...quick],
  ['draw', 'bag.yaml'],
  ['print', 'bag.yaml', '--what', 'pieces'],
  ...['plan', 'chalk', 'marker', 'projector'].map((what) => ['print', lay, '--what', what]),
];

async function run(words: readonly string[], sourceDate: string | null) {
  const world = { ...fakeWorld({ 'bag.yaml': bag, [lay]: writeLay(openLay) }), sourceDate };
  const code = await runCli(words, world);
  const written = [...world.files].filter(([name]) => name !== 'bag.yaml' && name !== lay);
  const hashes = written.map(([name, bytes]) => [name, createHash('sha256').update(bytes).digest('hex')] as const);
  return { world, code, hashes, pdfs: written.filter(([name]) => name.endsWith('.pdf')).map(([, bytes]) => bytes) };
}

async function datesOf(pdf: Uint8Array): Promise<readonly (string | undefined)[]> {
  const document = await PDFDocument.load(pdf, { updateMetadata: false });
  return [document.getCreationDate()?.toISOString(), document.getModificationDate()?.toISOString()];
}

describe.each(commands.map((words) => [words.filter((word) => !quick.includes(word)).join(' '), words] as const))(
  '%s',
  (_, words) => {
    it('dates its PDF as SOURCE_DATE_EPOCH says, without it always the same; the same bytes on repeat', async () => {
      const { code, pdfs, hashes } = await run(words, '1764158400');
      expect(code).toBe(0);
      expect(pdfs.length).toBeGreaterThan(0);
      for (const pdf of pdfs) expect(await datesOf(pdf)).toEqual(Array(2).fill('2025-11-26T12:00:00.000Z'));
      expect((await run(words, '1764158400')).hashes).toEqual(hashes);
      const plain = await run(words, null);
      expect((await run(words, null)).hashes).toEqual(plain.hashes);
      for (const pdf of plain.pdfs) expect(await datesOf(pdf)).toEqual(Array(2).fill('2000-01-01T00:00:00.000Z'));
      const without = new Map(plain.hashes);
      for (const [name, hash] of hashes) {
        expect([name, hash === without.get(name)]).toEqual([name, !name.endsWith('.pdf')]);
      }
    });

    it('refuses nonsense with one line and exit 2, and writes nothing', async () => {
      const { code, world, hashes } = await run(words, 'yesterday');
      expect(code).toBe(2);
      expect(world.errText()).toContain(
        'shortlay: SOURCE_DATE_EPOCH: found "yesterday", expected whole seconds since the beginning of 1970',
      );
      expect(hashes).toEqual([]);
    });
  },
);

it.each(['', ' ', '-1', '+5', '1.5', '1e9', '0x10', '007', ' 5', '5\n', '253402300800', '9'.repeat(400)])(
  'refuses %j',
  async (text) => {
    const { code } = await run(['draw', 'bag.yaml'], text);
    expect(code).toBe(2);
  },
);

it.each([
  ['0', '1970-01-01T00:00:00.000Z'],
  ['253402300799', '9999-12-31T23:59:59.000Z'],
])('takes %s', async (text, date) => {
  const { pdfs } = await run(['draw', 'bag.yaml'], text);
  expect(await datesOf(pdfs[0]!)).toEqual([date, date]);
});

it('is told together with what else is wrong', async () => {
  const { code, world } = await run(['plan', 'bag.yaml', '--seed', 'x'], 'x');
  expect(code).toBe(2);
  expect(world.errText()).toMatch(/--seed: found "x".*\n.*SOURCE_DATE_EPOCH: found "x"/);
});

it('does not matter to what writes no PDF', async () => {
  const { code } = await run(['check', 'bag.yaml'], 'nonsense');
  expect(code).toBe(0);
});

it('is read from the environment', () => {
  const before = process.env.SOURCE_DATE_EPOCH;
  try {
    process.env.SOURCE_DATE_EPOCH = '12';
    expect(nodeWorld().sourceDate).toBe('12');
    delete process.env.SOURCE_DATE_EPOCH;
    expect(nodeWorld().sourceDate).toBe(null);
  } finally {
    if (before !== undefined) process.env.SOURCE_DATE_EPOCH = before;
  }
});
