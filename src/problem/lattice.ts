/** Places on a repeat, and where things end. */

import { boundsOf } from '../geometry/outline.js';
import { coordinateMaxUm, type Um } from '../units/types.js';
import type { Choice, Lattice, Problem, Shape } from './types.js';

/** The lattice line at or above the value; step 0 = the value itself. */
export function latticeUp(value: Um, step: Um, offset: Um): Um {
  return step === 0 ? value : offset + Math.ceil((value - offset) / step) * step;
}

/** The lattice line at or below the value; step 0 = the value itself. */
export function latticeDown(value: Um, step: Um, offset: Um): Um {
  return step === 0 ? value : offset + Math.floor((value - offset) / step) * step;
}

/** One place along only (on a crosswise fold): the next one lies beyond all coordinates. */
export function hasOneX(lattice: Lattice | null): boolean {
  return lattice !== null && lattice.xStep > 2 * coordinateMaxUm;
}

/**
 * Where a thing ends that lies by this choice as far to the left as it can, were it alone.
 * @param shape of the choice; @param minX @param maxX of its outline
 * @returns Infinity when the choice has no place
 */
export function firstEnd({ lattice, yMin, yMax }: Choice, { keepUm = 0 }: Shape, minX: Um, maxX: Um): Um {
  if (lattice === null) return keepUm + maxX - minX;
  if (latticeUp(yMin, lattice.yStep, lattice.yOffset) > yMax) return Number.POSITIVE_INFINITY;
  return latticeUp(keepUm - minX, lattice.xStep, lattice.xOffset) + maxX;
}

/** How far what is pinned reaches: no lay ends before that. */
export function pinnedEnd({ pinned = [], shapes }: Problem): Um {
  return pinned.reduce((most, { shape, x }) => Math.max(most, x + boundsOf(shapes[shape]!.outline).maxX), 0);
}

/** From where the first pinned thing begins to where the last one ends: no lay is shorter than that. */
export function pinnedReach({ pinned = [], shapes }: Problem): Um {
  if (pinned.length === 0) return 0;
  const boxes = pinned.map(({ shape, x }) => ({ x, box: boundsOf(shapes[shape]!.outline) }));
  return Math.max(...boxes.map(({ x, box }) => x + box.maxX)) - Math.min(...boxes.map(({ x, box }) => x + box.minX));
}
