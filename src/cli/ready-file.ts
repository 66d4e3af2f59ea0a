/**
 * Files that appear whole or not at all: written beside their place under a name of their own, then renamed. A process
 * that is killed may leave such a file behind. It is hidden, nothing reads it, and whoever writes into that folder an
 * hour later or more takes it away.
 */
import { randomBytes } from 'node:crypto';
import { unlinkSync } from 'node:fs';
import { access, constants, open, readdir, realpath, rename, stat, unlink } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { errorCode, type ReadyFile } from './world.js';

const leftBehind = /^\.shortlay-[0-9a-f]{16}\.part$/;
/** No file takes so long to write, so whoever began an older one is gone. */
const goneAfterMs = 3_600_000;

/** Of this process, not yet put in place or dropped. */
const waiting = new Set<string>();
const swept = new Set<string>();

/**
 * Writes the whole content beside its place and sees that the disk has it. A link is followed: what it leads to is
 * written anew, and the link stays.
 */
export async function makeFileReady(path: string, bytes: Uint8Array): Promise<ReadyFile> {
  const target = await targetOf(path);
  const folder = dirname(target);
  await sweep(folder);
  const temporary = join(folder, `.shortlay-${randomBytes(8).toString('hex')}.part`);
  if (waiting.size === 0) process.on('exit', dropAll);
  waiting.add(temporary);
  const drop = async () => {
    await unlink(temporary).catch(() => undefined);
    forget(temporary);
  };
  try {
    await writeNew(temporary, bytes, target);
  } catch (error) {
    await drop();
    throw error;
  }
  return {
    putInPlace: async () => {
      await rename(temporary, target);
      forget(temporary);
    },
    drop,
  };
}

/** Where the links end; the path itself where nothing is yet. A file that is marked as not to be written stays. */
async function targetOf(path: string): Promise<string> {
  try {
    const target = await realpath(path);
    await access(target, constants.W_OK);
    return target;
  } catch (error) {
    if (errorCode(error) === 'ENOENT') return path;
    throw error;
  }
}

/**
 * With the rights and the owner of the file that it will take the place of, and at no moment open to more than that one.
 * A disk that knows no rights takes it all the same.
 */
async function writeNew(temporary: string, bytes: Uint8Array, target: string): Promise<void> {
  const old = await stat(target).catch(() => null);
  const rights = old === null ? 0o666 : old.mode & 0o777;
  const file = await open(temporary, 'wx', rights);
  try {
    await file.writeFile(bytes);
    if (old !== null) {
      // Beyond what the process is set to give.
      await file.chmod(rights).catch(() => undefined);
      // Only root may give files away; whoever may not becomes the owner.
      await file.chown(old.uid, old.gid).catch(() => undefined);
    }
    await file.sync();
  } finally {
    await file.close();
  }
}

function forget(temporary: string): void {
  waiting.delete(temporary);
  if (waiting.size === 0) process.off('exit', dropAll);
}

function dropAll(): void {
  for (const temporary of waiting) {
    try {
      unlinkSync(temporary);
    } catch {
      // It is gone, or was never begun.
    }
  }
}

/** Once for each folder. What cannot be taken away does no harm. */
async function sweep(folder: string): Promise<void> {
  if (swept.has(folder)) return;
  swept.add(folder);
  const names = await readdir(folder).catch(() => []);
  for (const name of names.filter((each) => leftBehind.test(each))) {
    const path = join(folder, name);
    const standing = await stat(path).catch(() => null);
    if (standing !== null && Date.now() - standing.mtimeMs > goneAfterMs) await unlink(path).catch(() => undefined);
  }
}
