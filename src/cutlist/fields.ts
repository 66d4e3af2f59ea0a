/** Reading single values: each answers the value, or null after adding a fault that says what was expected. */
import { closest, distance } from 'fastest-levenshtein';
import type { Located, Place } from '../diagnostics/types.js';
import type { ListNode, MapEntry, MapNode, SourceNode } from '../source/types.js';
import { formatLength, parseLength } from '../units/length.js';
import type { LengthUnit, Point, Um } from '../units/types.js';
import type { Context } from './context.js';
import { coordinateMax, limits } from './limits.js';

/** The keys of one kind of map. */
export interface KeyTable {
  readonly known: readonly string[];
}

/** What a node is, in words. */
export function describe(node: SourceNode): string {
  if (node.kind === 'map') return 'a map';
  if (node.kind === 'list') return `a list of ${node.items.length}`;
  return node.kind === 'empty' ? 'nothing' : `"${shorten(node.text)}"`;
}

/** At most 40 characters on one line. */
export function shorten(text: string): string {
  const line = text.replace(/\s+/g, ' ');
  return line.length <= 40 ? line : `${line.slice(0, 37)}...`;
}

/** The entries of a map by key. Unknown keys name their neighbour; one that is a slip of the pen is read as what was meant. */
export function readKeys(node: MapNode, table: KeyTable, context: Context): Map<string, MapEntry> {
  const found = new Map<string, MapEntry>();
  const isKnown = ({ key }: MapEntry) => table.known.includes(key);
  for (const entry of node.entries.filter(isKnown)) found.set(entry.key, entry);
  for (const entry of node.entries.filter((each) => !isKnown(each))) {
    tellUnknown(entry, table.known, context);
    const meant = nearest(entry.key, table.known);
    if (meant !== null && isSlipOf(entry.key, meant) && !found.has(meant)) found.set(meant, { ...entry, key: meant });
  }
  return found;
}

/** Shorter keys are a letter away from others that are known. */
const slipLengthMin = 4;

/**
 * One letter too many, too few or wrong, or two in the wrong order. Not of `pieces`: which drawings are named in them is
 * looked up before anything is read.
 */
function isSlipOf(word: string, key: string): boolean {
  if (key.length < slipLengthMin || key === 'pieces' || Math.abs(word.length - key.length) > 1) return false;
  return distance(word, key) === 1 || (distance(word, key) === 2 && [...word].sort().join() === [...key].sort().join());
}

/** A comma inside brackets or braces parts two entries. */
const decimalFix = 'between brackets or braces write decimals with a point: 32.50, not 32,50';

function tellUnknown(entry: MapEntry, all: readonly string[], context: Context): void {
  if (/^\d+$/.test(entry.key)) {
    context.fault('unknown-key', entry.keyPlace, `found "${shorten(entry.key)}" where a key should be`, decimalFix);
    return;
  }
  const near = nearest(entry.key, all);
  const meant = near === null ? `the keys here are: ${all.join(', ')}` : `did you mean "${near}"?`;
  const fix = missingSpaceFix(entry, all) ?? meant;
  context.fault('unknown-key', entry.keyPlace, `unknown key "${shorten(entry.key)}"`, fix);
}

/** Between braces `width:150` is one word, a key without a value; null = something else is wrong with it. */
function missingSpaceFix({ key, value }: MapEntry, all: readonly string[]): string | null {
  const parts = value.kind === 'empty' ? /^([^:]+):([^\s:].*)$/.exec(key) : null;
  if (parts === null) return null;
  const word = nearest(parts[1]!, all) ?? parts[1]!;
  return `a space is missing after the colon: write "${shorten(`${word}: ${parts[2]!}`)}"`;
}

/** The word that somebody who wrote `word` probably meant, or null when none is near. */
export function nearest(word: string, words: readonly string[]): string | null {
  if (words.length === 0) return null;
  const best = closest(word.slice(0, limits.nameLength), words as string[]);
  return distance(word.slice(0, limits.nameLength), best) <= Math.max(1, Math.ceil(best.length / 3)) ? best : null;
}

/** Something that cannot be read: found against expected. */
export function refuse(node: SourceNode, expected: string, context: Context, code = 'wrong-value'): null {
  return context.fault(code, node.place, `found ${describe(node)}, expected ${expected}`, `write ${expected}`);
}

/** More of something than is read; told where the first one too many stands. */
export function tellMany(
  place: Place,
  counted: { readonly found: number; readonly most: number; readonly what: string },
  fix: string,
  context: Context,
): null {
  const { found, most, what } = counted;
  return context.fault('too-many', place, `found ${found} ${what}, at most ${most} are read`, fix);
}

/** The items of a list, at most so many; more are a fault. */
export function itemsWithin(list: ListNode, most: number, what: string, fix: string, context: Context) {
  const found = list.items.length;
  if (found > most) tellMany(list.items[most]!.place, { found, most, what }, fix, context);
  return list.items.slice(0, most);
}

/** The node as a map, or null after a fault that says what was expected. */
export function asMap(node: SourceNode, expected: string, context: Context): MapNode | null {
  return node.kind === 'map' ? node : refuse(node, expected, context);
}

/** The node as a list, or null after a fault that says what was expected. */
export function asList(node: SourceNode, expected: string, context: Context): ListNode | null {
  return node.kind === 'list' ? node : refuse(node, expected, context);
}

