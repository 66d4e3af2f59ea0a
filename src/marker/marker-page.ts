/** The first page of a marker: test squares, how to print and join, what it is a marker of, the map, the cautions. */
import type { Lay } from '../lay/types.js';
import { cautions } from '../report/cautions.js';
import type { ClothSide } from '../report/seen-cloth.js';
import {
  counted,
  garmentsInWords,
  headlineOf,
  layInWords,
  napInWords,
  percent,
  repeatInWords,
} from '../report/words.js';
import { formatLength } from '../units/length.js';
import type { Sheet } from '../units/paper.js';
import type { LengthUnit } from '../units/types.js';
import type { ClothView } from './cloth-view.js';
import type { MarkerPicture } from './marker-picture.js';
import type { Tiling } from './marker-tiles.js';
import { matchInWords } from './match-sign.js';
import { layWords, wrongSideWords } from './page-words.js';
import { lineOf } from './piece-drawing.js';
import { makeText, shorten, wrap } from './text.js';
import { clipLevel, longestMm, sheetMarginMm, squareCmMm, squareInMm, testSquares } from './tiling.js';
import type { Item, Page, PagePoint, TextMeasure } from './types.js';

export interface MarkerWordsOptions {
  readonly lay: Lay;
  readonly view: ClothView;
  readonly units: LengthUnit;
  readonly side: ClothSide;
  readonly measure: TextMeasure;
}

