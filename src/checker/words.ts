/** Wording of refusals: lengths, names of copies. */
import { formatDecimal } from '../units/length.js';
import type { Um } from '../units/types.js';
import type { Refusal } from './types.js';

/** A reason to refuse a lay: its code and a sentence for people. */
export function refuse(code: string, sentence: string): Refusal {
  return { code, sentence };
}

/** A length in millimetres, to the micrometre, without idle zeros: `0.001 mm`, `1150 mm`. */
export function mm(um: Um): string {
  const halves = formatDecimal(um * 2, 2_000, 4);
  return `${halves.replace(/\.?0+$/, '')} mm`;
}

/** A measured amount that need not be whole; never worded as nothing. */
export function amount(um: number): string {
  return um < 1 ? 'less than 0.001 mm' : mm(Math.round(um));
}

/** `copy 4 (Pocket)`. */
export function nameCopy(n: number, piece: string): string {
  return `copy ${n} (${piece})`;
}
