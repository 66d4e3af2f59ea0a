/**
 * From solutions of the search back to the trade: stretches one after another, placements and copies in the flat cloth
 * frame, numbered in laying order (from the cut end on, then from the left selvedge).
 */
import type { Cloth } from '../cloth/types.js';
import { boundsOf } from '../geometry/outline.js';
import { partnerPose } from '../lay/partner.js';
import { copyOutline, middleOf, type Pose } from '../lay/transform.js';
import type { Copy, Placement, Stretch } from '../lay/types.js';
import { garmentCount, garmentsOf, isTurnedGarment, numbersOf } from '../pieces/garments.js';
import { isOwnMirrorImage } from '../pieces/mirror-image.js';
import type { CutPiece, Demand } from '../pieces/types.js';
import type { Outline, Point, Um } from '../units/types.js';
import { type ChoiceMeaning, flatLengthOf, layerLengthOf, type Posed } from './build.js';
import type { Solution, Spot } from './types.js';

export interface Placed {
  readonly stretches: readonly Stretch[];
  readonly placements: readonly Placement[];
  readonly copies: readonly Copy[];
}

/** A stretch as it was posed, with its solution. */
export interface Solved {
  readonly posed: Posed;
  readonly solution: Solution;
}

/**
 * Lays the solutions out on the cloth, one stretch after another from the cut end on, the gap between them.
 * @param pieces with what the whole lay asks of them
 */
export function placeSolution(
  solved: readonly Solved[],
  cloth: Cloth,
  pieces: readonly CutPiece[],
  garments: number,
): Placed {
  const hands = new Map(pieces.map((piece) => [piece.id, handsOf(piece, cloth, garments)]));
  const owners = new Map(pieces.map((piece) => [piece.id, ownersOf(piece, garments)]));
  const stretches: Stretch[] = [];
  const placements: Placement[] = [];
  const copies: Copy[] = [];
  let from = cloth.ends[0];
  for (const { posed, solution } of solved) {
    const stretch = stretchOf(posed, solution, cloth, stretches.length + 1, from);
    stretches.push(stretch);
    from = stretch.to + cloth.gap;
    for (const spot of inLayingOrder(posed, solution.spots)) {
      const meaning = posed.kinds[spot.kind]!;
      const numbers = outlinesOf(spot, meaning.piece, meaning.choices[spot.choice]!, stretch, cloth).map((outline) => {
        const n = copies.length + 1;
        copies.push({ n, ...hands.get(meaning.piece.id)!.give(outline.mirror), ...outline });
        return n;
      });
      const n = placements.length + 1;
      const kinds = numbers.map((each) => copies[each - 1]!.is);
      const mayServe = (number: number) => !posed.turnsSecond || isTurnedGarment(number) === meaning.isTurned;
      const garment = owners.get(meaning.piece.id)!.take(kinds, mayServe);
      placements.push({ n, stretch: stretch.id, piece: meaning.piece.id, garment, copies: numbers, pinned: false });
    }
  }
  return { stretches, placements, copies };
}

function stretchOf({ folding, barAt }: Posed, { lengthUm }: Solution, cloth: Cloth, id: number, from: Um): Stretch {
  const length = flatLengthOf(folding, cloth, lengthUm);
  const barX = folding.method === 'crosswise fold' ? from + length / 2 : barAt?.[0];
  const bar = barAt === null ? {} : { barAt: [barX!, barAt[1]] as const };
  const stretch = { id, from, to: from + length, method: folding.method, folds: folding.folds, ...bar };
  if (folding.method === 'crosswise fold') return { ...stretch, foldX: from + length / 2 };
  return folding.method === 'crosswise cut and turned'
    ? { ...stretch, cutX: from + layerLengthOf(cloth, lengthUm) }
    : stretch;
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

type OutlinePart = Pose & { readonly outline: Outline };

/** The outlines that one spot cuts: the one laid down and, for a pair, its partner in the other layer. */
function outlinesOf(
  spot: Spot,
  piece: CutPiece,
  meaning: ChoiceMeaning,
  stretch: Stretch,
  cloth: Cloth,
): OutlinePart[] {
  const { mirror, turned, form, tiltMicrodegrees = 0 } = meaning;
  const lead: Pose = { mirror, turned, tiltMicrodegrees, at: [(stretch.foldX ?? stretch.from) + spot.x, spot.y] };
  const outline = copyOutline(piece, lead);
  if (form !== 'pair') return [{ ...lead, outline }];
  const partner = partnerPose(lead, stretch, cloth.width, middleOf(outline))!;
  return [
    { ...lead, outline },
    { ...partner, outline: copyOutline(piece, partner) },
  ];
}

interface Owners {
  take(kinds: readonly Copy['is'][], mayServe: (garment: number) => boolean): number;
}

/**
 * Which garment a placement is for: each of its copies goes to the first of those that may be served that still wants one
 * of its kind, or else any; a placement that serves two is counted to the later one.
 */
function ownersOf(piece: CutPiece, garments: number): Owners {
  const own = numbersOf(garmentsOf(piece, garments));
  const wanted = new Map(own.map((g): [number, { -readonly [K in keyof Demand]: number }] => [g, { ...piece.demand }]));
  return {
    take(kinds, mayServe) {
      const all = own.filter(mayServe);
      const served = kinds.map((is) => {
        const other = is === 'asDrawn' ? 'mirrored' : 'asDrawn';
        const first = all.find((g) => wanted.get(g)![is] > 0);
        const garment = first ?? all.find((g) => wanted.get(g)![other] > 0)!;
        wanted.get(garment)![first === undefined ? other : is] -= 1;
        return garment;
      });
      return Math.max(...served);
    },
  };
}

interface Hands {
  give(mirror: boolean): Pick<Copy, 'is' | 'turnedOver'>;
}

/**
 * Which copy an outline becomes. Cloth with one right side leaves no choice. On cloth with two, outlines serve as
 * what they are while such copies are wanted, and the rest are turned over after cutting.
 */
function handsOf(piece: CutPiece, cloth: Cloth, garments: number): Hands {
  const natural = (mirror: boolean) => (mirror ? ('mirrored' as const) : ('asDrawn' as const));
  if (cloth.faces === 'one' || isOwnMirrorImage(piece)) {
    return { give: (mirror) => ({ is: natural(mirror), turnedOver: false }) };
  }
  const times = garmentCount(piece, garments);
  const left: { -readonly [K in keyof Demand]: number } = {
    asDrawn: piece.demand.asDrawn * times,
    mirrored: piece.demand.mirrored * times,
  };
  return {
    give: (mirror) => {
      const other = natural(!mirror);
      const is = left[natural(mirror)] > 0 ? natural(mirror) : other;
      left[is] -= 1;
      return { is, turnedOver: is === other };
    },
  };
}
