/**
 * A drawing at true size on sheets that are joined: which part of it a sheet shows, the marks to join sheets by, and
 * the test squares.
 *
 * Sheets needed for a drawing of width W: ceil((W - overlap) / (sheet - 2 margins - overlap)), and likewise for its
 * height (derived; margin and overlap of 10 mm: common practice, no source).
 */
import type { Sheet } from '../units/paper.js';
import { crossingsAt, FreeSpace } from './free-space.js';
import { boxOf, lineOf } from './piece-drawing.js';
import { makeBlock, setBlock } from './piece-label.js';
import { type Box, boxOfText, makeText, shorten } from './text.js';
import type { Item, LineItem, PagePoint, TextMeasure } from './types.js';

/** A printer leaves so much of the paper white. */
export const sheetMarginMm = 10;
/** Neighbouring sheets show the same strip of the drawing. */
export const overlapMm = 10;
/** Longest page that every reader of PDF takes: 200 inches. */
export const longestMm = 5_080;
/** Sums of millimetres are off by less. */
export const hairMm = 0.001;
const wordSizesPt = [7, 6, 5] as const;
/** Cells of a large sheet grow, so that looking for room stays quick. */
const cellsMost = 40_000;

/** Row, column, and how many of both, from 1. */
export interface Part {
  readonly row: number;
  readonly column: number;
  readonly rows: number;
  readonly columns: number;
}

/** The room for drawing on one sheet. */
export interface Room {
  readonly wideMm: number;
  /** Of one sheet; of a roll the longest page. */
  readonly highMm: number;
  readonly isRoll: boolean;
}

/** Within the margins of a sheet. */
export function roomOf({ widthMm, heightMm }: Sheet): Room {
  const high = Math.min(heightMm ?? longestMm, longestMm);
  return { wideMm: widthMm - 2 * sheetMarginMm, highMm: high - 2 * sheetMarginMm, isRoll: heightMm === null };
}

/** How many sheets side by side show a length. */
export function sheetsFor(lengthMm: number, roomMm: number): number {
  return lengthMm <= roomMm + hairMm ? 1 : Math.ceil((lengthMm - overlapMm) / (roomMm - overlapMm));
}

/** Even-odd rule. */
export function isInside(polygon: readonly PagePoint[], [x, y]: PagePoint): boolean {
  return crossingsAt(polygon, y).filter((crossing) => crossing <= x).length % 2 === 1;
}

/** The part of a ring between two levels. */
export function clipLevel(ring: readonly PagePoint[], top: number, bottom: number): readonly PagePoint[] {
  const clip = (points: readonly PagePoint[], inside: (y: number) => number): readonly PagePoint[] =>
    points.flatMap((point, i): PagePoint[] => {
      const next = points[(i + 1) % points.length]!;
      const [a, b] = [inside(point[1]), inside(next[1])];
      const kept = a >= 0 ? [point] : [];
      if (a * b >= 0) return kept;
      const part = a / (a - b);
      return [...kept, [point[0] + (next[0] - point[0]) * part, point[1] + (next[1] - point[1]) * part]];
    });
  return clip(
    clip(ring, (y) => y - top),
    (y) => bottom - y,
  );
}

/** What of an item can show in a window: of a line the stretches that touch it. */
export function itemIn(item: Item, window: Box): Item[] {
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
    stretches.push({ ...item, points: points.slice(i, end + 2), closed: false });
    i = end;
  }
  return stretches;
}

/** Lines have a width, so a little beyond counts too. */
const lineReachMm = 1;

/** Whether boxes come that near. */
export function touches(a: Box, b: Box): boolean {
  return (
    a.left <= b.right + lineReachMm &&
    a.right >= b.left - lineReachMm &&
    a.top <= b.bottom + lineReachMm &&
    a.bottom >= b.top - lineReachMm
  );
}

/** Whether a stroke comes within that of a window: its parameter range is cut down side by side (Liang, Barsky 1984). */
export function meets([ax, ay]: PagePoint, [bx, by]: PagePoint, { left, top, right, bottom }: Box): boolean {
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

/** Moved by so much. */
export function moved(item: Item, [dx, dy]: PagePoint): Item {
  const move = ([x, y]: PagePoint): PagePoint => [x + dx, y + dy];
  return item.type === 'text' ? { ...item, at: move(item.at) } : { ...item, points: item.points.map(move) };
}

/**
 * The edge that is cut off (left and top, where there is a sheet before), the line that the next sheet's edge is laid
 * on (right and bottom), and half diamonds on both that make whole ones when the sheets lie right.
 */
export function joinMarks({ row, column, rows, columns }: Part, frame: Box): LineItem[] {
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

/**
 * Words in the free place nearest to the lower left corner: on one line or on several, level or upright, small where they
 * must be; in that corner where all is drawn over.
 */
export function cornerWords(words: string, taken: readonly Item[], frame: Box, measure: TextMeasure): readonly Item[] {
  const strip = { ...frame, top: Math.max(frame.top, frame.bottom - stripMm) };
  const inStrip = taken.flatMap((item) => itemIn(item, strip));
  const block = (lines: readonly string[], sizePt: number) =>
    makeBlock(
      measure,
      0,
      lines.map((text) => ({
        text: shorten(measure, text, frame.right - frame.left - 4, sizePt, false),
        sizePt,
        bold: false,
      })),
    );
  const wish = (wide: number, high: number): PagePoint => [frame.left + wide / 2 + 2, frame.bottom - high / 2 - 2];
  // Nearly always there is room low on the sheet, and a small grid is quickly looked through.
  for (const [items, box] of [[inStrip, strip] as const, [taken, frame] as const]) {
    const space = spaceBeside(items, box);
    for (const sizePt of box === strip ? wordSizesPt.slice(0, 1) : wordSizesPt) {
      for (const lines of [[words], words.split('; '), words.split(/[,;] /)]) {
        const tried = block(lines, sizePt);
        for (const angle of [0, -90] as const) {
          const [wide, high] = angle === 0 ? [tried.widthMm, tried.heightMm] : [tried.heightMm, tried.widthMm];
          const at = space.find(wide + 1, high + 0.5, wish(wide, high));
          if (at !== null) return setBlock(measure, tried, at, angle, 0).texts;
        }
      }
    }
  }
  const last = block([words], wordSizesPt[0]);
  return setBlock(measure, last, wish(last.widthMm, last.heightMm), 0, 0).texts;
}

const stripMm = 60;

function spaceBeside(items: readonly Item[], box: Box): FreeSpace {
  const areaMm2 = (box.right - box.left) * (box.bottom - box.top);
  const space = new FreeSpace(box, Math.max(1, Math.sqrt(areaMm2 / cellsMost)));
  for (const item of items) {
    if (item.type === 'text') space.blockBox(boxOfText(item));
    else space.blockPath(item.points, item.type === 'area' || item.closed, 1);
  }
  return space;
}

export const squareCmMm = 50;
export const squareInMm = 50.8;

/** 5 cm and 2 in, side by side. */
export function testSquares(left: number, top: number, measure: TextMeasure): Item[] {
  const square = (x: number, side: number, name: string): Item[] => [
    lineOf(
      'check',
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
