/** A piece as its drawing in a DXF file says it. */

import type { WrittenPiece } from '../drawings/dxf-write.js';
import type { ProofPiece } from '../report/proof.js';

export function dxfPieceOf({ name, size, cuts, shape, fold, grain }: ProofPiece): WrittenPiece {
  const quantity = cuts[0]?.copies ?? 0;
  const materials = cuts.map(({ material }) => material).join(', ');
  return {
    name,
    texts: [
      ...(size === null ? [] : [`Size: ${size}`]),
      `Quantity: ${quantity}`,
      `Material: ${materials}`,
      ...cuts.map(({ material, text }) => `Annotation: cut ${text}${cuts.length > 1 ? ` from ${material}` : ''}`),
    ],
    outline: shape.outline,
    seam: shape.seam,
    mirrorLine: fold,
    grain,
    notches: shape.notches,
    awl: shape.awl,
    inner: shape.lines.filter(({ kind }) => kind !== 'inner').map(({ points }) => points),
    cutOuts: shape.lines.filter(({ kind }) => kind === 'inner').map(({ points }) => points),
  };
}
