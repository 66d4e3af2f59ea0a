/** Plays a scene and says what must not be: of exit codes, files, lays, words, time and memory. */
import { join } from 'node:path';
import type { Lay } from '../../src/lay/types.js';
import { readXml } from '../support/drawings.js';
import { secondVerdict } from '../support/second-checker.js';
import { damagedLay } from './damages.js';
import { Dice } from './dice.js';
import { type Ran, runAsProcess, runInMemory } from './run.js';
import type { DamageStep, Files, PinStep, RunStep, Scene, Violation } from './scene.js';
import { count, keepMost, type Tally } from './tally.js';

/** Seconds of the processor that one run may take, and memory that a process may have. */
export const most = { seconds: 60, megabytes: 1024 } as const;

export interface JudgeOptions {
  readonly tally: Tally;
  /** Every lay that is written goes through `check` as a process of its own too. */
  readonly checksApart: boolean;
}

interface Stage {
  readonly options: JudgeOptions;
  readonly scene: Scene;
  /** As they are now. */
  files: Map<string, Uint8Array>;
  readonly violations: Violation[];
  /** Steps so far, for a scene that shows a violation. */
  done: number;
}

/** All violations of a scene. */
export async function judgeScene(scene: Scene, options: JudgeOptions): Promise<readonly Violation[]> {
  const stage: Stage = { options, scene, files: new Map(scene.files), violations: [], done: 0 };
  for (const command of commandsOf(scene)) count(options.tally, `cases with ${command}`);
  for (const step of scene.steps) {
    stage.done += 1;
    if (step.do === 'run') await playRun(stage, step);
    else if (step.do === 'pin') playPin(stage, step);
    else await playDamage(stage, step);
    if (stage.violations.length > 0) break;
  }
  return stage.violations;
}

/** Each once: a case is counted under every command that it tries. */
function commandsOf({ steps }: Scene): ReadonlySet<string> {
  const things = { pin: 'places kept', damage: 'a lay damaged' };
  return new Set(steps.map((step) => (step.do === 'run' ? (step.words[0] ?? 'nothing') : things[step.do])));
}

function tell(stage: Stage, kind: string, what: string, scene?: Scene): void {
  const own = { files: stage.scene.files, steps: stage.scene.steps.slice(0, stage.done) };
  stage.violations.push({ kind, what: what.slice(0, 600), scene: scene ?? own });
}

function firstLay(files: Files): string | null {
  return [...files.keys()].filter((path) => path.endsWith('.lay.json')).sort()[0] ?? null;
}

async function playRun(stage: Stage, step: RunStep): Promise<void> {
  const lay = firstLay(stage.files);
  if (lay === null && step.words.includes('@lay')) return;
  if (step.words.includes('pinned.lay.json') && !stage.files.has('pinned.lay.json')) return;
  const words = step.words.map((word) => (word === '@lay' ? lay! : word));
  const { tally } = stage.options;
  const before = stage.files;
  const asProcess = step.as === 'memory' ? null : await inTime(() => runAsProcess(words, before, step.interruptMs));
  const inMemory = step.as === 'process' ? null : await inTime(() => runInMemory(words, before));
  count(tally, `runs of ${words[0] ?? 'nothing'}`);
  if (asProcess !== null) count(tally, 'processes started');
  if (asProcess !== null && inMemory !== null) compareRuns(stage, words, inMemory, asProcess);
  const ran = asProcess ?? inMemory!;
  for (const one of [asProcess, inMemory]) if (one !== null) judgeRun(stage, step, words, one);
  count(tally, `exit code ${ran.exitCode ?? ran.signal}`);
  if (ran.exitCode === 0 && words[0] === 'print') count(tally, 'prints');
  stage.files = ran.files;
  if (stage.violations.length > 0) return;
  await judgeWritten(stage, words, before);
  judgeVerdict(stage, step, words, ran);
}

/** Where others crowd the caches the processor takes longer too: only what takes too long twice is told. */
async function inTime(run: () => Promise<Ran>): Promise<Ran> {
  const ran = await run();
  return ran.seconds > most.seconds ? run() : ran;
}

/** In this process and as one of its own, with threads, the same comes of it. */
function compareRuns(stage: Stage, words: readonly string[], inMemory: Ran, asProcess: Ran): void {
  if (inMemory.exitCode !== asProcess.exitCode)
    tell(stage, 'differs', `${words.join(' ')}: ${inMemory.exitCode} in memory, ${asProcess.exitCode} as a process`);
  for (const path of new Set([...inMemory.files.keys(), ...asProcess.files.keys()])) {
    const [one, other] = [inMemory.files.get(path), asProcess.files.get(path)];
    if (one === undefined || other === undefined || !Buffer.from(one).equals(other))
      tell(stage, 'differs', `${words.join(' ')}: ${path} is not the same with threads`);
  }
}

