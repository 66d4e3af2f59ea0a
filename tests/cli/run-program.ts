/** The real program, built, as a child process. */
import { type ChildProcess, type ChildProcessWithoutNullStreams, spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

export const builtRoot = fileURLToPath(new URL('../../dist/', import.meta.url));
export const boatyard = fileURLToPath(new URL('../../fixtures/boatyard/', import.meta.url));

export interface Ended {
  readonly exitCode: number | null;
  readonly out: string;
  readonly err: string;
}

/** What it is run with, where that is not as usual. */
export interface How {
  /** Options of Node.js itself. */
  readonly nodeWords?: readonly string[];
  readonly environment?: Readonly<Record<string, string>>;
  /** A command that runs it, with its own options. */
  readonly through?: readonly string[];
}

/** @param meddle is handed the running child, for signals and closed pipes */
export function runProgram(
  words: readonly string[],
  cwd: string,
  meddle: (child: ChildProcess) => void = () => undefined,
  { nodeWords = [], environment = {}, through = [] }: How = {},
): Promise<Ended> {
  const [command, ...rest] = [...through, process.execPath, ...nodeWords, `${builtRoot}bin/shortlay.js`, ...words];
  return runChild(spawn(command!, rest, { cwd, env: { ...process.env, ...environment } }), meddle);
}

/** A line for the shell, for streams that only it can close. */
export function runShell(line: string, cwd: string): Promise<Ended> {
  return runChild(spawn('/bin/sh', ['-c', line], { cwd }));
}

function runChild(
  child: ChildProcessWithoutNullStreams,
  meddle: (child: ChildProcess) => void = () => undefined,
): Promise<Ended> {
  let out = '';
  let err = '';
  child.stdout.on('data', (chunk) => {
    out += chunk;
  });
  child.stderr.on('data', (chunk) => {
    err += chunk;
  });
  meddle(child);
  return new Promise((resolve) => {
    child.on('close', (exitCode) => resolve({ exitCode, out, err }));
  });
}
