/** Spoils a text as hands, editors and disks do: bytes, signs, words, numbers, keys, order, length, depth, odd characters. */
import type { Dice } from './dice.js';

type Mutator = (text: string, dice: Dice) => string;

/** One to four changes; the result may be no text any more. */
export function mutated(bytes: Uint8Array, dice: Dice): Uint8Array {
  let buffer: Buffer = Buffer.from(bytes);
  const times = dice.pick([1, 1, 1, 2, 3, 4]);
  for (let i = 0; i < times; i++) {
    buffer = dice.chance(12)
      ? dice.pick(byteMutators)(buffer, dice)
      : Buffer.from(dice.pick(mutators)(buffer.toString('utf8'), dice), 'utf8');
  }
  return buffer;
}

const byteMutators: readonly ((bytes: Buffer, dice: Dice) => Buffer)[] = [
  (bytes, dice) => {
    const changed = Buffer.from(bytes);
    for (let i = 0; i < 3 && changed.length > 0; i++) changed[dice.below(changed.length)] = dice.below(256);
    return changed;
  },
  (bytes) => Buffer.concat([Buffer.from([0xef, 0xbb, 0xbf]), bytes]),
  (bytes) => Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(bytes.toString('utf8'), 'utf16le')]),
  (bytes) => Buffer.from(bytes.toString('utf8'), 'latin1'),
  (bytes, dice) => bytes.subarray(0, dice.below(bytes.length + 1)),
  (bytes, dice) => Buffer.concat([bytes, Buffer.alloc(dice.between(1, 2_000), dice.pick([0, 0x0a, 0x20, 0xff]))]),
];

const mutators: readonly Mutator[] = [
  number,
  number,
  number,
  word,
  word,
  swapWords,
  dropLine,
  doubleLines,
  swapLines,
  doubleBlock,
  dropPart,
  indent,
  quote,
  oddCharacter,
  lineEnds,
  deepNesting,
  hugeNumber,
  truncate,
  sign,
  longText,
  renameKey,
  takeOver,
];

const oddNumbers = [
  '0',
  '-0',
  '-1',
  '1',
  '0.5',
  '1e9',
  '1e-9',
  '-1e300',
  '1e999',
  '.nan',
  '.inf',
  '0x10',
  '0o17',
  '1_000',
  '4,5',
  '١٢',
  '½',
  '47453132',
  '47453133',
  '9007199254740993',
  '4294967296',
  '0.00000001',
  '00012',
  '1/0',
  '3 1/2 in',
  '5 furlongs',
];

function number(text: string, dice: Dice): string {
  const all = [...text.matchAll(/-?\d+(?:\.\d+)?/g)];
  if (all.length === 0) return text;
  const found = dice.pick(all);
  const value = Number(found[0]);
  const other = dice.chance(45)
    ? dice.pick(oddNumbers)
    : String(dice.pick([value + 1, value - 1, -value, value * 2, value / 10, value * 10, value * 1000, value + 0.001]));
  return splice(text, found.index, found[0].length, other);
}

function splice(text: string, at: number, length: number, instead: string): string {
  return text.slice(0, at) + instead + text.slice(at + length);
}

const words = [
  'null',
  'true',
  'no',
  '~',
  '',
  '{}',
  '[]',
  '[[]]',
  '&a b',
  '*a',
  '!!binary x',
  '<<: x',
  'on fold',
  '1 pair',
  'shell',
  'open',
  'best',
  'tube',
  '__proto__',
  'constructor',
  'toString',
  '- x',
  '? x',
  '| x',
  '%YAML 1.1',
  '---',
  '"',
];

function word(text: string, dice: Dice): string {
  const all = [...text.matchAll(/[\p{L}_][\p{L}\d _-]*/gu)];
  if (all.length === 0) return text;
  const found = dice.pick(all);
  return splice(text, found.index, found[0].length, dice.pick(words));
}

