/** A marker at true size on sheets to join or on a roll. */
import type { Sheet } from '../units/paper.js';
import { type MarkerLook, onLayer } from './marker-looks.js';
import { type MarkerWordsOptions, markerPages, titleOf } from './marker-page.js';
import type { MarkerPart, MarkerPicture } from './marker-picture.js';
import { type MarkerTile, tilesOf } from './marker-tiles.js';
import { boxOfItem } from './piece-drawing.js';
import type { Box } from './text.js';
import { cornerWords, itemIn, joinMarks, moved, roomOf, sheetMarginMm, touches } from './tiling.js';
import type { Drawing, Item, ItemGroup, Page, PagePoint } from './types.js';

/** First the page with test squares and map, then the sheets that show something, row by row. */
export function markerSheets(
  picture: MarkerPicture,
  sheet: Sheet,
  look: MarkerLook,
  options: MarkerWordsOptions,
): Drawing {
  const room = roomOf(sheet);
  const tiling = tilesOf(picture, room);
  const printed = tiling.tiles.filter(({ isPrinted }) => isPrinted);
  // How long the map is does not depend on the numbers in it.
  const before = markerPages(picture, tiling, sheet, 1, options).length;
  const parts = picture.parts.map(boxed);
  const total = before + printed.length;
  return {
    title: titleOf(options.lay),
    scale: 1,
    origin: [sheetMarginMm, sheetMarginMm],
    styles: look.styles,
    pages: [
      ...markerPages(picture, tiling, sheet, before, options),
      ...printed.map((tile, i) => tilePage(parts, tile, before + i + 1, total, sheet.widthMm, options)),
    ],
  };
}

/** More pieces on a sheet are not named in its corner. */
const numbersMost = 8;

interface BoxedPart {
  readonly part: MarkerPart;
  readonly items: readonly { readonly item: Item; readonly box: Box }[];
}

/** Boxes worked out once, for many sheets. */
function boxed(part: MarkerPart): BoxedPart {
  const items = part.items.map((item) => ({ item, box: boxOfItem(item) }));
  return { part, items };
}

function tilePage(
  parts: readonly BoxedPart[],
  { part: place, window }: MarkerTile,
  page: number,
  pages: number,
  widthMm: number,
  { measure, side }: MarkerWordsOptions,
): Page {
  const highMm = window.bottom - window.top;
  const heightMm = highMm + 2 * sheetMarginMm;
  const frame = {
    left: sheetMarginMm,
    top: sheetMarginMm,
    right: widthMm - sheetMarginMm,
    bottom: heightMm - sheetMarginMm,
  };
  const shift: PagePoint = [sheetMarginMm - window.left, sheetMarginMm - window.top];
  const groups = parts.flatMap(({ part, items }): ItemGroup[] => {
    if (!touches(part.box, window)) return [];
    const shown = items
      .filter(({ box }) => touches(box, window))
      .flatMap(({ item }) => itemIn(item, window))
      .map((item) => moved(item, shift));
    if (shown.length === 0) return [];
    return [{ title: part.title, placement: part.placement, items: shown, clip: frame }];
  });
  const joins = joinMarks(place, frame);
  const numbers = groups.flatMap(({ placement }) => (placement === null ? [] : [placement]));
  const shown =
    numbers.length === 0 || numbers.length > numbersMost
      ? ''
      : `; ${numbers.length === 1 ? 'piece' : 'pieces'} ${numbers.join(' ')}`;
  const seen = side === 'wrong' ? '; seen from the wrong side' : '';
  const where = `row ${place.row} of ${place.rows}, column ${place.column} of ${place.columns}; sheet ${page} of ${pages}${seen}${shown}`;
  const words = cornerWords(where, [...groups.flatMap(({ items }) => items), ...joins], frame, measure);
  const own = { title: null, placement: null, items: onLayer('joins and checks', [...joins, ...words]) };
  return { widthMm, heightMm, groups: [...groups, own] };
}
