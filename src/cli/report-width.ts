/** How wide results are set. */
import type { World } from './world.js';

const usual = 80;
const least = 40;

/** Letters in a line: as many as the terminal shows, within reason. */
export function reportWidth({ outColumns }: World): number {
  return Math.min(Math.max(outColumns ?? usual, least), usual);
}
