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
import { type TakenApart, takeApart } from './parts.js';
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

/**
 * What is pinned in a lay by itself, and against what the cut list yields: whether the rest can be laid anew around it.
 * Sums of the whole lay are not looked at.
 */
export function checkPinned(lay: Lay, expected: Expected): Verdict {
  const placements = lay.placements.filter(({ pinned }) => pinned);
  const numbers = new Set(placements.flatMap(({ copies }) => copies));
  const part: Lay = { ...lay, placements, copies: lay.copies.filter(({ n }) => numbers.has(n)) };
  const apart = takeApart(part);
  if ('refusals' in apart) return conclude(apart.refusals);
  // Copies are missing: those that are not pinned.
  const surplus = checkCounts(lay.pieces, apart, expected.garments).filter(({ code }) => code === 'copy-surplus');
  return conclude([
    ...checkAgainst(lay, expected),
    ...judgePlaces(part, apart),
    ...checkGarments(apart.laid, expected.garments),
    ...surplus,
  ]);
}

function conclude(refusals: readonly Refusal[]): Verdict {
  return { accepted: refusals.length === 0, refusals };
}

function judge(lay: Lay, garmentsWanted: number | null): Refusal[] {
  const apart = takeApart(lay);
  if ('refusals' in apart) return [...apart.refusals];
  const { laid, parts } = apart;
  const garments = garmentsWanted ?? laid.reduce((most, { placement }) => Math.max(most, placement.garment), 1);
  return [
    ...judgePlaces(lay, apart),
    ...checkCutLists(lay),
    ...checkGarments(laid, garments),
    ...checkCounts(lay.pieces, apart, garments),
    ...checkTotals(lay, parts),
  ];
}

/** Whether what lies may lie so and where it does. */
function judgePlaces(lay: Lay, { laid, parts }: TakenApart): Refusal[] {
  const { cloth } = lay;
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
  ];
}
