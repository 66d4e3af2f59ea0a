/**
 * Tiny problems on a grid of 1 cm, with folds, nap, repeats and flaws, against an exhaustive search written here: on such a
 * grid some shortest lay has all its corners on it, so nothing shorter than what the search finds may come out, and what
 * is called proven is.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isCrosswise } from '../../src/cloth/folding.js';
import { type Cloth, layMethods, type Repeat } from '../../src/cloth/types.js';
import { sameThreadExecutor } from '../../src/engine/same-thread.js';
import type { CutPiece } from '../../src/pieces/types.js';
import { waysOf } from '../../src/planning/ways.js';
import type { Problem } from '../../src/problem/types.js';
import type { Outline, Point } from '../../src/units/types.js';
import { declaredOf } from '../support/built-lays.js';
import { lawn, plainPiece } from '../support/cut-pieces.js';
import { search } from '../support/search.js';

const cell = 10_000;
const runs = Number(process.env.TEST_RUNS ?? 14);

function cells(points: readonly (readonly [number, number])[]): Outline {
  return points.map(([x, y]): Point => [x * cell, y * cell]);
}

const piece = fc
  .record({
    wide: fc.integer({ min: 1, max: 3 }),
    long: fc.integer({ min: 1, max: 3 }),
    isL: fc.boolean(),
    onFold: fc.constantFrom(null, null, 'along' as const, 'across' as const),
    count: fc.integer({ min: 1, max: 2 }),
    isMatched: fc.boolean(),
  })
  .map(({ wide, long, isL, onFold, count, isMatched }): Omit<CutPiece, 'id'> => {
    if (onFold !== null) {
      const [x, y] = onFold === 'along' ? [long, wide] : [long, wide];
      const outline =
        onFold === 'along'
          ? cells([
              [0, -y],
              [x, -y],
              [x, y],
              [0, y],
            ])
          : cells([
              [-x, 0],
              [x, 0],
              [x, y],
              [-x, y],
            ]);
      const end: Point = onFold === 'along' ? [x * cell, 0] : [0, y * cell];
      const base = plainPiece('', outline, { asDrawn: 1, mirrored: 0 }, true);
      return { ...base, lines: [{ kind: 'fold', points: [[0, 0], end] }] };
    }
    const shape: readonly (readonly [number, number])[] = isL
      ? [
          [0, 0],
          [long + 1, 0],
          [long + 1, 1],
          [1, 1],
          [1, wide + 1],
          [0, wide + 1],
        ]
      : [
          [0, 0],
          [long, 0],
          [long, wide],
          [0, wide],
        ];
    const base = plainPiece('', cells(shape), isL ? { asDrawn: 1, mirrored: 1 } : { asDrawn: count, mirrored: 0 });
    return { ...base, match: isMatched ? [{ at: [0, 0], group: 'hem', way: 'along' }] : [] };
  });

const repeat = fc.record({
  along: fc.constantFrom(2 * cell, 4 * cell),
  across: fc.constant(null),
  start: fc.constantFrom(null, [0, 0] as const),
  mirror: fc.constantFrom('none' as const, 'along' as const),
  drop: fc.constant(false),
});

const cloth = fc
  .record({
    width: fc.constantFrom(6, 8),
    nap: fc.constantFrom('one-way' as const, 'none' as const),
    repeat: fc.oneof(fc.constant<Repeat | null>(null), repeat),
    flaw: fc.option(fc.tuple(fc.nat(4), fc.nat(6))),
  })
  .map(({ width, nap, repeat: design, flaw }): Cloth => {
    const [x, y] = flaw ?? [0, 0];
    const flaws =
      flaw === null
        ? []
        : [
            cells([
              [x, y],
              [x + 1, y],
              [x + 1, y + 1],
              [x, y + 1],
            ]),
          ];
    const usable = [0, width * cell] as const;
    return { ...lawn, width: width * cell, usable, gap: 0, ends: [0, 0], nap, repeat: design, flaws };
  });

/** Cells of a shape, from its reference. */
function rastered(outline: Outline): (readonly [number, number])[] {
  const xs = outline.map(([x]) => x / cell);
  const ys = outline.map(([, y]) => y / cell);
  const found: (readonly [number, number])[] = [];
  for (let x = Math.min(...xs); x < Math.max(...xs); x++) {
    for (let y = Math.min(...ys); y < Math.max(...ys); y++) {
      if (contains(outline, x + 0.5, y + 0.5)) found.push([x, y]);
    }
  }
  return found;
}

