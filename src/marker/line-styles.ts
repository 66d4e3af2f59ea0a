/** How each kind of line looks. Kinds differ by width and dashes, so the page reads the same in black and white. */
import type { LineKind, LineStyle, LineStyles } from './types.js';

export const lineStyles: LineStyles = {
  cutting: { widthMm: 0.45, dashMm: [], grey: 0 },
  seam: { widthMm: 0.18, dashMm: [1.1, 0.7], grey: 0.25 },
  mark: { widthMm: 0.3, dashMm: [], grey: 0 },
  match: { widthMm: 0.18, dashMm: [], grey: 0 },
  inner: { widthMm: 0.18, dashMm: [0.25, 0.6], grey: 0 },
  grain: { widthMm: 0.22, dashMm: [], grey: 0 },
  fold: { widthMm: 0.4, dashMm: [4, 0.9, 0.6, 0.9], grey: 0 },
  selvedge: { widthMm: 0.22, dashMm: [], grey: 0 },
  'cloth end': { widthMm: 0.4, dashMm: [], grey: 0 },
  limit: { widthMm: 0.15, dashMm: [0.4, 0.8], grey: 0.35 },
  bar: { widthMm: 0.12, dashMm: [2.2, 0.6], grey: 0.55 },
  dimension: { widthMm: 0.15, dashMm: [], grey: 0.2 },
  leader: { widthMm: 0.18, dashMm: [], grey: 0 },
  rule: { widthMm: 0.15, dashMm: [], grey: 0.6 },
  'first curve': { widthMm: 0.5, dashMm: [], grey: 0 },
  'second curve': { widthMm: 0.35, dashMm: [2.4, 1.2], grey: 0 },
  'third curve': { widthMm: 0.35, dashMm: [0.5, 0.9], grey: 0 },
  'fourth curve': { widthMm: 0.35, dashMm: [4, 1, 0.5, 1], grey: 0 },
  'width break': { widthMm: 0.18, dashMm: [0.3, 0.8], grey: 0.2 },
  box: { widthMm: 0.22, dashMm: [], grey: 0.2 },
  splice: { widthMm: 0.3, dashMm: [10, 3, 1, 3, 1, 3], grey: 0.2 },
  hatch: { widthMm: 0.15, dashMm: [], grey: 0.3 },
  check: { widthMm: 0.3, dashMm: [], grey: 0 },
};

/** At true size: what is cut stands out on the table, dashes can be told apart at arm's length. */
export const trueSizeStyles: LineStyles = {
  ...lineStyles,
  cutting: { widthMm: 0.8, dashMm: [], grey: 0 },
  seam: { widthMm: 0.25, dashMm: [4, 2], grey: 0.2 },
  mark: { widthMm: 0.45, dashMm: [], grey: 0 },
  match: { widthMm: 0.3, dashMm: [], grey: 0 },
  inner: { widthMm: 0.3, dashMm: [0.6, 1.8], grey: 0 },
  grain: { widthMm: 0.35, dashMm: [], grey: 0 },
  fold: { widthMm: 0.7, dashMm: [12, 2.5, 1.5, 2.5], grey: 0 },
  selvedge: { widthMm: 0.3, dashMm: [], grey: 0 },
  'cloth end': { widthMm: 0.6, dashMm: [], grey: 0 },
  limit: { widthMm: 0.2, dashMm: [1, 2], grey: 0.35 },
  bar: { widthMm: 0.15, dashMm: [8, 3], grey: 0.45 },
};

/** Thrown on cloth: nothing thinner than a projector shows, all of it black. */
export const projectedStyles: LineStyles = Object.fromEntries(
  Object.entries(lineStyles).map(([kind, { widthMm, dashMm }]): [string, LineStyle] => [
    kind,
    { widthMm: kind === 'cutting' ? 2 : Math.max(1.2, widthMm * 4), dashMm: dashMm.map((mm) => mm * 6), grey: 0 },
  ]),
) as Record<LineKind, LineStyle>;