function swapWords(text: string, dice: Dice): string {
  const all = [...text.matchAll(/[^\s,:{}[\]<>="]+/g)];
  if (all.length < 2) return text;
  const [one, other] = [dice.pick(all), dice.pick(all)];
  if (one.index === other.index) return text;
  const [first, second] = one.index < other.index ? [one, other] : [other, one];
  return splice(splice(text, second.index, second[0].length, first[0]), first.index, first[0].length, second[0]);
}

function lines(text: string): string[] {
  return text.split('\n');
}

function dropLine(text: string, dice: Dice): string {
  const all = lines(text);
  all.splice(dice.below(all.length), dice.pick([1, 1, 2, 5]));
  return all.join('\n');
}

function doubleLines(text: string, dice: Dice): string {
  const all = lines(text);
  const from = dice.below(all.length);
  const block = all.slice(from, from + dice.between(1, 6));
  all.splice(dice.below(all.length), 0, ...block);
  return all.join('\n');
}

function swapLines(text: string, dice: Dice): string {
  const all = lines(text);
  const [i, j] = [dice.below(all.length), dice.below(all.length)];
  [all[i], all[j]] = [all[j]!, all[i]!];
  return all.join('\n');
}

function doubleBlock(text: string, dice: Dice): string {
  const from = dice.below(text.length + 1);
  const block = text.slice(from, from + dice.between(1, 400));
  return splice(text, dice.below(text.length + 1), 0, block.repeat(dice.pick([1, 1, 2, 30])));
}

function dropPart(text: string, dice: Dice): string {
  return splice(text, dice.below(text.length + 1), dice.between(1, dice.pick([2, 10, 200])), '');
}

function indent(text: string, dice: Dice): string {
  const all = lines(text);
  const i = dice.below(all.length);
  all[i] = dice.pick([' ', '  ', '\t', '    ', '- ']) + all[i]!.slice(dice.below(3));
  return all.join('\n');
}

function quote(text: string, dice: Dice): string {
  return splice(
    text,
    dice.below(text.length + 1),
    0,
    dice.pick(['"', "'", '`', '#', ': ', ', ', '{', '}', '[', ']', '<', '>', '&', '\\']),
  );
}

const oddCharacters = [
  '\0',
  '\u0007',
  '\u001b[31m',
  '\u0085',
  '\u00a0',
  '\u200b',
  '\u202e',
  '\u2028',
  '\ufeff',
  '\ufffd',
  '\ud800',
  '🪡',
  'e\u0301',
  '𝟙',
  '\u3000',
  'ﷺ',
  '\r',
  '\v',
];

function oddCharacter(text: string, dice: Dice): string {
  return splice(text, dice.below(text.length + 1), dice.below(2), dice.pick(oddCharacters));
}

function lineEnds(text: string, dice: Dice): string {
  return text.replaceAll('\n', dice.pick(['\r\n', '\r', '\n\n', ' \n', '\u2028']));
}

function deepNesting(text: string, dice: Dice): string {
  const depth = dice.pick([10, 100, 3_000, 60_000]);
  const [open, close] = dice.pick([
    ['[', ']'],
    ['{a: ', '}'],
    ['{"a":', '}'],
    ['- ', ''],
    ['<g>', '</g>'],
  ]);
  const nest = open!.repeat(depth) + (dice.chance(70) ? close!.repeat(depth) : '');
  const all = [...text.matchAll(/: /g)];
  return all.length === 0 ? text + nest : splice(text, dice.pick(all).index + 2, dice.pick([0, 1, 9]), nest);
}

function hugeNumber(text: string, dice: Dice): string {
  const all = [...text.matchAll(/\d+/g)];
  if (all.length === 0) return text;
  const found = dice.pick(all);
  const digits = dice.pick(['9', '1', '0']).repeat(dice.pick([8, 16, 30, 400, 100_000]));
  return splice(text, found.index, found[0].length, digits);
}

function truncate(text: string, dice: Dice): string {
  return text.slice(0, dice.below(text.length + 1));
}

function sign(text: string, dice: Dice): string {
  const all = [...text.matchAll(/[-+.,:;()[\]{}/]/g)];
  if (all.length === 0) return text;
  return splice(text, dice.pick(all).index, 1, dice.pick(['-', '+', '.', ',', ':', '', '--', '/', '..']));
}

function longText(text: string, dice: Dice): string {
  return splice(
    text,
    dice.below(text.length + 1),
    0,
    dice.pick(['x', 'é', ' ', 'a b ']).repeat(dice.pick([90, 600, 50_000])),
  );
}

function renameKey(text: string, dice: Dice): string {
  // Bounded: over a long run of letters an unbounded search took minutes.
  const all = [...text.matchAll(/["']?([A-Za-z][\w -]{0,60})["']?\s{0,9}:/g)];
  if (all.length === 0) return text;
  const [one, other] = [dice.pick(all), dice.pick(all)];
  return splice(text, one.index, one[0].length, other[0]);
}

/** A value taken over from another place. */
function takeOver(text: string, dice: Dice): string {
  const all = [...text.matchAll(/: ?([^,\n]+)/g)];
  if (all.length === 0) return text;
  const [one, other] = [dice.pick(all), dice.pick(all)];
  return splice(text, one.index, one[0].length, other[0]);
}
