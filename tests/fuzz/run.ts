/** One run of the program on some files: in this process with a world in memory, or as a process in a fresh folder. */
import { type ChildProcess, spawn } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { runCli } from '../../src/cli/run.js';
import { fakeWorld } from '../cli/fake-world.js';
import type { Files } from './scene.js';
import { type Hang, type Patience, watchProcess } from './watch.js';

/** What came of it. */
export interface Ran {
  /** null = ended by a signal. */
  readonly exitCode: number | null;
  readonly signal: string | null;
  /** Why it was ended by the fuzz; null = it was not. */
  readonly hang: Hang | null;
  readonly out: string;
  readonly err: string;
  /** All files afterwards. */
  readonly files: Map<string, Uint8Array>;
  /** Files that are no business of ours: in the folder for temporary files. */
  readonly leftBehind: readonly string[];
  /** Of the processor. */
  readonly seconds: number;
  /** null = not measured (in this process all runs are mixed). */
  readonly megabytes: number | null;
}

/** Runs it in this process. */
export async function runInMemory(words: readonly string[], files: Files): Promise<Ran> {
  const world = fakeWorld();
  for (const [path, bytes] of files) {
    world.files.set(path, bytes);
    for (let folder = dirname(path); !world.folders.has(folder); folder = dirname(folder)) world.folders.add(folder);
  }
  world.folders.add('.');
  const before = process.cpuUsage();
  let exitCode: number;
  try {
    exitCode = await runCli(words, world);
  } catch (error) {
    return { ...nothing, exitCode: 70, err: `it throws: ${String(error)}`, files: world.files };
  }
  const { user, system } = process.cpuUsage(before);
  return {
    ...nothing,
    exitCode,
    out: world.outText(),
    err: world.errText(),
    files: world.files,
    seconds: (user + system) / 1e6,
  };
}

const nothing = { signal: null, hang: null, out: '', err: '', leftBehind: [], seconds: 0, megabytes: null };

const built = fileURLToPath(new URL('../../dist/', import.meta.url));
// Of this file, when it is compiled itself, the program lies beside it.
const programRoot = built.endsWith('dist/dist/') ? built.slice(0, -'dist/'.length) : built;
const measure = `${programRoot}tests/fuzz/measure.js`;
/** In `npm test` the fuzz is not compiled, and memory is not measured. */
const loadedFirst = existsSync(measure) ? ['--import', `file://${measure}`] : [];

/** Four minutes of sleep, or of the processor. */
const patience: Patience = { everyMs: 10_000, looksMost: 24, secondsMost: 240 };

/** Runs it as a process of its own; once more when somebody else has ended it, such as a machine short of memory. */
export async function runAsProcess(words: readonly string[], files: Files, interruptMs?: number): Promise<Ran> {
  const ran = await runInFolder(words, files, interruptMs);
  const isByOthers = ran.hang === null && (ran.signal === 'SIGKILL' || ran.signal === 'SIGTERM');
  return isByOthers ? runInFolder(words, files, interruptMs) : ran;
}

async function runInFolder(words: readonly string[], files: Files, interruptMs: number | undefined): Promise<Ran> {
  const root = mkdtempSync(join(tmpdir(), 'shortlay-fuzz-'));
  try {
    const [folder, temporary] = [join(root, 'work'), join(root, 'tmp')];
    mkdirSync(folder);
    mkdirSync(temporary);
    for (const [path, bytes] of files) {
      mkdirSync(dirname(join(folder, path)), { recursive: true });
      writeFileSync(join(folder, path), bytes);
    }
    const ended = await runChild(words, folder, temporary, interruptMs);
    return { ...ended, files: filesBelow(folder), leftBehind: [...filesBelow(temporary).keys()] };
  } finally {
    rmSync(root, { recursive: true });
  }
}

function runChild(
  words: readonly string[],
  cwd: string,
  temporary: string,
  interruptMs: number | undefined,
): Promise<Omit<Ran, 'files' | 'leftBehind'>> {
  const child = spawn(process.execPath, [...loadedFirst, `${programRoot}bin/shortlay.js`, ...words], {
    cwd,
    env: { ...process.env, TMPDIR: temporary },
    stdio: ['ignore', 'pipe', 'pipe', 'pipe'],
  });
  const [out, err, measured] = [textOf(child, 1), textOf(child, 2), textOf(child, 3)];
  let hang: Hang | null = null;
  const endWatch = watchProcess(child.pid ?? 0, patience, (told) => {
    hang = told;
    child.kill('SIGKILL');
  });
  const interrupt = interruptMs === undefined ? undefined : setTimeout(() => child.kill('SIGINT'), interruptMs);
  return new Promise((resolve, reject) => {
    child.on('error', (error) => {
      endWatch();
      clearTimeout(interrupt);
      reject(error);
    });
    child.on('close', (exitCode, signal) => {
      endWatch();
      clearTimeout(interrupt);
      const figures = /\{[^{}]*\}/.exec(measured());
      const { seconds, megabytes } =
        figures === null
          ? { seconds: 0, megabytes: null }
          : (JSON.parse(figures[0]) as { seconds: number; megabytes: number });
      resolve({ exitCode, signal, hang, out: out(), err: err(), seconds, megabytes });
    });
  });
}

function textOf(child: ChildProcess, stream: number): () => string {
  const chunks: Buffer[] = [];
  (child.stdio[stream] as NodeJS.ReadableStream).on('data', (chunk: Buffer) => chunks.push(chunk));
  return () => Buffer.concat(chunks).toString('utf8');
}

function filesBelow(folder: string): Map<string, Uint8Array> {
  const names = (readdirSync(folder, { recursive: true }) as string[]).sort();
  const files = names.filter((name) => statSync(join(folder, name)).isFile());
  return new Map(files.map((name) => [name, readFileSync(join(folder, name))]));
}
