import { describe, expect, test } from 'vitest';
import { readCutList } from '../../src/cutlist/read.js';

/** Codes, words and ways out of what is said about a list with these pieces and seams. */
function said(pieces: string, seams: string, units = 'cm') {
  const text = `title: Test\nunits: ${units}\ndrawn: net\npieces:\n${pieces}\ncloths:\n  drill: {for: shell, width: 150 cm, usable: 147 cm}\nseams:\n${seams}\n`;
  const answer = readCutList(text, 'test.yaml');
  if (!answer.ok) throw new Error(answer.faults.map(({ what }) => what).join('\n'));
  return answer.value.notices.filter(({ code }) => code.startsWith('seam'));
}

const flap = '  Flap: {rectangle: [30, 20], cut: {shell: 1}, allowance: 1}';
const half =
  '  Half: {outline: {A: [0, 0], B: [9.5, 0], C: [9.5, 30], D: [0, 30]}, fold: D-A, grain: A-D, cut: {shell: 1 on fold}, allowance: 1, darts: [{edge: A-B, at: 5, width: 1, tip: [5, 8]}]}';

describe('seams', () => {
  test('halves count twice, and what a dart takes up is off', () => {
    const [fault] = said(`${flap}\n${half}`, '  - {join: [Half A-B, Flap A-B]}');
    expect(fault!.severity).toBe('warning');
    expect(fault!.what).toBe('2 x Half A-B 8.5 cm = 17.0 cm against Flap A-B 20.0 cm, so they do not match');
    expect(fault!.fix).toBe('they match with Flap A-B 17.0 cm long, or with Half A-B 10.0 cm long');
  });

  test('ease, gathers, lists of edges and runs', () => {
    expect(said(`${flap}\n${half}`, '  - {join: [Half A-B, Flap A-B], ease: 3}')).toEqual([]);
    expect(
      said(`${flap}\n${half}`, '  - {join: [Half B-C, [Flap B-C, Flap D-A, Flap B-C, Flap D-A]], gather: 2}'),
    ).toEqual([]);
    expect(said(flap, '  - {join: [Flap A-C, Flap C-A]}')).toEqual([]);
  });

  test('a third of a centimetre is too much, less is not', () => {
    const other = (long: string) => `  Other: {rectangle: [30, ${long}], cut: {shell: 1}, allowance: 1}`;
    expect(said(`${flap}\n${other('20.3')}`, '  - {join: [Flap A-B, Other A-B]}')).toEqual([]);
    expect(said(`${flap}\n${other('20.31')}`, '  - {join: [Flap A-B, Other A-B]}').length).toBe(1);
  });

  test('pairs count twice, copies all the same way and what is its own mirror image once', () => {
    const wedge = (cut: string) =>
      `  Wedge: {outline: {A: [0, 0], B: [10, 0], C: [7, 30], D: [0, 30]}, grain: A-D, cut: {shell: ${cut}}, allowance: 1}`;
    for (const cut of ['1 pair', '2', '4'])
      expect(said(`${flap}\n${wedge(cut)}`, '  - {join: [Wedge A-B, Flap A-B]}')).toEqual([]);
    for (const cut of ['1', '2 same way'])
      expect(said(`${flap}\n${wedge(cut)}`, '  - {join: [Wedge A-B, Flap A-B]}').length).toBe(1);
    const tie = '  Tie: {rectangle: [90, 20], cut: {shell: 2}, allowance: 1}';
    expect(said(`${flap}\n${tie}`, '  - {join: [Tie A-B, Flap A-B]}')).toEqual([]);
  });

  test('drawn with allowances, the seam line is measured', () => {
    const cut =
      '  Cut: {outline: {A: [0, 0], B: [22, 0], C: [22, 32], D: [0, 32]}, drawn: cut, grain: A-D, cut: {shell: 1}, allowance: 1}';
    expect(said(`${flap}\n${cut}`, '  - {join: [Flap A-B, Cut A-B]}\n  - {join: [Flap B-C, Cut B-C]}')).toEqual([]);
  });

  // PL: Conover, A Complete Course in Dressmaking, vol. 5, pp. 63-65: material 44 in on the half; taken up 30 in at the
  // waist (of 28 round), 24 at the hip (40), 16 1/2 at the hem (55).
  test.each([
    [28, 30],
    [40, 24],
    [55, 16.5],
  ])('PL: pleats that take up what makes %d in round', (round, taken) => {
    const pleats = Array.from(
      { length: 10 },
      (_, i) => `{edge: A-B, at: ${(2.2 + 4.4 * i).toFixed(1)}, depth: ${taken / 20}}`,
    );
    const panel = `  Panel: {rectangle: [30, 44], cut: {shell: 1}, allowance: 0, pleats: [${pleats.join(', ')}]}`;
    const band = `  Band: {rectangle: [2, ${round / 2}], cut: {shell: 1}, allowance: 0}`;
    const seam = '  - {join: [Panel A-B, Band A-B]}';
    expect(said(`${panel}\n${band}`, seam, 'in')).toEqual([]);
    const short = `  Band: {rectangle: [2, ${round / 2 - 0.25}], cut: {shell: 1}, allowance: 0}`;
    expect(said(`${panel}\n${short}`, seam, 'in').length).toBe(1);
  });
});
