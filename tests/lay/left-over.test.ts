/** The largest rectangle left, against counting squares. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { largestRectangle, leftOver, throughCuts } from '../../src/lay/left-over.js';
import type { Copy } from '../../src/lay/types.js';
import type { Outline } from '../../src/units/types.js';

const cm = 10_000;

function block(x: number, y: number, along: number, across: number): Outline {
  return [
    [x * cm, y * cm],
    [(x + along) * cm, y * cm],
    [(x + along) * cm, (y + across) * cm],
    [x * cm, (y + across) * cm],
  ];
}

/** The area of the largest free rectangle of whole squares, by trying all of them. */
function bySquares(blocks: readonly (readonly [number, number, number, number])[], size: number): number {
  const isFree = (x: number, y: number, along: number, across: number) =>
    blocks.every(([bx, by, bl, bw]) => bx >= x + along || bx + bl <= x || by >= y + across || by + bw <= y);
  let best = 0;
  for (let x = 0; x < size; x++) {
    for (let y = 0; y < size; y++) {
      for (let along = 1; x + along <= size; along++) {
        for (let across = 1; y + across <= size; across++) {
          if (along * across > best && isFree(x, y, along, across)) best = along * across;
        }
      }
    }
  }
  return best;
}

describe('the largest rectangle left', () => {
  it('is that of counting squares, among blocks on a grid', () => {
    const size = 8;
    const place = fc.tuple(fc.nat(7), fc.nat(7), fc.integer({ min: 1, max: 4 }), fc.integer({ min: 1, max: 4 }));
    fc.assert(
      fc.property(fc.array(place, { maxLength: 5 }), (blocks) => {
        const { along, across } = largestRectangle(
          blocks.map((each) => block(...each)),
          [0, size * cm],
          [0, size * cm],
        );
        expect(along * across).toBe(bySquares(blocks, size) * cm * cm);
      }),
      { numRuns: 200 },
    );
  });

  it('keeps off slanting edges', () => {
    // A right triangle over half of a square of 10 cm: the largest rectangle beside it has its corner on the slant,
    // half way: 5 x 5 cm (by hand: x (10 - x) is largest at 5).
    const triangle: Outline = [
      [0, 0],
      [10 * cm, 0],
      [0, 10 * cm],
    ];
    const { x, y, along, across } = largestRectangle([triangle], [0, 10 * cm], [0, 10 * cm]);
    expect([along, across]).toEqual([5 * cm, 5 * cm]);
    expect(x + y).toBeGreaterThanOrEqual(10 * cm);
  });

  it('is nothing where all is covered', () => {
    const { along, across } = largestRectangle([block(0, 0, 3, 3)], [0, 3 * cm], [0, 3 * cm]);
    expect(along * across).toBe(0);
  });
});

describe('what is left of a cloth', () => {
  const bought = { length: null, shrinkagePpm: null, ends: [0, 0], usable: [0, 20 * cm], flaws: [] };
  const lay = (buyParts: readonly { why: string; um: number }[], method = 'open') =>
    ({
      cloth: bought,
      copies: [{ outline: block(0, 0, 10, 20) }],
      totals: { buy: 30 * cm, buyParts },
      stretches: [{ method }],
    }) as unknown as Parameters<typeof leftOver>[0];

  it('is what lies beyond the pieces', () => {
    expect(leftOver(lay([]))).toEqual({ x: 10 * cm, y: 0, along: 20 * cm, across: 20 * cm });
  });

  it('does not count what reaching the first bar may take', () => {
    expect(leftOver(lay([{ why: 'reaching the first bar', um: 8 * cm }]))!.along).toBe(12 * cm);
  });

  it('is not told of a tube', () => {
    expect(leftOver(lay([], 'tube'))).toBeNull();
  });
});

it('counts straight cuts across the cloth that meet no copy', () => {
  const copy = (outline: Outline) => ({ outline }) as Copy;
  expect(
    throughCuts({ copies: [block(0, 0, 3, 2), block(1, 4, 3, 2), block(4, 0, 2, 9), block(7, 0, 1, 1)].map(copy) }),
  ).toBe(1);
  expect(throughCuts({ copies: [] })).toBe(0);
});
