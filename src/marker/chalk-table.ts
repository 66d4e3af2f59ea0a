/**
 * The chalk list as a table of a given width: a tick box, the number, the piece and how it lies, the two ends of its
 * grain line (foot above head, so that equal distances from the edge are seen at a glance) and from-to.
 */
import type { ChalkLine, ChalkList } from '../report/chalk-list.js';
import { nameWithSize } from '../report/words.js';
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
  readonly widthMm: number;
  /** In a narrower column its numbers have no room beside the names. */
  readonly leastMm: number;
  readonly heading: TableRow;
  readonly rows: readonly TableRow[];
}

const leadingMm = 3.1;
const smallLeadingMm = 2.5;
const bodyPt = 7.5;
const smallPt = 6;
const padMm = 1;

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

const tickMm = 12.5;
const nameMinMm = 24;
/** Where room is scarce names are wrapped within this. */
const nameSqueezedMm = 16;

/** Sets the table `widthMm` wide, or as narrow as names and numbers allow. */
export function chalkTable(
  measure: TextMeasure,
  list: ChalkList,
  units: LengthUnit,
  widthMm: number | 'narrow',
): ChalkTable {
  const wide = (texts: readonly string[], sizePt: number) =>
    Math.max(...texts.map((text) => makeText(measure, text, [0, 0], { sizePt }).widthMm));
  const { lines } = list;
  const ends = lines.flatMap(({ foot, head }) => [foot, head]);
  const rangesMm = wide(
    lines.flatMap(({ alongUm, acrossUm }) => [rangeOf(alongUm, units), rangeOf(acrossUm, units)]),
    bodyPt,
  );
  const heads = wide(['cut end', 'lies along'], smallPt);
  const edgeMm = Math.max(
    heads,
    wide(
      ends.map(({ fromEdgeUm }) => bareNumber(fromEdgeUm, units)),
      bodyPt,
    ),
  );
  const cutEndMm = Math.max(
    heads,
    wide(
      ends.map(({ fromEndUm }) => bareNumber(fromEndUm, units)),
      bodyPt,
    ),
  );
  const footMm = wide(['head'], smallPt);
  const gap = 2.8;
  const numbersMm = gap + footMm + 1.2 + cutEndMm + gap + edgeMm + gap + Math.max(rangesMm, heads);
  const width = widthMm === 'narrow' ? tickMm + nameMinMm + numbersMm : widthMm;
  const pieceEnd = width - numbersMm;
  const endsAt = pieceEnd + gap;
  const cutEnd = endsAt + footMm + 1.2 + cutEndMm;
  const edge = cutEnd + gap + edgeMm;
  const columns: Columns = { piece: tickMm, pieceEnd, ends: endsAt, cutEnd, edge, extent: edge + gap, width };
  return {
    widthMm: width,
    leastMm: tickMm + nameSqueezedMm + numbersMm,
    heading: headingRow(measure, columns, units, list.from),
    rows: list.lines.map((line) => lineRow(measure, columns, line, units)),
  };
}

function headingRow(measure: TextMeasure, columns: Columns, units: LengthUnit, from: ChalkList['from']): TableRow {
  const heightMm = 2 * 2.7 + 2.2;
  return {
    heightMm,
    draw: ([x, y]) => {
      const small = (text: string, at: number, row: number, anchor: 'start' | 'end' = 'start'): TextItem =>
        makeText(measure, text, [x + at, y + 2.2 + row * 2.7], { sizePt: smallPt, grey: 0.3, anchor });
      return [
        small('no.', 10.6, 1, 'end'),
        small('piece', columns.piece, 1),
        small(`in ${units === 'in' ? 'inches' : units}`, columns.piece, 0),
        small('grain', columns.ends, 0),
        small('line', columns.ends, 1),
        small('from', columns.cutEnd, 0, 'end'),
        small(from === 'fold' ? 'the fold' : from, columns.cutEnd, 1, 'end'),
        small('from', columns.edge, 0, 'end'),
        small('edge', columns.edge, 1, 'end'),
        small('lies along', columns.extent, 0),
        small('and across', columns.extent, 1),
        lineOf('box', horizontal(x, y + heightMm - 0.4, columns.width), false),
      ];
    },
  };
}

function horizontal(x: number, y: number, width: number): readonly PagePoint[] {
  return [
    [x, y],
    [x + width, y],
  ];
}

/**
 * Name and numbers in the first two lines, how the piece lies in the third:
 *
 *   [] 3  Pocket        foot  12.0  34.5   2.0 – 20.0
 *                       head  18.0  34.5  25.5 – 43.5
 *         gives 2 · printed side up · head to far end · edge: left selvedge
 */
