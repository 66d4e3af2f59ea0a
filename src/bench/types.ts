/** What is measured, and what a measurement says. */
import type { SearchResult } from '../engine/types.js';
import type { Problem, Solution } from '../problem/types.js';

/** One thing to lay: an instance of the literature, or one lay method on one cloth of a cut list. */
export interface Subject {
  readonly name: string;
  readonly sort: 'instance' | 'garment';
  readonly problem: Problem;
  /** Micrometres in one unit of length of the subject: its own unit for an instance, a centimetre for a garment. */
  readonly unitUm: number;
  /** Flat copies to cut: on doubled cloth two for each pair. */
  readonly copies: number;
  /** Measures a lay anew with the checker's arithmetic. */
  judge(solution: Solution, result: SearchResult, seed: number): Judged;
}

/** The piece's outline, mirrored in the x axis if `mirrored`, rotated about the origin, then moved by (x, y); in the
 * subject's unit. */
export interface PlacementFound {
  readonly piece: string;
  readonly mirrored: boolean;
  readonly rotationDegrees: number;
  readonly x: number;
  readonly y: number;
}

export interface Judged {
  /** In the subject's unit. */
  readonly length: number;
  /** Area of all copies over width (for a garment: usable width) x length. */
  readonly utilisationPercent: number;
  readonly verified: boolean;
  readonly placements: readonly PlacementFound[];
}

/** How long a run may take: effort, seconds, or both, whichever ends first. */
export interface Limits {
  readonly effort: number | null;
  readonly seconds: number | null;
}

/** One run with one seed. */
export interface Run extends Judged {
  readonly seed: number;
  /** Effort spent; a run with exactly this effort repeats the lay. */
  readonly effort: number;
  /** Wall clock, with set-up and the start of the threads. */
  readonly seconds: number;
  /** When the first lay was there, and how long it was. */
  readonly first: { readonly seconds: number; readonly length: number };
  readonly status: SearchResult['status'];
  readonly reachedBy: SearchResult['reachedBy'];
}

/** All runs of one subject. */
export interface Row {
  readonly subject: string;
  readonly sort: Subject['sort'];
  readonly copies: number;
  readonly limits: Limits;
  readonly workers: number;
  /** No legal lay is shorter; in the subject's unit. */
  readonly bound: number;
  readonly boundWhy: string;
  readonly runs: readonly Run[];
}
