/**
 * How a marker is parted into sheets: the grid is shifted, as far as it has sheets to spare, so that it cuts the fewest
 * pieces; sheets that show no piece are left out, but for those that hold the others together.
 */
import type { MarkerPicture } from './marker-picture.js';
import type { Box } from './text.js';
import { hairMm, isInside, itemIn, overlapMm, type Part, type Room, sheetsFor, touches } from './tiling.js';
import type { PagePoint } from './types.js';

export interface MarkerTile {
  readonly part: Part;
  /** What of the picture it shows. */
  readonly window: Box;
  readonly isPrinted: boolean;
}

export interface Tiling {
  readonly rows: number;
  readonly columns: number;
  /** Row by row, so that a row is taped before the next begins. */
  readonly tiles: readonly MarkerTile[];
  /** Pieces that lie whole on a sheet. */
  readonly whole: number;
}

/** Pieces clear of the edge of a sheet by this are whole on it. */
const clearMm = 1;
/** More places of the grid are not tried. */
const shiftsMost = 60;

export function tilesOf(picture: MarkerPicture, room: Room): Tiling {
  const columns = sheetsFor(picture.widthMm, room.wideMm);
  const rows = sheetsFor(picture.heightMm, room.highMm);
  const stepX = room.wideMm - overlapMm;
  const stepY = room.highMm - overlapMm;
  const boxes = picture.parts.flatMap(({ outline, box }) => (outline === null ? [] : [box]));
  const spare = (count: number, step: number, size: number) => Math.max(0, count * step + overlapMm - size);
  const sideways = axisOf(
    boxes.map(({ left, right }) => [left, right]),
    stepX,
    room.wideMm,
    spare(columns, stepX, picture.widthMm),
  );
  // A roll is cut off where the drawing ends, so that it has nothing to spare.
  const spareY = room.isRoll ? 0 : spare(rows, stepY, picture.heightMm);
  const lengthways = axisOf(
    boxes.map(({ top, bottom }) => [top, bottom]),
    stepY,
    room.highMm,
    spareY,
  );
  let best: { x: number; y: number; whole: number } | null = null;
  for (const y of lengthways) {
    for (const x of sideways) {
      let whole = 0;
      for (let i = 0; i < boxes.length; i++) whole += x.whole[i]! & y.whole[i]!;
      if (best === null || whole > best.whole) best = { x: x.shift, y: y.shift, whole };
    }
  }
  const { x: shiftX, y: shiftY, whole } = best!;
  const windows = Array.from({ length: rows * columns }, (_, i) => {
    const [row, column] = [Math.floor(i / columns), i % columns];
    const [left, top] = [column * stepX - shiftX, row * stepY - shiftY];
    const end = room.isRoll ? Math.min(top + room.highMm, picture.heightMm) : top + room.highMm;
    return { left, top, right: left + room.wideMm, bottom: end };
  });
  const printed = held(
    windows.map((window) => showsSomething(picture, window)),
    columns,
  );
  const tiles = windows.map((window, i): MarkerTile => {
    const part = { row: Math.floor(i / columns) + 1, column: (i % columns) + 1, rows, columns };
    return { part, window, isPrinted: printed[i]! };
  });
  return { rows, columns, tiles, whole };
}

/** Shifts of the grid along one axis, none first, and which pieces are whole along it. */
function axisOf(
  ranges: readonly (readonly [number, number])[],
  step: number,
  roomMm: number,
  spareMm: number,
): readonly { readonly shift: number; readonly whole: readonly number[] }[] {
  const shifts = new Set([0, Math.floor(spareMm)]);
  for (const [from, to] of ranges) {
    if (shifts.size >= shiftsMost) break;
    // A sheet that begins just before the piece, and one that ends just after it.
    for (const edge of [from - clearMm, to + clearMm - roomMm]) {
      const shift = Math.ceil((((0 - edge) % step) + step) % step);
      if (shift <= spareMm) shifts.add(shift);
    }
  }
  return [...shifts].map((shift) => ({
    shift,
    whole: ranges.map(([from, to]) => {
      const first = Math.floor((from + shift - hairMm) / step) * step - shift;
      return from >= first - hairMm && to <= first + roomMm + hairMm ? 1 : 0;
    }),
  }));
}

function showsSomething({ parts }: MarkerPicture, window: Box): boolean {
  const middle: PagePoint = [(window.left + window.right) / 2, (window.top + window.bottom) / 2];
  return parts.some(({ isContent, box, outline, items }) => {
    if (!isContent || !touches(box, window)) return false;
    if (outline !== null && isInside(outline, middle)) return true;
    return items.some((item) => item.type !== 'area' && itemIn(item, window).length > 0);
  });
}

/** Sheets that are printed, and of the others those over which parts of the marker hang together. */
function held(shows: readonly boolean[], columns: number): readonly boolean[] {
  const printed = [...shows];
  for (let round = 0; round < printed.length; round++) {
    const bridge = bridgeOf(printed, columns);
    if (bridge === null) break;
    for (const at of bridge) printed[at] = true;
  }
  return printed;
}

/** The shortest way over empty sheets from the first part of the printed ones to another; null when all hang together. */
function bridgeOf(printed: readonly boolean[], columns: number): readonly number[] | null {
  const start = printed.indexOf(true);
  if (start < 0) return null;
  const reached = new Set([start]);
  const open = [start];
  for (const at of open) {
    for (const next of neighboursOf(at, printed.length, columns)) {
      if (!printed[next] || reached.has(next)) continue;
      reached.add(next);
      open.push(next);
    }
  }
  const cameFrom = new Map<number, number | null>([...reached].map((at) => [at, null]));
  const queue = [...reached];
  for (const at of queue) {
    if (printed[at] && !reached.has(at)) {
      const way: number[] = [];
      for (
        let back = cameFrom.get(at) ?? null;
        back !== null && !reached.has(back);
        back = cameFrom.get(back) ?? null
      ) {
        way.push(back);
      }
      return way;
    }
    for (const next of neighboursOf(at, printed.length, columns)) {
      if (cameFrom.has(next)) continue;
      cameFrom.set(next, at);
      queue.push(next);
    }
  }
  return null;
}

function neighboursOf(at: number, count: number, columns: number): readonly number[] {
  const column = at % columns;
  return [
    ...(column > 0 ? [at - 1] : []),
    ...(column + 1 < columns ? [at + 1] : []),
    ...(at - columns >= 0 ? [at - columns] : []),
    ...(at + columns < count ? [at + columns] : []),
  ];
}
