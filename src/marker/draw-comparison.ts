/** From a comparison of cloths to its plot as SVG. */
import type { Comparison } from '../report/comparison.js';
import type { LengthUnit } from '../units/types.js';
import { comparisonDrawing } from './comparison-drawing.js';
import { loadPageFont } from './font.js';
import type { PageSize } from './page-sizes.js';
import { toSvg } from './svg.js';

/** What to buy and what it costs against the width, a page for each material, as SVG text. */
export async function drawComparison(
  comparisons: readonly Comparison[],
  options: { readonly title: string; readonly page: PageSize; readonly units: LengthUnit },
): Promise<string> {
  const measure = await loadPageFont();
  return toSvg(comparisonDrawing(comparisons, { ...options, measure }));
}
