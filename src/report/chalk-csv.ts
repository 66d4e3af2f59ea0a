/**
 * The chalk list as comma-separated values (RFC 4180: CRLF, a header row, quotes doubled; UTF-8 by its media type's
 * default). One row for each placement in laying order. Lengths are plain decimal numbers in the unit of the header.
 */
import { formatDecimal, umPerUnit } from '../units/length.js';
import type { LengthUnit, Um } from '../units/types.js';
import type { ChalkLine, ChalkList } from './chalk-list.js';

/** A tenth of a millimetre, or finer. */
const places: Readonly<Record<LengthUnit, number>> = { cm: 2, mm: 1, in: 3 };

interface Column {
  readonly name: string;
  readonly value: (line: ChalkLine) => string;
}

/** The whole file. */
export function chalkCsv(list: ChalkList, units: LengthUnit): string {
  const columns = columnsOf(list.from, units);
  const rows = [
    columns.map(({ name }) => quoted(name)),
    ...list.lines.map((line) => columns.map(({ value }) => value(line))),
  ];
  return rows.map((row) => `${row.join(',')}\r\n`).join('');
}

function columnsOf(from: ChalkList['from'], units: LengthUnit): readonly Column[] {
  const length = (name: string, of: (line: ChalkLine) => Um): Column => ({
    name: `${name} (${units})`,
    value: (line) => formatDecimal(of(line), umPerUnit[units], places[units]),
  });
  const text = (name: string, of: (line: ChalkLine) => string): Column => ({
    name,
    value: (line) => textCell(of(line)),
  });
  const number = (name: string, of: (line: ChalkLine) => number): Column => ({ name, value: (line) => `${of(line)}` });
  return [
    number('number', ({ n }) => n),
    text('piece', ({ piece }) => piece),
    text('size', ({ size }) => size ?? ''),
    number('garment', ({ garment }) => garment ?? 1),
    text('cut', ({ label }) => label),
    number('copies', ({ copies }) => copies),
    number('turn over after cutting', ({ turnedOver }) => turnedOver),
    text('printed side', ({ printedSide }) => printedSide),
    text('head towards', ({ headTowards }) => headTowards),
    number('degrees off the grain', ({ tiltDegrees }) => Math.abs(tiltDegrees)),
    text('fold edge', ({ onFold, opened }) => (onFold ? 'on the fold' : opened ? 'opened out' : '')),
    text('edge measured from', ({ edge }) => edge),
    length(`grain foot from ${from}`, ({ foot }) => foot.fromEndUm),
    length('grain foot from edge', ({ foot }) => foot.fromEdgeUm),
    length(`grain head from ${from}`, ({ head }) => head.fromEndUm),
    length('grain head from edge', ({ head }) => head.fromEdgeUm),
    length('along from', ({ alongUm }) => alongUm[0]),
    length('along to', ({ alongUm }) => alongUm[1]),
    length('across from', ({ acrossUm }) => acrossUm[0]),
    length('across to', ({ acrossUm }) => acrossUm[1]),
  ];
}

/**
 * A text as a cell. Spreadsheets take one that begins with = + - or @ (or with a tab or line end, which some leave out)
 * for a formula: an apostrophe before it keeps it a text.
 */
export function textCell(text: string): string {
  return quoted(/^\s*[=+\-@\uFF0B\uFF0D\uFF1D\uFF20]|^[\t\r\n]/.test(text) ? `'${text}` : text);
}

function quoted(text: string): string {
  return /[",\r\n']/.test(text) || text !== text.trim() ? `"${text.replace(/"/g, '""')}"` : text;
}
