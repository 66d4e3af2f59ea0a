/** Sheets that plans and proofs are laid out for. */
import { type SheetName, sheetSizesMm } from '../units/paper.js';

/** Paper for plans, lists and proofs. */
export type PageSize = SheetName;

export const pageSizesMm: Readonly<Record<PageSize, readonly [number, number]>> = sheetSizesMm;

export const marginMm = 12;
