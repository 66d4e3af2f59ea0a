/**
 * Drawings at true size on sheets: several small ones to a sheet, a large one over rows and columns of sheets that are
 * joined with an overlap. The first sheet holds the test square, what to do, and the map of all others.
 *
 * Sheets needed for a drawing of width W: ceil((W - overlap) / (sheet - 2 margins - overlap)), and likewise for its
 * height (derived; margin and overlap of 10 mm: common practice, no source).
 */

import { counted } from '../report/words.js';
import type { Sheet } from '../units/paper.js';
import { crossingsAt, FreeSpace } from './free-space.js';
import { boxOf, lineOf } from './piece-drawing.js';
import { ascent, type Box, boxOfText, descent, makeText, mmPerPt, shorten, widthMm, wrap } from './text.js';
import type { Picture } from './true-piece.js';
import type { Drawing, Item, ItemGroup, LineItem, Page, PagePoint, TextMeasure } from './types.js';

/** A printer leaves so much of the paper white. */
export const sheetMarginMm = 10;
/** Neighbouring sheets show the same strip of the drawing. */
export const overlapMm = 10;
/** Longest page that every reader of PDF takes: 200 inches. */
const longestMm = 5_080;
const gapMm = 4;
/** Sums of millimetres are off by less. */
const hairMm = 0.001;
const wordsPt = 7;
/** Cells of a large sheet grow, so that looking for room stays quick. */
const cellsMost = 300_000;

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

