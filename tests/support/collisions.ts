/** Counts what cannot be read on a drawing: a text on another text, or on a line. Arithmetic of its own. */
import type { MarkerPart } from '../../src/marker/marker-picture.js';
import type { Box, Drawing, Item, PagePoint } from '../../src/marker/types.js';
import { itemsOf, type TextBox, textBox, textsOf } from './drawings.js';

/** Every text that lies on another text, or on a line or the edge of a black area of the drawing, in words. */
export function collisionsOf(drawing: Drawing): readonly string[] {
  return drawing.pages.flatMap((page) => {
    const boxes = textsOf(page).map(textBox);
    const strokes = itemsOf(page).flatMap(blackStrokes);
    return boxes.flatMap((box, i) => {
      const onText = boxes.slice(i + 1).filter((other) => overlap(box, other));
      const onLine = strokes.filter(([a, b]) => meets(a, b, box));
      return [
        ...onText.map((other) => `"${box.text}" on "${other.text}"`),
        ...onLine.map(([a, b]) => `"${box.text}" on a line ${a.join(' ')} - ${b.join(' ')}`),
      ];
    });
  });
}

/**
 * What cannot be read on sheets to join, in words. Of a sheet's own words (its row and column, its number), which stand in
 * groups that are not clipped: those on other words, on a line or on the edge of a black area, or over the border of what
 * printers print.
 */
export function sheetCollisionsOf({ pages }: Drawing): readonly string[] {
  return pages.flatMap((page, i) => {
    const frame = page.groups.find(({ clip }) => clip !== undefined)?.clip;
    if (frame === undefined) return [];
    const own = page.groups.filter(({ clip }) => clip === undefined).flatMap(({ items }) => items);
    const ownTexts = own.flatMap((item) => (item.type === 'text' ? [item] : []));
    const boxes = ownTexts.map(textBox);
    const others = textsOf(page)
      .filter((item) => !ownTexts.includes(item))
      .map(textBox);
    const strokes = itemsOf(page).flatMap(blackStrokes);
    return boxes.flatMap((box, k) => {
      const onText = [...boxes.slice(k + 1), ...others].filter((other) => overlap(box, other));
      const onLine = strokes.some(([a, b]) => meets(a, b, box));
      const isIn =
        box.left >= frame.left && box.right <= frame.right && box.top >= frame.top && box.bottom <= frame.bottom;
      return [
        ...onText.map((other) => `sheet ${i + 1}: "${box.text}" on "${other.text}"`),
        ...(onLine ? [`sheet ${i + 1}: "${box.text}" on a line`] : []),
        ...(isIn ? [] : [`sheet ${i + 1}: "${box.text}" over the border`]),
      ];
    });
  });
}

/** Where a join runs through a smaller piece, there may be no room for words beside that. */
const narrowMm = 200;

/** Words of pieces, all but narrow ones, that stand where sheets are joined, so that no sheet shows them whole. */
export function wordsOnJoins(parts: readonly MarkerPart[], windows: readonly Box[]): readonly string[] {
  const items = parts.flatMap((part) => (part.outline === null || isNarrow(part.box) ? [] : part.items));
  return items.flatMap((item) => {
    if (item.type !== 'text') return [];
    const box = textBox(item);
    const shown = windows.filter((window) => overlap(box, { text: '', ...window }));
    return shown.length > 1 ? [`"${box.text}" on ${shown.length} sheets`] : [];
  });
}

function isNarrow({ left, right, top, bottom }: Box): boolean {
  return Math.min(right - left, bottom - top) < narrowMm;
}

function blackStrokes(item: Item): (readonly [PagePoint, PagePoint])[] {
  if (item.type === 'line') return strokesOf(item.points, item.closed);
  return item.type === 'area' && item.grey === 0 ? strokesOf(item.points, true) : [];
}

function strokesOf(points: readonly PagePoint[], closed: boolean): (readonly [PagePoint, PagePoint])[] {
  const strokes = points.slice(1).map((point, i) => [points[i]!, point] as const);
  return closed ? [...strokes, [points.at(-1)!, points[0]!]] : strokes;
}

function overlap(a: TextBox, b: TextBox): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

/** Clips the stroke to the box by its parameter range (Liang and Barsky 1984). */
function meets([ax, ay]: PagePoint, [bx, by]: PagePoint, box: TextBox): boolean {
  let from = 0;
  let to = 1;
  for (const [p, q] of [
    [ax - bx, ax - box.left],
    [bx - ax, box.right - ax],
    [ay - by, ay - box.top],
    [by - ay, box.bottom - ay],
  ] as const) {
    if (p === 0) {
      if (q <= 0) return false;
    } else if (p < 0) from = Math.max(from, q / p);
    else to = Math.min(to, q / p);
  }
  return from < to;
}
