/**
 * Kills the real program at random moments, again and again in one folder, and looks at what is left each time. Half of
 * the moments are drawn over the whole run, the other half from the first sign in the folder that something is written.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, utimesSync, watch, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { createRandom, type Random } from '../../src/engine/random.js';
import { builtRoot } from './run-program.js';

/** What was seen of so many kills; every one of them was looked at. */
export interface Tally {
  readonly kills: number;
  /** Runs that were over before their moment came; not counted as kills. */
  readonly tooLate: number;
  readonly byCommand: Record<string, number>;
  /** After the first sign of writing in the folder. */
  readonly whileWriting: number;
  /** A file that was being written, or ready and not yet in its place, was left behind. */
  readonly leftParts: number;
  /** Some files of the run were new, others still old. */
  readonly half: number;
  /** Of those, the files of one and the same lay: its lay file new and a drawing of it old, or the reverse. */
  readonly halfLay: number;
  /** What should never be; empty. */
  readonly broken: string[];
}

/** A command, one of whose variants is run; each writes the same files with other content. */
interface Scenario {
  readonly name: string;
  readonly variants: readonly (readonly string[])[];
  /** Where it writes. */
  readonly folder: 'out' | 'hand';
}

/** Each name with all contents that may stand there. */
type Allowed = Map<string, Buffer[]>;

interface Reference {
  readonly scenario: Scenario;
  /** By variant: each file that it writes. */
  readonly files: readonly ReadonlyMap<string, Buffer>[];
  readonly seconds: number;
}

/** One piece for each material, on a cloth with a repeat: little is searched, so that most of a run is not search. */
const materials = ['canvas', 'lining', 'felt'];
export const smallList = `title: Oar bag
units: cm
drawn: cut
pieces:
${materials.map((name, i) => `  Side ${name}: {rectangle: [${40 + 10 * i}, 40], cut: {${name}: 1}}\n`).join('')}cloths:
  sailcloth: {for: [${materials.join(', ')}], width: 150, usable: 147, repeat: {along: 10, start: [2, 2]}}
`;
const quick = ['--effort', '0.1', '--method', 'open', '--workers', '1', '--out', 'out', '--quiet'];
/** Another seed changes the lay files, other paper the drawings. */
const otherwise = (...words: string[]) => [
  [...words, '--seed', '1', '--page', 'a4'],
  [...words, '--seed', '2', '--page', 'letter'],
];
const plan = ['plan', 'bag.yaml', ...quick];
/** Two plans of it, from `bag.yaml` into `out`, that write the same files, each of them another way. */
export const smallPlans = otherwise(...plan);
const print = (what: string, format: string) =>
  ['cm', 'in'].map((units) => [
    ...['print', 'kept.lay.json', '--what', what, '--format', format],
    ...['--units', units, '--out', 'out'],
  ]);

const scenarios: readonly Scenario[] = [
  { name: 'plan', folder: 'out', variants: smallPlans },
  {
    name: 'compare',
    folder: 'out',
    variants: otherwise('compare', 'bag.yaml', '--widths', '140,150', '--material', 'felt', ...quick),
  },
  { name: 'print of a drawing', folder: 'out', variants: print('plan', 'svg') },
  { name: 'print of a list', folder: 'out', variants: print('chalk', 'csv') },
  { name: 'check --write', folder: 'hand', variants: [['check', 'hand/bag-canvas.lay.json', '--write']] },
];
/** How often each scenario comes, in twentieths; plan and compare take long. */
const shares = [3, 1, 3, 6, 7];
const chances = shares.flatMap((share, i) => Array.from({ length: share }, () => i));

