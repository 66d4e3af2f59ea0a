/** Lays as whole numbers, for tasks and threads: for each thing kind, choice, x, y. */
import { boundsOf } from '../geometry/outline.js';
import { pinnedEnd } from '../problem/lattice.js';
import type { Problem, Solution, Spot } from '../problem/types.js';
import type { Um } from '../units/types.js';

const each = 4;

/** Where all things lie, in the order of their kinds given elsewhere. */
export interface Places {
  readonly choices: Int32Array;
  readonly xs: Float64Array;
  readonly ys: Float64Array;
}

/** A lay of these kinds of things as numbers. */
export function encodeLay(kinds: Int32Array, { choices, xs, ys }: Places): Int32Array {
  const code = new Int32Array(each * kinds.length);
  kinds.forEach((kind, i) => {
    code.set([kind, choices[i]!, xs[i]!, ys[i]!], each * i);
  });
  return code;
}

/** The lay that such numbers stand for. */
export function decodeLay(code: Int32Array): { readonly kinds: Int32Array; readonly places: Places } {
  const column = (k: number) => Array.from({ length: code.length / each }, (_, i) => code[each * i + k]!);
  const places = {
    choices: Int32Array.from(column(1)),
    xs: Float64Array.from(column(2)),
    ys: Float64Array.from(column(3)),
  };
  return { kinds: Int32Array.from(column(0)), places };
}

/** Whether numbers are those of a lay of just the problem's things, each laid by one of its choices. */
export function isLayOf(problem: Problem, code: Int32Array): boolean {
  if (code.length % each !== 0) return false;
  const { kinds, places } = decodeLay(code);
  return areThingsOf(problem, kinds) && areChoicesOf(problem, kinds, places.choices);
}

/** Whether each kind comes as often as the problem asks. */
export function areThingsOf({ kinds }: Problem, found: Int32Array): boolean {
  const counts = new Map<number, number>();
  for (const kind of found) counts.set(kind, (counts.get(kind) ?? 0) + 1);
  const asked = kinds.every(({ count }, kind) => (counts.get(kind) ?? 0) === count);
  return asked && [...counts.keys()].every((kind) => kinds[kind] !== undefined);
}

/** Whether each thing is laid by one of the choices of its kind. */
export function areChoicesOf(problem: Problem, kinds: Int32Array, choices: Int32Array): boolean {
  return kinds.every((kind, i) => problem.kinds[kind]?.choices[choices[i]!] !== undefined);
}

/** A solution as such numbers. */
export function encodeSolution({ spots }: Solution): Int32Array {
  return Int32Array.from(spots.flatMap(({ kind, choice, x, y }) => [kind, choice, x, y]));
}

/** Where everything lies, and the length that it takes. */
export function decodeSolution(problem: Problem, code: Int32Array): Solution {
  const spots: Spot[] = [];
  for (let at = 0; at < code.length; at += each) {
    spots.push({ kind: code[at]!, choice: code[at + 1]!, x: code[at + 2]!, y: code[at + 3]! });
  }
  return { spots, lengthUm: lengthOf(problem, spots) };
}

/** Largest x that any thing reaches; of blocked ones only those that are pinned count. */
function lengthOf(problem: Problem, spots: readonly Spot[]): Um {
  const reach = problem.shapes.map((shape) => boundsOf(shape.outline).maxX);
  return spots.reduce(
    (most, { kind, choice, x }) => Math.max(most, x + reach[problem.kinds[kind]!.choices[choice]!.shape]!),
    pinnedEnd(problem),
  );
}

/** What lays of equal length are compared by: the sum of all x; less means more room towards the end. */
export function sumOfX(solution: Solution): number {
  return solution.spots.reduce((sum, spot) => sum + spot.x, 0);
}
