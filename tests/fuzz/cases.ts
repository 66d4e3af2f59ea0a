/** The cases of the fuzz: number k of a seed is always the same scene, whatever was tried before. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { LayName } from '../../src/cloth/types.js';
import { foldedRow, openRow, tightRow } from '../support/damage.js';
import { drawingsBeside, type RandomList, randomCutList, type Wishes } from './cut-lists.js';
import { Dice } from './dice.js';
import { mutated } from './mutate.js';
import { runInMemory } from './run.js';
import { filesOf, type RunStep, type Scene, type Step } from './scene.js';
import { someMethod } from './suits.js';
import { count, type Tally } from './tally.js';

/** What a case is drawn from. */
export interface Sources {
  readonly cutLists: readonly Source[];
  readonly drawings: readonly Source[];
  /** The text of a lay of one of the cut lists; planned when it is first asked for. */
  lay(i: number): Promise<Uint8Array>;
  /** Whether a cut list is free of faults. */
  isGood(text: string): Promise<boolean>;
}

interface Source {
  readonly name: string;
  readonly bytes: Uint8Array;
}

const here = fileURLToPath(new URL('.', import.meta.url));
/** Compiled, this file lies under dist/. */
const root = `${here.slice(0, here.lastIndexOf('tests/fuzz')).replace(/dist\/$/, '')}`;
export const fixtures = `${root}fixtures/`;

function sourcesIn(folder: string, ending: RegExp): Source[] {
  return readdirSync(fixtures + folder)
    .filter((name) => ending.test(name))
    .sort()
    .map((name) => ({ name, bytes: readFileSync(`${fixtures}${folder}/${name}`) }));
}

/** Cut lists whose lays are spoilt, each planned in one way. */
const planned = [
  ['boatyard/sail-bag.yaml', '--cloth', 'canvas 150', '--method', 'open'],
  ['boatyard/harbour-blouse.yaml', '--material', 'interfacing', '--method', 'lengthwise-fold'],
  ['boatyard/harbour-blouse.yaml', '--material', 'shell', '--method', 'open'],
  ['boatyard/slipway-apron.yaml', '--material', 'shell', '--method', 'double-fold'],
  ['garments/tool-rolls.yaml', '--method', 'partial-fold'],
] as const;

/** Lays that need no planning. */
const ready = [openRow, foldedRow, tightRow];

/** Real files. */
export function readSources(): Sources {
  const lays = new Map<number, Promise<Uint8Array>>();
  const lay = async (i: number): Promise<Uint8Array> => {
    if (i < ready.length) return Buffer.from(`${JSON.stringify(ready[i])}\n`, 'utf8');
    const [list, ...words] = planned[i - ready.length]!;
    const files = new Map([['list.yaml', readFileSync(fixtures + list)]]);
    const ran = await runInMemory(['plan', 'list.yaml', '--effort', '0.01', '--quiet', ...words], files);
    const [, bytes] = [...ran.files].find(([path]) => path.endsWith('.lay.json')) ?? [];
    if (bytes === undefined) throw new Error(`no lay of ${list}: ${ran.out}${ran.err}`);
    return bytes;
  };
  return {
    cutLists: ['boatyard', 'garments', 'faults', 'chart'].flatMap((folder) => sourcesIn(folder, /\.yaml$/)),
    drawings: sourcesIn('drawings', /\.(svg|dxf)$/),
    lay: (i) => {
      if (!lays.has(i)) lays.set(i, lay(i));
      return lays.get(i)!;
    },
    isGood: async (text) => (await runInMemory(['check', 'a.yaml'], filesOf({ 'a.yaml': text }))).exitCode === 0,
  };
}

/** Case number `k` of a seed. */
export async function makeCase(seed: number, k: number, sources: Sources, tally: Tally): Promise<Scene> {
  const dice = new Dice(seed, k);
  const kind = dice.below(100);
  if (kind < 34) return listCase(dice, sources, tally);
  if (kind < 52) return damageCase(dice, sources, tally);
  if (kind < 66) return mutatedList(dice, sources, tally);
  if (kind < 74) return manySpoilt(dice, sources, tally);
  if (kind < 86) return mutatedDrawing(dice, sources, tally);
  return mutatedLay(dice, sources, tally);
}

