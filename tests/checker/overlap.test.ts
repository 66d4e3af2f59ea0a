/** Overlap by hand: the cases in which looking at crossings and corners alone goes wrong. */
import { describe, expect, it } from 'vitest';
import { checkLay } from '../../src/checker/check-lay.js';
import { boxOf } from '../../src/checker/exact.js';
import { insidesOverlap } from '../../src/checker/overlap.js';
import { mirrorOutline, turnOutline } from '../../src/geometry/outline.js';
import type { Lay } from '../../src/lay/types.js';
import type { Outline, Point } from '../../src/units/types.js';
import { lawn, plainPiece } from '../support/cut-pieces.js';
import { damaged, moveCopy } from '../support/damage.js';
import { layOf } from '../support/lays.js';
import { wavyOutline } from '../support/polygons.js';

const block: Outline = [
  [0, 0],
  [10, 0],
  [10, 10],
  [0, 10],
];

function overlap(a: Outline, b: Outline): boolean {
  const answer = insidesOverlap({ outline: a, box: boxOf(a) }, { outline: b, box: boxOf(b) });
  expect(insidesOverlap({ outline: b, box: boxOf(b) }, { outline: a, box: boxOf(a) })).toBe(answer);
  return answer;
}

const cases: readonly (readonly [string, Outline, boolean])[] = [
  ['equal', block, true],
  ['equal, listed from another corner', [...block.slice(2), ...block.slice(0, 2)], true],
  ['side by side', block.map(([x, y]): Point => [x + 10, y]), false],
  ['corner to corner', block.map(([x, y]): Point => [x + 10, y + 10]), false],
  ['half a side along', block.map(([x, y]): Point => [x + 10, y + 5]), false],
  [
    'a diamond through all four corners',
    [
      [5, -5],
      [15, 5],
      [5, 15],
      [-5, 5],
    ],
    true,
  ],
  [
    'a diamond on the middles of the sides',
    [
      [5, 0],
      [10, 5],
      [5, 10],
      [0, 5],
    ],
    true,
  ],
  [
    'a cross of bars, no corner inside',
    [
      [3, -5],
      [7, -5],
      [7, 15],
      [3, 15],
    ],
    true,
  ],
  [
    'a bar from side to side, corners on the sides',
    [
      [3, 0],
      [7, 0],
      [7, 10],
      [3, 10],
    ],
    true,
  ],
  [
    'a wedge through one corner into the inside',
    [
      [10, 10],
      [2, 5],
      [5, 2],
    ],
    true,
  ],
  [
    'a wedge at the same corner, outside',
    [
      [10, 10],
      [18, 15],
      [15, 18],
    ],
    false,
  ],
  [
    'a frame with the block in its slot',
    [
      [-5, 0],
      [-5, -5],
      [15, -5],
      [15, 15],
      [10, 15],
      [10, 0],
      [0, 0],
      [0, 15],
      [-5, 15],
    ],
    false,
  ],
  [
    'the same corners, the diagonal cut off',
    [
      [0, 0],
      [10, 0],
      [10, 10],
    ],
    true,
  ],
  [
    'the other side of an edge of equal length',
    [
      [0, 0],
      [5, -9],
      [10, 0],
    ],
    false,
  ],
];

describe('overlap of a block with', () => {
  it.each(cases)('%s', (_what, other, expected) => {
    expect(overlap(block, other)).toBe(expected);
  });
});

describe('two that pass into each other at corners alone, every middle of an edge outside of the other', () => {
  // The square from (0, 0) to (1, 1) belongs to both. Each side of it is the end of a long edge of one of them, which
  // ends on the next side; corners of the other touch that edge before it comes there.
  const level: Outline = [
    [-5, 0],
    [1, 0],
    [6, 1],
    [0, 1],
  ];
  const upright: Outline = [
    [1, -5],
    [1, 1],
    [0, 6],
    [0, 0],
    [-1, -1],
    [-2, 0],
    [-3, -1],
    [-4, 0],
    [-4, -5],
  ];
  it.each([1, 3, 1_000_000])('%i times as large, turned, mirrored, listed from any corner', (scale) => {
    for (const turn of [0, 90, 180, 270] as const)
      for (const mirror of [false, true])
        for (let start = 0; start < upright.length; start++) {
          const laid = (outline: Outline) => {
            const seen = mirror ? mirrorOutline(outline) : outline;
            return turnOutline(seen, turn).map(([x, y]): Point => [x * scale, y * scale]);
          };
          const other = laid(upright);
          expect(overlap(laid(level), [...other.slice(start), ...other.slice(0, start)])).toBe(true);
        }
  });
});

it('of two edges in one line the one that is touched decides', () => {
  // Its left edge on x = 0 runs down from 5 to 0, its right edge on x = 0 up from 10 to 20.
  const steps: Outline = [
    [0, 0],
    [10, 0],
    [10, 10],
    [0, 10],
    [0, 20],
    [-10, 20],
    [-10, 5],
    [0, 5],
  ];
  const touching: readonly Outline[] = [
    [
      [-5, 1],
      [0, 1],
      [0, 4],
      [-5, 4],
    ],
    [
      [0, 12],
      [5, 12],
      [5, 18],
      [0, 18],
    ],
  ];
  for (const turn of [0, 90, 180, 270] as const)
    for (const mirror of [false, true])
      for (let start = 0; start < steps.length; start++) {
        const laid = (outline: Outline) =>
          turnOutline(mirror ? mirrorOutline(outline) : outline, turn).map(([x, y]): Point => [x + 30, y + 30]);
        const ring = laid(steps);
        const listed = [...ring.slice(start), ...ring.slice(0, start)];
        for (const block of touching) expect(overlap(listed, laid(block))).toBe(false);
      }
});

