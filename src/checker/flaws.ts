/** Nothing is cut where the cloth has a flaw. On a tube a flaw lies once in every round. */
import type { Cloth } from '../cloth/types.js';
import type { Point } from '../units/types.js';
import { boxOf, doubleArea } from './exact.js';
import { findMeeting } from './outlines.js';
import { insidesOverlap } from './overlap.js';
import type { Part } from './parts.js';
import type { Refusal } from './types.js';
import { mm, refuse } from './words.js';

/** Every copy lies off the flaws of the cloth; every flaw is a simple ring. */
export function checkFlaws(parts: readonly Part[], { flaws, width }: Cloth): Refusal[] {
  const broken = flaws.flatMap((flaw, i) =>
    doubleArea(flaw) > 0n && findMeeting(flaw) === null
      ? []
      : [refuse('flaw-not-simple', `flaw ${i + 1} of the cloth is no simple ring that runs counter-clockwise`)],
  );
  if (broken.length > 0) return broken;
  return parts.flatMap(({ copy, name, stretch }) => {
    const own = { outline: copy.outline, box: boxOf(copy.outline) };
    const rounds = stretch.method === 'tube' ? [-width, 0, width] : [0];
    return flaws.flatMap((flaw, i) =>
      rounds.flatMap((by) => {
        const outline = flaw.map(([x, y]): Point => [x, y + by]);
        const box = boxOf(outline);
        if (!insidesOverlap(own, { outline, box })) return [];
        return [refuse('on-flaw', `${name} lies on flaw ${i + 1}, which begins ${mm(box.left)} from the cut end`)];
      }),
    );
  });
}
