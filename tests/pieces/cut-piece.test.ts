import { describe, expect, test } from 'vitest';
import { areaUm2, boundsOf, isCounterClockwise } from '../../src/geometry/outline.js';
import { checkPiece } from '../../src/pieces/check-piece.js';
import { makeCutPiece } from '../../src/pieces/cut-piece.js';
import { isOwnMirrorImage } from '../../src/pieces/mirror-image.js';
import type { CutPiece, DeclaredPiece } from '../../src/pieces/types.js';
import { declare, type Sketch } from '../support/declared.js';

/** 10 x 20 cm, A foot left, B foot right, C head right, D head left. */
const rectangle: Sketch = {
  corners: [
    [0, 0],
    [10, 0],
    [10, 20],
    [0, 20],
  ],
};

/** A right triangle: it has a left and a right. */
const wedge: Sketch = {
  corners: [
    [0, 0],
    [10, 0],
    [0, 20],
  ],
};

function cutFrom(piece: DeclaredPiece): CutPiece {
  expect(checkPiece(piece, 'cm').filter(({ severity }) => severity === 'error')).toEqual([]);
  const made = makeCutPiece(piece, 'shell');
  if (!made.ok) throw new Error(made.faults.map(({ what }) => what).join());
  return made.value;
}

describe('grain frame', () => {
  test('foot to head becomes +x, the foot the origin', () => {
    const piece = cutFrom(declare(rectangle));
    expect(boundsOf(piece.outline)).toEqual({ minX: 0, maxX: 200_000, minY: -50_000, maxY: 50_000 });
    expect(piece.grain).toEqual([
      [0, 0],
      [100_000, 0],
    ]);
    expect(isCounterClockwise(piece.outline)).toBe(true);
  });

  test('left of the drawing is +y of the grain frame: the handedness is kept', () => {
    const piece = cutFrom(declare(wedge));
    // The drawing's point D at the head left (x = 0) lies 5 cm left of the grain line.
    expect(piece.outline).toContainEqual([200_000, 50_000]);
    expect(piece.outline).not.toContainEqual([200_000, -50_000]);
  });

  test('a drawing that runs clockwise gives the same piece', () => {
    const clockwise = declare({ ...wedge, corners: [...wedge.corners].reverse(), allowance: [1, 2, 3] });
    const straight = declare({ ...wedge, allowance: [2, 1, 3] });
    const sorted = (piece: CutPiece) => [...piece.outline].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
    expect(sorted(cutFrom(clockwise))).toEqual(sorted(cutFrom(straight)));
  });
});

describe('allowances', () => {
  test('corners are plain: a rectangle grows to a rectangle', () => {
    const piece = cutFrom(declare({ ...rectangle, allowance: [3, 1, 0, 2] }));
    expect(boundsOf(piece.outline)).toEqual({ minX: -30_000, maxX: 200_000, minY: -60_000, maxY: 70_000 });
    expect(areaUm2(piece.outline)).toBe(230_000 * 130_000);
    expect(areaUm2(piece.seam!)).toBe(200_000 * 100_000);
  });

  test('a corner farther out than 3 x the larger allowance is cut square there', () => {
    const needle = declare({
      corners: [
        [0, 0],
        [40, 0],
        [0, 4],
      ],
      grain: [
        [0, 1],
        [20, 1],
      ],
      allowance: [1, 1, 1],
    });
    // The tip is at (40, 0) cm, in the grain frame (400 000, -10 000); extended, the corner would lie 20 cm out.
    const slope = Math.sqrt(40 * 40 + 4 * 4);
    const away = [1 + 40 / slope, -4 / slope] as const;
    const size = Math.sqrt(away[0] ** 2 + away[1] ** 2);
    const reach = cutFrom(needle).outline.map(([x, y]) => ((x - 400_000) * away[0] + (y + 10_000) * away[1]) / size);
    expect(Math.abs(Math.max(...reach) - 30_000)).toBeLessThan(1.5);
  });

  test('an inner corner keeps the allowance on both sides', () => {
    const piece = cutFrom(
      declare({
        corners: [
          [0, 0],
          [20, 0],
          [20, 10],
          [10, 10],
          [10, 20],
          [0, 20],
        ],
        allowance: [1, 1, 1, 1, 1, 1],
      }),
    );
    expect(piece.outline).toHaveLength(6);
    // Grain frame: x along, y to the left; the inner corner (10, 10) moves to (11, 11) in the drawing.
    expect(piece.outline).toContainEqual([110_000, -60_000]);
    expect(areaUm2(piece.outline)).toBe(220_000 * 120_000 + 120_000 * 100_000);
  });

  test('drawn cut: the allowance lies inwards and only places the seam line', () => {
    const piece = cutFrom(declare({ ...rectangle, drawn: 'cut', allowance: [1, 1, 1, 1] }));
    expect(areaUm2(piece.outline)).toBe(200_000 * 100_000);
    expect(areaUm2(piece.seam!)).toBe(180_000 * 80_000);
  });

  test('an allowance that swallows the piece inwards is a fault', () => {
    const faults = checkPiece(declare({ ...rectangle, drawn: 'cut', allowance: [6, 6, 6, 6] }), 'cm');
    expect(faults.map(({ code }) => code)).toEqual(['allowance-impossible']);
  });
});

