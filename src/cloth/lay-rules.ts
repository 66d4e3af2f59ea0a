/**
 * Lay rules as data: which copies of a piece may lie where on a cloth opened or folded in a given way, mirrored or
 * turned. The table is docs/cut-list.md, "Which copies where"; wording and cloth decide, nothing is guessed.
 */
import type { CutPiece } from '../pieces/types.js';
import type { LayZone } from './folding.js';
import type { Cloth, LayMethod } from './types.js';

/**
 * What one placement of a piece gives: one copy on a single layer, two mirrored copies on a doubled one, or the one
 * copy of a piece cut on the fold: across a fold, or unfolded on a single layer.
 */
export type PlacementForm = 'single' | 'pair' | 'on fold';

/** How an outline is laid down: as drawn or mirrored, then turned counter-clockwise. */
export interface LaidWay {
  readonly mirror: boolean;
  readonly turned: 0 | 90 | 180 | 270;
  /** Off the grain, counter-clockwise; left out = on it. */
  readonly tiltMicrodegrees?: number;
}

/** `count` placements of one piece, all under the same rule. */
export interface PlacementRule {
  readonly form: PlacementForm;
  readonly count: number;
  /** Which kind of copy the leading outline makes; on doubled cloth its partner makes the other. */
  readonly is: 'asDrawn' | 'mirrored';
  readonly ways: readonly LaidWay[];
}

export type RuleAnswer =
  | { readonly legal: true; readonly rules: readonly PlacementRule[] }
  | { readonly legal: false; readonly why: string };

/** What the rules for one piece depend on besides the piece. */
export interface RuleFrame {
  readonly method: LayMethod;
  readonly zones: readonly LayZone[];
  readonly cloth: Pick<Cloth, 'nap' | 'faces' | 'grain' | 'repeat'>;
  /** The garments that these copies are for lie turned end for end as a whole. */
  readonly isTurned: boolean;
  /** So many of its pairs lie as two placements each on the single layer, where the lay has one. */
  readonly singlePairs: number;
}

/**
 * The rules for one piece, its demand being all that is to be laid of it.
 * @param alike whether its left and right copies cannot be told apart
 * @returns placements whose counts together meet the piece's demand, or why the method cannot serve and what can
 */
export function layRules(piece: CutPiece, alike: boolean, frame: RuleFrame): RuleAnswer {
  const answer = rulesOf(piece, alike, frame);
  if (!answer.legal || !frame.isTurned) return answer;
  return { legal: true, rules: answer.rules.map((rule) => ({ ...rule, ways: rule.ways.map(turnAbout) })) };
}

function turnAbout(way: LaidWay): LaidWay {
  return { ...way, turned: ((way.turned + 180) % 360) as LaidWay['turned'] };
}

function rulesOf(piece: CutPiece, alike: boolean, frame: RuleFrame): RuleAnswer {
  const { cloth, zones } = frame;
  const { asDrawn, mirrored } = piece.demand;
  if (asDrawn + mirrored === 0) return { legal: true, rules: [] };
  const hasSingle = zones.some(({ layers }) => layers === 1);
  if (piece.onFold) return onFoldRules(piece, asDrawn, hasSingle, frame);
  if (zones.every(({ layers }) => layers === 1)) {
    return { legal: true, rules: singleRules(cloth, piece, asDrawn, mirrored, alike) };
  }
  // On cloth with two right sides a copy may be turned over after cutting, so any two make a pair.
  const anyTwo = alike || cloth.faces === 'both';
  const total = asDrawn + mirrored;
  const pairsMost = anyTwo ? Math.floor(total / 2) : Math.min(asDrawn, mirrored);
  if (!hasSingle && 2 * pairsMost < total) return { legal: false, why: whyNotPairs(piece, anyTwo, total) };
  const why = whyNotCrosswise(piece, frame);
  if (why !== null) return { legal: false, why };
  const pairs = hasSingle ? Math.max(0, pairsMost - frame.singlePairs) : pairsMost;
  const left = anyTwo ? takeAny(asDrawn, mirrored, 2 * pairs) : [asDrawn - pairs, mirrored - pairs];
  const ways = waysOf(cloth, piece, alike ? [false] : [false, true]);
  const rules: PlacementRule[] = pairs === 0 ? [] : [{ form: 'pair', count: pairs, is: 'asDrawn', ways }];
  return { legal: true, rules: [...rules, ...singleRules(cloth, piece, left[0]!, left[1]!, alike)] };
}

/** What is left of the two kinds of copies when so many, an even number, were taken as pairs: evenly while there are both. */
function takeAny(asDrawn: number, mirrored: number, taken: number): [number, number] {
  const mirroredTaken = Math.min(mirrored, Math.max(taken - asDrawn, taken / 2));
  return [asDrawn - (taken - mirroredTaken), mirrored - mirroredTaken];
}

