import { describe, expect, test } from 'vitest';
import { transferList } from '../../src/report/transfer-list.js';
import { layOf, outlineCm, pieceCm, ticking } from '../support/lays.js';
import { exampleLay, openLay } from '../support/sample-lays.js';

const square = [
  [0, 0],
  [20, 0],
  [20, 10],
  [0, 10],
] as const;
const segment = (...ends: (readonly [number, number])[]) => outlineCm(ends);

describe('transfer list', () => {
  test('marks are told from the foot of the grain line, to the left or right of it', () => {
    // The grain line of the square runs from (3, 5) to (17, 5).
    const flap = pieceCm('Flap', square, {
      notches: [segment([0, 2], [0.4, 2]) as never],
      awl: segment([10, 8], [12, 5]),
      lines: [
        { kind: 'dart', points: segment([20, 4], [15, 5], [20, 6]) },
        { kind: 'hem', points: segment([1, 0], [1, 10]) },
      ],
      match: [{ at: [50_000, 50_000], group: 'hip', way: 'both' }],
    });
    const [piece] = transferList(layOf({ title: 'Hatch', cloth: ticking, puts: [{ piece: flap }] })).pieces;
    expect(
      piece!.marks.map(({ what, alongUm, acrossUm, side }) => [what, alongUm / 1e4, acrossUm / 1e4, side]),
    ).toEqual([
      ['notch', -3, 3, 'right'],
      ['awl point', 7, 3, 'left'],
      ['awl point', 9, 0, null],
      ['dart, one end', 17, 1, 'right'],
      ['dart, tip', 12, 0, null],
      ['dart, other end', 17, 1, 'left'],
      ['hem line, one end', -2, 5, 'right'],
      ['hem line, other end', -2, 5, 'left'],
      ['match point, group hip', 2, 0, null],
    ]);
    expect(piece).toMatchObject({ numbers: [1], copies: 1, pairs: 0, restAsDrawn: 1, foldedFrom: null });
  });

  test('of a half piece one half is told, across from the fold', () => {
    const [front, back] = transferList(exampleLay).pieces;
    expect(front).toMatchObject({ piece: 'Front', foldedFrom: 'across', copies: 1, pairs: 0 });
    // Grain line from 7.5 cm on, awl points at 30 cm, 9 cm to both sides of the fold.
    expect(front!.marks).toEqual([{ what: 'awl point', alongUm: 225_000, acrossUm: 90_000, side: null }]);
    expect(back).toMatchObject({ piece: 'Back', numbers: [2], copies: 2, pairs: 1, restAsDrawn: 0, restMirrored: 0 });
  });

  test('a fold square to the grain is told along; of an oblique one both halves are told', () => {
    const half = (ends: readonly (readonly [number, number])[]) =>
      pieceCm('Flag', square, {
        onFold: true,
        awl: segment([2, 3], [-2, 3]),
        lines: [{ kind: 'fold', points: segment(...ends) }],
      });
    const told = (ends: readonly (readonly [number, number])[]) =>
      transferList(layOf({ title: 'Flag', cloth: ticking, puts: [{ piece: half(ends) }] })).pieces[0]!;
    const square_ = told([
      [0, 0],
      [0, 10],
    ]);
    expect(square_.foldedFrom).toBe('along');
    expect(square_.marks).toHaveLength(1);
    expect(square_.marks[0]).toMatchObject({ alongUm: 20_000 });
    const oblique = told([
      [0, 0],
      [5, 10],
    ]);
    expect(oblique.foldedFrom).toBe('both halves');
    expect(oblique.marks).toHaveLength(2);
  });

  test('pairs, what is turned over, fused or off the grain', () => {
    const fused = {
      ...openLay,
      cloth: { ...openLay.cloth, fusible: true },
      copies: openLay.copies.map((copy) => ({
        ...copy,
        turnedOver: copy.n === 2,
        tiltMicrodegrees: copy.n === 2 ? -3_000_000 : 0,
        turned: copy.n === 8 ? (90 as const) : copy.turned,
      })),
    };
    const list = transferList(fused);
    expect(list.fuses).toBe(true);
    expect(transferList(openLay).fuses).toBe(false);
    const byName = new Map(list.pieces.map((piece) => [piece.piece, piece]));
    expect(byName.get('Windjammer sleeve, upper part')).toMatchObject({
      numbers: [2, 3],
      pairs: 1,
      turnedOver: 1,
      tilted: [{ n: 2, degrees: 3 }],
    });
    expect(byName.get('Tie')).toMatchObject({ pairs: 0, restAsDrawn: 2, crossed: [8] });
    expect(list.pieces.map(({ numbers }) => numbers[0])).toEqual(
      list.pieces.map(({ numbers }) => numbers[0]).sort((a, b) => a! - b!),
    );
  });
});