interface PageRoom {
  readonly left: number;
  readonly right: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

const rollHighMm = 297;
/** Longer lines are hard to read. */
const widestWordsMm = 250;
const smallPt = 6.5;
const smallLeadMm = 2.9;

/** The first page, and further ones where the map is long. The numbers on the map are those of the pages. */
export function markerPages(
  picture: MarkerPicture,
  tiling: Tiling,
  sheet: Sheet,
  pagesBefore: number,
  options: MarkerWordsOptions,
): readonly Page[] {
  const { measure } = options;
  const heightMm = sheet.heightMm === null ? rollHighMm : Math.min(sheet.heightMm, longestMm);
  const room = { left: sheetMarginMm + 2, right: sheet.widthMm - sheetMarginMm - 2, widthMm: sheet.widthMm, heightMm };
  const wide = Math.min(room.right - room.left, widestWordsMm);
  const text = (words: string, at: PagePoint, sizePt: number, bold = false): Item =>
    makeText(measure, shorten(measure, words, room.right - at[0], sizePt, bold), at, { sizePt, bold });
  const printed = tiling.tiles.filter(({ isPrinted }) => isPrinted).length;
  const pages = pagesBefore + printed;
  const items: Item[] = [text(titleOf(options.lay), [room.left, sheetMarginMm + 7], 13, true)];
  let y = sheetMarginMm + 12.5;
  for (const words of instructions(picture, options.view, options.units)) {
    for (const line of wrap(measure, words, wide, 8, false)) {
      items.push(text(line, [room.left, y], 8));
      y += 3.6;
    }
    y += 0.6;
  }
  y += 1.5;
  items.push(...testSquares(room.left, y, measure));
  const besideAt = room.left + squareCmMm + 8 + squareInMm + 6;
  const hasBeside = room.right - besideAt > 50;
  const factsAt = hasBeside ? besideAt : room.left;
  const factsTop = hasBeside ? y + 2 : y + squareInMm + 6;
  const facts = factLines(measure, options, tiling, picture, pages, room.right - factsAt);
  facts.forEach((line, i) => {
    items.push(makeText(measure, line, [factsAt, factsTop + i * smallLeadMm], { sizePt: smallPt }));
  });
  y = Math.max(y + squareInMm, factsTop + (facts.length - 1) * smallLeadMm) + 6;
  const notes = cautionLines(measure, wide);
  const notesHigh = notes.length * 2.6;
  const mapBottom = heightMm - sheetMarginMm - 2 - notesHigh - 3;
  const rest = drawNotes(measure, notes, [room.left, heightMm - sheetMarginMm - 1 - notesHigh]);
  const maps = mapOf(picture, tiling, pagesBefore, room, [y, mapBottom], options);
  return maps.map((map, i): Page => {
    const head = text(`${titleOf(options.lay)}: map, continued`, [room.left, sheetMarginMm + 7], 10, true);
    const own = i === 0 ? [...items, ...map, ...rest] : [head, ...map];
    return { widthMm: room.widthMm, heightMm, groups: [{ title: null, placement: null, items: own }] };
  });
}

/** What the file and the first page are called. */
export function titleOf({ title, material }: Lay): string {
  return `${title} · ${material} · marker at true size`;
}

function instructions(
  { takenMm, checksMm, checkSide, unlabelled, numbersAlone }: MarkerPicture,
  { bars, pieces }: ClothView,
  units: LengthUnit,
): readonly string[] {
  const say = (mm: number) => formatLength(mm * 1000, units);
  const [across, along] = takenMm;
  const checks = [
    ...(checksMm[0] > 0 ? [`${say(checksMm[0])} across the top`] : []),
    ...(checksMm[1] > 0 ? [`${say(checksMm[1])} along the ${checkSide} edge`] : []),
  ];
  return [
    'Print at 100 % ("actual size", no fitting to the page), and measure a square on this sheet before anything else: if its sides are not as long as it says, print again.',
    'Tape the sheets row by row. Cut off the left and the upper edge along the line where there is one, and lay that edge on the line of the sheet before, so that the half diamonds make whole ones. It does not matter if the printer leaves the outer 1 cm white.',
    `When all are joined, measure: check lines ${checks.join(' and ')}; from the first to the last cutting line ${say(across)} across, ${say(along)} along.`,
    'Bold: cutting line. Dashes: seam line. Dots: hem, dart, pleat or other line. Dash and dot: fold of the cloth. Double line: selvedge. Stroke at an edge: notch. Cross: awl point. Hatched: nothing is cut there. Arrow head: head of the grain. ↓ after a number: printed side down. Long and short dashes right across: nothing crosses there, the paper can be rolled up or parted. Pale dots along the cloth: no piece reaches beyond.' +
      (bars.along.length + bars.across.length > 0 ? ' Pale dashes: bars of the repeat.' : '') +
      (pieces.some(({ match }) => match.length > 0) ? ` ${matchInWords}` : ''),
    ...(numbersAlone.length === 0 ? [] : [`With their numbers alone: ${numbersAlone.join('; ')}.`]),
    ...(unlabelled.length === 0 ? [] : [`Too small for their numbers: ${unlabelled.join(', ')}.`]),
  ];
}

/** How many layers lie over each other. */
function pliesInWords({ stretches, cloth }: Lay, { folded }: ClothView): string {
  if (!folded) return 'one';
  const isWhole = stretches.every(({ method, folds }) => {
    const isLengthwise = method === 'lengthwise fold' || method === 'tube' || 2 * (folds[0] + folds[1]) >= cloth.width;
    return isLengthwise || method.startsWith('crosswise');
  });
  return isWhole ? 'two' : 'one, two where folded';
}

/** The title block. */
function factLines(
  measure: TextMeasure,
  { lay, view, units, side }: MarkerWordsOptions,
  tiling: Tiling,
  { partings }: MarkerPicture,
  pages: number,
  wideMm: number,
): readonly string[] {
  const { cloth, totals } = lay;
  const say = (um: number) => formatLength(um, units);
  const many = tiling.tiles.length - tiling.tiles.filter(({ isPrinted }) => isPrinted).length;
  const left = many === 0 ? '' : `; ${counted(many, 'empty one', 'empty ones')} left out`;
  const facts: readonly (readonly [string, string])[] = [
    ['', headlineOf(lay, units)],
    ['length used', say(totals.lengthUsed)],
    ['usable width', `${say(cloth.usable[1] - cloth.usable[0])} of ${say(cloth.width)}; gap ${say(cloth.gap)}`],
    ['lay', layInWords(lay, units)],
    ['plies', `${pliesInWords(lay, view)}; ${layWords(lay, view, units).join(', ')}`],
    ...(view.isWashed ? [['washed', 'wash the cloth first: the marker is for the washed cloth'] as const] : []),
    ...(side === 'wrong' ? [['', wrongSideWords(lay, side)] as const] : []),
    ['nap', napInWords(cloth.nap)],
    ...(cloth.repeat === null ? [] : [['repeat', repeatInWords(lay, units, side)] as const]),
    ...garmentsInWords(lay).map((words) => ['', words] as const),
    [
      'pieces',
      `${counted(lay.placements.length, 'placement', 'placements')}, ${counted(lay.copies.length, 'copy', 'copies')}`,
    ],
    ['utilisation', `${percent(totals.utilisationPpm / 10_000)} of usable width × length used`],
    ['scale', `1 : 1; ${counted(pages, 'sheet', 'sheets')} with this one${left}`],
    [
      'grid',
      `${counted(tiling.rows, 'row', 'rows')} of ${tiling.columns}; ${tiling.whole} of ${counted(lay.placements.length, 'piece', 'pieces')} whole on a sheet`,
    ],
    ...(partings.length === 0 ? [] : [['roll up at', partings.map(say).join(', ')] as const]),
    ['', `checked · ${lay.status} · seed ${lay.seed} · effort ${lay.effort}`],
  ];
  return facts.flatMap(([what, words]) =>
    wrap(measure, what === '' ? words : `${what}: ${words}`, wideMm, smallPt, false),
  );
}

function cautionLines(measure: TextMeasure, wideMm: number): readonly string[] {
  return cautions.flatMap((text) =>
    wrap(measure, text, wideMm - 2.5, 6, false).map((line, i) => (i === 0 ? `– ${line}` : `   ${line}`)),
  );
}

function drawNotes(measure: TextMeasure, lines: readonly string[], [x, y]: PagePoint): readonly Item[] {
  return lines.map((line, i) => makeText(measure, line, [x, y + 2.2 + i * 2.6], { sizePt: 6, grey: 0.2 }));
}

/** Room for the number of a row, and between strips of the map. */
const mapLeftMm = 7;
const mapScaleLeast = 5;
const headMm = 14;

/** A strip of the map: some rows of sheets, in a place of its own. */
interface MapStrip {
  readonly from: number;
  readonly upTo: number;
  /** Its first sheet's corner on the page. */
  readonly at: PagePoint;
}

/**
 * The map from `y` to `bottom` of the first page: as large as it has room for in one strip; where its numbers would then
 * be too small, in several strips side by side, and on further pages.
 */
function mapOf(
  picture: MarkerPicture,
  { tiles, rows, columns }: Tiling,
  pagesBefore: number,
  { left, right, heightMm }: PageRoom,
  [y, bottom]: readonly [number, number],
  { measure }: MarkerWordsOptions,
): readonly (readonly Item[])[] {
  const [first, last] = [tiles[0]!.window, tiles.at(-1)!.window];
  const [wideMm, highMm] = [last.right - first.left, last.bottom - first.top];
  const stepX = columns > 1 ? (last.left - first.left) / (columns - 1) : wideMm;
  const stepY = rows > 1 ? (last.top - first.top) / (rows - 1) : highMm;
  const digits = String(pagesBefore + tiles.length).length;
  // The scale at which the narrowest field still holds a number of 5 points.
  const readable = Math.min(stepX / (digits * 1.15 + 1.2), stepY / 2.6);
  const fitting = Math.max(wideMm / (right - left - mapLeftMm), highMm / Math.max(1, bottom - y - 4), mapScaleLeast);
  const scale = Math.max(Math.min(fitting, readable), wideMm / (right - left - mapLeftMm));
  const stripWide = wideMm / scale + mapLeftMm + 3;
  const perPage = Math.max(1, Math.floor((right - left + 3) / stripWide));
  const pages: MapStrip[][] = [];
  for (let row = 0; row < rows; ) {
    const top = pages.length === 0 ? y + 4 : sheetMarginMm + headMm;
    const roomMm = (pages.length === 0 ? bottom : heightMm - sheetMarginMm - 2) - top;
    const strips: MapStrip[] = [];
    for (; strips.length < perPage && row < rows; row = strips.at(-1)!.upTo) {
      const reach = tiles.findIndex(
        ({ window }) => (window.bottom - tiles[row * columns]!.window.top) / scale > roomMm,
      );
      const upTo = reach < 0 ? rows : Math.max(row + 1, Math.floor(reach / columns));
      strips.push({ from: row, upTo, at: [left + mapLeftMm + strips.length * stripWide, top] });
    }
    pages.push(strips);
  }
  let number = pagesBefore;
  const numbers = tiles.map(({ isPrinted }) => (isPrinted ? ++number : null));
  const drawStrip = ({ from, upTo, at }: MapStrip): readonly Item[] => {
    const top = tiles[from * columns]!.window.top;
    const end = tiles[(upTo - 1) * columns]!.window.bottom;
    const small = ([px, py]: PagePoint): PagePoint => [at[0] + (px - first.left) / scale, at[1] + (py - top) / scale];
    const shapes = picture.parts.flatMap(({ outline }): Item[] => {
      const clipped = outline === null ? [] : clipLevel(outline, top, end);
      return clipped.length < 3 ? [] : [{ type: 'area', points: clipped.map(small), grey: 0.82 }];
    });
    const fields = tiles.slice(from * columns, upTo * columns).flatMap(({ window, part }, i): readonly Item[] => {
      const isLast = part.row === upTo;
      const [x0, y0] = small([window.left, window.top]);
      const [x1] = small([part.column < columns ? window.left + stepX : window.right, 0]);
      const [, y1] = small([0, isLast ? window.bottom : window.top + stepY]);
      const corners = [[x0, y0] as const, [x1, y0] as const, [x1, y1] as const, [x0, y1] as const];
      const page = numbers[from * columns + i]!;
      return [
        lineOf('box', corners, true),
        ...(page === null ? hatched(x0, y0, x1, y1) : fitted(measure, String(page), x0, y0, x1, y1)),
        ...(part.column === 1 ? fitted(measure, `r${part.row}`, x0 - mapLeftMm, y0, x0, y1, 0.4) : []),
      ];
    });
    return [...shapes, ...fields];
  };
  const words = 'Map: sheets by number, as the pages of this file; hatched ones are empty and not printed.';
  const head = makeText(measure, shorten(measure, words, right - left, 7, false), [left, y + 1.5], { sizePt: 7 });
  return pages.map((strips, i) => [...(i === 0 ? [head] : []), ...strips.flatMap(drawStrip)]);
}

function hatched(left: number, top: number, right: number, bottom: number): readonly Item[] {
  const [wide, high] = [right - left, bottom - top];
  const items: Item[] = [];
  for (let sum = 1.5; sum < wide + high; sum += 1.5) {
    const from: PagePoint = [left + Math.min(sum, wide), top + Math.max(0, sum - wide)];
    const to: PagePoint = [left + Math.max(0, sum - high), top + Math.min(sum, high)];
    items.push(lineOf('hatch', [from, to], false));
  }
  return items;
}

/** A number in the middle of its field, as large as there is room. */
function fitted(
  measure: TextMeasure,
  text: string,
  left: number,
  top: number,
  right: number,
  bottom: number,
  grey = 0,
): readonly Item[] {
  const [x, y] = [(left + right) / 2, (top + bottom) / 2];
  for (let sizePt = 9; sizePt >= 4; sizePt -= 0.5) {
    const item = makeText(measure, text, [x, y + sizePt * 0.13], { sizePt, anchor: 'middle', grey });
    if (item.widthMm <= right - left - 0.8 && sizePt * 0.36 <= bottom - top) return [item];
  }
  return [];
}
