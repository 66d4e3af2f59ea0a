/**
 * Where on the page a label can stand: a fine grid of cells, those under lines, marks and foreign ground blocked, and
 * a search for the free box nearest to a wished place. Sums over the grid make each trial box cost four look-ups
 * (summed-area table: Crow, "Summed-area tables for texture mapping", 1984).
 * Drawing only: nothing here decides about the lay.
 */
import type { Box } from './text.js';
import type { PagePoint } from './types.js';

/** Side of one cell in millimetres, where nothing larger is asked for. */
const finestMm = 0.25;

/** A grid of cells over a part of the page, each free or blocked. */
export class FreeSpace {
  private readonly columns: number;
  private readonly rows: number;
  private readonly blocked: Uint8Array;
  /** Blocked cells above and to the left of each grid point; null after a change. */
  private sums: Int32Array | null = null;

  /** A grid over `box`, all of it free. */
  constructor(
    private readonly box: Box,
    private readonly cellMm = finestMm,
  ) {
    this.columns = Math.max(1, Math.floor((box.right - box.left) / cellMm));
    this.rows = Math.max(1, Math.floor((box.bottom - box.top) / cellMm));
    this.blocked = new Uint8Array(this.columns * this.rows);
  }

  /** The same grid, to go on with by itself. */
  copy(): FreeSpace {
    const copy = new FreeSpace(this.box, this.cellMm);
    copy.blocked.set(this.blocked);
    return copy;
  }

  /** What lies within `reachMm` of a point, as a grid of its own. */
  around([x, y]: PagePoint, reachMm: number): FreeSpace {
    const cell = (mm: number, from: number, most: number) =>
      Math.min(most, Math.max(0, Math.floor((mm - from) / this.cellMm)));
    const [left, right] = [x - reachMm, x + reachMm].map((mm) => cell(mm, this.box.left, this.columns)) as [
      number,
      number,
    ];
    const [top, bottom] = [y - reachMm, y + reachMm].map((mm) => cell(mm, this.box.top, this.rows)) as [number, number];
    const part = new FreeSpace(
      {
        left: this.box.left + left * this.cellMm,
        right: this.box.left + right * this.cellMm,
        top: this.box.top + top * this.cellMm,
        bottom: this.box.top + bottom * this.cellMm,
      },
      this.cellMm,
    );
    for (let row = 0; row < part.rows && top + row < this.rows; row++) {
      const from = (top + row) * this.columns + left;
      part.blocked.set(
        this.blocked.subarray(from, from + Math.min(part.columns, this.columns - left)),
        row * part.columns,
      );
    }
    return part;
  }

  /** Blocks all cells whose middle lies inside (or all that lie outside) the polygon; even-odd rule. */
  blockPolygon(polygon: readonly PagePoint[], side: 'inside' | 'outside'): void {
    this.sums = null;
    const inside = side === 'inside' ? 1 : 0;
    const [first, last] = side === 'inside' ? this.rowsOf(polygon) : [0, this.rows - 1];
    for (let row = first; row <= last; row++) {
      const y = this.box.top + (row + 0.5) * this.cellMm;
      const crossings = crossingsAt(polygon, y);
      let next = 0;
      let isInside = false;
      for (let column = 0; column < this.columns; column++) {
        const x = this.box.left + (column + 0.5) * this.cellMm;
        while (next < crossings.length && crossings[next]! <= x) {
          isInside = !isInside;
          next++;
        }
        // Nothing more lies inside.
        if (next === crossings.length && inside === 1) break;
        if ((isInside ? 1 : 0) === inside) this.blocked[row * this.columns + column] = 1;
      }
    }
  }

  /** First and last row that the polygon may reach. */
  private rowsOf(polygon: readonly PagePoint[]): readonly [number, number] {
    let [top, bottom] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (const [, y] of polygon) {
      if (y < top) top = y;
      if (y > bottom) bottom = y;
    }
    const rowAt = (y: number) => Math.floor((y - this.box.top) / this.cellMm);
    return [Math.max(0, rowAt(top)), Math.min(this.rows - 1, rowAt(bottom))];
  }

  /** Blocks all cells within `clearanceMm` of the path. */
  blockPath(points: readonly PagePoint[], closed: boolean, clearanceMm: number): void {
    const last = closed ? points.length : points.length - 1;
    for (let i = 0; i < last; i++) {
      const [ax, ay] = points[i]!;
      const [bx, by] = points[(i + 1) % points.length]!;
      const length = Math.sqrt((bx - ax) * (bx - ax) + (by - ay) * (by - ay));
      const steps = Math.max(1, Math.ceil(length / Math.max(this.cellMm / 2, clearanceMm / 4)));
      for (let step = 0; step <= steps; step++) {
        const x = ax + ((bx - ax) * step) / steps;
        const y = ay + ((by - ay) * step) / steps;
        this.blockBox({ left: x - clearanceMm, right: x + clearanceMm, top: y - clearanceMm, bottom: y + clearanceMm });
      }
    }
  }

