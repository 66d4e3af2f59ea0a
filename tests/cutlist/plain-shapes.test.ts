import { describe, expect, test } from 'vitest';
import { readCutList } from '../../src/cutlist/read.js';
import type { CutList } from '../../src/cutlist/types.js';
import { areaUm2, boundsOf, isCounterClockwise } from '../../src/geometry/outline.js';
import { makeCutPiece } from '../../src/pieces/cut-piece.js';
import { lengthOf } from '../../src/pieces/grain-frame.js';
import type { CutPiece, DeclaredPiece } from '../../src/pieces/types.js';

function read(pieces: string, units = 'cm'): CutList {
  const text = `title: Test\nunits: ${units}\ndrawn: net\npieces:\n${pieces}\ncloths:\n  drill: {for: shell, width: 150 cm, usable: 147 cm}\n`;
  const answer = readCutList(text, 'test.yaml');
  if (!answer.ok) throw new Error(answer.faults.map(({ what }) => what).join('\n'));
  return answer.value;
}

function declared(shape: string, more = 'allowance: 0', units = 'cm'): DeclaredPiece {
  return read(`  Piece: {${shape}, cut: {shell: 1}, ${more}}`, units).pieces[0]!;
}

function cutOf(piece: DeclaredPiece): CutPiece {
  const made = makeCutPiece(piece, 'shell');
  if (!made.ok) throw new Error(made.faults.map(({ what }) => what).join('\n'));
  return made.value;
}

const edgeCm = (piece: DeclaredPiece, edge: number): number => lengthOf(piece.edges[edge]!.points) / 10_000;

describe('trapezoid', () => {
  test.each([
    [
      'both',
      [
        [0, 0],
        [60, 0],
        [50, 70],
        [10, 70],
      ],
      30,
    ],
    [
      'A',
      [
        [0, 0],
        [60, 0],
        [60, 70],
        [20, 70],
      ],
      40,
    ],
    [
      'B',
      [
        [0, 0],
        [60, 0],
        [40, 70],
        [0, 70],
      ],
      20,
    ],
  ] as const)('lean %s', (lean, corners, middle) => {
    const piece = declared(`trapezoid: {bottom: 60, top: 40, height: 70, lean: ${lean}}`);
    expect(piece.corners.map(({ label }) => label).join('')).toBe('ABCD');
    expect(piece.corners.map(({ at }) => at.map((v) => v / 10_000))).toEqual(corners);
    expect(piece.grain.value).toEqual({ foot: [middle * 10_000, 0], head: [middle * 10_000, 700_000], cross: false });
    expect(areaUm2(cutOf(piece).outline)).toBe(((60 + 40) / 2) * 70 * 1e8);
  });

  test('without lean both sides slant alike', () => {
    const measures = 'bottom: 60, top: 40, height: 70';
    const plain = declared(`trapezoid: {${measures}}`);
    expect(plain.corners).toEqual(
      declared(`trapezoid: {${measures}, lean: both}`).corners.map((corner) => ({
        ...corner,
        place: expect.anything(),
      })),
    );
  });
});

