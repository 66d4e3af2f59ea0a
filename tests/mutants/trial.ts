/**
 * A process of its own that keeps the compiled sources warm. It is sent a mutant and the test files to run, and says when
 * each begins: when it says nothing more, the mutant hangs, and the process is ended from outside.
 */
import { Loader } from './loader.js';
import type { Mutant } from './make.js';
import { runFile, runner } from './suite.js';

/** What is asked of the process. `mutant` null: the tests as they are. */
export interface Trial {
  readonly mutant: Mutant | null;
  /** In the order in which they run; the first failure ends the trial. */
  readonly tests: readonly string[];
}

/** What it sends: a test file begins; a test file is done; all is done. */
export type Message =
  | { readonly is: 'begun'; readonly test: string }
  | { readonly is: 'ran'; readonly test: string; readonly ms: number; readonly count: number }
  | { readonly is: 'done'; readonly failed: string | null };

const loader = new Loader(process.cwd(), { vitest: runner });
/** As `setupFiles` of the configuration of the tests. */
const setUp = 'tests/support/chance.ts';

/** Ends once it is on its way, so that it is not held up by what comes after it. */
function send(message: Message): Promise<void> {
  return new Promise((resolve) => process.send?.(message, () => resolve()));
}

async function run({ mutant, tests }: Trial): Promise<string | null> {
  loader.take(mutant, tests);
  await loader.load(setUp);
  for (const test of tests) {
    await send({ is: 'begun', test });
    const begun = performance.now();
    const { failed, count } = await runFile(() => loader.load(test));
    await send({ is: 'ran', test, ms: performance.now() - begun, count });
    if (failed !== null) return `${test}: ${failed}`;
  }
  return null;
}

process.on('message', (trial: Trial) => {
  run(trial)
    .then((failed) => send({ is: 'done', failed }))
    .catch((error: unknown) => {
      console.error(error);
      process.exit(70);
    });
});
process.on('disconnect', () => process.exit(0));
