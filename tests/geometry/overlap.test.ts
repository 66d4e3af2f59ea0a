/** Contacts that fool "edges cross or a vertex lies inside", and exact distances. */
import { describe, expect, it } from 'vitest';
import { outlineContains, outlinesApart, outlinesOverlap } from '../../src/geometry/overlap.js';
import type { Outline } from '../../src/units/types.js';

const square: Outline = [
  [0, 0],
  [10, 0],
  [10, 10],
  [0, 10],
];
const diamond: Outline = [
  [5, 0],
  [10, 5],
  [5, 10],
  [0, 5],
];

describe('direct overlap', () => {
  it('sees outlines that pass through each other at vertices alone', () => {
    // Both have all vertices on the other's border or outside; no two edges cross properly.
    const flat: Outline = [
      [0, 5],
      [5, 3],
      [10, 5],
      [5, 7],
    ];
    const steep: Outline = [
      [5, 0],
      [7, 5],
      [5, 10],
      [3, 5],
    ];
    expect(outlinesOverlap(square, [0, 0], diamond, [0, 0])).toBe(true);
    expect(outlinesOverlap(flat, [0, 0], steep, [0, 0])).toBe(true);
    expect(
      outlinesOverlap(
        [
          [0, 0],
          [10, 0],
          [10, 10],
        ],
        [0, 0],
        [
          [0, 0],
          [10, 10],
          [0, 10],
        ],
        [0, 0],
      ),
    ).toBe(false);
  });

  it('lets sides and corners touch', () => {
    expect(outlinesOverlap(square, [0, 0], square, [10, 0])).toBe(false);
    expect(outlinesOverlap(square, [0, 0], square, [10, 10])).toBe(false);
    expect(outlinesOverlap(square, [0, 0], square, [10, 3])).toBe(false);
    expect(outlinesOverlap(square, [0, 0], square, [9, 9])).toBe(true);
  });

  it('sees one inside the other, with and without contact', () => {
    const small: Outline = [
      [0, 0],
      [2, 0],
      [2, 2],
      [0, 2],
    ];
    for (const at of [
      [4, 4],
      [0, 0],
      [8, 4],
    ] as const) {
      expect(outlinesOverlap(square, [0, 0], small, at)).toBe(true);
      expect(outlinesOverlap(small, at, square, [0, 0])).toBe(true);
    }
  });

  it('lets a piece fill a notch without overlap', () => {
    const notched: Outline = [
      [0, 0],
      [10, 0],
      [10, 10],
      [6, 10],
      [6, 4],
      [4, 4],
      [4, 10],
      [0, 10],
    ];
    const peg: Outline = [
      [0, 0],
      [2, 0],
      [2, 6],
      [0, 6],
    ];
    expect(outlinesOverlap(notched, [0, 0], peg, [4, 4])).toBe(false);
    expect(outlinesOverlap(notched, [0, 0], peg, [4, 3])).toBe(true);
    expect(outlinesOverlap(notched, [0, 0], peg, [3, 4])).toBe(true);
  });
});

describe('containment', () => {
  it('counts the border in and sticks to the true shape', () => {
    expect(outlineContains(square, diamond)).toBe(true);
    expect(outlineContains(diamond, square)).toBe(false);
    expect(outlineContains(square, square)).toBe(true);
    const notched: Outline = [
      [0, 0],
      [10, 0],
      [10, 10],
      [6, 10],
      [5, 4],
      [4, 10],
      [0, 10],
    ];
    expect(outlineContains(square, notched)).toBe(true);
    expect(outlineContains(notched, square)).toBe(false);
    expect(
      outlineContains(notched, [
        [4, 10],
        [5, 4],
        [6, 10],
      ]),
    ).toBe(false);
  });
});

describe('distance', () => {
  it('is exact between corners (3, 4, 5) and between a corner and a slanting side', () => {
    expect(outlinesApart(square, [0, 0], square, [13, 14], 5)).toBe(true);
    expect(outlinesApart(square, [0, 0], square, [13, 14], 6)).toBe(false);
    expect(outlinesApart(square, [0, 0], square, [13, 13], 5)).toBe(false);
    // The corner (10, 10) lies 5 from the line 3x + 4y = 95.
    const slanting: Outline = [
      [25, 5],
      [25, 15],
      [15, 15],
      [5, 20],
    ];
    expect(outlinesApart(square, [0, 0], slanting, [0, 0], 5)).toBe(true);
    expect(outlinesApart(square, [0, 0], slanting, [-1, 0], 5)).toBe(false);
  });

  it('needs no gap when none is asked', () => {
    expect(outlinesApart(square, [0, 0], square, [10, 0], 0)).toBe(true);
    expect(outlinesApart(square, [0, 0], square, [10, 0], 1)).toBe(false);
    expect(outlinesApart(square, [0, 0], square, [9, 0], 0)).toBe(false);
  });
});
