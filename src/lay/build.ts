/** Closing a lay with its own hash, and telling whether somebody has edited it since. */
import { createHash } from 'node:crypto';
import { canonicalText } from './canonical.js';
import type { Lay } from './types.js';

/** The lay with `selfHash` = SHA-256 of its canonical bytes, in which `selfHash` is "". */
export function sealLay(lay: Omit<Lay, 'selfHash'>): Lay {
  return { ...lay, selfHash: hashOf({ ...lay, selfHash: '' }) };
}

/** True when the lay is not, byte for byte in canonical form, what was sealed: somebody's work, never written over. */
export function isEditedByHand(lay: Lay): boolean {
  return lay.selfHash !== hashOf({ ...lay, selfHash: '' });
}

function hashOf(lay: Lay): string {
  return createHash('sha256').update(canonicalText(lay), 'utf8').digest('hex');
}
