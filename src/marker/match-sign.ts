/**
 * The sign of a match point: a square with its diagonals. They cross on the point; unlike the arms of an awl point they do
 * not run along a bar of the repeat, which often goes through it. On a lay no part of it reaches into the next piece.
 */
import type { MatchPoint } from '../pieces/types.js';
import type { Point } from '../units/types.js';
import { crossingsAt } from './free-space.js';
import type { LineItem, PagePoint } from './types.js';

/** From its middle to its sides, where it is drawn to a scale. */
export const matchMm = 1.2;

/** Where signs are explained in a sentence. */
export const matchInWords = 'Crossed square: match point, on the same place of the design as the others of its group.';

/** Each point once, with the groups that are matched there. */
export function matchPlaces(
  points: readonly MatchPoint[],
): readonly { readonly at: Point; readonly groups: readonly string[] }[] {
  const places = new Map<string, { readonly at: Point; readonly groups: Set<string> }>();
  for (const { at, group } of points) {
    const key = at.join(' ');
    const known = places.get(key);
    if (known === undefined) places.set(key, { at, groups: new Set([group]) });
    else known.groups.add(group);
  }
  return [...places.values()].map(({ at, groups }) => ({ at, groups: [...groups] }));
}

/** The whole sign. */
export function matchStrokes([x, y]: PagePoint, reachMm = matchMm): readonly LineItem[] {
  const [left, right, top, bottom] = [x - reachMm, x + reachMm, y - reachMm, y + reachMm];
  const [a, b, c, d]: readonly PagePoint[] = [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ];
  return [stroke([a!, b!, c!, d!], true), stroke([a!, c!], false), stroke([b!, d!], false)];
}

/** What of the sign lies within a piece: beyond its edge there may be the next one. */
export function matchStrokesWithin(
  outline: readonly PagePoint[],
  at: PagePoint,
  reachMm = matchMm,
): readonly LineItem[] {
  const sign = matchStrokes(at, reachMm);
  const edges = edgesNear(outline, at, reachMm);
  if (edges.length === 0) return sign;
  return sign.flatMap(({ points, closed }) => {
    const ends = closed ? [...points, points[0]!] : points;
    const sides = ends.slice(1).map((end, i) => [ends[i]!, end] as const);
    return sides.flatMap((side) => partsWithin(outline, edges, side)).map((part) => stroke(part, false));
  });
}

type Stroke = readonly [PagePoint, PagePoint];

function stroke(points: readonly PagePoint[], closed: boolean): LineItem {
  return { type: 'line', kind: 'match', points, closed };
}

/** The edges of an outline that may meet the sign. */
function edgesNear(outline: readonly PagePoint[], [x, y]: PagePoint, reachMm: number): readonly Stroke[] {
  const isBeside = (a: number, b: number, middle: number) =>
    Math.max(a, b) < middle - reachMm || Math.min(a, b) > middle + reachMm;
  return outline.flatMap((a, i): readonly Stroke[] => {
    const b = outline[(i + 1) % outline.length]!;
    return isBeside(a[0], b[0], x) || isBeside(a[1], b[1], y) ? [] : [[a, b]];
  });
}

/** The parts of a stroke inside an outline, of which it can only cross these edges. */
function partsWithin(outline: readonly PagePoint[], edges: readonly Stroke[], [from, to]: Stroke): readonly Stroke[] {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const side = ([x, y]: PagePoint): number => dx * (y - from[1]) - dy * (x - from[0]);
  const at = (part: number): PagePoint => [from[0] + dx * part, from[1] + dy * part];
  const crossings = edges.flatMap(([a, b]) => {
    const [sideA, sideB] = [side(a), side(b)];
    if (sideA <= 0 === sideB <= 0) return [];
    const share = sideA / (sideA - sideB);
    const [x, y] = [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share];
    const part = ((x - from[0]) * dx + (y - from[1]) * dy) / (dx * dx + dy * dy);
    return part > 0 && part < 1 ? [part] : [];
  });
  const parts = [0, ...crossings.sort((a, b) => a - b), 1];
  return parts.slice(1).flatMap((end, i): readonly Stroke[] => {
    const start = parts[i]!;
    return isWithin(outline, at((start + end) / 2)) ? [[at(start), at(end)]] : [];
  });
}

/** Even-odd rule. */
function isWithin(outline: readonly PagePoint[], [x, y]: PagePoint): boolean {
  return crossingsAt(outline, y).filter((crossing) => crossing <= x).length % 2 === 1;
}
