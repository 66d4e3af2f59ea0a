/**
 * Judges a lay a second time, by two polygon libraries, and compares with the checker's verdict: what lies on what (copies
 * on copies, on flaws, over an edge), what is nearer than the gap, and how much cloth the copies take.
 *
 * Every such question is one of two outlines: the edges of the cloth stand for all that lies beyond them. The checker
 * answers yes or no, exactly; the libraries answer with an area or a distance in doubles. So they agree when
 * - both areas are the same within `areaToleranceUm2`,
 * - both are no more than that where the checker finds nothing, and more than nothing where it finds an overlap,
 * - neither distance is off the gap on the wrong side by more than `distanceToleranceUm`.
 */
import type { Verdict } from '../../src/checker/types.js';
import type { Lay } from '../../src/lay/types.js';
import type { Um } from '../../src/units/types.js';
import { libraries, type Measures } from './libraries.js';
import type { Tally } from './tally.js';
import { nearPairs, type Thing, thingsOf } from './things.js';
import { leavesUnjudged, readVerdict, type Said } from './verdict-words.js';

/**
 * Coordinates go up to 4.7e7, and a double holds 53 bits: a place where two edges cross is off by some 1e-8, and the
 * products that an area is summed from (up to some 1e13 for a piece of the size of the cloth) by some 1e-3. A whole square
 * micrometre is far above that, and far below the least that matters: one micrometre into a neighbour along one millimetre
 * is a thousand of them.
 */
export const areaToleranceUm2 = 1;

/** The same for distances, whose products are roots of such sums. */
export const distanceToleranceUm = 0.01;

/** Every disagreement with the verdict, in words; counts what was asked. `sums`: the totals of the lay are judged too. */
export function secondOpinion(lay: Lay, verdict: Verdict, tally: Tally, sums = true): readonly string[] {
  tally.lays += 1;
  if (verdict.refusals.some(({ code }) => leavesUnjudged.test(code))) {
    tally.unjudged += 1;
    return [];
  }
  const things = thingsOf(lay);
  const measures = libraries.map(({ measure }) => measure(things.map(({ outline }) => outline)));
  const copies = things.flatMap(({ copy }, i) => (copy === null || things[i - 1]?.copy === copy ? [] : [i]));
  tally.copies += copies.length;
  return [
    ...judgePairs(things, measures, lay.cloth.gap, readVerdict(verdict), tally),
    ...(sums ? judgeSums(lay, verdict, copies, measures) : []),
  ];
}

/** Disagreements of the libraries about things that lie near each other with what was said of them. */
export function judgePairs(
  things: readonly Thing[],
  measures: readonly Measures[],
  gapUm: Um,
  said: Said,
  tally: Tally,
): readonly string[] {
  const nearest = new Map<string, { areas: number[]; apart: number[] | null }>();
  for (const [i, j] of nearPairs(things, gapUm)) {
    tally.pairs += 1;
    const [one, other] = [things[i]!, things[j]!];
    const key = `${one.name} on ${other.name}`;
    const before = nearest.get(key) ?? { areas: measures.map(() => 0), apart: null };
    const areas = measures.map((measure, k) => before.areas[k]! + measure.common(i, j));
    const asksGap = gapUm > 0 && other.copy !== null;
    const apart = asksGap
      ? measures.map((measure, k) => Math.min(before.apart?.[k] ?? gapUm, measure.apart(i, j)))
      : null;
    nearest.set(key, { areas, apart });
  }
  const found = [...nearest].flatMap(([key, { areas, apart }]) => {
    const differ = Math.max(...areas) - Math.min(...areas);
    tally.areaApartMost = Math.max(tally.areaApartMost, differ);
    const inWords = `${libraries.map(({ name }, k) => `${name} ${areas[k]} um2`).join(', ')}`;
    if (!(differ <= areaToleranceUm2)) return [`${key}: the libraries differ: ${inWords}`];
    if (said.overlaps.has(key)) {
      tally.overlaps += 1;
      if (Math.min(...areas) <= areaToleranceUm2) tally.slight += 1;
      return Math.min(...areas) > 0 ? [] : [`${key}: only the checker finds an overlap: ${inWords}`];
    }
    const isNamed = (names: ReadonlySet<string>) => names.has(key) || said.isCutShort;
    if (Math.max(...areas) > areaToleranceUm2)
      return isNamed(said.overlaps) ? [] : [`${key}: the checker finds no overlap: ${inWords}`];
    if (apart === null) return [];
    const distances = `${libraries.map(({ name }, k) => `${name} ${apart[k]} um`).join(', ')}`;
    if (said.gapsShort.has(key)) {
      tally.gapsShort += 1;
      const isNear = Math.max(...apart) < gapUm + distanceToleranceUm;
      return isNear ? [] : [`${key}: only the checker finds them nearer than ${gapUm} um: ${distances}`];
    }
    const isApart = Math.min(...apart) > gapUm - distanceToleranceUm;
    return isApart || isNamed(said.gapsShort) ? [] : [`${key}: nearer than ${gapUm} um: ${distances}`];
  });
  const lone = [...said.overlaps, ...said.gapsShort].filter((key) => !nearest.has(key));
  return [...found, ...lone.map((key) => `${key}: nowhere near each other, says the second opinion`)];
}

/** Area and utilisation of the lay against the sums of the libraries. */
function judgeSums(
  { totals, cloth }: Lay,
  { refusals }: Verdict,
  copies: readonly number[],
  measures: readonly Measures[],
): readonly string[] {
  const isRefused = (code: string) => refusals.some((refusal) => refusal.code === code);
  return measures.flatMap(({ area }, k) => {
    const { name } = libraries[k]!;
    const sum = copies.reduce((all, i) => all + area(i), 0);
    const areaOff = Math.abs(sum - totals.areaUm2);
    const isRight = areaOff <= areaToleranceUm2 * copies.length;
    const areas = `the area is given as ${totals.areaUm2} um2, ${name} finds ${sum}`;
    // A wrong sum may be off by half a square micrometre.
    if (isRefused('total-area') ? areaOff < 0.1 : !isRight) return [areas];
    if (!isRight || isRefused('total-length')) return [];
    const ppm = (1e6 * sum) / ((cloth.usable[1] - cloth.usable[0]) * totals.lengthUsed);
    const off = Math.abs(ppm - totals.utilisationPpm);
    const isClose = Number.isInteger(totals.utilisationPpm) && off <= 0.5 + 1e-6;
    // Just half way between two whole numbers only exact sums tell which of them it is.
    if (isClose && off >= 0.5 - 1e-6) return [];
    const utilisations = `the utilisation is given as ${totals.utilisationPpm} parts in a million, ${name} finds ${ppm}`;
    return isClose === isRefused('total-utilisation') ? [utilisations] : [];
  });
}
