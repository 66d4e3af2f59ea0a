/** Small problems for the engine, by hand: shapes in millimetres or inches become whole micrometres. */
import { createHash } from 'node:crypto';
import { boundsOf, turnOutline } from '../../src/geometry/outline.js';
import type { Choice, Kind, Problem, Shape } from '../../src/problem/types.js';
import type { Outline, Point, Um } from '../../src/units/types.js';

export interface Thing {
  readonly outline: Outline;
  readonly count: number;
  readonly turns?: readonly (0 | 180)[];
}

/** Things on one zone of the given width, each turned as allowed (default: not at all). */
export function stripProblem(widthUm: Um, things: readonly Thing[], gapUm = 0, lengthMaxUm: Um | null = null): Problem {
  const shapes: Shape[] = [];
  const kinds = things.map(({ outline, count, turns }, k): Kind => {
    const choices = (turns ?? [0]).map((turn): Choice => {
      const turned = turnOutline(outline, turn);
      shapes.push({ outline: turned });
      const { minY, maxY } = boundsOf(turned);
      return { shape: shapes.length - 1, zone: 0, yMin: -minY, yMax: widthUm - maxY, lattice: null };
    });
    return { name: `thing ${k}`, count, choices: choices.filter(({ yMin, yMax }) => yMin <= yMax) };
  });
  return sealProblem({ zones: [{ yFrom: 0, yTo: widthUm }], shapes, kinds, blocked: [], gapUm, lengthMaxUm });
}

export function sealProblem(problem: Omit<Problem, 'hash'>): Problem {
  return { ...problem, hash: createHash('sha256').update(JSON.stringify(problem)).digest('hex') };
}

export function scaled(outline: Outline, umPerUnit: number): Outline {
  return outline.map(([x, y]): Point => [Math.round(x * umPerUnit), Math.round(y * umPerUnit)]);
}

/** Points on an arc about (0, 0) from one angle to another (parts of a full turn), chord error at most 0.02 mm. */
export function arcPoints(radiusUm: Um, from: number, to: number): Point[] {
  const n = Math.ceil((Math.abs(to - from) * 2 * Math.PI) / (2 * Math.acos(1 - 20 / radiusUm)));
  return Array.from({ length: n + 1 }, (_, i): Point => {
    const angle = 2 * Math.PI * (from + ((to - from) * i) / n);
    return [Math.round(radiusUm * Math.cos(angle)), Math.round(radiusUm * Math.sin(angle))];
  });
}

/** Half a bodice front: shoulder, hollow armhole and neck, bulging side seam; about `n` points. */
export function bodice(n: number, size: number): Outline {
  const quarter = Math.floor(n / 4);
  const curve = (from: Point, by: Point, to: Point): Point[] =>
    Array.from({ length: quarter }, (_, i): Point => {
      const t = i / quarter;
      const at = (axis: 0 | 1): number =>
        Math.round(size * ((1 - t) * (1 - t) * from[axis] + 2 * t * (1 - t) * by[axis] + t * t * to[axis]));
      return [at(0), at(1)];
    });
  // x along the grain, hem at the left; y from the centre line.
  const clockwise = [
    ...curve([0, 0], [10, 120], [0, 260]),
    ...curve([0, 260], [140, 225], [270, 255]),
    ...curve([270, 255], [300, 160], [440, 170]),
    ...curve([470, 70], [390, 70], [380, 0]),
  ];
  return clockwise.reverse();
}

/** A sleeve: bulging cap, hollow towards its ends; about `n` points. */
export function sleeve(n: number, size: number): Outline {
  const half = Array.from({ length: Math.floor(n / 2) }, (_, i): Point => {
    const t = i / Math.floor(n / 2);
    return [Math.round(size * (320 + 130 * (0.5 - 0.5 * Math.cos(Math.PI * t)))), Math.round(size * 190 * (1 - t))];
  });
  const lower = half.map(([x, y]): Point => [x, -y]);
  const foot = Math.round(size * 130);
  return [[0, -foot], ...lower, [Math.round(size * 450), 0], ...half.reverse(), [0, foot]];
}

/** A blouse of a dozen curved pieces of 150 to 250 points on open cloth of 140 cm. */
export function blouse(gapUm: Um): Problem {
  const front = bodice(220, 1000);
  const back = bodice(180, 1040);
  const mirrored = (outline: Outline): Outline => outline.map(([x, y]): Point => [x, y === 0 ? 0 : -y]).reverse();
  const collar = bodice(160, 420);
  return stripProblem(
    1_400_000,
    [
      { outline: front, count: 1, turns: [0, 180] },
      { outline: mirrored(front), count: 1, turns: [0, 180] },
      { outline: back, count: 1, turns: [0, 180] },
      { outline: mirrored(back), count: 1, turns: [0, 180] },
      { outline: sleeve(200, 1000), count: 2, turns: [0, 180] },
      { outline: collar, count: 2, turns: [0, 180] },
      { outline: mirrored(collar), count: 2, turns: [0, 180] },
      {
        outline: scaled(
          [
            [0, 0],
            [240, 0],
            [240, 60],
            [0, 60],
          ],
          1000,
        ),
        count: 2,
        turns: [0],
      },
    ],
    gapUm,
  );
}
