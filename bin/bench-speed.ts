/**
 * `npm run bench:speed -- FILE.json... [--rounds N (5)]`: how fast the search is on strip-packing instances. A developer's
 * tool; equal hashes in two runs mean equal work, so only then compare their times.
 */
import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import type { Instance } from '../src/bench/instance.js';
import { labelOf, readNumber } from '../src/bench/settings.js';
import { measureSpeed } from '../src/bench/speed.js';
import { threadExecutor } from '../src/pool/pool.js';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { rounds: { type: 'string', default: '5' } },
});
const rounds = readNumber('rounds', values.rounds, true);
const tools = { startExecutor: threadExecutor, clock: () => performance.now() / 1000 };

process.stdout.write('| instance | measure | median | least | most | unit | hash |\n|---|---|---|---|---|---|---|\n');
for (const file of positionals) {
  const instance = JSON.parse(readFileSync(file, 'utf8')) as Instance;
  for (const { name, unit, median, least, most, hash } of await measureSpeed(instance, rounds, tools)) {
    const figures = [median, least, most].map((figure) => figure.toFixed(2)).join(' | ');
    process.stdout.write(`| ${labelOf(file)} | ${name} | ${figures} | ${unit} | ${hash ?? '-'} |\n`);
  }
}
