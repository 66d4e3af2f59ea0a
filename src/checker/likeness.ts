/**
 * Is a piece its own mirror image, so that a left and a right copy cannot be told apart? Mirrored (y -> -y) and moved
 * across the grain, its outline, notches and awl points agree with themselves within half a millimetre.
 *
 * Two outlines agree when every vertex of each is near the other; as one is the mirror image of the other, looking
 * at one of them is enough.
 */
import type { CutPiece } from '../pieces/types.js';
import type { Outline, Point, Um } from '../units/types.js';
import { boxOf, distanceRoughly } from './exact.js';

/** Farther apart than this is another shape. */
const likenessUm: Um = 500;

/** Whether a left and a right copy of the piece cannot be told apart. */
export function isLikeItsMirror(piece: Pick<CutPiece, 'outline' | 'notches' | 'awl'>): boolean {
  const { low, high } = boxOf(piece.outline);
  const mirror = ([x, y]: Point): Point => [x, low + high - y];
  return (
    piece.outline.every((point) => isNearRing(mirror(point), piece.outline)) &&
    haveCounterparts(
      piece.notches.map((notch) => notch[0]),
      mirror,
    ) &&
    haveCounterparts(piece.awl, mirror)
  );
}

function isNearRing([x, y]: Point, ring: Outline): boolean {
  return ring.some((point, i) => distanceRoughly(x, y, ring.at(i - 1)!, point) <= likenessUm);
}

function haveCounterparts(marks: readonly Point[], mirror: (point: Point) => Point): boolean {
  return marks.every((mark) => {
    const [x, y] = mirror(mark);
    return marks.some(
      (other) => (other[0] - x) * (other[0] - x) + (other[1] - y) * (other[1] - y) <= likenessUm * likenessUm,
    );
  });
}
