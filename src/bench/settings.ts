/** Words and numbers of the developer's tools. A wrong one throws an error with a sentence for its user. */
import type { Limits } from './types.js';

/** A number above 0; with `whole`, a whole one. */
export function readNumber(option: string, text: string, whole: boolean): number {
  const value = Number(text);
  if (text.trim() === '' || !Number.isFinite(value) || value <= 0 || (whole && !Number.isSafeInteger(value))) {
    throw new Error(`--${option} takes a ${whole ? 'whole ' : ''}number above 0, not "${text}"`);
  }
  return value;
}

/** `1,2,3` -> the seeds, at least one. */
export function readSeeds(text: string): readonly number[] {
  return text.split(',').map((word) => readNumber('seeds', word, true));
}

/**
 * The limits of a run: `20,60` seconds are two, one after the other; an effort goes for each.
 * @param effort or null when not given; 20 when there are no seconds either
 */
export function readLimits(effort: string | undefined, seconds: string | undefined): readonly Limits[] {
  const most = effort === undefined ? null : readNumber('effort', effort, false);
  if (seconds === undefined) return [{ effort: most ?? 20, seconds: null }];
  const each = seconds.split(',').map((word) => readNumber('seconds', word, false));
  return each.sort((a, b) => a - b).map((limit) => ({ effort: most, seconds: limit }));
}

/** What marks a subject whose quantities were multiplied. */
export function timesWord(times: number): string {
  return times === 1 ? '' : ` x${times}`;
}

/** `fixtures/garments/kit-bags.yaml` -> `kit-bags`. */
export function labelOf(file: string): string {
  return file.replace(/^.*[/\\]/, '').replace(/\.[^.]*$/, '');
}
