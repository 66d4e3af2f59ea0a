/**
 * Areas and curve lengths of all our garments against other calculations: areas by the polygons of @flatten-js/core,
 * lengths of through-curves by the pyramid of linear interpolations (Barry and Goldman 1988), 4 000 chords to a span.
 */
import { Polygon } from '@flatten-js/core';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { areaUm2 } from '../../src/geometry/outline.js';
import { cutPiecesFor } from '../../src/index.js';
import { lengthOf } from '../../src/pieces/grain-frame.js';
import { cutListFiles, fixtureCutList, fixtureText } from '../support/fixtures.js';

test.each(cutListFiles)('%s: areas of all outlines', (file) => {
  const cutList = fixtureCutList(file);
  const materials = new Set(cutList.pieces.flatMap(({ cut }) => cut.map(({ material }) => material)));
  for (const piece of [...materials].flatMap((material) => cutPiecesFor(cutList, material))) {
    const other = new Polygon(piece.outline.map(([x, y]): [number, number] => [x, y])).area();
    expect(areaUm2(piece.outline) / other).toBeCloseTo(1, 9);
  }
});

type Xy = readonly [number, number];

interface TypedPiece {
  readonly outline?: Readonly<Record<string, Xy>>;
  readonly curves?: Readonly<Record<string, { readonly through?: readonly Xy[] }>>;
}

const throughs = cutListFiles.flatMap((file) => {
  const [text, cutList] = [fixtureText(file), fixtureCutList(file)];
  if (cutList.units !== 'cm') return [];
  const pieces = (parse(text) as { pieces: Record<string, TypedPiece> }).pieces;
  return Object.entries(pieces).flatMap(([name, { outline, curves }]) =>
    Object.entries(curves ?? {}).flatMap(([edge, { through }]) => {
      if (outline === undefined || through === undefined) return [];
      const piece = cutList.pieces.find(({ id }) => id === name)!;
      const [from = '', to = ''] = edge.split('-');
      return [
        { title: `${file}: ${name} ${edge}`, piece, points: [outline[from]!, ...through, outline[to]!], from, to },
      ];
    }),
  );
});

describe('lengths of through-curves', () => {
  test('there are some', () => expect(throughs.length).toBeGreaterThan(10));

  test.each(throughs)('$title', ({ piece, points, from, to }) => {
    const labels = piece.corners.map(({ label }) => label);
    const n = labels.length;
    const [a, b] = [labels.indexOf(from), labels.indexOf(to)];
    const edge = piece.edges[(a + 1) % n === b ? a : b]!;
    const ours = lengthOf(edge.points) / 10_000;
    // Chords are shorter than their curve: by 0.02 mm of height at most, so by far less than 0.02 %.
    expect(Math.abs(ours / pyramidLength(points) - 1)).toBeLessThan(0.0002);
  });
});

function pyramidLength(points: readonly Xy[]): number {
  const mirrored = (at: Xy, other: Xy): Xy => [2 * at[0] - other[0], 2 * at[1] - other[1]];
  const all = [mirrored(points[0]!, points[1]!), ...points, mirrored(points.at(-1)!, points.at(-2)!)];
  const knots = [0];
  for (let i = 1; i < all.length; i++) {
    const [dx, dy] = [all[i]![0] - all[i - 1]![0], all[i]![1] - all[i - 1]![1]];
    knots.push(knots[i - 1]! + Math.hypot(dx, dy) ** 0.5);
  }
  const mix = (p: Xy, q: Xy, t0: number, t1: number, t: number): Xy => {
    const share = (t - t0) / (t1 - t0);
    return [p[0] + (q[0] - p[0]) * share, p[1] + (q[1] - p[1]) * share];
  };
  let sum = 0;
  for (let i = 1; i + 2 < all.length; i++) {
    const p = all.slice(i - 1, i + 3) as unknown as readonly [Xy, Xy, Xy, Xy];
    const k = knots.slice(i - 1, i + 3) as unknown as readonly [number, number, number, number];
    let last = p[1];
    for (let step = 1; step <= 4_000; step++) {
      const t = k[1] + ((k[2] - k[1]) * step) / 4_000;
      const [one, two, three] = [0, 1, 2].map((j) => mix(p[j]!, p[j + 1]!, k[j]!, k[j + 1]!, t)) as [Xy, Xy, Xy];
      const at = mix(mix(one, two, k[0], k[2], t), mix(two, three, k[1], k[3], t), k[1], k[2], t);
      sum += Math.hypot(at[0] - last[0], at[1] - last[1]);
      last = at;
    }
  }
  return sum;
}
