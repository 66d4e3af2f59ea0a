/**
 * Drawing -> PDF. Page boxes are computed from millimetres (1 mm = 72/25.4 pt), fonts are embedded as subsets, the date
 * is fixed or given, viewers are asked not to scale: the same drawing gives the same bytes. pdf-lib is loaded when needed,
 * because its import takes longer than everything else here.
 */
import type {
  PDFDocument,
  PDFFont,
  PDFHexString,
  PDFName,
  PDFOperator,
  PDFOperatorNames,
  PDFPage,
  PDFRef,
} from 'pdf-lib';
import type { PageFont } from './font.js';
import { lineStyles } from './line-styles.js';
import {
  type Box,
  type ContentLayer,
  contentLayers,
  type Drawing,
  type Item,
  type LineKind,
  type LineStyles,
  type MadeAt,
  type Page,
  type PagePoint,
  type TextItem,
} from './types.js';

const ptPerMm = 72 / 25.4;
/** 2000-01-01, stands for "no date": the moment of making must not change the bytes. */
const fixedDate = Date.UTC(2000, 0, 1);

type PdfLib = typeof import('pdf-lib');

interface Face {
  encoded(text: string): PDFHexString;
  keyOn(page: PDFPage): PDFName;
}

interface Pen {
  readonly lib: PdfLib;
  readonly page: PDFPage;
  readonly heightMm: number;
  readonly regular: Face;
  readonly bold: Face;
  readonly styles: LineStyles;
  /** The kind of line that the page is set to draw. */
  kindSet: LineKind | null;
}

/** One PDF document with the drawing's pages. */
export async function toPdf(drawing: Drawing, font: PageFont, madeAt: MadeAt): Promise<Uint8Array> {
  const lib = await import('pdf-lib');
  const { default: fontkit } = await import('@pdf-lib/fontkit');
  const document = await lib.PDFDocument.create({ updateMetadata: false });
  document.registerFontkit(fontkit);
  document.setTitle(drawing.title, { showInWindowTitleBar: true });
  document.setLanguage('en');
  document.setProducer('Shortlay');
  document.setCreator('Shortlay');
  const date = new Date(madeAt === null ? fixedDate : madeAt * 1000);
  document.setCreationDate(date);
  document.setModificationDate(date);
  document.catalog.getOrCreateViewerPreferences().setPrintScaling(lib.PrintScaling.None);
  const features = { kern: false, liga: false, clig: false };
  const regular = faceOf(lib, await document.embedFont(font.regular, { subset: true, features }));
  const bold = faceOf(lib, await document.embedFont(font.bold, { subset: true, features }));
  const layers = declareLayers(lib, document, drawing);
  for (const page of drawing.pages) {
    const sheet = document.addPage([page.widthMm * ptPerMm, page.heightMm * ptPerMm]);
    nameLayers(lib, sheet, layers);
    const styles = drawing.styles ?? lineStyles;
    drawPage({ lib, page: sheet, heightMm: page.heightMm, regular, bold, styles, kindSet: null }, page);
  }
  return document.save();
}

type Layers = ReadonlyMap<ContentLayer, PDFRef>;

/** Optional content (PDF 1.7, 8.11): a group for each layer that the drawing has, all of them shown at first. */
function declareLayers(lib: PdfLib, document: PDFDocument, drawing: Drawing): Layers {
  const used = new Set(drawing.pages.flatMap(({ groups }) => groups.flatMap(({ items }) => items.map(layerOf))));
  const { context, catalog } = document;
  const layers = new Map<ContentLayer, PDFRef>();
  for (const layer of contentLayers) {
    if (!used.has(layer)) continue;
    layers.set(layer, context.register(context.obj({ Type: 'OCG', Name: lib.PDFString.of(layer) })));
  }
  if (layers.size === 0) return layers;
  const all = [...layers.values()];
  const shown = { Name: lib.PDFString.of('all'), Order: all, ON: all };
  catalog.set(lib.PDFName.of('OCProperties'), context.obj({ OCGs: all, D: shown }));
  return layers;
}

/** What content streams call a layer. */
function layerName(layer: ContentLayer): string {
  return `Layer${contentLayers.indexOf(layer) + 1}`;
}

function nameLayers(lib: PdfLib, sheet: PDFPage, layers: Layers): void {
  if (layers.size === 0) return;
  const names = Object.fromEntries([...layers].map(([layer, ref]) => [layerName(layer), ref]));
  sheet.node.normalizedEntries().Resources.set(lib.PDFName.of('Properties'), sheet.doc.context.obj(names));
}

function layerOf(item: Item): ContentLayer | null {
  return item.layer ?? null;
}

function drawPage(pen: Pen, page: Page): void {
  const { lib, page: sheet } = pen;
  let within: Box | undefined;
  const goTo = (clip: Box | undefined): void => {
    if (clip === within) return;
    if (within !== undefined) sheet.pushOperators(lib.popGraphicsState());
    if (clip !== undefined) sheet.pushOperators(lib.pushGraphicsState(), ...clipTo(pen, clip));
    pen.kindSet = null;
    within = clip;
  };
  for (const { items, clip } of page.groups) {
    goTo(clip);
    drawItems(pen, items);
  }
  goTo(undefined);
}

