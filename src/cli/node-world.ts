/** The real world: files, terminal, signals, clock and threads of Node. */
import { lstat, mkdir, readFile, stat } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import type { Executor } from '../engine/types.js';
import { makeFileReady } from './ready-file.js';
import { errorCode, type Standing, type World } from './world.js';

/** The world as Node shows it. */
export function nodeWorld(): World {
  const out = writerOf(process.stdout);
  return {
    look,
    read: (path) => readFile(path),
    makeReady: makeFileReady,
    makeFolder: async (path) => void (await mkdir(path, { recursive: true })),
    clock: () => performance.now() / 1000,
    out: out.write,
    outDone: out.done,
    outColumns: process.stdout.isTTY ? process.stdout.columns || null : null,
    err: writerOf(process.stderr).write,
    get errTerminal() {
      // A dumb terminal cannot go back to the beginning of a line.
      const canRedraw = process.stderr.isTTY && process.env.TERM !== 'dumb';
      return canRedraw ? { columns: process.stderr.columns || 80 } : null;
    },
    cores: availableParallelism(),
    sourceDate: process.env.SOURCE_DATE_EPOCH ?? null,
    developer: (process.env.SHORTLAY_DEVELOPER ?? '') !== '',
    onInterrupt,
    leave: (exitCode) => process.exit(exitCode),
    version: readVersion,
    executor: startThreads,
  };
}

async function look(path: string): Promise<Standing | null> {
  try {
    const found = await stat(path, { bigint: true });
    const kind = found.isFile() ? 'file' : found.isDirectory() ? 'folder' : 'other';
    return { kind, bytes: Number(found.size), identity: `${found.dev}:${found.ino}` };
  } catch (error) {
    if (errorCode(error) !== 'ENOENT') throw error;
    const link = await lstat(path, { bigint: true }).catch(() => null);
    return link === null ? null : { kind: 'dead link', bytes: 0, identity: `${link.dev}:${link.ino}` };
  }
}

/** Writes to a stream until its reader goes away (`| head -1`) or it fails; after that, says nothing. */
function writerOf(stream: NodeJS.WriteStream): { write: (text: string) => void; done: () => Promise<void> } {
  let failure: Error | null = null;
  stream.on('error', (error) => {
    failure ??= error;
  });
  return {
    write: (text) => {
      if (failure === null) stream.write(text);
    },
    done: async () => {
      // What was written before has then been taken, or has failed.
      await new Promise<void>((resolve) => stream.write('', () => setImmediate(resolve)));
      if (failure !== null && errorCode(failure) !== 'EPIPE') throw failure;
    },
  };
}

const endings = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
const handlers: (() => void)[] = [];

function callLast(): void {
  handlers.at(-1)?.();
}

function onInterrupt(handler: () => void): () => void {
  if (handlers.length === 0) for (const signal of endings) process.on(signal, callLast);
  handlers.push(handler);
  return () => {
    handlers.splice(handlers.lastIndexOf(handler), 1);
    if (handlers.length === 0) for (const signal of endings) process.off(signal, callLast);
  };
}

async function readVersion(): Promise<string> {
  // dist/src/cli -> the folder of package.json; the same depth under src when run from source.
  for (const up of ['../../package.json', '../../../package.json']) {
    const text = await readFile(new URL(up, import.meta.url), 'utf8').catch(() => null);
    if (text !== null) return String((JSON.parse(text) as { version: unknown }).version);
  }
  return 'unknown';
}

async function startThreads(workers: number): Promise<Executor> {
  const { threadExecutor } = await import('../pool/pool.js');
  return threadExecutor(workers);
}
