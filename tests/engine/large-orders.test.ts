/** First lays of large orders: their density, and work that does not grow with the strip. All of it counted. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  type Instance,
  judgeSolution,
  multiplyInstance,
  type PosedInstance,
  poseInstance,
} from '../../src/bench/instance.js';
import { build, countThings } from '../../src/engine/construct.js';
import { type Ground, makeGround } from '../../src/engine/ground.js';
import { decodeSolution, encodeLay } from '../../src/engine/lay-code.js';
import { plainOrders, sizesOf } from '../../src/engine/orders.js';
import { makeTables } from '../../src/engine/tables.js';

function multiplied(name: string, times: number): Instance {
  const text = readFileSync(new URL(`../../fixtures/instances/${name}.json`, import.meta.url), 'utf8');
  const instance: Instance = JSON.parse(text);
  return multiplyInstance(instance, times);
}

/** The lay of the first plain order. */
function firstLay({ problem }: PosedInstance): { ground: Ground; code: Int32Array } {
  const tables = makeTables(problem);
  const ground = makeGround(tables, countThings(problem));
  const order = plainOrders(problem, sizesOf(tables))[0]!;
  expect(build(ground, order, 0, Number.POSITIVE_INFINITY)).toBe(true);
  return { ground, code: encodeLay(order.kinds, { choices: ground.choiceOf, xs: ground.xs, ys: ground.ys }) };
}

describe('the first lay of a large order', () => {
  it.each([
    ['shirts', 85],
    ['trousers', 89],
  ] as const)('%s x 10 is legal and fills the strip to %i percent or more', (name, percent) => {
    const instance = multiplied(name, 10);
    const posed = poseInstance(instance);
    const { code } = firstLay(posed);
    const judged = judgeSolution(instance, posed, decodeSolution(posed.problem, code));
    expect(judged.verified).toBe(true);
    expect(judged.utilisationPercent).toBeGreaterThanOrEqual(percent);
  });

  it('takes no more than three times the work for each thing at 990 than at 99', () => {
    const few = firstLay(poseInstance(multiplied('shirts', 1))).ground;
    const many = firstLay(poseInstance(multiplied('shirts', 10))).ground;
    expect(many.steps / many.count).toBeLessThan((3 * few.steps) / few.count);
  });
});
