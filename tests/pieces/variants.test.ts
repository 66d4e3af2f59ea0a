/** A piece as it could be cut instead: a seam in place of its fold, shorter hems. Nothing else of it changes. */
import { describe, expect, test } from 'vitest';
import { checkPiece } from '../../src/pieces/check-piece.js';
import { makeCutPiece, shapeAsDrawn } from '../../src/pieces/cut-piece.js';
import { isTurnedGarment } from '../../src/pieces/garments.js';
import { seamForFold, shorterHems } from '../../src/pieces/variants.js';
import { declare } from '../support/declared.js';

const corners = [
  [0, 0],
  [20, 0],
  [20, 30],
  [0, 30],
] as const;
/** The edge D-A, 30 cm along the grain, is on the fold; hem 4 cm, seams 1 cm. */
const half = declare({ corners, fold: 3, allowance: [4, 1, 1, 0] });

/** Along and across, in cm. */
function extents(piece: Parameters<typeof makeCutPiece>[0]): [number, number] {
  const made = makeCutPiece(piece, 'shell');
  if (!made.ok) throw new Error(made.faults[0]!.what);
  const [xs, ys] = [0, 1].map((i) => made.value.outline.map((point) => point[i]! / 10_000)) as [number[], number[]];
  return [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)];
}

describe('a seam for the fold', () => {
  test('two halves, each wider by the allowance', () => {
    const joined = seamForFold(half, 15_000)!;
    expect(joined.fold).toBeNull();
    expect(joined.cut[0]!.terms).toEqual([{ count: 1, kind: 'pair' }]);
    expect(joined.allowanceDefault.byEdge).toEqual([40_000, 10_000, 10_000, 15_000]);
    expect(extents(half)).toEqual([35, 42]);
    expect(extents(joined)).toEqual([35, 22.5]);
  });

  test('of a cutting line that is drawn only the new edge moves', () => {
    const joined = seamForFold({ ...half, drawn: 'cut' }, 15_000)!;
    expect(joined).toMatchObject({ drawn: 'net', allowanceDefault: { byEdge: [0, 0, 0, 15_000] } });
    expect(extents(joined)).toEqual([30, 21.5]);
  });

  test('in every material; other wordings of its cut stay; none without a fold', () => {
    const lined = {
      ...half,
      cut: [half.cut[0]!, { ...half.cut[0]!, material: 'lining', terms: [{ count: 2, kind: 'plain' as const }] }],
      allowanceByMaterial: new Map([['lining', { ...half.allowanceDefault, byEdge: [5_000, 5_000, 5_000, 0] }]]),
    };
    const joined = seamForFold(lined, 10_000)!;
    expect(joined.allowanceByMaterial.get('lining')!.byEdge).toEqual([5_000, 5_000, 5_000, 10_000]);
    expect(joined.cut.map(({ terms }) => terms[0]!.kind)).toEqual(['pair', 'plain']);
    expect(seamForFold(declare({ corners }), 10_000)).toBeNull();
  });
});

describe('shorter hems', () => {
  test('the allowances that are larger than others and at least so long', () => {
    expect(shorterHems(half, 'shell', 30_000, 20_000)!.allowanceDefault.byEdge).toEqual([20_000, 10_000, 10_000, 0]);
    expect(shorterHems(half, 'shell', 40_000, 20_000)).not.toBeNull();
    expect(shorterHems(half, 'shell', 40_001, 20_000)).toBeNull();
  });

  test('none where all are alike, or the cutting line is drawn', () => {
    expect(shorterHems(declare({ corners, allowance: [4, 4, 4, 4] }), 'shell', 30_000, 20_000)).toBeNull();
    expect(shorterHems({ ...half, drawn: 'cut' }, 'shell', 30_000, 20_000)).toBeNull();
  });

  test('by the allowances of the material, where it has its own', () => {
    const own = { ...half.allowanceDefault, byEdge: [10_000, 10_000, 50_000, 0] };
    const lined = { ...half, allowanceByMaterial: new Map([['lining', own]]) };
    expect(shorterHems(lined, 'lining', 45_000, 20_000)!.allowanceByMaterial.get('lining')!.byEdge).toEqual([
      10_000, 10_000, 20_000, 0,
    ]);
    expect(shorterHems(lined, 'shell', 45_000, 20_000)).toBeNull();
  });
});

describe('a piece that is asked for otherwise', () => {
  test('cut from a material that it has not', () => {
    const made = makeCutPiece(half, 'lining');
    expect(made.ok ? [] : made.faults.map(({ code, what }) => [code, what])).toEqual([
      ['cut-material', 'it is not cut from lining'],
    ]);
  });

  test('a half that reaches behind its fold cannot be unfolded', () => {
    const behind = declare({
      corners: [
        [0, 0],
        [-10, -10],
        [20, -10],
        [20, 30],
        [0, 30],
      ],
      fold: 4,
    });
    const made = makeCutPiece(behind, 'shell');
    expect(made.ok ? [] : made.faults.map(({ code }) => code)).toEqual(['unfold-impossible']);
  });

  test('an outline of less than a square millimetre encloses nothing', () => {
    const sliver = (y: number) =>
      checkPiece(
        declare({
          corners: [
            [0, 0],
            [20, 0],
            [20, y],
          ],
        }),
        'cm',
      ).map(({ code }) => code);
    // Half of 20 cm x 0.01 mm is one square millimetre.
    expect(sliver(0.001)).not.toContain('outline-empty');
    expect(sliver(0.0009)).toContain('outline-empty');
  });

  test('as drawn, in its own frame, a half not unfolded', () => {
    const shape = shapeAsDrawn(half, 'shell');
    if (!shape.ok) throw new Error('no shape');
    const xs = shape.value.outline.map(([x]) => x);
    const ys = shape.value.outline.map(([, y]) => y);
    expect([Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)]).toEqual([
      0, 210_000, -40_000, 310_000,
    ]);
  });

  test('match points of a half are there on both sides, those on the fold once', () => {
    const at = (x: number, y: number) => ({
      value: { at: [x, y] as const, group: 'hip', way: 'both' as const },
      place: half.place,
    });
    const made = makeCutPiece({ ...half, match: [at(100_000, 50_000), at(0, 80_000)] }, 'shell');
    if (!made.ok) throw new Error(made.faults[0]!.what);
    const points = made.value.match.map((point) => point.at.map((um) => um + 0));
    expect(points).toHaveLength(3);
    expect(points[2]).toEqual([points[0]![0], -points[0]![1]!]);
    expect(points[1]![1]).toBe(0);
  });
});

test('where half of the garments lie the other way round, every second one does', () => {
  expect([1, 2, 3, 4].map(isTurnedGarment)).toEqual([false, true, false, true]);
});
