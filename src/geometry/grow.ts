/**
 * Growing an outline outwards, never by less than asked: corners are extended to meet, and cut off square beyond
 * twice the distance. For the gap between pieces: two outlines, each grown by half of it, may touch.
 * The offset is clipper-lib's (Angus Johnson's Clipper 6). It rounds its points to whole micrometres, so it is
 * asked for one more, and for yet more until an exact test says that the distance is kept. Holes that close up
 * inside are filled.
 */
import ClipperLib from 'clipper-lib';
import { assert, BrokenPromise } from '../diagnostics/assert.js';
import type { Outline, Point, Um } from '../units/types.js';
import { twiceArea } from './outline.js';
import { bordersApart, flatOutline, outlineContains } from './overlap.js';

const mitreLimit = 2;
/** One micrometre serves nearly always; needle-sharp outlines have needed more. */
const roundingsUm: readonly Um[] = [1, 2, 3, 4, 6, 10, 20, 50, 100, 200, 500, 1_000, 2_000, 5_000];

/** The outline grown by at least `byUm`; by 0 it is the outline itself. Counter-clockwise. */
export function growOutline(outline: Outline, byUm: Um): Outline {
  assert(Number.isInteger(byUm) && byUm >= 0, 'an outline grows by whole micrometres');
  if (byUm === 0) return outline;
  for (const roundingUm of roundingsUm) {
    const grown = offsetOutline(outline, byUm + roundingUm);
    if (outlineContains(grown, outline) && bordersApart(flatOutline(grown, 0, 0), flatOutline(outline, 0, 0), byUm)) {
      return grown;
    }
  }
  throw new BrokenPromise('a grown outline keeps its distance from the outline it grew from');
}

/** The outer ring of the offset. */
function offsetOutline(outline: Outline, byUm: Um): Outline {
  const offset = new ClipperLib.ClipperOffset(mitreLimit, 1);
  const path = outline.map(([x, y]) => ({ X: x, Y: y }));
  offset.AddPath(path, ClipperLib.JoinType.jtMiter, ClipperLib.EndType.etClosedPolygon);
  const found: { X: number; Y: number }[][] = [];
  offset.Execute(found, byUm);
  let best: Outline = [];
  let bestArea = 0n;
  for (const ring of found) {
    const candidate = ring.map(({ X, Y }): Point => [X, Y]);
    const area = twiceArea(candidate);
    if (area > bestArea) {
      best = candidate;
      bestArea = area;
    }
  }
  assert(best.length >= 3, 'an outline that grows has an outer ring');
  return best;
}
