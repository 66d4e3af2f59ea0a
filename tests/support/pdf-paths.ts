/** What a PDF holds, read by another library: pages with their texts and their strokes, in millimetres, y down. */
import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';

export interface PdfStroke {
  readonly widthMm: number;
  readonly points: readonly (readonly [number, number])[];
}

export interface PdfPage {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly texts: readonly string[];
  readonly strokes: readonly PdfStroke[];
}

const mm = (pt: number) => (pt * 25.4) / 72;

/** All pages; what the library warns of goes to `warnings`. */
export async function readPdfPages(bytes: Uint8Array): Promise<{
  readonly pages: readonly PdfPage[];
  readonly layers: readonly string[];
  readonly scaling: unknown;
}> {
  const document = await getDocument({ data: bytes.slice(), useSystemFonts: false, verbosity: 1 }).promise;
  const pages: PdfPage[] = [];
  for (let n = 1; n <= document.numPages; n++) {
    const page = await document.getPage(n);
    const [left, bottom, right, top] = page.view as [number, number, number, number];
    const content = await page.getTextContent();
    const texts = content.items.flatMap((item) => ('str' in item && item.str.trim() !== '' ? [item.str] : []));
    const { fnArray, argsArray } = await page.getOperatorList();
    let widthMm = 0;
    const strokes: PdfStroke[] = [];
    fnArray.forEach((operator: number, i: number) => {
      if (operator === OPS.setLineWidth) widthMm = mm((argsArray[i] as [number])[0]);
      if (operator !== OPS.constructPath) return;
      const [painted, [data]] = argsArray[i] as [number, [Float32Array]];
      if (painted !== OPS.stroke && painted !== OPS.closeStroke) return;
      const points: (readonly [number, number])[] = [];
      // 0 moveTo and 1 lineTo with two numbers each, 4 closePath.
      for (let at = 0; at < data.length; at += data[at]! > 1 ? 1 : 3) {
        if (data[at]! <= 1) points.push([mm(data[at + 1]! - left), mm(top - data[at + 2]!)]);
      }
      strokes.push({ widthMm, points });
    });
    pages.push({ widthMm: mm(right - left), heightMm: mm(top - bottom), texts, strokes });
  }
  const config = await document.getOptionalContentConfig();
  const layers = [...config].map(([, group]) => (group as { name: string }).name);
  const preferences = (await document.getViewerPreferences()) as Record<string, unknown> | null;
  return { pages, layers, scaling: preferences?.PrintScaling };
}
