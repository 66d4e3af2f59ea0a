/**
 * What a placement yields. On open cloth one copy. On cloth folded lengthwise two, one the reflection of the other in
 * the fold line (y -> width - y), each on its own side of it; or one copy that lies across the fold, its fold edge on
 * it. The fold may lie at half a micrometre: positions across the cloth are compared doubled.
 */
import type { Cloth } from '../cloth/types.js';
import type { Outline, Point, Um } from '../units/types.js';
import { boxOf } from './exact.js';
import { farthest } from './outlines.js';
import type { Laid, Part } from './parts.js';
import type { Refusal } from './types.js';
import { amount, mm, refuse } from './words.js';

/** Whether one placement and its copies are what the lay rules allow on this cloth. */
export function checkPlacement(laid: Laid, cloth: Cloth): Refusal[] {
  const [first, second] = laid.parts;
  if (first === undefined) return [];
  if (laid.stretch.method !== 'lengthwise fold') {
    if (second === undefined) return [];
    const who = `placement ${laid.placement.n} (${laid.piece.id})`;
    return [
      refuse(
        'pair-on-open',
        `${who} yields copies ${first.copy.n} and ${second.copy.n}, but open cloth gives one at a time`,
      ),
    ];
  }
  return second === undefined ? checkOnFold(first, cloth.width) : checkPair(first, second, cloth.width);
}

function checkPair(first: Part, second: Part, width: Um): Refusal[] {
  const refusals: Refusal[] = [];
  if (first.copy.mirror === second.copy.mirror) {
    const both = first.copy.mirror ? 'both mirrored' : 'neither mirrored';
    refusals.push(
      refuse('pair-alike', `${first.name} and ${second.name} come from one cut through doubled cloth but are ${both}`),
    );
  }
  const reflected = reflect(first.copy.outline, width);
  if (reflected.length !== second.copy.outline.length) {
    const counts = `${second.copy.outline.length} points, not ${reflected.length}`;
    refusals.push(
      refuse('not-reflected', `${second.name} is not the reflection of ${first.name} in the fold: it has ${counts}`),
    );
  } else {
    const off = farthest(reflected, second.copy.outline);
    if (off > 0)
      refusals.push(
        refuse('not-reflected', `${second.name} is off the reflection of ${first.name} in the fold by ${amount(off)}`),
      );
  }
  const [lower, upper] =
    boxOf(first.copy.outline).low <= boxOf(second.copy.outline).low ? [first, second] : [second, first];
  const overLower = 2 * boxOf(lower.copy.outline).high - width;
  const overUpper = width - 2 * boxOf(upper.copy.outline).low;
  if (overLower > 0) refusals.push(refuse('over-fold', `${lower.name} reaches ${mm(overLower / 2)} over the fold`));
  if (overUpper > 0) refusals.push(refuse('over-fold', `${upper.name} reaches ${mm(overUpper / 2)} over the fold`));
  return refusals;
}

/** The mirror image in the fold line, listed from the image of the last point on, as the lay file lists it. */
function reflect(outline: Outline, width: Um): Outline {
  return [...outline].reverse().map(([x, y]): Point => [x, width - y]);
}

function checkOnFold({ copy, piece, name }: Part, width: Um): Refusal[] {
  if (!piece.onFold)
    return [refuse('single-on-doubled', `${name} lies single on doubled cloth, but its piece is not cut on the fold`)];
  if (piece.lines.some(({ kind, points }) => kind === 'fold' && points.some(([, y]) => y !== 0))) {
    const why = 'the fold edge of its piece is square to the grain';
    return [refuse('fold-square-to-grain', `${name} lies on a lengthwise fold, but ${why}`)];
  }
  const { low, high } = boxOf(copy.outline);
  const off = Math.abs(low + high - width);
  if (off > 0) return [refuse('off-fold', `the middle of ${name} lies ${mm(off / 2)} beside the fold`)];
  if (isOwnReflection(copy.outline, width)) return [];
  return [
    refuse('halves-differ', `${name} lies across the fold, but its two halves are not mirror images in the fold line`),
  ];
}

/** The reflected ring is the ring itself, perhaps listed from another point on. */
function isOwnReflection(outline: Outline, width: Um): boolean {
  const reflected = reflect(outline, width);
  const [x, y] = reflected[0]!;
  const start = outline.findIndex((point) => point[0] === x && point[1] === y);
  if (start < 0) return false;
  return reflected.every((point, i) => {
    const own = outline[(start + i) % outline.length]!;
    return own[0] === point[0] && own[1] === point[1];
  });
}
