/**
 * Records of a DXF file of the oldest form that is still read everywhere (AC1009), in millimetres. Letters beyond ASCII
 * are written as \U+XXXX.
 */
import type { Point, Um } from '../units/types.js';

export type Group = readonly [code: number, value: string | number];

/** All that comes before blocks and entities: form, units, layers. */
export function openingRecords(layers: readonly string[]): Group[] {
  return [
    ...section('HEADER', [
      [9, '$ACADVER'],
      [1, 'AC1009'],
      [9, '$INSUNITS'],
      [70, 4],
    ]),
    ...section('TABLES', [
      [0, 'TABLE'],
      [2, 'LAYER'],
      [70, layers.length],
      ...layers.flatMap((layer): Group[] => [
        [0, 'LAYER'],
        [2, layer],
        [70, 0],
        [62, 7],
        [6, 'CONTINUOUS'],
      ]),
      [0, 'ENDTAB'],
    ]),
  ];
}

/** The whole file. */
export function dxfText(groups: readonly Group[]): string {
  const all: readonly Group[] = [...groups, [0, 'EOF']];
  return all.map(([code, value]) => `${String(code).padStart(3)}\n${ascii(String(value))}\n`).join('');
}

/** A part of the file. */
export function section(name: string, inside: readonly Group[]): Group[] {
  return [[0, 'SECTION'], [2, name], ...inside, [0, 'ENDSEC']];
}

/** A straight stroke. */
export function lineRecord(layer: string, [from, to]: readonly [Point, Point]): Group[] {
  return [[0, 'LINE'], [8, layer], ...place(from), [11, millimetres(to[0])], [21, millimetres(to[1])], [31, '0.0']];
}

/** A point. */
export function pointRecord(layer: string, at: Point): Group[] {
  return [[0, 'POINT'], [8, layer], ...place(at)];
}

/** One line of text from `at` on; `turned` by degrees counter-clockwise. */
export function textRecord(layer: string, words: string, at: Point, highMm: number, turned = 0): Group[] {
  const turn: Group[] = turned === 0 ? [] : [[50, turned]];
  return [[0, 'TEXT'], [8, layer], ...place(at), [40, highMm], [1, words], ...turn];
}

/** A path. */
export function polyline(layer: string, points: readonly Point[], closed: boolean): Group[] {
  return [
    [0, 'POLYLINE'],
    [8, layer],
    [66, 1],
    ...place([0, 0]),
    [70, closed ? 1 : 0],
    ...points.flatMap((at): Group[] => [[0, 'VERTEX'], [8, layer], ...place(at)]),
    [0, 'SEQEND'],
    [8, layer],
  ];
}

/** Where a thing stands. */
export function place([x, y]: Point): Group[] {
  return [
    [10, millimetres(x)],
    [20, millimetres(y)],
    [30, '0.0'],
  ];
}

/** Exact: three decimals are whole micrometres. */
function millimetres(um: Um): string {
  const whole = Math.round(um);
  const [sign, size] = whole < 0 ? ['-', -whole] : ['', whole];
  return `${sign}${Math.floor(size / 1000)}.${String(size % 1000).padStart(3, '0')}`;
}

/** One line, letters beyond ASCII by their code (UTF-16 units, as readers of this form expect). */
function ascii(value: string): string {
  return value
    .replace(/[\p{Cc}\p{Zl}\p{Zp}]/gu, ' ')
    .replace(/[^\x20-\x7E]/g, (letter) => `\\U+${letter.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}`);
}
