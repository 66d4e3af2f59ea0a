/** Cut wording: `2`, `1 on fold`, `2 pairs`, `4 same way`, and sums of them with `+`. */
import type { CutTerm } from '../pieces/types.js';

/** How the forms are shown to somebody who wrote something else. */
export const wordingForms = '"1", "1 on fold", "2 pairs", "4 same way", or a sum such as "1 pair + 1 same way"';

const termPattern = /^(\d{1,6})(?:\s+(on\s+fold|pairs?|same\s+way))?$/i;

/** The terms of a wording, or what is wrong with it. */
export function parseWording(text: string): { readonly terms: readonly CutTerm[] } | { readonly problem: string } {
  const terms: CutTerm[] = [];
  for (const part of text.split('+')) {
    const match = termPattern.exec(part.trim());
    if (match === null) return { problem: `"${text}" is not a cut wording` };
    const count = Number(match[1]);
    if (count < 1) return { problem: `"${text}" asks for no copy` };
    terms.push({ count, kind: kindOf(match[2]) });
  }
  return { terms };
}

function kindOf(words: string | undefined): CutTerm['kind'] {
  const first = words?.toLowerCase().split(/\s+/)[0];
  if (first === 'on') return 'on fold';
  if (first === 'same') return 'same way';
  return first === undefined ? 'plain' : 'pair';
}
