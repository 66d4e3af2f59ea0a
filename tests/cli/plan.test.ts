/** Runs of plan in a world in memory: what is hard to bring about with a real process. */
import { expect, it } from 'vitest';
import { runCli } from '../../src/cli/run.js';
import type { World } from '../../src/cli/world.js';
import { sameThreadExecutor } from '../../src/engine/same-thread.js';
import { type FakeWorld, fakeWorld } from './fake-world.js';
import { bag, tooWide } from './scenes.js';

/** One lay method, and one batch for it. */
const words = ['plan', 'bag.yaml', '--effort', '0.1', '--method', 'open'];

/** A world where Ctrl-C is pressed so often before the search begins. */
function pressing(world: FakeWorld, times: number): World {
  const executor = async (workers: number) => {
    for (let i = 0; i < times; i++) world.interrupt();
    return world.executor(workers);
  };
  return { ...world, executor };
}

/** A world whose threads do not start. */
function withoutThreads(world: FakeWorld): World {
  const executor = async () => {
    throw new Error('threads are\nout of reach');
  };
  return { ...world, executor };
}

it('gives the report as JSON with nothing else on stdout', async () => {
  const world = fakeWorld({ 'bag.yaml': bag });
  expect(await runCli([...words, '--json'], world)).toBe(0);
  const { format, title, lays } = JSON.parse(world.outText());
  expect({ format, title }).toEqual({ format: 'shortlay-report/1', title: 'Oar bag' });
  expect(lays).toHaveLength(1);
  expect(lays[0]).toMatchObject({ material: 'canvas', cloth: 'sailcloth', verified: true, copies: 4, currency: null });
  expect(lays[0].buyCm % 10).toBe(0);
  // 12.00 a metre, by hand.
  expect(lays[0].cost).toBeCloseTo(lays[0].buyCm * 0.12, 9);
  expect(lays[0].files).toEqual(['lay.json', 'svg', 'pdf'].map((ending) => `lays/bag-canvas.${ending}`));
  expect([...world.files.keys()]).toEqual(['bag.yaml', ...lays[0].files]);
});

it('writes over its own lay, but not over one edited by hand or a file of somebody else', async () => {
  const world = fakeWorld({ 'bag.yaml': bag });
  const path = 'lays/bag-canvas.lay.json';
  expect(await runCli(words, world)).toBe(0);
  expect(await runCli([...words, '--seed', '2'], world)).toBe(0);
  const written = Buffer.from(world.files.get(path)!).toString();
  expect(JSON.parse(written).seed).toBe(2);
  const edits = [written.replace(/"pinned":\s*false/, '"pinned": true'), 'notes'];
  for (const edited of edits) {
    expect(edited).not.toBe(written);
    const again = fakeWorld({ 'bag.yaml': bag, [path]: edited });
    expect(await runCli(words, again)).toBe(1);
    expect(again.outText()).toMatch(/^buy /m);
    expect(again.errText()).toContain(`${path}: it was edited by hand`);
    expect(again.errText()).toContain('--out');
    expect([...again.files.keys()]).toEqual(['bag.yaml', path]);
    expect(Buffer.from(again.files.get(path)!).toString()).toBe(edited);
  }
});

it('ends with 130 when it is interrupted before a first lay, and writes nothing', async () => {
  const world = fakeWorld({ 'bag.yaml': bag });
  expect(await runCli(words, pressing(world, 1))).toBe(130);
  expect(world.errText()).toContain('nothing is written');
  expect(world.outText()).toBe('');
  expect([...world.files.keys()]).toEqual(['bag.yaml']);
  expect(world.leftWith()).toBeNull();
});

it('leaves at once at the second Ctrl-C', async () => {
  const world = fakeWorld({ 'bag.yaml': bag });
  await runCli(words, pressing(world, 2));
  expect(world.leftWith()).toBe(130);
});

it('tells our own fault in one line with seed, effort and input, and ends with 70', async () => {
  const world = fakeWorld({ 'bag.yaml': bag });
  expect(await runCli([...words, '--seed', '7'], withoutThreads(world))).toBe(70);
  expect(world.errText()).toMatch(
    /^shortlay: our own fault, not yours: threads are out of reach \(seed 7, effort 0\.1, input sha256 [0-9a-f]{16}\); please report this line\n$/,
  );
  expect([...world.files.keys()]).toEqual(['bag.yaml']);
});

it('shows the stack of our own fault to whoever works on the program', async () => {
  const world = fakeWorld({ 'bag.yaml': bag });
  expect(await runCli(words, { ...withoutThreads(world), developer: true })).toBe(70);
  expect(world.errText()).toMatch(/^\s+at /m);
});

