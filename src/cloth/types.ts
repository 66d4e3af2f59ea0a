/**
 * Cloth: a bolt or remnant. Flat cloth frame: x = 0 is the raw cut end, y = 0 the raw edge of the left selvedge.
 * `Cloth` is, key for key, the `cloth` object of the lay file; all lengths in whole micrometres.
 */
import type { Fault, Place } from '../diagnostics/types.js';
import type { Outline, Point, Um } from '../units/types.js';

export type Nap = 'one-way' | 'each-garment' | 'none';

/** In order of simplicity: ties between methods go to the earlier one. */
export const layMethods = [
  'open',
  'lengthwise fold',
  'partial fold',
  'double fold',
  'tube',
  'crosswise fold',
  'crosswise cut and turned',
] as const;
export type LayMethod = (typeof layMethods)[number];

/** What a lay as a whole may be called: one method, or several stretches one after another. The simplest first. */
export const layNames = [...layMethods, 'combination'] as const;
export type LayName = (typeof layNames)[number];

/** A design that comes again: how often along the cloth and across it (null = not), and where. */
export interface Repeat {
  readonly along: Um | null;
  readonly across: Um | null;
  /** Where a bar (the place 0 of the repeat) lies in the flat cloth frame; null = not known, the lay chooses it. */
  readonly start: Point | null;
  /** Ways in which it looks the same mirrored, about every bar and half way between. */
  readonly mirror: 'none' | 'along' | 'across' | 'both';
  /** Every second column lies half a repeat further along. */
  readonly drop: boolean;
}

export interface Cloth {
  readonly name: string;
  readonly width: Um;
  /** [from, to] across the cloth: where placements may lie. */
  readonly usable: readonly [Um, Um];
  /** At hand (a remnant), or null: as long as needed. */
  readonly length: Um | null;
  /** Kept clear at the cut end and at the far end. */
  readonly ends: readonly [Um, Um];
  readonly gap: Um;
  readonly nap: Nap;
  readonly faces: 'one' | 'both';
  readonly grain: 'woven' | 'free';
  readonly fusible: boolean;
  readonly repeat: Repeat | null;
  /** Where nothing is cut: rings in the flat cloth frame; one that runs on to `stripEnd` goes on without end. */
  readonly flaws: readonly Outline[];
  /** Washed before cutting: what it loses, in parts per million; every other measure here is that of the washed cloth. */
  readonly shrinkagePpm: { readonly along: number; readonly across: number } | null;
  /** The shop's selling step. */
  readonly soldBy: Um;
  /** Hundredths of the currency per metre (per yard converted, so not always whole), or null. */
  readonly priceMinorPerMetre: number | null;
  readonly currency: string | null;
}

/** A flaw that reaches this far along the cloth is a strip without end, such as a crease: the longest cloth is shorter. */
export const stripEnd: Um = 45_000_000;

/** A width taken down to an even number of micrometres, so that the fold in its middle lies on a whole one. */
export function evenWidth(widthUm: Um): Um {
  return 2 * Math.floor(widthUm / 2);
}

/** A cloth as the cut list declares it. */
export interface DeclaredCloth {
  readonly cloth: Cloth;
  /** The materials it can be cut for. */
  readonly materials: readonly string[];
  readonly method: LayName | 'best';
  /** An irregular remnant: its outline says how wide and long it is. */
  readonly irregular: boolean;
  /** Depth of a partial fold, or null: searched. */
  readonly foldUm: Um | null;
  readonly place: Place;
  /** For example: usable width assumed, not measured. */
  readonly notices: readonly Fault[];
}
