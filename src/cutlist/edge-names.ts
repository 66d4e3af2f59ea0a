/** Edges of other pieces by name: `Bib lining D-E` is edge D-E of the piece "Bib lining". */
import type { Place } from '../diagnostics/types.js';
import type { EdgeRun } from '../pieces/types.js';
import type { Point } from '../units/types.js';
import type { Context } from './context.js';
import { nearest } from './fields.js';
import type { ReadShape } from './plain-shapes.js';
import { parseRun } from './runs.js';

/** The piece and the edge or run that a text names, or null after a fault. */
export function splitEdgeName(
  text: string,
  place: Place,
  pieces: ReadonlyMap<string, unknown>,
  context: Context,
): { readonly piece: string; readonly run: string } | null {
  const split = /^(.*\S)\s+(\S+\s*-\s*\S+)$/.exec(text.trim());
  if (split === null) {
    const what = `"${text}" does not name an edge of a piece`;
    return context.fault('bad-edge', place, what, 'write the piece, a space and the edge: Front A-B');
  }
  const [, piece = '', run = ''] = split;
  if (pieces.has(piece)) return { piece, run };
  const near = nearest(piece, [...pieces.keys()]);
  const fix = near === null ? 'name a piece of this file' : `did you mean "${near}"?`;
  return context.fault('no-such-piece', place, `there is no piece "${piece}"`, fix);
}

/** The points of an edge that a text names, in its own piece's frame, or null after a fault. */
export type Borrow = (text: string, place: Place, context: Context) => readonly Point[] | null;

/**
 * For curves that are the same as an edge of another piece.
 * @param shapeOf reads a piece's shape, whose own curves may borrow in turn; its faults are told where it is read
 * @returns what a piece borrows by
 */
export function makeBorrow(
  pieces: ReadonlyMap<string, unknown>,
  shapeOf: (piece: string, borrow: Borrow) => ReadShape | null,
): (piece: string) => Borrow {
  const shapes = new Map<string, ReadShape | null>();
  /** `under`: the pieces whose shapes are being read, outermost first. */
  const borrowOn = (under: readonly string[]): Borrow => {
    return (text, place, context) => {
      const named = splitEdgeName(text, place, pieces, context);
      if (named === null) return null;
      const { piece } = named;
      if (under.includes(piece)) {
        const round = [...under.slice(under.indexOf(piece)), piece].join(', ');
        const what = `same as goes round in a circle: ${round}`;
        return context.fault('same-as-circle', place, what, 'give one of them a curve of its own');
      }
      if (!shapes.has(piece)) shapes.set(piece, shapeOf(piece, borrowOn([...under, piece])));
      const shape = shapes.get(piece)!;
      if (shape === null) {
        return context.fault(
          'same-as-unread',
          place,
          `the shape of "${piece}" cannot be read`,
          'mend that piece first',
        );
      }
      const run = parseRun(named.run, place, shape.corners, context);
      return run === null ? null : pointsOf(shape, run);
    };
  };
  return (piece) => borrowOn([piece]);
}

function pointsOf({ edges }: ReadShape, run: EdgeRun): readonly Point[] {
  return run.edges.flatMap((edge, i) => {
    const points = run.reversed ? [...edges[edge]!.points].reverse() : edges[edge]!.points;
    return i === 0 ? points : points.slice(1);
  });
}
