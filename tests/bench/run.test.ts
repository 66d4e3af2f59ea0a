import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { poseGarment } from '../../src/bench/garment.js';
import { type Instance, instanceSubject } from '../../src/bench/instance.js';
import { measure } from '../../src/bench/run.js';
import { labelOf, readLimits, readNumber, readSeeds } from '../../src/bench/settings.js';
import { appendRows, tableHead, tableLine } from '../../src/bench/table.js';
import type { Row, Subject } from '../../src/bench/types.js';
import { sameThreadExecutor } from '../../src/engine/same-thread.js';
import { search } from '../support/search.js';

function read(path: string): string {
  return readFileSync(fileURLToPath(new URL(`../../fixtures/${path}`, import.meta.url)), 'utf8');
}

function instance(name: string, times: number): Subject {
  return instanceSubject(JSON.parse(read(`instances/${name}.json`)) as Instance, times);
}

function garments(path: string, times: number): readonly Subject[] {
  const posed = poseGarment(labelOf(path), read(path), times);
  if (!posed.ok) throw new Error('the fixture has no faults');
  return posed.value.subjects;
}

const small = { seeds: [1, 2], limits: [{ effort: 0.25, seconds: null }], workers: 1 };

/** A clock that shows the next second at each look. */
function tools() {
  let now = 0;
  return { startExecutor: () => sameThreadExecutor(), clock: () => ++now };
}

const [vests] = garments('garments/vests.yaml', 1).filter(({ name }) => name.endsWith('/ lengthwise fold'));

test('a garment: every run is verified, no shorter than its bound, and repeats', async () => {
  const [row] = (await measure(vests!, small, tools())) as [Row];
  expect(row.copies).toBe(5);
  expect(row.runs.map(({ seed }) => seed)).toEqual([1, 2]);
  for (const run of row.runs) {
    expect(run.verified).toBe(true);
    expect(run.length).toBeGreaterThanOrEqual(row.bound);
    expect(run.first.length).toBeGreaterThanOrEqual(run.length);
    expect(run.placements.map(({ piece }) => piece).sort()).toEqual([
      'Back',
      'Front',
      'Front',
      'Side pocket',
      'Side pocket',
    ]);
  }
  expect(await measure(vests!, small, tools())).toEqual([row]);
});

test('a garment whose copy was moved by a micrometre is not verified', async () => {
  const options = {
    effort: 0.25,
    seconds: null,
    seed: 1,
    clock: () => 0,
    onProgress: () => undefined,
    interrupted: () => false,
  };
  const found = await search(vests!.problem, { ...options, executor: sameThreadExecutor() });
  const solution = found.solution!;
  expect(vests!.judge(solution, found, 1).verified).toBe(true);
  // The half back lies on the fold: off it by a micrometre it is another piece.
  const spots = solution.spots.map((spot) => {
    const { yMin, yMax } = vests!.problem.kinds[spot.kind]!.choices[spot.choice]!;
    return yMin === yMax ? { ...spot, y: spot.y + 1 } : spot;
  });
  expect(vests!.judge({ ...solution, spots }, found, 1).verified).toBe(false);
});

test('each cloth and lay method is a subject of its own, and what cannot be laid is left out with a reason', () => {
  const posed = poseGarment('kit-bags', read('garments/kit-bags.yaml'), 1);
  if (!posed.ok) throw new Error('the fixture has no faults');
  expect(posed.value.subjects.map(({ name }) => name)).toEqual(['kit-bags / canvas / canvas 115 / open']);
  expect(posed.value.skipped.map(({ name }) => name)).toEqual(['kit-bags / canvas / canvas 115 / lengthwise fold']);
  expect(garments('boatyard/sail-bag.yaml', 1).map(({ name }) => name)).toContain(
    'sail-bag / canvas / canvas 115 / open',
  );
});

test('a cut list with faults answers with them', () => {
  expect(poseGarment('broken', read('faults/zero-area.yaml'), 1).ok).toBe(false);
});

