/** From pieces to their proof of entry as SVG and PDF, both from one drawing. */
import type { ProofPiece } from '../report/proof.js';
import type { LengthUnit } from '../units/types.js';
import { loadPageFont } from './font.js';
import type { PageSize } from './page-sizes.js';
import { toPdf } from './pdf.js';
import { proofDrawing } from './proof.js';
import { toSvg } from './svg.js';
import type { Dated } from './types.js';

/** The proof of entry of some pieces, as SVG text and PDF bytes. */
export async function drawProof(
  pieces: readonly ProofPiece[],
  options: { readonly title: string; readonly page: PageSize; readonly units: LengthUnit } & Dated,
): Promise<{ readonly svg: string; readonly pdf: Uint8Array }> {
  const font = await loadPageFont();
  const drawing = proofDrawing(pieces, { ...options, measure: font });
  return { svg: toSvg(drawing), pdf: await toPdf(drawing, font, options.madeAt ?? null) };
}
