/** Which sheets of a marker are printed: those that show no piece are left out, but for those that hold the others together. */
import { joinGrid } from './join-grid.js';
import type { MarkerPicture } from './marker-picture.js';
import type { Box } from './text.js';
import { isInside, itemIn, type Part, type Room, touches } from './tiling.js';
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

export function tilesOf(picture: MarkerPicture, room: Room): Tiling {
  const boxes = picture.parts.flatMap(({ outline, box }) => (outline === null ? [] : [box]));
  const { rows, columns, whole, ...grid } = joinGrid(boxes, picture.widthMm, picture.heightMm, room);
  const windows = Array.from({ length: rows * columns }, (_, i) => {
    const [row, column] = [Math.floor(i / columns), i % columns];
    const [left, top] = [column * grid.stepX + grid.left, row * grid.stepY + grid.top];
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
