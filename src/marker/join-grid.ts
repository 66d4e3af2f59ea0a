/**
 * Where a drawing is parted into sheets: the grid of sheets is shifted, as far as it has sheets to spare, so that it cuts
 * the fewest pieces. Known before anything is written on the pieces, so that words can keep off the joins.
 */
import type { Box } from './text.js';
import { hairMm, overlapMm, type Room, sheetsFor } from './tiling.js';

export interface JoinGrid {
  readonly rows: number;
  readonly columns: number;
  /** Upper left corner of the first sheet, from that of the drawing: none or less. */
  readonly left: number;
  readonly top: number;
  /** From one sheet to the next. */
  readonly stepX: number;
  readonly stepY: number;
  /** Pieces that lie whole on a sheet. */
  readonly whole: number;
}

/** Pieces clear of the edge of a sheet by this are whole on it. */
const clearMm = 1;
/** More places of the grid are not tried. */
const shiftsMost = 60;

/** @param boxes of the pieces */
export function joinGrid(boxes: readonly Box[], widthMm: number, heightMm: number, room: Room): JoinGrid {
  const columns = sheetsFor(widthMm, room.wideMm);
  const rows = sheetsFor(heightMm, room.highMm);
  const stepX = room.wideMm - overlapMm;
  const stepY = room.highMm - overlapMm;
  const spare = (count: number, step: number, size: number) => Math.max(0, count * step + overlapMm - size);
  const sideways = axisOf(
    boxes.map(({ left, right }) => [left, right]),
    stepX,
    room.wideMm,
    spare(columns, stepX, widthMm),
  );
  // A roll is cut off where the drawing ends, so that it has nothing to spare.
  const spareY = room.isRoll ? 0 : spare(rows, stepY, heightMm);
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
  const { x, y, whole } = best!;
  return { rows, columns, left: 0 - x, top: 0 - y, stepX, stepY, whole };
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

/** Strips of the drawing that two sheets show: what lies clear of them is whole on one sheet. */
export function joinStrips({ rows, columns, left, top, stepX, stepY }: JoinGrid): readonly Box[] {
  const [right, bottom] = [left + columns * stepX + overlapMm, top + rows * stepY + overlapMm];
  const from = (count: number, start: number, step: number) =>
    Array.from({ length: count - 1 }, (_, i) => start + (i + 1) * step);
  return [
    ...from(columns, left, stepX).map((x) => ({ left: x, right: x + overlapMm, top, bottom })),
    ...from(rows, top, stepY).map((y) => ({ left, right, top: y, bottom: y + overlapMm })),
  ];
}

/** Whether a word stands on a join. */
export function isOnJoin(strips: readonly Box[], { left, right, top, bottom }: Box): boolean {
  return strips.some((strip) => left < strip.right && right > strip.left && top < strip.bottom && bottom > strip.top);
}
