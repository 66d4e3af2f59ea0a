/** The largest drawing that is read: more than any drawing of some pieces has. */
import type { Um } from '../units/types.js';

export const drawingLimits = {
  characters: 8_000_000,
  /** Of an SVG drawing. */
  elements: 100_000,
  depth: 200,
  uses: 5_000,
  pathCommands: 2_000,
  /** Of a DXF drawing. */
  entities: 50_000,
  blockDepth: 16,
  insertions: 5_000,
  points: 500_000,
} as const;

/** Farther than this from the origin is a slip of the pen, or of the unit. */
export const drawingReachMax: Um = 20_000_000;
