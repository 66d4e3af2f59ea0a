import { describe, expect, test } from 'vitest';
import { decodeUtf8 } from '../../src/source/decode.js';
import { readYaml } from '../../src/source/read-yaml.js';
import { depthMax } from '../../src/source/tokens.js';
import type { SourceNode } from '../../src/source/types.js';

function read(text: string): SourceNode {
  const answer = readYaml(text, 'list.yaml');
  if (!answer.ok) throw new Error(answer.faults.map(({ what }) => what).join('\n'));
  return answer.value;
}

/** `line:column code` of every fault. */
function faults(text: string): string[] {
  const answer = readYaml(text, 'list.yaml');
  return answer.ok ? [] : answer.faults.map(({ place, code }) => `${place!.line}:${place!.column} ${code}`);
}

/** Values only, with the text of scalars as written. */
function plain(node: SourceNode): unknown {
  if (node.kind === 'scalar') return node.text;
  if (node.kind === 'empty') return null;
  if (node.kind === 'list') return node.items.map(plain);
  return node.entries.map(({ key, value }) => [key, plain(value)]);
}

describe('values', () => {
  test('scalars keep their own digits and words', () => {
    expect(plain(read("[8.2345, 1e3, no, yes, 0x1F, 010, 13 1/2 in, 5/8\", \"2\", 'a''b', 1_000]"))).toEqual([
      '8.2345',
      '1e3',
      'no',
      'yes',
      '0x1F',
      '010',
      '13 1/2 in',
      '5/8"',
      '2',
      "a'b",
      '1_000',
    ]);
  });

  test('keys keep the order of the file, also those that look like numbers', () => {
    expect(plain(read('b: 1\n10: 2\n2: 3\na: 4\n__proto__: 5\n'))).toEqual([
      ['b', '1'],
      ['10', '2'],
      ['2', '3'],
      ['a', '4'],
      ['__proto__', '5'],
    ]);
  });

  test('a key without a value, ~ and null are empty; quoted they are text', () => {
    expect(plain(read('a:\nb: ~\nc: null\nd: "null"\ne: ""\n'))).toEqual([
      ['a', null],
      ['b', null],
      ['c', null],
      ['d', 'null'],
      ['e', ''],
    ]);
  });

  test('JSON is read as YAML', () => {
    const text = '{"title": "Bag", "pieces": {"A": {"rectangle": [60, 40.5]}}}';
    expect(plain(read(text))).toEqual(plain(read('title: Bag\npieces:\n  A:\n    rectangle: [60, 40.5]\n')));
  });
});

describe('places', () => {
  test('every key and value knows its line and column', () => {
    const root = read('title: Bag\npieces:\n  Side: {rectangle: [60,\n    40]}\n');
    if (root.kind !== 'map') throw new Error('expected a map');
    const pieces = root.entries[1]!;
    expect(pieces.keyPlace).toEqual({ file: 'list.yaml', line: 2, column: 1 });
    if (pieces.value.kind !== 'map') throw new Error('expected a map');
    const side = pieces.value.entries[0]!;
    expect(side.keyPlace).toMatchObject({ line: 3, column: 3 });
    if (side.value.kind !== 'map') throw new Error('expected a map');
    const rectangle = side.value.entries[0]!;
    expect(rectangle.keyPlace).toMatchObject({ line: 3, column: 10 });
    if (rectangle.value.kind !== 'list') throw new Error('expected a list');
    expect(rectangle.value.items.map(({ place }) => `${place.line}:${place.column}`)).toEqual(['3:22', '4:5']);
  });

  test.each([
    ['CRLF', 'a: 1\r\nb: 2\r\nb: 3\r\n'],
    ['a byte order mark', '\ufeffa: 1\nb: 2\nb: 3\n'],
  ])('%s does not move them', (_, text) => {
    expect(faults(text)).toEqual(['3:1 duplicate-key']);
  });
});

