/**
 * A process of its own that keeps the test runner and the compiled sources warm. It is sent a mutant and the test files
 * to run; the mutant's text is put in place of the file's while it is loaded, so nothing on the disk changes.
 */
import { BaseSequencer, createVitest, type Reporter, type TestModule, type TestSpecification } from 'vitest/node';
import type { Mutant } from './make.js';
import { applyMutant } from './types-valid.js';

/** What is asked of the process. `mutant` null: the tests as they are. */
export interface Trial {
  readonly mutant: Mutant | null;
  /** In the order in which they run; the first failure ends the trial. */
  readonly tests: readonly string[];
}

/** What it sends: a test file has begun; a test file is done; all is done. */
export type Message =
  | { readonly is: 'begun'; readonly test: string }
  | { readonly is: 'ran'; readonly test: string; readonly ms: number }
  | { readonly is: 'done'; readonly failed: string | null; readonly loaded: boolean };

const root = process.cwd();
let current: Mutant | null = null;
let loaded = false;
let order: readonly string[] = [];
/** Test files of this trial that were begun; the runner remembers those of earlier ones too. */
const queued = new Set<string>();

/** Test files in the order asked for. */
class AsAsked extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const place = ({ moduleId }: TestSpecification) => order.indexOf(moduleId.slice(root.length + 1));
    return [...files].sort((one, other) => place(one) - place(other));
  }
}

const said: Reporter = {
  onTestModuleQueued: (module: TestModule) => {
    queued.add(nameOf(module));
  },
  onTestModuleStart: (module: TestModule) => send({ is: 'begun', test: nameOf(module) }),
  onTestModuleEnd: (module: TestModule) => send({ is: 'ran', test: nameOf(module), ms: module.diagnostic().duration }),
};

function nameOf({ moduleId }: TestModule): string {
  return moduleId.slice(root.length + 1);
}

function send(message: Message): void {
  process.send?.(message);
}

const vitest = await createVitest(
  'test',
  {
    config: 'tests/vitest.config.ts',
    watch: false,
    pool: 'threads',
    isolate: false,
    maxWorkers: 1,
    bail: 1,
    reporters: [said],
    sequence: { sequencer: AsAsked },
  },
  {
    logLevel: 'silent',
    plugins: [
      {
        name: 'mutant',
        enforce: 'pre',
        transform(code: string, id: string) {
          if (current === null || id !== `${root}/${current.file}`) return null;
          loaded = true;
          return applyMutant(current, code);
        },
      },
    ],
  },
);

/** Whether a test failed, and which. */
async function run({ mutant, tests }: Trial): Promise<void> {
  const changed = [current?.file, mutant?.file].filter((file) => file !== undefined);
  current = mutant;
  loaded = false;
  order = tests;
  queued.clear();
  for (const file of changed) vitest.invalidateFile(`${root}/${file}`);
  const project = vitest.getRootProject();
  const specifications = tests.map((test) => project.createSpecification(`${root}/${test}`));
  const { testModules, unhandledErrors } = await vitest.runTestSpecifications(specifications, false);
  const failed = testModules.find((module) => queued.has(nameOf(module)) && module.state() === 'failed');
  const first = failed === undefined ? null : (firstFailure(failed) ?? nameOf(failed));
  send({ is: 'done', failed: first ?? (unhandledErrors.length > 0 ? 'an error outside of tests' : null), loaded });
}

function firstFailure(module: TestModule): string | null {
  for (const test of module.children.allTests('failed')) return `${nameOf(module)}: ${test.fullName}`;
  return null;
}

process.on('message', (trial: Trial) => {
  run(trial).catch((error: unknown) => {
    console.error(error);
    process.exit(70);
  });
});
process.on('disconnect', () => process.exit(0));
