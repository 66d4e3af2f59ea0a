/** Counts of a fuzz run; those called `largest` or `longest` are the greatest of all, the others add up. */
export type Tally = Map<string, number>;

/** Adds to a count. */
export function count(tally: Tally, what: string, by = 1): void {
  tally.set(what, (tally.get(what) ?? 0) + by);
}

/** Keeps the greatest. */
export function keepMost(tally: Tally, what: string, value: number): void {
  tally.set(what, Math.max(tally.get(what) ?? 0, value));
}

/** Takes the counts of a part into those of the whole. */
export function addTally(whole: Tally, part: Iterable<readonly [string, number]>): void {
  for (const [what, value] of part) {
    if (/^(largest|longest)/.test(what)) keepMost(whole, what, value);
    else count(whole, what, value);
  }
}

/** One line for each count, in order of names. */
export function tallyText(tally: Tally): string {
  return [...tally]
    .sort(([one], [other]) => (one < other ? -1 : 1))
    .map(([what, value]) => `${what}: ${Number.isInteger(value) ? value : value.toFixed(2)}\n`)
    .join('');
}
