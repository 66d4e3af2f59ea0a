/**
 * As much of the test runner as the tried tests use: `describe`, `test`, `it`, each with `each`, and its own `expect`.
 * Tests are collected while a test file is loaded and run one after another until one fails.
 */
import { chai, JestAsymmetricMatchers, JestChaiExpect, JestExtend } from '@vitest/expect';

type Body = (...values: never[]) => unknown;
type Define = (name: string, body: Body) => void;

interface Case {
  readonly name: string;
  readonly run: () => unknown;
}

chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(JestAsymmetricMatchers);

let cases: Case[] = [];
let within: readonly string[] = [];

function describe(name: string, body: Body): void {
  const outer = within;
  within = [...outer, name];
  body();
  within = outer;
}

function test(name: string, body: Body): void {
  cases.push({ name: [...within, name].join(' > '), run: body });
}

/** One test, or group of tests, for each row of a table. */
function eachOf(define: Define) {
  return (rows: readonly unknown[]) => (name: string, body: Body) => {
    for (const [i, row] of rows.entries()) {
      const values = (Array.isArray(row) ? row : [row]) as never[];
      define(`${name} [${i}]`, () => body(...values));
    }
  };
}

/** Stands in for the package `vitest`. */
export const runner: Readonly<Record<string, unknown>> = {
  describe: Object.assign(describe, { each: eachOf(describe) }),
  test: Object.assign(test, { each: eachOf(test) }),
  it: Object.assign(test, { each: eachOf(test) }),
  expect: chai.expect,
};

/** Loads a test file and runs its tests. */
export async function runFile(
  load: () => Promise<unknown>,
): Promise<{ readonly failed: string | null; readonly count: number }> {
  cases = [];
  within = [];
  try {
    await load();
  } catch (error) {
    return { failed: `cannot be loaded: ${error}`, count: 0 };
  }
  if (cases.length === 0) return { failed: 'has no tests', count: 0 };
  for (const { name, run } of cases) {
    try {
      await run();
    } catch {
      return { failed: name, count: cases.length };
    }
  }
  return { failed: null, count: cases.length };
}
