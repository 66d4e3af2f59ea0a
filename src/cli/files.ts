/** Reading inputs and writing outputs with care; every failure is a fault in plain words, never a throw. */
import { createHash } from 'node:crypto';
import { basename, dirname, isAbsolute, join } from 'node:path';
import { makeFault } from '../diagnostics/faults.js';
import type { Fault, Result } from '../diagnostics/types.js';
import type { CutListSource, Drawings, KeptSource } from '../index.js';
import { layLimits } from '../lay/limits.js';
import { decodeDrawing, decodeUtf8 } from '../source/decode.js';
import { garmentsMax } from './settings.js';
import { errorInWords, type ReadyFile, type Standing, type World } from './world.js';

/** Larger files are refused before they are read; so are drawings that are larger than this together. */
export const inputBytesMax = layLimits.fileCharacters;

const kindInWords: Readonly<Record<Exclude<Standing['kind'], 'file'>, string>> = {
  folder: 'it is a folder',
  other: 'it is not a file',
  'dead link': 'it is a link that leads nowhere',
};

export interface Input {
  readonly path: string;
  readonly text: string;
  readonly identity: string;
  readonly sha256: string;
  readonly bytes: number;
}

/** Reads a whole text file. */
export async function readInput(
  world: World,
  path: string,
  decode = decodeUtf8,
  bytesMost = inputBytesMax,
): Promise<Result<Input>> {
  try {
    const standing = await world.look(path);
    if (standing === null)
      return refuse(path, 'file-missing', 'there is no such file', 'check the name and the folder');
    if (standing.kind !== 'file') return refuse(path, 'file-not-a-file', kindInWords[standing.kind], 'name a file');
    if (standing.bytes > inputBytesMax) {
      const what = `found ${megabytes(standing.bytes)}, at most ${megabytes(inputBytesMax)} are read`;
      return refuse(path, 'file-too-large', what, 'check that it is the right file');
    }
    if (standing.bytes > bytesMost) {
      const what = `with it the drawings of the cut list hold more than ${megabytes(inputBytesMax)}, and no more are read`;
      return refuse(path, 'file-too-large', what, 'divide it into several cut lists');
    }
    const bytes = await world.read(path);
    const decoded = decode(bytes, path);
    if (!decoded.ok) return decoded;
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    const { identity } = standing;
    return { ok: true, value: { path, text: decoded.value, identity, sha256, bytes: bytes.length } };
  } catch (error) {
    return refuse(path, 'file-unreadable', `it cannot be read: ${errorInWords(error)}`, 'check that you may read it');
  }
}

function megabytes(bytes: number): string {
  return `${Math.ceil(bytes / 1e5) / 10} MB`;
}

export interface CutListInput extends Input {
  readonly drawings: Drawings;
  readonly drawingIdentities: readonly string[];
}

/** A cut list with the drawings that it names, each relative to it; the drawings' own faults are told with its own. */
export async function readCutListInput(world: World, path: string): Promise<Result<CutListInput>> {
  const read = await readInput(world, path);
  if (!read.ok) return read;
  if (!isLay(read.value.text)) return { ok: true, value: await withDrawings(world, read.value) };
  const fix = 'give the cut list that it was planned from; check and print take a lay as well';
  return { ok: false, faults: [makeFault('file-is-lay', null, path, 'it is a lay, no cut list', fix)] };
}

