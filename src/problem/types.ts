/**
 * The problem: frozen numbers for the search, with no words of the trade left but piece and zone.
 *
 * Search frame: x >= 0 along the cloth, y across it, whole micrometres. A zone is a y range that shares the
 * length with the others. A shape is an oriented outline; its reference point is its own (0, 0), so a copy of
 * shape s at (x, y) covers `outline + (x, y)`.
 */
import type { Outline, Um } from '../units/types.js';

/** An oriented outline, counter-clockwise, simple. */
export interface Shape {
  readonly outline: Outline;
  /** It keeps so far from x = 0; nothing when left out. */
  readonly keepUm?: Um;
}

/** Where a place on a lattice may lie: reference x = xOffset + k * xStep (likewise y); 0 step = free. */
export interface Lattice {
  readonly xStep: Um;
  readonly xOffset: Um;
  readonly yStep: Um;
  readonly yOffset: Um;
}

/**
 * One allowed way to put a piece down: a shape in a zone with a closed range for its reference y
 * (yMin = yMax: fixed, as on the fold). The range already keeps the whole outline inside the zone.
 */
export interface Choice {
  readonly shape: number;
  readonly zone: number;
  readonly yMin: Um;
  readonly yMax: Um;
  readonly lattice: Lattice | null;
}

/** `count` identical things to place, each by one of its choices. */
export interface Kind {
  readonly name: string;
  readonly count: number;
  readonly choices: readonly Choice[];
}

export interface Zone {
  readonly yFrom: Um;
  readonly yTo: Um;
}

/** Something that never moves: a flaw, a crease, what is pinned. */
export interface Blocked {
  readonly shape: number;
  readonly x: Um;
  readonly y: Um;
}

/** What is pinned lies as a blocked thing, and counts as laid all the same: for the length, and for what is needed at least. */
export interface Pinned extends Blocked {
  readonly name: string;
  /** null = it does not lie wholly within one, so only its end counts. */
  readonly zone: number | null;
}

export interface Problem {
  readonly zones: readonly Zone[];
  readonly shapes: readonly Shape[];
  readonly kinds: readonly Kind[];
  readonly blocked: readonly Blocked[];
  /** Those of the blocked things that are pinned; left out = none. */
  readonly pinned?: readonly Pinned[];
  /** Least distance between two placed shapes; 0 = may touch. None towards the zone's edges or x = 0. */
  readonly gapUm: Um;
  /** Lays longer than this are of no use (cloth at hand), or null. */
  readonly lengthMaxUm: Um | null;
  /** SHA-256 of the canonical numbers above. */
  readonly hash: string;
}

/** Where one thing lies: `kind` and `choice` index into the problem. */
export interface Spot {
  readonly kind: number;
  readonly choice: number;
  readonly x: Um;
  readonly y: Um;
}

/** A legal lay of the problem: every kind placed `count` times, leftmost point at x >= 0. */
export interface Solution {
  readonly spots: readonly Spot[];
  /** Largest x any outline reaches, that of what is pinned too. */
  readonly lengthUm: Um;
}