describe('on the fold', () => {
  const half: Sketch = { ...rectangle, fold: 3, allowance: [3, 1, 1, 5], notches: [{ edge: 1, at: 4 }], awl: [[6, 6]] };

  test('unfolds about y = 0, without allowance on the fold edge', () => {
    const piece = cutFrom(declare(half));
    expect(piece.onFold).toBe(true);
    expect(boundsOf(piece.outline)).toEqual({ minX: -30_000, maxX: 210_000, minY: -110_000, maxY: 110_000 });
    expect(piece.outline).toHaveLength(4);
    expect(piece.demand).toEqual({ asDrawn: 1, mirrored: 0 });
  });

  test('lists marks for both halves', () => {
    const piece = cutFrom(declare(half));
    expect(piece.awl).toEqual([
      [60_000, -60_000],
      [60_000, 60_000],
    ]);
    expect(piece.notches).toEqual([
      [
        [40_000, -110_000],
        [40_000, -106_000],
      ],
      [
        [40_000, 110_000],
        [40_000, 106_000],
      ],
    ]);
  });

  test.each([
    [
      'left half',
      [
        [0, 0],
        [10, 0],
        [10, 20],
        [0, 20],
      ],
      3,
    ],
    [
      'right half',
      [
        [0, 0],
        [10, 0],
        [10, 20],
        [0, 20],
      ],
      1,
    ],
  ] as const)('a %s gives the same whole', (_, corners, fold) => {
    const piece = cutFrom(declare({ corners, fold }));
    expect(boundsOf(piece.outline)).toEqual({ minX: 0, maxX: 200_000, minY: -100_000, maxY: 100_000 });
    expect(isOwnMirrorImage(piece)).toBe(true);
  });

  test('a fold square to the grain lies at x = 0', () => {
    const piece = cutFrom(declare({ ...rectangle, fold: 0 }));
    expect(boundsOf(piece.outline)).toEqual({ minX: -200_000, maxX: 200_000, minY: -50_000, maxY: 50_000 });
  });

  test('a fold askew to the grain is unfolded and stays off the fold', () => {
    const piece = declare({ ...wedge, fold: 1 });
    expect(checkPiece(piece, 'cm').map(({ code }) => code)).toEqual(['fold-askew']);
    const made = cutFrom(piece);
    expect(made.onFold).toBe(false);
    // A kite of twice the wedge; its mirrored point is rounded to whole micrometres.
    expect(Math.abs(areaUm2(made.outline) - 2 * 100_000 * 100_000) / (2 * 100_000 * 100_000)).toBeLessThan(1e-5);
  });

  test('faults: not straight, on both sides, wording', () => {
    const bent = declare({
      corners: [
        [0, 0],
        [10, 0],
        [10, 20],
        [0, 20],
        [0.2, 10],
      ],
    });
    const fold = { value: { name: 'D-A', edges: [3, 4], reversed: false }, place: bent.place };
    const cut = [{ ...bent.cut[0]!, terms: [{ count: 1, kind: 'on fold' as const }], text: '1 on fold' }];
    expect(checkPiece({ ...bent, fold, cut }, 'cm').map(({ code }) => code)).toEqual(['fold-not-straight']);
    const across = declare({
      corners: [
        [0, 0],
        [10, 0],
        [10, 20],
        [-5, 10],
        [0, 5],
      ],
      fold: 4,
    });
    expect(checkPiece(across, 'cm').map(({ code }) => code)).toEqual(['fold-inside']);
    expect(
      checkPiece(declare({ ...rectangle, fold: 3, cut: [{ count: 2, kind: 'pair' }] }), 'cm').map(({ code }) => code),
    ).toEqual(['fold-wording']);
    expect(
      checkPiece(declare({ ...rectangle, cut: [{ count: 1, kind: 'on fold' }] }), 'cm').map(({ code }) => code),
    ).toEqual(['fold-wording']);
  });
});

