/**
 * Everything outside the program that the command line touches, behind one interface, so that a test can hand in a
 * world with a full disk or a file nobody may read. Paths are as the user wrote them.
 */
import type { Executor } from '../engine/types.js';

/** What stands at a path. */
export interface Standing {
  /** A link is what it leads to; one that leads nowhere is its own kind. */
  readonly kind: 'file' | 'folder' | 'other' | 'dead link';
  readonly bytes: number;
  /** Equal for two names of the same thing (links followed). */
  readonly identity: string;
}

/** A file that is written already, under a name that nobody takes for a result. */
export interface ReadyFile {
  /** Whoever looks sees the old file or the new one. Throws an error with a `code`; then the old one still stands. */
  putInPlace(): Promise<void>;
  /** Takes it away again. Never throws. */
  drop(): Promise<void>;
}

export interface World {
  /** null = nothing is there. Throws an error with a `code` (EACCES ...) when one may not look. */
  look(path: string): Promise<Standing | null>;
  /** The whole content. Throws an error with a `code`. */
  read(path: string): Promise<Uint8Array>;
  /** Writes what shall stand at the path, without touching what stands there. Throws an error with a `code`. */
  makeReady(path: string, bytes: Uint8Array): Promise<ReadyFile>;
  /** Makes the folder and those above it, if need be. Throws an error with a `code`. */
  makeFolder(path: string): Promise<void>;
  /** Seconds since some start. For progress and `--seconds` only. */
  clock(): number;
  /** Results. A reader that went away is no fault. */
  out(text: string): void;
  /** Waits until all results are written. Throws an error with a `code` when they could not be, as on a full disk. */
  outDone(): Promise<void>;
  /** Width of the terminal that shows the results; null = they go elsewhere. */
  readonly outColumns: number | null;
  /** Progress and messages. */
  err(text: string): void;
  /** A terminal on which a line can be drawn anew, as wide as it is now. */
  readonly errTerminal: { readonly columns: number } | null;
  readonly cores: number;
  /** SOURCE_DATE_EPOCH of the environment, as it stands there; null = not set. */
  readonly sourceDate: string | null;
  /** True when whoever works on the program itself wants to see the stack of our own faults. */
  readonly developer: boolean;
  /**
   * Calls `handler`, and none that was given before it, at each Ctrl-C or request to end (also when the terminal is
   * closed), until the function given back is called.
   */
  onInterrupt(handler: () => void): () => void;
  /** Leaves at once, whatever is under way. */
  leave(exitCode: number): void;
  /** Version of this program. */
  version(): Promise<string>;
  /** Runs tasks on so many threads. */
  executor(workers: number): Promise<Executor>;
}

/** The code of a system error, or its message. */
export function errorCode(error: unknown): string {
  if (error instanceof Error) return 'code' in error && typeof error.code === 'string' ? error.code : error.message;
  return String(error);
}

const codeWords: Readonly<Record<string, string>> = {
  EACCES: 'no permission',
  EPERM: 'no permission',
  EROFS: 'the disk can only be read',
  ENOSPC: 'no space is left on the disk',
  EDQUOT: 'no space is left for this user',
  ENOENT: 'there is no such file or folder',
  EISDIR: 'it is a folder, not a file',
  ENOTDIR: 'a part of the path is a file, not a folder',
  EEXIST: 'there is a file of that name',
  ENAMETOOLONG: 'the name is too long',
  ELOOP: 'links lead in a circle',
  EMFILE: 'too many files are open',
  EIO: 'the disk does not answer properly',
};

/** A system error in plain words. */
export function errorInWords(error: unknown): string {
  const code = errorCode(error);
  return codeWords[code] ?? code;
}
