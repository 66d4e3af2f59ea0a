/**
 * Pieces -> DXF text of the oldest form that is still read everywhere (AC1009): a block for each piece, its contents on
 * numbered layers as dxf-file.ts reads them, millimetres. Letters beyond ASCII are written as \U+XXXX.
 */
import type { Outline, Point, Um } from '../units/types.js';
import { turnPoints } from './ring-corners.js';

export interface WrittenPiece {
  readonly name: string;
  /** `Quantity: 2` and the like. */
  readonly texts: readonly string[];
  /** The cutting line. */
  readonly outline: Outline;
  readonly seam: Outline | null;
  readonly mirrorLine: readonly [Point, Point] | null;
  /** Foot, head. */
  readonly grain: readonly [Point, Point];
  /** [on the cutting line, inner end] */
  readonly notches: readonly (readonly [Point, Point])[];
  readonly awl: readonly Point[];
  readonly inner: readonly (readonly Point[])[];
  /** Closed lines within the outline that are cut too. */
  readonly cutOuts: readonly (readonly Point[])[];
}

type Group = readonly [code: number, value: string | number];

/** Room between the pieces in the drawing. */
const apartUm: Um = 50_000;
const textHighMm = 5;

/** One drawing with all pieces side by side. */
export function writeDxf(title: string, pieces: readonly WrittenPiece[]): string {
  const names = blockNames(pieces);
  const layers = ['0', '1', '2', '4', '6', '7', '8', '11', '13', '14', '15'];
  let x = 0;
  const inserts = pieces.flatMap(({ outline }, i): Group[] => {
    const xs = outline.map(([px]) => px);
    const at = x - Math.min(...xs);
    x += Math.max(...xs) - Math.min(...xs) + apartUm;
    return [[0, 'INSERT'], [8, '0'], [2, names[i]!], ...place([at, 0])];
  });
  const groups: Group[] = [
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
    ...section(
      'BLOCKS',
      pieces.flatMap((piece, i) => block(piece, names[i]!)),
    ),
    ...section('ENTITIES', [
      ...text(`Style Name: ${title}`, [0, 0]),
      ...text('Units: METRIC', [0, -10_000]),
      ...inserts,
    ]),
    [0, 'EOF'],
  ];
  return groups.map(([code, value]) => `${String(code).padStart(3)}\n${ascii(String(value))}\n`).join('');
}

function section(name: string, inside: readonly Group[]): Group[] {
  return [[0, 'SECTION'], [2, name], ...inside, [0, 'ENDSEC']];
}

/** Capitals, figures and a few signs, at most 31 of them, each name once. */
function blockNames(pieces: readonly WrittenPiece[]): string[] {
  const used = new Set<string>();
  return pieces.map(({ name }, i) => {
    const plain = name
      .normalize('NFD')
      .toUpperCase()
      .replace(/\p{M}/gu, '')
      .replace(/[^A-Z0-9]+/g, '_')
      .slice(0, 24);
    const start = /[A-Z0-9]/.test(plain) ? plain : `PIECE_${i + 1}`;
    let free = start;
    for (let k = 2; used.has(free); k++) free = `${start}_${k}`;
    used.add(free);
    return free;
  });
}

function block(piece: WrittenPiece, name: string): Group[] {
  const line = (layer: string, [from, to]: readonly [Point, Point]): Group[] => [
    [0, 'LINE'],
    [8, layer],
    ...place(from),
    [11, millimetres(to[0])],
    [21, millimetres(to[1])],
    [31, '0.0'],
  ];
  const point = (layer: string, at: Point): Group[] => [[0, 'POINT'], [8, layer], ...place(at)];
  const top = Math.max(...piece.outline.map(([, y]) => y));
  return [
    [0, 'BLOCK'],
    [8, '0'],
    [2, name],
    [70, 0],
    ...place([0, 0]),
    [3, name],
    ...[`Piece Name: ${piece.name}`, ...piece.texts].flatMap((words, i) =>
      text(words, [piece.outline[0]![0], top + 10_000 * (i + 1)]),
    ),
    ...polyline('1', piece.outline, true),
    ...turnPoints(piece.outline).flatMap((at) => point('2', at)),
    ...(piece.seam === null ? [] : polyline('14', piece.seam, true)),
    ...(piece.mirrorLine === null ? [] : line('6', piece.mirrorLine)),
    ...line('7', piece.grain),
    ...piece.notches.flatMap(([outer]) => point('4', outer)),
    ...piece.awl.flatMap((at) => point('13', at)),
    ...piece.inner.flatMap((points) => polyline('8', points, false)),
    ...piece.cutOuts.flatMap((points) => polyline('11', points.slice(0, -1), true)),
    [0, 'ENDBLK'],
    [8, '0'],
  ];
}

function text(words: string, at: Point): Group[] {
  return [[0, 'TEXT'], [8, '15'], ...place(at), [40, textHighMm], [1, words]];
}

function polyline(layer: string, points: readonly Point[], closed: boolean): Group[] {
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

function place([x, y]: Point): Group[] {
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