it('two equal ones of slanted edges alone, far from the origin', () => {
  for (const [dx, dy] of [
    [1_000, 0],
    [0, 1_000],
    [20_000_000, 30_000_000],
  ] as const) {
    const rhombus: Outline = [
      [dx + 5, dy],
      [dx + 9, dy + 7],
      [dx + 4, dy + 10],
      [dx, dy + 3],
    ];
    expect(overlap(rhombus, rhombus)).toBe(true);
    expect(overlap(rhombus, [...rhombus.slice(1), ...rhombus.slice(0, 1)])).toBe(true);
  }
});

describe('all outlines on a small grid', () => {
  const grid = Array.from({ length: 12 }, (_, i): Point => [i % 4, Math.floor(i / 4)]);
  const side = ([ax, ay]: Point, [bx, by]: Point, [cx, cy]: Point) => (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
  const triangles = grid.flatMap((a) =>
    grid.flatMap((b) =>
      grid.flatMap((c) => (side(a, b, c) > 0 && grid.indexOf(a) === lowestOf(a, b, c) ? [[a, b, c]] : [])),
    ),
  );
  /** Four corners made of two triangles that lie on either side of their common edge. */
  const quadrangles = triangles.flatMap((one) =>
    grid.flatMap((d): Outline[] => {
      const [a, b, c] = one as [Point, Point, Point];
      return side(a, c, d) > 0 && side(b, c, d) > 0 && side(d, a, b) > 0 ? [[a, b, c, d]] : [];
    }),
  );
  const arrows = triangles.flatMap((one) =>
    grid.flatMap((d): Outline[] => {
      const [a, b, c] = one as [Point, Point, Point];
      return side(a, b, d) > 0 && side(b, c, d) > 0 && side(c, a, d) > 0 ? [[a, b, c, d]] : [];
    }),
  );

  function lowestOf(...points: Point[]): number {
    return Math.min(...points.map((point) => grid.indexOf(point)));
  }

  /** Two triangles do not overlap exactly when a side of one has all of the other beyond it. */
  function trianglesOverlap(one: Outline, other: Outline): boolean {
    const parts = (a: Outline, b: Outline) =>
      a.some((from, i) => b.every((point) => side(from, a[(i + 1) % 3]!, point) <= 0));
    return !parts(one, other) && !parts(other, one);
  }

  /** Of a ring a, b, c, d whose corner d is seen from b. */
  function partsOf(ring: Outline): Outline[] {
    const [a, b, c, d] = ring as [Point, Point, Point, Point | undefined];
    return d === undefined
      ? [ring]
      : [
          [a, b, d],
          [b, c, d],
        ];
  }

  it.each([
    ['triangles', triangles],
    ['four corners', quadrangles.filter((_, i) => i % 5 === 0)],
    ['arrow heads', arrows],
  ] as const)('%s against every triangle', (_what, rings) => {
    const wrong: unknown[] = [];
    for (const ring of rings)
      for (const triangle of triangles) {
        const expected = partsOf(ring).some((part) => trianglesOverlap(part, triangle));
        const found = insidesOverlap({ outline: ring, box: boxOf(ring) }, { outline: triangle, box: boxOf(triangle) });
        const back = insidesOverlap({ outline: triangle, box: boxOf(triangle) }, { outline: ring, box: boxOf(ring) });
        if (found !== expected || back !== expected) wrong.push([ring, triangle]);
      }
    expect(rings.length).toBeGreaterThan(40);
    expect(wrong).toEqual([]);
  });
});

describe('a crowded lay', () => {
  const star = plainPiece('Star', wavyOutline(60, 30_000, 6, 0.3), { asDrawn: 0, mirrored: 0 });
  const lay: Lay = layOf({ title: 'Stars', cloth: lawn, puts: Array.from({ length: 1_000 }, () => ({ piece: star })) });

  it('of 1 000 copies of 60 points is accepted', () => {
    expect(checkLay(lay)).toEqual({ accepted: true, refusals: [] });
  });

  it('is refused for the one copy that is moved', () => {
    const moved = damaged(lay, (loose) => moveCopy(loose, 500, 0, -20_000));
    expect(new Set(checkLay(moved).refusals.map(({ code }) => code))).toEqual(new Set(['copies-overlap']));
  });

  it('piled up, is refused without listing every pair', () => {
    const piled = damaged(lay, (loose) => {
      for (const copy of loose.copies)
        Object.assign(copy, structuredClone({ at: lay.copies[0]!.at, outline: lay.copies[0]!.outline }));
    });
    const refusals = checkLay(piled).refusals.filter(({ code }) => code === 'copies-overlap');
    expect(refusals).toHaveLength(100);
    expect(refusals[0]!.sentence).toBe('copy 1 (Star) lies on top of copy 2 (Star)');
  });
});
