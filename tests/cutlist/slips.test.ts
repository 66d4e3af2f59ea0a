import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { readCutList } from '../../src/cutlist/read.js';

const blouse = readFileSync(
  fileURLToPath(new URL('../../fixtures/boatyard/harbour-blouse.yaml', import.meta.url)),
  'utf8',
);

function said(text: string): string[] {
  const answer = readCutList(text, 'blouse.yaml');
  const faults = answer.ok ? answer.value.notices : answer.faults;
  return faults.map(({ subject, what }) => `${subject}: ${what}`);
}

describe('the blouse', () => {
  test('as it is gives nothing to say', () => {
    expect(said(blouse)).toEqual([]);
  });

  // One centimetre wrong at one place each; the piece or the seam that it belongs to is named.
  test.each([
    [
      'Front: A: [0, 0], B: [24, 0]',
      'A: [0, 0], B: [24, 0], C: [25.5, 18], D: [21.5, 39], E: [9, 42], F: [0, 33]',
      'B: [24, 0]',
      'B: [25, 0]',
      'piece "Front": edge A-B',
    ],
    [
      'Front: the shoulder',
      'D: [21.5, 39], E: [9, 42], F: [0, 33]',
      'D: [21.5, 39]',
      'D: [21.5, 40]',
      'piece "Front": edge',
    ],
    [
      'Front: a point of the armhole',
      'C-D: {through: [[20.9, 22], [19.6, 28], [20, 34]]}',
      '[19.6, 28]',
      '[18.6, 28]',
      'piece "Front": edge C-D',
    ],
    [
      'Back: the underarm',
      'C: [25.5, 18], D: [21.5, 39], E: [9, 42], F: [0, 40]',
      'C: [25.5, 18]',
      'C: [25.5, 19]',
      'piece "Back": edge B-C',
    ],
    ['Back: the neck', 'E: [9, 42], F: [0, 40]', 'F: [0, 40]', 'F: [0, 39]', 'piece "Back": edge F-A'],
    ['Back: a dart', 'width: 3, tip: [11, 16]', 'width: 3', 'width: 4', 'seam 4: '],
    ['Facing: the neck', 'D: [13.4, 40.9], E: [9, 42]', 'E: [9, 42]', 'E: [10, 42]', 'piece "Front facing": '],
    ['Peplum: its width', '[18, 126]', '126', '127', 'piece "Peplum": edge A-B'],
    ['Peplum: its depth', '[18, 126]', '18', '17', 'piece "Peplum": edge B-C'],
    ['Binding: its length', 'length: 90', '90', '92', 'piece "Armhole binding": edge A-B'],
  ])('%s', (_, around, right, wrong, named) => {
    expect(blouse.split(around).length).toBe(2);
    const slipped = blouse.replace(around, around.replace(right, wrong));
    expect(said(slipped).some((sentence) => sentence.startsWith(named))).toBe(true);
  });
});

describe('likely slips', () => {
  const flap = (outline: string, more: string) => `title: Test
units: cm
drawn: net
pieces:
  Flap: {outline: {${outline}}, ${more}}
cloths:
  drill: {for: shell, width: 150, usable: 147}
`;
  const box = 'A: [0, 0], B: [20, 0], C: [20, 30], D: [0, 30]';

  test.each([
    [
      box.replace('C: [20, 30]', 'C: [20, 30], X: [19.9, 30]'),
      'grain: A-D, cut: {shell: 1}, allowance: 1',
      'edge C-X is only 1 mm long',
    ],
    [
      box,
      'grain: [[5, 5], [5.2, 25]], cut: {shell: 1}, allowance: 1',
      'the grain line is nearly, but not quite, along edge B-C: off by 0.3 cm over its length',
    ],
    [
      box.replace('D: [0, 30]', 'D: [0, 30], X: [-0.03, 15]'),
      'fold: D-A, grain: A-D, cut: {shell: 1 on fold}, allowance: 1',
      'fold edge D-A strays 0.3 mm from a straight line; it is taken as straight',
    ],
    [box, 'grain: A-D, cut: {shell: 1}, allowance: {A-B: 3, B-C: 1}', 'no allowance is given for C-D, D-A'],
  ])('%#', (outline, more, what) => {
    const sentences = said(flap(outline, more));
    expect(sentences).toContain(`piece "Flap": ${what}`);
  });

  test('a slant that is meant, a curve, a fold without allowance and a side square to the grain say nothing', () => {
    expect(said(flap(box.replace('C: [20, 30]', 'C: [18, 30]'), 'grain: A-D, cut: {shell: 1}, allowance: 1'))).toEqual(
      [],
    );
    expect(said(flap(box, 'fold: D-A, grain: A-D, cut: {shell: 1 on fold}, allowance: {A-B: 3, B-D: 1}'))).toEqual([]);
    expect(said(flap(box, 'curves: {B-C: {arc: [20.3, 15]}}, grain: A-D, cut: {shell: 1}, allowance: 1'))).toEqual([]);
  });
});
