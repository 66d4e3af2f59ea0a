/** From a lay to the files she prints: the plan with its chalk list as SVG and as PDF, both from one drawing. */
import type { Lay } from '../lay/types.js';
import type { LengthUnit } from '../units/types.js';
import { loadPageFont } from './font.js';
import type { PageSize } from './page-sizes.js';
import { toPdf } from './pdf.js';
import { planDrawing } from './plan.js';
import { toSvg } from './svg.js';
import type { Dated } from './types.js';

/** @param lay accepted by the checker */
export async function drawPlan(
  lay: Lay,
  options: { readonly page: PageSize; readonly units: LengthUnit } & Dated,
): Promise<{ readonly svg: string; readonly pdf: Uint8Array }> {
  const font = await loadPageFont();
  const drawing = planDrawing(lay, { ...options, measure: font });
  return { svg: toSvg(drawing), pdf: await toPdf(drawing, font, options.madeAt ?? null) };
}
