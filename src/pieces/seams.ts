/**
 * Seams: edges that are sewn together must be as long as each other on the seam line. Halves count twice: a piece on the
 * fold, and a piece cut in pairs. What darts and pleats take up is off.
 */
import { formatLength } from '../units/length.js';
import type { LengthUnit } from '../units/types.js';
import { allowancesFor, makeCutPiece } from './cut-piece.js';
import { edgeAt, seamLengthOf } from './marks.js';
import { isOwnMirrorImage } from './mirror-image.js';
import type { DeclaredPiece, EdgeRun } from './types.js';

/** How far two sides of a seam may differ. Common practice, no source. */
export const seamTolerance = 3_000;

export interface SeamEdge {
  readonly piece: DeclaredPiece;
  readonly run: EdgeRun;
}

export interface Seam {
  readonly first: readonly SeamEdge[];
  readonly second: readonly SeamEdge[];
  /** The second side is longer by this, for both halves together. */
  readonly easeUm: number;
  /** The second side is so many times as long as the first, and gathered to it. */
  readonly gather: number;
}

export interface SeamSum {
  readonly edges: readonly { readonly name: string; readonly times: 1 | 2; readonly sewnUm: number }[];
  readonly sumUm: number;
}

export interface SeamLengths {
  readonly first: SeamSum;
  readonly second: SeamSum;
  /** What the sides would have to be to match the other one as it is. */
  readonly firstWanted: number;
  readonly secondWanted: number;
  readonly matches: boolean;
}

/** Both sides of a seam, measured on the seam line in micrometres. */
export function measureSeam({ first, second, easeUm, gather }: Seam): SeamLengths {
  const [a, b] = [sumOf(first), sumOf(second)];
  const secondWanted = a.sumUm * gather + easeUm;
  const firstWanted = (b.sumUm - easeUm) / gather;
  const matches = Math.abs(b.sumUm - secondWanted) <= seamTolerance;
  return { first: a, second: b, firstWanted, secondWanted, matches };
}

function sumOf(side: readonly SeamEdge[]): SeamSum {
  const edges = side.map(({ piece, run }) => {
    const times: 1 | 2 = isHalf(piece) ? 2 : 1;
    return { name: `${piece.id} ${run.name}`, times, sewnUm: sewnLength(piece, run) };
  });
  return { edges, sumUm: edges.reduce((sum, { times, sewnUm }) => sum + times * sewnUm, 0) };
}

/** Length of a run's seam line without what darts and pleats take up. */
export function sewnLength(piece: DeclaredPiece, run: EdgeRun): number {
  const allowances = allowancesFor(piece, piece.cut[0]?.material ?? '');
  const isOnRun = (mark: { readonly run: EdgeRun; readonly atUm: number }): boolean =>
    run.edges.includes(edgeAt(piece, mark.run, mark.atUm, allowances));
  const taken =
    piece.darts.reduce((sum, { value }) => sum + (isOnRun(value) ? value.widthUm : 0), 0) +
    piece.pleats.reduce((sum, { value }) => sum + (isOnRun(value) ? 2 * value.depthUm : 0), 0);
  return seamLengthOf(piece, run, allowances) - taken;
}

/** On the fold, or every copy one of a pair, in its first material; a bare even number of left and right is pairs. */
function isHalf(piece: DeclaredPiece): boolean {
  if (piece.fold !== null) return true;
  const [cut] = piece.cut;
  if (cut === undefined) return false;
  const made = makeCutPiece(piece, cut.material);
  const hasSides = piece.parts === null && made.ok && !isOwnMirrorImage(made.value);
  return cut.terms.every(({ count, kind }) => kind === 'pair' || (kind === 'plain' && count % 2 === 0 && hasSides));
}

/** `2 x Front A-B 20.0 cm + Back A-B 8.0 cm = 48.0 cm against Waistband C-D 48.0 cm`, with ease and gathers. */
export function seamInWords({ easeUm, gather }: Seam, { first, second }: SeamLengths, units: LengthUnit): string {
  const side = ({ edges, sumUm }: SeamSum): string => {
    const parts = edges.map(
      ({ name, times, sewnUm }) => `${times === 2 ? '2 x ' : ''}${name} ${formatLength(Math.round(sewnUm), units)}`,
    );
    const isSum = edges.length > 1 || edges[0]!.times === 2;
    return `${parts.join(' + ')}${isSum ? ` = ${formatLength(Math.round(sumUm), units)}` : ''}`;
  };
  const extra = [
    gather === 1 ? '' : ` gathered ${gather} to 1`,
    easeUm === 0 ? '' : ` with ${formatLength(easeUm, units)} of ease`,
  ];
  return `${side(first)} against ${side(second)}${extra.join('')}`;
}
