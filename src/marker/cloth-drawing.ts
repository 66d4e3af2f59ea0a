/**
 * The lay as it lies on the table, drawn at 1 : scale: cut end on top, left selvedge at the left, rulers along the
 * cloth and across it, lengths used and to buy at the right, pieces inside.
 */
import { nameAndSize } from '../report/words.js';
import { formatBuy, formatLength, umPerUnit } from '../units/length.js';
import type { LengthUnit, Point, Um } from '../units/types.js';
import type { ClothView, SeenPiece, ViewEdge, ViewStretch } from './cloth-view.js';
import { numbersOutside } from './numbers-outside.js';
import { drawPiece, labelWords, lineOf, type ToPage } from './piece-drawing.js';
import { textSizeMinPt } from './piece-label.js';
import { makeText, widthMm } from './text.js';
import type { Item, ItemGroup, LineKind, PagePoint, TextMeasure } from './types.js';

/** Where nothing is cut, and where a part is turned over onto the cloth. */
export const flawGrey = 0.6;
export const doubledGrey = 0.84;

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
  const sides = view.stretches.flatMap((stretch) => stretchEdges(measure, stretch, view, toPage));
  const outside = numbersOutside(measure, { corners, items: [...clothGround(view, toPage), ...sides] }, numbered);
  return [
    { title: null, placement: null, items: [...clothGround(view, toPage), ...barLines(view, toPage)] },
    ...pieces.map((seen, i): ItemGroup => {
      const number = seen.placement.n;
      return { title: titleOf(seen), placement: number, items: drawn[i]!.items };
    }),
    { title: null, placement: null, items: outside.items },
    { title: null, placement: null, items: [...sides, ...clothEnds(measure, view, toPage, outside.missing)] },
    { title: null, placement: null, items: rulers(measure, view, place, toPage) },
    { title: null, placement: null, items: lengths(measure, view, place, toPage) },
  ];
}

function titleOf({ placement, piece }: SeenPiece): string {
  const copies = placement.copies.length === 1 ? 'copy' : 'copies';
  return `${placement.n}: ${nameAndSize(piece.id, piece.size)} (${copies} ${placement.copies.join(' and ')})`;
}

/** The cloth in light grey, what is turned over onto it a little darker, and dotted lines where placements end. */
function clothGround(view: ClothView, toPage: ToPage): readonly Item[] {
  const { stretches, usedUm } = view;
  const area = (fromX: Um, toX: Um, fromY: Um, toY: Um, grey: number): Item => {
    const corners = [[fromX, fromY] as const, [fromX, toY] as const, [toX, toY] as const, [toX, fromY] as const];
    return { type: 'area', points: corners.map(toPage), grey };
  };
  const limit = (from: Point, to: Point) => lineOf('limit', [toPage(from), toPage(to)], false);
  const [begin, end] = [stretches[0]!, stretches.at(-1)!];
  return [
    ...stretches.flatMap(({ fromUm, toUm, left, right, turnedOver }) => [
      area(fromUm, toUm, left.at, right.at, 0.93),
      ...turnedOver.map(({ name, at }) => {
        const [from, to] = name === 'left selvedge' ? [left.at, at] : [at, right.at];
        return area(fromUm, toUm, from, to, doubledGrey);
      }),
    ]),
    ...view.flaws.map((ring): Item => ({ type: 'area', points: ring.map(toPage), grey: flawGrey })),
    ...stretches.flatMap(({ fromUm, toUm, limits }) => limits.map((y) => limit([fromUm, y], [toUm, y]))),
    limit([usedUm[0], begin.left.at], [usedUm[0], begin.right.at]),
    limit([usedUm[1], end.left.at], [usedUm[1], end.right.at]),
  ];
}

/** Bars of the repeat, to lay the cloth and chalk by. */
function barLines(view: ClothView, toPage: ToPage): readonly Item[] {
  const { along, across } = view.bars;
  return view.stretches.flatMap(({ fromUm, toUm, left, right }) => [
    ...along
      .filter((x) => x >= fromUm && x <= toUm)
      .map((x) => lineOf('bar', [toPage([x, left.at]), toPage([x, right.at])], false)),
    ...across
      .filter((y) => y >= left.at && y <= right.at)
      .map((y) => lineOf('bar', [toPage([fromUm, y]), toPage([toUm, y])], false)),
  ]);
}

