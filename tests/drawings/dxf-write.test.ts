/** What is written comes back the same through our own reader, and through another library (dxf-parser). */
import loaded, { type DxfParser } from 'dxf-parser';
import { describe, expect, test } from 'vitest';
import { beginCutList } from '../../src/cutlist/begin.js';
import { readCutList } from '../../src/cutlist/read.js';
import { readDxfFile } from '../../src/drawings/dxf-file.js';
import { writeDxf } from '../../src/drawings/dxf-write.js';
import { dxfPieceOf } from '../../src/marker/dxf-pieces.js';
import { proofPieces } from '../../src/report/proof.js';
import type { Point } from '../../src/units/types.js';
import { cutListFiles, fixtureCutList } from '../support/fixtures.js';

/** What is loaded is the class itself, not what its types say. */
const Parser = loaded as unknown as typeof DxfParser;

function piecesOf(file: string) {
  return proofPieces(fixtureCutList(file));
}

/** The same ring, wherever it begins. */
function sameRing(a: readonly Point[], b: readonly Point[]): boolean {
  const start = b.findIndex(([x, y]) => x === a[0]![0] && y === a[0]![1]);
  const turned = [...b.slice(start), ...b.slice(0, start)];
  return start >= 0 && a.length === b.length && a.every(([x, y], i) => x === turned[i]![0] && y === turned[i]![1]);
}

describe.each(cutListFiles)('%s', (file) => {
  const pieces = piecesOf(file);
  const written = writeDxf('Boat Größe', pieces.map(dxfPieceOf));

  test('our own reader gives the same outlines to the micrometre, and the same marks', () => {
    const drawing = readDxfFile(written);
    if ('problem' in drawing) throw new Error(drawing.problem);
    expect([drawing.unitsFrom, drawing.mmPerUnit, drawing.doubts]).toEqual(['text', 1, []]);
    expect(drawing.pieces.length).toBe(pieces.length);
    drawing.pieces.forEach((piece, i) => {
      const { shape, fold, grain } = pieces[i]!;
      const ring = piece.edges.flatMap(({ points }) => points.slice(0, -1));
      expect(sameRing(shape.outline, ring)).toBe(true);
      expect(piece.grain).toEqual(grain);
      expect(piece.mirrorLine === null).toBe(fold === null);
      expect(piece.notches.length).toBe(shape.notches.length);
      expect(piece.awl).toEqual(shape.awl.map(([x, y]) => [Math.round(x), Math.round(y)]));
      expect(piece.hasSeamLine).toBe(shape.seam !== null);
    });
  });

  test('another library reads blocks, layers and vertices', () => {
    const parsed = new Parser().parseSync(written)!;
    const blocks = Object.values(parsed.blocks);
    expect(blocks.length).toBe(pieces.length);
    blocks.forEach((block, i) => {
      const outline = block.entities.find(({ type, layer }) => type === 'POLYLINE' && layer === '1') as unknown as {
        vertices: { x: number; y: number }[];
        shape: boolean;
      };
      expect(outline.shape).toBe(true);
      const vertices = outline.vertices.map(({ x, y }): Point => [Math.round(x * 1000), Math.round(y * 1000)]);
      expect(vertices.map(([x, y]) => [x + 0, y + 0])).toEqual(pieces[i]!.shape.outline.map(([x, y]) => [x, y]));
    });
    expect(parsed.entities.filter(({ type }) => type === 'INSERT').length).toBe(pieces.length);
  });
});

test.each(cutListFiles)('%s: a cut list begun from it gives the same pieces, folds and cuts', (file) => {
  const pieces = piecesOf(file);
  const written = writeDxf('T', pieces.map(dxfPieceOf));
  const begun = beginCutList(written, 'p.dxf', 'p.dxf', 'cm');
  if (!begun.ok) throw new Error('it is begun');
  const answered = begun.value.text
    .replace(/^( *)# ([a-z]+: .*# \?)/gm, '$1$2')
    .replace(/^drawn: .*|^ {4}(drawn|allowance): .*/gm, '')
    .replace(/^units: cm$/m, 'units: cm\ndrawn: cut');
  const list = readCutList(
    answered.replace(/for: shell/, `for: [${materialsOf(pieces)}]`),
    'b.yaml',
    new Map([['p.dxf', { ok: true, value: written }]]),
  );
  if (!list.ok) throw new Error(list.faults.map(({ what }) => what).join());
  list.value.pieces.forEach((piece, i) => {
    expect(piece.fold === null).toBe(pieces[i]!.fold === null);
    expect(piece.cut.map(({ material, text }) => [material, text])).toEqual(
      pieces[i]!.cuts.map(({ material, text }) => [material, text]),
    );
  });
});

function materialsOf(pieces: ReturnType<typeof piecesOf>): string {
  return [...new Set(pieces.flatMap(({ cuts }) => cuts.map(({ material }) => material)))].join(', ');
}

test('plain ASCII, letters beyond it by their code, block names that every reader takes', () => {
  const [piece] = piecesOf('boatyard/slipway-apron.yaml');
  const names = ['Größe', 'Größe', '日本', 'a\nb', 'x'.repeat(60)];
  const written = writeDxf(
    'T',
    names.map((name) => ({ ...dxfPieceOf(piece!), name })),
  );
  expect(/^[\x20-\x7E\n]*$/.test(written)).toBe(true);
  const drawing = readDxfFile(written);
  if ('problem' in drawing) throw new Error(drawing.problem);
  // Of two alike the second goes by its block.
  expect(drawing.pieces.map(({ name }) => name)).toEqual(['Größe', 'GROSSE_2', '日本', 'a b', 'x'.repeat(60)]);
  for (const [, block] of written.matchAll(/BLOCK\n {2}8\n0\n {2}2\n(.*)\n/g))
    expect(block).toMatch(/^[A-Z0-9_]{1,31}$/);
});
