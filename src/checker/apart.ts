/**
 * Every two copies keep off each other: no overlap, and at least the gap of the cloth between them. Copies are taken
 * in order of their left ends, so that only those whose boxes come near each other are compared.
 */
import type { Cloth } from '../cloth/types.js';
import type { Point, Um } from '../units/types.js';
import { boxOf } from './exact.js';
import { areNearer, deepestInside, distanceApart, insidesOverlap, type Shape } from './overlap.js';
import type { Part } from './parts.js';
import type { Refusal } from './types.js';
import { amount, mm, refuse } from './words.js';

/** Beyond so many bad pairs the rest is not looked for: the lay is refused, and the work stays bounded. */
const badPairsMax = 100;

interface Laid extends Shape, Pick<Part, 'copy' | 'name'> {
  /** Moved across by so much: 0, or so many rounds of a tube. */
  readonly by: Um;
}

/** Every two parts keep the gap between them. */
export function checkApart(
  parts: readonly Part[],
  { gap: gapUm, width: widthUm }: Pick<Cloth, 'gap' | 'width'>,
): Refusal[] {
  const laid = parts.flatMap((part) => placesOf(part, widthUm));
  laid.sort((one, other) => one.box.left - other.box.left || one.copy.n - other.copy.n);
  const refusals: Refusal[] = [];
  let open: Laid[] = [];
  for (const one of laid) {
    open = open.filter((other) => other.box.right + gapUm > one.box.left);
    for (const other of open) {
      if (other.copy === one.copy) continue;
      if (other.box.high + gapUm <= one.box.low || one.box.high + gapUm <= other.box.low) continue;
      const [first, second] = other.copy.n < one.copy.n ? [other, one] : [one, other];
      // Round a tube a pair comes up again in every round.
      if (first.by !== 0) continue;
      const refusal = checkPair(first, second, gapUm);
      if (refusal !== null) refusals.push(refusal);
      if (refusals.length === badPairsMax) return refusals;
    }
    open.push(one);
  }
  return refusals;
}

/** On a tube, whose copies may lie within two rounds of it, as far to either side, so that all that meet round it are seen. */
function placesOf({ copy, name, stretch }: Part, widthUm: Um): Laid[] {
  const rounds = stretch.method === 'tube' ? [-2, -1, 0, 1, 2] : [0];
  return rounds.map((round): Laid => {
    const by = round * widthUm;
    const outline = by === 0 ? copy.outline : copy.outline.map(([x, y]): Point => [x, y + by]);
    return { copy, name, by, outline, box: boxOf(outline) };
  });
}

function checkPair(a: Laid, b: Laid, gapUm: Um): Refusal | null {
  if (insidesOverlap(a, b)) {
    const depthOfA = deepestInside(a.outline, b.outline);
    const depthOfB = deepestInside(b.outline, a.outline);
    const depth = Math.max(depthOfA, depthOfB);
    // Nothing of either lies inside the other, yet they overlap: the outlines are one and the same.
    if (depth === 0) return refuse('copies-overlap', `${a.name} lies on top of ${b.name}`);
    const [inner, outer] = depthOfA >= depthOfB ? [a, b] : [b, a];
    return refuse('copies-overlap', `${inner.name} reaches ${amount(depth)} into ${outer.name}`);
  }
  if (gapUm === 0 || !areNearer(a, b, gapUm)) return null;
  const apart = distanceApart(a, b);
  const missing = `${amount(gapUm - apart)} short of the gap of ${mm(gapUm)}`;
  const how = apart === 0 ? 'touches' : 'comes near';
  return refuse('gap-short', `${a.name} ${how} ${b.name}: ${missing}`);
}
