/**
 * What of a stretch is seen from above, and what its edges are called: she measures from them. Flat cloth frame,
 * micrometres. On cloth doubled across, the fold (or the cut end) is where measures along the cloth begin.
 */
import { seenRange, zonesOf } from '../cloth/folding.js';
import type { Cloth } from '../cloth/types.js';
import type { Copy, Stretch } from '../lay/types.js';
import type { Point, Um } from '../units/types.js';

/** `selvedges`: both, lying together. */
export type EdgeName = 'left selvedge' | 'right selvedge' | 'selvedges' | 'fold' | 'left fold' | 'right fold';

/**
 * Which side of the cloth lies up. Lays are described from the right side; from the wrong side all is the same mirrored
 * across: what lay at the left lies at the right and is named for where it lies now, and paper that lay printed side up
 * lies printed side down. The cloth then lies wrong side up, and where it is folded, wrong sides together.
 */
export type ClothSide = 'right' | 'wrong';

/** An edge as it is called when all is mirrored across. */
export function mirroredName(name: EdgeName): EdgeName {
  switch (name) {
    case 'left selvedge':
      return 'right selvedge';
    case 'right selvedge':
      return 'left selvedge';
    case 'left fold':
      return 'right fold';
    case 'right fold':
      return 'left fold';
    default:
      return name;
  }
}

/** Which side of the paper lies up on the lead copy, when the half of it that is drawn is seen. */
export function printedSideOf({ mirror }: Pick<Copy, 'mirror'>, side: ClothSide): 'up' | 'down' {
  return mirror === (side === 'right') ? 'down' : 'up';
}

export interface SeenEdge {
  readonly name: EdgeName;
  readonly isFold: boolean;
  /** Its y, and the way into the cloth. */
  readonly at: Um;
  readonly inwards: 1 | -1;
}

export interface SeenStretch {
  readonly stretch: Stretch;
  /** Left and right, as seen. */
  readonly edges: readonly [SeenEdge, SeenEdge];
  /** Where placements may lie across: borders of the usable bands that are no edges. */
  readonly limits: readonly Um[];
  /** The raw edges of parts that are turned over onto the cloth. */
  readonly turnedOver: readonly { readonly name: EdgeName; readonly at: Um }[];
  /** The flat x at which what is seen of the cloth begins; from there measures along it are taken. */
  readonly beginsAt: Um;
  readonly beginsWith: 'cut end' | 'fold';
}

/** A stretch as she sees it on the table. */
export function seenStretch(stretch: Stretch, cloth: Cloth): SeenStretch {
  const [least, most] = seenRange(stretch, cloth.width);
  const edges = edgesOf(stretch, least, most);
  const ats = edges.map(({ at }) => at);
  const borders = zonesOf(stretch, cloth).flatMap(({ from, to }) => [from, to]);
  const { width } = cloth;
  const [left, right] = stretch.folds;
  const isPartly = stretch.method === 'partial fold' || stretch.method === 'double fold';
  return {
    stretch,
    edges,
    limits: [...new Set(borders)].filter((y) => !ats.includes(y) && y > least && y < most),
    turnedOver: [
      ...(isPartly && left > 0 ? [{ name: 'left selvedge' as const, at: 2 * left }] : []),
      ...(isPartly && right > 0 ? [{ name: 'right selvedge' as const, at: width - 2 * right }] : []),
    ],
    beginsAt: stretch.foldX ?? 0,
    beginsWith: stretch.foldX === undefined ? 'cut end' : 'fold',
  };
}

function edgesOf({ method, folds }: Stretch, least: Um, most: Um): readonly [SeenEdge, SeenEdge] {
  const edge = (name: EdgeName, at: Um, inwards: 1 | -1): SeenEdge => ({
    name,
    isFold: name.endsWith('fold'),
    at,
    inwards,
  });
  switch (method) {
    case 'lengthwise fold':
      return [edge('selvedges', least, 1), edge('fold', most, -1)];
    case 'tube':
      return [edge('left fold', least, 1), edge('right fold', most, -1)];
    case 'partial fold':
    case 'double fold':
      return folds[1] > 0
        ? [edge('left fold', least, 1), edge('right fold', most, -1)]
        : [edge('fold', least, 1), edge('right selvedge', most, -1)];
    default:
      return [edge('left selvedge', least, 1), edge('right selvedge', most, -1)];
  }
}

/**
 * How long what is seen is, from where it begins: all of the cloth; folded across half of it; cut across what lies before
 * the cut.
 * @param washedUm the length of the cloth as it is laid
 */
export function seenLength({ cutX, foldX }: Stretch, washedUm: Um): Um {
  if (foldX !== undefined) return washedUm / 2;
  return cutX ?? washedUm;
}

/** Whether the half of a piece on a crosswise fold that is drawn, where its grain line is, lies in the layer below. */
export function isBelowFold([foot, head]: readonly [Point, Point], foldX: Um): boolean {
  return foot[0] + head[0] < 2 * foldX;
}

/**
 * The part of a grain line that is seen of a piece on a crosswise fold. Where the half that is drawn lies in the layer below,
 * its paper is turned over about the fold: the grain line then lies as far from the fold in the layer above.
 * @param foldX where the fold lies along the cloth; what is seen lies beyond it
 */
export function grainBeyondFold(grain: readonly [Point, Point], foldX: Um): readonly [Point, Point] {
  const isBelow = isBelowFold(grain, foldX);
  const seen = ([x, y]: Point): Point => [Math.max(isBelow ? 2 * foldX - x : x, foldX), y];
  return [seen(grain[0]), seen(grain[1])];
}