it('reports the lay when the disk is full, with nothing written, and ends with 2', async () => {
  const world = fakeWorld({ 'bag.yaml': bag });
  world.failures.set('makeReady lays/bag-canvas.pdf', 'ENOSPC');
  expect(await runCli([...words, '--json'], world)).toBe(2);
  expect(world.errText()).toContain('lays/bag-canvas.pdf: it cannot be written: no space is left on the disk');
  expect(JSON.parse(world.outText()).lays[0].files).toEqual([]);
  expect([...world.files.keys()]).toEqual(['bag.yaml']);
});

it('sets its report as narrow as the terminal, 40 letters at least', async () => {
  for (const columns of [40, 10, 200]) {
    const world = fakeWorld({ 'bag.yaml': bag });
    await runCli(['check', 'bag.yaml'], { ...world, outColumns: columns });
    const lines = world.outText().split('\n');
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(Math.min(Math.max(columns, 40), 80));
  }
});

it('writes the lays of other materials when one cannot be written', async () => {
  const both = bag.replace('canvas: 2 same way', 'lining: 2 same way').replace('for: canvas', 'for: [canvas, lining]');
  const world = fakeWorld({ 'bag.yaml': both });
  world.failures.set('makeReady lays/bag-canvas.svg', 'ENOSPC');
  expect(await runCli([...words, '--json'], world)).toBe(2);
  const files = ['lay.json', 'svg', 'pdf'].map((ending) => `lays/bag-lining.${ending}`);
  expect([...world.files.keys()]).toEqual(['bag.yaml', ...files]);
  expect(world.errText()).toContain('lays/bag-canvas.svg: it cannot be written');
});

it('ends with 2 when the report itself goes to a full disk', async () => {
  const world = fakeWorld({ 'bag.yaml': bag });
  world.failures.set('outDone ', 'ENOSPC');
  expect(await runCli(words, world)).toBe(2);
  expect(world.errText()).toContain('results cannot be written to where stdout goes: no space is left on the disk');
});

it('ends with 1 on a warning only with --strict', async () => {
  const both = tooWide.replace('cloths:', 'cloths:\n  wide: {for: [canvas, felt], width: 300, usable: 290}');
  const world = fakeWorld({ 'bag.yaml': both });
  const asked = [...words, '--cloth', 'wide', '--method', 'best'];
  // A cloth offered for felt, from which nothing is cut: a warning, and a lay all the same.
  expect(await runCli(asked, world)).toBe(0);
  expect(await runCli([...asked, '--strict'], world)).toBe(1);
});

const lostThreads =
  'note: the threads of the search ended, did not start or did not answer, so it goes on without them, more slowly; the same effort gives the same lay\n';

it.each([
  ['never', Number.POSITIVE_INFINITY, ''],
  ['from the beginning', 0, lostThreads],
  ['in the middle', 3, lostThreads],
])('threads that are lost %s: says so once, and plans all the same', async (_, from, said) => {
  const world = fakeWorld({ 'bag.yaml': bag });
  const own = sameThreadExecutor();
  let asked = 0;
  const executor = async () => ({
    ...own,
    get hasLostThreads() {
      return asked >= from;
    },
    run: (...task: Parameters<typeof own.run>) => {
      asked++;
      return own.run(...task);
    },
  });
  expect(await runCli(words, { ...world, executor })).toBe(0);
  expect(world.errText()).toBe(said);
  expect(world.outText()).toContain('canvas');
});

it('lays several cut lists together, beside the first, and checks the lay against all of them', async () => {
  const cap = bag.replace('Oar bag', 'Cap').replaceAll('[60, 40]', '[20, 20]');
  const world = fakeWorld({ 'boats/bag.yaml': bag, 'cap.yaml': cap.slice(0, cap.indexOf('cloths:')) });
  const plan = ['plan', 'boats/bag.yaml=2', 'cap.yaml', '--effort', '0.1', '--method', 'open'];
  expect(await runCli(plan, world)).toBe(0);
  expect(world.outText()).toMatch(/for +garments 1 and 2: Oar bag\n +garment 3: Cap\n/);
  const path = 'boats/lays/bag-cap-canvas.lay.json';
  expect([...world.files.keys()]).toContain(path);
  expect(await runCli(['check', path, 'boats/bag.yaml', 'cap.yaml'], world)).toBe(0);
  expect(world.outText()).toContain('agrees with boats/bag.yaml and cap.yaml');
  expect(await runCli(['check', path, 'boats/bag.yaml=2', 'cap.yaml=1'], world)).toBe(0);
  const sofar = world.errText();
  expect(await runCli(['check', path, 'boats/bag.yaml', 'cap.yaml=2'], world)).toBe(2);
  expect(world.errText().slice(sofar.length)).toBe(
    `${path}:1:1: error: it is for 1 garment of cap.yaml, not 2 [cut-lists-of-lay]\n  fix: say cap.yaml=1, or plan anew\n`,
  );
  // The cap alone has no cloths, which is no fault of it here.
  for (const alone of ['boats/bag.yaml', 'cap.yaml']) {
    const before = world.errText();
    expect(await runCli(['check', path, alone], world)).toBe(2);
    expect(world.errText().slice(before.length)).toBe(
      `${path}:1:1: error: it was made from 2 cut lists, "Oar bag" and "Cap", and is held against 1 [cut-lists-of-lay]\n  fix: give the files of both of them after the lay, or none to judge it by itself\n`,
    );
  }
});

