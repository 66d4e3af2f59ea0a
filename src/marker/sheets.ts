/**
 * Drawings at true size on sheets: several small ones to a sheet, a large one over rows and columns of sheets that are
 * joined with an overlap. The first sheet holds the test square, what to do, and the map of all others.
 */
import { counted } from '../report/words.js';
import type { Sheet } from '../units/paper.js';
import { lineOf } from './piece-drawing.js';
import { type Box, makeText, shorten, wrap } from './text.js';
import {
  cornerWords,
  hairMm,
  isInside,
  itemIn,
  joinMarks,
  longestMm,
  moved,
  overlapMm,
  type Part,
  type Room,
  roomOf,
  sheetMarginMm,
  sheetsFor,
  squareInMm,
  testSquares,
} from './tiling.js';
import type { Picture } from './true-piece.js';
import type { Drawing, Item, ItemGroup, Page, PagePoint, TextMeasure } from './types.js';

const gapMm = 4;

export interface SheetOptions {
  readonly title: string;
  readonly sheet: Sheet;
  /** What stands on the first sheet beneath its title. */
  readonly words: readonly string[];
  readonly measure: TextMeasure;
}

/** A sheet of the drawing: parts of one picture, or several whole ones. */
interface Placed {
  readonly picture: Picture;
  /** Where the picture's [0, 0] lies, from the corner of the room for drawing. */
  readonly at: PagePoint;
  /** Row, column and how many of both of a picture that takes several sheets, from 1. */
  readonly part: Part | null;
}

interface LaidSheet {
  readonly placed: readonly Placed[];
  /** Height of the room for drawing. */
  readonly heightMm: number;
}

/** All sheets, the first with its map; at least one picture. */
export function sheetsDrawing(pictures: readonly Picture[], options: SheetOptions): Drawing {
  const room = roomOf(options.sheet);
  const laid = lay(pictures, room);
  // How long the map is does not depend on the numbers in it.
  const maps = mapPages(pictures, laid, room, 1, options).length;
  const pages = laid.map((sheet, i) => sheetPage(sheet, maps + i + 1, maps + laid.length, room, options));
  return {
    title: options.title,
    scale: 1,
    origin: [sheetMarginMm, sheetMarginMm],
    pages: [...mapPages(pictures, laid, room, maps, options), ...pages],
  };
}

/** In the order given: small ones in rows on a sheet, one that is larger than a sheet on sheets of its own. */
function lay(pictures: readonly Picture[], room: Room): LaidSheet[] {
  const sheets: LaidSheet[] = [];
  let open: { placed: Placed[]; heightMm: number } | null = null;
  let [x, y, rowHigh] = [0, 0, 0];
  for (const picture of pictures) {
    const { widthMm: wide, heightMm: high } = picture;
    if (wide > room.wideMm + hairMm || high > room.highMm + hairMm) {
      sheets.push(...partsOf(picture, room));
      continue;
    }
    if (open !== null && x + wide > room.wideMm + hairMm) [x, y, rowHigh] = [0, y + rowHigh + gapMm, 0];
    if (open === null || y + high > room.highMm + hairMm) {
      open = { placed: [], heightMm: room.isRoll ? 0 : room.highMm };
      sheets.push(open);
      [x, y, rowHigh] = [0, 0, 0];
    }
    open.placed.push({ picture, at: [x, y], part: null });
    x += wide + gapMm;
    rowHigh = Math.max(rowHigh, high);
    if (room.isRoll) open.heightMm = Math.max(open.heightMm, y + rowHigh);
  }
  return sheets;
}

/** The sheets of one large picture, row by row; those that show nothing of it are left out. */
function partsOf(picture: Picture, room: Room): LaidSheet[] {
  const columns = sheetsFor(picture.widthMm, room.wideMm);
  const rows = sheetsFor(picture.heightMm, room.highMm);
  const sheets: LaidSheet[] = [];
  for (let row = 1; row <= rows; row++) {
    for (let column = 1; column <= columns; column++) {
      const [left, top] = [(column - 1) * (room.wideMm - overlapMm), (row - 1) * (room.highMm - overlapMm)];
      const window = { left, top, right: left + room.wideMm, bottom: top + room.highMm };
      if (!showsSomething(picture, window)) continue;
      const heightMm = room.isRoll ? Math.min(room.highMm, picture.heightMm - top) : room.highMm;
      sheets.push({ placed: [{ picture, at: [0 - left, 0 - top], part: { row, column, rows, columns } }], heightMm });
    }
  }
  return sheets;
}

/** Paper of the piece, or one of its labels. */
function showsSomething({ outline, items }: Picture, window: Box): boolean {
  const middle: PagePoint = [(window.left + window.right) / 2, (window.top + window.bottom) / 2];
  if (isInside(outline, middle)) return true;
  return items.some((item) => itemIn(item, window).length > 0);
}

