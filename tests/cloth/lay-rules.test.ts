import { describe, expect, test } from 'vitest';
import { layRules, usableRange } from '../../src/cloth/lay-rules.js';
import type { Cloth } from '../../src/cloth/types.js';
import type { CutPiece } from '../../src/pieces/types.js';
import { lawn, slant, square } from '../support/cut-pieces.js';

const folded = 'lengthwise fold';

function rulesOf(method: 'open' | 'lengthwise fold', cloth: Partial<Cloth>, piece: CutPiece, own: boolean) {
  const answer = layRules(method, { ...lawn, ...cloth }, piece, own, 1);
  return answer.legal ? answer.rules : answer.why;
}

describe('open', () => {
  test('a pair is two placements, the second mirrored; one-way cloth turns nothing', () => {
    expect(rulesOf('open', {}, slant({ asDrawn: 1, mirrored: 1 }), false)).toEqual([
      { form: 'single', count: 1, is: 'asDrawn', mirrors: [false], turns: [0] },
      { form: 'single', count: 1, is: 'mirrored', mirrors: [true], turns: [0] },
    ]);
  });

  test('nap none lets pieces turn end for end; the piece may forbid or ask for it', () => {
    const piece = slant({ asDrawn: 1, mirrored: 0 });
    const turns = (cloth: Partial<Cloth>, turn: boolean | null) => {
      const rules = rulesOf('open', cloth, { ...piece, turn }, false);
      return typeof rules === 'string' ? rules : rules[0]!.turns;
    };
    expect(turns({ nap: 'none' }, null)).toEqual([0, 180]);
    expect(turns({ nap: 'none' }, false)).toEqual([0]);
    expect(turns({ nap: 'one-way' }, true)).toEqual([0, 180]);
    expect(turns({ nap: 'each-garment' }, null)).toEqual([0]);
  });

  test('cloth with two right sides lets a copy lie as the other outline', () => {
    expect(rulesOf('open', { faces: 'both' }, slant({ asDrawn: 2, mirrored: 0 }), false)).toEqual([
      { form: 'single', count: 2, is: 'asDrawn', mirrors: [false, true], turns: [0] },
    ]);
  });

  test('a piece that is its own mirror image is never mirrored', () => {
    expect(rulesOf('open', { faces: 'both' }, square({ asDrawn: 3, mirrored: 0 }), true)).toEqual([
      { form: 'single', count: 3, is: 'asDrawn', mirrors: [false], turns: [0] },
    ]);
  });
});

describe('lengthwise fold', () => {
  test('a pair is one placement, printed side up or down', () => {
    expect(rulesOf(folded, {}, slant({ asDrawn: 2, mirrored: 2 }), false)).toEqual([
      { form: 'pair', count: 2, is: 'asDrawn', mirrors: [false, true], turns: [0] },
    ]);
  });

  test('odd and same-way copies are refused; same way only on cloth with two right sides', () => {
    expect(rulesOf(folded, {}, slant({ asDrawn: 1, mirrored: 0 }), false)).toMatch(/not cut in pairs/);
    expect(rulesOf(folded, {}, slant({ asDrawn: 2, mirrored: 0 }), false)).toMatch(/not cut in pairs/);
    expect(rulesOf(folded, { faces: 'both' }, slant({ asDrawn: 2, mirrored: 0 }), false)).toHaveLength(1);
    expect(rulesOf(folded, { faces: 'both' }, slant({ asDrawn: 3, mirrored: 0 }), false)).toMatch(/needs 3 copies/);
  });

  test('of its own mirror image only the number counts', () => {
    expect(rulesOf(folded, {}, square({ asDrawn: 2, mirrored: 0 }), true)).toHaveLength(1);
    expect(rulesOf(folded, {}, square({ asDrawn: 3, mirrored: 0 }), true)).toMatch(/needs 3 copies/);
  });

  test('a piece on the fold lies on it; one whose fold is square to the grain cannot', () => {
    const foldLine = (x: number, y: number) => [
      {
        kind: 'fold' as const,
        points: [
          [0, 0],
          [x, y],
        ] as const,
      },
    ];
    const onFold = { ...square({ asDrawn: 1, mirrored: 0 }), onFold: true, lines: foldLine(100_000, 0) };
    expect(rulesOf(folded, {}, onFold, true)).toEqual([
      { form: 'on fold', count: 1, is: 'asDrawn', mirrors: [false], turns: [0] },
    ]);
    // Symmetric both ways, so that only its fold line tells.
    const across = { ...onFold, lines: foldLine(0, 100_000) };
    expect(rulesOf(folded, {}, across, true)).toMatch(/square to the grain/);
  });

  test('both layers must be usable', () => {
    expect(usableRange(folded, { ...lawn, width: 1_150_000, usable: [10_000, 1_130_000] })).toEqual({
      from: 20_000,
      to: 575_000,
    });
    expect(usableRange('open', { ...lawn, usable: [10_000, 1_130_000] })).toEqual({ from: 10_000, to: 1_130_000 });
  });
});
