/** What is known of the shortest length before any lay is found. */
import type { Um } from '../units/types.js';

/** A length that no legal lay can be shorter than, with its reason in plain words. */
export interface Bound {
  readonly um: Um;
  readonly why: string;
}
