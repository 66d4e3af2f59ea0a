/** What a cut wording asks for. */
import type { CutTerm } from './types.js';

/** Copies in all; a pair is two. */
export function copiesAsked(terms: readonly CutTerm[]): number {
  return terms.reduce((sum, { count, kind }) => sum + (kind === 'pair' ? 2 * count : count), 0);
}
