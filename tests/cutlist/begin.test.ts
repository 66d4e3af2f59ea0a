import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { beginCutList } from '../../src/cutlist/begin.js';
import { readCutList } from '../../src/cutlist/read.js';
import type { Fault } from '../../src/diagnostics/types.js';
import { block, dxfFile, lightPolyline, line, millimetres, section, text } from '../support/dxf.js';

function drawing(name: string): string {
  return readFileSync(new URL(`../../fixtures/drawings/${name}`, import.meta.url), 'utf8');
}

function begin(value: string, file: string, units: 'cm' | 'mm' | 'in' = 'cm') {
  const begun = beginCutList(value, file, file, units);
  if (!begun.ok) throw new Error(begun.faults.map(({ what }) => what).join('\n'));
  return begun.value;
}

/** Takes every question as it stands: the "#" before a key goes away. (Of a rivet hole no allowance can be taken off.) */
function answered(begun: string): string {
  return begun.replace(/^( *)# ([a-z]+: .*# \?)/gm, '$1$2').replace('drawn: cut ', 'drawn: net ');
}

function read(list: string, file: string, value: string) {
  return readCutList(list, 'list.yaml', new Map([[file, { ok: true, value }]]));
}

describe.each(['locker-bag.dxf', 'rule-pocket.svg'])('%s', (file) => {
  test.each(['cm', 'mm', 'in'] as const)(
    'in %s: what must be answered is asked, and answered it is a cut list',
    (units) => {
      const { text: begun, questions } = begin(drawing(file), file, units);
      expect(questions).toBe(begun.match(/# \?/g)!.length);
      const unanswered = read(begun, file, drawing(file));
      expect(unanswered.ok).toBe(false);
      const codes = unanswered.ok ? [] : unanswered.faults.map(({ code }) => code);
      expect(codes).toContain('drawn-missing');
      const list = read(answered(begun), file, drawing(file));
      expect(list.ok ? [] : list.faults.map(({ what }) => what)).toEqual([]);
      expect(list.ok && list.value.units).toBe(units);
    },
  );
});

test('edges are listed with their lengths and letters', () => {
  expect(begin(drawing('locker-bag.dxf'), 'locker-bag.dxf').text).toContain(
    '# edges: A-B 24.0 cm, B-C 38.0 cm, C-D 6.3 cm (curved), D-E 20.0 cm, E-A 42.0 cm',
  );
});

test('each outline is named so that it is found again, by its id or its number', () => {
  const outlines = [
    '<path d="M0 0H60V60Z"/>',
    '<path id="1" d="M0 0H200V200Z"/>',
    '<g id="x"><path d="M0 0H90V90Z"/></g>',
    '<path id="x" d="M0 0H80V80Z"/>',
    '<path id="x" d="M0 0H70V70Z"/>',
    `<path id="${'y'.repeat(600)}" d="M0 0H50V50Z"/>`,
  ];
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="30cm" height="30cm" viewBox="0 0 300 300"><rect width="300" height="300"/>${outlines.join('')}</svg>`;
  const { text: begun } = begin(svg, 'a  b.svg');
  const list = read(answered(begun), 'a  b.svg', svg);
  expect(list.ok ? [] : list.faults.map(({ what }) => what)).toEqual([]);
  const wide = list.ok
    ? list.value.pieces.map(({ corners }) => Math.max(...corners.map(({ at }) => at[0])) / 1000)
    : [];
  expect(wide).toEqual([60, 200, 90, 80, 70, 50]);
  expect(begun).toContain('a rectangle as large as the page was left out');
});

test('names that a cut list would read otherwise', () => {
  const outline = lightPolyline('1', [
    [0, 0],
    [100, 0],
    [0, 100],
  ]);
  const names = ['Front  left', `${'a'.repeat(59)} b`, 'Bib\\U+0085', '𝔅'.repeat(60), 'x\\U+D800'];
  const file = dxfFile(
    section('BLOCKS', ...names.map((name, i) => block(`B${i}`, text(`Piece Name: ${name}`), outline))),
  );
  const list = read(answered(begin(file, ' x.dxf').text), ' x.dxf', file);
  expect(list.ok ? [] : list.faults.map(({ what }) => what)).toEqual([]);
});

test('a mirror line that is no edge is asked about, and nothing is said of how many to cut', () => {
  const outline = lightPolyline('1', [
    [0, 0],
    [100, 0],
    [100, 100],
    [0, 100],
  ]);
  const half = block('P', outline, line('6', [50, 0], [50, 100]), text('Quantity: 1'), text('Material: shell'));
  const { text: begun } = begin(dxfFile(millimetres, section('BLOCKS', half)), 'p.dxf');
  expect(begun).toContain('# ? its mirror line is no edge of the outline');
  expect(begun).toContain('# cut: {shell: 1}   # ?');
});

test('a seam line in one piece of two: drawn cut for that one alone', () => {
  const outline = lightPolyline('1', [
    [0, 0],
    [100, 0],
    [0, 100],
  ]);
  const seam = lightPolyline('14', [
    [10, 10],
    [70, 10],
    [10, 70],
  ]);
  const { text: begun } = begin(dxfFile(section('BLOCKS', block('P', outline, seam), block('Q', outline))), 'p.dxf');
  expect(begun).toContain('\n# drawn: cut   # ?');
  expect(begun.match(/\n {4}drawn: cut {3}# \?/g)!.length).toBe(1);
});

test('seam lines within the outlines: it is drawn cut', () => {
  const outline = lightPolyline('1', [
    [0, 0],
    [100, 0],
    [0, 100],
  ]);
  const seam = lightPolyline('14', [
    [10, 10],
    [70, 10],
    [10, 70],
  ]);
  const { text: begun } = begin(dxfFile(section('BLOCKS', block('P', outline, seam))), 'p.dxf');
  expect(begun).toContain('\ndrawn: cut   # ?');
  expect(begun).toContain('# ? the drawing does not say its units');
});

test('names that would be YAML, or two alike', () => {
  const outline = lightPolyline('1', [
    [0, 0],
    [100, 0],
    [0, 100],
  ]);
  const names = ['a: {b}', '# c', 'yes', '- d', 'e\\U+000Af', '7', 'Bib', 'Bib', '"', '"', '{}'];
  const file = dxfFile(
    section('BLOCKS', ...names.map((name, i) => block(`B${i}`, text(`Piece Name: ${name}`), outline))),
  );
  const begun = begin(file, 'odd [name]: #1.dxf');
  const list = read(answered(begun.text), 'odd [name]: #1.dxf', file);
  expect(list.ok ? [] : list.faults.map(({ what }) => what)).toEqual([]);
  expect(list.ok && list.value.pieces.length).toBe(names.length);
  const ids = Array.from({ length: 3 }, (_, i) => `<path id="a&#10;b: [${i}" d="M0 0H90V90Z"/>`).join('');
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="9cm" height="9cm" viewBox="0 0 90 90">${ids}</svg>`;
  const svgList = read(answered(begin(svg, 'a.svg').text), 'a.svg', svg);
  expect(svgList.ok ? [] : svgList.faults.map(({ what }) => what)).toEqual([]);
});

test.each([
  ['broken.dxf', 'no\n', 'broken.dxf:1:1'],
  ['list.yaml', 'title: T\n', 'it is no drawing'],
  ['nothing.svg', '', 'it holds nothing'],
  ['empty.dxf', dxfFile(section('ENTITIES')), 'no closed outline'],
  ['broken.svg', '<svg', 'broken.svg:1'],
  ['empty.svg', '<svg xmlns="http://www.w3.org/2000/svg" width="1cm" height="1cm"/>', 'no closed outline'],
])('%s is refused', (file, value, expected) => {
  const begun = beginCutList(value, file, file, 'cm');
  if (begun.ok) throw new Error('it was read');
  const [{ place, what }] = begun.faults as unknown as [Fault];
  expect(`${place?.file}:${place?.line}:${place?.column} ${what}`).toContain(expected);
});

test('letters of a file name that nobody sees are written as numbers, also those of two halves', () => {
  const name = 'a\u2028b\u{e0041}.svg';
  const svg =
    '<svg xmlns="http://www.w3.org/2000/svg" width="30cm" height="30cm" viewBox="0 0 300 300"><path d="M0 0H200V200Z"/></svg>';
  const { text: begun } = begin(svg, name);
  expect(begun).toContain('file: "a\\u2028b\\udb40\\udc41.svg"');
  expect(/[\u2028\u{e0041}]/u.test(begun)).toBe(false);
});
