/**
 * Lays as whole numbers, for tasks and threads:
 * [rule, n, then for each thing in the order it was put down: kind, forced choice or -1, choice, x, y].
 */
import { assert } from '../diagnostics/assert.js';
import { boundsOf } from '../geometry/outline.js';
import type { Problem, Solution, Spot } from '../problem/types.js';
import type { Um } from '../units/types.js';
import type { Order } from './construct.js';

const head = 2;
const each = 5;

export interface FoundLay {
  readonly order: Order;
  readonly choices: Int32Array;
  readonly xs: Float64Array;
  readonly ys: Float64Array;
}

export function encodeLay({ order, choices, xs, ys }: FoundLay): Int32Array {
  const n = order.kinds.length;
  const code = new Int32Array(head + each * n);
  code[0] = order.rule;
  code[1] = n;
  for (let i = 0; i < n; i++) {
    code.set([order.kinds[i]!, order.forced[i]!, choices[i]!, xs[i]!, ys[i]!], head + each * i);
  }
  return code;
}

/** The order alone: what a task that goes on from this lay needs. */
export function decodeOrder(code: Int32Array): Order {
  const n = code[1]!;
  assert(code.length === head + each * n, 'a lay code is as long as it says');
  const kinds = new Int32Array(n);
  const forced = new Int32Array(n);
  for (let i = 0; i < n; i++) {
    kinds[i] = code[head + each * i]!;
    forced[i] = code[head + each * i + 1]!;
  }
  return { rule: code[0]!, kinds, forced };
}

export function decodeSolution(problem: Problem, code: Int32Array): Solution {
  const spots: Spot[] = [];
  for (let at = head; at < code.length; at += each) {
    spots.push({ kind: code[at]!, choice: code[at + 2]!, x: code[at + 3]!, y: code[at + 4]! });
  }
  return { spots, lengthUm: lengthOf(problem, spots) };
}

/** Largest x that any thing reaches; blocked ones not counted. */
export function lengthOf(problem: Problem, spots: readonly Spot[]): Um {
  const reach = problem.shapes.map((shape) => boundsOf(shape.outline).maxX);
  return spots.reduce(
    (most, { kind, choice, x }) => Math.max(most, x + reach[problem.kinds[kind]!.choices[choice]!.shape]!),
    0,
  );
}

/** What lays of equal length are compared by: the sum of all x; less means more room towards the end. */
export function sumOfX(solution: Solution): number {
  return solution.spots.reduce((sum, spot) => sum + spot.x, 0);
}
