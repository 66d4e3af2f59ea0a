/**
 * The marker to be thrown on the cloth by a projector: full size, thick black lines, large words. First a page to set the
 * projector by. Squares of 5 cm and a line of 50 cm: common practice, no source.
 */
import { formatLength } from '../units/length.js';
import type { LengthUnit } from '../units/types.js';
import type { MarkerLook } from './marker-looks.js';
import type { MarkerPicture } from './marker-picture.js';
import { lineOf } from './piece-drawing.js';
import { makeText, wrap } from './text.js';
import { itemIn, longestMm, moved } from './tiling.js';
import type { Drawing, Item, ItemGroup, Page, PagePoint, TextMeasure } from './types.js';

/** Round on her tape: 5 cm or 2 in, and ten of them. */
const squaresMm = { cm: 50, mm: 50, in: 50.8 } as const;
const borderMm = 30;
/** Shown again on the next page where the marker is longer than one. */
const againMm = 200;

export interface ProjectorOptions {
  readonly title: string;
  readonly look: MarkerLook;
  readonly units: LengthUnit;
  readonly measure: TextMeasure;
  /** PDF pages end somewhere, pictures do not. */
  readonly isSplit: boolean;
}

/** The page to set the projector by, then the marker, on several pages where it is longer than a page may be. */
export function projectorDrawing(picture: MarkerPicture, options: ProjectorOptions): Drawing {
  const { title, look, isSplit } = options;
  const pageHigh = isSplit ? longestMm : picture.heightMm;
  const pages: Page[] = [calibrationPage(options)];
  for (let top = 0; top === 0 || top + againMm < picture.heightMm; top += pageHigh - againMm) {
    const heightMm = Math.min(pageHigh, picture.heightMm - top);
    const window = { left: 0, top, right: picture.widthMm, bottom: top + heightMm };
    const groups = picture.parts.flatMap(({ title: name, placement, items }): ItemGroup[] => {
      const shown = items.flatMap((item) => itemIn(item, window)).map((item) => moved(item, [0, 0 - top]));
      return shown.length === 0 ? [] : [{ title: name, placement, items: shown }];
    });
    pages.push({ widthMm: picture.widthMm, heightMm, groups });
  }
  return { title, scale: 1, origin: picture.origin, styles: look.styles, pages };
}

/** Squares over the whole page, a long line both ways, and what to do. */
function calibrationPage({ title, units, measure, look }: ProjectorOptions): Page {
  const squareMm = squaresMm[units];
  const lineMm = 10 * squareMm;
  const [columns, rows] = [12, 12];
  const wide = columns * squareMm;
  const high = rows * squareMm;
  const wordsTop = 60;
  const say = (mm: number) => formatLength(mm * 1000, units);
  const sizePt = look.edgePt;
  const lines = [
    title,
    `Set the projector until every square is ${say(squareMm)} on each side, in all corners alike, and the thick lines are ${say(lineMm)} between their ends. Then show the next page at the same size, and measure its check line too.`,
  ].flatMap((words) => wrap(measure, words, wide, sizePt, false));
  const top = wordsTop + lines.length * 9;
  const at = (x: number, y: number): PagePoint => [borderMm + x, top + y];
  const across = (y: number): Item => lineOf('seam', [at(0, y), at(wide, y)], false);
  const down = (x: number): Item => lineOf('seam', [at(x, 0), at(x, high)], false);
  const end = 8;
  // In the middle of a row of squares, so that the words beside them are clear of all lines.
  const [line, from] = [squareMm, squareMm];
  const items: Item[] = [
    ...lines.map((words, i) => makeText(measure, words, [borderMm, 40 + i * 9], { sizePt })),
    ...Array.from({ length: rows + 1 }, (_, i) => across(i * squareMm)),
    ...Array.from({ length: columns + 1 }, (_, i) => down(i * squareMm)),
    lineOf('cutting', [at(from, line), at(from + lineMm, line)], false),
    lineOf('cutting', [at(line, from), at(line, from + lineMm)], false),
    ...[from, from + lineMm].flatMap((place) => [
      lineOf('cutting', [at(place, line - end), at(place, line + end)], false),
      lineOf('cutting', [at(line - end, place), at(line + end, place)], false),
    ]),
    makeText(measure, say(lineMm), at(2.5 * squareMm, line + 0.6 * squareMm), { sizePt, anchor: 'middle' }),
    makeText(measure, say(squareMm), at(1.5 * squareMm, 1.6 * squareMm), { sizePt: 14, anchor: 'middle' }),
  ];
  const widthMm = wide + 2 * borderMm;
  return {
    widthMm,
    heightMm: top + high + borderMm,
    groups: [{ title: 'squares to measure', placement: null, items }],
  };
}
