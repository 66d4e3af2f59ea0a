/** Bounds worked by hand. */
import { describe, expect, it } from 'vitest';
import { chordBound } from '../../src/bounds/bounds.js';
import { profileOf } from '../../src/bounds/chords.js';
import { turnOutline } from '../../src/geometry/outline.js';
import type { Choice, Problem } from '../../src/problem/types.js';
import type { Outline } from '../../src/units/types.js';
import { arcPoints, blouse, scaled, sealProblem, stripProblem, type Thing } from '../support/problems.js';

const box = (dx: number, dy: number): Outline => [
  [0, 0],
  [dx, 0],
  [dx, dy],
  [0, dy],
];

function named(problem: Problem, names: readonly string[]): Problem {
  return { ...problem, kinds: problem.kinds.map((kind, k) => ({ ...kind, name: names[k] ?? kind.name })) };
}

/** Boxes that may lie in any of the zones in which they have room. */
function zonedBoxes(heights: readonly number[], boxes: readonly (readonly [number, number, number])[]): Problem {
  const zones = heights.map((height, zone) => {
    const yFrom = heights.slice(0, zone).reduce((sum, one) => sum + one, 0);
    return { yFrom, yTo: yFrom + height };
  });
  const kinds = boxes.map(([, dy, count], shape) => ({
    name: `box ${shape}`,
    count,
    choices: zones.flatMap(({ yFrom, yTo }, zone): Choice[] =>
      yTo - yFrom < dy ? [] : [{ shape, zone, yMin: yFrom, yMax: yTo - dy, lattice: null }],
    ),
  }));
  const shapes = boxes.map(([dx, dy]) => ({ outline: box(dx, dy) }));
  return sealProblem({ zones, shapes, kinds, blocked: [], gapUm: 0, lengthMaxUm: null });
}

describe('chords', () => {
  it('covers what an outline covers, in every turn and from every first point', () => {
    // An L: 10 high for 4, then 3 high for 5.
    const outline: Outline = [
      [0, 0],
      [9, 0],
      [9, 3],
      [4, 3],
      [4, 10],
      [0, 10],
    ];
    const spans = [
      { width: 5, low: 3, high: 3 },
      { width: 4, low: 10, high: 10 },
    ];
    for (let first = 0; first < outline.length; first++) {
      const turned = [...outline.slice(first), ...outline.slice(0, first)];
      expect(profileOf(turned)).toEqual({ spans, length: 9 });
      expect(profileOf(turnOutline(turned, 180))).toEqual({ spans, length: 9 });
    }
  });

  it('adds up the parts of a chord that is cut in two', () => {
    // A U lying on its side: two arms of 2 and 3 across, joined at the left.
    const outline: Outline = [
      [0, 0],
      [8, 0],
      [8, 2],
      [1, 2],
      [1, 6],
      [8, 6],
      [8, 9],
      [0, 9],
    ];
    expect(profileOf(outline).spans).toEqual([
      { width: 7, low: 5, high: 5 },
      { width: 1, low: 9, high: 9 },
    ]);
  });

  it('rounds slanting borders towards a shorter chord', () => {
    // At x = 1 the upper border stands at 10/3 and the lower at 1/3: 3 in truth, 3 - 1 rounded.
    const outline: Outline = [
      [0, 0],
      [3, 1],
      [3, 4],
      [1, 4],
      [1, 10],
      [0, 10],
    ];
    expect(profileOf(outline).spans).toEqual([
      { width: 2, low: 3, high: 3 },
      { width: 1, low: 9, high: 10 },
    ]);
  });
});