/** @param folder an empty one */
export async function killRuns(folder: string, times: number, seed: number, tell = (_: Tally) => {}): Promise<Tally> {
  const references = await prepare(folder);
  const allowed: Allowed = new Map();
  for (const { files } of references) {
    for (const [name, bytes] of files.flatMap((each) => [...each])) {
      allowed.set(name, [...(allowed.get(name) ?? []), bytes]);
    }
  }
  const edited = readFileSync(join(folder, 'edited.lay.json'));
  allowed.get('hand/bag-canvas.lay.json')!.push(edited);
  const inputs = new Map(['bag.yaml', 'kept.lay.json'].map((name) => [name, readFileSync(join(folder, name))]));
  const tally = {
    ...{ kills: 0, tooLate: 0, whileWriting: 0, leftParts: 0, half: 0, halfLay: 0 },
    byCommand: {} as Record<string, number>,
    broken: [] as string[],
  };
  for (let run = 0; tally.kills < times; run++) {
    const random = createRandom(seed, run);
    const { scenario, files, seconds } = references[chances[random.below(chances.length)]!]!;
    const variant = random.below(scenario.variants.length);
    writeFileSync(join(folder, 'hand/bag-canvas.lay.json'), edited);
    const before = stateOf(folder);
    const parts = partsIn(folder).length;
    const ended = await killedRun(folder, scenario, variant, seconds, random);
    if (ended === 'too late') {
      tally.tooLate += 1;
      continue;
    }
    const after = stateOf(folder);
    tally.kills += 1;
    tally.byCommand[scenario.name] = (tally.byCommand[scenario.name] ?? 0) + 1;
    if (ended === 'while writing') tally.whileWriting += 1;
    if (partsIn(folder).length > parts) tally.leftParts += 1;
    const written = files[variant]!;
    const isNew = (name: string) => after.get(name)?.equals(written.get(name)!) === true;
    // Files that the two variants write alike, or that were new before, tell nothing.
    const telling = [...written.keys()].filter((name) => before.get(name)?.equals(written.get(name)!) !== true);
    const isHalf = (names: readonly string[]) => new Set(names.map(isNew)).size > 1;
    if (isHalf(telling)) tally.half += 1;
    const layOf = (name: string) => name.replace(/\.(lay\.json|svg|pdf)$/, '');
    if (telling.some((name) => isHalf(telling.filter((other) => layOf(other) === layOf(name))))) tally.halfLay += 1;
    tally.broken.push(...faultsOf(folder, before, after, allowed, inputs).map((fault) => `run ${run}: ${fault}`));
    tell(tally);
  }
  tally.broken.push(...(await faultsOfNextRuns(folder, references)));
  return tally;
}

/** A folder with everything that the commands read, and what each of them writes when nobody kills it. */
async function prepare(folder: string): Promise<Reference[]> {
  writeFileSync(join(folder, 'bag.yaml'), smallList);
  for (const name of ['out', 'hand']) mkdirSync(join(folder, name));
  await runToEnd(folder, [...plan, '--seed', '3']);
  const lay = readFileSync(join(folder, 'out/bag-canvas.lay.json'), 'utf8');
  writeFileSync(join(folder, 'kept.lay.json'), lay);
  // Pinned by hand and laid out in another way: check --write puts it into the program's own layout.
  const edited = JSON.parse(lay.replace('"pinned": false', '"pinned": true'));
  writeFileSync(join(folder, 'edited.lay.json'), JSON.stringify(edited));
  const references: Reference[] = [];
  for (const scenario of scenarios) {
    const files: Map<string, Buffer>[] = [];
    const begin = performance.now();
    for (const words of scenario.variants) {
      const clean = join(folder, `clean-${references.length}-${files.length}`);
      mkdirSync(join(clean, scenario.folder), { recursive: true });
      for (const name of ['bag.yaml', 'kept.lay.json']) cpSync(join(folder, name), join(clean, name));
      if (scenario.folder === 'hand') cpSync(join(folder, 'edited.lay.json'), join(clean, 'hand/bag-canvas.lay.json'));
      await runToEnd(clean, words);
      const names = readdirSync(join(clean, scenario.folder)).map((name) => `${scenario.folder}/${name}`);
      files.push(new Map(names.map((name) => [name, readFileSync(join(clean, name))])));
      for (const name of names.filter((each) => each.endsWith('.lay.json'))) await runToEnd(clean, ['check', name]);
    }
    references.push({ scenario, files, seconds: (performance.now() - begin) / 1000 / scenario.variants.length });
  }
  return references;
}

function start(folder: string, words: readonly string[]): ChildProcess {
  return spawn(process.execPath, [`${builtRoot}bin/shortlay.js`, ...words], {
    cwd: folder,
    stdio: 'ignore',
  });
}

