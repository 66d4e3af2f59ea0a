/**
 * Drawing -> PDF. Page boxes are computed from millimetres (1 mm = 72/25.4 pt), fonts are embedded as subsets, dates
 * are fixed, viewers are asked not to scale: the same drawing gives the same bytes. pdf-lib is loaded when needed,
 * because its import takes longer than everything else here.
 */
import type { PDFFont, PDFOperator, PDFPage } from 'pdf-lib';
import type { PageFont } from './font.js';
import { lineStyles } from './line-styles.js';
import type { Drawing, Item, Page, PagePoint, TextItem } from './types.js';

const ptPerMm = 72 / 25.4;
/** Stands for "no date": the moment of making must not change the bytes. */
const fixedDate = new Date(Date.UTC(2000, 0, 1));

type PdfLib = typeof import('pdf-lib');

interface Pen {
  readonly lib: PdfLib;
  readonly page: PDFPage;
  readonly heightMm: number;
  readonly regular: PDFFont;
  readonly bold: PDFFont;
}

/** One PDF document with the drawing's pages. */
export async function toPdf(drawing: Drawing, font: PageFont): Promise<Uint8Array> {
  const lib = await import('pdf-lib');
  const { default: fontkit } = await import('@pdf-lib/fontkit');
  const document = await lib.PDFDocument.create({ updateMetadata: false });
  document.registerFontkit(fontkit);
  document.setTitle(drawing.title, { showInWindowTitleBar: true });
  document.setLanguage('en');
  document.setProducer('Shortlay');
  document.setCreator('Shortlay');
  document.setCreationDate(fixedDate);
  document.setModificationDate(fixedDate);
  document.catalog.getOrCreateViewerPreferences().setPrintScaling(lib.PrintScaling.None);
  const features = { kern: false, liga: false, clig: false };
  const regular = await document.embedFont(font.regular, { subset: true, features });
  const bold = await document.embedFont(font.bold, { subset: true, features });
  for (const page of drawing.pages) {
    const sheet = document.addPage([page.widthMm * ptPerMm, page.heightMm * ptPerMm]);
    drawPage({ lib, page: sheet, heightMm: page.heightMm, regular, bold }, page);
  }
  return document.save();
}

function drawPage(pen: Pen, page: Page): void {
  const { lib, page: sheet } = pen;
  for (const { items, clip } of page.groups) {
    if (clip !== undefined) {
      const [left, bottom] = toPt(pen, [clip.left, clip.bottom]);
      const [right, top] = toPt(pen, [clip.right, clip.top]);
      sheet.pushOperators(
        lib.pushGraphicsState(),
        lib.rectangle(left, bottom, right - left, top - bottom),
        lib.clip(),
        lib.endPath(),
      );
    }
    for (const item of items) drawItem(pen, item);
    if (clip !== undefined) sheet.pushOperators(lib.popGraphicsState());
  }
}

function drawItem(pen: Pen, item: Item): void {
  const { lib, page } = pen;
  switch (item.type) {
    case 'area':
      page.pushOperators(
        lib.pushGraphicsState(),
        lib.setFillingGrayscaleColor(item.grey),
        ...path(pen, item.points, true),
        lib.fill(),
        lib.popGraphicsState(),
      );
      return;
    case 'line': {
      const { widthMm, dashMm, grey } = lineStyles[item.kind];
      page.pushOperators(
        lib.pushGraphicsState(),
        lib.setStrokingGrayscaleColor(grey),
        lib.setLineWidth(widthMm * ptPerMm),
        lib.setLineJoin(lib.LineJoinStyle.Round),
        lib.setDashPattern(
          dashMm.map((length) => length * ptPerMm),
          0,
        ),
        ...path(pen, item.points, item.closed),
        lib.stroke(),
        lib.popGraphicsState(),
      );
      return;
    }
    case 'text':
      drawText(pen, item);
  }
}

function path(pen: Pen, points: readonly PagePoint[], closed: boolean): PDFOperator[] {
  const { lib } = pen;
  const operators = points.map((point, i) => {
    const [x, y] = toPt(pen, point);
    return i === 0 ? lib.moveTo(x, y) : lib.lineTo(x, y);
  });
  return closed ? [...operators, lib.closePath()] : operators;
}

function drawText(pen: Pen, item: TextItem): void {
  const { lib, page } = pen;
  if (item.text === '') return;
  const before = item.anchor === 'start' ? 0 : item.anchor === 'middle' ? item.widthMm / 2 : item.widthMm;
  const [atX, atY] = item.at;
  const [x, y] = toPt(pen, item.angle === 0 ? [atX - before, atY] : [atX, atY + before]);
  page.drawText(item.text, {
    x,
    y,
    size: item.sizePt,
    font: item.bold ? pen.bold : pen.regular,
    color: lib.grayscale(item.grey),
    rotate: lib.degrees(-item.angle),
  });
}

/** Page millimetres, y down -> points, y up. */
function toPt({ heightMm }: Pen, [x, y]: PagePoint): [number, number] {
  return [x * ptPerMm, (heightMm - y) * ptPerMm];
}