function sheetPage(sheet: LaidSheet, page: number, pages: number, room: Room, options: SheetOptions): Page {
  const widthMm = options.sheet.widthMm;
  const heightMm = sheet.heightMm + 2 * sheetMarginMm;
  const frame = {
    left: sheetMarginMm,
    top: sheetMarginMm,
    right: widthMm - sheetMarginMm,
    bottom: heightMm - sheetMarginMm,
  };
  const groups = sheet.placed.map(({ picture, at: [x, y] }): ItemGroup => {
    const window = { left: 0 - x, top: 0 - y, right: room.wideMm - x, bottom: sheet.heightMm - y };
    const shift: PagePoint = [sheetMarginMm + x, sheetMarginMm + y];
    const items = picture.items.flatMap((item) => itemIn(item, window)).map((item) => moved(item, shift));
    return { title: `piece ${picture.title}`, placement: null, items, clip: frame };
  });
  const part = sheet.placed[0]!.part;
  const joins = part === null ? [] : joinMarks(part, frame);
  const words = sheetWords(sheet, page, pages);
  const taken = [...groups.flatMap(({ items }) => items), ...joins];
  const own = { title: null, placement: null, items: [...joins, ...cornerWords(words, taken, frame, options.measure)] };
  return { widthMm, heightMm, groups: [...groups, own] };
}

function sheetWords({ placed }: LaidSheet, page: number, pages: number): string {
  const { picture, part } = placed[0]!;
  const sheet = `sheet ${page} of ${pages}`;
  if (part === null) return sheet;
  const { row, rows, column, columns } = part;
  return `${picture.title}: row ${row} of ${rows}, column ${column} of ${columns}; ${sheet}`;
}

/** The map draws large pictures so small. */
const mapScale = 20;

/** The first sheet; the map goes on to further ones when it is long. */
function mapPages(
  pictures: readonly Picture[],
  laid: readonly LaidSheet[],
  room: Room,
  maps: number,
  options: SheetOptions,
): Page[] {
  const { measure, title, words } = options;
  const widthMm = options.sheet.widthMm;
  const heightMm = options.sheet.heightMm === null ? 297 : Math.min(options.sheet.heightMm, longestMm);
  const [left, right] = [sheetMarginMm + 2, widthMm - sheetMarginMm - 2];
  const line = (text: string, y: number, sizePt: number, bold = false): Item =>
    makeText(measure, shorten(measure, text, right - left, sizePt, bold), [left, y], { sizePt, bold });
  const items: Item[] = [line(title, sheetMarginMm + 8, 13, true)];
  let y = sheetMarginMm + 14;
  for (const text of words.flatMap((each) => wrap(measure, each, right - left, 9, false))) {
    items.push(line(text, y, 9));
    y += 4.4;
  }
  y += 2;
  items.push(...testSquares(left, y, measure));
  y += squareInMm + 8;
  const pages: Item[][] = [items];
  for (const picture of pictures) {
    const entry = mapEntry(picture, laid, room, maps, measure, right - left);
    if (y + entry.heightMm > heightMm - sheetMarginMm) {
      pages.push([line(`${title}: map, continued`, sheetMarginMm + 8, 10, true)]);
      y = sheetMarginMm + 14;
    }
    pages.at(-1)!.push(...entry.items.map((item) => moved(item, [left, y])));
    y += entry.heightMm;
  }
  return pages.map((each) => ({ widthMm, heightMm, groups: [{ title: null, placement: null, items: each }] }));
}

/** One line for a picture, and for one on several sheets its small drawing with the numbers of the sheets. */
function mapEntry(
  picture: Picture,
  laid: readonly LaidSheet[],
  room: Room,
  maps: number,
  measure: TextMeasure,
  wideMm: number,
): { readonly items: readonly Item[]; readonly heightMm: number } {
  const shown = laid.flatMap((sheet, i) =>
    sheet.placed
      .filter((placed) => placed.picture === picture)
      .map((placed) => ({ placed, sheet, page: maps + i + 1 })),
  );
  const { part } = shown[0]!.placed;
  const where =
    part === null
      ? `sheet ${shown[0]!.page}`
      : `${counted(part.rows, 'row', 'rows')} of ${counted(part.columns, 'sheet', 'sheets')}, ${shown[0]!.page} to ${shown.at(-1)!.page}`;
  const words = makeText(measure, shorten(measure, `${picture.title}: ${where}`, wideMm, 8, false), [0, 3], {
    sizePt: 8,
  });
  if (part === null) return { items: [words], heightMm: 5 };
  const scale = Math.max(mapScale, picture.widthMm / wideMm, picture.heightMm / 110);
  const small = ([x, y]: PagePoint): PagePoint => [x / scale, 5 + y / scale];
  const tiles = shown.flatMap(({ placed, sheet, page }): Item[] => {
    const [x, y] = [0 - placed.at[0], 0 - placed.at[1]];
    const high = Math.min(sheet.heightMm, picture.heightMm - y);
    const wide = Math.min(room.wideMm, picture.widthMm - x);
    const corners = (
      [
        [x, y],
        [x + wide, y],
        [x + wide, y + high],
        [x, y + high],
      ] as const
    ).map(small);
    const middle = small([x + wide / 2, y + high / 2]);
    const number = makeText(measure, String(page), [middle[0], middle[1] + 1], { sizePt: 7, anchor: 'middle' });
    const [half, high7] = [number.widthMm / 2 + 0.4, 1.7];
    const ground = [
      [-half, -high7],
      [half, -high7],
      [half, high7],
      [-half, high7],
    ] as const;
    return [
      lineOf('rule', corners, true),
      { type: 'area', points: ground.map(([dx, dy]): PagePoint => [middle[0] + dx, middle[1] + dy]), grey: 1 },
      number,
    ];
  });
  const outline = lineOf('seam', picture.outline.map(small), true);
  return { items: [words, outline, ...tiles], heightMm: 5 + picture.heightMm / scale + 4 };
}