function lineRow(measure: TextMeasure, columns: Columns, line: ChalkLine, units: LengthUnit): TableRow {
  const name = nameWithSize(line.piece, line.size);
  const names = wrap(measure, name, columns.pieceEnd - columns.piece, bodyPt, true).slice(0, 4);
  const notes = wrap(measure, howItLies(line), columns.width - columns.piece, smallPt, false);
  const notesFrom = Math.max(2, names.length) * leadingMm;
  const heightMm = notesFrom + notes.length * smallLeadingMm + 2 * padMm;
  const number = (um: Um) => bareNumber(um, units);
  return {
    heightMm,
    draw: ([x, y]) => {
      const base = y + padMm + 2.3;
      const body = (text: string, at: number, row: number, style: { bold?: boolean; anchor?: 'end' } = {}) =>
        makeText(measure, text, [x + at, base + row * leadingMm], { sizePt: bodyPt, ...style });
      const small = (text: string, at: number, down: number) =>
        makeText(measure, text, [x + at, base + down], { sizePt: smallPt, grey: 0.3 });
      return [
        lineOf('box', tickBox(x + 0.4, base - 2.4, 2.8), true),
        body(String(line.n), 10.6, 0, { bold: true, anchor: 'end' }),
        ...names.map((text, i) => body(text, columns.piece, i, { bold: true })),
        small('foot', columns.ends, 0),
        small('head', columns.ends, leadingMm),
        body(number(line.foot.fromEndUm), columns.cutEnd, 0, { anchor: 'end' }),
        body(number(line.head.fromEndUm), columns.cutEnd, 1, { anchor: 'end' }),
        body(number(line.foot.fromEdgeUm), columns.edge, 0, { anchor: 'end' }),
        body(number(line.head.fromEdgeUm), columns.edge, 1, { anchor: 'end' }),
        body(rangeOf(line.alongUm, units), columns.extent, 0),
        body(rangeOf(line.acrossUm, units), columns.extent, 1),
        ...notes.map((text, i) => small(text, columns.piece, notesFrom - 0.1 + i * smallLeadingMm)),
        lineOf('rule', horizontal(x, y + heightMm, columns.width), false),
      ];
    },
  };
}

/** `gives 2 · printed side up · head to far end · edge: left selvedge`. */
function howItLies(line: ChalkLine): string {
  const head = `${line.turned ? 'turned, ' : ''}head to ${line.headTowards}`;
  const edge = line.onFold ? 'fold edge on the fold' : `edge: ${line.edge}`;
  const tilt = line.tiltDegrees === 0 ? [] : [`${Math.abs(line.tiltDegrees)}° off the grain`];
  const opened = line.opened ? ['half piece: chalk it, turn it over along its fold edge, chalk it again'] : [];
  const garment = line.garment === null ? [] : [`garment ${line.garment}`];
  const over = turnedOverWords(line.turnedOver, line.copies);
  return [
    ...garment,
    `gives ${line.copies}`,
    ...over,
    `printed side ${line.printedSide}`,
    head,
    edge,
    ...tilt,
    ...opened,
  ].join(' · ');
}

/** What is to be done after cutting on cloth with two right sides. */
export function turnedOverWords(turnedOver: number, copies: number): readonly string[] {
  if (turnedOver === 0) return [];
  return [
    turnedOver < copies
      ? 'turn one of them over after cutting'
      : `turn ${copies === 1 ? 'it' : 'them'} over after cutting`,
  ];
}

function rangeOf([from, to]: readonly [Um, Um], units: LengthUnit): string {
  return `${bareNumber(from, units)} – ${bareNumber(to, units)}`;
}

/** The number alone: the table's heading names the unit. */
export function bareNumber(um: Um, units: LengthUnit): string {
  return formatLength(um, units).replace(/ [a-z]+$/, '');
}

/** A box to tick off. */
export function tickBox(x: number, y: number, side: number): readonly PagePoint[] {
  return [
    [x, y],
    [x + side, y],
    [x + side, y + side],
    [x, y + side],
  ];
}

/** Rows under a heading that is repeated wherever they go on in another column. */
export interface TableSection {
  readonly heading: TableRow;
  readonly rows: readonly TableRow[];
  /** Repeated in its stead. */
  readonly continued?: TableRow;
  /** It does not follow others in their column. */
  readonly beginsColumn?: boolean;
}

/**
 * Fills columns with rows in order. A heading never stands at the foot of a column without a row of its section.
 * @param heightMm how high a column is, counted from 0
 */
export function fillColumns(
  sections: readonly TableSection[],
  heightMm: (column: number) => number,
): readonly (readonly TableRow[])[] {
  const columns: TableRow[][] = [];
  let left = 0;
  const put = (rows: readonly TableRow[]): void => {
    columns.at(-1)!.push(...rows);
    left -= heightOfRows(rows);
  };
  const next = (): void => {
    left = heightMm(columns.length);
    columns.push([]);
  };
  for (const { heading, rows, continued = heading, beginsColumn } of sections) {
    const [first, ...others] = rows;
    const begin = first === undefined ? [heading] : [heading, first];
    if (columns.length === 0 || beginsColumn || heightOfRows(begin) > left) next();
    put(begin);
    for (const row of others) {
      if (row.heightMm <= left) {
        put([row]);
      } else {
        next();
        put([continued, row]);
      }
    }
  }
  return columns;
}

function heightOfRows(rows: readonly TableRow[]): number {
  return rows.reduce((sum, row) => sum + row.heightMm, 0);
}

/** The least height at which the table fits in `count` columns. */
export function heightInColumns(table: ChalkTable, count: number): number {
  const tallest = table.rows.reduce((most, row) => Math.max(most, row.heightMm), 0);
  const least = table.heading.heightMm + Math.max(heightOfRows(table.rows) / count, tallest);
  for (let height = least; ; height += 1) {
    if (fillColumns([table], () => height).length <= count) return height;
  }
}

/** Rows of one column beneath each other, from their upper left corner. */
export function drawColumn(rows: readonly TableRow[], [x, y]: PagePoint): readonly Item[] {
  let down = y;
  return rows.flatMap((row) => {
    const items = row.draw([x, down]);
    down += row.heightMm;
    return items;
  });
}
