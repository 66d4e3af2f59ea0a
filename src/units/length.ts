/**
 * Text <-> lengths. Lengths are read digit by digit as exact fractions (never through floating point, which
 * rounds about 6 % of half-way cases differently) and rounded once, half away from zero, to whole micrometres.
 */
import type { LengthUnit, Um } from './types.js';

/** Micrometres per unit, exact (the international inch and yard). */
export const umPerUnit: Readonly<Record<LengthUnit | 'm' | 'yd' | 'ft', number>> = {
  mm: 1_000,
  cm: 10_000,
  m: 1_000_000,
  in: 25_400,
  ft: 304_800,
  yd: 914_400,
};

const unitWords: Readonly<Record<string, keyof typeof umPerUnit>> = {
  mm: 'mm',
  cm: 'cm',
  m: 'm',
  in: 'in',
  '"': 'in',
  '″': 'in',
  inch: 'in',
  inches: 'in',
  ft: 'ft',
  yd: 'yd',
  yds: 'yd',
  yard: 'yd',
  yards: 'yd',
};

const glyphFractions: Readonly<Record<string, string>> = {
  '½': '1/2',
  '¼': '1/4',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
  '⅓': '1/3',
  '⅔': '2/3',
};

const numberPattern = /^([+-])?\s*(?:(\d{1,30})(?:[.,](\d{1,30}))?|[.,](\d{1,30}))(?:[eE]([+-]?\d{1,3}))?$/;
const fractionPattern = /^([+-])?\s*(?:(\d{1,12})(?:\s+|\s*-\s*|\s*\+\s*))?(\d{1,6})\s*\/\s*(\d{1,6})$/;

interface Ratio {
  readonly over: bigint;
  readonly under: bigint;
}

/**
 * Reads one length: a number or an inch fraction, with or without its own unit.
 * @param text for example `8.2345`, `1,5 cm`, `1.9 m`, `13 1/2 in`, `2 1/4 yd`, `5/8"`
 * @param unit the unit when the text names none
 * @returns whole micrometres, or what is wrong with the text
 */
