/**
 * Pushes all overlapping things of a tangle apart at once, each pair by its nearest way out, again and again. A tangle
 * whose things only lack a little room here and there comes apart so, where moves of single things take long: the
 * last bit of most successful untanglings. (Separation by moving all things at once: Imamichi, Yagiura and Nagamochi
 * 2009, there by a quasi-Newton method; plain pushing is enough here.)
 */
import { wayOutAt } from '../geometry/no-fit-depth.js';
import type { Um } from '../units/types.js';
import { clamp } from './relocate.js';
import { noFitOf } from './tables.js';
import { measureAll, setPlace, type Tangle, totalDepth } from './tangle.js';

const way = new Float64Array(2);

/** Pushes for some rounds at most; true when nothing overlaps any more. Things on a lattice stay where they are. */
export function pushApart(tangle: Tangle, roundsMost: number): boolean {
  const { count, movable, depths, overlaps } = tangle;
  let least = totalDepth(tangle);
  let quiet = 0;
  for (let round = 0; round < roundsMost && quiet < 8; round++) {
    for (let i = 0; i < movable; i++) {
      if (overlaps[i] === 0) continue;
      for (let j = i + 1; j < count; j++) if (depths[i * count + j]! > 0) pushPair(tangle, i, j);
    }
    measureAll(tangle);
    if (tangle.pairs === 0) return true;
    const total = totalDepth(tangle);
    if (total < 0.98 * least) {
      least = total;
      quiet = 0;
    } else {
      quiet++;
    }
  }
  return false;
}

function pushPair(tangle: Tangle, i: number, j: number): void {
  const { tables, shapes, xs, ys, movable } = tangle;
  const a = shapes[i]!;
  const b = shapes[j]!;
  tangle.steps++;
  // The way of the second of the pair as its table knows it.
  const negate = a > b;
  const depth = negate
    ? wayOutAt(noFitOf(tables, b, a), xs[i]! - xs[j]!, ys[i]! - ys[j]!, way)
    : wayOutAt(noFitOf(tables, a, b), xs[j]! - xs[i]!, ys[j]! - ys[i]!, way);
  if (depth === 0) return;
  const sign = negate ? 1 : -1;
  const share = j < movable ? 0.5 : 1;
  const dx = sign * outwards(way[0]!) * share;
  const dy = sign * outwards(way[1]!) * share;
  pushBy(tangle, i, dx, dy);
  if (j < movable) pushBy(tangle, j, -dx, -dy);
}

/** A little more than the way, so that rounding does not leave the pair inside. */
function outwards(value: number): number {
  return value > 0 ? value + 1 : value < 0 ? value - 1 : 0;
}

function pushBy(tangle: Tangle, i: number, dx: number, dy: number): void {
  const { tables, kinds, choices, xs, ys, lengthUm } = tangle;
  const choice = tables.problem.kinds[kinds[i]!]!.choices[choices[i]!]!;
  if (choice.lattice !== null) return;
  const box = tables.trueBox[choice.shape]!;
  const x: Um = clamp(xs[i]! + Math.round(dx), -box.minX, Math.max(-box.minX, lengthUm - box.maxX));
  setPlace(tangle, i, choices[i]!, x, clamp(ys[i]! + Math.round(dy), choice.yMin, choice.yMax));
}
