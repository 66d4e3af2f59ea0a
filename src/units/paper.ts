/** Paper: sheets by name, and rolls. */

/** ISO 216; ANSI/ASME Y14.1 A and B (letter and tabloid: 8 1/2 x 11 and 11 x 17 in). Millimetres, upright. */
export const sheetSizesMm = {
  a4: [210, 297],
  a3: [297, 420],
  a2: [420, 594],
  a1: [594, 841],
  a0: [841, 1189],
  letter: [215.9, 279.4],
  tabloid: [279.4, 431.8],
} as const satisfies Readonly<Record<string, readonly [number, number]>>;

export type SheetName = keyof typeof sheetSizesMm;
export const sheetNames = Object.keys(sheetSizesMm) as readonly SheetName[];

/** Paper to print on at true scale: a sheet, or a roll of a width, cut off at a length or where the drawing ends. */
export interface Sheet {
  readonly widthMm: number;
  /** null = as long as needed. */
  readonly heightMm: number | null;
}
