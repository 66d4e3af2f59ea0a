/**
 * Where a copy's outline comes from: mirrored (y -> -y in the piece's grain frame), turned counter-clockwise, moved.
 * Whole micrometres in, whole micrometres out, so nothing is rounded. Tilts are not supported yet.
 * This room has its own few lines for it, so that reading and writing lays needs no geometry.
 */
import type { CutPiece } from '../pieces/types.js';
import type { Outline, Point, Um } from '../units/types.js';
import type { Copy, Turn } from './types.js';

/** How a copy lies on the flat cloth. */
export type Pose = Pick<Copy, 'mirror' | 'turned' | 'tiltMicrodegrees' | 'at'>;

/**
 * The outline of a copy in the flat cloth frame. A mirrored outline is listed in reversed order, beginning with
 * the image of the last point, so that it stays counter-clockwise.
 */
export function copyOutline(piece: Pick<CutPiece, 'outline'>, pose: Pose): Outline {
  const listed = pose.mirror ? [...piece.outline].reverse() : piece.outline;
  return listed.map((point) => copyPoint(point, pose));
}

/** Where a point of the piece (a notch, a grain end) lies on the flat cloth. */
export function copyPoint([x, y]: Point, { mirror, turned, at }: Pose): Point {
  const [turnedX, turnedY] = turnPoint([x, mirror ? -y : y], turned);
  return [turnedX + at[0], turnedY + at[1]];
}

/**
 * The pose of the partner that a copy gets on lengthwise-folded cloth: its reflection y -> W - y.
 * Reflecting turns a turn round, so a quarter turn becomes a three-quarter turn.
 */
export function reflectedPose(lead: Pose, clothWidthUm: Um): Pose {
  return {
    mirror: !lead.mirror,
    turned: lead.turned === 90 ? 270 : lead.turned === 270 ? 90 : lead.turned,
    tiltMicrodegrees: lead.tiltMicrodegrees === 0 ? 0 : -lead.tiltMicrodegrees,
    at: [lead.at[0], clothWidthUm - lead.at[1]],
  };
}

/** A counter-clockwise turn about the origin. Adding 0 keeps minus zero out of files. */
function turnPoint([x, y]: Point, turned: Turn): Point {
  switch (turned) {
    case 0:
      return [x + 0, y + 0];
    case 90:
      return [0 - y, x + 0];
    case 180:
      return [0 - x, 0 - y];
    case 270:
      return [y + 0, 0 - x];
  }
}
