/** Pages of a lay as one file: the plan, or the chalk list. */
import type { Lay } from '../lay/types.js';
import type { ClothSide } from '../report/seen-cloth.js';
import type { LengthUnit } from '../units/types.js';
import { chalkDrawing } from './chalk-pages.js';
import { loadPageFont } from './font.js';
import type { PageSize } from './page-sizes.js';
import { toPdf } from './pdf.js';
import { planDrawing } from './plan.js';
import { toSvg } from './svg.js';
import type { Dated } from './types.js';

export interface LayPagesOptions extends Dated {
  readonly what: 'plan' | 'chalk';
  readonly format: 'pdf' | 'svg';
  readonly page: PageSize;
  readonly units: LengthUnit;
  readonly side: ClothSide;
}

/**
 * @param lay accepted by the checker
 * @returns the file, and of how many pages it is
 */
export async function drawLayPages(
  lay: Lay,
  { what, format, page, units, side, madeAt = null }: LayPagesOptions,
): Promise<{ readonly bytes: Uint8Array; readonly pages: number }> {
  const measure = await loadPageFont();
  const make = what === 'plan' ? planDrawing : chalkDrawing;
  const drawing = make(lay, { page, units, side, measure });
  const bytes = format === 'pdf' ? await toPdf(drawing, measure, madeAt) : Buffer.from(toSvg(drawing), 'utf8');
  return { bytes, pages: drawing.pages.length };
}
