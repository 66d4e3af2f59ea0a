/** Places on a repeat. */
import type { Um } from '../units/types.js';
import type { Choice, Shape } from './types.js';

/** The lattice line at or above the value; step 0 = the value itself. */
export function latticeUp(value: Um, step: Um, offset: Um): Um {
  return step === 0 ? value : offset + Math.ceil((value - offset) / step) * step;
}

/** The lattice line at or below the value; step 0 = the value itself. */
export function latticeDown(value: Um, step: Um, offset: Um): Um {
  return step === 0 ? value : offset + Math.floor((value - offset) / step) * step;
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
