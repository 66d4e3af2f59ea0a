/**
 * One asymmetric one-way piece drawn as an outline (y up), as path data and as an SVG file (y down, SVG 1.1, 8.1), and
 * as a DXF file (y up) is the same piece, and its mirror image is another one that the checker refuses.
 */
import { describe, expect, test } from 'vitest';
import { checkLayAgainst } from '../../src/checker/check-lay.js';
import { readCutList } from '../../src/cutlist/read.js';
import { cutPiecesFor } from '../../src/index.js';
import type { Outline } from '../../src/units/types.js';
import { block, dxfFile, lightPolyline, line, millimetres, section } from '../support/dxf.js';
import { planText } from '../support/plan.js';

const drawings = new Map(
  Object.entries({
    'wedge.svg': `<svg xmlns="http://www.w3.org/2000/svg" width="30cm" height="40cm" viewBox="0 0 30 40">
<path id="wedge" d="M 0 40 L 20 40 L 24 10 L 5 10 Z"/></svg>`,
    'wedge.dxf': dxfFile(
      millimetres,
      section(
        'BLOCKS',
        block(
          'wedge',
          lightPolyline('1', [
            [0, 0],
            [200, 0],
            [240, 300],
            [50, 300],
          ]),
          line('7', [80, 50], [80, 250]),
        ),
      ),
    ),
  }).map(([name, value]) => [name, { ok: true as const, value }]),
);

function cutListOf(shape: string): string {
  return `title: T
units: cm
drawn: net
pieces:
  P: {${shape}, cut: {shell: 3 same way}, allowance: {all: 1, A-B: 3}, awl: [[${shape === asMirrored ? -8 : 8}, ${shape.startsWith('path') ? -20 : 20}]]}
cloths:
  c: {for: shell, width: 100, usable: 98}
`;
}

function read(shape: string) {
  const cutList = readCutList(cutListOf(shape), 'test.yaml', drawings);
  if (!cutList.ok) throw new Error(cutList.faults.map(({ what }) => what).join('\n'));
  return cutList.value;
}

function outlineOf(shape: string): Outline {
  return cutPiecesFor(read(shape), 'shell')[0]!.outline;
}

const sorted = (outline: Outline): string[] => outline.map(String).sort();

const asOutline = 'outline: {A: [0, 0], B: [20, 0], C: [24, 30], D: [5, 30]}, grain: [[8, 5], [8, 25]]';
const asMirrored = 'outline: {A: [0, 0], B: [-20, 0], C: [-24, 30], D: [-5, 30]}, grain: [[-8, 5], [-8, 25]]';

describe('the same piece', () => {
  test.each([
    ['path', 'path: M 0 0 L 20 0 L 24 -30 L 5 -30 Z, grain: [[8, -5], [8, -25]]'],
    ['SVG', 'svg: {file: wedge.svg, id: wedge}, grain: [[8, 5], [8, 25]]'],
    ['DXF', 'dxf: {file: wedge.dxf}'],
    ['DXF with its own grain named', 'dxf: {file: wedge.dxf, piece: wedge}, grain: [[8, 5], [8, 25]]'],
  ])('%s', (_, shape) => {
    expect(sorted(outlineOf(shape))).toEqual(sorted(outlineOf(asOutline)));
  });
});

test('its mirror image is another piece', () => {
  const mirrored = outlineOf(asMirrored);
  expect(sorted(mirrored)).not.toEqual(sorted(outlineOf(asOutline)));
  expect(sorted(mirrored.map(([x, y]) => [x, 0 - y] as const))).toEqual(sorted(outlineOf(asOutline)));
});

test('a lay of one is refused as a lay of the other', async () => {
  const { outputs } = await planText(cutListOf(asOutline), { effort: 0.1 });
  const { lay } = outputs[0]!;
  const against = (shape: string) => {
    const cutList = read(shape);
    const pieces = cutPiecesFor(cutList, 'shell');
    const { cloth } = cutList.cloths[0]!;
    return checkLayAgainst(lay, { cutListSha256: lay.cutListSha256, pieces, cloth, garments: 1 });
  };
  expect(against(asOutline).refusals).toEqual([]);
  expect(against(asMirrored).accepted).toBe(false);
});
