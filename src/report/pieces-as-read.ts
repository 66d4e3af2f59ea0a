/**
 * How every piece was read: for each piece and material what is cut, its size, which way its grain line points, what is
 * added where, and its marks, for checking a cut list against the paper.
 */
import type { CutList } from '../cutlist/types.js';
import { areaUm2, boundsOf } from '../geometry/outline.js';
import { allowancesFor, makeCutPiece } from '../pieces/cut-piece.js';
import { edgeName } from '../pieces/edge-name.js';
import { lengthOf, runPoints } from '../pieces/grain-frame.js';
import { seamLengthOf } from '../pieces/marks.js';
import { isOwnMirrorImage } from '../pieces/mirror-image.js';
import { measureSeam, seamInWords } from '../pieces/seams.js';
import type { CutPiece, DeclaredPiece } from '../pieces/types.js';
import { formatDecimal, formatLength } from '../units/length.js';
import type { LengthUnit } from '../units/types.js';
import { table, wrap, wrapAfter } from './columns.js';
import { counted } from './words.js';

/** Lines in file order; a piece that cannot be cut has none (its fault says why). */
export function piecesAsRead(cutList: CutList, width = 80): string[] {
  return cutList.pieces.flatMap((piece) =>
    piece.cut.flatMap(({ material }) => {
      const made = makeCutPiece(piece, material);
      if (!made.ok) return [];
      const line = `${piece.id}: ${cutInWords(piece, made.value, material)}; ${sizeInWords(made.value, cutList.units)}`;
      const indented = (words: string, indent: string): string[] =>
        wrapAfter('', words, width - indent.length).map((each) => indent + each);
      const [first = ''] = wrap(line, width);
      const rest = line.slice(first.length + 1);
      return [
        first,
        ...(rest === '' ? [] : indented(rest, '  ')),
        ...indented(detailInWords(piece, material, cutList.units), '  '),
      ];
    }),
  );
}

/** What is cut from some materials that cut it alike, its size, and how it is laid and sewn: three lines and its note. */
export function piecesInWords(piece: DeclaredPiece, materials: readonly string[], units: LengthUnit): string[] {
  const cuts = materials.flatMap((material) => {
    const made = makeCutPiece(piece, material);
    return made.ok ? [{ material, cut: made.value }] : [];
  });
  return [
    cuts.map(({ material, cut }) => cutInWords(piece, cut, material)).join('; '),
    ...cuts.slice(0, 1).map(({ cut }) => sizeInWords(cut, units)),
    ...cuts.slice(0, 1).map(({ material }) => detailInWords(piece, material, units)),
    ...(piece.note === null ? [] : [piece.note]),
  ];
}

function cutInWords(piece: DeclaredPiece, cut: CutPiece, material: string): string {
  const { text } = piece.cut.find((each) => each.material === material)!;
  return `cut ${text} from ${material}, read as ${demandInWords(cut)}`;
}

function detailInWords(piece: DeclaredPiece, material: string, units: LengthUnit): string {
  const parts = [
    grainInWords(piece),
    foldInWords(piece),
    allowanceInWords(piece, material, units),
    marksInWords(piece),
  ];
  return parts.filter((part) => part !== '').join('; ');
}

/** Every edge of every piece with its length on the seam line, by the tape, and the difference. */
export function edgesAsDrawn({ pieces, units }: CutList): string[] {
  return pieces.flatMap((piece) => {
    const allowances = allowancesFor(piece, piece.cut[0]?.material ?? '');
    const rows = piece.edges.map((_, edge) => {
      const name = edgeName(piece, edge);
      const drawn = seamLengthOf(piece, { name, edges: [edge], reversed: false }, allowances);
      const tape = piece.measured.find(({ value: { run } }) => run.edges.length === 1 && run.edges[0] === edge);
      return [name, formatLength(Math.round(drawn), units), ...tapeCells(piece, tape?.value ?? null, units)];
    });
    const runs = piece.measured.flatMap(({ value }) => {
      if (value.run.edges.length === 1) return [];
      const drawn = seamLengthOf(piece, value.run, allowances);
      return [[value.run.name, formatLength(Math.round(drawn), units), ...tapeCells(piece, value, units)]];
    });
    const head = ['edge', 'length', 'measured', 'difference'];
    return [piece.id, ...table([head, ...rows, ...runs], ['left', 'right', 'right', 'left'], 2, 80)];
  });
}

/** The tape goes along the line as drawn. */
function tapeCells(
  piece: DeclaredPiece,
  tape: DeclaredPiece['measured'][number]['value'] | null,
  units: LengthUnit,
): [string, string] {
  if (tape === null) return ['', ''];
  const drawn = Math.round(lengthOf(runPoints(piece, tape.run)));
  const off = drawn - tape.lengthUm;
  const words = formatLength(off, units);
  // What rounds to nothing has no sign.
  const sign = off > 0 && /[1-9]/.test(words.replace(/\/.*$/, '')) ? '+' : '';
  return [
    formatLength(tape.lengthUm, units),
    sign === '' && !/[1-9]/.test(words) ? words.replace('-', '') : `${sign}${words}`,
  ];
}

