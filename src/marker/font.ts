/**
 * The page's typeface: DejaVu Sans, regular and bold (Latin with diacritics, Greek, Cyrillic). The one file of the
 * marker that reads files. Measures text by the advance widths of the font itself, without kerning or ligatures,
 * which both writers switch off.
 */
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Font } from '@pdf-lib/fontkit';
import { assert } from '../diagnostics/assert.js';
import type { TextMeasure } from './types.js';
import { unpackWoff } from './woff.js';

/** The font files' bytes, and a measure made from them. */
export interface PageFont extends TextMeasure {
  readonly regular: Uint8Array;
  readonly bold: Uint8Array;
}

/** Reads both font files; rejects when the package is not installed whole. */
export async function loadPageFont(): Promise<PageFont> {
  const { create } = (await import('@pdf-lib/fontkit')).default;
  const resolve = createRequire(import.meta.url).resolve;
  // The package calls this file "latin", but it holds all glyphs of the font.
  const file = (weight: number) => resolve(`@fontsource/dejavu-sans/files/dejavu-sans-latin-${weight}-normal.woff`);
  const [regular, bold] = (await Promise.all([readFile(file(400)), readFile(file(700))])).map(unpackWoff);
  assert(regular !== undefined && bold !== undefined, 'both font files were read');
  const widthRegular = advanceTable(create(regular as Buffer));
  const widthBold = advanceTable(create(bold as Buffer));
  return { regular, bold, widthInEm: (text, isBold) => (isBold ? widthBold : widthRegular)(text) };
}

/** Sums advance widths, each read from the font once. */
function advanceTable(font: Font): (text: string) => number {
  const known = new Map<string, number>();
  return (text) => {
    let sum = 0;
    for (const character of text) {
      let advance = known.get(character);
      if (advance === undefined) {
        advance = font.glyphForCodePoint(character.codePointAt(0)!).advanceWidth / font.unitsPerEm;
        known.set(character, advance);
      }
      sum += advance;
    }
    return sum;
  };
}
