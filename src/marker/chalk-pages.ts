/**
 * The chalk list as pages of its own: what the lay is, the measures of every placement, what is to be transferred from
 * the paper to the cut copies, and what to mind. All of it flows through columns, page after page.
 */
import type { Lay } from '../lay/types.js';
import { cautions } from '../report/cautions.js';
import { chalkList } from '../report/chalk-list.js';
import type { ClothSide } from '../report/seen-cloth.js';
import { transferList } from '../report/transfer-list.js';
import { headlineOf } from '../report/words.js';
import type { LengthUnit } from '../units/types.js';
import { chalkTable, drawColumn, fillColumns, type TableRow, type TableSection } from './chalk-table.js';
import { viewCloth } from './cloth-view.js';
import { columnsIn, drawPageFeet, drawTitle, drawTop, frameOf, plain } from './page-parts.js';
import { type PageSize, pageSizesMm } from './page-sizes.js';
import { makeText, wrap } from './text.js';
import { textRow, titleRow, transferSections } from './transfer-table.js';
import type { Drawing, Item, Page, PagePoint, TextMeasure } from './types.js';

const footMm = 6;
const ruleLeadingMm = 2.8;

/** Lays the pages out. @param lay accepted by the checker */
export function chalkDrawing(
  lay: Lay,
  {
    page,
    units,
    side,
    measure,
  }: {
    readonly page: PageSize;
    readonly units: LengthUnit;
    readonly side: ClothSide;
    readonly measure: TextMeasure;
  },
): Drawing {
  const [widthMm, heightMm] = pageSizesMm[page];
  const frame = frameOf(page);
  const list = chalkList(lay, units, side);
  const { lefts, wideMm } = columnsIn(frame, chalkTable(measure, list, units, 'narrow').leastMm);
  const top = drawTop(measure, lay, viewCloth(lay, side), units, frame, null);
  const rule = wrap(measure, list.rule, frame.right - frame.left, 6.5, false);
  const firstTop = top.bottom + 9 + rule.length * ruleLeadingMm;
  const nextTop = frame.top + 7;
  const table = chalkTable(measure, list, units, wideMm);
  const sections: TableSection[] = [
    table,
    ...transferSections(measure, transferList(lay), units, wideMm),
    { heading: titleRow(measure, 'to mind'), rows: cautions.map((text) => textRow(measure, text, wideMm, true)) },
  ];
  const columns = fillColumns(sections, (column) => {
    return frame.bottom - footMm - (column < lefts.length ? firstTop : nextTop);
  });
  const count = Math.ceil(columns.length / lefts.length);
  const columnItems = (index: number, topMm: number): readonly Item[] =>
    columns
      .slice(index * lefts.length, (index + 1) * lefts.length)
      .flatMap((rows: readonly TableRow[], i) => drawColumn(rows, [lefts[i]!, topMm] as PagePoint));
  const feet = drawPageFeet(measure, lay, frame, count);
  const pages = Array.from({ length: count }, (_, index): Page => {
    const head =
      index > 0
        ? drawTitle(measure, lay, side, frame, 8, ` · ${headlineOf(lay, units)} · chalk list, continued`)
        : [
            ...top.items,
            makeText(measure, 'chalk list', [frame.left, top.bottom + 5], { sizePt: 10, bold: true }),
            ...rule.map((text, i) =>
              makeText(measure, text, [frame.left, top.bottom + 8.6 + i * ruleLeadingMm], { sizePt: 6.5, grey: 0.2 }),
            ),
          ];
    const items = [...head, ...columnItems(index, index === 0 ? firstTop : nextTop)];
    return { widthMm, heightMm, groups: [plain(items), feet[index]!] };
  });
  return { title: `${lay.title} · ${lay.material} · chalk list`, scale: 1, origin: [frame.left, frame.top], pages };
}
