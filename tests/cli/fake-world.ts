/** A world in memory, whose files can be made to fail. */

import type { World } from '../../src/cli/world.js';
import { sameThreadExecutor } from '../../src/engine/same-thread.js';

export interface FakeWorld extends World {
  readonly files: Map<string, Uint8Array>;
  readonly folders: Set<string>;
  /** Written beside their places, neither put there nor dropped. */
  readonly ready: Set<string>;
  /** `read a.yaml` -> the code with which it fails; likewise look, makeFolder, makeReady, putInPlace and `outDone `. */
  readonly failures: Map<string, string>;
  readonly outText: () => string;
  readonly errText: () => string;
  /** Presses Ctrl-C. */
  readonly interrupt: () => void;
  readonly leftWith: () => number | null;
}

/** The error that the operating system would give. */
function systemError(code: string): Error {
  return Object.assign(new Error(`${code}: something long about the system`), { code });
}

export function fakeWorld(files: Readonly<Record<string, string>> = {}, folders: readonly string[] = []): FakeWorld {
  const content = new Map(Object.entries(files).map(([path, text]) => [path, Buffer.from(text) as Uint8Array]));
  const known = new Set(folders);
  const failures = new Map<string, string>();
  const ready = new Set<string>();
  const handlers: (() => void)[] = [];
  let out = '';
  let err = '';
  let left: number | null = null;
  const mayFail = (deed: string, path: string): void => {
    const code = failures.get(`${deed} ${path}`);
    if (code !== undefined) throw systemError(code);
  };
  return {
    files: content,
    folders: known,
    ready,
    failures,
    outText: () => out,
    errText: () => err,
    interrupt: () => handlers.at(-1)?.(),
    leftWith: () => left,
    async look(path) {
      mayFail('look', path);
      if (known.has(path)) return { kind: 'folder', bytes: 0, identity: path };
      const bytes = content.get(path);
      return bytes === undefined ? null : { kind: 'file', bytes: bytes.length, identity: path };
    },
    async read(path) {
      mayFail('read', path);
      const bytes = content.get(path);
      if (bytes === undefined) throw systemError('ENOENT');
      return bytes;
    },
    async makeReady(path, bytes) {
      mayFail('makeReady', path);
      ready.add(path);
      return {
        async putInPlace() {
          mayFail('putInPlace', path);
          ready.delete(path);
          content.set(path, bytes);
        },
        async drop() {
          ready.delete(path);
        },
      };
    },
    async makeFolder(path) {
      mayFail('makeFolder', path);
      known.add(path);
    },
    clock: () => 0,
    out: (text) => {
      out += text;
    },
    async outDone() {
      mayFail('outDone', '');
    },
    outColumns: null,
    err: (text) => {
      err += text;
    },
    errTerminal: null,
    cores: 2,
    sourceDate: null,
    developer: false,
    onInterrupt(handler) {
      handlers.push(handler);
      return () => handlers.splice(handlers.lastIndexOf(handler), 1);
    },
    leave(exitCode) {
      left = exitCode;
    },
    version: async () => '1.2.3',
    executor: async () => sameThreadExecutor(),
  };
}
