/**
 * `npm run bench -- FILE...`: runs the search on strip-packing instances (.json) and cut lists (.yaml), verifies each
 * lay and prints a table row for each subject. A developer's tool.
 *
 * --seeds 1,2,3   --effort N (20) or --seconds N, or both   --workers N (2)   --times N: every quantity N times
 * --seconds 20,60: one run, judged after 20 s and after 60 s, with a row for each
 * --out FILE.json: everything, with placements   --append FILE.md: the rows, dated, into the page's table
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { poseGarment } from '../src/bench/garment.js';
import { type Instance, instanceSubject } from '../src/bench/instance.js';
import { measure } from '../src/bench/run.js';
import { labelOf, readLimits, readNumber, readSeeds } from '../src/bench/settings.js';
import { appendRows, tableHead, tableLine } from '../src/bench/table.js';
import type { Row, Subject } from '../src/bench/types.js';
import { formatFaults } from '../src/diagnostics/faults.js';
import { threadExecutor } from '../src/pool/pool.js';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    seeds: { type: 'string', default: '1' },
    effort: { type: 'string' },
    seconds: { type: 'string' },
    workers: { type: 'string', default: '2' },
    times: { type: 'string', default: '1' },
    out: { type: 'string' },
    append: { type: 'string' },
  },
});
const settings = {
  seeds: readSeeds(values.seeds),
  limits: readLimits(values.effort, values.seconds),
  workers: readNumber('workers', values.workers, true),
};
const times = readNumber('times', values.times, true);
const tools = { startExecutor: threadExecutor, clock: () => performance.now() / 1000 };
const date = new Date().toISOString().slice(0, 10);

function subjectsOf(file: string): readonly Subject[] {
  const text = readFileSync(file, 'utf8');
  if (file.endsWith('.json')) return [instanceSubject(JSON.parse(text) as Instance, times)];
  const posed = poseGarment(labelOf(file), text, times);
  if (!posed.ok) throw new Error(formatFaults(posed.faults));
  for (const { name, why } of posed.value.skipped) process.stderr.write(`left out: ${name}: ${why}\n`);
  return posed.value.subjects;
}

const rows: Row[] = [];
for (const subject of positionals.flatMap(subjectsOf)) {
  const measured = await measure(subject, settings, tools);
  if (rows.at(-1)?.sort !== subject.sort) process.stdout.write(tableHead(subject.sort));
  for (const row of measured) {
    process.stdout.write(tableLine(row, date));
    if (row.runs.some(({ verified }) => !verified)) process.exitCode = 1;
  }
  rows.push(...measured);
  if (values.out !== undefined) writeFileSync(values.out, `${JSON.stringify(rows, null, 1)}\n`);
  if (values.append !== undefined) {
    const page = existsSync(values.append) ? readFileSync(values.append, 'utf8') : '';
    writeFileSync(values.append, appendRows(page, measured, date));
  }
}