/** So many of a hundred runs are processes too. */
const processShare = 8;

function run(words: readonly string[], as: RunStep['as'] = 'memory'): RunStep {
  return { do: 'run', words, as };
}

function besides({ drawings }: Sources): Map<string, Uint8Array> {
  const named = drawings.filter(({ name }) => (drawingsBeside as readonly string[]).includes(name));
  return new Map(named.map(({ name, bytes }) => [name, bytes]));
}

/** A random cut list that is free of faults, if one of so many is. */
async function goodCutList(dice: Dice, { isGood }: Sources, tries: number, wishes: Wishes): Promise<RandomList> {
  for (let i = 1; ; i++) {
    const list = randomCutList(dice, wishes);
    if (i >= tries || (await isGood(list.text))) return list;
  }
}

async function listCase(dice: Dice, sources: Sources, tally: Tally): Promise<Scene> {
  count(tally, 'files tried: random cut lists');
  const method = dice.chance(80) ? someMethod(dice) : null;
  const list = dice.chance(18)
    ? randomCutList(dice, { withDrawings: true, method })
    : await goodCutList(dice, sources, 3, { method });
  const texts = [list.text];
  if (dice.chance(14)) {
    const other = await goodCutList(dice, sources, 3, { method, materials: list.materials });
    texts.push(dice.chance(75) ? other.textWithoutCloths : other.text);
  }
  const names = texts.map((_, i) => listName(i));
  const files = filesOf(Object.fromEntries(texts.map((text, i) => [names[i]!, text])));
  if (texts.some((text) => /\.(svg|dxf)/.test(text))) for (const [k, v] of besides(sources)) files.set(k, v);
  const as = dice.chance(processShare) ? 'both' : 'memory';
  const steps: Step[] = [run(['check', names[0]!, ...(dice.chance(10) ? ['--strict'] : [])])];
  const what = dice.below(100);
  if (what < 72) steps.push(...planSteps(dice, names, list, method, as));
  else if (what < 84) steps.push(run(['compare', ...names, ...compareWords(dice, method)], as));
  else if (what < 92) steps.push(run(['draw', names[0]!, ...(dice.chance(30) ? ['--page', 'letter'] : [])], as));
  else steps.push(run(['print', names[0]!, '--what', 'pieces', ...sheetWords(dice, ['pdf', 'svg', 'dxf'])], as));
  if (what < 84 && dice.chance(60)) steps.push(printStep(dice, dice.chance(processShare) ? 'process' : 'memory'));
  return { files, steps };
}

function listName(i: number): string {
  return ['cover.yaml', 'second cap.yaml'][i]!;
}

function planSteps(
  dice: Dice,
  names: readonly string[],
  list: RandomList,
  method: LayName | null,
  as: RunStep['as'],
): Step[] {
  const counted = names.map((name) => (dice.chance(12) ? `${name}=2` : name));
  if (dice.chance(4)) {
    // Ended by hand, at a moment that may lie before, in or after the search.
    const words = ['plan', ...counted, '--effort', '30', '--workers', '2'];
    return [{ ...run(words, 'process'), interruptMs: dice.pick([150, 300, 450, 700, 1_200, 2_500]) }];
  }
  const steps: Step[] = [run(['plan', ...counted, ...planWords(dice, list, method)], as)];
  if (dice.chance(method === null || keepable.includes(method) ? 25 : 5)) {
    steps.push({ do: 'pin', dice: dice.below(1_000_000) });
    steps.push(run(['plan', ...counted, '--keep', 'pinned.lay.json', '--out', 'again', '--effort', '0.05']));
  }
  return steps;
}

/** Lays of which something can be kept. */
const keepable: readonly LayName[] = ['open', 'lengthwise fold', 'partial fold', 'double fold', 'tube'];

const methods = [
  'open',
  'lengthwise-fold',
  'partial-fold',
  'double-fold',
  'tube',
  'crosswise-fold',
  'crosswise-cut-and-turned',
  'combination',
  'best',
];

