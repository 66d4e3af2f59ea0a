/**
 * The lay: which copy lies where. These types are, key for key, the lay file `shortlay-lay/1` (docs/lay-file.md).
 * Whole micrometres, flat cloth frame, seen from the right side of the cloth.
 */
import type { Cloth, LayMethod } from '../cloth/types.js';
import type { CutListHash } from '../pieces/garments.js';
import type { CutPiece } from '../pieces/types.js';
import type { Outline, Point, Um } from '../units/types.js';

export type LayStatus = 'proven shortest' | 'shortest found' | 'interrupted';
export type Turn = 0 | 90 | 180 | 270;

/**
 * A part of the lay's length with one lay method; folds are depths (f1, f2) from the two selvedges. Of a crosswise fold
 * `foldX` is where the fold lies; of cloth cut across and turned `cutX` is where it is cut. Both layers count as length.
 */
export interface Stretch {
  readonly id: number;
  readonly from: Um;
  readonly to: Um;
  readonly method: LayMethod;
  readonly folds: readonly [Um, Um];
  readonly foldX?: Um | undefined;
  readonly cutX?: Um | undefined;
  /** Where a bar of the repeat is taken to lie, when the cloth does not say. */
  readonly barAt?: Point | undefined;
}

/** One outline put down on the lay; on doubled cloth it yields two mirrored copies, the first of which leads. */
export interface Placement {
  readonly n: number;
  readonly stretch: number;
  readonly piece: string;
  readonly garment: number;
  readonly copies: readonly number[];
  readonly pinned: boolean;
}

/** One flat part. outline = piece outline, mirrored if `mirror`, turned, tilted, then moved by `at`. */
export interface Copy {
  readonly n: number;
  readonly is: 'asDrawn' | 'mirrored';
  readonly mirror: boolean;
  readonly turned: Turn;
  readonly turnedOver: boolean;
  readonly tiltMicrodegrees: number;
  readonly at: Point;
  readonly outline: Outline;
}

export interface Totals {
  readonly lengthUsed: Um;
  readonly buyParts: readonly { readonly why: string; readonly um: Um }[];
  readonly buy: Um;
  readonly areaUm2: number;
  readonly utilisationPpm: number;
  readonly bound: { readonly um: Um; readonly why: string };
}

export interface Lay {
  readonly format: 'shortlay-lay/1';
  readonly unit: 'um';
  readonly title: string;
  readonly cutListSha256: CutListHash;
  readonly selfHash: string;
  readonly material: string;
  readonly status: LayStatus;
  readonly seed: number;
  readonly effort: number;
  readonly cloth: Cloth;
  readonly pieces: readonly CutPiece[];
  readonly stretches: readonly Stretch[];
  readonly placements: readonly Placement[];
  readonly copies: readonly Copy[];
  readonly totals: Totals;
}