async function runToEnd(folder: string, words: readonly string[]): Promise<void> {
  const child = start(folder, words);
  const exitCode = await new Promise((resolve) => child.on('close', resolve));
  if (exitCode !== 0) throw new Error(`${words.join(' ')} ended with ${exitCode}`);
}

/** Events that a watcher sees of one file: made, written, renamed away, renamed to. */
const eventsOfFile = 4;

async function killedRun(
  folder: string,
  { folder: target, variants }: Scenario,
  variant: number,
  seconds: number,
  random: Random,
): Promise<'too late' | 'before writing' | 'while writing'> {
  const words = variants[variant]!;
  const child = start(folder, words);
  let events = 0;
  const waitsForWriting = random.below(2) === 0;
  const most = eventsOfFile * (words[0] === 'plan' ? 3 * materials.length : words[0] === 'compare' ? 4 : 1);
  const enough = 1 + random.below(most);
  const watcher = watch(join(folder, target), () => {
    events += 1;
    if (waitsForWriting && events === enough) child.kill('SIGKILL');
  });
  const after = (seconds * 1200 * random.below(1000)) / 1000;
  const timer = waitsForWriting ? null : setTimeout(() => child.kill('SIGKILL'), after);
  const signal = await new Promise((resolve) => child.on('close', (_, by) => resolve(by)));
  if (timer !== null) clearTimeout(timer);
  // What the watcher has still to tell comes before this.
  await new Promise((resolve) => setTimeout(resolve, 5));
  watcher.close();
  if (signal !== 'SIGKILL') return 'too late';
  return events > 0 ? 'while writing' : 'before writing';
}

const isPart = (name: string) => /^\.shortlay-[0-9a-f]{16}\.part$/.test(name);

function partsIn(folder: string): string[] {
  return ['out', 'hand'].flatMap((each) =>
    readdirSync(join(folder, each))
      .filter(isPart)
      .map((name) => join(folder, each, name)),
  );
}

/** Everything that could be taken for a result. */
function stateOf(folder: string): Map<string, Buffer> {
  const names = ['out', 'hand'].flatMap((each) =>
    readdirSync(join(folder, each))
      .filter((name) => !isPart(name))
      .map((name) => `${each}/${name}`),
  );
  return new Map(names.map((name) => [name, readFileSync(join(folder, name))]));
}

/** Each file is, byte for byte, what an undisturbed run writes; none is missing that was there; no input is touched. */
function faultsOf(
  folder: string,
  before: ReadonlyMap<string, Buffer>,
  after: ReadonlyMap<string, Buffer>,
  allowed: Allowed,
  inputs: ReadonlyMap<string, Buffer>,
): string[] {
  const faults: string[] = [];
  for (const name of before.keys()) if (!after.has(name)) faults.push(`${name} is gone`);
  for (const [name, bytes] of after) {
    const known = allowed.get(name);
    // What was there to begin with may still be: nobody has written there yet.
    const isOld = before.get(name)?.equals(bytes) === true;
    if (!isOld && known?.some((each) => each.equals(bytes)) !== true) faults.push(`${name} is not whole`);
  }
  for (const [name, bytes] of inputs) {
    if (!existsSync(join(folder, name)) || !readFileSync(join(folder, name)).equals(bytes)) {
      faults.push(`the input ${name} was changed`);
    }
  }
  return faults;
}

/** After all kills: each command ends well in that folder, writes just what it should, and takes old leavings away. */
async function faultsOfNextRuns(folder: string, references: readonly Reference[]): Promise<string[]> {
  const longAgo = Date.now() / 1000 - 7200;
  for (const part of partsIn(folder)) utimesSync(part, longAgo, longAgo);
  const faults: string[] = [];
  for (const { scenario, files } of references) {
    await runToEnd(folder, scenario.variants[0]!);
    const state = stateOf(folder);
    for (const [name, bytes] of files[0]!) {
      if (state.get(name)?.equals(bytes) !== true) faults.push(`${name} is not what an undisturbed run writes`);
    }
  }
  return [...faults, ...partsIn(folder).map((part) => `${part} was not taken away`)];
}
