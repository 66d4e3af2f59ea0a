/** The sentences of the checker, read back into who lies on whom. */
import type { Verdict } from '../../src/checker/types.js';

/** Codes after which the checker does not go on to overlaps: numbers or outlines that nothing can be said of. */
export const leavesUnjudged =
  /^(format-unknown|lay-empty|number-|cloth-impossible|piece-unknown|stretch-unknown|placement-copies|copy-(unknown|twice|loose)|outline-|flaw-not-simple)/;

/** Beyond so many refusals for overlap or gap the checker names no more. */
const namedMost = 100;

/** What the checker says: `copy 3 on copy 4`. */
export interface Said {
  readonly overlaps: ReadonlySet<string>;
  readonly gapsShort: ReadonlySet<string>;
  /** Not all may be named. */
  readonly isCutShort: boolean;
}

const edgeWords: readonly (readonly [RegExp, string])[] = [
  [/over the left edge/, 'the left edge'],
  [/over the right edge/, 'the right edge'],
  [/into the end that is kept clear/, 'the cut end'],
  [/beyond the length at hand/, 'the far end'],
  [/out of stretch .* towards the cut end/, 'its stretch begins'],
  [/out of stretch .* towards the far end/, 'its stretch ends'],
];

/** The sentences of the checker in the words of this file. */
export function readVerdict({ refusals }: Verdict): Said {
  const overlaps = new Set<string>();
  const gapsShort = new Set<string>();
  for (const { code, sentence } of refusals) {
    const numbers = [...sentence.matchAll(/copy (\d+) \(/g)].map(([, n]) => Number(n)).sort((a, b) => a - b);
    if (code === 'copies-overlap') overlaps.add(`copy ${numbers[0]} on copy ${numbers[1]}`);
    if (code === 'gap-short') gapsShort.add(`copy ${numbers[0]} on copy ${numbers[1]}`);
    if (!/^off-(usable-width|cut-end|far-end|stretch)$|^on-flaw$/.test(code)) continue;
    const flaw = /lies on (flaw \d+)/.exec(sentence)?.[1];
    const edge = edgeWords.find(([words]) => words.test(sentence))?.[1];
    const what = flaw ?? edge;
    if (what !== undefined) overlaps.add(`copy ${numbers[0]} on ${what}`);
  }
  return { overlaps, gapsShort, isCutShort: overlaps.size + gapsShort.size >= namedMost };
}