describe('sector and circle skirt', () => {
  test('a sector has its arcs and its area, within what flattening leaves', () => {
    const piece = declared('sector: {inner: 12, outer: 80, degrees: 75}');
    expect(piece.corners.length).toBe(4);
    const part = 75 / 360;
    expect(edgeCm(piece, 0)).toBeCloseTo(2 * Math.PI * 80 * part, 2);
    expect(edgeCm(piece, 1)).toBeCloseTo(68, 3);
    expect(edgeCm(piece, 2)).toBeCloseTo(2 * Math.PI * 12 * part, 2);
    const area = areaUm2(cutOf(piece).outline) / 1e8;
    expect(Math.abs(area / (Math.PI * (80 * 80 - 12 * 12) * part) - 1)).toBeLessThan(1e-4);
    expect(isCounterClockwise(piece.edges.flatMap(({ points }) => points.slice(0, -1)))).toBe(true);
  });

  test('without an inner radius the arcs end in one corner', () => {
    const piece = declared('sector: {inner: 0, outer: 40, degrees: 60}');
    expect(piece.corners.map(({ label }) => label)).toEqual(['A', 'B', 'C']);
    expect(piece.corners[2]!.at).toEqual([0, 0]);
  });

  test.each([
    ['3/4', 0.75],
    ['1/2', 0.5],
    ['1/4', 0.25],
  ])('the waist of part %s lies on its inner arc, within 0.02 percent', (word, part) => {
    const piece = declared(`circle-skirt: {waist: 71.3, length: 58, part: ${word}}`);
    const inner = 71.3 / (2 * Math.PI * part);
    expect(Math.abs(edgeCm(piece, 2) / 71.3 - 1)).toBeLessThan(2e-4);
    expect(Math.abs(edgeCm(piece, 0) / (2 * Math.PI * (inner + 58) * part) - 1)).toBeLessThan(2e-4);
    expect(edgeCm(piece, 1)).toBeCloseTo(58, 3);
  });

  test('a whole circle carries its waist as a cut line inside, within the seam line by the allowance', () => {
    const piece = declared('circle-skirt: {waist: 71.3, length: 58, part: 1}', 'allowance: {all: 1.5, A-C: 3, C-A: 3}');
    const inner = 71.3 / (2 * Math.PI);
    const hem = piece.edges.reduce((sum, _, edge) => sum + edgeCm(piece, edge), 0);
    expect(Math.abs(hem / (2 * Math.PI * (inner + 58)) - 1)).toBeLessThan(2e-4);
    expect(Math.abs(lengthOf([...piece.hole!, piece.hole![0]!]) / 713_000 - 1)).toBeLessThan(2e-4);
    const cut = cutOf(piece);
    const [line] = cut.lines.filter(({ kind }) => kind === 'inner');
    expect(line!.points[0]).toEqual(line!.points.at(-1));
    expect(Math.abs(lengthOf(line!.points) / 10_000 / (2 * Math.PI * (inner - 1.5)) - 1)).toBeLessThan(3e-4);
    const { minX, maxX, minY, maxY } = boundsOf(cut.outline);
    for (const size of [maxX - minX, maxY - minY]) expect(size / 20_000).toBeCloseTo(inner + 61, 2);
  });

  // W26: 'How to make a poodle skirt', 2006: a 56 in square, waist hole 28 in round: outer radius 28, hole 8.92 across.
  test('W26: the circle of a square', () => {
    const radius = 28 / (2 * Math.PI);
    const piece = declared(
      `circle-skirt: {waist: 28, length: ${28 - Number(radius.toFixed(4))}, part: 1}`,
      'allowance: 0',
      'in',
    );
    const { minX, maxX } = boundsOf(piece.edges.flatMap(({ points }) => points));
    expect((maxX - minX) / 2 / 25_400).toBeCloseTo(28, 3);
    const hole = boundsOf(piece.hole!);
    expect(Math.abs((hole.maxX - hole.minX) / 25_400 - 8.92)).toBeLessThanOrEqual(0.01);
  });

  // W27: 'Three quarter circle skirt', drafting page: waist with ease 27.38 in, radius = waist / 4.71 = 5.81 in.
  test('W27: three quarters of a circle', () => {
    const piece = declared('circle-skirt: {waist: 27.38, length: 20, part: 3/4}', 'allowance: 0', 'in');
    const [x, y] = piece.corners[2]!.at;
    const radius = Math.sqrt(x * x + y * y) / 25_400;
    expect(Math.abs(radius - 5.81)).toBeLessThanOrEqual(0.01);
    expect(Math.abs(27.38 / radius - 4.71)).toBeLessThanOrEqual(0.01);
  });
});

describe('bias strip', () => {
  test('is cut at 45 degrees, with ends along the thread, in as many parts as are joined, all alike', () => {
    const piece = declared('bias-strip: {length: 250, width: 4, pieces: 3}');
    const { foot, head } = piece.grain.value;
    expect(head[0] - foot[0]).toBe(head[1] - foot[1]);
    const cut = cutOf(piece);
    expect(cut.demand).toEqual({ asDrawn: 3, mirrored: 0 });
    expect(cut.label).toBe('cut 1, each joined from 3 parts');
    // Each end is a side along the grain: y stays the same.
    const { outline } = cut;
    const along = outline.filter((point, i) => Math.abs(point[1] - outline[(i + 1) % 4]![1]) <= 1);
    expect(along.length).toBe(2);
    expect((3 * areaUm2(outline)) / 1e8).toBeCloseTo(1000, 1);
  });

  test('two strips of three parts are six, and no notice reads them as pairs', () => {
    const list = read('  Piece: {bias-strip: {length: 250, width: 4, pieces: 3}, cut: {shell: 2}, allowance: 0.5}');
    expect(cutOf(list.pieces[0]!).demand).toEqual({ asDrawn: 6, mirrored: 0 });
    expect(list.notices).toEqual([]);
  });
});
