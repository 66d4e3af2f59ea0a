/**
 * The chalk list as a table of a given width: a tick box, the number, the piece and how it lies, the two ends of its
 * grain line (foot above head, so that equal distances from the edge are seen at a glance) and from-to.
 */
import type { ChalkLine, ChalkList } from '../report/chalk-list.js';
import { formatLength } from '../units/length.js';
import type { LengthUnit, Um } from '../units/types.js';
import { lineOf } from './piece-drawing.js';
import { makeText, wrap } from './text.js';
import type { Item, PagePoint, TextItem, TextMeasure } from './types.js';

/** A part of the table that stays in one piece, drawn from its top left corner. */
export interface TableRow {
  readonly heightMm: number;
  draw(at: PagePoint): readonly Item[];
}

export interface ChalkTable {
  readonly heading: TableRow;
  readonly rows: readonly TableRow[];
}

const leadingMm = 3.3;
const bodyPt = 7.5;
const smallPt = 6;
const padMm = 1.3;

/** Where the columns stand, from the table's left edge; numbers are set flush right. */
interface Columns {
  readonly piece: number;
  readonly pieceEnd: number;
  readonly ends: number;
  readonly cutEnd: number;
  readonly edge: number;
  readonly extent: number;
  readonly width: number;
}

/** Sets the table for columns `widthMaxMm` wide. */
export function chalkTable(measure: TextMeasure, list: ChalkList, units: LengthUnit, widthMaxMm: number): ChalkTable {
  const width = widthMaxMm;
  const extent = width - (units === 'in' ? 26 : 21);
  const edge = extent - 3;
  const cutEnd = edge - (units === 'in' ? 14 : 12);
  const ends = cutEnd - (units === 'in' ? 20 : 16.5);
  const columns: Columns = { piece: 12.5, pieceEnd: ends - 1.5, ends, cutEnd, edge, extent, width };
  return {
    heading: headingRow(measure, columns, units),
    rows: list.lines.map((line) => lineRow(measure, columns, line, units)),
  };
}

function headingRow(measure: TextMeasure, columns: Columns, units: LengthUnit): TableRow {
  const heightMm = 2 * 2.7 + 2.2;
  return {
    heightMm,
    draw: ([x, y]) => {
      const small = (text: string, at: number, row: number, anchor: 'start' | 'end' = 'start'): TextItem =>
        makeText(measure, text, [x + at, y + 2.2 + row * 2.7], { sizePt: smallPt, grey: 0.3, anchor });
      return [
        small('no.', 6, 1),
        small('piece and how it lies', columns.piece, 1),
        small('grain line', columns.ends, 0),
        small(`in ${units}`, columns.ends, 1),
        small('from', columns.cutEnd, 0, 'end'),
        small('cut end', columns.cutEnd, 1, 'end'),
        small('from', columns.edge, 0, 'end'),
        small('edge', columns.edge, 1, 'end'),
        small('piece lies', columns.extent, 0),
        small('from – to', columns.extent, 1),
        lineOf(
          'box',
          [
            [x, y + heightMm - 0.4],
            [x + columns.width, y + heightMm - 0.4],
          ],
          false,
        ),
      ];
    },
  };
}

