/**
 * What doubled cloth makes of the copy that is laid down: the pose of its partner in the other layer. The same holds the
 * other way round, so either copy may lead.
 */
import { foldSumAt } from '../cloth/folding.js';
import type { Point, Um } from '../units/types.js';
import type { Pose } from './transform.js';
import type { Stretch, Turn } from './types.js';

/**
 * @param middle of the outline laid down, in the flat cloth frame
 * @returns null where the cloth lies in one layer
 */
export function partnerPose(lead: Pose, stretch: Stretch, width: Um, middle: Point): Pose | null {
  const [x, y] = lead.at;
  const mirrored = { mirror: !lead.mirror, tiltMicrodegrees: lead.tiltMicrodegrees === 0 ? 0 : -lead.tiltMicrodegrees };
  if (stretch.foldX !== undefined) {
    // A reflection along the cloth is one across it and a half turn.
    return { ...mirrored, turned: asTurn(180 - lead.turned), at: [2 * stretch.foldX - x, y] };
  }
  const turned = asTurn(-lead.turned);
  if (stretch.cutX !== undefined) {
    const by = stretch.cutX - stretch.from;
    return { ...mirrored, turned, at: [middle[0] < stretch.cutX ? x + by : x - by, width - y] };
  }
  const sum = foldSumAt(stretch, width, middle[1]);
  return sum === null ? null : { ...mirrored, turned, at: [x, sum - y] };
}

function asTurn(degrees: number): Turn {
  return (((degrees % 360) + 360) % 360) as Turn;
}
