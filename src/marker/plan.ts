/**
 * The page she takes to the table: how much to buy, the lay drawn to a stated scale, the chalk list beside or below
 * it, and what to mind. All that does not fit on the first page is the rest of the chalk list.
 *
 *   title                      title                  title
 *   headline, facts            headline, facts        headline, facts
 *   plan      | chalk list     plan                   plan             the list on
 *             |                chalk | list                            further pages
 *   legend, cautions, foot     legend, cautions       legend, cautions
 */
import type { Lay } from '../lay/types.js';
import { cautions } from '../report/cautions.js';
import { chalkList } from '../report/chalk-list.js';
import type { ClothSide } from '../report/seen-cloth.js';
import { headlineOf } from '../report/words.js';
import type { LengthUnit } from '../units/types.js';
import { type ChalkTable, chalkTable, drawColumn, fillColumns, heightInColumns } from './chalk-table.js';
import { drawCloth, gutterMm } from './cloth-drawing.js';
import { type ClothView, viewCloth } from './cloth-view.js';
import { type Legend, makeLegend } from './legend.js';
import { columnGapMm, columnsIn, drawPageFeet, drawTitle, drawTop, frameOf, plain } from './page-parts.js';
import { type PageSize, pageSizesMm } from './page-sizes.js';
import { lineOf } from './piece-drawing.js';
import { type Box, makeText, wrap } from './text.js';
import type { Drawing, Item, ItemGroup, Page, PagePoint, TextMeasure } from './types.js';

/** Larger than this a plan does not read any better. */
const scaleMin = 3;
/** How much smaller than alone on its page a plan may be, or which scale it may have, to keep its list on the page. */
const smallerAllowed = 1.6;
const scaleAllowed = 25;
/** Less height than this is no place for a plan. */
const clothRoomMinMm = 60;

export interface PlanOptions {
  readonly page: PageSize;
  readonly units: LengthUnit;
  readonly measure: TextMeasure;
  /** The side of the cloth that lies up. */
  readonly side?: ClothSide;
}

interface Arrangement {
  readonly scale: number;
  /** Left end of the cut end. */
  readonly origin: PagePoint;
  /** Where columns of the list begin on the first page. */
  readonly listAt: readonly PagePoint[];
  readonly listHeightMm: number;
  readonly table: ChalkTable;
}

/** Lays the pages out. @param lay accepted by the checker */
export function planDrawing(lay: Lay, options: PlanOptions): Drawing {
  const { measure, units, side = 'right' } = options;
  const [widthMm, heightMm] = pageSizesMm[options.page];
  const frame = frameOf(options.page);
  const view = viewCloth(lay, side);
  const list = chalkList(lay, units, side);
  const beside = chalkTable(measure, list, units, 'narrow');
  const columns = columnsIn(frame, beside.leastMm);
  const tables = {
    beside,
    below: chalkTable(measure, list, units, columns.wideMm),
  };
  const legend = makeLegend(measure, view, frame.right - frame.left);
  const notes = cautionLines(measure, frame);
  const top = drawTop(measure, lay, view, units, frame, 1).bottom + 4;
  const footTop = frame.bottom - 6 - notes.heightMm - legend.heightMm;
  const body: Box = { ...frame, top, bottom: footTop - 3 };
  const ruleLines = wrap(measure, list.rule, Math.min(tables.beside.widthMm, columns.wideMm), 6, false);
  const arrangement = arrange(view, tables, columns.lefts, body, ruleLines.length * 2.6 + 7);
  const first: ItemGroup[] = [
    plain(drawTop(measure, lay, view, units, frame, arrangement.scale).items),
    ...drawCloth(measure, view, { origin: arrangement.origin, scale: arrangement.scale, units }),
    plain(drawFoot(legend, notes, frame, footTop)),
  ];
  const pages: ItemGroup[][] = [first];
  if (arrangement.listAt.length > 0) {
    first.push(plain(drawList(measure, arrangement, ruleLines)));
  } else {
    pages.push(...listPages(measure, lay, { units, side, table: tables.below, ruleLines, frame }));
  }
  const title = `${lay.title} · ${lay.material}`;
  const feet = drawPageFeet(measure, lay, frame, pages.length);
  return {
    title,
    scale: arrangement.scale,
    origin: arrangement.origin,
    pages: pages.map((groups, i): Page => ({ widthMm, heightMm, groups: [...groups, feet[i]!] })),
  };
}

/** Chooses how plan and list share the first page: the larger drawing wins, the list stays there if it reasonably can. */
function arrange(
  view: ClothView,
  tables: { readonly beside: ChalkTable; readonly below: ChalkTable },
  lefts: readonly number[],
  body: Box,
  listHeadMm: number,
): Arrangement {
  const alone = { ...fitCloth(view, body), listAt: [], listHeightMm: 0, table: tables.below };
  const choices: Arrangement[] = [];
  const besideHeightMm = heightInColumns(tables.beside, 1);
  if (listHeadMm + besideHeightMm <= body.bottom - body.top) {
    const listLeft = body.right - tables.beside.widthMm;
    const place = fitCloth(view, { ...body, right: listLeft - columnGapMm });
    const listAt: PagePoint[] = [[listLeft, body.top + listHeadMm]];
    choices.push({ ...place, listAt, listHeightMm: besideHeightMm, table: tables.beside });
  }
  const belowHeightMm = heightInColumns(tables.below, lefts.length);
  const listTop = body.bottom - belowHeightMm - listHeadMm;
  if (listTop - body.top > clothRoomMinMm) {
    const place = fitCloth(view, { ...body, bottom: listTop - 4 });
    const clothBottom = place.origin[1] + view.alongUm / 1000 / place.scale + gutterMm.bottom;
    const y = Math.min(listTop, clothBottom + 6) + listHeadMm;
    const listAt = lefts.map((left): PagePoint => [left, y]);
    choices.push({ ...place, listAt, listHeightMm: belowHeightMm, table: tables.below });
  }
  const best = choices.sort((a, b) => a.scale - b.scale)[0];
  return best !== undefined && best.scale <= Math.max(alone.scale * smallerAllowed, scaleAllowed) ? best : alone;
}

