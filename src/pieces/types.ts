/**
 * Pieces: as declared in the cut list (`DeclaredPiece`) and ready to cut (`CutPiece`).
 *
 * Frames. A declared piece is in its own drawing frame: x right, y up, whole micrometres, seen from the
 * right side of the cloth with the paper lying printed side up. A cut piece is in its grain frame: the grain
 * line's foot is the origin and foot -> head is +x; for a piece on the fold the foot is projected on the fold
 * line, which is then y = 0 (x = 0 where the fold is square to the grain).
 */
import type { Located, Place } from '../diagnostics/types.js';
import type { CornerStyle } from '../geometry/allowance.js';
import type { Outline, Point, Um } from '../units/types.js';

/** A lettered corner of the drawing. */
export interface Corner {
  readonly label: string;
  readonly at: Point;
  readonly place: Place;
}

/** The edge from corners[i] to corners[i + 1] (the last one back to corners[0]), curves flattened. */
export interface DeclaredEdge {
  /** Both ends included: the first point is this edge's corner, the last the next corner. */
  readonly points: readonly Point[];
  readonly curved: boolean;
  readonly place: Place;
}

/** An edge or a run of edges, named as in the file: `C-D`, `D-C` (the same edge from the other end), `B-E`. */
export interface EdgeRun {
  readonly name: string;
  /** Indices into `edges`, in the order in which the run passes them. */
  readonly edges: readonly number[];
  /** True when the run passes its edges against the file order (`D-C`). */
  readonly reversed: boolean;
}

export interface DeclaredGrain {
  readonly foot: Point;
  /** The head is the end worn uppermost. */
  readonly head: Point;
  /** `also: cross`: a quarter turn is allowed. */
  readonly cross: boolean;
}

/** One term of a cut wording: `2 pairs`, `1 on fold`, `4 same way`, or a bare number. */
export interface CutTerm {
  readonly count: number;
  readonly kind: 'plain' | 'on fold' | 'pair' | 'same way';
}

/** What to cut from one material. */
export interface MaterialCut {
  readonly material: string;
  readonly terms: readonly CutTerm[];
  /** As written, for labels and faults. */
  readonly text: string;
  readonly place: Place;
}

/** Allowance of every edge, in file order of the edges. */
export interface EdgeAllowances {
  readonly byEdge: readonly Um[];
  /** Of what is no edge of the outline: the waist of a full circle. */
  readonly rest: Um;
  readonly place: Place | null;
}

export interface DeclaredNotch {
  readonly run: EdgeRun;
  /** Along the seam line from the run's first corner. */
  readonly atUm: Um;
  readonly depthUm: Um;
  readonly double: boolean;
}

/** Sewn away from the edge to a tip: `width` of the seam line is taken up, half to each side of `at`. */
export interface DeclaredDart {
  readonly run: EdgeRun;
  readonly atUm: Um;
  readonly widthUm: Um;
  readonly tip: Point;
}

/** Folded away along the edge: twice the depth of the seam line is taken up, the depth to each side of `at`. */
export interface DeclaredPleat {
  readonly run: EdgeRun;
  readonly atUm: Um;
  readonly depthUm: Um;
}

/** A point that lies on the same place of the cloth's repeat as every other point of its group. */
export interface MatchPoint {
  readonly at: Point;
  readonly group: string;
  readonly way: 'along' | 'across' | 'both';
}

export interface DeclaredPiece {
  readonly id: string;
  readonly place: Place;
  readonly size: string | null;
  readonly note: string | null;
  /** net: the outline is the seam line, allowances are added. cut: the outline is the cutting line. */
  readonly drawn: 'net' | 'cut';
  readonly corners: readonly Corner[];
  readonly edges: readonly DeclaredEdge[];
  /** The file draws it with y downwards, as path data; here y runs upwards all the same. */
  readonly yDown: boolean;
  readonly fold: Located<EdgeRun> | null;
  readonly grain: Located<DeclaredGrain>;
  readonly cut: readonly MaterialCut[];
  /** Allowances for materials named in the file; any other material uses `allowanceDefault`. */
  readonly allowanceByMaterial: ReadonlyMap<string, EdgeAllowances>;
  readonly allowanceDefault: EdgeAllowances;
  /** Style of each corner, in file order of the corners. */
  readonly cornerStyles: readonly CornerStyle[];
  readonly notches: readonly Located<DeclaredNotch>[];
  readonly awl: readonly Located<Point>[];
  readonly darts: readonly Located<DeclaredDart>[];
  readonly pleats: readonly Located<DeclaredPleat>[];
  readonly match: readonly Located<MatchPoint>[];
  /** Lines drawn on the piece, to be chalked and not cut. */
  readonly inner: readonly (readonly Point[])[];
  /** A closed seam line inside the outline, cut out within its allowance; nothing is laid there. */
  readonly hole: readonly Point[] | null;
  /** So many alike parts are cut and joined for each one asked for; null for a piece in one part. */
  readonly parts: number | null;
  readonly tiltMaxMicrodegrees: number;
  readonly measured: readonly Located<{ readonly run: EdgeRun; readonly lengthUm: Um }>[];
  /** `turn: yes/no` overrides the cloth; null = the cloth decides. */
  readonly turn: boolean | null;
}

/** How many copies are wanted: as drawn (paper printed side up) and mirrored about the grain line. */
export interface Demand {
  readonly asDrawn: number;
  readonly mirrored: number;
}

/** The first and the last number of some garments. */
export type GarmentRange = readonly [number, number];

/** `inner` is cut out, a closed line; `mark` is only drawn. */
export type LineKind = 'hem' | 'dart' | 'pleat' | 'fold' | 'inner' | 'mark';

/**
 * A piece ready to cut from one material. This is also, key for key, an entry of `pieces` in the lay file.
 * `outline` is the cutting line, counter-clockwise, simple, on-fold pieces unfolded (then symmetric to the
 * micrometre about the fold line); `seam` the net line, or null where there is none of its own.
 */
export interface CutPiece {
  readonly id: string;
  readonly size: string | null;
  readonly outline: Outline;
  readonly onFold: boolean;
  readonly turn: boolean | null;
  readonly cross: boolean;
  readonly tiltMaxMicrodegrees: number;
  readonly label: string;
  readonly note: string | null;
  readonly grain: readonly [Point, Point];
  readonly seam: Outline | null;
  readonly lines: readonly { readonly kind: LineKind; readonly points: readonly Point[] }[];
  /** Each notch is a slit [on the cutting line, its inner end]; both halves listed for an on-fold piece. */
  readonly notches: readonly (readonly [Point, Point])[];
  readonly awl: readonly Point[];
  readonly match: readonly MatchPoint[];
  /** For one garment. */
  readonly demand: Demand;
  /** The garments that it goes into, where a lay is of several cut lists; left out = all of the lay. */
  readonly garments?: GarmentRange | undefined;
}