function searchWords(dice: Dice, method: LayName | null): string[] {
  const words = ['--effort', dice.pick(['0.01', '0.02', '0.05', '0.1', '0.25'])];
  const maybe = (percent: number, ...more: string[]) => {
    if (dice.chance(percent)) words.push(...more);
  };
  maybe(40, '--seed', String(dice.below(1_000)));
  if (method === null || dice.chance(10)) maybe(30, '--method', dice.pick(methods));
  else maybe(50, '--method', inWords(method));
  maybe(6, '--length', dice.pick(['80', '1.5 m', '40 in', '12 m']));
  maybe(8, '--nap', dice.pick(['one-way', 'each-garment', 'none']));
  maybe(8, '--garments', dice.pick(['2', '3']));
  maybe(15, '--json');
  maybe(15, '--quiet');
  maybe(8, '--strict');
  maybe(6, '--page', 'letter');
  maybe(10, '--workers', dice.pick(['1', '2', '3']));
  maybe(2, dice.pick(['--seconds', '--nap', '--colour', '-x']), dice.pick(['0', 'x', '']));
  return words;
}

/** As the command line has it. */
function inWords(method: LayName): string {
  return method.replaceAll(' ', '-');
}

function planWords(dice: Dice, { materials, cloths }: RandomList, method: LayName | null): string[] {
  const words = searchWords(dice, method);
  if (dice.chance(8)) words.push('--width', dice.pick(['70', '110', '1.4 m', '45 in']));
  if (dice.chance(10)) words.push('--advise');
  if (dice.chance(6)) words.push('--material', dice.pick([...materials, 'felt']));
  if (dice.chance(6)) words.push('--cloth', dice.pick([...cloths, 'felt']));
  return words;
}

function compareWords(dice: Dice, method: LayName | null): string[] {
  const words = searchWords(dice, method);
  if (dice.chance(60)) words.push('--widths', dice.pick(['90,150', '110', '36..40 in', '100..110']));
  if (dice.chance(15)) words.push('--step', dice.pick(['10', '4 in', '25']));
  return words;
}

function sheetWords(dice: Dice, formats: readonly string[], isPage = false): string[] {
  const words: string[] = [];
  const sheets = ['a4', 'a3', 'a0', 'letter', 'tabloid'];
  const rolls = ['roll:90', 'roll:36inx3m', 'roll:15'];
  if (dice.chance(60)) words.push('--sheet', dice.pick(isPage && !dice.chance(5) ? sheets : [...sheets, ...rolls]));
  if (dice.chance(60)) words.push('--format', dice.pick(formats));
  return words;
}

function printStep(dice: Dice, as: RunStep['as']): RunStep {
  const what = dice.pick(['plan', 'chalk', 'marker', 'projector'] as const);
  const all = {
    plan: ['pdf', 'svg'],
    chalk: ['pdf', 'svg', 'csv'],
    marker: ['pdf', 'svg', 'dxf'],
    projector: ['pdf', 'svg'],
  };
  const formats = dice.chance(10) ? ['dxf', 'csv'] : all[what];
  const words = ['print', '@lay', '--what', what, ...sheetWords(dice, formats, what === 'plan' || what === 'chalk')];
  if (dice.chance(30)) words.push('--wrong-side');
  if (dice.chance(40)) words.push('--units', dice.pick(['cm', 'mm', 'in']));
  if (dice.chance(20)) words.push('--out', 'paper');
  return run(words, as);
}

async function damageCase(dice: Dice, sources: Sources, tally: Tally): Promise<Scene> {
  count(tally, 'files tried: random cut lists whose lay is damaged');
  const method = someMethod(dice);
  const list = await goodCutList(dice, sources, 4, { method });
  const garments = dice.chance(15) ? 'cover.yaml=2' : 'cover.yaml';
  const words = ['plan', garments, '--effort', '0.02', '--quiet'];
  if (dice.chance(60)) words.push('--method', inWords(method));
  const damages = Array.from({ length: 60 }, () => dice.below(1_000_000));
  const steps: Step[] = [run(words), { do: 'damage', dice: damages, cutLists: ['cover.yaml'] }];
  return { files: filesOf({ 'cover.yaml': list.text }), steps };
}