describe('bound', () => {
  it('is the longest piece when all fits beside it', () => {
    const problem = named(
      stripProblem(1000, [
        { outline: box(300, 200), count: 2 },
        { outline: box(700, 400), count: 1 },
      ]),
      ['Pocket', 'Front'],
    );
    expect(chordBound(problem)).toEqual({ um: 700, why: 'the longest piece, Front, is as long as this' });
  });

  it('takes the shorter way a piece may lie for the longest piece', () => {
    const shapes = [{ outline: box(700, 400) }, { outline: box(400, 700) }];
    const choices = shapes.map(
      (_, shape): Choice => ({ shape, zone: 0, yMin: 0, yMax: shape === 0 ? 600 : 300, lattice: null }),
    );
    const kinds = [{ name: 'Lining', count: 1, choices }];
    const zones = [{ yFrom: 0, yTo: 1000 }];
    const bound = chordBound(sealProblem({ zones, shapes, kinds, blocked: [], gapUm: 0, lengthMaxUm: null }));
    expect(bound.um).toBe(400);
  });

  it('is the area when small boxes fill the width', () => {
    const problem = stripProblem(1000, [{ outline: box(100, 250), count: 8 }]);
    expect(chordBound(problem)).toEqual({
      um: 200,
      why: "the pieces' area alone fills this length of the usable width",
    });
  });

  it('rounds the area up to the next whole micrometre, as lengths are whole', () => {
    // 3 boxes of 7 x 3 on a width of 10: 63 / 10.
    expect(chordBound(stripProblem(10, [{ outline: box(7, 3), count: 3 }])).um).toBe(7);
    expect(chordBound(stripProblem(10, [{ outline: box(2, 3), count: 11 }])).um).toBe(8);
  });

  it('adds up the lengths of pieces wider than half the width, exactly', () => {
    const problem = named(
      stripProblem(1_000_001, [
        { outline: box(333_333, 500_001), count: 1 },
        { outline: box(700_001, 600_000), count: 2 },
        { outline: box(100_003, 900_000), count: 1 },
        { outline: box(50_000, 50_000), count: 3 },
      ]),
      ['Front', 'Back', 'Bib', 'Tab'],
    );
    expect(chordBound(problem)).toEqual({
      um: 333_333 + 2 * 700_001 + 100_003,
      why: 'no two of Front, Back and Bib fit side by side',
    });
  });

  it('lets two pieces of just half the width lie side by side', () => {
    expect(chordBound(stripProblem(1000, [{ outline: box(300, 500), count: 4 }])).um).toBe(600);
    expect(chordBound(stripProblem(999, [{ outline: box(300, 500), count: 4 }])).um).toBe(1200);
  });

  it('counts how many fit across', () => {
    // 251 on 1000: three across, so 7 make seven thirds of a row; the area is only 7 * 251 / 1000 rows.
    const problem = named(stripProblem(1000, [{ outline: box(300, 251), count: 7 }]), ['Panel']);
    expect(chordBound(problem)).toEqual({ um: 700, why: 'at most 3 of Panel fit side by side' });
  });

  it('leaves the small out beside the wide, and names at most three', () => {
    // 800, and 700 + 300 filling the width: five rows of each kind, 100 long. Small strips of 90 make it no longer.
    const problem = stripProblem(1000, [
      { outline: box(100, 800), count: 5 },
      { outline: box(100, 700), count: 5 },
      { outline: box(100, 300), count: 5 },
      { outline: box(100, 90), count: 5 },
    ]);
    const bound = chordBound(problem);
    expect(bound.um).toBe(1000);
    const five = stripProblem(
      1000,
      [510, 520, 530, 540, 550].map((dy): Thing => ({ outline: box(100, dy), count: 1 })),
    );
    expect(chordBound(named(five, ['A', 'B', 'C', 'D', 'E']))).toEqual({
      um: 500,
      why: 'no two of A, B, C and 2 more fit side by side',
    });
  });

  it('is nothing without things to lay', () => {
    expect(chordBound(stripProblem(1000, [])).um).toBe(0);
  });

  it('circle in its square: the longest piece, so at best pi / 4 is used', () => {
    // Source: derived, area pi R^2 in a square of side 2 R.
    const circle = arcPoints(100_000, 0, 1).slice(0, -1);
    expect(chordBound(stripProblem(200_000, [{ outline: circle, count: 1 }])).um).toBe(200_000);
    // Two circles of the same width as the cloth, worked by hand: chord above half the width where |x| < R sqrt(3)/2,
    // so the step gives 2 sqrt(3) R, more than the area's pi R; the truth is 4 R. The polygon lies up to 0.02 mm inside.
    const two = chordBound(stripProblem(200_000, [{ outline: circle, count: 2 }]));
    expect(two.um).toBeGreaterThanOrEqual(2 * Math.sqrt(3) * 100_000 - 100);
    expect(two.um).toBeLessThanOrEqual(400_000);
  });

  it('two half circles on a cloth as wide as their radius', () => {
    // Published: 4 R the same way ('Sew a poodle skirt', craft page, August 2011); derived: (2 + sqrt 3) R with one
    // turned. Chords depend on no turn, so the bound must stay at or below the second. By hand: the chord
    // sqrt(R^2 - x^2) is above R / 2 for |x| < R sqrt(3) / 2, twice: 2 sqrt(3) R = 3.4641 R; the area gives pi R.
    const radius = 914_400;
    const half = arcPoints(radius, 0, 0.5);
    for (const turns of [[0], [0, 180]] as const) {
      const { um, why } = chordBound(stripProblem(radius, [{ outline: half, count: 2, turns }]));
      expect(um).toBeGreaterThan(2 * Math.sqrt(3) * radius - 100);
      expect(um).toBeLessThan((2 + Math.sqrt(3)) * radius);
      expect(why).toContain('thing 0');
    }
  });

  it('gores in one row on a cloth just wide enough for them are as long as one gore', () => {
    // Source: derived, n b for the same way, n / 2 (a + b) + (b - a) / 2 for turning; top a = 10, bottom b = 20.
    const gore: Outline = scaled(
      [
        [0, 0],
        [70, 5],
        [70, 15],
        [0, 20],
      ],
      10_000,
    );
    const same = chordBound(stripProblem(800_000, [{ outline: gore, count: 4 }]));
    expect(same.um).toBe(700_000);
    expect(chordBound(stripProblem(650_000, [{ outline: gore, count: 4, turns: [0, 180] }])).um).toBe(700_000);
    // Eight on 60: at most 2 across where a gore is above 20 on its 60: never. At most 3 where above 15: half of its
    // length, 8 / 3 * 35 = 93.3; the area is 8 * 15 * 70 / 60 = 140.
    expect(chordBound(stripProblem(600_000, [{ outline: gore, count: 8 }])).um).toBeGreaterThanOrEqual(1_400_000);
    // Two on 25: side by side only where both are at most 12.5, that is the last quarter: 2 * 52.5 = 105, and where
    // both are wider than 12.5 nothing helps. Area: 2 * 15 * 70 / 25 = 84.
    const { um, why } = chordBound(named(stripProblem(250_000, [{ outline: gore, count: 2 }]), ['Gore']));
    expect(um).toBeGreaterThan(1_050_000 - 20);
    expect(why).toContain('Gore');
  });
});

