/** Sheets that pages are laid out for. */
export type PageSize = 'a4' | 'letter';

/** ISO 216 A4; ANSI A (8 1/2 x 11 in). */
export const pageSizesMm: Readonly<Record<PageSize, readonly [number, number]>> = {
  a4: [210, 297],
  letter: [215.9, 279.4],
};

export const marginMm = 12;
