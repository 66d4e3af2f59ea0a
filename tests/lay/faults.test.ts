/** A lay file that is not one: every fault of structure at its place. */
import { describe, expect, it } from 'vitest';
import { formatFault } from '../../src/diagnostics/faults.js';
import { readLay } from '../../src/lay/read.js';
import { writeLay } from '../../src/lay/write.js';
import { openRow } from '../support/damage.js';

const good = writeLay(openRow);

function firstLines(text: string): string[] {
  const read = readLay(text, 'a.lay.json');
  return read.ok ? [] : read.faults.map((fault) => formatFault(fault).split('\n')[0]!);
}

function swap(from: string, to: string): string {
  expect(good).toContain(from);
  return good.replace(from, to);
}

const cases: readonly (readonly [string, string, readonly string[]])[] = [
  ['nothing at all', '', ['a.lay.json:1:1: error: expected a value, found the file ends [lay-not-json]']],
  ['no JSON', 'title: Bag\n', ['a.lay.json:1:1: error: expected a value, found "t" [lay-not-json]']],
  [
    'cut off',
    good.slice(0, good.indexOf('"pieces"')),
    ['a.lay.json:3:2: error: expected a key in quotation marks, found the file ends [lay-not-json]'],
  ],
  [
    'text after the end',
    `${good}x`,
    [`a.lay.json:${good.split('\n').length}:1: error: expected the end of the file, found "x" [lay-not-json]`],
  ],
  ['a list', '[]', ['a.lay.json:1:1: error: the file: expected an object, found a list of 0 [lay-wrong-value]']],
  [
    'another format',
    swap('"shortlay-lay/1"', '"shortlay-lay/2"'),
    ['a.lay.json:1:12: error: format: expected "shortlay-lay/1", found "shortlay-lay/2" [lay-wrong-value]'],
  ],
  ['a key that is missing', swap('"gap": 3000, ', ''), ['a.lay.json:2:2: error: cloth has no "gap" [lay-missing-key]']],
  [
    'a key that nobody knows',
    swap('"gap": 3000, ', '"gap": 3000, "gaps": 1, '),
    ['a.lay.json:2:127: error: "gaps" is not a key of cloth [lay-unknown-key]'],
  ],
  [
    'a key twice',
    swap('"gap": 3000, ', '"gap": 3000, "gap": 1, '),
    ['a.lay.json:2:127: error: "gap" stands twice here [lay-duplicate-key]'],
  ],
  [
    'half a micrometre',
    swap('"gap": 3000, ', '"gap": 0.5, '),
    ['a.lay.json:2:121: error: cloth.gap: expected a whole number, found 0.5 [lay-wrong-value]'],
  ],
  [
    'beyond the range in which sums are exact',
    swap('"gap": 3000, ', '"gap": 47453133, '),
    ['a.lay.json:2:121: error: cloth.gap: expected at most 47453132, found 47453133 [lay-wrong-value]'],
  ],
  [
    'a number in quotation marks',
    swap('"seed": 1,', '"seed": "1",'),
    [`a.lay.json:1:${good.indexOf('"seed": ') + 9}: error: seed: expected a number, found "1" [lay-wrong-value]`],
  ],
  [
    'a turn that there is not',
    swap('"turned": 0', '"turned": 45'),
    ['a.lay.json:14:56: error: copies[0].turned: expected 0 or 90 or 180 or 270, found 45 [lay-wrong-value]'],
  ],
  [
    'a point with three numbers',
    swap('[[0,0],[200000,0],', '[[0,0,0],[200000,0],'),
    [
      'a.lay.json:4:45: error: pieces[0].outline[0]: expected at most 2 in the list, found a list of 3 [lay-wrong-value]',
    ],
  ],
  [
    'several at once, in order of the file',
    swap('"gap": 3000, ', '"gap": null, ').replace('"turned": 0', '"turned": "no"'),
    [
      'a.lay.json:2:121: error: cloth.gap: expected a number, found null [lay-wrong-value]',
      'a.lay.json:14:56: error: copies[0].turned: expected 0 or 90 or 180 or 270, found "no" [lay-wrong-value]',
    ],
  ],
];

describe('faults of structure', () => {
  it('none in a good file', () => {
    expect(firstLines(good)).toEqual([]);
  });

  it.each(cases)('%s', (_what, text, lines) => {
    expect(firstLines(text)).toEqual(lines);
  });

  it('nesting without end is refused without going down it', () => {
    expect(firstLines('['.repeat(1_000_000))).toEqual([
      'a.lay.json:1:18: error: lists and objects are nested deeper than 16 [lay-not-json]',
    ]);
  });

  it('a key that names an inner part of the language is an unknown key', () => {
    expect(firstLines(swap('"gap": 3000, ', '"gap": 3000, "__proto__": {"gap": 1}, '))).toEqual([
      'a.lay.json:2:127: error: "__proto__" is not a key of cloth [lay-unknown-key]',
    ]);
  });
});

describe('places', () => {
  it('are those of an editor: lines and columns from 1', () => {
    const text = swap('"gap": 3000, ', '"gap": null, ');
    const [line] = firstLines(text);
    const [, row, column] = /:(\d+):(\d+):/.exec(line!)!;
    expect(text.split('\n')[Number(row) - 1]!.slice(Number(column) - 1)).toMatch(/^null, "nap"/);
  });
});
