/**
 * The largest work that the program is made for, as a cut list: forty kinds of rounded pieces with shallow bays, each with
 * five hundred corners, a thousand copies in all. Made by chance from a seed, so that it is the same everywhere.
 */
import { createRandom } from '../engine/random.js';
import { directionOf } from '../geometry/curves.js';

export interface LargeWork {
  readonly kinds: number;
  readonly corners: number;
  /** Of each kind. */
  readonly cut: string;
}

/** 40 x 25 copies. */
export const largestWork: LargeWork = { kinds: 40, corners: 500, cut: '12 pairs + 1 same way' };

/** Waves around a piece, by how many of them. */
const waves = [2, 3, 5];
const pieceSeed = 7;

/** The text of its cut list. */
export function largeCutList({ kinds, corners, cut }: LargeWork): string {
  const pieces = Array.from({ length: kinds }, (_, kind) => {
    const points = pointsOf(kind, corners).map(([x, y], i) => `P${i + 1}: [${x}, ${y}]`);
    return [
      `  Part ${kind + 1}:`,
      `    outline: {${points.join(', ')}}`,
      '    grain: [[0, -2], [0, 2]]',
      `    cut: {shell: ${cut}}`,
      '    allowance: 0.7',
    ];
  });
  const head = ['title: Harbour fleet', 'units: cm', 'drawn: net', 'pieces:'];
  const foot = ['cloths:', '  canvas: {for: shell, width: 150, usable: 147, nap: none}', ''];
  return [...head, ...pieces.flat(), ...foot].join('\n');
}

/** An oval of 8 to 18 cm by 10 to 22 cm, its edge in waves; in cm to the hundredth of a millimetre. */
function pointsOf(kind: number, corners: number): readonly (readonly [string, string])[] {
  const random = createRandom(pieceSeed, kind);
  const share = () => random.below(1_000) / 1_000;
  const [across, along] = [4 + 5 * share(), 5 + 6 * share()];
  const bays = waves.map((count) => ({ count, depth: 0.1 * share(), from: 360 * share() }));
  return Array.from({ length: corners }, (_, i) => {
    const degrees = (360 * i) / corners;
    const [cos, sin] = directionOf(degrees);
    const reach = bays.reduce((sum, { count, depth, from }) => sum + depth * directionOf(count * degrees + from)[0], 1);
    return [(across * reach * cos).toFixed(3), (along * reach * sin).toFixed(3)];
  });
}