describe('bound with a gap', () => {
  it('is tight for shelves with gaps across', () => {
    // Four of 100 with gaps of 10 need 430.
    const row: Thing = { outline: box(200, 100), count: 4 };
    expect(chordBound(stripProblem(430, [row], 10)).um).toBe(200);
    expect(chordBound(stripProblem(429, [row], 10)).um).toBe(267); // at most three across: 4 / 3 of 200, rounded up
    expect(chordBound(stripProblem(429, [{ ...row, count: 6 }], 10)).um).toBe(400);
  });

  it('knows that two pieces a little under half the width do not fit side by side', () => {
    const two: Thing = { outline: box(300, 496), count: 2 };
    expect(chordBound(stripProblem(1002, [two], 10)).um).toBe(300);
    const bound = chordBound(named(stripProblem(1001, [two], 10), ['Strap']));
    expect(bound).toEqual({ um: 600, why: 'no two of Strap fit side by side' });
  });

  it('asks for no gap at the edges of the zone, as on the fold', () => {
    expect(chordBound(stripProblem(100, [{ outline: box(70, 100), count: 1 }], 10)).um).toBe(70);
  });

  it('says that the gap is counted with the area', () => {
    // 99 of 10 x 10 with a gap of 1 on 109: (10 + 1) / (109 + 1), ten across.
    const { um, why } = chordBound(stripProblem(109, [{ outline: box(10, 10), count: 99 }], 1));
    expect(um).toBe(99);
    expect(why).toContain('gap');
  });
});

describe('bound with several zones', () => {
  it('shares the area out over the summed heights', () => {
    expect(chordBound(zonedBoxes([300, 700], [[100, 100, 20]])).um).toBe(200);
  });

  it('counts what has room in one zone only with that zone', () => {
    // Three of 500 fit the second zone only, one at a time.
    const problem = zonedBoxes(
      [300, 700],
      [
        [100, 500, 3],
        [50, 100, 1],
      ],
    );
    expect(chordBound(problem).um).toBe(300);
  });

  it('lets two alike zones halve pieces wider than half of one', () => {
    expect(chordBound(zonedBoxes([1000, 1000], [[100, 501, 6]])).um).toBe(300);
  });
});

describe('bound of a garment', () => {
  it('stays between the longest piece and three times the area for a blouse, at any gap', () => {
    let before = 0;
    for (const gap of [0, 2000, 5000]) {
      const { um } = chordBound(blouse(gap));
      expect(um).toBeGreaterThanOrEqual(before);
      before = um;
    }
    expect(before).toBeGreaterThanOrEqual(470_000);
    expect(before).toBeLessThan(1_000_000);
  });
});
