import { expect, test } from 'vitest';
import { type CornerStyle, offsetOutline } from '../../src/geometry/allowance.js';
import { areaUm2 } from '../../src/geometry/outline.js';
import type { Outline } from '../../src/units/types.js';

/** A panel that widens towards its hem, A-B: its sides slant by 10 cm over 60. */
const flared: Outline = [
  [0, 0],
  [400_000, 0],
  [300_000, 600_000],
  [100_000, 600_000],
];
const styled = (style: CornerStyle) => (corner: number) => (corner < 2 ? style : 'plain');

test('a hem folds up on the sides: its allowance is the mirror image of what lies inside it', () => {
  const cutting = offsetOutline(flared, [40_000, 15_000, 10_000, 15_000], () => false, styled('hem'))!;
  const atHem = cutting
    .filter(([, y]) => Math.abs(y) <= 1)
    .map(([x]) => x)
    .sort((a, b) => a - b);
  const below = cutting
    .filter(([, y]) => y === -40_000)
    .map(([x]) => x)
    .sort((a, b) => a - b);
  expect(atHem.length).toBe(2);
  expect(below.length).toBe(2);
  // The side's offset line crosses the hem 15 mm square from the side; it slants 1 in 6.
  const out = 15_000 * Math.sqrt(1 + 1 / 36);
  expect(Math.abs(atHem[1]! - (400_000 + out))).toBeLessThanOrEqual(1);
  // 4 cm further down, mirrored, it has come in by 4 cm / 6.
  expect(Math.abs(below[1]! - (400_000 + out - 40_000 / 6))).toBeLessThanOrEqual(1);
  expect(Math.abs(below[0]! + below[1]! - 400_000)).toBeLessThanOrEqual(2);
});

test('a plain corner goes on widening, a hem corner does not', () => {
  const by = [40_000, 15_000, 10_000, 15_000];
  const plain = areaUm2(offsetOutline(flared, by, () => false, styled('plain'))!);
  const hem = areaUm2(offsetOutline(flared, by, () => false, styled('hem'))!);
  // On each side a triangle twice as wide as the slant over 4 cm.
  expect(plain - hem).toBeCloseTo(2 * 0.5 * 40_000 * (2 * 40_000 * (1 / 6)), -6);
});

test('with equal allowances, or inwards, a hem corner is a plain one', () => {
  for (const by of [
    [10_000, 10_000, 10_000, 10_000],
    [-40_000, -15_000, -10_000, -15_000],
  ]) {
    expect(offsetOutline(flared, by, () => false, styled('hem'))).toEqual(offsetOutline(flared, by));
  }
});

test('a square corner keeps right angles and takes away spikes', () => {
  const square = (): CornerStyle => 'square';
  const box: Outline = [
    [0, 0],
    [300_000, 0],
    [300_000, 200_000],
    [0, 200_000],
  ];
  const by = [10_000, 10_000, 10_000, 10_000];
  expect(offsetOutline(box, by, () => false, square)).toEqual(offsetOutline(box, by));
  const spike: Outline = [
    [0, 0],
    [300_000, 0],
    [0, 130_000],
  ];
  const reach = (outline: Outline): number => Math.max(...outline.map(([x]) => x)) - 300_000;
  const plain = offsetOutline(spike, [10_000, 10_000, 10_000])!;
  const cut = offsetOutline(spike, [10_000, 10_000, 10_000], () => false, square)!;
  expect(reach(plain)).toBeGreaterThan(29_000);
  expect(reach(cut)).toBeLessThan(22_000);
  expect(reach(cut)).toBeGreaterThan(10_000);
});
