/** Names of the files that jobs give out, without folder and ending. */
import { createHash } from 'node:crypto';
import { baseName } from '../cutlist/join.js';
import { makeFault } from '../diagnostics/faults.js';
import type { Fault } from '../diagnostics/types.js';
import type { Order } from '../planning/orders.js';
import type { ClothSide } from '../report/seen-cloth.js';

/** Lower case; letters and digits of any script stay, everything else becomes a hyphen. */
export function fileWord(text: string): string {
  const word = text
    .normalize('NFC')
    .toLowerCase()
    .replace(/[^\p{L}\p{M}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '');
  return word === '' ? 'lay' : word;
}

/** Of the 255 bytes that file systems take, some are left for what follows: a width, `-chalk-wrong-side`, the ending. */
const nameBytesMost = 200;
const markLetters = 8;

/** A name that is too long is cut, and marked by a hash of the whole, so that two that begin alike stay apart. */
function fitted(name: string): string {
  if (Buffer.byteLength(name) <= nameBytesMost) return name;
  const mark = createHash('sha256').update(name, 'utf8').digest('hex').slice(0, markLetters);
  let kept = '';
  for (const letter of name) {
    if (Buffer.byteLength(kept + letter) > nameBytesMost - markLetters - 1) break;
    kept += letter;
  }
  return `${kept.replace(/-+$/, '')}-${mark}`;
}

/** Words as one name. */
export function nameOf(...words: readonly string[]): string {
  return fitted(words.map(fileWord).join('-'));
}

/** CUTLIST-MATERIAL, and the cloth's name where several compete; the names of several cut lists one after another. */
export function outputName(files: readonly string[], { material, manyCloths }: Order, cloth: string): string {
  return nameOf(...files.map(baseName), material, ...(manyCloths ? [cloth] : []));
}

/** Two lays that would be written under one name. */
export function clashOf(files: readonly string[], orders: readonly Order[], namesCloths: boolean): Fault | null {
  const names = orders.flatMap((order) => {
    const named = { ...order, manyCloths: order.manyCloths || namesCloths };
    return [...new Set(order.cloths.map(({ cloth }) => cloth.name))].map((name) => outputName(files, named, name));
  });
  const twice = names.find((name, i) => names.indexOf(name) !== i);
  if (twice === undefined) return null;
  const what = `two lays would both be written as ${twice}`;
  const fix = 'give its materials and cloths names that differ in letters or digits';
  return makeFault('output-clash', { file: files[0]!, line: 1, column: 1 }, null, what, fix);
}

/** `X.lay.json` -> `X-plan`, and whether it is seen from the other side. */
export function printedName(file: string, what: string, side: ClothSide): string {
  const own = file.replace(/^.*[/\\]/, '').replace(/(\.lay)?\.json$/i, '');
  return `${fitted(own)}-${what}${side === 'wrong' ? '-wrong-side' : ''}`;
}
