/** From a lay to its marker: sheets to join or a roll (PDF), one picture (SVG), entities (DXF), or pages for a projector. */
import type { Lay } from '../lay/types.js';
import type { ClothSide } from '../report/seen-cloth.js';
import type { Sheet } from '../units/paper.js';
import type { LengthUnit } from '../units/types.js';
import { viewCloth } from './cloth-view.js';
import { loadPageFont } from './font.js';
import { markerDxf } from './marker-dxf.js';
import { paperLook, projectedLook } from './marker-looks.js';
import { titleOf } from './marker-page.js';
import { type MarkerPicture, markerPicture } from './marker-picture.js';
import { markerSheets } from './marker-sheets.js';
import { toPdf } from './pdf.js';
import { projectorDrawing } from './projector.js';
import { toSvg } from './svg.js';
import { roomOf } from './tiling.js';
import type { Dated, Drawing } from './types.js';

export interface MarkerOptions extends Dated {
  readonly what: 'marker' | 'projector';
  readonly sheet: Sheet;
  readonly format: 'pdf' | 'svg' | 'dxf';
  readonly units: LengthUnit;
  /** The side of the cloth that it is seen from. */
  readonly side: ClothSide;
}

/**
 * @param lay accepted by the checker
 * @returns the file, and how many pages it has; null where it is one picture
 */
export async function drawMarker(
  lay: Lay,
  { what, sheet, format, units, side, madeAt = null }: MarkerOptions,
): Promise<{ readonly bytes: Uint8Array; readonly sheets: number | null }> {
  const view = viewCloth(lay, side);
  if (format === 'dxf') return { bytes: Buffer.from(markerDxf(lay, view), 'latin1'), sheets: null };
  const font = await loadPageFont();
  const look = what === 'projector' ? projectedLook : paperLook;
  const isParted = what === 'marker' && format === 'pdf';
  const picture = markerPicture(view, {
    measure: font,
    look,
    units,
    farEndUm: lay.cloth.ends[1],
    ...(isParted ? { room: roomOf(sheet) } : {}),
  });
  const title = titleOf(lay);
  const isSplit = format === 'pdf';
  const drawing =
    what === 'projector'
      ? projectorDrawing(picture, { title, look, units, measure: font, isSplit })
      : isSplit
        ? markerSheets(picture, sheet, look, { lay, view, units, side, measure: font })
        : onePage(picture, title, look.styles);
  if (format === 'svg') return { bytes: Buffer.from(toSvg(drawing), 'utf8'), sheets: null };
  return { bytes: await toPdf(drawing, font, madeAt), sheets: drawing.pages.length };
}

function onePage(
  { parts, widthMm, heightMm, origin }: MarkerPicture,
  title: string,
  styles: Drawing['styles'],
): Drawing {
  const page = { widthMm, heightMm, groups: parts };
  return { title, scale: 1, origin, pages: [page], ...(styles === undefined ? {} : { styles }) };
}
