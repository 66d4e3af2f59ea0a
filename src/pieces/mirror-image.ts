/**
 * Is a piece its own mirror image? Mirrored about its grain line and then moved (no half turn), the outline and
 * every notch and awl point must come to lie within half a millimetre of themselves.
 */
import { boundsOf, mirrorOutline } from '../geometry/outline.js';
import type { Outline, Point, Um } from '../units/types.js';
import { distance } from './grain-frame.js';
import type { CutPiece } from './types.js';

const mirrorTolerance: Um = 500;

/** True when a left and a right copy of the piece cannot be told apart. */
export function isOwnMirrorImage(piece: Pick<CutPiece, 'outline' | 'onFold' | 'notches' | 'awl'>): boolean {
  const { minY, maxY } = boundsOf(piece.outline);
  const rise = minY + maxY;
  const moved = ([x, y]: Point): Point => [x, y + rise];
  const mirrored = mirrorOutline(piece.outline).map(moved);
  if (!mirrored.every((point) => liesOn(point, piece.outline))) return false;
  const notches = piece.notches.map(([outer]) => outer);
  return marksAgree(notches, rise) && marksAgree(piece.awl, rise);
}

function marksAgree(marks: readonly Point[], rise: Um): boolean {
  return marks.every(([x, y]) => marks.some((other) => distance([x, rise - y], other) <= mirrorTolerance));
}

/** Within the tolerance of some segment. The box around a segment is looked at first: it rules out nearly all. */
function liesOn(point: Point, outline: Outline): boolean {
  const [x, y] = point;
  let from = outline.at(-1)!;
  for (const to of outline) {
    const outside =
      x < Math.min(from[0], to[0]) - mirrorTolerance ||
      x > Math.max(from[0], to[0]) + mirrorTolerance ||
      y < Math.min(from[1], to[1]) - mirrorTolerance ||
      y > Math.max(from[1], to[1]) + mirrorTolerance;
    if (!outside && distanceToSegment(point, from, to) <= mirrorTolerance) return true;
    from = to;
  }
  return false;
}

function distanceToSegment(point: Point, from: Point, to: Point): number {
  const dx = to[0] - from[0];
  const dy = to[1] - from[1];
  const square = dx * dx + dy * dy;
  const t = square === 0 ? 0 : ((point[0] - from[0]) * dx + (point[1] - from[1]) * dy) / square;
  const clamped = Math.min(1, Math.max(0, t));
  return distance(point, [from[0] + clamped * dx, from[1] + clamped * dy]);
}