  blockBox(box: Box): void {
    this.sums = null;
    const left = Math.max(0, Math.floor((box.left - this.box.left) / this.cellMm));
    const right = Math.min(this.columns - 1, Math.floor((box.right - this.box.left) / this.cellMm));
    const top = Math.max(0, Math.floor((box.top - this.box.top) / this.cellMm));
    const bottom = Math.min(this.rows - 1, Math.floor((box.bottom - this.box.top) / this.cellMm));
    for (let row = top; row <= bottom; row++) {
      if (left <= right) this.blocked.fill(1, row * this.columns + left, row * this.columns + right + 1);
    }
  }

  /** Middle of all free cells; null when there is none. */
  middle(): PagePoint | null {
    let count = 0;
    let sumX = 0;
    let sumY = 0;
    for (let row = 0; row < this.rows; row++) {
      for (let column = 0; column < this.columns; column++) {
        if (this.blocked[row * this.columns + column] === 1) continue;
        count++;
        sumX += column + 0.5;
        sumY += row + 0.5;
      }
    }
    return count === 0
      ? null
      : [this.box.left + (sumX / count) * this.cellMm, this.box.top + (sumY / count) * this.cellMm];
  }

  /** The middle of the free box of this size that lies nearest to `wish`, or null when there is none. */
  find(widthMm: number, heightMm: number, wish: PagePoint): PagePoint | null {
    const wide = Math.ceil(widthMm / this.cellMm);
    const high = Math.ceil(heightMm / this.cellMm);
    const sums = this.summed();
    const stride = this.columns + 1;
    let best: PagePoint | null = null;
    let [bestDistance, bestRow] = [Number.POSITIVE_INFINITY, -1];
    // Rows near the wish first, so that the far ones need not be looked at; of equally near places the uppermost.
    const nearest = Math.min(
      this.rows - high,
      Math.max(0, Math.round((wish[1] - this.box.top) / this.cellMm - high / 2)),
    );
    const last = Math.max(nearest, this.rows - high - nearest);
    for (let away = 0; away <= last; away++) {
      let isNear = false;
      for (let row = nearest - away; row <= nearest + away; row += Math.max(1, 2 * away)) {
        if (row < 0 || row + high > this.rows) continue;
        const y = this.box.top + (row + high / 2) * this.cellMm;
        const down = (y - wish[1]) * (y - wish[1]);
        if (down > bestDistance) continue;
        isNear = true;
        const top = row * stride;
        const bottom = (row + high) * stride;
        const reach = Math.sqrt(bestDistance - down) / this.cellMm + 1;
        const middle = (wish[0] - this.box.left) / this.cellMm - wide / 2;
        const until = Math.min(this.columns - wide, Math.ceil(middle + reach));
        for (let column = Math.max(0, Math.floor(middle - reach)); column <= until; column++) {
          if (
            sums[bottom + column + wide]! - sums[bottom + column]! - sums[top + column + wide]! + sums[top + column]! >
            0
          )
            continue;
          const x = this.box.left + (column + wide / 2) * this.cellMm;
          const distance = (x - wish[0]) * (x - wish[0]) + down;
          if (distance < bestDistance || (distance === bestDistance && row < bestRow)) {
            best = [x, y];
            bestDistance = distance;
            bestRow = row;
          }
        }
      }
      // The next rows are further on both sides, but for the half cell by which the nearest one may be off.
      if (!isNear && best !== null) break;
    }
    return best;
  }

  private summed(): Int32Array {
    if (this.sums !== null) return this.sums;
    const stride = this.columns + 1;
    const sums = new Int32Array(stride * (this.rows + 1));
    for (let row = 0; row < this.rows; row++) {
      let inRow = 0;
      for (let column = 0; column < this.columns; column++) {
        inRow += this.blocked[row * this.columns + column]!;
        sums[(row + 1) * stride + column + 1] = sums[row * stride + column + 1]! + inRow;
      }
    }
    this.sums = sums;
    return sums;
  }
}

/** Where the polygon's edges cross the horizontal line at y, from left to right. */
export function crossingsAt(polygon: readonly PagePoint[], y: number): number[] {
  const crossings: number[] = [];
  for (let i = 0; i < polygon.length; i++) {
    const [ax, ay] = polygon[i]!;
    const [bx, by] = polygon[i + 1 === polygon.length ? 0 : i + 1]!;
    if (ay <= y !== by <= y) crossings.push(ax + ((bx - ax) * (y - ay)) / (by - ay));
  }
  return crossings.sort((a, b) => a - b);
}
