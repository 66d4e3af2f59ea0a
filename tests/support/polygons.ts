/** Random simple counter-clockwise outlines and all their turns and mirror images. */
import fc from 'fast-check';
import { firstCrossing, isCounterClockwise, mirrorOutline, turnOutline } from '../../src/geometry/outline.js';
import type { Outline, Point } from '../../src/units/types.js';

/** Star-shaped on a small grid: full of points in line, equal edges and contacts. Concave more often than not. */
export function gridOutlines(reach: number, scale = 1): fc.Arbitrary<Outline> {
  const coordinate = fc.integer({ min: -reach, max: reach });
  return fc
    .array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 10 })
    .map((points) => starOutline(points, scale))
    .filter((outline) => isSimple(outline));
}

/** Boxes on a grid of cells joined to a comb: vertical and horizontal sides only, with slots. */
export function combOutlines(): fc.Arbitrary<Outline> {
  return fc.array(fc.integer({ min: 1, max: 5 }), { minLength: 1, maxLength: 5 }).map((heights): Outline => {
    const points: Point[] = [
      [0, 0],
      [heights.length, 0],
    ];
    for (let i = heights.length - 1; i >= 0; i--) points.push([i + 1, heights[i]!], [i, heights[i]!]);
    return points.filter(([x, y], i) => i === 0 || x !== points[i - 1]![0] || y !== points[i - 1]![1]);
  });
}

export function transformed(outline: Outline): fc.Arbitrary<Outline> {
  return fc
    .tuple(fc.constantFrom(0, 90, 180, 270), fc.boolean(), fc.nat(outline.length - 1))
    .map(([turn, mirror, start]) => {
      const turned = turnOutline(mirror ? mirrorOutline(outline) : outline, turn as 0 | 90 | 180 | 270);
      return [...turned.slice(start), ...turned.slice(0, start)];
    });
}

/** A smooth outline of n points: a wavy round of about the radius, bulging and hollow by turns. */
export function wavyOutline(n: number, radius: number, waves: number, depth: number): Outline {
  return Array.from({ length: n }, (_, i): Point => {
    const angle = (2 * Math.PI * i) / n;
    const r = radius * (1 + depth * Math.cos(waves * angle));
    return [Math.round(r * Math.cos(angle)), Math.round(r * Math.sin(angle))];
  });
}

export function isSimple(outline: Outline): boolean {
  return outline.length >= 3 && firstCrossing(outline) === null && isCounterClockwise(outline);
}

/** The points in the order of their angle about their middle. */
function starOutline(points: readonly (readonly [number, number])[], scale: number): Outline {
  const unique = [...new Map(points.map((point) => [point.join(), point])).values()];
  const midX = unique.reduce((sum, [x]) => sum + x, 0) / unique.length;
  const midY = unique.reduce((sum, [, y]) => sum + y, 0) / unique.length;
  return unique
    .map(([x, y]) => ({ x, y, angle: Math.atan2(y - midY, x - midX), far: Math.hypot(x - midX, y - midY) }))
    .sort((a, b) => a.angle - b.angle || a.far - b.far)
    .map(({ x, y }): Point => [x * scale, y * scale]);
}
