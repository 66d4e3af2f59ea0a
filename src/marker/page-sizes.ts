/** Sheets that plans and proofs are laid out for. */
import { sheetSizesMm } from '../units/paper.js';

/** Paper for plans and proofs. */
export type PageSize = 'a4' | 'letter';

export const pageSizesMm: Readonly<Record<PageSize, readonly [number, number]>> = sheetSizesMm;

export const marginMm = 12;
