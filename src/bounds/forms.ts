/**
 * Forms: the different ways in which the things of a small problem may lie, as the proofs look at them, moved so that
 * the box around each begins at (0, 0). Places that a lattice forbids, the length at hand and, where asked, blocked
 * places are left out, which only allows more.
 *
 * Choices that cover the same cloth from the same range across are one form, and kinds with the same forms are copies of
 * each other: a rectangle turned end for end is the same rectangle.
 */
import { assert } from '../diagnostics/assert.js';
import { convexParts, withoutFlatPoints } from '../geometry/convex-parts.js';
import { crossingCeil } from '../geometry/no-fit-lines.js';
import { areaUm2, boundsOf } from '../geometry/outline.js';
import type { Problem } from '../problem/types.js';
import type { Outline, Point, Um } from '../units/types.js';

/** A thing is looked at as at most so many of its convex parts, the largest first. */
const partsMost = 12;
/** In a search over arrangements: so many, each with so many corners. */
const fewPartsMost = 4;
const cornersMost = 8;
/** Sides of a rectangle within a ring are looked for at so many even shares of its length. */
const evenShares = 16;

export interface Form {
  readonly key: string;
  /** Box from (0, 0). */
  readonly outline: Outline;
  readonly length: Um;
  readonly height: Um;
  readonly areaUm2: number;
  /** Convex parts within the outline. */
  readonly parts: readonly Outline[];
  readonly fewParts: readonly Outline[];
  /** Closed range of the lower end of its box. */
  readonly lowMin: Um;
  readonly lowMax: Um;
}

/** Things that are copies of each other. */
export interface Group {
  readonly names: readonly string[];
  readonly count: number;
  /** In the order of their keys. */
  readonly forms: readonly Form[];
  /** Of its smallest form. */
  readonly areaUm2: number;
}

/** Groups by falling area. Kinds without any choice are left out. */
export function groupsOf(problem: Problem): Group[] {
  const formOf = new Map<string, Form>();
  const byForms = new Map<string, { names: string[]; count: number; forms: Form[] }>();
  for (const { name, count, choices } of problem.kinds) {
    if (count === 0 || choices.length === 0) continue;
    const forms = new Map<string, Form>();
    for (const { shape, yMin, yMax } of choices) {
      assert(yMin <= yMax, 'a choice leaves a place across');
      const form = makeForm(problem.shapes[shape]!.outline, yMin, yMax, formOf);
      forms.set(form.key, form);
    }
    const keys = [...forms.keys()].sort();
    const known = byForms.get(keys.join('|'));
    if (known === undefined)
      byForms.set(keys.join('|'), { names: [name], count, forms: keys.map((key) => forms.get(key)!) });
    else {
      known.names.push(name);
      known.count += count;
    }
  }
  const groups = [...byForms].map(([key, group]) => ({
    key,
    ...group,
    areaUm2: Math.min(...group.forms.map((form) => form.areaUm2)),
  }));
  return groups.sort((a, b) => b.areaUm2 - a.areaUm2 || (a.key < b.key ? -1 : 1));
}

function makeForm(outline: Outline, yMin: Um, yMax: Um, known: Map<string, Form>): Form {
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  const moved = fromLeast(withoutFlatPoints(outline).map(([x, y]): Point => [x - minX, y - minY]));
  const key = keyOf(moved, yMin + minY, yMax + minY);
  const found = known.get(key);
  if (found !== undefined) return found;
  const parts = [...convexParts(moved)]
    .map((part, i) => ({ part, area: areaUm2(part), i }))
    .sort((a, b) => b.area - a.area || a.i - b.i)
    .slice(0, partsMost)
    .map(({ part }) => part);
  const form: Form = {
    key,
    outline: moved,
    length: maxX - minX,
    height: maxY - minY,
    areaUm2: areaUm2(outline),
    parts,
    fewParts: parts.slice(0, fewPartsMost).map(withFewCorners),
    lowMin: yMin + minY,
    lowMax: yMax + minY,
  };
  known.set(key, form);
  return form;
}

/** What tells forms apart; `outline` begins with its least point. */
export function keyOf(outline: Outline, lowMin: Um, lowMax: Um): string {
  return `${lowMin},${lowMax}:${outline.map(([x, y]) => `${x},${y}`).join(' ')}`;
}