/** Each seam with the lengths of both its sides. */
export function seamsAsRead({ seams, units }: CutList, width = 80): string[] {
  return seams.flatMap(({ value }, i) => {
    const lengths = measureSeam(value);
    const words = `seam ${i + 1}: ${seamInWords(value, lengths, units)}${lengths.matches ? '' : ': no match'}`;
    return wrapAfter('', words, width).map((each, index) => (index === 0 ? each : `  ${each}`));
  });
}

/** `head towards C-D`: the edge that the grain line's head points at. */
function grainInWords(piece: DeclaredPiece): string {
  const { foot, head } = piece.grain.value;
  const [dx, dy] = [head[0] - foot[0], head[1] - foot[1]];
  let nearest = Number.POSITIVE_INFINITY;
  let towards = -1;
  piece.edges.forEach(({ points }, edge) => {
    for (let i = 1; i < points.length; i++) {
      const [[ax, ay], [bx, by]] = [points[i - 1]!, points[i]!];
      const under = dx * (by - ay) - dy * (bx - ax);
      if (under === 0) continue;
      // foot + t (head - foot) = a + s (b - a); t = 1 at the head.
      const t = ((ax - foot[0]) * (by - ay) - (ay - foot[1]) * (bx - ax)) / under;
      const s = ((ax - foot[0]) * dy - (ay - foot[1]) * dx) / under;
      if (s >= 0 && s <= 1 && t > 0.999 && t < nearest) {
        nearest = t;
        towards = edge;
      }
    }
  });
  return towards === -1 ? '' : `grain head towards ${edgeName(piece, towards)}`;
}

function foldInWords({ fold }: DeclaredPiece): string {
  return fold === null ? '' : `${fold.value.name} on the fold`;
}

/** The allowance of most edges, then the others by name. */
function allowanceInWords(piece: DeclaredPiece, material: string, units: LengthUnit): string {
  const { byEdge } = allowancesFor(piece, material);
  const edges = [...byEdge.keys()].filter((edge) => !(piece.fold?.value.edges.includes(edge) ?? false));
  const counts = new Map<number, number>();
  for (const edge of edges) counts.set(byEdge[edge]!, (counts.get(byEdge[edge]!) ?? 0) + 1);
  const [usual = 0] = [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0])[0] ?? [];
  const others = edges.filter((edge) => byEdge[edge] !== usual);
  if (usual === 0 && others.length === 0) return piece.drawn === 'cut' ? 'drawn with its allowances' : 'no allowance';
  const named = others.map((edge) => `, ${edgeName(piece, edge)} ${formatLength(byEdge[edge]!, units)}`).join('');
  return `allowance ${formatLength(usual, units)}${named}`;
}

function marksInWords({ notches, awl, darts, pleats, match }: DeclaredPiece): string {
  const parts: (readonly [number, string, string])[] = [
    [notches.length, 'notch', 'notches'],
    [awl.length, 'awl point', 'awl points'],
    [darts.length, 'dart', 'darts'],
    [pleats.length, 'pleat', 'pleats'],
    [match.length, 'match point', 'match points'],
  ];
  return parts
    .filter(([count]) => count > 0)
    .map(([count, one, many]) => counted(count, one, many))
    .join(', ');
}

function demandInWords(piece: CutPiece): string {
  const { asDrawn, mirrored } = piece.demand;
  const total = counted(asDrawn + mirrored, 'copy', 'copies');
  if (piece.onFold) return `${total}, unfolded`;
  if (isOwnMirrorImage(piece)) return asDrawn === 1 ? total : `${total}, all alike`;
  const pairs = Math.min(asDrawn, mirrored);
  const parts = [
    pairs === 0 ? '' : counted(pairs, 'pair', 'pairs'),
    asDrawn === pairs ? '' : `${asDrawn - pairs} as drawn`,
    mirrored === pairs ? '' : `${mirrored - pairs} mirrored`,
  ];
  return parts.filter((part) => part !== '').join(' + ');
}

function sizeInWords({ outline }: CutPiece, units: LengthUnit): string {
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  const along = formatLength(maxX - minX, units);
  const across = formatLength(maxY - minY, units);
  return `${along} along the grain x ${across} across, area ${areaInWords(areaUm2(outline), units)}`;
}

/** Square centimetres, or square inches for inch lists, one decimal. */
function areaInWords(um2: number, units: LengthUnit): string {
  const inches = units === 'in';
  return `${formatDecimal(um2, inches ? 25_400 * 25_400 : 10_000 * 10_000, 1)} ${inches ? 'sq in' : 'cm2'}`;
}
