/**
 * The drawing list: what the plan shows, page by page, as plain data that the SVG and the PDF writer both follow, so
 * that both always show the same. Page frame: millimetres, x to the right, y down, [0, 0] the page's top left corner.
 */

/** Upright, edges in millimetres. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** A point [x, y] on the page in millimetres. */
export type PagePoint = readonly [number, number];

/** What a line means. Its width, dashes and grey come from the one table in line-styles.ts. */
export type LineKind =
  | 'cutting'
  | 'seam'
  | 'mark'
  | 'match'
  | 'inner'
  | 'grain'
  | 'fold'
  | 'selvedge'
  | 'cloth end'
  | 'limit'
  | 'bar'
  | 'dimension'
  | 'leader'
  | 'rule'
  | 'box'
  | 'first curve'
  | 'second curve'
  | 'third curve'
  | 'fourth curve'
  | 'width break'
  | 'splice'
  | 'hatch'
  | 'check';

/** Parts of a drawing that a reader of the file can show or hide, in this order. */
export const contentLayers = [
  'cutting lines',
  'seams and marks',
  'labels',
  'cloth, repeat and flaws',
  'joins and checks',
] as const;
export type ContentLayer = (typeof contentLayers)[number];

/** How one kind of line looks. */
export interface LineStyle {
  readonly widthMm: number;
  /** Dash and gap lengths in millimetres; empty = unbroken. */
  readonly dashMm: readonly number[];
  readonly grey: number;
}

export type LineStyles = Readonly<Record<LineKind, LineStyle>>;

export interface LineItem {
  readonly type: 'line';
  readonly kind: LineKind;
  readonly points: readonly PagePoint[];
  readonly closed: boolean;
  readonly layer?: ContentLayer;
}

/** A filled area without an edge: 0 black to 1 white. */
export interface AreaItem {
  readonly type: 'area';
  readonly points: readonly PagePoint[];
  readonly grey: number;
  readonly layer?: ContentLayer;
}

export type Anchor = 'start' | 'middle' | 'end';

export interface TextItem {
  readonly type: 'text';
  readonly text: string;
  /** Where the baseline's anchor lies. */
  readonly at: PagePoint;
  readonly anchor: Anchor;
  readonly sizePt: number;
  readonly bold: boolean;
  readonly grey: number;
  /** 0, or -90: read from below upwards. */
  readonly angle: 0 | -90;
  /** Measured by the font's own metrics. */
  readonly widthMm: number;
  readonly layer?: ContentLayer;
}

export type Item = LineItem | AreaItem | TextItem;

/** Things that belong together: one placement of the lay, or a part of the page. */
export interface ItemGroup {
  /** For example `placement 3: Pocket`, null for parts of the page that need no name. */
  readonly title: string | null;
  /** The placement's number, or null. */
  readonly placement: number | null;
  readonly items: readonly Item[];
  /** Nothing of it is drawn outside this box. */
  readonly clip?: Box;
}

export interface Page {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly groups: readonly ItemGroup[];
}

export interface Drawing {
  readonly title: string;
  /** The lay is drawn at 1 : scale. */
  readonly scale: number;
  /** Where the left end of the raw cut end lies on the first page. */
  readonly origin: PagePoint;
  readonly pages: readonly Page[];
  /** Where lines look otherwise than on the plan. */
  readonly styles?: LineStyles;
}

/** The date that stands in a PDF, as seconds since 1970-01-01 00:00 UTC; null: always the same one. */
export type MadeAt = number | null;

/** What a file of a drawing is written with. */
export interface Dated {
  /** Left out: null. */
  readonly madeAt?: MadeAt;
}

/** Widths of text in the font that both writers use. */
export interface TextMeasure {
  /** Width of `text` as a part of the font size. */
  widthInEm(text: string, bold: boolean): number;
}