function lineRow(measure: TextMeasure, columns: Columns, line: ChalkLine, units: LengthUnit): TableRow {
  const pieceWidth = columns.pieceEnd - columns.piece;
  const name = line.size === null ? line.piece : `${line.piece} ${line.size}`;
  const names = wrap(measure, name, pieceWidth, bodyPt, true).slice(0, 4);
  const notes = wrap(measure, howItLies(line), pieceWidth, smallPt, false);
  const lines = Math.max(names.length + notes.length * 0.8, 2.8);
  const heightMm = lines * leadingMm + 2 * padMm - 0.3;
  const number = (um: Um) => bareNumber(um, units);
  return {
    heightMm,
    draw: ([x, y]) => {
      const base = y + padMm + 2.3;
      const body = (text: string, at: number, row: number, style: { bold?: boolean; anchor?: 'end' } = {}) =>
        makeText(measure, text, [x + at, base + row * leadingMm], { sizePt: bodyPt, ...style });
      const small = (text: string, at: number, row: number, anchor: 'start' | 'end' = 'start') =>
        makeText(measure, text, [x + at, base + row * leadingMm], { sizePt: smallPt, grey: 0.3, anchor });
      const range = ([from, to]: readonly [Um, Um]) => `${number(from)} – ${number(to)}`;
      const isOnFold = line.line === 'fold edge';
      return [
        lineOf('box', tickBox(x + 0.4, base - 2.3, 2.8), true),
        body(String(line.n), 10.6, 0, { bold: true, anchor: 'end' }),
        ...names.map((text, i) => body(text, columns.piece, i, { bold: true })),
        ...notes.map((text, i) => small(text, columns.piece, names.length + i * 0.8)),
        small('foot', columns.ends, 0),
        small('head', columns.ends, 1),
        body(number(line.foot.fromCutEndUm), columns.cutEnd, 0, { anchor: 'end' }),
        body(number(line.head.fromCutEndUm), columns.cutEnd, 1, { anchor: 'end' }),
        body(number(line.foot.fromEdgeUm), columns.edge, 0, { anchor: 'end' }),
        body(number(line.head.fromEdgeUm), columns.edge, 1, { anchor: 'end' }),
        small(isOnFold ? 'fold edge on fold' : `from ${line.edge}`, columns.edge, 1.9, 'end'),
        body(range(line.alongUm), columns.extent, 0),
        body(range(line.acrossUm), columns.extent, 1),
        small('along, across', columns.extent, 1.9),
        lineOf(
          'rule',
          [
            [x, y + heightMm],
            [x + columns.width, y + heightMm],
          ],
          false,
        ),
      ];
    },
  };
}

/** `gives 2, printed side up, head to far end`. */
export function howItLies(line: ChalkLine): string {
  const gives = line.line === 'fold edge' ? 'gives 1, unfolded' : `gives ${line.copies}`;
  const turned = line.turned ? 'turned: ' : '';
  return `${gives} · printed side ${line.printedSide} · ${turned}head to ${line.headTowards}`;
}

/** The number alone: the table's heading names the unit. */
function bareNumber(um: Um, units: LengthUnit): string {
  return formatLength(um, units).replace(/ [a-z]+$/, '');
}

function tickBox(x: number, y: number, side: number): readonly PagePoint[] {
  return [
    [x, y],
    [x + side, y],
    [x + side, y + side],
    [x, y + side],
  ];
}

/** Fills columns of `heightMaxMm` with rows in order; every column begins with the heading. */
export function fillColumns(table: ChalkTable, heightMaxMm: number): readonly (readonly TableRow[])[] {
  const columns: TableRow[][] = [];
  let height = Number.POSITIVE_INFINITY;
  for (const row of table.rows) {
    if (height + row.heightMm > heightMaxMm) {
      columns.push([table.heading]);
      height = table.heading.heightMm;
    }
    columns.at(-1)!.push(row);
    height += row.heightMm;
  }
  return columns;
}

/** The least height at which the table fits in `count` columns. */
export function heightInColumns(table: ChalkTable, count: number): number {
  const whole = table.rows.reduce((sum, row) => sum + row.heightMm, 0);
  const tallest = table.rows.reduce((most, row) => Math.max(most, row.heightMm), 0);
  const least = table.heading.heightMm + Math.max(whole / count, tallest);
  for (let height = least; ; height += 1) {
    if (fillColumns(table, height).length <= count) return height;
  }
}

export function drawColumn(rows: readonly TableRow[], [x, y]: PagePoint): readonly Item[] {
  let down = y;
  return rows.flatMap((row) => {
    const items = row.draw([x, down]);
    down += row.heightMm;
    return items;
  });
}
