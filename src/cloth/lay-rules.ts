/**
 * Lay rules as data: which copies of a piece may lie where on a cloth opened or folded in a given way, mirrored or
 * turned. The table is docs/cut-list.md, "Which copies where"; wording and cloth decide, nothing is guessed.
 */
import type { CutPiece } from '../pieces/types.js';
import type { Um } from '../units/types.js';
import type { Cloth, LayMethod } from './types.js';

/** What one placement of a piece gives: one copy, two mirrored copies, or one copy across the fold. */
export type PlacementForm = 'single' | 'pair' | 'on fold';

/** `count` placements of one piece, all under the same rule. */
export interface PlacementRule {
  readonly form: PlacementForm;
  readonly count: number;
  /** Which kind of copy the leading outline makes; on doubled cloth its partner makes the other. */
  readonly is: 'asDrawn' | 'mirrored';
  /** Outlines that may be laid down: as drawn (false) or mirrored (true). */
  readonly mirrors: readonly boolean[];
  readonly turns: readonly (0 | 180)[];
}

export type RuleAnswer =
  | { readonly legal: true; readonly rules: readonly PlacementRule[] }
  | { readonly legal: false; readonly why: string };

/**
 * The rules for one piece.
 * @param ownMirrorImage whether its left and right copies are alike
 * @returns placements whose counts together meet the piece's demand for `garments`, or why the method cannot serve
 */
export function layRules(
  method: LayMethod,
  cloth: Cloth,
  piece: CutPiece,
  ownMirrorImage: boolean,
  garments: number,
): RuleAnswer {
  const turns = turnsOf(cloth, piece);
  const asDrawn = piece.demand.asDrawn * garments;
  const mirrored = piece.demand.mirrored * garments;
  if (method === 'open') return { legal: true, rules: openRules(cloth, asDrawn, mirrored, turns, ownMirrorImage) };
  if (method !== 'lengthwise fold') return { legal: false, why: `${method} is not supported yet` };
  if (piece.onFold) return doubledOnFold(piece, asDrawn, turns);
  const total = asDrawn + mirrored;
  const alike = ownMirrorImage || cloth.faces === 'both';
  if (alike ? total % 2 === 1 : asDrawn !== mirrored) return { legal: false, why: whyNotPairs(piece, alike, total) };
  const mirrors = ownMirrorImage ? [false] : [false, true];
  const pairs = alike ? total / 2 : asDrawn;
  return { legal: true, rules: pairs === 0 ? [] : [{ form: 'pair', count: pairs, is: 'asDrawn', mirrors, turns }] };
}

/** A piece's own `turn` goes before the cloth's nap. */
function turnsOf(cloth: Cloth, piece: CutPiece): readonly (0 | 180)[] {
  return (piece.turn ?? cloth.nap === 'none') ? [0, 180] : [0];
}

function openRules(
  cloth: Cloth,
  asDrawn: number,
  mirrored: number,
  turns: readonly (0 | 180)[],
  ownMirrorImage: boolean,
): PlacementRule[] {
  // On cloth with two right sides a copy may be cut as the other outline and turned over afterwards.
  const free = cloth.faces === 'both' && !ownMirrorImage;
  const rules: PlacementRule[] = [
    { form: 'single', count: asDrawn, is: 'asDrawn', mirrors: free ? [false, true] : [false], turns },
    { form: 'single', count: mirrored, is: 'mirrored', mirrors: free ? [true, false] : [true], turns },
  ];
  return rules.filter(({ count }) => count > 0);
}

function doubledOnFold(piece: CutPiece, count: number, turns: readonly (0 | 180)[]): RuleAnswer {
  if (!isFoldAlongGrain(piece)) {
    return {
      legal: false,
      why: `the fold edge of ${piece.id} is square to the grain, so it cannot lie on a lengthwise fold`,
    };
  }
  return { legal: true, rules: [{ form: 'on fold', count, is: 'asDrawn', mirrors: [false], turns }] };
}

/** The fold edge of a piece lies at y = 0 (along the grain) or at x = 0 (square to it). */
function isFoldAlongGrain({ lines }: CutPiece): boolean {
  return lines.some(({ kind, points }) => kind === 'fold' && points.every(([, y]) => y === 0));
}

function whyNotPairs(piece: CutPiece, alike: boolean, total: number): string {
  if (alike)
    return `${piece.id} needs ${total} ${total === 1 ? 'copy' : 'copies'}, and doubled cloth gives two at a time`;
  return `${piece.id} is not cut in pairs (${piece.label}), and doubled cloth gives a left and a right each time`;
}

/** The fold of a lengthwise fold lies at half the width. */
export function foldLineOf(cloth: Cloth): Um {
  return cloth.width / 2;
}

/**
 * The range across the cloth in which placements lie, in the flat cloth frame. On lengthwise-folded cloth it is the
 * lower layer up to the fold, as far out as both layers are usable.
 */
export function usableRange(method: LayMethod, cloth: Cloth): { readonly from: Um; readonly to: Um } {
  const [from, to] = cloth.usable;
  if (method === 'open') return { from, to };
  return { from: Math.max(from, cloth.width - to), to: foldLineOf(cloth) };
}
