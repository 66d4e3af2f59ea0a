/**
 * How copies may be turned, mirrored and turned over. Nap runs along the cloth. A copy has it *down* or *up* as seen
 * in its piece; copies that must agree have it the same way. A quarter turn lays it across the piece; there left and
 * right copies agree when one is turned by a quarter and its mirror image by three.
 */
import type { Cloth } from '../cloth/types.js';
import type { Part } from './parts.js';
import type { Refusal } from './types.js';
import { refuse } from './words.js';

/** Rules that look at one copy alone. */
export function checkTurn({ copy, piece, name }: Part, cloth: Cloth): Refusal[] {
  const refusals: Refusal[] = [];
  if (copy.turned % 180 !== 0 && !piece.cross && cloth.grain !== 'free') {
    const leave = 'neither its piece (also: cross) nor the grain of the cloth allows quarter turns';
    refusals.push(refuse('off-grain', `${name} is turned by ${copy.turned} degrees; ${leave}`));
  }
  const tiltMost = cloth.repeat === null ? piece.tiltMaxMicrodegrees : 0;
  if (Math.abs(copy.tiltMicrodegrees) > tiltMost) {
    const why = cloth.repeat === null ? `its piece allows ${tiltMost / 1e6}` : 'on a repeat nothing is tilted';
    refusals.push(refuse('tilt', `${name} is tilted by ${copy.tiltMicrodegrees / 1e6} degrees; ${why}`));
  }
  if (copy.turnedOver && cloth.faces !== 'both')
    refusals.push(refuse('turned-over', `${name} is turned over after cutting, but the cloth has one right side`));
  const is = copy.mirror === copy.turnedOver ? 'asDrawn' : 'mirrored';
  if (copy.is !== is) {
    const how = `${copy.mirror ? 'laid mirrored' : 'laid as drawn'} and ${copy.turnedOver ? '' : 'not '}turned over`;
    refusals.push(refuse('wrong-hand', `${name} is ${how}: that makes it ${wordIs(is)}, not ${wordIs(copy.is)}`));
  }
  return refusals;
}

/** The copies that must have the nap the same way do. The first copy of each group sets it. */
export function checkNap(parts: readonly Part[], cloth: Cloth): Refusal[] {
  const first = new Map<number, Part>();
  const refusals: Refusal[] = [];
  for (const part of parts) {
    if (mayTurn(part, cloth)) continue;
    const group = cloth.nap === 'each-garment' ? part.placement.garment : 0;
    const leader = first.get(group);
    if (leader === undefined) first.set(group, part);
    else if (isHalfTurned(leader) !== isHalfTurned(part)) refusals.push(refuseNap(part, leader, cloth));
  }
  return refusals;
}

/** `turn: yes` or `turn: no` of the piece goes before the nap of the cloth. */
function mayTurn({ piece }: Part, cloth: Cloth): boolean {
  return piece.turn ?? (cloth.nap === 'none' || cloth.grain === 'free');
}

function isHalfTurned({ copy }: Part): boolean {
  if (copy.turned === 0 || copy.turned === 180) return copy.turned === 180;
  return (copy.turned === 270) !== copy.mirror;
}

function refuseNap(part: Part, leader: Part, cloth: Cloth): Refusal {
  const why =
    part.piece.turn === false
      ? 'its piece may not be turned'
      : cloth.nap === 'each-garment'
        ? `the nap is to run alike in garment ${part.placement.garment}`
        : 'the nap runs one way';
  const how = `turned by ${part.copy.turned} degrees against ${leader.name}, which is turned by ${leader.copy.turned}`;
  return refuse('against-nap', `${part.name} is ${how}; ${why}`);
}

function wordIs(is: 'asDrawn' | 'mirrored'): string {
  return is === 'asDrawn' ? 'a copy as drawn' : 'a mirrored copy';
}
