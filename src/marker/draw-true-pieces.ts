/** Pieces at true size: sheets to join as PDF, one long picture as SVG, or a DXF drawing. */
import { writeDxf } from '../drawings/dxf-write.js';
import type { ProofPiece } from '../report/proof.js';
import type { Sheet } from '../units/paper.js';
import type { LengthUnit } from '../units/types.js';
import { dxfPieceOf } from './dxf-pieces.js';
import { loadPageFont } from './font.js';
import { matchInWords } from './match-sign.js';
import { toPdf } from './pdf.js';
import { sheetsDrawing } from './sheets.js';
import { toSvg } from './svg.js';
import { sheetMarginMm } from './tiling.js';
import { truePiece } from './true-piece.js';
import type { Dated, Drawing } from './types.js';

/** A picture is as wide as its widest piece, and at least so wide. */
const pictureWideMm = 900;

/** @returns the file, and of how many sheets it is; null where it is one picture */
export async function drawTruePieces(
  pieces: readonly ProofPiece[],
  options: {
    readonly title: string;
    readonly units: LengthUnit;
    readonly sheet: Sheet;
    readonly format: 'pdf' | 'svg' | 'dxf';
  } & Dated,
): Promise<{ readonly bytes: Uint8Array; readonly sheets: number | null }> {
  if (options.format === 'dxf') {
    return { bytes: Buffer.from(writeDxf(options.title, pieces.map(dxfPieceOf)), 'latin1'), sheets: null };
  }
  const font = await loadPageFont();
  const pictures = pieces.map((piece) => truePiece(font, piece));
  const title = `${options.title} · pieces at true size`;
  const hasMatch = pieces.some(({ shape }) => shape.match.length > 0);
  const words = instructions(options.units, hasMatch);
  if (options.format === 'pdf') {
    const drawing = sheetsDrawing(pictures, { title, sheet: options.sheet, words, measure: font });
    return { bytes: await toPdf(drawing, font, options.madeAt ?? null), sheets: drawing.pages.length };
  }
  const widest = Math.ceil(Math.max(...pictures.map(({ widthMm }) => widthMm)));
  const sheet = { widthMm: Math.max(pictureWideMm, widest) + 2 * sheetMarginMm, heightMm: null };
  const all = sheetsDrawing(pictures, { title, sheet, words, measure: font });
  // Nothing is printed, so no sheet of instructions is wanted.
  const drawing: Drawing = { ...all, pages: all.pages.filter(({ groups }) => groups.some(({ clip }) => clip)) };
  return { bytes: Buffer.from(toSvg(drawing), 'utf8'), sheets: null };
}

function instructions(units: LengthUnit, hasMatch: boolean): string[] {
  return [
    'Print at 100 % ("actual size", no fitting to the page). Measure a square on this sheet before you cut anything: if its sides are not as long as it says, print again.',
    'A piece on several sheets: cut off the left and the upper edge along the line where there is one, and lay that edge on the line of the sheet before, so that the half diamonds make whole ones. Then measure an edge whose length is printed.',
    `Bold: cutting line. Fine dashes: seam line. Dots: hem, dart or other line. Dash and dot: fold. Cross: awl point.${hasMatch ? ` ${matchInWords}` : ''} Lengths in ${units === 'in' ? 'inches' : units}, on the seam line.`,
    'Cut paper with paper scissors, never with the shears for cloth. Try a new piece in paper or cheap cloth first.',
  ];
}
