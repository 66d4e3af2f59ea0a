/** What washing before the cutting takes: a loss in parts per million of the length before (ISO 5077). */
import type { Um } from '../units/types.js';

/** What is surely left of a length after washing. */
export function washedLength(um: Um, ppm: number): Um {
  return Math.floor((um * (1_000_000 - ppm)) / 1_000_000);
}

/** The least length before washing of which so much is left. */
export function unwashedLength(washedUm: Um, ppm: number): Um {
  const left = 1_000_000 - ppm;
  return Number((BigInt(washedUm) * 1_000_000n + BigInt(left) - 1n) / BigInt(left));
}