it('refuses one cut list given twice, together with whatever else is wrong with the files', async () => {
  const world = fakeWorld({ 'bag.yaml': bag });
  expect(await runCli(['plan', 'bag.yaml', 'none.yaml', 'bag.yaml'], world)).toBe(2);
  expect(world.errText()).toContain(
    'bag.yaml: it is given twice [cut-list-twice]\n  fix: for two garments of it say bag.yaml=2',
  );
  expect(world.errText()).toContain('none.yaml: there is no such file');
});

it.each([
  ['bag.yaml=two', '"two" stands'],
  ['bag.yaml=1.5', '"1.5" stands'],
  ['bag.yaml=0', '"0" stands'],
  ['bag.yaml=1001', '"1001" stands'],
  ['bag.yaml=', 'nothing stands'],
  ['none.yml=-1', '"-1" stands'],
  ['list=two', '"two" stands'],
])('says of %s that a whole number of garments is meant', async (typed, found) => {
  const world = fakeWorld({ 'bag.yaml': bag, list: bag });
  const path = typed.slice(0, typed.lastIndexOf('='));
  expect(await runCli(['plan', typed], world)).toBe(2);
  expect(world.errText()).toBe(
    `error: ${typed}: ${found} after the =, expected a whole number of garments from 1 up to 1000 [wrong-count]\n  fix: for two garments of it say ${path}=2\n`,
  );
});

it('says so of a cut list that a lay is held against, too', async () => {
  const world = fakeWorld({ 'bag.yaml': bag });
  expect(await runCli(words, world)).toBe(0);
  const lay = [...world.files.keys()].find((path) => path.endsWith('.lay.json'))!;
  expect(await runCli(['check', lay, 'bag.yaml=two'], world)).toBe(2);
  expect(world.errText()).toContain('"two" stands after the =');
});

it('takes a file by its whole name, also with a = in it', async () => {
  const world = fakeWorld({ 'bag.yaml=two': bag, 'no=where': bag });
  expect(await runCli(['plan', 'bag.yaml=two', ...words.slice(2)], world)).toBe(0);
  for (const missing of ['b=c.yaml', 'bag.yaml=2.yaml']) {
    expect(await runCli(['plan', missing], world)).toBe(2);
    expect(world.errText()).toContain(`error: ${missing}: there is no such file`);
  }
});

it('keeps what is pinned by hand, beside the lay that says so, which is never written over', async () => {
  const world = fakeWorld({ 'bag.yaml': bag });
  const path = 'lays/bag-canvas.lay.json';
  expect(await runCli(words, world)).toBe(0);
  const edited = Buffer.from(world.files.get(path)!)
    .toString()
    .replace(/"pinned":\s*false/, '"pinned": true');
  world.files.set(path, Buffer.from(edited));
  const keep = [...words, '--keep', path];
  expect(await runCli(keep, world)).toBe(2);
  expect(world.errText()).toContain(`${path}:1:1: error: the new lay would be written over it`);
  expect(await runCli([...keep, '--out', 'again', '--seed', '2'], world)).toBe(0);
  const lay = JSON.parse(Buffer.from(world.files.get('again/bag-canvas.lay.json')!).toString());
  const first = JSON.parse(edited);
  const pinnedIn = ({ placements }: { placements: { pinned: boolean }[] }) => placements.filter(({ pinned }) => pinned);
  expect(pinnedIn(lay)).toHaveLength(1);
  expect(lay.copies).toContainEqual({ ...first.copies[0], n: expect.any(Number) });
  expect(Buffer.from(world.files.get(path)!).toString()).toBe(edited);
  expect(await runCli(['check', 'again/bag-canvas.lay.json', 'bag.yaml'], world)).toBe(0);
});

it('says so when the lay to keep is not there, or has nothing pinned', async () => {
  const world = fakeWorld({ 'bag.yaml': bag });
  expect(await runCli([...words, '--keep', 'none.lay.json'], world)).toBe(2);
  expect(world.errText()).toContain('none.lay.json: there is no such file');
  expect(await runCli(words, world)).toBe(0);
  expect(await runCli([...words, '--keep', 'lays/bag-canvas.lay.json', '--out', 'b'], world)).toBe(2);
  expect(world.errText()).toContain('nothing is pinned in it');
});
