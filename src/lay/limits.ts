/** The largest lay that is planned, and the largest lay file that is read: what one writes the other reads. */
import type { Um } from '../units/types.js';

export const layLimits = {
  /** A lay with all the points below stays within it. */
  fileCharacters: 24_000_000,
  textCharacters: 2_000,
  cutLists: 50,
  /** A search holds two numbers for each pair of copies. */
  copies: 3_000,
  placements: 3_000,
  pieces: 3_000,
  /** Of the cutting lines of all copies together; a thousand copies with 500 points each take two thirds of it. */
  points: 750_000,
  pointsPerOutline: 20_000,
  marksPerPiece: 10_000,
} as const;

/** Lays that need more are not planned: coordinates end at 47.4 m, and the first lays of a search are far from short. */
export const layLengthMax: Um = 20_000_000;
