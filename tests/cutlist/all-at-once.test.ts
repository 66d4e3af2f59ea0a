/** Two faults of one piece are told in one go, whichever two they are: nobody mends one to be told the next. */
import { describe, expect, test } from 'vitest';
import { readCutList } from '../../src/cutlist/read.js';

type Keys = Readonly<Record<string, string>>;
/** Code told, key that it is told of, and how that key is written. */
type OneFault = readonly [code: string, key: string, written: string];

const outline = '{A: [0, 0], B: [20, 0], C: [20, 40], D: [0, 40]}';
/** Good pieces, key by key. */
const goodNet: Keys = {
  outline,
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
/** With a notch that has room on its seam line only as it stands: it is longer than the edge as drawn. */
const goodCut: Keys = {
  outline: '{A: [0, 0], B: [30, 0], C: [30, 30], D: [20, 30], E: [20, 10], F: [10, 10], G: [10, 30], H: [0, 30]}',
  drawn: 'cut',
  grain: 'A-H',
  cut: '{canvas: 1, felt: 2}',
  allowance: '{canvas: {all: 1, B-C: 0.5}, felt: 1}',
  notches: '[{edge: E-F, at: 11}]',
};

const ofNet: readonly OneFault[] = [
  ['bad-length', 'outline', '{A: [0, 0], B: [20, 0], C: [2O, 40], D: [0, 40]}'],
  ['arc-straight', 'curves', '{B-C: {arc: [20, 20]}}'],
  ['outline-crosses', 'outline', '{A: [0, 0], B: [20, 0], C: [20, 40], D: [10, -5]}'],
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
const ofCut: readonly OneFault[] = [
  ['bad-point', 'outline', goodCut.outline!.replace('[30, 30]', '[30, 30, 30]')],
  ['wrong-value', 'drawn', 'whole'],
  ['no-such-corner', 'grain', 'A-X'],
  ['bad-wording', 'cut', '{canvas: one, felt: 2}'],
  ['fold-wording', 'cut', '{canvas: 1 on fold, felt: 2}'],
  ['wrong-value', 'cut', '2 pairs'],
  ['bad-length', 'allowance', '{canvas: {all: 1, B-C: O.5}, felt: 1}'],
  ['no-such-corner', 'allowance', '{canvas: {all: 1, B-X: 0.5}, felt: 1}'],
  ['allowance-material', 'allowance', '{canvas: 1, felt: 1, silk: 1}'],
  ['notch-off-edge', 'notches', '[{edge: A-B, at: 30}]'],
];

const ofSeams = ['notch-off-edge', 'pleat-off-edge'];
const ofFold = ['fold-wording', 'dart-on-fold'];
const inShape = ['awl-outside', 'match-outside', 'dart-outside', 'outline-crosses', 'arc-straight'];

/** What has to be measured in the shape, along seam lines or at the fold waits for what says where these are. */
function isWaiting(code: string, [otherCode, otherKey]: OneFault, good: Keys): boolean {
  if (['outline', 'curves'].includes(otherKey))
    return [...inShape, ...ofSeams, 'dart-on-fold', 'measured-differs', 'fold-not-straight'].includes(code);
  if ((otherKey === 'fold' || otherCode === 'fold-wording') && ofFold.includes(code)) return true;
  const saysSeams = good.drawn === 'cut' ? ['drawn', 'cut', 'allowance'] : ['drawn'];
  if (saysSeams.includes(otherKey) && ofSeams.includes(code)) return true;
  return otherKey === 'cut' && code === 'allowance-material';
}

/** Errors told of a piece, each with its key. */
function toldOf(keys: Keys): string[] {
  const written = Object.entries(keys).map(([key, value]) => `    ${key}: ${value}\n`);
  const cloth = 'cloths:\n  sailcloth: {for: [canvas, felt], width: 150}\n';
  const read = readCutList(`title: T\nunits: cm\npieces:\n  Flap:\n${written.join('')}${cloth}`, 'test.yaml');
  const names = Object.keys(keys);
  const errors = read.ok ? [] : read.faults.filter(({ severity }) => severity === 'error');
  return errors.map(({ code, place }) => `${names[place!.line - 5] ?? 'piece'}: ${code}`).sort();
}

describe.each([
  ['drawn net', goodNet, ofNet],
  ['drawn cut', goodCut, ofCut],
] as const)('two faults of one piece %s', (_, good, faults) => {
  const alone = new Map(faults.map((one) => [one, toldOf({ ...good, [one[1]]: one[2] })]));

  test('the piece without a fault has none', () => {
    expect(toldOf(good)).toEqual([]);
  });

  test.each(faults.map((one) => [one[0], one[1], one] as const))('%s of %s', (code, key, one) => {
    // A material that is not known has no cloth either.
    expect(alone.get(one)!.filter((told) => !told.startsWith('piece: '))).toEqual([`${key}: ${code}`]);
    for (const other of faults) {
      if (other[1] === key) continue;
      const told = toldOf({ ...good, [key]: one[2], [other[1]]: other[2] });
      const together = `${code} of ${key} and ${other[0]} of ${other[1]}`;
      if (!isWaiting(code, other, good)) expect(told, together).toContain(`${key}: ${code}`);
      // Nothing is told that is not so.
      const either = [...alone.get(one)!, ...alone.get(other)!];
      expect(
        told.filter((each) => !either.includes(each)),
        together,
      ).toEqual([]);
    }
  });
});

const begun = { drawn: 'net', cut: '{canvas: 1}', allowance: '1' };

test.each<[string, Keys, string[]]>([
  [
    'materials that only the drawing knows',
    { dxf: '{file: none.dxf}', drawn: 'net', allowance: '{canvas: 1, felt: {all: 1, A-B: 2}}' },
    ['dxf'],
  ],
  ['an allowance of them', { dxf: '{file: none.dxf}', drawn: 'net', allowance: '{canvas: l}' }, ['allowance', 'dxf']],
  ['what a drawing may say', { dxf: '{file: none.dxf}', drawn: 'net', allowance: '1' }, ['dxf']],
  ['what no SVG says', { svg: '{file: none.svg}', drawn: 'net', allowance: '1' }, ['piece', 'piece', 'svg']],
  ['which of two shapes is meant', { outline, rectangle: '[20, 30]', ...begun }, ['rectangle']],
  [
    'a material with a hyphen',
    {
      outline: '{A: [0, 0], B: [20, 0], 3: [5, 5]}',
      ...{ grain: 'A-B', drawn: 'net', cut: '{canvas: 1}', allowance: '{canvas: 1, off-white: 0}' },
    },
    ['outline'],
  ],
  ['a shape still to be given', { drawn: 'net', cut: '{canvas: 1 on fold}', allowance: '1' }, ['piece']],
  [
    'a notch on a fold that may be none',
    { outline, ...begun, grain: 'A-D', fold: 'D-A', notches: '[{edge: D-A, at: 5}]' },
    ['cut'],
  ],
  [
    'a material whose wording has no colon',
    { outline, ...begun, grain: 'A-D', cut: '{canvas:1, felt: 1}', allowance: '{canvas: 1, felt: 0}' },
    ['cut'],
  ],
  [
    'what an unknown key may mean',
    { ...goodCut, cut: '{canvas: 1 on fold}', allowance: '1', foldline: 'A-H' },
    ['foldline'],
  ],
  ['what an unknown key may say of seams', { ...goodCut, allowance: '1', alowence: '{all: 2}' }, ['alowence']],
  ['a key of three letters', { outline, ...begun, grain: 'A-D', all: '1' }, ['all']],
  [
    'an edge that is named like a material',
    { outline, drawn: 'net', grain: 'A-D', cut: '{A-B: 1}', allowance: '{all: 1, A-B: 3}' },
    ['cut'],
  ],
  [
    'a comma in the allowance of an unread shape',
    { outline: '{A: [0, 0], B: [20, 0], 3: [5, 5]}', ...begun, grain: 'A-B', allowance: '{A-B: 1,5}' },
    ['allowance', 'outline'],
  ],
])('of %s nothing is told that may not be so', (_, keys, told) => {
  expect(toldOf(keys).map((each) => each.split(':')[0])).toEqual(told);
});

function codesOf(text: string): string[] {
  const read = readCutList(text, 'test.yaml');
  return (read.ok ? read.value.notices : read.faults).map(({ code }) => code).sort();
}
const listed = (pieces: string, drawn = 'net', cloths = '{sailcloth: {for: canvas, width: 150, usable: 147}}') =>
  `title: T\nunits: cm\ndrawn: ${drawn}\npieces:\n${pieces}cloths: ${cloths}\n`;

test('a fold askew is told beside other faults', () => {
  const piece = `{outline: ${outline}, cut: {canvas: 1 on fold}, fold: D-A, grain: [[5, 5], [10, 35]], allowance: 1, awl: [[-5, 10]]}`;
  expect(codesOf(listed(`  Flap: ${piece}\n`))).toEqual(['awl-outside', 'fold-askew']);
});

test('drawn that cannot be read at the top is told once, and nothing measured by a guess', () => {
  const { outline: inward, grain, notches } = goodCut;
  const piece = `{outline: ${inward}, grain: ${grain}, cut: {canvas: 1}, allowance: 1, notches: ${notches}}`;
  expect(codesOf(listed(`  Flap: ${piece}\n`, 'ctu'))).toEqual(['wrong-value']);
});

test('an allowance on the fold is warned of, but not where a piece is like one without a fold there', () => {
  const back = `{outline: ${outline}, grain: A-D, cut: {canvas: 1}, allowance: {all: 1, D-A: 2}}`;
  const front = '{like: Back, fold: D-A, cut: {canvas: 1 on fold}}';
  expect(codesOf(listed(`  Back: ${back}\n  Front: ${front}\n`))).toEqual([]);
  const own = (allowance: string) =>
    `  Front: {outline: ${outline}, grain: A-D, fold: D-A, cut: {canvas: 1 on fold}, allowance: ${allowance}}\n`;
  expect(codesOf(listed(own('{all: 1, D-A: 2}')))).toEqual(['allowance-on-fold']);
  expect(codesOf(listed(own('{all: 1, D-A: 0}')))).toEqual([]);
  expect(codesOf(listed(own('{all: 1, C-A: 2}')))).toEqual([]);
});

test('materials are held against the cloths only when all cloths are there, and cloths against pieces likewise', () => {
  const flap = `  Flap: {outline: ${outline}, grain: A-D, cut: {canvas: 1, felt: 1}, allowance: 1}\n`;
  const good = 'sailcloth: {for: canvas, width: 150, usable: 147}';
  expect(codesOf(listed(flap, 'net', `{${good}, felt: 90}`))).toEqual(['wrong-value']);
  expect(codesOf(listed(flap, 'net', `{${good}, lining: {for: lining, width: wide}}`))).toEqual([
    'bad-length',
    'cloth-unused',
    'no-cloth',
  ]);
  const plain = `  Flap: {outline: ${outline}, grain: A-D, cut: {canvas: 1}, allowance: 1}\n`;
  const felt = `{${good}, felt: {for: felt, width: 90, usable: 88}}`;
  expect(codesOf(listed(plain, 'net', felt))).toEqual(['cloth-unused']);
  expect(codesOf(listed(`${plain}  Tab:\n`, 'net', felt))).toEqual(['wrong-value']);
});

test('a misspelt key is read as meant, and not where the right one stands too', () => {
  const piece = (more: string) => listed(`  Flap: {outline: ${outline}, grain: A-D, cut: {canvas: 1}, ${more}}\n`);
  expect(codesOf(piece('alowance: much'))).toEqual(['bad-length', 'unknown-key']);
  expect(codesOf(piece('alowance: much, allowance: 1'))).toEqual(['unknown-key']);
});
