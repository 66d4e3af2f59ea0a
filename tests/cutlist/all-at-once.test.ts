/** Two faults of one piece are told in one go, whichever two they are: nobody mends one to be told the next. */
import { describe, expect, test } from 'vitest';
import { readCutList } from '../../src/cutlist/read.js';

/** A good piece, key by key; each fault is one key written otherwise, and the code told of it. */
const good: Readonly<Record<string, string>> = {
  outline: '{A: [0, 0], B: [20, 0], C: [20, 40], D: [0, 40]}',
  curves: '{B-C: {arc: [22, 20]}}',
  drawn: 'net',
  fold: 'D-A',
  grain: '[[5, 5], [5, 35]]',
  cut: '{canvas: 1 on fold, felt: 1 on fold}',
  allowance: '{all: 1, C-D: 3}',
  corner: '{C: plain}',
  notches: '[{edge: A-B, at: 10}]',
  awl: '[[5, 10]]',
  darts: '[{edge: A-B, at: 8, width: 2, tip: [8, 12]}]',
  pleats: '[{edge: C-D, at: 8, depth: 1}]',
  match: '[{point: [5, 5], group: hip}]',
  turn: 'yes',
  tilt: '2',
  measured: '{A-B: 20}',
};

/** What has to be measured waits for a shape to measure it in, and what is said of the fold for a fold. */
const waits: Readonly<Record<string, readonly string[]>> = {
  shape: [
    'awl-outside',
    'match-outside',
    'dart-outside',
    'notch-off-edge',
    'pleat-off-edge',
    'dart-on-fold',
    'measured-differs',
    'fold-not-straight',
    'outline-crosses',
    'arc-straight',
  ],
  fold: ['fold-wording', 'dart-on-fold'],
};
const kindOf = (key: string): string =>
  ['outline', 'curves'].includes(key) ? 'shape' : key === 'fold' ? 'fold' : 'other';

/** Code told, key that it is told of, and how that key is written. */
const faults: readonly (readonly [code: string, key: string, written: string])[] = [
  ['bad-length', 'outline', '{A: [0, 0], B: [20, 0], C: [2O, 40], D: [0, 40]}'],
  ['arc-straight', 'curves', '{B-C: {arc: [20, 20]}}'],
  ['outline-crosses', 'outline', '{A: [0, 0], B: [20, 40], C: [20, 0], D: [0, 40]}'],
  ['wrong-value', 'drawn', 'nett'],
  ['no-such-corner', 'fold', 'D-X'],
  ['fold-not-straight', 'fold', 'A-C'],
  ['no-such-corner', 'grain', 'A-Y'],
  ['bad-grain', 'grain', '[[5, 5]]'],
  ['grain-too-short', 'grain', '[[5, 5], [5, 5.5]]'],
  ['bad-wording', 'cut', '{canvas: one, felt: 1 on fold}'],
  ['fold-wording', 'cut', '{canvas: 1 pair, felt: 1 on fold}'],
  ['bad-length', 'allowance', '{all: much}'],
  ['no-such-corner', 'allowance', '{all: 1, C-Z: 3}'],
  ['no-such-corner', 'corner', '{Q: plain}'],
  ['wrong-value', 'corner', '{C: round}'],
  ['wrong-value', 'notches', '[{edge: A-B}]'],
  ['notch-off-edge', 'notches', '[{edge: A-B, at: 30}]'],
  ['bad-edge', 'notches', '[{edge: AB, at: 10}]'],
  ['awl-outside', 'awl', '[[-5, 10]]'],
  ['bad-point', 'awl', '[[5]]'],
  ['dart-on-fold', 'darts', '[{edge: D-A, at: 8, width: 2, tip: [8, 12]}]'],
  ['dart-outside', 'darts', '[{edge: A-B, at: 8, width: 2, tip: [8, -12]}]'],
  ['dart-measures', 'darts', '[{edge: A-B, at: 8}]'],
  ['pleat-off-edge', 'pleats', '[{edge: C-D, at: 19.5, depth: 4}]'],
  ['pleat-measures', 'pleats', '[{edge: C-D, at: 8}]'],
  ['match-outside', 'match', '[{point: [50, 5], group: hip}]'],
  ['wrong-value', 'match', '[{point: [5, 5], group: hip, way: down}]'],
  ['wrong-value', 'turn', 'perhaps'],
  ['wrong-value', 'tilt', '90'],
  ['measured-differs', 'measured', '{A-B: 25}'],
  ['no-such-corner', 'measured', '{A-W: 25}'],
];

function toldOf(changes: Readonly<Record<string, string>>): string[] {
  const keys = Object.entries({ ...good, ...changes }).map(([key, written]) => `    ${key}: ${written}\n`);
  const cloth = 'cloths:\n  sailcloth: {for: [canvas, felt], width: 150}\n';
  const read = readCutList(`title: T\nunits: cm\npieces:\n  Flap:\n${keys.join('')}${cloth}`, 'test.yaml');
  const lines = Object.keys({ ...good, ...changes });
  return read.ok
    ? []
    : read.faults
        .filter(({ severity }) => severity === 'error')
        .map(({ code, place }) => `${lines[place!.line - 5]}: ${code}`)
        .sort();
}

describe('two faults of one piece', () => {
  test('the piece without a fault has none', () => {
    expect(toldOf({})).toEqual([]);
  });

  test.each(faults)('%s of %s: %s', (code, key, written) => {
    expect(toldOf({ [key]: written })).toContain(`${key}: ${code}`);
    for (const [otherCode, otherKey, otherWritten] of faults) {
      if (otherKey === key) continue;
      const told = toldOf({ [key]: written, [otherKey]: otherWritten });
      const alone = [toldOf({ [key]: written }), toldOf({ [otherKey]: otherWritten })].flat();
      const together = `${code} of ${key} and ${otherCode} of ${otherKey}`;
      if (!waits[kindOf(otherKey)]?.includes(code)) expect(told, together).toContain(`${key}: ${code}`);
      // Nothing is told that is not so.
      expect(
        told.filter((one) => !alone.includes(one)),
        together,
      ).toEqual([]);
    }
  });
});