describe('wording', () => {
  test.each([
    [wedge, [{ count: 1, kind: 'pair' }], { asDrawn: 1, mirrored: 1 }],
    [wedge, [{ count: 4, kind: 'plain' }], { asDrawn: 2, mirrored: 2 }],
    [wedge, [{ count: 3, kind: 'plain' }], { asDrawn: 2, mirrored: 1 }],
    [wedge, [{ count: 2, kind: 'same way' }], { asDrawn: 2, mirrored: 0 }],
    [
      wedge,
      [
        { count: 1, kind: 'pair' },
        { count: 1, kind: 'same way' },
      ],
      { asDrawn: 2, mirrored: 1 },
    ],
    [rectangle, [{ count: 2, kind: 'pair' }], { asDrawn: 4, mirrored: 0 }],
    [rectangle, [{ count: 2, kind: 'plain' }], { asDrawn: 2, mirrored: 0 }],
  ] as const)('%#', (sketch, cut, demand) => {
    expect(cutFrom(declare({ ...sketch, cut })).demand).toEqual(demand);
  });

  test('a bare even number of a piece with a left and a right is read as pairs, with a notice', () => {
    const codes = (sketch: Sketch) => checkPiece(declare(sketch), 'cm').map(({ code }) => code);
    expect(codes({ ...wedge, cut: [{ count: 2, kind: 'plain' }] })).toEqual(['read-as-pairs']);
    expect(codes({ ...rectangle, cut: [{ count: 2, kind: 'plain' }] })).toEqual([]);
  });
});

describe('its own mirror image', () => {
  test('up to half a millimetre, marks included', () => {
    const mirror = (sketch: Sketch) => isOwnMirrorImage(cutFrom(declare(sketch)));
    expect(mirror(rectangle)).toBe(true);
    expect(mirror(wedge)).toBe(false);
    expect(
      mirror({
        ...rectangle,
        corners: [
          [0, 0],
          [10, 0],
          [10, 20],
          [0, 20.04],
        ],
      }),
    ).toBe(true);
    expect(
      mirror({
        ...rectangle,
        corners: [
          [0, 0],
          [10, 0],
          [10, 20],
          [0, 20.1],
        ],
      }),
    ).toBe(false);
    expect(mirror({ ...rectangle, awl: [[3, 5]] })).toBe(false);
    expect(
      mirror({
        ...rectangle,
        awl: [
          [3, 5],
          [7, 5],
        ],
      }),
    ).toBe(true);
    expect(mirror({ ...rectangle, notches: [{ edge: 1, at: 4 }] })).toBe(false);
    expect(
      mirror({
        ...rectangle,
        notches: [
          { edge: 1, at: 4 },
          { edge: 3, at: 4, reversed: true },
        ],
      }),
    ).toBe(true);
  });
});

