/** Random problems for the engine, and what is legal in them. */
import fc from 'fast-check';
import { boundsOf, mirrorOutline, turnOutline } from '../../src/geometry/outline.js';
import { outlinesApart } from '../../src/geometry/overlap.js';
import type { Blocked, Choice, Kind, Lattice, Problem, Shape, Solution } from '../../src/problem/types.js';
import type { Outline } from '../../src/units/types.js';
import { gridOutlines } from './polygons.js';
import { sealProblem } from './problems.js';

const zones = [
  { yFrom: 0, yTo: 300_000 },
  { yFrom: 310_000, yTo: 700_000 },
];
const lattice: fc.Arbitrary<Lattice | null> = fc.oneof(
  fc.constant(null),
  fc.record({
    xStep: fc.constantFrom(0, 40_000, 75_001),
    xOffset: fc.integer({ min: 0, max: 50_000 }),
    yStep: fc.constantFrom(0, 30_000),
    yOffset: fc.integer({ min: 0, max: 29_999 }),
  }),
);

const waysToLie = [[0], [0, 180], ['mirrored', 0], [0, 180, 'mirrored']] as const;

/** Small problems with zones, fixed y, lattices, blocked areas, gaps, half turns and mirror images. */
export const problems = problemsOf(2, { min: 1, max: 3 });

/** The same with many things. */
export const crowds = problemsOf(4, { min: 24, max: 32 });

function problemsOf(fewestKinds: number, count: { min: number; max: number }): fc.Arbitrary<Problem> {
  return fc
    .record({
      outlines: fc.array(gridOutlines(5, 14_000), { minLength: fewestKinds, maxLength: 4 }),
      counts: fc.array(fc.integer(count), { minLength: 4, maxLength: 4 }),
      inZones: fc.array(fc.constantFrom([0], [1], [0, 1]), { minLength: 4, maxLength: 4 }),
      fixed: fc.array(fc.boolean(), { minLength: 4, maxLength: 4 }),
      lattices: fc.array(lattice, { minLength: 4, maxLength: 4 }),
      ways: fc.array(fc.constantFrom(...waysToLie), { minLength: 4, maxLength: 4 }),
      blocked: fc.array(fc.record({ x: fc.nat(600_000), y: fc.nat(600_000) }), { maxLength: 2 }),
      gapUm: fc.constantFrom(0, 0, 3000, 5001),
    })
    .map(({ outlines, counts, inZones, fixed, lattices, ways, blocked, gapUm }) => {
      const shapes: Shape[] = [];
      const kinds = outlines.map((outline, k): Kind => {
        const choices: Choice[] = [];
        for (const way of ways[k]!) {
          shapes.push({ outline: way === 'mirrored' ? mirrorOutline(outline) : turnOutline(outline, way) });
          const { minY, maxY } = boundsOf(shapes[shapes.length - 1]!.outline);
          for (const zone of inZones[k]!) {
            const yMin = zones[zone]!.yFrom - minY;
            const yMax = fixed[k] ? yMin : zones[zone]!.yTo - maxY;
            const asked = fixed[k] && lattices[k] !== null ? { ...lattices[k]!, yStep: 0, yOffset: 0 } : lattices[k]!;
            choices.push({ shape: shapes.length - 1, zone, yMin, yMax, lattice: asked });
          }
        }
        return { name: `thing ${k}`, count: counts[k]!, choices };
      });
      const square: Outline = [
        [0, 0],
        [30_000, 0],
        [30_000, 30_000],
        [0, 30_000],
      ];
      shapes.push({ outline: square });
      const lying = blocked.map(({ x, y }): Blocked => ({ shape: shapes.length - 1, x, y }));
      return sealProblem({ zones, shapes, kinds, blocked: lying, gapUm, lengthMaxUm: null });
    });
}

/** Our own account of what is legal, word for word from the problem's contract. */
export function faultOf(problem: Problem, { spots, lengthUm }: Solution): string | null {
  const things = spots.map(({ kind, choice, x, y }) => {
    const chosen = problem.kinds[kind]!.choices[choice]!;
    return { chosen, outline: problem.shapes[chosen.shape]!.outline, x, y };
  });
  let reach = 0;
  for (const { chosen, outline, x, y } of things) {
    const box = boundsOf(outline);
    const zone = problem.zones[chosen.zone]!;
    if (y < chosen.yMin || y > chosen.yMax || y + box.minY < zone.yFrom || y + box.maxY > zone.yTo) return 'zone';
    if (x + box.minX < 0) return 'start';
    const { xStep, xOffset, yStep, yOffset } = chosen.lattice ?? { xStep: 0, xOffset: 0, yStep: 0, yOffset: 0 };
    if (xStep > 0 && (x - xOffset) % xStep !== 0) return 'lattice along';
    if (yStep > 0 && (y - yOffset) % yStep !== 0) return 'lattice across';
    reach = Math.max(reach, x + box.maxX);
  }
  if (reach !== lengthUm) return 'length';
  const lying = problem.blocked.map(({ shape, x, y }) => ({ outline: problem.shapes[shape]!.outline, x, y }));
  for (const [i, a] of things.entries()) {
    for (const b of [...things.slice(i + 1), ...lying]) {
      if (!outlinesApart(a.outline, [a.x, a.y], b.outline, [b.x, b.y], problem.gapUm)) return 'distance';
    }
  }
  return null;
}
