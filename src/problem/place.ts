/**
 * From solutions of the search back to the trade: stretches one after another, placements and copies in the flat cloth
 * frame, numbered in laying order (from the cut end on, then from the left selvedge).
 */
import type { Cloth } from '../cloth/types.js';
import { boundsOf } from '../geometry/outline.js';
import { partnerPose } from '../lay/partner.js';
import { copyOutline, middleOf, type Pose } from '../lay/transform.js';
import type { Copy, Placement, Stretch } from '../lay/types.js';
import { isOwnMirrorImage } from '../pieces/mirror-image.js';
import type { CutPiece, Demand } from '../pieces/types.js';
import type { Outline, Point, Um } from '../units/types.js';
import { type ChoiceMeaning, flatLengthOf, layerLengthOf, type Posed } from './build.js';
import { claimOne, type Pin, sumWanted, type Wanted, wantedOf } from './pins.js';
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
  const pins = solved.flatMap(({ posed }) => posed.pins);
  const wanted = new Map(pieces.map((piece) => [piece.id, wantedOf(piece, garments, pins)]));
  const hands = new Map(
    pieces.map((piece) => [
      piece.id,
      handsOf(
        piece,
        cloth,
        sumWanted(wanted.get(piece.id)!, () => true),
      ),
    ]),
  );
  const stretches: Stretch[] = [];
  const placements: Placement[] = [];
  const copies: Copy[] = [];
  let from = cloth.ends[0];
  for (const { posed, solution } of solved) {
    const stretch = stretchOf(posed, solution, cloth, stretches.length + 1, from);
    stretches.push(stretch);
    from = stretch.to + cloth.gap;
    for (const laid of inLayingOrder(posed, solution.spots, cloth)) {
      if ('pin' in laid) {
        const numbers = laid.pin.copies.map((copy, i) => ({ ...copy, n: copies.length + 1 + i }));
        copies.push(...numbers);
        const placed = { n: placements.length + 1, stretch: stretch.id, copies: numbers.map((copy) => copy.n) };
        placements.push({ ...laid.pin.placement, ...placed });
        continue;
      }
      const { spot } = laid;
      const meaning = posed.kinds[spot.kind]!;
      const numbers = outlinesOf(spot, meaning.piece, meaning.choices[spot.choice]!, stretch, cloth).map((outline) => {
        const n = copies.length + 1;
        copies.push({ n, ...hands.get(meaning.piece.id)!.give(outline.mirror), ...outline });
        return n;
      });
      const n = placements.length + 1;
      const kinds = numbers.map((each) => copies[each - 1]!.is);
      const mayServe = (garment: number) => posed.turned.has(garment) === meaning.isTurned;
      const garment = ownerOf(wanted.get(meaning.piece.id)!, kinds, mayServe);
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

type ToLay = { readonly at: Point } & ({ readonly spot: Spot } | { readonly pin: Pin });

/** Spots and what is pinned; of two at one place the pinned one first. */
function inLayingOrder(posed: Posed, spots: readonly Spot[], { ends }: Cloth): ToLay[] {
  const pins = posed.pins.map((pin): ToLay => {
    const { minX, minY } = boundsOf(pin.copies[0]!.outline);
    return { pin, at: [minX - ends[0], minY] };
  });
  const corner = (spot: Spot): Point => {
    const choice = posed.problem.kinds[spot.kind]!.choices[spot.choice]!;
    const { minX, minY } = boundsOf(posed.problem.shapes[choice.shape]!.outline);
    return [spot.x + minX, spot.y + minY];
  };
  const rank = (laid: ToLay) => ('pin' in laid ? [-1, laid.pin.placement.n] : [laid.spot.kind, laid.spot.choice]);
  return [...pins, ...spots.map((spot): ToLay => ({ spot, at: corner(spot) }))].sort((a, b) => {
    const [[kindA, choiceA], [kindB, choiceB]] = [rank(a), rank(b)];
    return a.at[0] - b.at[0] || a.at[1] - b.at[1] || kindA! - kindB! || choiceA! - choiceB!;
  });
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

/**
 * Which garment a placement is for: each of its copies goes to the first of those that may be served that still wants one
 * of its kind, or else any; a placement that serves two is counted to the later one.
 */
function ownerOf(wanted: Wanted, kinds: readonly Copy['is'][], mayServe: (garment: number) => boolean): number {
  const all = [...wanted.keys()].filter(mayServe);
  return Math.max(...kinds.map((is) => claimOne(wanted, all, is)));
}

interface Hands {
  give(mirror: boolean): Pick<Copy, 'is' | 'turnedOver'>;
}

/**
 * Which copy an outline becomes. Cloth with one right side leaves no choice. On cloth with two, outlines serve as
 * what they are while such copies are wanted, and the rest are turned over after cutting.
 */
function handsOf(piece: CutPiece, cloth: Cloth, wanted: Demand): Hands {
  const natural = (mirror: boolean) => (mirror ? ('mirrored' as const) : ('asDrawn' as const));
  if (cloth.faces === 'one' || isOwnMirrorImage(piece)) {
    return { give: (mirror) => ({ is: natural(mirror), turnedOver: false }) };
  }
  const left: { -readonly [K in keyof Demand]: number } = { ...wanted };
  return {
    give: (mirror) => {
      const other = natural(!mirror);
      const is = left[natural(mirror)] > 0 ? natural(mirror) : other;
      left[is] -= 1;
      return { is, turnedOver: is === other };
    },
  };
}
