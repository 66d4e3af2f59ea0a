/** Declared pieces made in a test without a file: straight edges between lettered corners. */
import type { CutTerm, DeclaredPiece, EdgeRun } from '../../src/pieces/types.js';
import type { Point } from '../../src/units/types.js';

export const testPlace = { file: 'test.yaml', line: 1, column: 1 };

export interface Sketch {
  readonly id?: string;
  /** Corners in cm, y up, labelled A, B, C ... */
  readonly corners: readonly (readonly [number, number])[];
  /** Index of the fold edge. */
  readonly fold?: number;
  /** Foot and head in cm. */
  readonly grain?: readonly [readonly [number, number], readonly [number, number]];
  readonly cut?: readonly CutTerm[];
  /** Allowance of each edge in cm. */
  readonly allowance?: readonly number[];
  readonly drawn?: 'net' | 'cut';
  readonly notches?: readonly { readonly edge: number; readonly at: number; readonly reversed?: boolean }[];
  readonly awl?: readonly (readonly [number, number])[];
}

export function cm([x, y]: readonly [number, number]): Point {
  return [Math.round(x * 10_000), Math.round(y * 10_000)];
}

export function edgeRun(edge: number, reversed = false): EdgeRun {
  return { name: `edge ${edge}`, edges: [edge], reversed };
}

/** A piece of one material, `shell`, head up unless `grain` says otherwise. */
export function declare(sketch: Sketch): DeclaredPiece {
  const points = sketch.corners.map(cm);
  const cut = sketch.cut ?? [{ count: 1, kind: sketch.fold === undefined ? 'plain' : 'on fold' }];
  const [foot, head] = sketch.grain ?? [
    [5, 0],
    [5, 10],
  ];
  return {
    id: sketch.id ?? 'Piece',
    place: testPlace,
    size: null,
    note: null,
    drawn: sketch.drawn ?? 'net',
    corners: points.map((at, i) => ({ label: String.fromCharCode(65 + i), at, place: testPlace })),
    edges: points.map((point, i) => ({
      points: [point, points[(i + 1) % points.length]!],
      curved: false,
      place: testPlace,
    })),
    fold: sketch.fold === undefined ? null : { value: edgeRun(sketch.fold), place: testPlace },
    grain: { value: { foot: cm(foot), head: cm(head), cross: false }, place: testPlace },
    cut: [
      {
        material: 'shell',
        terms: cut,
        text: cut.map(({ count, kind }) => (kind === 'plain' ? `${count}` : `${count} ${kind}`)).join(' + '),
        place: testPlace,
      },
    ],
    allowanceByMaterial: new Map(),
    allowanceDefault: {
      byEdge: (sketch.allowance ?? points.map(() => 0)).map((by) => Math.round(by * 10_000)),
      rest: 0,
      place: testPlace,
    },
    cornerStyles: points.map(() => 'plain' as const),
    notches: (sketch.notches ?? []).map(({ edge, at, reversed }) => ({
      value: { run: edgeRun(edge, reversed), atUm: Math.round(at * 10_000), depthUm: 4_000, double: false },
      place: testPlace,
    })),
    awl: (sketch.awl ?? []).map((point) => ({ value: cm(point), place: testPlace })),
    darts: [],
    pleats: [],
    match: [],
    yDown: false,
    inner: [],
    hole: null,
    parts: null,
    tiltMaxMicrodegrees: 0,
    measured: [],
    turn: null,
  };
}
