/**
 * What a lay asks of overlaps, as outlines: its copies, the flaws of the cloth, and the edges, which stand for all that lies
 * beyond them; and which of them lie near each other.
 */
import type { Lay, Stretch } from '../../src/lay/types.js';
import type { Outline, Point, Um } from '../../src/units/types.js';

export interface Thing {
  readonly outline: Outline;
  /** The number of a copy, or null: flaws and edges lie on one another as they like. */
  readonly copy: number | null;
  /** `copy 3`, `flaw 1`, `the left edge`. */
  readonly name: string;
  /** Copies of this stretch only are held against it. */
  readonly stretch: number | null;
}

/** Copies before others, the lower number first; boxes no farther apart than the gap. */
export function nearPairs(things: readonly Thing[], gapUm: Um): (readonly [number, number])[] {
  const boxes = things.map(({ outline }) => boxAround(outline));
  const pairs: (readonly [number, number])[] = [];
  for (const [i, one] of things.entries()) {
    // The first thing of a copy is as it lies; those after it are the same copy further round a tube.
    if (one.copy === null || things[i - 1]?.copy === one.copy) continue;
    const a = boxes[i]!;
    for (const [j, other] of things.entries()) {
      if (other.copy !== null && other.copy <= one.copy) continue;
      if (other.copy === null && other.stretch !== null && other.stretch !== one.stretch) continue;
      const b = boxes[j]!;
      const reach = other.copy === null ? 0 : gapUm;
      if (a.right + reach < b.left || b.right + reach < a.left) continue;
      if (a.high + reach >= b.low && b.high + reach >= a.low) pairs.push([i, j]);
    }
  }
  return pairs;
}

function boxAround(outline: Outline) {
  const xs = outline.map(([x]) => x);
  const ys = outline.map(([, y]) => y);
  return { left: Math.min(...xs), right: Math.max(...xs), low: Math.min(...ys), high: Math.max(...ys) };
}

/** Copies, flaws and what lies beyond the edges of cloth and stretches; on a tube those that lie round it once a round. */
export function thingsOf({ cloth, stretches, placements, copies }: Lay): readonly Thing[] {
  const stretchOf = new Map(placements.flatMap(({ stretch, copies: own }) => own.map((n) => [n, stretch] as const)));
  const tubes = new Set(stretches.filter(({ method }) => method === 'tube').map(({ id }) => id));
  const laid = copies.flatMap(({ n, outline }): Thing[] => {
    const stretch = stretchOf.get(n)!;
    const rounds = tubes.has(stretch) ? [0, -2, -1, 1, 2] : [0];
    return rounds.map((by) => ({
      outline: shifted(outline, by * cloth.width),
      copy: n,
      name: `copy ${n}`,
      stretch,
    }));
  });
  const flaws = cloth.flaws.flatMap((flaw, i) =>
    stretches.flatMap(({ id }) =>
      (tubes.has(id) ? [-1, 0, 1] : [0]).map((by): Thing => {
        return { outline: shifted(flaw, by * cloth.width), copy: null, name: `flaw ${i + 1}`, stretch: id };
      }),
    ),
  );
  return [...laid, ...flaws, ...stretches.flatMap((stretch) => edgesOf(stretch, cloth, copies))];
}

function shifted(outline: Outline, by: Um): Outline {
  return by === 0 ? outline : outline.map(([x, y]): Point => [x, y + by]);
}

/** What lies beyond the edges, as far as any copy reaches, and a little farther. */
function edgesOf({ id, method, from, to }: Stretch, cloth: Lay['cloth'], copies: Lay['copies']): readonly Thing[] {
  const box = boxAround(copies.flatMap(({ outline }) => outline));
  const [left, right, low, high] = [box.left - 1_000, box.right + 1_000, box.low - 1_000, box.high + 1_000];
  const lastX = cloth.length === null ? right : cloth.length - cloth.ends[1];
  const beyond: readonly (readonly [string, Um, Um, Um, Um])[] = [
    ['the cut end', left, low, cloth.ends[0], high],
    ['the far end', lastX, low, right, high],
    ['its stretch begins', left, low, from, high],
    ['its stretch ends', to, low, right, high],
    // A tube has no edge along the cloth.
    ...(method === 'tube'
      ? []
      : ([
          ['the left edge', left, low, right, cloth.usable[0]],
          ['the right edge', left, cloth.usable[1], right, high],
        ] as const)),
  ];
  return beyond.flatMap(([name, x1, y1, x2, y2]): Thing[] => {
    const outline: Outline = [
      [x1, y1],
      [x2, y1],
      [x2, y2],
      [x1, y2],
    ];
    return x1 < x2 && y1 < y2 ? [{ outline, copy: null, name, stretch: id }] : [];
  });
}
