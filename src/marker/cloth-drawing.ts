/**
 * The lay as it lies on the table, drawn at 1 : scale: cut end on top, left selvedge at the left, rulers along the
 * cloth and across it, lengths used and to buy at the right, pieces inside.
 */
import { formatBuy, formatLength, umPerUnit } from '../units/length.js';
import type { LengthUnit, Point, Um } from '../units/types.js';
import type { ClothView, SeenPiece } from './cloth-view.js';
import { numbersOutside } from './numbers-outside.js';
import { drawPiece, labelWords, lineOf, type ToPage } from './piece-drawing.js';
import { textSizeMinPt } from './piece-label.js';
import { makeText, widthMm } from './text.js';
import type { Item, ItemGroup, PagePoint, TextMeasure } from './types.js';

/** Room around the cloth for rulers, names of the edges and dimensions. */
export const gutterMm = { left: 13, right: 16.5, top: 13, bottom: 5 } as const;

export interface ClothPlace {
  /** Left end of the raw cut end. */
  readonly origin: PagePoint;
  readonly scale: number;
  readonly units: LengthUnit;
}

/** Everything of the plan but the words around it. One group per placement, in the order of their numbers. */
export function drawCloth(measure: TextMeasure, view: ClothView, place: ClothPlace): readonly ItemGroup[] {
  const toPage: ToPage = ([x, y]) => [
    place.origin[0] + y / 1000 / place.scale,
    place.origin[1] + x / 1000 / place.scale,
  ];
  const pieces = [...view.pieces].sort((a, b) => a.placement.n - b.placement.n);
  const drawn = pieces.map((seen) => drawPiece(measure, seen, toPage));
  const numbered = pieces.map((seen, i) => ({ drawn: drawn[i]!, number: labelWords(seen).number }));
  const corners = [toPage([0, 0]), toPage([view.alongUm, view.acrossUm])];
  const outside = numbersOutside(measure, { corners, items: clothGround(view, toPage) }, numbered);
  return [
    { title: null, placement: null, items: clothGround(view, toPage) },
    ...pieces.map((seen, i): ItemGroup => {
      const number = seen.placement.n;
      return { title: titleOf(seen), placement: number, items: drawn[i]!.items };
    }),
    { title: null, placement: null, items: outside.items },
    { title: null, placement: null, items: clothEdges(measure, view, toPage, outside.missing) },
    { title: null, placement: null, items: rulers(measure, view, place, toPage) },
    { title: null, placement: null, items: lengths(measure, view, place, toPage) },
  ];
}

function titleOf({ placement, piece }: SeenPiece): string {
  const copies = placement.copies.length === 1 ? 'copy' : 'copies';
  const size = piece.size === null ? '' : `, size ${piece.size}`;
  return `${placement.n}: ${piece.id}${size} (${copies} ${placement.copies.join(' and ')})`;
}

/** The cloth in light grey, and dotted lines where placements end. */
function clothGround(view: ClothView, toPage: ToPage): readonly Item[] {
  const { acrossUm, alongUm, usableUm, usedUm, folded } = view;
  const area = (fromX: Um, toX: Um, fromY: Um, toY: Um): PagePoint[] =>
    [[fromX, fromY] as const, [fromX, toY] as const, [toX, toY] as const, [toX, fromY] as const].map(toPage);
  const limit = (from: Point, to: Point) => lineOf('limit', [toPage(from), toPage(to)], false);
  return [
    { type: 'area', points: area(0, alongUm, 0, acrossUm), grey: 0.93 },
    limit([0, usableUm[0]], [alongUm, usableUm[0]]),
    ...(folded ? [] : [limit([0, usableUm[1]], [alongUm, usableUm[1]])]),
    limit([usedUm[0], 0], [usedUm[0], acrossUm]),
    limit([usedUm[1], 0], [usedUm[1], acrossUm]),
  ];
}

/** Cut end, far end, selvedges and fold, each named in words outside the cloth. */
function clothEdges(measure: TextMeasure, view: ClothView, toPage: ToPage, missing: number): readonly Item[] {
  const { acrossUm, alongUm, folded } = view;
  const corner = (x: Um, y: Um) => toPage([x, y]);
  const edge = (y: Um, kind: 'selvedge' | 'fold') => lineOf(kind, [corner(0, y), corner(alongUm, y)], false);
  const [left, top] = corner(0, 0);
  const [right, bottom] = corner(alongUm, acrossUm);
  const beside = (text: string, x: number) =>
    fitted(measure, text, bottom - top, 7, (sizePt) =>
      makeText(measure, text, [x, (top + bottom) / 2], { sizePt, anchor: 'middle', angle: -90 }),
    );
  const second = 0.6;
  return [
    edge(0, 'selvedge'),
    lineOf(
      'selvedge',
      [
        [left - second, top],
        [left - second, bottom],
      ],
      false,
    ),
    edge(acrossUm, folded ? 'fold' : 'selvedge'),
    ...(folded
      ? []
      : [
          lineOf(
            'selvedge',
            [
              [right + second, top],
              [right + second, bottom],
            ],
            false,
          ),
        ]),
    lineOf(
      'cloth end',
      [
        [left, top],
        [right, top],
      ],
      false,
    ),
    lineOf(
      'cloth end',
      [
        [left, bottom],
        [right, bottom],
      ],
      false,
    ),
    ...beside(folded ? 'both selvedges' : 'left selvedge', left - 10.2),
    ...beside(folded ? 'fold' : 'right selvedge', right + 3.6),
    makeText(measure, 'cut end', [left - 1.2, top - 1.6], { sizePt: 6, anchor: 'end' }),
    missing === 0
      ? makeText(measure, 'far end', [(left + right) / 2, bottom + 3.4], { sizePt: 6, anchor: 'middle' })
      : makeText(measure, `far end · too small for their numbers here: ${missing}`, [left, bottom + 3.4], {
          sizePt: 6,
        }),
  ];
}

