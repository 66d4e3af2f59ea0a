/** A piece as its drawing in a DXF file says it. */
import type { WrittenPiece } from '../drawings/dxf-write.js';
import type { ProofPiece } from '../report/proof.js';
import { foldOnOutline } from './proof-piece.js';

/** What a DXF file holds of a piece: half pieces as halves with their mirror line, from edge to edge of the outline. */
export function dxfPieceOf(proof: ProofPiece): WrittenPiece {
  const { name, size, cuts, shape, grain } = proof;
  const around = foldOnOutline(proof);
  const [only] = cuts;
  const what =
    cuts.length === 1 && only !== undefined
      ? [`Quantity: ${only.copies}`, `Material: ${only.material}`, `Annotation: cut ${only.text}`]
      : cuts.map(({ material, text }) => `Annotation: cut ${text} from ${material}`);
  return {
    name,
    texts: [...(size === null ? [] : [`Size: ${size}`]), ...what],
    outline: shape.outline,
    seam: shape.seam,
    mirrorLine: around === null ? null : [around.at(-1)!, around[0]!],
    grain,
    notches: shape.notches,
    awl: shape.awl,
    inner: shape.lines.filter(({ kind }) => kind !== 'inner').map(({ points }) => points),
    cutOuts: shape.lines.filter(({ kind }) => kind === 'inner').map(({ points }) => points),
  };
}
