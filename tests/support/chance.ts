/**
 * Random tests draw the same cases in every run, so that a run can be repeated; `TEST_SEED=n` draws others, which is
 * how new faults are looked for.
 */
import fc from 'fast-check';

fc.configureGlobal({ seed: Number(process.env.TEST_SEED ?? 20_261_125) });
