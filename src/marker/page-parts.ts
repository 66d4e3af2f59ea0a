/** Parts that pages of a lay have in common: title, headline, facts, foot of the page. */
import type { Lay } from '../lay/types.js';
import type { ClothSide } from '../report/seen-cloth.js';
import { headlineOf } from '../report/words.js';
import type { LengthUnit } from '../units/types.js';
import type { ClothView } from './cloth-view.js';
import { marginMm, type PageSize, pageSizesMm } from './page-sizes.js';
import { type Fact, facts, footWords, wrongSideWords } from './page-words.js';
import { lineOf } from './piece-drawing.js';
import { type Box, makeText, shorten, widthMm, wrap } from './text.js';
import type { Item, ItemGroup, TextMeasure } from './types.js';

/** Between two columns of a list. */
export const columnGapMm = 6;
/** No column of a list need be narrower. */
const columnLeastMm = 84;

/** What is inside the margins of a page. */
export function frameOf(page: PageSize): Box {
  const [widthMm, heightMm] = pageSizesMm[page];
  return { left: marginMm, right: widthMm - marginMm, top: marginMm, bottom: heightMm - marginMm };
}

/** As many columns of a list as there is room for: where they begin across the page, and how wide they are. */
export function columnsIn(frame: Box, leastMm: number): { readonly lefts: readonly number[]; readonly wideMm: number } {
  const whole = frame.right - frame.left + columnGapMm;
  const count = Math.max(1, Math.floor(whole / (Math.max(columnLeastMm, leastMm) + columnGapMm)));
  const lefts = Array.from({ length: count }, (_, i) => frame.left + (i * whole) / count);
  return { lefts, wideMm: whole / count - columnGapMm };
}

/** A group that needs no name. */
export function plain(items: readonly Item[]): ItemGroup {
  return { title: null, placement: null, items };
}

/** The first line of a page: title and material, shortened; then, never shortened, that it is seen from the wrong side. */
export function drawTitle(
  measure: TextMeasure,
  lay: Lay,
  side: ClothSide,
  frame: Box,
  sizePt: number,
  tail = '',
): readonly Item[] {
  const wide = frame.right - frame.left;
  const y = frame.top + 3;
  const note = wrongSideWords(lay, side);
  const noteMm = note === '' ? 0 : widthMm(measure, note, sizePt, true) + 4;
  const title = shorten(measure, `${lay.title} · ${lay.material}${tail}`, wide - noteMm, sizePt, false);
  return [
    makeText(measure, title, [frame.left, y], { sizePt, grey: 0.3 }),
    ...(note === '' ? [] : [makeText(measure, note, [frame.right, y], { sizePt, bold: true, anchor: 'end' })]),
  ];
}

/** Title, headline and facts. @param scale of the drawing; null where nothing is drawn */
export function drawTop(
  measure: TextMeasure,
  lay: Lay,
  view: ClothView,
  units: LengthUnit,
  frame: Box,
  scale: number | null,
): { readonly items: readonly Item[]; readonly bottom: number } {
  const wide = frame.right - frame.left;
  const items: Item[] = [...drawTitle(measure, lay, view.side, frame, 9)];
  const words = headlineOf(lay, units);
  let sizePt = 20;
  while (sizePt > 12 && widthMm(measure, words, sizePt, true) > wide) sizePt -= 0.5;
  let y = frame.top + 5;
  for (const line of wrap(measure, words, wide, sizePt, true).slice(0, 2)) {
    y += sizePt * 0.42;
    items.push(makeText(measure, line, [frame.left, y], { sizePt, bold: true }));
  }
  const drawn = drawFacts(measure, facts(lay, view, units, scale), frame, y + 7.5);
  return { items: [...items, ...drawn.items], bottom: drawn.bottom };
}

/** Facts in four columns, row by row. */
function drawFacts(
  measure: TextMeasure,
  all: readonly Fact[],
  frame: Box,
  top: number,
): { readonly items: readonly Item[]; readonly bottom: number } {
  const perRow = 4;
  const gap = 4;
  const wide = (frame.right - frame.left - gap * (perRow - 1)) / perRow;
  const items: Item[] = [];
  let y = top;
  for (let from = 0; from < all.length; from += perRow) {
    let deepest = 0;
    all.slice(from, from + perRow).forEach(({ what, lines }, i) => {
      const x = frame.left + i * (wide + gap);
      items.push(makeText(measure, what, [x, y], { sizePt: 6, grey: 0.35 }));
      const set = lines.flatMap((line, k) =>
        wrap(measure, line, wide, k === 0 ? 7.5 : 6.5, false)
          .slice(0, 5)
          .map((text) => ({ text, sizePt: k === 0 ? 7.5 : 6.5 })),
      );
      let down = y + 0.6;
      for (const { text, sizePt } of set) {
        down += sizePt === 7.5 ? 3.3 : 3;
        items.push(makeText(measure, text, [x, down], { sizePt }));
      }
      deepest = Math.max(deepest, down);
    });
    y = deepest + 5.2;
  }
  const bottom = y - 3.4;
  items.push(
    lineOf(
      'rule',
      [
        [frame.left, bottom],
        [frame.right, bottom],
      ],
      false,
    ),
  );
  return { items, bottom };
}

/** For each of so many pages its last line: what the lay is, and which page it is. */
export function drawPageFeet(measure: TextMeasure, lay: Lay, frame: Box, pages: number): readonly ItemGroup[] {
  const words = footWords(lay);
  const look = { sizePt: 6, grey: 0.35 };
  return Array.from({ length: pages }, (_, i) =>
    plain([
      makeText(measure, words, [frame.left, frame.bottom], look),
      makeText(measure, `page ${i + 1} of ${pages}`, [frame.right, frame.bottom], { ...look, anchor: 'end' }),
    ]),
  );
}