/** Every way in which a piece may be laid down on a single layer. */
export function singleWays(cloth: RuleFrame['cloth'], piece: CutPiece): readonly LaidWay[] {
  return waysOf(cloth, piece, piece.demand.mirrored > 0 ? [false, true] : [false]);
}

/** Whether a piece may be turned end for end: its own `turn` goes before the cloth's nap. */
export function mayTurn({ nap, grain }: Pick<Cloth, 'nap' | 'grain'>, { turn }: Pick<CutPiece, 'turn'>): boolean {
  return turn ?? (nap === 'none' || grain === 'free');
}

/**
 * Half turns where nap and piece allow them; quarter turns for pieces that may lie on the cross grain and on cloth
 * without grain: a mirrored outline is then turned the other way round, so that its nap runs like that of the others. Of
 * the tilts that a piece allows, the whole and half of it to either side.
 */
function waysOf(cloth: RuleFrame['cloth'], piece: CutPiece, mirrors: readonly boolean[]): LaidWay[] {
  const turns = mayTurn(cloth, piece);
  const crosses = piece.cross || cloth.grain === 'free';
  const onGrain = mirrors.flatMap((mirror): LaidWay[] => [
    { mirror, turned: 0 },
    ...(turns ? [{ mirror, turned: 180 } as const] : []),
    ...(crosses ? [{ mirror, turned: mirror ? 270 : 90 } as const] : []),
    ...(crosses && turns ? [{ mirror, turned: mirror ? 90 : 270 } as const] : []),
  ]);
  // Never on a repeat, where it would be seen.
  const most = cloth.repeat === null ? piece.tiltMaxMicrodegrees : 0;
  const tilts = most === 0 ? [] : [most, -most, Math.round(most / 2), -Math.round(most / 2)];
  return [...onGrain, ...tilts.flatMap((tiltMicrodegrees) => onGrain.map((way) => ({ ...way, tiltMicrodegrees })))];
}

function singleRules(
  cloth: RuleFrame['cloth'],
  piece: CutPiece,
  asDrawn: number,
  mirrored: number,
  alike: boolean,
): PlacementRule[] {
  // On cloth with two right sides a copy may be cut as the other outline and turned over afterwards.
  const free = cloth.faces === 'both' && !alike;
  const ways = (mirror: boolean) => waysOf(cloth, piece, free ? [mirror, !mirror] : [mirror]);
  const rules: PlacementRule[] = [
    { form: 'single', count: asDrawn, is: 'asDrawn', ways: ways(false) },
    { form: 'single', count: mirrored, is: 'mirrored', ways: ways(true) },
  ];
  return rules.filter(({ count }) => count > 0);
}

/** A piece cut on the fold lies across a fold along its fold edge, or unfolded where the cloth is single. */
function onFoldRules(piece: CutPiece, count: number, hasSingle: boolean, { method, cloth }: RuleFrame): RuleAnswer {
  const why = whyNotOnFold(piece, method);
  if (why !== null && !hasSingle) return { legal: false, why };
  return { legal: true, rules: [{ form: 'on fold', count, is: 'asDrawn', ways: waysOf(cloth, piece, [false]) }] };
}

function whyNotOnFold(piece: CutPiece, method: LayMethod): string | null {
  const along = isFoldAlongGrain(piece);
  if (method === 'crosswise cut and turned') {
    return `${piece.id} is cut on the fold, and cloth cut across has no fold left; lay it open or on a fold`;
  }
  if (method === 'crosswise fold') {
    return along
      ? `the fold edge of ${piece.id} runs along the grain, so it cannot lie on a crosswise fold; lay it open or on a lengthwise fold`
      : null;
  }
  return along
    ? null
    : `the fold edge of ${piece.id} is square to the grain, so it cannot lie on a fold along the cloth; lay it open or on a crosswise fold`;
}

/** The fold edge of a piece lies at y = 0 (along the grain) or at x = 0 (square to it). */
export function isFoldAlongGrain({ lines }: Pick<CutPiece, 'lines'>): boolean {
  return lines.some(({ kind, points }) => kind === 'fold' && points.every(([, y]) => y === 0));
}

function whyNotPairs(piece: CutPiece, anyTwo: boolean, total: number): string {
  const instead = 'lay it open, or on a partial or double fold, which leaves part of the cloth single';
  if (anyTwo) {
    const copies = total === 1 ? 'copy' : 'copies';
    return `${piece.id} needs ${total} ${copies}, and doubled cloth gives two at a time; ${instead}`;
  }
  return `${piece.id} is not cut in pairs (${piece.label}), and doubled cloth gives a left and a right each time; ${instead}`;
}

/** Folded across, the layer on top runs the other way round. */
function whyNotCrosswise(piece: CutPiece, { method, cloth }: RuleFrame): string | null {
  if (method !== 'crosswise fold' || mayTurn(cloth, piece)) return null;
  const instead = 'lay it on a lengthwise fold, or cut the cloth across and turn the layer';
  return `the nap of the upper layer of a crosswise fold runs against that of the lower one, so the two copies of ${piece.id} would differ; ${instead}`;
}
