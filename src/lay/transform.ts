/**
 * Where a copy's outline comes from: mirrored (y -> -y in the piece's grain frame), turned counter-clockwise, tilted,
 * moved. Whole micrometres in and out; a tilt rounds to the nearest one, halves away from zero, so that mirror images
 * stay mirror images.
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
export function copyPoint([x, y]: Point, { mirror, turned, tiltMicrodegrees, at }: Pose): Point {
  const [turnedX, turnedY] = tiltPoint(turnPoint([x, mirror ? -y : y], turned), tiltMicrodegrees);
  return [turnedX + at[0], turnedY + at[1]];
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

/** A small counter-clockwise turn about the origin. */
function tiltPoint([x, y]: Point, microdegrees: number): Point {
  if (microdegrees === 0) return [x, y];
  const [cosine, sine] = directionOf((microdegrees / 1e6) * (Math.PI / 180));
  return [roundAway(x * cosine - y * sine), roundAway(x * sine + y * cosine)];
}

/** Cosine and sine of an angle of at most a quarter turn by their power series: the same on every machine. */
function directionOf(angle: number): readonly [cosine: number, sine: number] {
  let [cosine, sine] = [0, 0];
  let term = 1;
  for (let k = 0; k < 24; k++) {
    const sign = k % 4 < 2 ? 1 : -1;
    if (k % 2 === 0) cosine += sign * term;
    else sine += sign * term;
    term = (term * angle) / (k + 1);
  }
  return [cosine, sine];
}

function roundAway(value: number): Um {
  return value < 0 ? 0 - Math.round(-value) : Math.round(value);
}

/** The middle of the box around an outline. */
export function middleOf(outline: Outline): Point {
  const [xs, ys] = [outline.map(([x]) => x), outline.map(([, y]) => y)];
  return [middle(xs), middle(ys)];
}

function middle(values: readonly number[]): number {
  const [least, most] = values.reduce(([a, b], v) => [Math.min(a, v), Math.max(b, v)], [values[0]!, values[0]!]);
  return (least + most) / 2;
}
