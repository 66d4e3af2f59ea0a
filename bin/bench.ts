/**
 * `npm run bench -- FILE... [--effort N] [--seconds N] [--seed N] [--workers N] [--out FILE] [--json]`: runs the search
 * on strip-packing instances and prints a row for each, verified by the checker's arithmetic. A developer's tool.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { type Instance, judgeSolution, poseInstance } from '../src/bench/instance.js';
import { search } from '../src/engine/search.js';
import { threadExecutor } from '../src/pool/pool.js';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    effort: { type: 'string', default: '20' },
    seconds: { type: 'string' },
    seed: { type: 'string', default: '1' },
    workers: { type: 'string', default: '2' },
    out: { type: 'string' },
    json: { type: 'boolean', default: false },
  },
});

const rows = [];
for (const file of positionals) {
  const instance = JSON.parse(readFileSync(file, 'utf8')) as Instance;
  const posed = poseInstance(instance);
  const executor = threadExecutor(Number(values.workers));
  const startedAt = process.hrtime.bigint();
  const clock = () => Number(process.hrtime.bigint() - startedAt) / 1e9;
  let first: number | null = null;
  const found = await search(posed.problem, {
    seed: Number(values.seed),
    effort: Number(values.effort),
    seconds: values.seconds === undefined ? null : Number(values.seconds),
    clock,
    executor,
    onProgress: ({ lengthUm }) => {
      first ??= lengthUm;
    },
    interrupted: () => false,
  });
  const seconds = Math.round(clock() * 10) / 10;
  await executor.close();
  if (found.solution === null) throw new Error(`${file}: nothing found`);
  const judged = judgeSolution(instance, posed, found.solution);
  if (!judged.verified) process.exitCode = 1;
  rows.push({
    instance: instance.name,
    ...judged,
    bound: found.bound.um / posed.scale,
    seconds,
    effort: found.effort,
    seed: Number(values.seed),
  });
  if (values.json) continue;
  const firstPercent = (judged.utilisationPercent * found.solution.lengthUm) / (first ?? found.solution.lengthUm);
  const columns = [
    instance.name.padEnd(10),
    `first ${firstPercent.toFixed(2)} %`,
    `now ${judged.utilisationPercent.toFixed(2)} %`,
    `length ${judged.length.toFixed(3)}`,
    `effort ${found.effort}`,
    `${seconds} s`,
    judged.verified ? 'verified' : 'NOT VERIFIED',
  ];
  process.stdout.write(`${columns.join('  ')}\n`);
}
const text = `${JSON.stringify(rows, null, 1)}\n`;
if (values.json) process.stdout.write(text);
if (values.out !== undefined) writeFileSync(values.out, text);