/** The text made by `make` at the largest size from `sizePt` down that is no longer than `roomMm`; else nothing. */
function fitted(
  measure: TextMeasure,
  text: string,
  roomMm: number,
  sizePt: number,
  make: (sizePt: number) => Item,
): readonly Item[] {
  for (let size = sizePt; size >= textSizeMinPt; size -= 0.5) {
    if (widthMm(measure, text, size, false) <= roomMm) return [make(size)];
  }
  return [];
}

/** Steps between ruler numbers in each unit, with the number of small ticks in each. */
const rulerSteps: Readonly<Record<LengthUnit, readonly (readonly [number, number])[]>> = {
  cm: [
    [5, 5],
    [10, 2],
    [20, 2],
    [50, 5],
    [100, 10],
    [200, 4],
  ],
  mm: [
    [50, 5],
    [100, 2],
    [200, 2],
    [500, 5],
    [1000, 10],
    [2000, 4],
  ],
  in: [
    [2, 2],
    [6, 6],
    [12, 4],
    [36, 3],
    [72, 2],
  ],
};

/** Ticks and numbers along the cloth (left) and across it (top). */
function rulers(measure: TextMeasure, view: ClothView, place: ClothPlace, toPage: ToPage): readonly Item[] {
  const unitUm = umPerUnit[place.units];
  const mmPerUnit = unitUm / 1000 / place.scale;
  const steps = rulerSteps[place.units];
  const [step, parts] = steps.find(([size]) => size * mmPerUnit >= 8) ?? steps.at(-1)!;
  const [left, top] = toPage([0, 0]);
  const items: Item[] = [];
  const ticks = (lengthUm: Um, draw: (at: Um, isNumbered: boolean, value: number) => void) => {
    const smallUm = (step * unitUm) / parts;
    for (let i = 0; i * smallUm <= lengthUm; i++) draw(i * smallUm, i % parts === 0, (i / parts) * step);
  };
  ticks(view.alongUm, (at, isNumbered, value) => {
    const y = toPage([at, 0])[1];
    const outer = left - (isNumbered ? 3 : 2);
    items.push(
      lineOf(
        'dimension',
        [
          [left - 1, y],
          [outer, y],
        ],
        false,
      ),
    );
    if (isNumbered && value > 0) {
      items.push(makeText(measure, `${value}`, [left - 3.6, y + 0.8], { sizePt: 6.5, anchor: 'end' }));
    }
  });
  ticks(view.acrossUm, (at, isNumbered, value) => {
    const x = toPage([0, at])[0];
    const outer = top - (isNumbered ? 2.6 : 1.6);
    items.push(
      lineOf(
        'dimension',
        [
          [x, top - 0.8],
          [x, outer],
        ],
        false,
      ),
    );
    if (isNumbered && value > 0) {
      items.push(makeText(measure, `${value}`, [x, top - 3.3], { sizePt: 6.5, anchor: 'middle' }));
    }
  });
  return items;
}

/** Width on top; length used and buy length at the right. */
function lengths(measure: TextMeasure, view: ClothView, place: ClothPlace, toPage: ToPage): readonly Item[] {
  const [left, top] = toPage([0, 0]);
  const [right, bottom] = toPage([view.alongUm, view.acrossUm]);
  const [usedFrom, usedTo] = [toPage([view.usedUm[0], 0])[1], toPage([view.usedUm[1], 0])[1]];
  const used = `length used ${formatLength(view.usedUm[1] - view.usedUm[0], place.units)}`;
  const across = formatLength(view.acrossUm, place.units);
  const width = view.folded ? `folded width ${across}` : `width ${across}`;
  return [
    ...upright(measure, right + 7, usedFrom, usedTo, used),
    ...upright(measure, right + 13, top, bottom, `${view.buyVerb} ${formatBuy(view.alongUm, place.units)}`),
    ...level(measure, top - 8, left, right, width),
  ];
}

/** A dimension line from top to bottom with its words at its right, read from below. */
function upright(measure: TextMeasure, x: number, from: number, to: number, text: string): readonly Item[] {
  const bar = 0.9;
  return [
    lineOf(
      'dimension',
      [
        [x, from],
        [x, to],
      ],
      false,
    ),
    lineOf(
      'dimension',
      [
        [x - bar, from],
        [x + bar, from],
      ],
      false,
    ),
    lineOf(
      'dimension',
      [
        [x - bar, to],
        [x + bar, to],
      ],
      false,
    ),
    ...fitted(measure, text, to - from, 7, (sizePt) =>
      makeText(measure, text, [x + 3.2, (from + to) / 2], { sizePt, anchor: 'middle', angle: -90 }),
    ),
  ];
}

function level(measure: TextMeasure, y: number, from: number, to: number, text: string): readonly Item[] {
  const bar = 0.9;
  return [
    lineOf(
      'dimension',
      [
        [from, y],
        [to, y],
      ],
      false,
    ),
    lineOf(
      'dimension',
      [
        [from, y - bar],
        [from, y + bar],
      ],
      false,
    ),
    lineOf(
      'dimension',
      [
        [to, y - bar],
        [to, y + bar],
      ],
      false,
    ),
    // On a drawing too narrow for them the words stand beside the line.
    widthMm(measure, text, 7, false) <= to - from - 1
      ? makeText(measure, text, [(from + to) / 2, y - 1.4], { sizePt: 7, anchor: 'middle' })
      : makeText(measure, text, [to + 1.4, y + 0.8], { sizePt: 7, anchor: 'start' }),
  ];
}
