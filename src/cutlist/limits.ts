/** The largest cut list that is read. Each limit answers with a sentence that names it. */
import { drawingReachMax } from '../drawings/limits.js';
import type { Um } from '../units/types.js';

export const limits = {
  pieces: 200,
  /** Each remnant counts. */
  cloths: 50,
  materials: 50,
  flaws: 500,
  /** Different files that pieces are drawn in. */
  drawings: 50,
  /** Corners of one piece, and points given for one curve. */
  corners: 500,
  curvePoints: 200,
  /** Points of one piece, and of all pieces, once its curves are flattened: some tens for a curve, as a rule. */
  flatPoints: 3_000,
  flatPointsInAll: 30_000,
  marks: 500,
  seams: 500,
  /** Copies, or strips of copies, that one wording may ask for. */
  copies: 1_000,
  nameLength: 100,
  textLength: 500,
} as const;

/** Smaller ones each way are slips of the pen, or of the unit. */
export const pieceSizeMin: Um = 1_000;
/** Farther than this from the origin of its drawing is a slip of the pen. */
export const coordinateMax: Um = drawingReachMax;
/** The narrowest and widest cloth, also what is usable of it, and the longest remnant. */
export const clothWidthMin: Um = 10_000;
export const clothWidthMax: Um = 20_000_000;
export const clothLengthMax: Um = 40_000_000;
/** The longest repeat. */
export const repeatMax: Um = 5_000_000;
/** Widest allowance and largest gap that make sense on cloth. */
export const smallLengthMax: Um = 1_000_000;
