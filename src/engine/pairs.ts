/**
 * Pairs of shapes: how deep two lie in each other, and where on a line they overlap.
 *
 * NFP(b, a) = -NFP(a, b), and NFP(Ra, Rb) = R NFP(a, b) for a turn R by quarters: so one polygon serves all pairs that
 * are the same two forms in the same turn to each other. A question is turned into the frame in which the form with
 * the lower number lies as it is, and the answer back.
 */

import type { NoFit } from '../geometry/no-fit.js';
import { depthAt } from '../geometry/no-fit-depth.js';
import { crossLine } from '../geometry/no-fit-lines.js';
import type { Um } from '../units/types.js';
import { noFitOf, type Tables } from './tables.js';

/** Depth of shape `moving` at (dx, dy) from shape `fixed`. */
export function depthOfPair(tables: Tables, moving: number, fixed: number, dx: Um, dy: Um): number {
  const { formOf, turnOf } = tables;
  const isSwapped = formOf[fixed]! > formOf[moving]!;
  const noFit = noFitOfPair(tables, moving, fixed, isSwapped);
  const x = isSwapped ? -dx : dx;
  const y = isSwapped ? -dy : dy;
  switch (turnOf[isSwapped ? moving : fixed]) {
    case 0:
      return depthAt(noFit, x, y);
    case 1:
      return depthAt(noFit, y, -x);
    case 2:
      return depthAt(noFit, -x, -y);
    default:
      return depthAt(noFit, -y, x);
  }
}

/**
 * Spans of x in which shape `moving` overlaps shape `fixed` (at x = shift) on the line that is dy above it,
 * as crossLine writes them; returns the next free place in `out`.
 */
export function crossPairAlong(
  tables: Tables,
  moving: number,
  fixed: number,
  dy: Um,
  shift: Um,
  out: Float64Array,
  at: number,
): number {
  const { formOf, turnOf } = tables;
  const isSwapped = formOf[fixed]! > formOf[moving]!;
  const { across, along } = noFitOfPair(tables, moving, fixed, isSwapped);
  const y = isSwapped ? -dy : dy;
  switch (turnOf[isSwapped ? moving : fixed]) {
    case 0:
      return crossLine(across, y, shift, isSwapped, out, at);
    case 1:
      return crossLine(along, y, shift, !isSwapped, out, at);
    case 2:
      return crossLine(across, -y, shift, !isSwapped, out, at);
    default:
      return crossLine(along, -y, shift, isSwapped, out, at);
  }
}

/** The same for a line across the cloth, dx behind shape `fixed` (at y = shift): spans of y. */
export function crossPairAcross(
  tables: Tables,
  moving: number,
  fixed: number,
  dx: Um,
  shift: Um,
  out: Float64Array,
  at: number,
): number {
  const { formOf, turnOf } = tables;
  const isSwapped = formOf[fixed]! > formOf[moving]!;
  const { across, along } = noFitOfPair(tables, moving, fixed, isSwapped);
  const x = isSwapped ? -dx : dx;
  switch (turnOf[isSwapped ? moving : fixed]) {
    case 0:
      return crossLine(along, x, shift, isSwapped, out, at);
    case 1:
      return crossLine(across, -x, shift, isSwapped, out, at);
    case 2:
      return crossLine(along, -x, shift, !isSwapped, out, at);
    default:
      return crossLine(across, x, shift, !isSwapped, out, at);
  }
}

function noFitOfPair(tables: Tables, moving: number, fixed: number, isSwapped: boolean): NoFit {
  return isSwapped ? noFitOf(tables, moving, fixed) : noFitOf(tables, fixed, moving);
}
