/**
 * A piece as it could be cut instead, to see whether that would save cloth. Nothing of it is ever cut: it answers "what
 * if".
 */
import type { Um } from '../units/types.js';
import type { DeclaredPiece, EdgeAllowances } from './types.js';

/** Joined along the fold line by a seam: halves cut in pairs, the allowance added there. Null for a piece without a fold. */
export function seamForFold(piece: DeclaredPiece, allowanceUm: Um): DeclaredPiece | null {
  if (piece.fold === null) return null;
  const { edges } = piece.fold.value;
  const isDrawnNet = piece.drawn === 'net';
  // Of a cutting line that is drawn only the new edge moves.
  const widened = (allowances: EdgeAllowances): EdgeAllowances => ({
    ...allowances,
    byEdge: allowances.byEdge.map((um, edge) => (edges.includes(edge) ? allowanceUm : isDrawnNet ? um : 0)),
  });
  return {
    ...withAllowances(piece, widened),
    drawn: 'net',
    fold: null,
    cut: piece.cut.map((cut) => ({
      ...cut,
      terms: cut.terms.map((term) => (term.kind === 'on fold' ? { ...term, kind: 'pair' } : term)),
    })),
  };
}

/**
 * With shorter hems where it is cut from one material: an allowance of at least `fromUm` that is larger than those of other
 * edges becomes `toUm`. Null for a piece that has none, or whose cutting line is drawn.
 */
export function shorterHems(piece: DeclaredPiece, material: string, fromUm: Um, toUm: Um): DeclaredPiece | null {
  const { byEdge } = piece.allowanceByMaterial.get(material) ?? piece.allowanceDefault;
  const isHem = (um: Um) => um >= fromUm && um > Math.min(...byEdge);
  if (piece.drawn !== 'net' || !byEdge.some(isHem)) return null;
  return withAllowances(piece, (allowances) => ({
    ...allowances,
    byEdge: allowances.byEdge.map((um) => (isHem(um) ? toUm : um)),
  }));
}

function withAllowances(piece: DeclaredPiece, change: (allowances: EdgeAllowances) => EdgeAllowances): DeclaredPiece {
  return {
    ...piece,
    allowanceDefault: change(piece.allowanceDefault),
    allowanceByMaterial: new Map([...piece.allowanceByMaterial].map(([name, each]) => [name, change(each)])),
  };
}