/** A lay says so itself, whatever it is called, also when an edit has spoilt its JSON. */
export function isLay(text: string): boolean {
  return /^\s*\{/.test(text) && /"format"\s*:\s*"shortlay-lay\//.test(text);
}

/**
 * Several cut lists, each another file; or the faults of all of them.
 * @param isPlanned they are to be planned, so that one given twice may be meant for two garments
 */
export async function readCutListInputs(
  world: World,
  paths: readonly string[],
  isPlanned: boolean,
): Promise<Result<readonly CutListInput[]>> {
  const inputs: CutListInput[] = [];
  const faults: Fault[] = [];
  for (const path of paths) {
    const read = await readCutListInput(world, path);
    const same = read.ok ? inputs.find(({ identity }) => identity === read.value.identity) : undefined;
    if (!read.ok) faults.push(...((await wrongCount(world, path, read.faults)) ?? read.faults));
    else if (same !== undefined) faults.push(twiceFault(path, same.path, isPlanned));
    else inputs.push(read.value);
  }
  return faults.length > 0 ? { ok: false, faults } : { ok: true, value: inputs };
}

/**
 * What no file is called may be a cut list with a count that is none, as `bag.yaml=two`.
 * @param faults why it was not read
 * @returns null where no count is meant
 */
async function wrongCount(world: World, words: string, faults: readonly Fault[]): Promise<readonly Fault[] | null> {
  const [, path, count] = /^(.+)=(.*)$/s.exec(words) ?? [];
  if (path === undefined || !faults.some(({ code }) => code === 'file-missing')) return null;
  if (!/\.ya?ml$/i.test(path) && !(await isFile(world, path))) return null;
  if (/\.ya?ml$/i.test(count!)) return null;
  const found = count === '' ? 'nothing stands' : `"${count}" stands`;
  const what = `${found} after the =, expected a whole number of garments from 1 up to ${garmentsMax}`;
  return [makeFault('wrong-count', null, words, what, `for two garments of it say ${path}=2`)];
}

async function isFile(world: World, path: string): Promise<boolean> {
  try {
    return (await world.look(path))?.kind === 'file';
  } catch {
    // What may not be looked at is no cut list to be counted.
    return false;
  }
}

function twiceFault(path: string, first: string, isPlanned: boolean): Fault {
  const what = path === first ? 'it is given twice' : `it is the same file as ${first}`;
  const fix = isPlanned ? `for two garments of it say ${first}=2` : 'name each cut list once';
  return makeFault('cut-list-twice', null, path, what, fix);
}

/** A lay whose pinned placements are kept, and whether an output of its name would be the file itself. */
export interface KeptInput {
  readonly source: KeptSource;
  readonly input: CutListInput;
}

/**
 * Reads the lay that is kept.
 * @param folder where the outputs go
 */
export async function readKept(world: World, path: string, folder: string): Promise<Result<KeptInput>> {
  const read = await readInput(world, path);
  if (!read.ok) return read;
  const isThere = await areSame(world, dirname(path), folder);
  const ownName = isThere ? basename(path).replace(/\.lay\.json$/, '') : null;
  const input = { ...read.value, drawings: new Map(), drawingIdentities: [] };
  return { ok: true, value: { source: { file: path, text: read.value.text, ownName }, input } };
}

/** Two names of one folder. */
async function areSame(world: World, one: string, other: string): Promise<boolean> {
  try {
    const [a, b] = [await world.look(one), await world.look(other)];
    return a !== null && a.identity === b?.identity;
  } catch {
    // It will be told when something is written there.
    return false;
  }
}

/** A cut list as the library takes it. */
export function sourceOf({ path, text, drawings }: CutListInput): CutListSource {
  return { file: path, text, drawings };
}

/** A cut list that has been read, with its drawings. */
export async function withDrawings(world: World, input: Input): Promise<CutListInput> {
  const { drawingsNamed } = await import('../index.js');
  const drawings = new Map<string, Result<string>>();
  const drawingIdentities: string[] = [];
  let left = inputBytesMax;
  for (const name of drawingsNamed(input.text)) {
    const path = isAbsolute(name) ? name : join(dirname(input.path), name);
    const drawing = await readInput(world, path, decodeDrawing, left);
    drawings.set(name, drawing.ok ? { ok: true, value: drawing.value.text } : drawing);
    if (!drawing.ok) continue;
    drawingIdentities.push(drawing.value.identity);
    left -= drawing.value.bytes;
  }
  return { ...input, drawings, drawingIdentities };
}

function refuse(path: string, code: string, what: string, fix: string): Result<never> {
  return { ok: false, faults: [makeFault(code, null, path, what, fix)] };
}

/** `lays/` beside the cut list, unless another folder is named. */
export function outputFolder(cutList: string, out: string | null): string {
  return out ?? join(dirname(cutList), 'lays');
}

/** A fault when the output folder cannot be one; looked at before the work begins. */
export async function checkFolder(world: World, folder: string): Promise<Fault | null> {
  try {
    const standing = await world.look(folder);
    if (standing === null || standing.kind === 'folder') return null;
    const why = standing.kind === 'dead link' ? kindInWords[standing.kind] : 'it is not a folder';
    return makeFault('out-not-a-folder', null, folder, `the lays cannot go there: ${why}`, fixOut);
  } catch (error) {
    return makeFault('out-not-a-folder', null, folder, `the lays cannot go there: ${errorInWords(error)}`, fixOut);
  }
}

const fixOut = 'name another folder with --out';

/** Files of one answer, for one folder: a lay, if there is one, first, then what is drawn. */
export interface OutputFiles {
  readonly folder: string;
  readonly layPath: string | null;
  readonly files: readonly { readonly path: string; readonly bytes: Uint8Array }[];
}

export interface Written {
  readonly files: readonly string[];
  /** Why the rest was not written; null = all are. */
  readonly fault: Fault | null;
}

/**
 * Writes them, unless one of them is an input or the lay there is somebody's own work. All are made ready before the
 * first is put in its place, so a full disk leaves a lay and its drawings as they stood.
 * @param isOurs whether a text is a lay just as this program wrote it
 */
export async function writeFiles(
  world: World,
  output: OutputFiles,
  inputs: readonly CutListInput[],
  isOurs: (path: string, text: string) => boolean,
): Promise<Written> {
  for (const { path } of output.files) {
    try {
      const fault = await guard(world, path, path === output.layPath, inputs, isOurs);
      if (fault !== null) return { files: [], fault };
    } catch (error) {
      return { files: [], fault: writeFault(path, error, fixOut) };
    }
  }
  try {
    await world.makeFolder(output.folder);
  } catch (error) {
    return { files: [], fault: writeFault(output.folder, error, fixOut) };
  }
  return writeTogether(world, output.files, fixOut);
}

/** Makes all files ready, then puts them in place one after the other. */
export async function writeTogether(world: World, outputs: OutputFiles['files'], fix: string): Promise<Written> {
  const ready: { readonly path: string; readonly file: ReadyFile }[] = [];
  const files: string[] = [];
  let path = '';
  try {
    for (const output of outputs) {
      path = output.path;
      ready.push({ path, file: await world.makeReady(path, output.bytes) });
    }
    for (const each of ready) {
      path = each.path;
      await each.file.putInPlace();
      files.push(path);
    }
    return { files, fault: null };
  } catch (error) {
    for (const { file } of ready.slice(files.length)) await file.drop();
    return { files, fault: writeFault(path, error, fix) };
  }
}

/** Why a file was not written, in plain words. */
function writeFault(path: string, error: unknown, fix: string): Fault {
  return makeFault('file-not-written', null, path, `it cannot be written: ${errorInWords(error)}`, fix);
}

/** Why nothing may be written at a path, or null. */
async function guard(
  world: World,
  path: string,
  isLay: boolean,
  inputs: readonly CutListInput[],
  isOurs: (path: string, text: string) => boolean,
): Promise<Fault | null> {
  const standing = await world.look(path);
  if (standing === null) return null;
  const { kind, bytes, identity } = standing;
  if (inputs.some((input) => input.identity === identity)) {
    const what = 'it is read for this run, and what is read is never written over';
    return makeFault('out-over-input', null, path, what, fixOut);
  }
  if (inputs.some((input) => input.drawingIdentities.includes(identity))) {
    const what = 'the cut list is drawn from it, so it is never written over';
    return makeFault('out-over-input', null, path, what, fixOut);
  }
  if (kind !== 'file') {
    const fix = 'move it away, or name another folder with --out';
    return makeFault('file-not-written', null, path, `it cannot be written: ${kindInWords[kind]}`, fix);
  }
  return isLay && !(await isOursAt(world, path, bytes, isOurs)) ? editedFault(path) : null;
}

async function isOursAt(
  world: World,
  path: string,
  bytes: number,
  isOurs: (path: string, text: string) => boolean,
): Promise<boolean> {
  if (bytes > inputBytesMax) return false;
  const decoded = decodeUtf8(await world.read(path), path);
  return decoded.ok && isOurs(path, decoded.value);
}

export const editedCode = 'out-edited-by-hand';

function editedFault(path: string): Fault {
  const what = 'it was edited by hand or is no lay of ours, so it is not written over';
  return makeFault(editedCode, null, path, what, 'name another folder with --out, or move that file away');
}
