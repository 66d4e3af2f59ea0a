/**
 * Pieces -> DXF text: a block for each piece, its contents on numbered layers as dxf-file.ts reads them, millimetres.
 */
import type { Outline, Point, Um } from '../units/types.js';
import {
  dxfText,
  type Group,
  lineRecord,
  openingRecords,
  place,
  pointRecord,
  polyline,
  section,
  textRecord,
} from './dxf-records.js';
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
    ...openingRecords(layers),
    ...section(
      'BLOCKS',
      pieces.flatMap((piece, i) => block(piece, names[i]!)),
    ),
    ...section('ENTITIES', [
      ...textRecord('15', `Style Name: ${title}`, [0, 0], textHighMm),
      ...textRecord('15', 'Units: METRIC', [0, -10_000], textHighMm),
      ...inserts,
    ]),
  ];
  return dxfText(groups);
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
  const top = Math.max(...piece.outline.map(([, y]) => y));
  return [
    [0, 'BLOCK'],
    [8, '0'],
    [2, name],
    [70, 0],
    ...place([0, 0]),
    [3, name],
    ...[`Piece Name: ${piece.name}`, ...piece.texts].flatMap((words, i) =>
      textRecord('15', words, [piece.outline[0]![0], top + 10_000 * (i + 1)], textHighMm),
    ),
    ...polyline('1', piece.outline, true),
    ...turnPoints(piece.outline).flatMap((at) => pointRecord('2', at)),
    ...(piece.seam === null ? [] : polyline('14', piece.seam, true)),
    ...(piece.mirrorLine === null ? [] : lineRecord('6', piece.mirrorLine)),
    ...lineRecord('7', piece.grain),
    ...piece.notches.flatMap(([outer]) => pointRecord('4', outer)),
    ...piece.awl.flatMap((at) => pointRecord('13', at)),
    ...piece.inner.flatMap((points) => polyline('8', points, false)),
    ...piece.cutOuts.flatMap((points) => polyline('11', points.slice(0, -1), true)),
    [0, 'ENDBLK'],
    [8, '0'],
  ];
}
