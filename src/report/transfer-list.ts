/**
 * The transfer list: for each piece what goes from the paper to the cut copies (notches, awl points, darts, hems), and
 * what else is to be done with them. Measured on the paper, printed side up, so that it holds for every copy. Pure data
 * in whole micrometres, taken from an accepted lay. A lay does not name edges, so marks are told by the grain line.
 */
import { showPlacement } from '../lay/shown-copy.js';
import type { Lay } from '../lay/types.js';
import type { CutPiece, LineKind } from '../pieces/types.js';
import type { Point, Um } from '../units/types.js';

/** A point to mark. Of a half piece only the half that is drawn is told. */
export interface TransferMark {
  /** For example `notch`, or `dart, tip`. */
  readonly what: string;
  /** From the foot of the grain line towards its head; less than 0 = beyond the foot. Or from a fold across the grain. */
  readonly alongUm: Um;
  /** From the grain line, or of a piece with its fold along the grain from the fold; never less than 0. */
  readonly acrossUm: Um;
  /** On which side of the grain line, head away from her, printed side up; null = on it, or told from the fold. */
  readonly side: 'left' | 'right' | null;
}

export interface TransferPiece {
  readonly piece: string;
  readonly size: string | null;
  readonly label: string;
  readonly note: string | null;
  /** Numbers of its placements. */
  readonly numbers: readonly number[];
  readonly copies: number;
  /** So many pairs, one as drawn and one mirrored; and what is left over as drawn, or mirrored. */
  readonly pairs: number;
  readonly restAsDrawn: number;
  readonly restMirrored: number;
  /** How many copies are turned over after cutting. */
  readonly turnedOver: number;
  /** Placements that lie off the grain, or across it. */
  readonly tilted: readonly { readonly n: number; readonly degrees: number }[];
  readonly crossed: readonly number[];
  /** Where its half is unfolded: marks are told for one half, from the fold where that runs along or square to the grain. */
  readonly foldedFrom: 'across' | 'along' | 'both halves' | null;
  readonly marks: readonly TransferMark[];
}

export interface TransferList {
  /** What is cut is fused to the pieces of the same name from other cloth. */
  readonly fuses: boolean;
  /** In the order of the pieces' first numbers. */
  readonly pieces: readonly TransferPiece[];
}

/** What is to be transferred and done after cutting an accepted lay. */
export function transferList(lay: Lay): TransferList {
  const shown = lay.placements.map((placement) => showPlacement(lay, placement)).sort(byNumber);
  const ids = [...new Set(shown.map(({ piece }) => piece.id))];
  return {
    fuses: lay.cloth.fusible,
    pieces: ids.map((id) => {
      const own = shown.filter(({ piece }) => piece.id === id);
      const { piece } = own[0]!;
      const numbers = new Set(own.flatMap(({ placement }) => placement.copies));
      const copies = lay.copies.filter(({ n }) => numbers.has(n));
      const mirrored = copies.filter(({ is }) => is === 'mirrored').length;
      const pairs = Math.min(mirrored, copies.length - mirrored);
      const leads = own.map(({ placement: { n }, lead }) => ({ n, lead }));
      const way = piece.onFold ? foldWay(piece) : null;
      return {
        piece: piece.id,
        size: piece.size,
        label: piece.label,
        note: piece.note,
        numbers: leads.map(({ n }) => n),
        copies: copies.length,
        pairs,
        restAsDrawn: copies.length - mirrored - pairs,
        restMirrored: mirrored - pairs,
        turnedOver: copies.filter(({ turnedOver }) => turnedOver).length,
        tilted: leads.flatMap(({ n, lead: { tiltMicrodegrees } }) =>
          tiltMicrodegrees === 0 ? [] : [{ n, degrees: Math.abs(tiltMicrodegrees) / 1e6 }],
        ),
        crossed: leads.flatMap(({ n, lead }) => (lead.turned % 180 === 0 ? [] : [n])),
        foldedFrom: way,
        marks: marksOf(piece, way),
      };
    }),
  };
}

function byNumber(
  a: { readonly placement: { readonly n: number } },
  b: { readonly placement: { readonly n: number } },
): number {
  return a.placement.n - b.placement.n;
}

/** `across`: marks are told across from a fold that runs along the grain. */
function foldWay({ lines }: CutPiece): TransferPiece['foldedFrom'] {
  const [a, b] = lines.find(({ kind }) => kind === 'fold')?.points ?? [];
  if (a === undefined || b === undefined || (a[1] === 0 && b[1] === 0)) return 'across';
  return a[0] === 0 && b[0] === 0 ? 'along' : 'both halves';
}

const lineWords: Readonly<Record<Exclude<LineKind, 'fold'>, string>> = {
  hem: 'hem line',
  dart: 'dart',
  pleat: 'pleat',
  inner: 'inner cut line',
  mark: 'line',
};

interface RawMark {
  readonly what: string;
  readonly at: Point;
}

function marksOf(piece: CutPiece, way: TransferPiece['foldedFrom']): readonly TransferMark[] {
  const raw: readonly (readonly RawMark[])[] = [
    ...piece.notches.map(([edge]) => [{ what: 'notch', at: edge }]),
    ...piece.awl.map((at) => [{ what: 'awl point', at }]),
    ...piece.lines.flatMap(({ kind, points }) => (kind === 'fold' ? [] : [lineMarks(lineWords[kind], points)])),
    ...piece.match.map(({ at, group }) => [{ what: `match point, group ${group}`, at }]),
  ];
  const [foot] = piece.grain;
  return firstHalf(raw, way).flatMap((marks) =>
    marks.map(({ what, at: [x, y] }): TransferMark => {
      const fromFoot: Point = [x - foot[0], y - foot[1]];
      const along = way === 'along' ? Math.abs(x) : fromFoot[0];
      if (way === 'across') return { what, alongUm: along, acrossUm: Math.abs(y), side: null };
      const across = fromFoot[1];
      const side = across === 0 ? null : across > 0 ? 'left' : 'right';
      return { what, alongUm: along, acrossUm: Math.abs(across), side };
    }),
  );
}

/** The ends of a line and, of a short one with a corner, that; a curve is taken from the paper. */
function lineMarks(what: string, points: readonly Point[]): readonly RawMark[] {
  const [first, last] = [points[0]!, points.at(-1)!];
  const isClosed = first[0] === last[0] && first[1] === last[1];
  if (isClosed) return [{ what: `${what}, from the paper, through`, at: first }];
  const middle = points.length === 3 ? [{ what: `${what}, tip`, at: points[1]! }] : [];
  const bent = points.length > 3 ? ', from the paper' : '';
  return [{ what: `${what}${bent}, one end`, at: first }, ...middle, { what: `${what}, other end`, at: last }];
}

/** Without those whose mirror image about the fold stands before them: the drawn half is listed first. */
function firstHalf(
  marks: readonly (readonly RawMark[])[],
  way: TransferPiece['foldedFrom'],
): readonly (readonly RawMark[])[] {
  if (way !== 'across' && way !== 'along') return marks;
  const keyOf = (mark: readonly RawMark[], sign: 1 | -1) =>
    mark
      .map(({ what, at: [x, y] }) => {
        const [turnedX, turnedY] = way === 'across' ? [x, sign * y + 0] : [sign * x + 0, y];
        return `${what} ${turnedX} ${turnedY}`;
      })
      .join('; ');
  const told = new Set<string>();
  return marks.filter((mark) => {
    if (told.has(keyOf(mark, -1))) return false;
    told.add(keyOf(mark, 1));
    return true;
  });
}
