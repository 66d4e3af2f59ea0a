/** Small problems whose shortest length is worked by hand. */
import { describe, expect, it } from 'vitest';
import { boundOf, chordBound } from '../../src/bounds/bounds.js';
import { exactBound } from '../../src/bounds/prove.js';
import { turnOutline } from '../../src/geometry/outline.js';
import type { Blocked, Choice, Problem } from '../../src/problem/types.js';
import type { Outline } from '../../src/units/types.js';
import { arcPoints, sealProblem, stripProblem } from '../support/problems.js';

const plenty = 4_000_000;

const box = (dx: number, dy: number): Outline => [
  [0, 0],
  [dx, 0],
  [dx, dy],
  [0, dy],
];

/** The triangle with its base of 200 mm along the cloth, 300 mm high. */
const gore: Outline = [
  [0, 0],
  [200_000, 0],
  [100_000, 300_000],
];

/** Copies of boxes that lie at one y each. */
function fixedBoxes(
  widthUm: number,
  boxes: readonly { dx: number; dy: number; y: number }[],
  gapUm = 0,
  blocked: readonly Blocked[] = [],
): Problem {
  const shapes = boxes.map(({ dx, dy }) => ({ outline: box(dx, dy) }));
  const kinds = boxes.map(({ y }, shape) => ({
    name: `box ${shape}`,
    count: 1,
    choices: [{ shape, zone: 0, yMin: y, yMax: y, lattice: null }],
  }));
  const zones = [{ yFrom: 0, yTo: widthUm }];
  return sealProblem({ zones, shapes, kinds, blocked, gapUm, lengthMaxUm: null });
}

describe('a row of pieces', () => {
  it('of half-turned triangles as high as the cloth is wide interlocks by half a base', () => {
    // Up: its right side runs from (200, 0) to (100, 300). Half-turned, d further: its left side from (d + 100, 0) to
    // (d, 300). Parallel; they touch when d = 100. Back again the same: 200 + 4 x 100 mm. By area: 5 x 100 mm.
    const problem = stripProblem(300_000, [{ outline: gore, count: 5, turns: [0, 180] }]);
    expect(chordBound(problem).um).toBeLessThan(600_000);
    expect(boundOf(problem)).toEqual({
      um: 600_000,
      why: 'every order of thing 0 one behind another was tried, and none is shorter',
    });
  });

  it('of triangles that lie the same way has bases one behind another', () => {
    // Nine: one base each, 9 x 200 mm, where the area asks for half of it.
    const problem = stripProblem(300_000, [{ outline: gore, count: 9 }]);
    expect(exactBound(problem, 0, plenty)!.um).toBe(1_800_000);
  });

  it('makes use of the room across', () => {
    // 10 mm more width: the half-turned one lies 10 mm higher, 10 / 3 mm further left: 200 + 100 - 3.3333 mm.
    const problem = stripProblem(310_000, [{ outline: gore, count: 2, turns: [0, 180] }]);
    expect(exactBound(problem, 0, plenty)!.um).toBe(296_667);
  });

  it('of right triangles by turns is as long as the rectangles they make', () => {
    const triangle: Outline = [
      [0, 0],
      [200_000, 0],
      [0, 300_000],
    ];
    // Three rectangles of two triangles, and a seventh triangle by itself: 4 x 200 mm.
    const problem = stripProblem(300_000, [{ outline: triangle, count: 7, turns: [0, 180] }]);
    expect(exactBound(problem, 0, plenty)!.um).toBe(800_000);
  });

  it('of discs that just do not fit side by side staggers them', () => {
    // Centres 49.5 + 49.5 mm apart across at most: sqrt(100^2 - 99^2) = 14.107 mm apart along. The polygon within
    // 0.02 mm of the circle is a little shorter.
    const disc = arcPoints(50_000, 0, 1).slice(0, -1);
    const { um } = exactBound(stripProblem(199_000, [{ outline: disc, count: 2 }]), 0, plenty)!;
    expect(um).toBeGreaterThan(113_500);
    expect(um).toBeLessThanOrEqual(114_107);
  });
});