/** The same ring, begun at its leftmost, then lowest point. */
export function fromLeast(outline: Outline): Outline {
  let first = 0;
  outline.forEach(([x, y], i) => {
    const [leastX, leastY] = outline[first]!;
    if (x < leastX || (x === leastX && y < leastY)) first = i;
  });
  return [...outline.slice(first), ...outline.slice(0, first)];
}

/** A convex ring within the convex ring: corners that cut off least are left out one after the other. */
function withFewCorners(ring: Outline): Outline {
  const kept: Point[] = [...ring];
  while (kept.length > cornersMost) {
    let least = 0;
    let leastArea = Number.POSITIVE_INFINITY;
    for (let i = 0; i < kept.length; i++) {
      const n = kept.length;
      const area = areaUm2([kept[(i + n - 1) % n]!, kept[i]!, kept[(i + 1) % n]!]);
      if (area < leastArea) [least, leastArea] = [i, area];
    }
    kept.splice(least, 1);
  }
  return kept;
}

/**
 * The same things, each as no more than one rectangle that lies within it, in as few forms as possible: forms whose
 * rectangles are alike are one, with the range across from the least to the most of them all.
 */
export function asRectangles(group: Group): Group {
  const bySize = new Map<string, { dx: Um; dy: Um; lowMin: Um; lowMax: Um }>();
  for (const { parts, lowMin, lowMax } of group.forms) {
    const { dx, dy, y } = rectangleWithin(parts[0]!);
    const known = bySize.get(`${dx} ${dy}`);
    bySize.set(`${dx} ${dy}`, {
      ...{ dx, dy },
      lowMin: Math.min(known?.lowMin ?? Number.POSITIVE_INFINITY, lowMin + y),
      lowMax: Math.max(known?.lowMax ?? Number.NEGATIVE_INFINITY, lowMax + y),
    });
  }
  const forms = [...bySize.values()].map(({ dx, dy, lowMin, lowMax }): Form => {
    const outline: Outline = [
      [0, 0],
      [dx, 0],
      [dx, dy],
      [0, dy],
    ];
    const parts = [outline];
    const key = keyOf(outline, lowMin, lowMax);
    return { key, outline, length: dx, height: dy, areaUm2: dx * dy, parts, fewParts: parts, lowMin, lowMax };
  });
  forms.sort((a, b) => (a.key < b.key ? -1 : 1));
  return { ...group, forms, areaUm2: Math.min(...forms.map(({ areaUm2 }) => areaUm2)) };
}

/** A large rectangle within a convex ring, its sides at corners or at even shares of the length. */
function rectangleWithin(ring: Outline): { dx: Um; dy: Um; y: Um } {
  const xs = ring.map(([x]) => x);
  const first = Math.min(...xs);
  const last = Math.max(...xs);
  for (let share = 1; share < evenShares; share++) xs.push(first + Math.floor(((last - first) * share) / evenShares));
  const chords = [...new Set(xs)].sort((a, b) => a - b).map((x) => ({ x, ...chordWithin(ring, x) }));
  let best = { dx: 0, dy: 0, y: 0 };
  // Convex: what is within both of its outer chords is within all between.
  for (const [i, from] of chords.entries()) {
    for (const to of chords.slice(i + 1)) {
      const y = Math.max(from.low, to.low);
      const dx = to.x - from.x;
      const dy = Math.min(from.high, to.high) - y;
      if (dy > 0 && dx * dy > best.dx * best.dy) best = { dx, dy, y };
    }
  }
  return best;
}

/** Whole y within the convex ring on the line across at x: from `low` to `high`. */
function chordWithin(ring: Outline, x: Um): { low: Um; high: Um } {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length]!;
    if (Math.min(ax, bx) > x || Math.max(ax, bx) < x) return;
    if (ax === bx) {
      low = Math.min(low, ay, by);
      high = Math.max(high, ay, by);
      return;
    }
    const [x0, y0, x1, y1] = ax < bx ? [ax, ay, bx, by] : [bx, by, ax, ay];
    low = Math.min(low, crossingCeil(y0, x0, y1, x1, x));
    high = Math.max(high, -crossingCeil(-y0, x0, -y1, x1, x));
  });
  return { low, high };
}