export function parseLength(text: string, unit: LengthUnit): { readonly um: Um } | { readonly problem: string } {
  const plain = text.replace(/[½¼¾⅛⅜⅝⅞⅓⅔]/g, (glyph) => ` ${glyphFractions[glyph]}`);
  const split = /^(.*?)\s*([a-zA-Z"″]+)?$/s.exec(plain.trim());
  const numeric = split?.[1] ?? '';
  const word = split?.[2];
  if (numeric === '' && word !== undefined)
    return { problem: letterProblem(text) ?? `"${text.trim()}" is not a length` };
  const named = word === undefined ? unit : unitWords[word.toLowerCase()];
  if (named === undefined)
    return { problem: letterProblem(text) ?? `"${word}" is not a unit (mm, cm, m, in, ft or yd)` };
  const ratio = parseNumber(numeric);
  if (typeof ratio === 'string') return { problem: letterProblem(text) ?? ratio };
  const um = roundRatio({ over: ratio.over * BigInt(umPerUnit[named]), under: ratio.under });
  if (um > 1_000_000_000n || um < -1_000_000_000n) return { problem: `${text.trim()} is farther than 1 km` };
  return { um: Number(um) };
}

/** An O or l where a figure should be; null where that is not what is wrong. */
function letterProblem(text: string): string | null {
  const [first = ''] = text.trim().split(/\s/);
  const letter = /^[+-]?(?=.*\d)[\d.,]*([oOlI])[\d.,oOlI]*$/.exec(first)?.[1];
  return letter === undefined ? null : `"${text.trim()}" holds a letter ${letter} in the place of a figure`;
}

/** Exact value of a decimal or fraction, or what is wrong with it. */
function parseNumber(text: string): Ratio | string {
  const decimal = numberPattern.exec(text);
  if (decimal) {
    const [, sign, whole = '', digits, bareDigits, exponentText] = decimal;
    const fraction = digits ?? bareDigits ?? '';
    const exponent = Number(exponentText ?? '0') - fraction.length;
    if (Math.abs(exponent) > 40) return `"${text}" is not a length`;
    let over = BigInt(whole + fraction || '0');
    if (sign === '-') over = -over;
    return exponent >= 0
      ? { over: over * 10n ** BigInt(exponent), under: 1n }
      : { over, under: 10n ** BigInt(-exponent) };
  }
  const mixed = fractionPattern.exec(text);
  if (!mixed) return text === '' ? 'there is no number' : `"${text}" is not a length`;
  const [, sign, whole = '0', top = '0', bottom = '1'] = mixed;
  const under = BigInt(bottom);
  if (under === 0n) return `"${text}" divides by nothing`;
  const over = BigInt(whole) * under + BigInt(top);
  return { over: sign === '-' ? -over : over, under };
}

/** Nearest whole number, half away from zero. */
function roundRatio({ over, under }: Ratio): bigint {
  const size = over < 0n ? -over : over;
  const rounded = (2n * size + under) / (2n * under);
  return over < 0n ? -rounded : rounded;
}

/** A length as the user reads it: cm with one decimal, whole mm, inches to the nearest sixteenth. */
export function formatLength(um: Um, unit: LengthUnit): string {
  if (unit === 'in') return `${formatFraction(um, umPerUnit.in, 16)} in`;
  return unit === 'mm' ? `${formatDecimal(um, umPerUnit.mm, 0)} mm` : `${formatDecimal(um, umPerUnit.cm, 1)} cm`;
}

/**
 * A length as one asks for it in the shop: metres (cm and mm lists) or yards (inch lists). Never less than it is: what
 * is not a whole millimetre, or a hundredth of a yard, is rounded up.
 */
export function formatBuy(um: Um, unit: LengthUnit): string {
  if (unit === 'in') {
    if (um % (umPerUnit.yd / 8) === 0) return `${formatFraction(um, umPerUnit.yd, 8)} yd`;
    const hundredth = umPerUnit.yd / 100;
    return `${trimZeros(formatDecimal(Math.ceil(um / hundredth) * hundredth, umPerUnit.yd, 2))} yd`;
  }
  const up = Math.ceil(um / umPerUnit.mm) * umPerUnit.mm;
  const places = up % 100_000 === 0 ? 1 : up % 10_000 === 0 ? 2 : 3;
  return `${formatDecimal(up, umPerUnit.m, places)} m`;
}

/** Centimetres as a plain number, for JSON. */
export function toCm(um: Um): number {
  return um / umPerUnit.cm;
}

/** `um` in units of `perUnit`, rounded half away from zero to `places` decimals. */
export function formatDecimal(um: number, perUnit: number, places: number): string {
  const scale = 10 ** places;
  const size = roundRatio({ over: BigInt(Math.round(Math.abs(um))) * BigInt(scale), under: BigInt(perUnit) });
  const digits = size.toString().padStart(places + 1, '0');
  const whole = digits.slice(0, digits.length - places);
  const sign = um < 0 && size !== 0n ? '-' : '';
  return places === 0 ? `${sign}${whole}` : `${sign}${whole}.${digits.slice(-places)}`;
}

function formatFraction(um: number, perUnit: number, parts: number): string {
  const total = Number(roundRatio({ over: BigInt(Math.round(Math.abs(um)) * parts), under: BigInt(perUnit) }));
  const sign = um < 0 && total !== 0 ? '-' : '';
  const whole = Math.floor(total / parts);
  let top = total % parts;
  let bottom = parts;
  while (top > 0 && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  if (top === 0) return `${sign}${whole}`;
  return whole === 0 ? `${sign}${top}/${bottom}` : `${sign}${whole} ${top}/${bottom}`;
}

function trimZeros(text: string): string {
  return text.replace(/\.?0+$/, '');
}
