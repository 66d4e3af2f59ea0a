/**
 * From a solution of the search back to the trade: placements and copies in the flat cloth frame, numbered in laying
 * order (from the cut end on, then from the left selvedge).
 */
import { foldLineOf } from '../cloth/lay-rules.js';
import type { Cloth, LayMethod } from '../cloth/types.js';
import { boundsOf } from '../geometry/outline.js';
import { copyOutline } from '../lay/transform.js';
import type { Copy, Placement, Stretch } from '../lay/types.js';
import { isOwnMirrorImage } from '../pieces/mirror-image.js';
import type { CutPiece } from '../pieces/types.js';
import type { Point } from '../units/types.js';
import type { KindMeaning, Posed } from './build.js';
import type { Solution, Spot } from './types.js';

export interface Placed {
  readonly stretches: readonly Stretch[];
  readonly placements: readonly Placement[];
  readonly copies: readonly Copy[];
}

/** Lays the solution out on the cloth. */
export function placeSolution(posed: Posed, solution: Solution, method: LayMethod, cloth: Cloth): Placed {
  const hands = new Map<string, Hands>();
  const placements: Placement[] = [];
  const copies: Copy[] = [];
  for (const spot of inLayingOrder(posed, solution.spots)) {
    const meaning = posed.kinds[spot.kind]!;
    const numbers: number[] = [];
    for (const outline of outlinesOf(spot, meaning, cloth)) {
      const known = hands.get(meaning.piece.id) ?? handsOf(meaning.piece, cloth, posed);
      hands.set(meaning.piece.id, known);
      const copy = { n: copies.length + 1, ...known.give(outline.mirror), ...outline };
      numbers.push(copy.n);
      copies.push(copy);
    }
    const n = placements.length + 1;
    placements.push({ n, stretch: 1, piece: meaning.piece.id, garment: 1, copies: numbers, pinned: false });
  }
  const from = cloth.ends[0];
  const folds = [method === 'open' ? 0 : foldLineOf(cloth), 0] as const;
  return { stretches: [{ id: 1, from, to: from + solution.lengthUm, method, folds }], placements, copies };
}

function inLayingOrder(posed: Posed, spots: readonly Spot[]): Spot[] {
  const corner = (spot: Spot): Point => {
    const choice = posed.problem.kinds[spot.kind]!.choices[spot.choice]!;
    const { minX, minY } = boundsOf(posed.problem.shapes[choice.shape]!.outline);
    return [spot.x + minX, spot.y + minY];
  };
  return [...spots]
    .map((spot) => ({ spot, at: corner(spot) }))
    .sort(
      (a, b) => a.at[0] - b.at[0] || a.at[1] - b.at[1] || a.spot.kind - b.spot.kind || a.spot.choice - b.spot.choice,
    )
    .map(({ spot }) => spot);
}

type OutlinePart = Pick<Copy, 'mirror' | 'turned' | 'tiltMicrodegrees' | 'at' | 'outline'>;

/** The outlines that one spot cuts: the one laid down and, for a pair, its reflection in the fold. */
function outlinesOf(spot: Spot, meaning: KindMeaning, cloth: Cloth): OutlinePart[] {
  const { mirror, turned } = meaning.choices[spot.choice]!;
  const part = (mirrored: boolean, at: Point): OutlinePart => {
    const how = { mirror: mirrored, turned, tiltMicrodegrees: 0, at };
    return { ...how, outline: copyOutline(meaning.piece, how) };
  };
  const x = spot.x + cloth.ends[0];
  const lead = part(mirror, [x, spot.y]);
  return meaning.rule.form === 'pair' ? [lead, part(!mirror, [x, cloth.width - spot.y])] : [lead];
}

interface Hands {
  give(mirror: boolean): Pick<Copy, 'is' | 'turnedOver'>;
}

/**
 * Which copy an outline becomes. Cloth with one right side leaves no choice. On cloth with two, outlines serve as
 * what they are while such copies are wanted, and the rest are turned over after cutting.
 */
function handsOf(piece: CutPiece, cloth: Cloth, posed: Posed): Hands {
  const natural = (mirror: boolean) => (mirror ? ('mirrored' as const) : ('asDrawn' as const));
  if (cloth.faces === 'one' || isOwnMirrorImage(piece)) {
    return { give: (mirror) => ({ is: natural(mirror), turnedOver: false }) };
  }
  const left = wantedOf(piece, posed);
  return {
    give: (mirror) => {
      const other = natural(!mirror);
      const is = left[natural(mirror)] > 0 ? natural(mirror) : other;
      left[is] -= 1;
      return { is, turnedOver: is === other };
    },
  };
}

/** Copies of each hand that the whole lay has to give of a piece. */
function wantedOf(piece: CutPiece, posed: Posed): { asDrawn: number; mirrored: number } {
  let total = 0;
  for (const { piece: other, rule } of posed.kinds) {
    if (other.id === piece.id) total += rule.form === 'pair' ? 2 * rule.count : rule.count;
  }
  const garments = total / (piece.demand.asDrawn + piece.demand.mirrored);
  return { asDrawn: piece.demand.asDrawn * garments, mirrored: piece.demand.mirrored * garments };
}
