/** One lopsided piece typed in three ways gives the same copies; its mirror image is another piece. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { type Drawings, drawingsNamed } from '../../src/cutlist/drawings.js';
import { readCutList } from '../../src/cutlist/read.js';
import { ringKey } from '../../src/geometry/outline.js';
import { makeCutPiece } from '../../src/pieces/cut-piece.js';
import type { CutPiece } from '../../src/pieces/types.js';

const svg = readFileSync(fileURLToPath(new URL('../../fixtures/drawings/rule-pocket.svg', import.meta.url)), 'utf8');
const drawings: Drawings = new Map([['rule-pocket.svg', { ok: true, value: svg }]]);

const list = (piece: string) => `title: Test
units: cm
drawn: net
pieces:
  Pocket: {${piece}, cut: {shell: 1 pair}, allowance: {all: 1, C-D: 2.5}}
cloths:
  drill: {for: shell, width: 150, usable: 147, nap: one-way}
`;

function read(piece: string, files: Drawings = drawings) {
  return readCutList(list(piece), 'test.yaml', files);
}

function pocket(piece: string): CutPiece {
  const answer = read(piece);
  if (!answer.ok) throw new Error(answer.faults.map(({ what }) => what).join('\n'));
  const made = makeCutPiece(answer.value.pieces[0]!, 'shell');
  if (!made.ok) throw new Error('it was checked');
  return made.value;
}

const outline = 'outline: {A: [0, 0], B: [9, 0], C: [9, 24], D: [0, 20]}, grain: A-D';
const forms = {
  outline,
  path: 'path: M0 24 H9 V0 L0 4 Z, grain: A-D',
  svg: 'svg: {file: rule-pocket.svg, id: pocket-outline}, grain: A-D',
};

describe('a lopsided piece', () => {
  test.each(Object.entries(forms))('as %s is cut alike', (_, piece) => {
    const [one, other] = [pocket(outline), pocket(piece)];
    expect(ringKey(other.outline)).toBe(ringKey(one.outline));
    expect(other.demand).toEqual({ asDrawn: 1, mirrored: 1 });
  });

  test('drawn the wrong way round it is another piece', () => {
    const turned = pocket('outline: {A: [0, 0], B: [9, 0], C: [9, 20], D: [0, 24]}, grain: B-C');
    expect(ringKey(turned.outline)).not.toBe(ringKey(pocket(outline).outline));
  });
});

describe('drawings', () => {
  test('are named where their pieces say, once each', () => {
    const text = list('svg: {file: a.svg}').replace(
      'cloths:',
      '  Flap: {svg: {file: a.svg}}\n  Lid: {svg: {file: b.svg}}\ncloths:',
    );
    expect(drawingsNamed(text)).toEqual(['a.svg', 'b.svg']);
    expect(drawingsNamed('pieces: [')).toEqual([]);
    expect(drawingsNamed('pieces: {A: {svg: a.svg}}')).toEqual([]);
  });

  test('tell how large the outline came out, and warn when the file does not say', () => {
    const told = (text: string) => {
      const answer = read(
        'svg: {file: rule-pocket.svg, id: pocket-outline}, grain: A-D',
        new Map([['rule-pocket.svg', { ok: true, value: text }]]),
      );
      return answer.ok ? answer.value.notices.map(({ code, severity, what }) => [code, severity, what]) : [];
    };
    expect(told(svg)).toEqual([
      [
        'drawing-size',
        'notice',
        'from rule-pocket.svg (page 21.0 cm x 29.7 cm): the outline is 9.0 cm wide and 24.0 cm high',
      ],
    ]);
    const unsaid = svg.replace('width="210mm" height="297mm" viewBox="0 0 210 297"', '');
    expect(told(unsaid)[0]!.slice(0, 2)).toEqual(['drawing-size-assumed', 'warning']);
  });

  test.each([
    ['svg: {file: none.svg}', 'drawing-unread', 'none.svg: it was not read', /relative/],
    [
      'svg: {file: rule-pocket.svg}',
      'drawing-outline',
      'rule-pocket.svg: it has 2 closed outlines; check-line: ',
      /pocket-outline, rivet/,
    ],
    [
      'svg: {file: rule-pocket.svg, id: pocket-outlin}',
      'drawing-outline',
      'rule-pocket.svg: it has no closed outlines with id "pocket-outlin"',
      /did you mean "pocket-outline"/,
    ],
    [
      'svg: {file: rule-pocket.svg, id: rivet, layer: sleeve}',
      'drawing-outline',
      'rule-pocket.svg: it has no closed outlines with id "rivet" in "sleeve"',
      /name one|mean/,
    ],
    ['svg: {id: rivet}', 'wrong-value', 'found a map', /file/],
    ['svg: {file: rule-pocket.svg, id: rivet, scale: big}', 'wrong-value', 'found "big"', /scale/],
  ])('%s', (piece, code, what, fix) => {
    const answer = read(`${piece}, grain: [[1, 1], [1, 5]]`);
    const fault = answer.ok ? undefined : answer.faults.find((each) => each.code === code);
    expect(fault?.what).toContain(what);
    expect(fault?.fix).toMatch(fix);
  });

  test('a broken file is told with its own line', () => {
    const broken: Drawings = new Map([['rule-pocket.svg', { ok: true, value: svg.replace('</g>', '') }]]);
    const answer = read('svg: {file: rule-pocket.svg, id: rivet}, grain: A-B', broken);
    expect(answer.ok ? '' : answer.faults.map(({ what }) => what).join()).toMatch(/^rule-pocket.svg:9:\d+: /);
  });

  test('scale sets a drawing right', () => {
    const half = pocket('svg: {file: rule-pocket.svg, id: pocket-outline, scale: 0.5}, grain: A-D');
    const typed = pocket('outline: {A: [0, 0], B: [4.5, 0], C: [4.5, 12], D: [0, 10]}, grain: A-D');
    expect(ringKey(half.outline)).toBe(ringKey(typed.outline));
  });
});
