/** The largest cut list that is read. Each limit answers with a sentence that names it. */
import type { Um } from '../units/types.js';

export const limits = {
  pieces: 200,
  cloths: 50,
  /** Corners of one piece, and points given for one curve. */
  corners: 500,
  curvePoints: 200,
  /** Points of one piece, and of all pieces, once its curves are flattened: some tens for a curve, as a rule. */
  flatPoints: 3_000,
  flatPointsInAll: 30_000,
  marks: 500,
  seams: 500,
  /** Copies that one wording may ask for. */
  copies: 1_000,
  nameLength: 100,
  textLength: 500,
} as const;

/** Farther than this from the origin of its drawing is a slip of the pen. */
export const coordinateMax: Um = 20_000_000;
/** The widest cloth, and the longest remnant. */
export const clothWidthMax: Um = 20_000_000;
export const clothLengthMax: Um = 40_000_000;
/** The longest repeat. */
export const repeatMax: Um = 5_000_000;
/** Widest allowance and largest gap that make sense on cloth. */
export const smallLengthMax: Um = 1_000_000;
