/** The real world: files, terminal, signals, clock and threads of Node. */
import { mkdir, readFile, stat, writeFile } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import type { Executor } from '../engine/types.js';
import { errorCode, type Standing, type World } from './world.js';

/** The world as Node shows it. */
export function nodeWorld(): World {
  return {
    look,
    read: (path) => readFile(path),
    write: writeWhole,
    makeFolder: async (path) => void (await mkdir(path, { recursive: true })),
    clock: () => performance.now() / 1000,
    out: writerOf(process.stdout),
    err: writerOf(process.stderr),
    errTerminal: process.stderr.isTTY ? { columns: process.stderr.columns || 80 } : null,
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
    if (errorCode(error) === 'ENOENT') return null;
    throw error;
  }
}

/**
 * Temporary file beside the target, then rename. The library does not look at how much of its one write the disk
 * took, so the room is filled once beforehand: a full disk shows there, while the old file still stands.
 */
async function writeWhole(path: string, bytes: Uint8Array): Promise<void> {
  const { default: writeFileAtomic } = await import('write-file-atomic');
  await writeFileAtomic(path, Buffer.from(bytes), {
    tmpfileCreated: ((temporary: string) => writeFile(temporary, bytes, { flag: 'r+' })) as (temporary: string) => void,
  });
}

/** Writes to a stream until its reader goes away (`| head -1`); after that, says nothing. */
function writerOf(stream: NodeJS.WriteStream): (text: string) => void {
  let open = true;
  stream.on('error', () => {
    open = false;
  });
  return (text) => {
    if (open) stream.write(text);
  };
}

function onInterrupt(handler: () => void): () => void {
  const signals = ['SIGINT', 'SIGTERM'] as const;
  for (const signal of signals) process.on(signal, handler);
  return () => {
    for (const signal of signals) process.off(signal, handler);
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
