/**
 * The sums of the lay, taken anew from its outlines: length used, what to buy, area, utilisation, and a bound that no
 * lay of its kind can go below. Areas in BigInt.
 */
import type { Lay, Totals } from '../lay/types.js';
import type { Um } from '../units/types.js';
import { boxOf, doubleArea } from './exact.js';
import type { Part } from './parts.js';
import type { Refusal } from './types.js';
import { mm, refuse } from './words.js';

/** Whether the sums of the lay (length used, buy length, areas) are those of its parts. */
export function checkTotals(lay: Lay, parts: readonly Part[]): Refusal[] {
  const { totals, cloth } = lay;
  const boxes = parts.map(({ copy }) => boxOf(copy.outline));
  const first = boxes.reduce((least, { left }) => Math.min(least, left), Number.POSITIVE_INFINITY);
  const last = boxes.reduce((most, { right }) => Math.max(most, right), Number.NEGATIVE_INFINITY);
  const used = last - first;
  const refusals: Refusal[] = [];
  if (totals.lengthUsed !== used)
    refusals.push(
      refuse('total-length', `the length used is given as ${mm(totals.lengthUsed)}; the copies use ${mm(used)}`),
    );
  refusals.push(...checkBuy(lay, first, last));
  refusals.push(...checkAreas(totals, parts, BigInt(cloth.usable[1] - cloth.usable[0]) * BigInt(used)));
  if (totals.bound.um > used || totals.bound.um < 0)
    refusals.push(
      refuse('bound-passed', `the lay uses ${mm(used)}, yet the bound says that none is below ${mm(totals.bound.um)}`),
    );
  if (lay.status === 'proven shortest' && totals.bound.um !== used) {
    const short = `${mm(used)}, the bound is ${mm(totals.bound.um)}`;
    refusals.push(refuse('not-proven', `the lay is called proven shortest, but it uses ${short}`));
  }
  return refusals;
}

/**
 * The additions are what lies clear before the first piece, the ends, a repeat where pieces are matched along it and its
 * bars are not known, what washing takes, then rounding up to the selling
 * step unless the cloth is at hand; an addition of nothing is left out.
 */
function checkBuy({ totals: { buy, buyParts }, cloth, pieces }: Lay, first: Um, last: Um): Refusal[] {
  const { ends, soldBy, length, shrinkagePpm, repeat } = cloth;
  const wantsBar = pieces.some(({ match }) => match.some(({ way }) => way !== 'across' || repeat?.drop));
  const firstBar = wantsBar && repeat?.start === null ? (repeat.along ?? 0) : 0;
  const refusals: Refusal[] = [];
  const before = Math.max(0, first - ends[0]);
  const washed = last - first + before + ends[0] + ends[1] + firstBar;
  if (length !== null && washed > length)
    refusals.push(
      refuse(
        'past-length',
        `the lay needs ${mm(washed)} of the cloth; there are ${mm(length)}, ${mm(washed - length)} too little`,
      ),
    );
  const bare = leastThatLeaves(washed, shrinkagePpm?.along ?? 0);
  const rounded = length === null ? Math.ceil(bare / soldBy) * soldBy : bare;
  const wanted = [
    { why: 'before the first piece', um: before },
    { why: 'ends', um: ends[0] + ends[1] },
    { why: 'reaching the first bar', um: firstBar },
    { why: 'shrinkage', um: bare - washed },
    { why: 'rounding up', um: rounded - bare },
  ].filter(({ um }) => um > 0);
  const word = (list: Totals['buyParts']) => list.map(({ why, um }) => `${why} ${mm(um)}`).join(', ') || 'none';
  if (word(wanted) !== word(buyParts))
    refusals.push(
      refuse('total-buy-parts', `the additions are given as: ${word(buyParts)}; they should be: ${word(wanted)}`),
    );
  if (buy !== rounded)
    refusals.push(refuse('total-buy', `the length to buy is given as ${mm(buy)}; it should be ${mm(rounded)}`));
  return refusals;
}

/** Of which, less so many parts in a million, as much is left: found by trying, not by dividing. */
function leastThatLeaves(washed: Um, lostPpm: number): Um {
  const isEnough = (um: number) => BigInt(um) * BigInt(1_000_000 - lostPpm) >= BigInt(washed) * 1_000_000n;
  let um = Math.floor((washed * 1_000_000) / (1_000_000 - lostPpm));
  while (!isEnough(um)) um += 1;
  return um;
}

function checkAreas({ areaUm2, utilisationPpm }: Totals, parts: readonly Part[], clothUm2: bigint): Refusal[] {
  const refusals: Refusal[] = [];
  const double = parts.reduce((sum, { copy }) => sum + doubleArea(copy.outline), 0n);
  if (areaUm2 !== Number(double) / 2)
    refusals.push(
      refuse('total-area', `the area of the copies is given as ${areaUm2} um2; it is ${Number(double) / 2} um2`),
    );
  // Parts per million, half up: floor(2 x ratio + 1) / 2 in whole numbers.
  const ppm = clothUm2 > 0n ? (1_000_000n * double + clothUm2) / (2n * clothUm2) : 0n;
  if (BigInt(Math.trunc(utilisationPpm)) !== ppm || !Number.isInteger(utilisationPpm))
    refusals.push(
      refuse('total-utilisation', `the utilisation is given as ${utilisationPpm} parts in a million; it is ${ppm}`),
    );
  return refusals;
}
