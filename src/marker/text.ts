/** Text on the page: measured, shortened, wrapped, and the box it takes up. */
import type { Anchor, Box, PagePoint, TextItem, TextMeasure } from './types.js';

export const mmPerPt = 25.4 / 72;

/** Above and below the baseline, as parts of the size (DejaVu Sans: ascender 0.760, descender 0.236). */
export const ascent = 0.78;
export const descent = 0.24;

export interface TextStyle {
  readonly sizePt: number;
  readonly bold?: boolean;
  readonly grey?: number;
  readonly anchor?: Anchor;
  readonly angle?: 0 | -90;
}

/** One line of text, its control characters replaced by spaces, its accents composed. */
export function makeText(measure: TextMeasure, text: string, at: PagePoint, style: TextStyle): TextItem {
  const clean = cleanText(text);
  const bold = style.bold ?? false;
  return {
    type: 'text',
    text: clean,
    at,
    anchor: style.anchor ?? 'start',
    sizePt: style.sizePt,
    bold,
    grey: style.grey ?? 0,
    angle: style.angle ?? 0,
    widthMm: widthMm(measure, clean, style.sizePt, bold),
  };
}

/** What may stand in an XML document and has a glyph of its own: no control characters, no lone surrogates. */
export function cleanText(text: string): string {
  return text
    .normalize('NFC')
    .replace(/\p{Surrogate}/gu, '\uFFFD')
    .replace(/[\p{Cc}\p{Zl}\p{Zp}\uFFFE\uFFFF]+/gu, ' ');
}

/** Width of a text in millimetres. */
export function widthMm(measure: TextMeasure, text: string, sizePt: number, bold: boolean): number {
  return measure.widthInEm(text, bold) * sizePt * mmPerPt;
}

/** `text`, or its beginning and an ellipsis where it is wider than `widthMaxMm`. */
export function shorten(measure: TextMeasure, text: string, widthMaxMm: number, sizePt: number, bold: boolean): string {
  const clean = cleanText(text);
  if (widthMm(measure, clean, sizePt, bold) <= widthMaxMm) return clean;
  const characters = [...clean];
  while (characters.length > 0) {
    characters.pop();
    const tried = `${characters.join('').trimEnd()}…`;
    if (widthMm(measure, tried, sizePt, bold) <= widthMaxMm) return tried;
  }
  return '…';
}

/** Lines no wider than `widthMaxMm`, broken at spaces, words that are too long broken inside. */
export function wrap(
  measure: TextMeasure,
  text: string,
  widthMaxMm: number,
  sizePt: number,
  bold: boolean,
): readonly string[] {
  const fits = (line: string) => widthMm(measure, line, sizePt, bold) <= widthMaxMm;
  const lines: string[] = [];
  let line = '';
  for (const word of cleanText(text).split(/ +/)) {
    const joined = line === '' ? word : `${line} ${word}`;
    if (fits(joined)) {
      line = joined;
      continue;
    }
    if (line !== '') lines.push(line);
    line = '';
    for (const character of word) {
      if (line !== '' && !fits(line + character)) {
        lines.push(line);
        line = '';
      }
      line += character;
    }
  }
  if (line !== '') lines.push(line);
  return lines;
}

export type { Box };

/** The box a text takes up on the page. */
export function boxOfText(item: TextItem): Box {
  const [x, y] = item.at;
  const size = item.sizePt * mmPerPt;
  const before = item.anchor === 'start' ? 0 : item.anchor === 'middle' ? item.widthMm / 2 : item.widthMm;
  const after = item.widthMm - before;
  return item.angle === 0
    ? { left: x - before, right: x + after, top: y - ascent * size, bottom: y + descent * size }
    : { left: x - ascent * size, right: x + descent * size, top: y - after, bottom: y + before };
}