describe('what is refused', () => {
  test.each([
    ['nothing', '', ['1:1 file-empty']],
    ['only comments', '# nothing\n# here\n', ['1:1 file-empty']],
    ['only null', '~\n', ['1:1 file-empty']],
    ['a tab as indentation', 'a:\n\tb: 1\n', ['2:1 yaml-broken']],
    ['an open quote', 'a: "b\n', ['2:1 yaml-broken']],
    ['an alias, its anchor too', 'a: &x [1]\nb: *x\n', ['1:7 yaml-alias', '2:4 yaml-alias']],
    ['an anchor on a key', '&x a: 1\n', ['1:4 yaml-alias']],
    ['a merge key with an alias', 'a: &x {c: 1}\nb: {<<: *x}\n', ['1:7 yaml-alias', '2:9 yaml-alias']],
    ['a tag', 'a: !!str 1\nb: !own 2\n', ['1:10 yaml-tag', '2:9 yaml-tag']],
    ['a second document', 'a: 1\n---\nb: 2\n', ['2:1 several-documents']],
    ['a list as a key', '? [1, 2]\n: x\n', ['1:3 key-not-text']],
    ['a key twice, at any depth', 'a: {b: 1, b: 2}\nc: 1\nc: 2\n', ['1:11 duplicate-key', '3:1 duplicate-key']],
    ['a zero byte', 'a: 1\nb: x\0y\n', ['2:5 not-text']],
    ['an escaped zero byte', 'a: "x\\0y"\n', ['1:4 not-text']],
    ['a lone half of a character', 'a: \ud800\n', ['1:4 not-text']],
    ['a lone carriage return', 'a: 1\rb: 2\n', ['1:5 not-text']],
  ])('%s', (_, text, expected) => {
    expect(faults(text)).toEqual(expected);
  });

  test('several syntax faults are told at once', () => {
    const text = 'a: 1\nb:2\nc: 3\nd: "x\\q"\ne: 4\n';
    expect(faults(text)).toEqual(['2:1 yaml-broken', '4:6 yaml-broken']);
  });

  test('lines right after one that is not understood are not blamed', () => {
    expect(faults('a:\n  b: 1\n c: 2\n  d: 3\n  e: 4\nf: 5\n')).toEqual(['3:1 yaml-broken']);
    expect(faults('a:\n  b: 1\n\tc: 2\n  d: 3\n\ne:\n  f: 1\n\n  g: 2\n')).toEqual(['3:1 yaml-broken']);
  });
});

describe('texts made to hurt', () => {
  const million = 1_000_000;

  test('50 MB are refused by their size', () => {
    expect(faults('x'.repeat(50 * million))).toEqual(['1:1 file-too-large']);
  });

  test('an alias bomb is not unfolded', () => {
    const levels = Array.from({ length: 9 }, (_, i) => `a${i + 1}: &a${i + 1} [${`*a${i}, `.repeat(9)}]`);
    const bomb = ['a0: &a0 lol', ...levels].join('\n');
    expect(new Set(faults(bomb).map((fault) => fault.split(' ')[1]))).toEqual(new Set(['yaml-alias']));
  });

  test.each(['[', '{a: ', '- ', '-  ', '? ', 'a: ', '[? ', '- [', '[-  '])('%j nested without end', (unit) => {
    expect(faults(unit.repeat(million / unit.length)).map((fault) => fault.split(' ')[1])).toContain('nested-too-deep');
  });

  test('blocks nested without end', () => {
    const lines = Array.from({ length: 1_000 }, (_, i) => `${' '.repeat(i)}a:`);
    expect(faults(lines.join('\n')).map((fault) => fault.split(' ')[1])).toEqual(['nested-too-deep']);
  });

  test('as deep as allowed is read', () => {
    const text = '['.repeat(depthMax) + ']'.repeat(depthMax);
    expect(faults(text)).toEqual([]);
    expect(faults(`[${text}]`).map((fault) => fault.split(' ')[1])).toEqual(['nested-too-deep']);
  });

  test.each([',', ']', '{}', '&a ', '*a ', '!a ', '\n', '#\n', 'k: 1\n', '---\n', '%a b\n'])(
    '%j two hundred thousand characters long is an answer, not a wait',
    (unit) => {
      const text = unit.repeat(million / 5 / unit.length);
      expect(faults(text).length).toBeGreaterThan(0);
      expect(faults(`[${text}`).length).toBeGreaterThan(0);
    },
  );

  test('a hundred thousand empty entries are a list', () => {
    const text = '-\n'.repeat(million / 10);
    expect(faults(text)).toEqual([]);
    expect(faults(`[${text}`).length).toBeGreaterThan(0);
  });
});

describe('bytes', () => {
  test('UTF-8 is decoded, anything else refused', () => {
    expect(decodeUtf8(new TextEncoder().encode('Ärmel: 1'), 'list.yaml')).toEqual({ ok: true, value: 'Ärmel: 1' });
    for (const bytes of [
      [0xc3, 0x28],
      [0xff, 0xfe, 0x61, 0x00],
      [0xe2, 0x82],
      [0xed, 0xa0, 0x80],
      [0xc0, 0xaf],
    ]) {
      const answer = decodeUtf8(Uint8Array.from(bytes), 'list.yaml');
      expect(answer.ok ? null : answer.faults.map(({ code }) => code)).toEqual(['not-utf-8']);
    }
  });
});