function contains(outline: Outline, x: number, y: number): boolean {
  let inside = false;
  outline.forEach(([ax, ay], i) => {
    const [bx, by] = outline[(i + 1) % outline.length]!;
    if (ay / cell > y !== by / cell > y && x < ax / cell + ((y - ay / cell) / (by - ay)) * (bx - ax)) inside = !inside;
  });
  return inside;
}

/** Whether all things have a place within so many cells of length: every place of every choice is tried. */
function fits(problem: Problem, length: number, steps: { left: number }): boolean | null {
  const taken = new Set<number>();
  const key = (x: number, y: number) => (x + 50) * 1_000 + y + 200;
  for (const { shape, x, y } of problem.blocked) {
    for (const [cx, cy] of rastered(problem.shapes[shape]!.outline)) taken.add(key(cx + x / cell, cy + y / cell));
  }
  const spots = problem.kinds.map((kind) =>
    kind.choices.flatMap(({ shape, yMin, yMax, lattice }) => {
      const covered = rastered(problem.shapes[shape]!.outline);
      const [left, right] = [Math.min(...covered.map(([x]) => x)), Math.max(...covered.map(([x]) => x)) + 1];
      const places: number[][] = [];
      for (let x = 0 - left; x + right <= length; x++) {
        const { xStep, xOffset } = lattice ?? { xStep: 0, xOffset: 0 };
        if (xStep > 0 && (x * cell - xOffset) % xStep !== 0) continue;
        for (let y = Math.ceil(yMin / cell); y * cell <= yMax; y++) {
          places.push(covered.map(([cx, cy]) => key(cx + x, cy + y)));
        }
      }
      return places;
    }),
  );
  const things = problem.kinds.flatMap(({ count }, k) => Array.from({ length: count }, () => k));
  const place = (i: number, from: number): boolean => {
    if (i === things.length) return true;
    if (--steps.left < 0) throw new Error('too many');
    const k = things[i]!;
    for (let s = things[i - 1] === k ? from : 0; s < spots[k]!.length; s++) {
      const own = spots[k]![s]!;
      if (own.some((one) => taken.has(one))) continue;
      for (const one of own) taken.add(one);
      if (place(i + 1, s + 1)) return true;
      for (const one of own) taken.delete(one);
    }
    return false;
  };
  try {
    return place(0, 0);
  } catch {
    return null;
  }
}

describe.each(layMethods)('%s', (method) => {
  it('gives nothing longer than an exhaustive search does', async () => {
    let looked = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(piece, { minLength: 1, maxLength: 3 }), cloth, async (drawn, sheet) => {
        const pieces = drawn.map((each, i) => ({ ...each, id: `P${i}` }));
        const answer = waysOf(method, declaredOf(sheet), { pieces, garments: 1 });
        if (!answer.legal) return;
        for (const way of answer.ways.slice(0, 1)) {
          const { problem } = way.stretches[0]!;
          if (way.tooWide.length > 0 || problem.kinds.reduce((sum, { count }) => sum + count, 0) > 5) continue;
          const lengthAfter = async (effort: number) => {
            const plain = { seconds: null, clock: () => 0, onProgress: () => undefined, interrupted: () => false };
            const found = await search(problem, { seed: 1, effort, executor: sameThreadExecutor(), ...plain });
            return found.solution!.lengthUm / cell;
          };
          let lengthCells = await lengthAfter(0.25);
          const isBeaten = () => fits(problem, Math.ceil(lengthCells) - 1, { left: 3_000_000 });
          // A jigsaw without any play may take it longer.
          if (isBeaten()) lengthCells = await lengthAfter(4);
          const shorter = isBeaten();
          if (shorter === null) continue;
          looked += 1;
          expect(shorter, JSON.stringify({ lengthCells, pieces, sheet })).toBe(false);
        }
      }),
      // Doubled across little of what is drawn may be laid.
      { numRuns: isCrosswise(method) ? 6 * runs : runs },
    );
    expect(looked).toBeGreaterThan(runs / 10);
  });
});
