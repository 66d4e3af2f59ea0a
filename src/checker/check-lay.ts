/**
 * Is this lay right? Judged from what stands in it - pieces, cloth, copies - with arithmetic of this room's own, so
 * that a mistake of the search is not excused by the same mistake here. The law is docs/lay-file.md.
 *
 * Every number is compared exactly. Each reason for refusing is one sentence; when the numbers in the lay do not lead
 * to one another, only that is reported, since nothing else can be judged then.
 */
import type { Lay } from '../lay/types.js';
import { checkAgainst, type Expected } from './against.js';
import { checkApart } from './apart.js';
import { checkCounts, checkCutLists, checkGarments } from './counts.js';
import { checkFlaws } from './flaws.js';
import { checkLimits, checkStretches } from './limits.js';
import { checkClaim, checkPieceOutline } from './outlines.js';
import { takeApart } from './parts.js';
import { checkPlacement } from './placements.js';
import { checkRepeat } from './repeat.js';
import { checkTotals } from './totals.js';
import { checkNap, checkTurn } from './turns.js';
import type { Refusal, Verdict } from './types.js';

export type { Expected } from './against.js';

/** The lay by itself. The number of garments is taken from its placements or, of several cut lists, from those. */
export function checkLay(lay: Lay): Verdict {
  return conclude(judge(lay, null));
}

/** The lay by itself and against what the cut list yields: hash, pieces, cloth, number of garments. */
export function checkLayAgainst(lay: Lay, expected: Expected): Verdict {
  return conclude([...checkAgainst(lay, expected), ...judge(lay, expected.garments)]);
}

function conclude(refusals: readonly Refusal[]): Verdict {
  return { accepted: refusals.length === 0, refusals };
}

function judge(lay: Lay, garmentsWanted: number | null): Refusal[] {
  const apart = takeApart(lay);
  if ('refusals' in apart) return [...apart.refusals];
  const { laid, parts } = apart;
  const { cloth } = lay;
  const garments = garmentsWanted ?? laid.reduce((most, { placement }) => Math.max(most, placement.garment), 1);
  const broken = lay.pieces.flatMap(checkPieceOutline);
  const claims = parts.flatMap(checkClaim);
  // Whether outlines overlap can be said only of simple rings.
  const isSound = broken.length + claims.length === 0;
  const overlaps = isSound ? [...checkApart(parts, cloth), ...checkFlaws(parts, cloth)] : [];
  return [
    ...broken,
    ...claims,
    ...checkStretches(lay.stretches, cloth),
    ...laid.flatMap((one) => checkPlacement(one, cloth)),
    ...parts.flatMap((part) => checkTurn(part, cloth)),
    ...checkNap(parts, cloth),
    ...checkLimits(parts, cloth),
    ...overlaps,
    ...checkRepeat(parts, lay.stretches, cloth),
    ...checkCutLists(lay),
    ...checkGarments(laid, garments),
    ...checkCounts(lay.pieces, apart, garments),
    ...checkTotals(lay, parts),
  ];
}