function clipTo(pen: Pen, clip: Box): PDFOperator[] {
  const { lib } = pen;
  const [left, bottom] = toPt(pen, [clip.left, clip.bottom]);
  const [right, top] = toPt(pen, [clip.right, clip.top]);
  return [lib.rectangle(left, bottom, right - left, top - bottom), lib.clip(), lib.endPath()];
}

/** Runs of one layer between a begin and an end of marked content. */
function drawItems(pen: Pen, items: readonly Item[]): void {
  const { lib, page } = pen;
  let open: ContentLayer | null = null;
  const goTo = (layer: ContentLayer | null): void => {
    if (layer === open) return;
    if (open !== null) page.pushOperators(lib.PDFOperator.of(lib.PDFOperatorNames.EndMarkedContent));
    if (layer !== null) {
      const words = [lib.PDFName.of('OC'), lib.PDFName.of(layerName(layer))];
      page.pushOperators(lib.PDFOperator.of(lib.PDFOperatorNames.BeginMarkedContentSequence, words));
    }
    open = layer;
  };
  for (const item of items) {
    goTo(layerOf(item));
    drawItem(pen, item);
  }
  goTo(null);
}

function drawItem(pen: Pen, item: Item): void {
  const { lib, page } = pen;
  switch (item.type) {
    case 'area':
      page.pushOperators(
        lib.setFillingGrayscaleColor(item.grey),
        painted(pen, lib.PDFOperatorNames.FillNonZero, item.points, true),
      );
      return;
    case 'line':
      page.pushOperators(
        ...strokeStyle(pen, item.kind),
        painted(pen, lib.PDFOperatorNames.StrokePath, item.points, item.closed),
      );
      return;
    case 'text':
      drawText(pen, item);
  }
}

/** How a kind of line looks; nothing where the line before was of the same kind. */
function strokeStyle(pen: Pen, kind: LineKind): PDFOperator[] {
  if (pen.kindSet === kind) return [];
  pen.kindSet = kind;
  const { lib } = pen;
  const { widthMm, dashMm, grey } = pen.styles[kind];
  const dash = dashMm.map((length) => toGrain(length * ptPerMm));
  return [
    lib.setStrokingGrayscaleColor(grey),
    lib.setLineWidth(toGrain(widthMm * ptPerMm)),
    lib.setLineJoin(lib.LineJoinStyle.Round),
    lib.setDashPattern(dash, 0),
  ];
}

/** A path and what is done with it, in one operator: an object for each of its numbers would only take time. */
function painted(pen: Pen, paint: PDFOperatorNames, points: readonly PagePoint[], closed: boolean): PDFOperator {
  const words = points.map((point, i) => {
    const [x, y] = toPt(pen, point);
    return `${x} ${y} ${i === 0 ? 'm' : 'l'}`;
  });
  return pen.lib.PDFOperator.of(paint, [[...words, ...(closed ? ['h'] : [])].join('\n')]);
}

function drawText(pen: Pen, item: TextItem): void {
  const { lib, page } = pen;
  if (item.text === '') return;
  const before = item.anchor === 'start' ? 0 : item.anchor === 'middle' ? item.widthMm / 2 : item.widthMm;
  const [atX, atY] = item.at;
  const [x, y] = toPt(pen, item.angle === 0 ? [atX - before, atY] : [atX, atY + before]);
  const face = item.bold ? pen.bold : pen.regular;
  page.pushOperators(
    lib.beginText(),
    lib.setFillingGrayscaleColor(item.grey),
    lib.setFontAndSize(face.keyOn(page), item.sizePt),
    item.angle === 0 ? lib.setTextMatrix(1, 0, 0, 1, x, y) : lib.setTextMatrix(0, 1, -1, 0, x, y),
    lib.showText(face.encoded(item.text)),
    lib.endText(),
  );
}

/** A font of the document; each letter is looked up once (there are no ligatures), each page names the font once. */
function faceOf(lib: PdfLib, font: PDFFont): Face {
  const letters = new Map<string, string>();
  const keys = new Map<PDFPage, PDFName>();
  const hexOf = (letter: string) => known(letters, letter, () => font.encodeText(letter).asString());
  return {
    encoded: (text) => lib.PDFHexString.of([...text].map(hexOf).join('')),
    keyOn: (page) => known(keys, page, () => page.node.newFontDictionary(font.name, font.ref)),
  };
}

function known<K, V>(map: Map<K, V>, key: K, make: () => V): V {
  const found = map.get(key) ?? make();
  map.set(key, found);
  return found;
}

/** Page millimetres, y down -> points, y up. */
function toPt({ heightMm }: Pen, [x, y]: PagePoint): [number, number] {
  return [toGrain(x * ptPerMm), toGrain((heightMm - y) * ptPerMm)];
}

/** Ten-thousandths of a point, well below a micrometre: longer fractions would only make the file larger. */
function toGrain(pt: number): number {
  return Math.round(pt * 10_000) / 10_000;
}