describe('all arrangements', () => {
  it('of four boxes round a fifth: a pinwheel, and not a micrometre less', () => {
    // Lower edge 600 + 300; behind it 700 across; above it 700 + 200 back; in the middle 400 x 400: 900 x 1000 in all.
    const around = [box(600, 300), box(300, 700), box(700, 300), box(200, 700)];
    const shortest = (middle: Outline): number => {
      const things = [...around, middle].map((outline) => ({ outline, count: 1 }));
      return exactBound(stripProblem(1000, things), 0, plenty)!.um;
    };
    expect(shortest(box(400, 400))).toBe(900);
    // Two micrometres more across: the area asks for 901 only, but it has no room in there.
    expect(shortest(box(400, 402))).toBeGreaterThan(901);
  });

  it('of three boxes wider than a third of the cloth leave one behind the others', () => {
    const problem = stripProblem(1000, [{ outline: box(300, 400), count: 3 }]);
    expect(exactBound(problem, 0, plenty)).toEqual({
      um: 600,
      why: 'with outlines that are a little smaller than they are, no arrangement of the 3 pieces is shorter',
    });
  });

  it('see that things with their places across fixed are in each other’s way', () => {
    const problem = fixedBoxes(1000, [
      { dx: 300, dy: 400, y: 300 },
      { dx: 500, dy: 300, y: 600 },
      { dx: 200, dy: 250, y: 0 },
    ]);
    // The first two share heights from 600 to 700: 800 in a row. The third lies below both.
    expect(chordBound(problem).um).toBe(500);
    expect(boundOf(problem).um).toBe(800);
  });

  it('choose the zone of each thing', () => {
    const zones = [
      { yFrom: 0, yTo: 500 },
      { yFrom: 500, yTo: 1000 },
    ];
    const choices = zones.map(
      ({ yFrom, yTo }, zone): Choice => ({ shape: 0, zone, yMin: yFrom, yMax: yTo - 400, lattice: null }),
    );
    const kinds = [{ name: 'Panel', count: 5, choices }];
    const problem = sealProblem({
      ...{ zones, shapes: [{ outline: box(300, 400) }], kinds, blocked: [], gapUm: 0, lengthMaxUm: null },
    });
    // Three in one zone, two in the other.
    expect(exactBound(problem, 0, plenty)!.um).toBe(900);
    const onlyFirst = { ...problem, kinds: [{ ...kinds[0]!, choices: choices.slice(0, 1) }] };
    expect(exactBound(onlyFirst, 0, plenty)!.um).toBe(1500);
  });

  it('count the gap in full side by side', () => {
    const inARow = fixedBoxes(
      1000,
      [
        { dx: 300, dy: 100, y: 0 },
        { dx: 200, dy: 100, y: 50 },
      ],
      20,
    );
    expect(exactBound(inARow, 0, plenty)!.um).toBe(520);
    const across = (widthUm: number): number =>
      exactBound(stripProblem(widthUm, [{ outline: box(300, 495), count: 2 }], 10), 0, plenty)!.um;
    expect(across(1000)).toBe(300);
    // One short of the gap across: beside each other by 9, so at least sqrt(100 - 81) = 4.4 along: at most 605.
    expect(across(999)).toBeGreaterThan(600);
    expect(across(999)).toBeLessThanOrEqual(605);
  });

  it('keep clear of blocked places', () => {
    const boxes = [
      { dx: 200, dy: 700, y: 0 },
      { dx: 150, dy: 700, y: 300 },
    ];
    const shape = 1;
    expect(exactBound(fixedBoxes(1000, boxes), 0, plenty)!.um).toBe(350);
    // Its box, 150 x 700, lies at (40, 100): neither has room before it.
    expect(exactBound(fixedBoxes(1000, boxes, 0, [{ shape, x: 40, y: 100 }]), 0, plenty)!.um).toBe(540);
  });

  it('look at notches as they are: two Ls make a rectangle', () => {
    const el: Outline = [
      [0, 0],
      [500, 0],
      [500, 200],
      [200, 200],
      [200, 600],
      [0, 600],
    ];
    // One and its half-turn, 200 further along: 700 of a cloth 600 wide, and the next two the same.
    const problem = stripProblem(600, [{ outline: el, count: 4, turns: [0, 180] }]);
    expect(exactBound(problem, 0, plenty)!.um).toBe(1400);
    expect(exactBound(stripProblem(600, [{ outline: turnOutline(el, 180), count: 2 }]), 0, plenty)!.um).toBe(1000);
  });
});

describe('a proof', () => {
  it('is not begun for one piece, nor for many, nor with too few steps', () => {
    const boxes = (count: number): Problem => stripProblem(1000, [{ outline: box(300, 400), count }]);
    expect(exactBound(boxes(1), 0, plenty)).toBeNull();
    expect(exactBound(boxes(11), 0, plenty)).toBeNull();
    expect(exactBound(boxes(3), 450, 5)).toBeNull();
  });

  it('says nothing when what is known already is the shortest', () => {
    expect(exactBound(stripProblem(1000, [{ outline: box(300, 400), count: 3 }]), 600, plenty)).toBeNull();
  });

  it('says the same in steps however often it is asked', () => {
    const problem = stripProblem(1000, [
      { outline: box(310, 400), count: 3 },
      { outline: box(270, 350), count: 4 },
    ]);
    const first = exactBound(problem, 0, 20_000);
    expect(first).not.toBeNull();
    expect(exactBound(problem, 0, 20_000)).toEqual(first);
  });
});
