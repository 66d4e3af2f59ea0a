/** Cut pieces and a cloth made in a test without a file. */
import type { Cloth } from '../../src/cloth/types.js';
import type { CutPiece, Demand } from '../../src/pieces/types.js';
import type { Outline } from '../../src/units/types.js';

export const lawn: Cloth = {
  name: 'lawn',
  width: 1_150_000,
  usable: [10_000, 1_140_000],
  length: null,
  ends: [20_000, 20_000],
  gap: 3_000,
  nap: 'one-way',
  faces: 'one',
  grain: 'woven',
  fusible: false,
  repeat: null,
  flaws: [],
  shrinkagePpm: null,
  soldBy: 100_000,
  priceMinorPerMetre: null,
  currency: null,
};

export function plainPiece(id: string, outline: Outline, demand: Demand, onFold = false): CutPiece {
  return {
    id,
    size: null,
    outline,
    onFold,
    turn: null,
    cross: false,
    tiltMaxMicrodegrees: 0,
    label: 'cut as wanted',
    note: null,
    grain: [
      [0, 0],
      [10_000, 0],
    ],
    seam: null,
    lines: [],
    notches: [],
    awl: [],
    match: [],
    demand,
  };
}

/** Symmetric about y = 0, 20 x 20 cm. */
export function square(demand: Demand): CutPiece {
  return plainPiece(
    'Square',
    [
      [0, -100_000],
      [200_000, -100_000],
      [200_000, 100_000],
      [0, 100_000],
    ],
    demand,
  );
}

/** Has a left and a right; 20 cm along, 18 to 23 cm across. */
export function slant(demand: Demand): CutPiece {
  return plainPiece(
    'Slant',
    [
      [0, 0],
      [200_000, 0],
      [200_000, 180_000],
      [0, 230_000],
    ],
    demand,
  );
}
