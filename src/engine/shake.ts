/**
 * Disturbs a tangle that will not come apart: two unlike things change places and take along what lies in
 * their boxes, or two sections of the strip do. On a long strip this happens near something that overlaps: elsewhere it
 * would help nothing.
 */
import type { Um } from '../units/types.js';
import type { Random } from './random.js';
import { between } from './relocate.js';
import { measureAll, setNear, type Tangle } from './tangle.js';

/** Of ten shakes, so many exchange sections. */
const sectionsOfTen = 3;
/** Unlike things are looked for so many times; of one kind there are none. */
const triesMost = 50;

/** A strip of more things is shaken in a stretch that holds about so many. */
const thingsShaken = 100;

/** Changes the places of some things and measures all pairs. Things of one kind are never exchanged. */
export function shake(tangle: Tangle, random: Random): void {
  const stretch = stretchToShake(tangle, random);
  if (random.below(10) < sectionsOfTen || !exchangeUnlike(tangle, stretch, random)) {
    exchangeSections(tangle, stretch, random);
  }
  measureAll(tangle);
}

type Stretch = readonly [from: Um, to: Um];

/** All of a short strip; of a longer one a stretch around something that overlaps. */
function stretchToShake(tangle: Tangle, random: Random): Stretch {
  const { movable, lengthUm, overlaps } = tangle;
  const tangled: number[] = [];
  for (let k = 0; k < movable; k++) if (overlaps[k]! > 0) tangled.push(k);
  if (movable <= thingsShaken || tangled.length === 0) return [0, lengthUm];
  const long = Math.ceil((lengthUm * thingsShaken) / movable);
  const middle = Math.round(middleX(tangle, tangled[random.below(tangled.length)]!));
  const from = Math.max(0, Math.min(middle - (long >> 1), lengthUm - long));
  return [from, from + long];
}

function exchangeUnlike(tangle: Tangle, [from, to]: Stretch, random: Random): boolean {
  const { kinds, movable } = tangle;
  const near: number[] = [];
  for (let k = 0; k < movable; k++) {
    const x = middleX(tangle, k);
    if (x >= from && x <= to) near.push(k);
  }
  for (let tries = 0; tries < triesMost && near.length > 0; tries++) {
    const i = near[random.below(near.length)]!;
    const j = near[random.below(near.length)]!;
    if (kinds[i] === kinds[j]) continue;
    exchange(tangle, i, j);
    return true;
  }
  return false;
}

/** Exchanges two neighbouring sections of the strip: what has its middle in one moves past the other. */
function exchangeSections(tangle: Tangle, [from, to]: Stretch, random: Random): void {
  const { movable } = tangle;
  const [a, b, c] = [0, 1, 2].map(() => between(random, from, to)).sort((p, q) => p - q) as [Um, Um, Um];
  for (let k = 0; k < movable; k++) {
    const x = middleX(tangle, k);
    if (x >= a && x < b) moveBy(tangle, k, c - b, 0);
    else if (x >= b && x < c) moveBy(tangle, k, a - b, 0);
  }
}

/** Exchanges the middles of two things; what has its middle in the box of one moves along with it. */
function exchange(tangle: Tangle, i: number, j: number): void {
  const dx = middleX(tangle, j) - middleX(tangle, i);
  const dy = middleY(tangle, j) - middleY(tangle, i);
  const withI = inside(tangle, i, j);
  const withJ = inside(tangle, j, i);
  moveBy(tangle, i, dx, dy);
  moveBy(tangle, j, -dx, -dy);
  for (const k of withI) moveBy(tangle, k, dx, dy);
  for (const k of withJ) if (!withI.includes(k)) moveBy(tangle, k, -dx, -dy);
}

function middleX({ left, right }: Tangle, i: number): number {
  return (left[i]! + right[i]!) / 2;
}

function middleY({ low, high }: Tangle, i: number): number {
  return (low[i]! + high[i]!) / 2;
}

/** Things whose middles lie in the box of thing i. */
function inside(tangle: Tangle, i: number, but: number): number[] {
  const { left, right, low, high, movable } = tangle;
  const found: number[] = [];
  for (let k = 0; k < movable; k++) {
    if (k === i || k === but) continue;
    const x = middleX(tangle, k);
    const y = middleY(tangle, k);
    if (x > left[i]! && x < right[i]! && y > low[i]! && y < high[i]!) found.push(k);
  }
  return found;
}

function moveBy(tangle: Tangle, i: number, dx: number, dy: number): void {
  setNear(tangle, i, tangle.choices[i]!, tangle.xs[i]! + Math.round(dx), tangle.ys[i]! + Math.round(dy));
}
