/**
 * Faulty cut lists with the message expected of each beside it: fixtures/faults/NAME.yaml and NAME.expected. To write
 * the messages anew after a change of wording, run this test with REWRITE_EXPECTED=1 and read the difference.
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { readCutList } from '../../src/cutlist/read.js';
import { formatFaults } from '../../src/diagnostics/faults.js';
import { decodeUtf8 } from '../../src/source/decode.js';
import { textLengthMax } from '../../src/source/read-yaml.js';
import { depthMax } from '../../src/source/tokens.js';

const folder = fileURLToPath(new URL('../../fixtures/faults/', import.meta.url));
const names = readdirSync(folder)
  .filter((name) => name.endsWith('.yaml'))
  .sort();

function codesOf(text: string): string[] {
  const read = readCutList(text, 'test.yaml');
  return read.ok ? [] : read.faults.map(({ code }) => code);
}

describe('files under fixtures/faults', () => {
  test('there are at least forty', () => {
    expect(names.length).toBeGreaterThanOrEqual(40);
  });

  test.each(names)('%s', (name) => {
    const read = readCutList(readFileSync(folder + name, 'utf8'), name);
    expect(read.ok).toBe(false);
    const said = `${formatFaults(read.ok ? [] : read.faults)}\n`;
    const expected = folder + name.replace('.yaml', '.expected');
    if (process.env.REWRITE_EXPECTED === '1') writeFileSync(expected, said);
    expect(said).toBe(readFileSync(expected, 'utf8'));
  });

  test('every code is explained in docs/faults.md', () => {
    const explained = readFileSync(fileURLToPath(new URL('../../docs/faults.md', import.meta.url)), 'utf8');
    const codes = new Set(
      names.flatMap((name) => {
        const read = readCutList(readFileSync(folder + name, 'utf8'), name);
        return read.ok ? [] : read.faults.map(({ code }) => code);
      }),
    );
    expect([...codes].filter((code) => !explained.includes(`\`${code}\``))).toEqual([]);
  });
});

describe('inputs too large or too strange to keep', () => {
  test('50 MB of text', () => {
    const text = `title: ${'x'.repeat(50_000_000)}`;
    expect(text.length).toBeGreaterThan(textLengthMax);
    expect(codesOf(text)).toEqual(['file-too-large']);
  });

  test('a long text of every kind of line', () => {
    for (const line of ['a: [1, 2]\n', '- x\n', '[', '{a: ', 'x', '"', ': ', '#\n', '- - - - ', '? ', '&a ', '|\n ']) {
      expect(codesOf(line.repeat(Math.floor(100_000 / line.length))).length).toBeGreaterThan(0);
    }
  });

  test.each([
    ['brackets', '['.repeat(5_000)],
    ['maps', '{a: '.repeat(5_000)],
    ['dashes', '- '.repeat(5_000)],
    ['indentation', Array.from({ length: 500 }, (_, i) => `${' '.repeat(i)}a:`).join('\n')],
    ['just one too deep', `a: ${'['.repeat(depthMax + 1)}x${']'.repeat(depthMax + 1)}`],
  ])('nested deep: %s', (_, text) => {
    expect(codesOf(text)).toContain('nested-too-deep');
  });

  test('aliases that would unfold without end', () => {
    const levels = Array.from({ length: 9 }, (_, i) => `l${i + 1}: &l${i + 1} [${Array(9).fill(`*l${i}`).join(', ')}]`);
    expect(codesOf(['l0: &l0 [x, x, x, x]', ...levels].join('\n'))).toContain('yaml-alias');
  });

  test('zero bytes, bytes that are no UTF-8, nothing at all', () => {
    expect(codesOf('title: a\0b')).toEqual(['not-text']);
    expect(codesOf('')).toEqual(['file-empty']);
    const decoded = decodeUtf8(new Uint8Array([0x74, 0xff, 0xfe, 0x00]), 'test.yaml');
    expect(decoded.ok ? [] : decoded.faults.map(({ code }) => code)).toEqual(['not-utf-8']);
  });

  test('twenty faults are shown and the rest counted', () => {
    const pieces = Array.from({ length: 30 }, (_, i) => `  P${i}: {rectangle: [0, 0], cut: {shell: 1}}`).join('\n');
    const read = readCutList(
      `title: T\nunits: cm\ndrawn: net\npieces:\n${pieces}\ncloths: {c: {for: shell, width: 100}}`,
      't',
    );
    const said = formatFaults(read.ok ? [] : read.faults).split('\n');
    expect(said.filter((line) => line.includes('error:'))).toHaveLength(20);
    expect(said.at(-1)).toBe('... and 40 more');
  });
});