function judgeRun(stage: Stage, step: RunStep, words: readonly string[], ran: Ran): void {
  const { exitCode, signal, hang, out, err, seconds, megabytes, leftBehind } = ran;
  const said = words.join(' ');
  const { tally } = stage.options;
  keepMost(tally, 'longest run, seconds of the processor', seconds);
  if (megabytes !== null) keepMost(tally, 'largest memory of a process, MB', megabytes);
  // Before the program has begun to listen, Ctrl-C ends it as it ends any process: 130 to the shell as well.
  const isEndedEarly = signal === 'SIGINT' && step.interruptMs !== undefined;
  if (hang !== null) tell(stage, 'hang', `${said}: it ${hang}`);
  else if (signal !== null && !isEndedEarly) tell(stage, 'signal', `${said}: ended by ${signal}`);
  else if (exitCode === 70) tell(stage, 'own-fault', `${err.trim().split('\n').at(-1)} (${said})`);
  else if (signal === null && ![0, 1, 2].includes(exitCode!) && !(exitCode === 130 && step.interruptMs !== undefined))
    tell(stage, 'exit-code', `${said}: ${exitCode}`);
  if (exitCode === 2 && err.trim() === '') tell(stage, 'silent', `${said}: 2 without a word`);
  if (exitCode === 1 && `${out}${err}`.trim() === '') tell(stage, 'silent', `${said}: 1 without a word`);
  if (seconds > most.seconds) tell(stage, 'time', `${said}: ${seconds.toFixed(0)} s`);
  if (megabytes !== null && megabytes > most.megabytes) tell(stage, 'memory', `${said}: ${megabytes.toFixed(0)} MB`);
  if (leftBehind.length > 0) tell(stage, 'left-behind', `${said}: ${leftBehind.join(', ')}`);
  judgeWords(stage, said, `${out}\n${err}`);
  if (words.includes('--json') && (exitCode === 0 || exitCode === 1)) judgeJson(stage, said, out);
}