/** Free text; line ends and repeated spaces become one space. */
export function readText(node: SourceNode, expected: string, context: Context): string | null {
  if (node.kind !== 'scalar') return refuse(node, expected, context);
  if (node.text.trim() === '') return refuse(node, expected, context);
  const found = node.text.length;
  if (found > limits.textLength) {
    const what = `found ${found} characters, expected ${expected} of at most ${limits.textLength}`;
    return context.fault('wrong-value', node.place, what, 'write it shorter');
  }
  return node.text.trim().replace(/\s+/g, ' ');
}

/** A name that is a key: of a piece, a cloth or a material. */
export function isName(key: string): boolean {
  return key.trim() === key && key !== '' && key.length <= limits.nameLength && !/[\n\t]/.test(key);
}

/** Why a key is no name, in words. */
export function nameProblem(key: string, what: string): string {
  const found = key.length;
  if (found <= limits.nameLength) return `a ${what} cannot be called so`;
  return `found a name of ${found} characters for a ${what}, at most ${limits.nameLength} are read`;
}

export const nameFix = `use 1 to ${limits.nameLength} characters on one line, without a space at either end`;

/** One of a few words. */
export function readChoice<T extends string>(node: SourceNode, choices: readonly T[], context: Context): T | null {
  const expected = choices.join(', ');
  if (node.kind !== 'scalar') return refuse(node, `one of ${expected}`, context);
  const text = node.text.trim();
  const choice = choices.find((word) => word === text);
  if (choice !== undefined) return choice;
  const near = nearest(text, choices);
  const fix = near === null ? `write one of ${expected}` : `did you mean "${near}"?`;
  return context.fault('wrong-value', node.place, `found "${shorten(text)}", expected one of ${expected}`, fix);
}

/** Limits of a length, with the unit that a bare number is in when it is not the file's. */
export interface LengthRange {
  readonly least: Um;
  readonly most: Um;
  readonly expected: string;
}

/** A length with or without its own unit, within its range. */
export function readLength(node: SourceNode, range: LengthRange, context: Context, units?: LengthUnit): Um | null {
  if (node.kind !== 'scalar') return refuse(node, range.expected, context);
  const unit = units ?? context.units;
  const read = parseLength(node.text, unit);
  if ('problem' in read) {
    const what = `${read.problem}; expected ${range.expected}`;
    return context.fault(
      'bad-length',
      node.place,
      what,
      'write a number, or a number and a unit: 13, 13.5 cm, 5 1/4 in',
    );
  }
  if (read.um >= range.least && read.um <= range.most) return read.um;
  const bound = read.um > range.most ? `at most ${formatLength(range.most, unit)}` : leastInWords(range.least, unit);
  const what = `found ${shorten(node.text)}, expected ${range.expected} of ${bound}`;
  return context.fault('length-out-of-range', node.place, what, 'check the number and its unit');
}

/** A least length of some micrometres only means "not nothing". */
function leastInWords(least: Um, unit: LengthUnit): string {
  if (least === 0) return '0 or more';
  return least > 0 && least < 500 ? 'more than 0' : `at least ${formatLength(least, unit)}`;
}

const coordinateRange: LengthRange = { least: -coordinateMax, most: coordinateMax, expected: 'a coordinate' };

/** [x, y] in the frame of the drawing. */
export function readPoint(node: SourceNode, context: Context): Located<Point> | null {
  if (node.kind === 'list' && (node.items.length === 3 || node.items.length === 4)) {
    const what = `found ${node.items.length} numbers, expected a point [x, y]`;
    const fix = 'write a point [x, y]; inside brackets a comma begins the next number, so write 0.5, not 0,5';
    return context.fault('bad-point', node.place, what, fix);
  }
  if (node.kind !== 'list' || node.items.length !== 2) return refuse(node, 'a point [x, y]', context, 'bad-point');
  const x = readLength(node.items[0]!, coordinateRange, context);
  const y = readLength(node.items[1]!, coordinateRange, context);
  return x === null || y === null ? null : { value: [x, y], place: node.place };
}

/** A list of points, at least `least` of them. */
export function readPoints(node: SourceNode, least: number, most: number, context: Context): Located<Point>[] | null {
  const expected = `a list of ${least === most ? least : `at least ${least}`} points [[x, y], ...]`;
  if (node.kind !== 'list' || node.items.length < least) return refuse(node, expected, context, 'bad-point');
  const found = node.items.length;
  if (found > most) {
    const fix = 'leave out those that the curve or line does not need';
    return tellMany(node.items[most]!.place, { found, most, what: 'points' }, fix, context);
  }
  const points = node.items.map((item) => readPoint(item, context));
  return points.includes(null) ? null : (points as Located<Point>[]);
}

/** yes or no; the YAML words true and false count as well. */
export function readYesNo(node: SourceNode, context: Context): boolean | null {
  const text = node.kind === 'scalar' ? node.text.trim() : '';
  if (text === 'yes' || text === 'true') return true;
  if (text === 'no' || text === 'false') return false;
  return refuse(node, 'yes or no', context);
}

/** Limits of a bare number. */
export interface NumberRange {
  readonly least: number;
  readonly most: number;
  readonly expected: string;
  readonly whole?: boolean;
}

/** A bare number, such as degrees, in decimals with a point. */
export function readNumber(node: SourceNode, range: NumberRange, context: Context): number | null {
  if (node.kind !== 'scalar') return refuse(node, range.expected, context);
  const text = node.text.trim();
  const value = Number(text);
  const isNumber = /^-?\d{1,9}(\.\d{1,9})?$/.test(text) && (range.whole !== true || Number.isInteger(value));
  if (isNumber && value >= range.least && value <= range.most) return value;
  return refuse(node, range.expected, context);
}
