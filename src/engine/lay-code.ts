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