/** Cut end and far end, each named in words outside the cloth. */
function clothEnds(measure: TextMeasure, view: ClothView, toPage: ToPage, missing: number): readonly Item[] {
  const { stretches, alongUm, beginsWith, endsWith } = view;
  const [first, last] = [stretches[0]!, stretches.at(-1)!];
  const straight = (from: Point, to: Point, kind: LineKind) => lineOf(kind, [toPage(from), toPage(to)], false);
  const [left, top] = toPage([0, 0]);
  const [, bottom] = toPage([alongUm, 0]);
  const [foot, footRight] = [toPage([alongUm, last.left.at])[0], toPage([alongUm, last.right.at])[0]];
  const endKind: LineKind = beginsWith === 'fold' ? 'fold' : 'cloth end';
  const beyond = missing === 0 ? '' : ` · too small for their numbers here: ${missing}`;
  return [
    straight([0, first.left.at], [0, first.right.at], endKind),
    straight([alongUm, last.left.at], [alongUm, last.right.at], 'cloth end'),
    makeText(measure, beginsWith, [left - 1.2, top - 1.6], { sizePt: 6, anchor: 'end' }),
    missing === 0
      ? makeText(measure, endsWith, [(foot + footRight) / 2, bottom + 3.4], { sizePt: 6, anchor: 'middle' })
      : makeText(measure, `${endsWith}${beyond}`, [foot, bottom + 3.4], { sizePt: 6 }),
  ];
}

/** The two edges of a stretch, named beside it: a selvedge as a double line, a fold as its own; what is turned over ends in a single one. */
function stretchEdges(measure: TextMeasure, stretch: ViewStretch, view: ClothView, toPage: ToPage): readonly Item[] {
  const { fromUm, toUm, left, right, turnedOver } = stretch;
  const second = 0.6;
  const upright = (at: Um, by: number, kind: LineKind) => {
    const [x, top] = toPage([fromUm, at]);
    const [, bottom] = toPage([toUm, at]);
    const points: PagePoint[] = [
      [x + by, top],
      [x + by, bottom],
    ];
    return lineOf(kind, points, false);
  };
  const edge = ({ name, at }: ViewEdge, outwards: 1 | -1) =>
    name.endsWith('fold')
      ? [upright(at, 0, 'fold')]
      : [upright(at, 0, 'selvedge'), upright(at, outwards * second, 'selvedge')];
  const beside = (name: string, x: number) => {
    const [, top] = toPage([fromUm, 0]);
    const [, bottom] = toPage([toUm, 0]);
    return fitted(measure, name, bottom - top, 7, (sizePt) =>
      makeText(measure, name, [x, (top + bottom) / 2], { sizePt, anchor: 'middle', angle: -90 }),
    );
  };
  const isInner = right.at < view.acrossUm;
  const isInnerLeft = left.at > 0;
  return [
    ...edge(left, -1),
    ...edge(right, 1),
    ...turnedOver.map(({ at }) => upright(at, 0, 'selvedge')),
    // Beside a narrower stretch there is room within the width of the others.
    ...beside(edgeWords[left.name], isInnerLeft ? toPage([0, left.at])[0] - 1.6 : toPage([0, 0])[0] - 10.2),
    ...beside(edgeWords[right.name], toPage([0, right.at])[0] + (isInner ? 3 : 3.6)),
  ];
}

/** Names of edges as they stand beside them. */
export const edgeWords: Readonly<Record<ViewEdge['name'], string>> = {
  'left selvedge': 'left selvedge',
  'right selvedge': 'right selvedge',
  selvedges: 'both selvedges',
  fold: 'fold',
  'left fold': 'left fold',
  'right fold': 'right fold',
};

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
  const inBoth = view.lengthUsedUm > view.alongUm ? ' in both layers' : '';
  const used = `length used ${formatLength(view.lengthUsedUm, place.units)}${inBoth}`;
  const across = formatLength(view.acrossUm, place.units);
  const widest = view.stretches.find(({ left, right }) => right.at - left.at === view.acrossUm);
  const isFolded = widest !== undefined && [widest.left, widest.right].some(({ name }) => name.endsWith('fold'));
  const width = isFolded ? `folded width ${across}` : `width ${across}`;
  return [
    ...upright(measure, right + 7, usedFrom, usedTo, used),
    ...upright(
      measure,
      right + 13,
      top,
      bottom,
      `${view.buyVerb} ${formatBuy(view.buyUm, place.units)}${inBoth}${view.isWashed ? ' before washing' : ''}`,
    ),
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
