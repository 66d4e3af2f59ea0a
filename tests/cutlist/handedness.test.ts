/** One asymmetric piece drawn as an outline (y up) and as path data (y down, SVG 1.1, 8.1) is the same piece. */
import { expect, test } from 'vitest';
import { readCutList } from '../../src/cutlist/read.js';
import { makeCutPiece } from '../../src/pieces/cut-piece.js';
import type { Outline } from '../../src/units/types.js';

function outlineOf(shape: string): Outline {
  const text = `title: T
units: cm
drawn: net
pieces:
  P: {${shape}, cut: {shell: 1}, allowance: {all: 1, A-B: 3}, awl: []}
cloths:
  c: {for: shell, width: 100, usable: 98}
`;
  const read = readCutList(text, 'test.yaml');
  if (!read.ok) throw new Error(read.faults.map(({ what }) => what).join('\n'));
  const made = makeCutPiece(read.value.pieces[0]!, 'shell');
  if (!made.ok) throw new Error('it can be made');
  return made.value.outline;
}

const sorted = (outline: Outline): string[] => outline.map(String).sort();

const drawn = outlineOf('outline: {A: [0, 0], B: [20, 0], C: [24, 30], D: [5, 30]}, grain: [[8, 5], [8, 25]]');

test('outline and path', () => {
  expect(sorted(outlineOf('path: M 0 0 L 20 0 L 24 -30 L 5 -30 Z, grain: [[8, -5], [8, -25]]'))).toEqual(sorted(drawn));
});

test('its mirror image is another piece', () => {
  const mirrored = outlineOf(
    'outline: {A: [0, 0], B: [-20, 0], C: [-24, 30], D: [-5, 30]}, grain: [[-8, 5], [-8, 25]]',
  );
  expect(sorted(mirrored)).not.toEqual(sorted(drawn));
  expect(sorted(mirrored.map(([x, y]) => [x, 0 - y] as const))).toEqual(sorted(drawn));
});