/** The largest whole-number scale at which the cloth and its gutters fit the box, and where it then begins. */
function fitCloth(view: ClothView, box: Box): { readonly scale: number; readonly origin: PagePoint } {
  const wide = box.right - box.left - gutterMm.left - gutterMm.right;
  const high = box.bottom - box.top - gutterMm.top - gutterMm.bottom;
  const scale = Math.max(scaleMin, Math.ceil(Math.max(view.acrossUm / 1000 / wide, view.alongUm / 1000 / high)));
  return { scale, origin: [box.left + gutterMm.left, box.top + gutterMm.top] };
}

interface Notes {
  readonly heightMm: number;
  draw(at: PagePoint): readonly Item[];
}

/** The cautions in two columns. */
function cautionLines(measure: TextMeasure, frame: Box): Notes {
  const wide = (frame.right - frame.left - columnGapMm) / 2;
  const all = ['This drawing is not at true scale: cut by the measures, not by the drawing.', ...cautions];
  const blocks = all.map((text) => wrap(measure, text, wide - 2.5, 6, false));
  const total = blocks.reduce((sum, block) => sum + block.length, 0);
  const split =
    blocks.findIndex((_, i) => blocks.slice(0, i + 1).reduce((sum, block) => sum + block.length, 0) * 2 >= total) + 1;
  const halves = [blocks.slice(0, split), blocks.slice(split)];
  const leading = 2.6;
  const count = Math.max(...halves.map((half) => half.reduce((sum, block) => sum + block.length, 0)));
  return {
    heightMm: count * leading + 2,
    draw: ([x, y]) =>
      halves.flatMap((half, column) => {
        const left = x + column * (wide + columnGapMm);
        let row = 0;
        return half.flatMap((block) => {
          const bullet = makeText(measure, '–', [left, y + 2.2 + row * leading], { sizePt: 6, grey: 0.2 });
          const texts = block.map((text) =>
            makeText(measure, text, [left + 2.5, y + 2.2 + row++ * leading], { sizePt: 6, grey: 0.2 }),
          );
          return [bullet, ...texts];
        });
      }),
  };
}

function drawFoot(legend: Legend, notes: Notes, frame: Box, top: number): readonly Item[] {
  return [
    ...legend.draw([frame.left, top]),
    lineOf(
      'rule',
      [
        [frame.left, top + legend.heightMm + 0.8],
        [frame.right, top + legend.heightMm + 0.8],
      ],
      false,
    ),
    ...notes.draw([frame.left, top + legend.heightMm + 2]),
  ];
}

/** The list on the first page: its heading and rule above the first column, the rows beneath. */
function drawList(
  measure: TextMeasure,
  { table, listAt, listHeightMm }: Arrangement,
  ruleLines: readonly string[],
): readonly Item[] {
  const columns = fillColumns([table], () => listHeightMm);
  return [
    ...drawListHead(measure, 'chalk list', ruleLines, listAt[0]!),
    ...columns.flatMap((rows, i) => drawColumn(rows, listAt[i]!)),
  ];
}

/** Stands above `at`. */
function drawListHead(
  measure: TextMeasure,
  words: string,
  ruleLines: readonly string[],
  [x, y]: PagePoint,
): readonly Item[] {
  const top = y - ruleLines.length * 2.6 - 2.5;
  return [
    makeText(measure, words, [x, top], { sizePt: 10, bold: true }),
    ...ruleLines.map((text, i) => makeText(measure, text, [x, top + 3.6 + i * 2.6], { sizePt: 6, grey: 0.3 })),
  ];
}

/** Pages of nothing but the list. */
function listPages(
  measure: TextMeasure,
  lay: Lay,
  {
    units,
    side,
    table,
    ruleLines,
    frame,
  }: {
    readonly units: LengthUnit;
    readonly side: ClothSide;
    readonly table: ChalkTable;
    readonly ruleLines: readonly string[];
    readonly frame: Box;
  },
): readonly ItemGroup[][] {
  const top = frame.top + 20;
  const columns = fillColumns([table], () => frame.bottom - 6 - top);
  const { lefts } = columnsIn(frame, table.leastMm);
  const pages: ItemGroup[][] = [];
  for (let from = 0; from < columns.length; from += lefts.length) {
    const words = from === 0 ? 'chalk list' : 'chalk list, continued';
    pages.push([
      plain([
        ...drawTitle(measure, lay, side, frame, 8, ` · ${headlineOf(lay, units)}`),
        ...drawListHead(measure, words, ruleLines, [frame.left, top]),
        ...columns.slice(from, from + lefts.length).flatMap((rows, i) => drawColumn(rows, [lefts[i]!, top])),
      ]),
    ]);
  }
  return pages;
}