interface Part {
  readonly row: number;
  readonly column: number;
  readonly rows: number;
  readonly columns: number;
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

interface Room {
  readonly wideMm: number;
  /** Of one sheet; of a roll the longest page. */
  readonly highMm: number;
  readonly isRoll: boolean;
}

function roomOf({ widthMm, heightMm }: Sheet): Room {
  const high = Math.min(heightMm ?? longestMm, longestMm);
  return { wideMm: widthMm - 2 * sheetMarginMm, highMm: high - 2 * sheetMarginMm, isRoll: heightMm === null };
}

/** How many sheets side by side show a length. */
export function sheetsFor(lengthMm: number, roomMm: number): number {
  return lengthMm <= roomMm + hairMm ? 1 : Math.ceil((lengthMm - overlapMm) / (roomMm - overlapMm));
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

/** Even-odd rule. */
function isInside(polygon: readonly PagePoint[], [x, y]: PagePoint): boolean {
  return crossingsAt(polygon, y).filter((crossing) => crossing <= x).length % 2 === 1;
}

/** What of an item can show in a window: of a line the stretches that touch it. */
function itemIn(item: Item, window: Box): Item[] {
  if (item.type === 'text') {
    const reach = Math.max(item.widthMm, item.sizePt);
    const [x, y] = item.at;
    const far =
      x + reach < window.left || x - reach > window.right || y + reach < window.top || y - reach > window.bottom;
    return far ? [] : [item];
  }
  if (item.type === 'area') return touches(boxOf(item.points), window) ? [item] : [];
  const points = item.closed ? [...item.points, item.points[0]!] : item.points;
  const inside = points.slice(1).map((to, i) => meets(points[i]!, to, window));
  if (item.closed && inside.every(Boolean)) return [item];
  const stretches: LineItem[] = [];
  for (let i = 0; i < inside.length; i++) {
    if (!inside[i]) continue;
    let end = i;
    while (inside[end + 1]) end++;
    stretches.push(lineOf(item.kind, points.slice(i, end + 2), false));
    i = end;
  }
  return stretches;
}

/** Lines have a width, so a little beyond counts too. */
const lineReachMm = 1;

function touches(a: Box, b: Box): boolean {
  return (
    a.left <= b.right + lineReachMm &&
    a.right >= b.left - lineReachMm &&
    a.top <= b.bottom + lineReachMm &&
    a.bottom >= b.top - lineReachMm
  );
}

/** Whether a stroke comes within that of a window: its parameter range is cut down side by side (Liang, Barsky 1984). */
function meets([ax, ay]: PagePoint, [bx, by]: PagePoint, { left, top, right, bottom }: Box): boolean {
  let [from, to] = [0, 1];
  for (const [p, q] of [
    [ax - bx, ax - left + lineReachMm],
    [bx - ax, right - ax + lineReachMm],
    [ay - by, ay - top + lineReachMm],
    [by - ay, bottom - ay + lineReachMm],
  ] as const) {
    if (p === 0 && q < 0) return false;
    if (p < 0) from = Math.max(from, q / p);
    else if (p > 0) to = Math.min(to, q / p);
  }
  return from <= to;
}

function moved(item: Item, [dx, dy]: PagePoint): Item {
  const move = ([x, y]: PagePoint): PagePoint => [x + dx, y + dy];
  return item.type === 'text' ? { ...item, at: move(item.at) } : { ...item, points: item.points.map(move) };
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

/**
 * The edge that is cut off (left and top, where there is a sheet before), the line that the next sheet's edge is laid
 * on (right and bottom), and half diamonds on both that make whole ones when the sheets lie right.
 */
function joinMarks({ row, column, rows, columns }: Part, frame: Box): LineItem[] {
  const across = [frame.top + (frame.bottom - frame.top) / 4, frame.top + (3 * (frame.bottom - frame.top)) / 4];
  const down = [frame.left + (frame.right - frame.left) / 4, frame.left + (3 * (frame.right - frame.left)) / 4];
  const upright = (x: number): LineItem[] => [
    lineOf(
      'rule',
      [
        [x, frame.top],
        [x, frame.bottom],
      ],
      false,
    ),
    ...across.map((y) => diamond([x, y], frame)),
  ];
  const level = (y: number): LineItem[] => [
    lineOf(
      'rule',
      [
        [frame.left, y],
        [frame.right, y],
      ],
      false,
    ),
    ...down.map((x) => diamond([x, y], frame)),
  ];
  return [
    ...(column > 1 ? upright(frame.left) : []),
    ...(column < columns ? upright(frame.right - overlapMm) : []),
    ...(row > 1 ? level(frame.top) : []),
    ...(row < rows ? level(frame.bottom - overlapMm) : []),
  ];
}

const diamondMm = 3;

/** What of a diamond lies on the sheet. */
function diamond([x, y]: PagePoint, { left, top }: Box): LineItem {
  const corners: PagePoint[] = [
    [x - diamondMm, y],
    [x, y - diamondMm],
    [x + diamondMm, y],
    [x, y + diamondMm],
  ];
  const shown = corners.filter(([cx, cy]) => cx >= left - 0.01 && cy >= top - 0.01);
  if (shown.length === 4) return lineOf('box', corners, true);
  // The half to the right of a left edge, or below an upper one.
  const half = x <= left + 0.01 ? [corners[1]!, corners[2]!, corners[3]!] : [corners[0]!, corners[3]!, corners[2]!];
  return lineOf('box', half, false);
}

/** Words in the free place nearest to the lower left corner; none where all is drawn over. */
function cornerWords(words: string, taken: readonly Item[], frame: Box, measure: TextMeasure): Item[] {
  const [wideMm, highMm] = [frame.right - frame.left, frame.bottom - frame.top];
  const space = new FreeSpace(frame, Math.max(0.5, Math.sqrt((wideMm * highMm) / cellsMost)));
  for (const item of taken) {
    if (item.type === 'text') space.blockBox(boxOfText(item));
    else space.blockPath(item.points, item.type === 'area' || item.closed, 1);
  }
  const text = shorten(measure, words, frame.right - frame.left - 4, wordsPt, false);
  const wide = widthMm(measure, text, wordsPt, false);
  const high = wordsPt * mmPerPt * (ascent + descent);
  const at = space.find(wide + 1, high + 0.5, [frame.left + wide / 2 + 2, frame.bottom - high / 2 - 2]);
  if (at === null) return [];
  const baseline = at[1] + (wordsPt * mmPerPt * (ascent - descent)) / 2;
  return [makeText(measure, text, [at[0] - wide / 2, baseline], { sizePt: wordsPt })];
}

/** The map draws large pictures so small. */
const mapScale = 20;
const squareCmMm = 50;
const squareInMm = 50.8;

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

function testSquares(left: number, top: number, measure: TextMeasure): Item[] {
  const square = (x: number, side: number, name: string): Item[] => [
    lineOf(
      'cutting',
      [
        [x, top],
        [x + side, top],
        [x + side, top + side],
        [x, top + side],
      ],
      true,
    ),
    makeText(measure, name, [x + side / 2, top + side / 2 - 1], { sizePt: 9, anchor: 'middle' }),
    makeText(measure, 'each side', [x + side / 2, top + side / 2 + 3.5], { sizePt: 7, anchor: 'middle' }),
  ];
  return [...square(left, squareCmMm, '5 cm'), ...square(left + squareCmMm + 8, squareInMm, '2 in')];
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