/** Words that no sentence of ours holds, unless the input has them. */
const slips = /\bNaN\b|\bundefined\b|\bInfinity\b|\[object |^\s+at \S+ \(|is only -\d/m;

function judgeWords(stage: Stage, said: string, text: string): void {
  const slip = slips.exec(text);
  if (slip === null) return;
  const isTheirs = [...stage.files.values()].some((bytes) => slips.test(Buffer.from(bytes).toString('utf8')));
  if (!isTheirs && !slips.test(said)) tell(stage, 'words', `${said}: "${slip[0]}" in ${around(text, slip.index)}`);
}

function around(text: string, index: number): string {
  return text.slice(Math.max(0, index - 60), index + 60).replace(/\s+/g, ' ');
}

function judgeJson(stage: Stage, said: string, out: string): void {
  if (out.trim() === '') return;
  try {
    JSON.parse(out);
  } catch (error) {
    tell(stage, 'json', `${said}: ${String(error)}`);
  }
}

const ourNames = /(\.lay\.json|\.svg|\.pdf|\.dxf|\.csv|\.yaml)$/;

/** Inputs as they were, new files whole and of our kinds, new lays right. */
async function judgeWritten(stage: Stage, words: readonly string[], before: Files): Promise<void> {
  const mayWrite = words.includes('--write') ? words[1] : null;
  for (const path of stage.scene.files.keys()) {
    if (path === mayWrite) continue;
    const [was, now] = [before.get(path), stage.files.get(path)];
    if (now === undefined || !Buffer.from(now).equals(was!))
      tell(stage, 'input-changed', `${words.join(' ')}: ${path}`);
  }
  const isSearch = words[0] === 'plan' || words[0] === 'compare';
  const lists = isSearch && !words.some((word) => changesCloth.test(word)) ? listsOf(words) : [];
  for (const [path, bytes] of stage.files) {
    const old = before.get(path);
    if (old !== undefined && Buffer.from(old).equals(bytes)) continue;
    const problem = problemOf(path, Buffer.from(bytes));
    if (problem !== null) tell(stage, 'bad-file', `${words.join(' ')}: ${path}: ${problem}`);
    if (path.endsWith('.lay.json')) await judgeLay(stage, path, lists);
    if (stage.violations.length > 0) return;
  }
}

/** What makes the cloth of a lay another one than that of its cut list. */
const changesCloth = /^(--(width|widths|length|nap)|tube)$/;

/** The cut lists of a run, each with the garments that it is planned for. */
function listsOf(words: readonly string[]): string[] {
  const first = words.slice(1).findIndex((word) => word.startsWith('--'));
  const lists = words.slice(1, first < 0 ? undefined : first + 1);
  const at = words.indexOf('--garments');
  if (at < 0) return lists;
  const times = Number(words[at + 1]);
  return lists.map((list) => {
    const [, path = '', count = '1'] = /^(.*?)(?:=(\d+))?$/s.exec(list) ?? [];
    return `${path}=${times * Number(count)}`;
  });
}

/** Why an output is not what its name says, or null. */
function problemOf(path: string, bytes: Buffer): string | null {
  if (!ourNames.test(path)) return 'no file of ours';
  const text = bytes.toString('latin1');
  if (path.endsWith('.pdf')) return /^%PDF-/.test(text) && /%%EOF\s*$/.test(text) ? null : 'no whole PDF';
  if (path.endsWith('.dxf')) return /\bEOF\s*$/.test(text) ? null : 'no whole DXF';
  if (!path.endsWith('.svg')) return bytes.length > 0 ? null : 'empty';
  try {
    readXml(bytes.toString('utf8'));
    return null;
  } catch (error) {
    return String(error);
  }
}

async function judgeLay(stage: Stage, path: string, lists: readonly string[]): Promise<void> {
  const { tally, checksApart } = stage.options;
  count(tally, 'lays written and checked');
  const text = Buffer.from(stage.files.get(path)!).toString('utf8');
  const second = secondVerdict(text);
  if (second.doubtful.length > 0) count(tally, 'lays near a limit');
  if (second.wrong.length > 0) tell(stage, 'second-refuses', `${path}: ${second.wrong.slice(0, 3).join('; ')}`);
  const words = ['check', path, ...lists];
  const run = checksApart ? runAsProcess : runInMemory;
  if (checksApart) count(tally, 'processes started');
  const { exitCode, out, err, megabytes } = await run(words, stage.files);
  if (megabytes !== null) keepMost(tally, 'largest memory of a process, MB', megabytes);
  if (exitCode !== 0) tell(stage, 'written-refused', `${words.join(' ')}: ${exitCode} ${(out + err).slice(0, 400)}`);
  const methods = [...text.matchAll(/"method": ?"([a-z ]+)"/g)].map(([, method]) => method!);
  count(tally, `lays written: ${methods.length > 1 ? 'combination' : methods[0]}`);
}

/** Where a lay was checked by itself, both checkers say the same. */
function judgeVerdict(stage: Stage, step: RunStep, words: readonly string[], ran: Ran): void {
  if (step.refusedFor !== undefined && ran.exitCode === 0)
    tell(stage, 'damage-accepted', `${words.join(' ')}: ${step.refusedFor}`);
  if (words[0] !== 'check' || words[1] === undefined || words.includes('--write')) return;
  const text = Buffer.from(stage.files.get(words[1]) ?? []).toString('utf8');
  if (!/"format"\s*:\s*"shortlay-lay\//.test(text) || ran.exitCode === 2) return;
  const { wrong, doubtful } = secondVerdict(text);
  if (ran.exitCode === 0 && wrong.length > 0)
    tell(stage, 'damage-accepted', `${words.join(' ')}: ${wrong.slice(0, 3).join('; ')}`);
  if (ran.exitCode === 1 && words.length === 2 && wrong.length + doubtful.length === 0)
    tell(stage, 'good-refused', `${words.join(' ')}: ${ran.out.slice(0, 400)}`);
}

function playPin(stage: Stage, { dice: seed }: PinStep): void {
  const path = firstLay(stage.files);
  if (path === null) return;
  const dice = new Dice(seed);
  const text = Buffer.from(stage.files.get(path)!).toString('utf8');
  const pinned = text.replaceAll(/"pinned": ?false/g, (found) => (dice.chance(40) ? '"pinned": true' : found));
  stage.files.set('pinned.lay.json', Buffer.from(pinned, 'utf8'));
}

async function playDamage(stage: Stage, { dice: seeds, cutLists }: DamageStep): Promise<void> {
  const path = firstLay(stage.files);
  if (path === null) return;
  const lay = JSON.parse(Buffer.from(stage.files.get(path)!).toString('utf8')) as Lay;
  for (const seed of seeds) {
    const damaged = damagedLay(lay, new Dice(seed));
    if (damaged === null) continue;
    const { what, certainty } = damaged;
    const name = join('damaged', 'damaged.lay.json');
    const files = new Map(stage.scene.files).set(
      name,
      Buffer.from(`${JSON.stringify(damaged.lay, null, 1)}\n`, 'utf8'),
    );
    const words = ['check', name, ...(certainty === 'list' ? cutLists : [])];
    const step: RunStep = {
      do: 'run',
      words,
      as: 'memory',
      ...(certainty === 'judge' ? {} : { refusedFor: what }),
    };
    const scene: Scene = { files, steps: [step] };
    const own: Stage = { options: { ...stage.options, tally: new Map() }, scene, files, violations: [], done: 1 };
    await playRun(own, step);
    const isRefused = !own.options.tally.has('exit code 0');
    count(stage.options.tally, isRefused ? 'damaged lays refused' : 'damaged lays that are legal, and accepted');
    for (const violation of own.violations) tell(stage, violation.kind, `${what}: ${violation.what}`, scene);
    if (stage.violations.length > 0) return;
  }
}