describe('notches', () => {
  test('stand on the cutting line, square to the edge, and are measured along the seam line', () => {
    const net = cutFrom(declare({ ...rectangle, allowance: [1, 1, 1, 1], notches: [{ edge: 1, at: 5 }] }));
    expect(net.notches).toEqual([
      [
        [50_000, -60_000],
        [50_000, -56_000],
      ],
    ]);
    // Drawn cut: the seam line begins 1 cm in from the drawn corner.
    const cut = cutFrom(
      declare({ ...rectangle, drawn: 'cut', allowance: [1, 1, 1, 1], notches: [{ edge: 1, at: 5 }] }),
    );
    expect(cut.notches).toEqual([
      [
        [60_000, -50_000],
        [60_000, -46_000],
      ],
    ]);
  });

  test('one past the end of its edge is a fault', () => {
    const past = (drawn: 'net' | 'cut') =>
      checkPiece(declare({ ...rectangle, drawn, allowance: [1, 1, 1, 1], notches: [{ edge: 1, at: 19 }] }), 'cm');
    expect(past('net')).toEqual([]);
    expect(past('cut').map(({ code }) => code)).toEqual(['notch-off-edge']);
  });

  test('on an edge whose seam line the allowances beside it eat up says so, not a length below nothing', () => {
    const strap = declare({
      corners: [
        [0, 0],
        [3, 0],
        [3, 20],
        [0, 20],
      ],
      drawn: 'cut',
      allowance: [1, 2, 1, 2],
      notches: [{ edge: 0, at: 0.5 }],
    });
    const [fault] = checkPiece(strap, 'cm');
    expect(fault).toMatchObject({ code: 'notch-off-edge' });
    expect(fault!.what).toContain('of whose seam line the allowances beside it leave nothing');
  });
});

describe('a wide allowance beside a narrow one', () => {
  test('keeps its width along the whole edge at a shallow corner', () => {
    const hem = declare({
      corners: [
        [0, 0],
        [40, 0],
        [80, 1],
        [80, 40],
        [0, 40],
      ],
      allowance: [4, 1, 1, 1, 1],
    });
    const { outline } = cutFrom(hem);
    // Grain frame: the hem A-B runs from y = +5 cm to y = -35 cm at x = 0; its cutting line lies at x = -4 cm.
    const ys = outline.filter(([x]) => x === -40_000).map(([, y]) => y);
    expect(Math.min(...ys)).toBe(50_000 - 400_000);
    expect(Math.max(...ys)).toBe(50_000 + 10_000);
  });

  test('beside the fold it runs on to the fold line', () => {
    const half = declare({
      corners: [
        [0, 0],
        [30, -5],
        [30, 40],
        [0, 40],
      ],
      fold: 3,
      allowance: [3, 1, 1, 0],
    });
    const { outline } = cutFrom(half);
    expect(outline.some(([x, y]) => y === 0 && x < -30_000 && x > -31_000)).toBe(true);
  });
});

describe('notches near the ends', () => {
  test('one on the fold line is not listed twice', () => {
    const half = declare({ ...rectangle, fold: 3, notches: [{ edge: 0, at: 0 }], allowance: [1, 1, 1, 0] });
    expect(cutFrom(half).notches).toHaveLength(1);
  });

  test('a double notch keeps its two slits 6 mm apart', () => {
    const double = (at: number) => {
      const piece = declare({ ...rectangle, notches: [{ edge: 1, at }] });
      const notches = piece.notches.map(({ value, place }) => ({ value: { ...value, double: true }, place }));
      return cutFrom({ ...piece, notches }).notches.map(([[x]]) => x);
    };
    expect(double(5)).toEqual([47_000, 53_000]);
    expect(double(0)).toEqual([0, 6_000]);
    expect(double(20)).toEqual([194_000, 200_000]);
  });
});
