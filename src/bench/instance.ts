/**
 * Strip-packing instances of the literature: JSON -> problem, and a solution -> placements in the instance's own units,
 * verified by the checker's arithmetic, which shares nothing with the search.
 */
import { boxOf, doubleArea } from '../checker/exact.js';
import { insidesOverlap } from '../checker/overlap.js';
import { boundsOf, turnOutline } from '../geometry/outline.js';
import { hashNumbers } from '../problem/build.js';
import type { Choice, Kind, Problem, Shape, Solution } from '../problem/types.js';
import type { Outline, Point } from '../units/types.js';
import { timesWord } from './settings.js';
import type { Judged, Subject } from './types.js';

export interface Instance {
  readonly name: string;
  readonly stripWidth: number;
  readonly allowedRotationsDegrees: readonly (0 | 90 | 180 | 270)[];
  readonly pieces: readonly {
    readonly id: string;
    readonly quantity: number;
    readonly outline: readonly (readonly [number, number])[];
  }[];
}

/** An instance posed in whole micrometres: its strip is about 1 m wide. */
export interface PosedInstance {
  readonly problem: Problem;
  /** Micrometres in one unit of the instance. */
  readonly scale: number;
  readonly widthUm: number;
  readonly turns: readonly (readonly (0 | 90 | 180 | 270)[])[];
}

const stripUm = 1_000_000;

/** The instance with every quantity so many times as large. */
export function multiplyInstance(instance: Instance, times: number): Instance {
  return { ...instance, pieces: instance.pieces.map((piece) => ({ ...piece, quantity: piece.quantity * times })) };
}

/** Poses the instance; decimals of its coordinates are kept to a micrometre of the scaled strip. */
export function poseInstance(instance: Instance): PosedInstance {
  const scale = Math.max(1, Math.round(stripUm / instance.stripWidth));
  const widthUm = Math.round(instance.stripWidth * scale);
  const shapes: Shape[] = [];
  const turns: (0 | 90 | 180 | 270)[][] = [];
  const kinds = instance.pieces.map((piece): Kind => {
    const drawn = piece.outline.map(([x, y]): Point => [Math.round(x * scale) + 0, Math.round(y * scale) + 0]);
    const allowed: (0 | 90 | 180 | 270)[] = [];
    const choices = instance.allowedRotationsDegrees.flatMap((turn): Choice[] => {
      const outline = turnOutline(drawn, turn);
      const { minY, maxY } = boundsOf(outline);
      if (maxY - minY > widthUm) return [];
      shapes.push({ outline });
      allowed.push(turn);
      return [{ shape: shapes.length - 1, zone: 0, yMin: 0 - minY, yMax: widthUm - maxY, lattice: null }];
    });
    turns.push(allowed);
    return { name: piece.id, count: piece.quantity, choices };
  });
  const unhashed = { zones: [{ yFrom: 0, yTo: widthUm }], shapes, kinds, blocked: [], gapUm: 0, lengthMaxUm: null };
  return { problem: { ...unhashed, hash: hashNumbers(unhashed) }, scale, widthUm, turns };
}

/** The instance as something to measure, every quantity so many times as large. */
export function instanceSubject(instance: Instance, times: number): Subject {
  const multiplied = multiplyInstance(instance, times);
  const posed = poseInstance(multiplied);
  return {
    name: instance.name + timesWord(times),
    sort: 'instance',
    problem: posed.problem,
    unitUm: posed.scale,
    copies: multiplied.pieces.reduce((sum, { quantity }) => sum + quantity, 0),
    judge: (solution) => judgeSolution(multiplied, posed, solution),
  };
}

/** What the solution is worth, measured anew from the instance's pieces and the placements alone. */
export function judgeSolution(instance: Instance, posed: PosedInstance, solution: Solution): Judged {
  const { problem, scale, widthUm, turns } = posed;
  const placed = solution.spots.map(({ kind, choice, x, y }) => {
    const { shape } = problem.kinds[kind]!.choices[choice]!;
    const outline: Outline = problem.shapes[shape]!.outline.map(([px, py]): Point => [px + x, py + y]);
    const rotationDegrees = turns[kind]![choice]!;
    const at = { piece: instance.pieces[kind]!.id, mirrored: false, rotationDegrees, x: x / scale, y: y / scale };
    return { at, outline, box: boxOf(outline) };
  });
  const reach = placed.reduce((most, { box }) => Math.max(most, box.right), 0);
  const inside = placed.every(({ box }) => box.left >= 0 && box.low >= 0 && box.high <= widthUm);
  const complete = instance.pieces.every(
    ({ quantity }, kind) => solution.spots.filter((spot) => spot.kind === kind).length === quantity,
  );
  const apart = placed.every((a, i) => placed.slice(i + 1).every((b) => !insidesOverlap(a, b)));
  const area = placed.reduce((sum, { outline }) => sum + Number(doubleArea(outline)) / 2, 0);
  return {
    length: reach / scale,
    utilisationPercent: (100 * area) / (widthUm * reach),
    verified: inside && complete && apart,
    placements: placed.map(({ at }) => at),
  };
}