function mutatedList(dice: Dice, sources: Sources, tally: Tally): Scene {
  count(tally, 'files tried: cut lists spoilt');
  const source = dice.chance(30)
    ? { name: 'cover.yaml', bytes: Buffer.from(randomCutList(dice, { withDrawings: true }).text, 'utf8') }
    : dice.pick(sources.cutLists);
  const files = new Map([['list.yaml', mutated(source.bytes, dice)], ...besides(sources)]);
  const as = dice.chance(processShare) ? 'process' : 'memory';
  const next = dice.below(10);
  const steps = [run(['check', 'list.yaml'], as)];
  const one = dice.chance(75) ? ['--method', dice.pick(methods)] : [];
  if (next < 6) steps.push(run(['plan', 'list.yaml', '--effort', '0.01', '--quiet', ...one], as));
  else if (next < 7) steps.push(run(['compare', 'list.yaml', '--effort', '0.01', '--quiet', '--method', 'open'], as));
  else if (next < 8) steps.push(run(['draw', 'list.yaml'], as));
  else if (next < 9)
    steps.push(run(['print', 'list.yaml', '--what', 'pieces', ...sheetWords(dice, ['pdf', 'dxf'])], as));
  return { files, steps };
}

function mutatedDrawing(dice: Dice, sources: Sources, tally: Tally): Scene {
  count(tally, 'files tried: drawings spoilt');
  const { name, bytes } = dice.pick(sources.drawings);
  const files = new Map([[name, mutated(bytes, dice)]]);
  const as = dice.chance(processShare) ? 'process' : 'memory';
  if (dice.chance(50)) {
    const begun = name.replace(/\.\w+$/, '.yaml');
    const words = ['import', name, ...(dice.chance(30) ? ['--units', dice.pick(['mm', 'in'])] : [])];
    return { files, steps: [run(words, as), run(['check', begun]), run(['draw', begun])] };
  }
  const shape = name.endsWith('.svg') ? `svg: {file: ${name}}, grain: A-B` : `dxf: {file: ${name}, piece: 1}`;
  const list = `title: Locker\nunits: cm\ndrawn: net\npieces:\n  Drawn: {${shape}, cut: {shell: 2 same way}, allowance: 1}\ncloths:\n  drill: {for: shell, width: 150, usable: 147}\n`;
  for (const [path, text] of filesOf({ 'list.yaml': list })) files.set(path, text);
  return { files, steps: [run(['check', 'list.yaml'], as), run(['plan', 'list.yaml', '--effort', '0.01', '--quiet'])] };
}

/** Many spoilt files that are only read: the quickest way to find a reader that stumbles. */
async function manySpoilt(dice: Dice, sources: Sources, tally: Tally): Promise<Scene> {
  const files = new Map<string, Uint8Array>();
  const steps: Step[] = [];
  for (let i = 0; i < 40; i++) {
    const kind = dice.below(10);
    if (kind < 6) {
      const { bytes } = dice.pick(sources.cutLists);
      files.set(`list-${i}.yaml`, mutated(bytes, dice));
      steps.push(run(['check', `list-${i}.yaml`]));
    } else if (kind < 8) {
      const { name, bytes } = dice.pick(sources.drawings);
      const drawing = `drawing-${i}${name.slice(name.lastIndexOf('.'))}`;
      files.set(drawing, mutated(bytes, dice));
      steps.push(run(['import', drawing]));
    } else {
      files.set(`lay-${i}.json`, mutated(await sources.lay(dice.below(ready.length)), dice));
      steps.push(run(['check', `lay-${i}.json`]));
    }
  }
  count(tally, 'files tried: spoilt and only read', steps.length);
  return { files, steps };
}

async function mutatedLay(dice: Dice, sources: Sources, tally: Tally): Promise<Scene> {
  count(tally, 'files tried: lay files spoilt');
  const bytes = await sources.lay(dice.below(dice.chance(50) ? ready.length : ready.length + planned.length));
  const files = new Map([['spoilt.lay.json', mutated(bytes, dice)]]);
  const as = dice.chance(processShare) ? 'process' : 'memory';
  const steps = [run(['check', 'spoilt.lay.json'], as)];
  if (dice.chance(40)) steps.push(run(['check', 'spoilt.lay.json', '--write'], as));
  if (dice.chance(50)) steps.push(printStep(dice, as));
  return { files, steps };
}