test('multiplied quantities: as many copies, twice the area', async () => {
  const [once, twice] = [instance('dighe1', 1), instance('dighe1', 2)];
  expect([once.copies, twice.copies, twice.name]).toEqual([16, 32, 'dighe1 x2']);
  const [row] = (await measure(twice, { ...small, seeds: [1] }, tools())) as [Row];
  const [run] = row.runs;
  expect(run!.verified).toBe(true);
  expect(run!.placements.length).toBe(32);
  // dighe1 fills 100 x 100 (ESICUP 2d_irregular), so two of it fill 200 x 100.
  expect((run!.utilisationPercent * run!.length) / 100).toBeCloseTo(200, 6);
  const [vest] = garments('garments/vests.yaml', 3);
  expect(vest!.copies).toBe(15);
  expect(vest!.name).toMatch(/ x3$/);
});

test('a run judged at two limits gives what two runs give', async () => {
  const subject = instance('shapes0', 1);
  const at = (effort: number) => ({ effort, seconds: null });
  const both = await measure(subject, { ...small, seeds: [3], limits: [at(0.25), at(0.75)] }, tools());
  const words = (row: Row) => row.runs.map(({ effort, placements, status }) => [effort, placements, status]);
  for (const [l, effort] of [0.25, 0.75].entries()) {
    const [alone] = (await measure(subject, { ...small, seeds: [3], limits: [at(effort)] }, tools())) as [Row];
    expect(words(both[l]!)).toEqual(words(alone));
  }
  expect(both[0]!.runs[0]!.effort).toBeLessThan(both[1]!.runs[0]!.effort);
  // The clock shows the next second at each look: these are looks, not lengths of time.
  const timed = await measure(subject, { ...small, limits: readLimits(undefined, '6,2') }, tools());
  expect(timed.map(({ limits }) => limits.seconds)).toEqual([2, 6]);
  expect(timed[0]!.runs[0]!.effort).toBeLessThan(timed[1]!.runs[0]!.effort);
});

test('rows go to the end of the table of their sort, and a missing table opens at the end of the page', async () => {
  const [strip] = (await measure(instance('dighe1', 1), small, tools())) as [Row];
  const [garment] = (await measure(vests!, { ...small, seeds: [1] }, tools())) as [Row];
  const page = appendRows('# Runs\n\nWords.\n', [strip, garment], '2026-11-25');
  const again = appendRows(`${page}\nMore words.\n`, [strip], '2026-11-26');
  expect(again).toBe(
    `# Runs\n\nWords.\n\n${tableHead('instance')}${tableLine(strip, '2026-11-25')}${tableLine(strip, '2026-11-26')}\n` +
      `${tableHead('garment')}${tableLine(garment, '2026-11-25')}\nMore words.\n`,
  );
  const cells = tableHead('instance')
    .split('\n')
    .map((line) => line.split('|').length);
  expect(tableLine(strip, '2026-11-25').split('|').length).toBe(cells[0]);
  expect(cells[1]).toBe(cells[0]);
  const each = strip.runs.map(({ utilisationPercent }) => utilisationPercent.toFixed(2)).join(', ');
  expect(tableLine(strip, '2026-11-25')).toContain(`| 2026-11-25 | dighe1 | 16 | effort 0.25 | 1 | 1, 2 | ${each} |`);
});

test('numbers of the command line', () => {
  expect(readSeeds('1,2,30')).toEqual([1, 2, 30]);
  expect(readNumber('seconds', '2.5', false)).toBe(2.5);
  expect(readLimits(undefined, undefined)).toEqual([{ effort: 20, seconds: null }]);
  expect(readLimits('4', '60,20')).toEqual([
    { effort: 4, seconds: 20 },
    { effort: 4, seconds: 60 },
  ]);
  expect(() => readLimits(undefined, '20,')).toThrow('--seconds');
  expect(() => readSeeds('1,,2')).toThrow('--seeds');
  expect(() => readNumber('workers', '1.5', true)).toThrow('--workers takes a whole number above 0, not "1.5"');
  expect(() => readNumber('effort', '-1', false)).toThrow('--effort');
  expect(() => readNumber('effort', 'Infinity', false)).toThrow('--effort');
});
