/**
 * The whole marker at true size as one picture: the cloth runs down the page, the left edge of what is seen at the left.
 * The paper goes on beyond the last piece by what is kept clear at the end of the cloth, not to the end of what is bought.
 */
import { partingPlaces } from '../lay/left-over.js';
import { nameAndSize } from '../report/words.js';
import { formatLength } from '../units/length.js';
import type { LengthUnit, Um } from '../units/types.js';
import { edgeWords } from './cloth-drawing.js';
import type { ClothView, ViewEdge, ViewStretch } from './cloth-view.js';
import { crossingsAt, FreeSpace } from './free-space.js';
import { isOnJoin, joinGrid, joinStrips } from './join-grid.js';
import { type MarkerLook, onLayer } from './marker-looks.js';
import { type KnownSpots, type MarkedPiece, markerPiece } from './marker-piece.js';
import { blockItems, middleOf, numberWithLeader } from './numbers-outside.js';
import { boxOf, boxOfItem, lineOf, type ToPage, withoutGap } from './piece-drawing.js';
import { ascent, type Box, boxOfText, descent, makeText, mmPerPt, widthMm } from './text.js';
import { clipLevel, type Room, touches } from './tiling.js';
import { inRuns } from './transfer-table.js';
import type { Item, ItemGroup, LineItem, LineKind, PagePoint, TextItem, TextMeasure } from './types.js';

/** A part of the marker, with what decides whether a sheet is worth printing. */
export interface MarkerPart extends ItemGroup {
  /** Around all of it. */
  readonly box: Box;
  /** Bare cloth and its edges alone are not worth a sheet. */
  readonly isContent: boolean;
  /** Of a piece: what of the paper is its own. */
  readonly outline: readonly PagePoint[] | null;
}

export interface MarkerPicture {
  readonly parts: readonly MarkerPart[];
  readonly widthMm: number;
  readonly heightMm: number;
  /** From the first to the last point of any piece: across, along. */
  readonly takenMm: readonly [number, number];
  /** Lengths of the check lines, across and along, and the side at which the latter stands. */
  readonly checksMm: readonly [number, number];
  readonly checkSide: 'left' | 'right';
  /** Left end of the line where measures along the cloth begin. */
  readonly origin: PagePoint;
  /** Numbers for which there is no room anywhere. */
  readonly unlabelled: readonly string[];
  /** Pieces that bear no more than their number: which, and the name. */
  readonly numbersAlone: readonly string[];
  /** Places along the cloth, from where it begins, at which the paper can be parted or rolled up. */
  readonly partings: readonly Um[];
}

export interface PictureOptions {
  readonly measure: TextMeasure;
  readonly look: MarkerLook;
  readonly units: LengthUnit;
  /** What is kept clear at the far end. */
  readonly farEndUm: Um;
  /** Of the sheets that it is parted into; left out: it stays whole. */
  readonly room?: Room;
}

/** Less than this after the last piece has no room for its words. */
const tailLeastUm: Um = 10_000;
/** Nearer together than this, one of them is enough. */
const partingsApartUm: Um = 100_000;

/** @param view of a lay accepted by the checker */
export function markerPicture(view: ClothView, options: PictureOptions): MarkerPicture {
  const { measure, look } = options;
  const gutter = look.gutterMm;
  const toPage: ToPage = ([x, y]) => [gutter + y / 1000, gutter + x / 1000];
  const endUm = Math.min(view.alongUm, view.usedUm[1] + Math.max(options.farEndUm, tailLeastUm));
  const [wideMm, highMm] = [view.acrossUm / 1000, endUm / 1000];
  const several = view.pieces.some(({ placement }) => placement.garment > 1);
  const seen = [...view.pieces].sort((a, b) => a.placement.n - b.placement.n);
  const known: KnownSpots = new Map();
  const boxes = seen.map(({ outline }) => boxOf(outline.map(toPage)));
  const joins =
    options.room === undefined
      ? []
      : joinStrips(joinGrid(boxes, wideMm + 2 * gutter, highMm + 2 * gutter, options.room));
  const marked = seen.map((each) => markerPiece(each, { measure, toPage, look, several, known, joins }));
  const [short, long] = checkLengthsMm[options.units === 'in' ? 'in' : 'cm'];
  const checksMm: readonly [number, number] = [checkLength(wideMm, short), checkLength(highMm, long)];
  const taken = boxOf(marked.flatMap(({ outline }) => outline));
  // Sheets are left out where there is no piece, so the lines stand where the pieces are.
  const along = marked.filter(({ box }) => box.top < gutter + checksMm[1]);
  const checkSide = besideEdge(along, 'left', gutter) >= besideEdge(along, 'right', wideMm + gutter) ? 'left' : 'right';
  const frame: Frame = { view, options, toPage, endUm, wideMm, highMm, partings: partingsOf(view), checkSide, joins };
  const checks = checkLines(frame, checksMm, taken);
  const edges = clothEdges(frame, checks);
  // A crease runs on to the far end of the cloth, the paper does not.
  const flaws = view.flaws
    .map((ring) => clipLevel(ring.map(toPage), gutter, gutter + highMm))
    .filter(({ length }) => length > 2);
  const solid: readonly Item[] = [...edges, ...checks, ...flaws.map((ring) => lineOf('hatch', ring, true))];
  const outside = labelsOutside(frame, marked, solid, flaws);
  const names = turnedOverNames(frame, marked, [...solid, ...outside.groups.flat()]);
  const words = [...marked.flatMap(({ items }) => items), ...outside.groups.flat(), ...names, ...edges].filter(
    (item): item is TextItem => item.type === 'text',
  );
  const pale = beside(
    [...partingLines(frame), ...paleLines(frame)],
    words.map((word) => withAir(boxOfText(word))),
  );
  const cloth = 'cloth, repeat and flaws';
  const parts = [
    ...flaws.map((ring) => partOf(onLayer(cloth, [lineOf('hatch', ring, true), ...hatch(ring)]), false)),
    partOf(onLayer(cloth, pale), false),
    ...marked.map(({ items, outline }, i) => {
      const { placement, piece } = seen[i]!;
      const title = `${placement.n}: ${nameAndSize(piece.id, piece.size)}`;
      return { ...partOf(items, true), title, placement: placement.n, outline };
    }),
    ...outside.groups.map((items) => partOf(onLayer('labels', items), true)),
    partOf(onLayer(cloth, [...edges, ...names]), false),
    partOf(onLayer('joins and checks', checks), true),
  ].filter(({ items }) => items.length > 0);
  return {
    parts,
    widthMm: wideMm + 2 * gutter,
    heightMm: highMm + 2 * gutter,
    takenMm: [taken.right - taken.left, taken.bottom - taken.top],
    checksMm,
    checkSide: frame.checkSide,
    origin: toPage([0, 0]),
    unlabelled: outside.missing,
    numbersAlone: numbersAloneOf(marked, outside.alone),
    partings: frame.partings,
  };
}

interface Frame {
  readonly view: ClothView;
  readonly options: PictureOptions;
  readonly toPage: ToPage;
  /** Where the paper ends along the cloth. */
  readonly endUm: Um;
  readonly wideMm: number;
  readonly highMm: number;
  readonly partings: readonly Um[];
  readonly checkSide: 'left' | 'right';
  /** Strips where sheets are joined: words keep off them where they can. */
  readonly joins: readonly Box[];
}

function partOf(items: readonly Item[], isContent: boolean): MarkerPart {
  return { title: null, placement: null, items, box: boxOfItems(items), isContent, outline: null };
}

function boxOfItems(items: readonly Item[]): Box {
  const boxes = items.map(boxOfItem);
  return boxes.reduce(
    (a, b) => ({
      left: Math.min(a.left, b.left),
      top: Math.min(a.top, b.top),
      right: Math.max(a.right, b.right),
      bottom: Math.max(a.bottom, b.bottom),
    }),
    { left: Infinity, top: Infinity, right: -Infinity, bottom: -Infinity },
  );
}

/** Round on her tape, across and along, the longest first: up to 50 cm and 1 m, or 20 and 40 inches. */
const checkLengthsMm = {
  cm: [
    [500, 200, 100, 50],
    [1000, 500, 200, 100, 50],
  ],
  in: [
    [508, 254, 127, 50.8],
    [1016, 508, 254, 127, 50.8],
  ],
} as const;

/** The longest that has room. */
function checkLength(roomMm: number, lengthsMm: readonly number[]): number {
  return lengthsMm.find((mm) => mm <= roomMm) ?? 0;
}

/** Of how much of its length an edge has pieces within the reach of a small sheet. */
function besideEdge(marked: readonly MarkedPiece[], side: 'left' | 'right', edgeMm: number): number {
  const reachMm = 150;
  const near = marked.filter(({ box }) => Math.abs(box[side] - edgeMm) < reachMm);
  return near.reduce((sum, { box }) => sum + box.bottom - box.top, 0);
}

/** Where a straight line across meets no piece, in the middle of the room. */
function partingsOf({ pieces }: ClothView): readonly Um[] {
  const places: Um[] = [];
  for (const [from, to] of partingPlaces(pieces.map(({ outline }) => outline))) {
    const at = (from + to) / 2;
    if (places.length === 0 || at - places.at(-1)! >= partingsApartUm) places.push(at);
  }
  return places;
}

/** Distance of a word's middle from the cloth, and of a check line from the outer edge, as parts of the gutter. */
const wordsAt = 0.44;
const checkAt = 0.16;

/** Long lines to measure over the joined sheets: along one edge from where the cloth begins, and across the top. */
function checkLines(
  { options, toPage, wideMm, checkSide, joins }: Frame,
  [acrossMm, alongMm]: readonly [number, number],
  taken: Box,
): readonly Item[] {
  const { measure, look, units } = options;
  const gutter = look.gutterMm;
  const [left, top] = toPage([0, 0]);
  const bar = gutter * 0.09;
  const words = (mm: number) => `check line ${formatLength(mm * 1000, units)}`;
  const line = (from: PagePoint, to: PagePoint) => lineOf('check', [from, to], false);
  const y = gutter * checkAt;
  const from = Math.min(Math.max(left, Math.floor(taken.left)), left + wideMm - acrossMm);
  const across: readonly Item[] = [
    line([from, y], [from + acrossMm, y]),
    ...[from, from + acrossMm].map((x) => line([x, y - bar], [x, y + bar])),
    slid(
      makeText(measure, words(acrossMm), [from + 25, gutter * (1 - wordsAt) + lift(look.edgePt)], {
        sizePt: look.edgePt,
      }),
      joins,
    ),
  ];
  const isLeft = checkSide === 'left';
  const x = isLeft ? y : wideMm + 2 * gutter - y;
  const middle = isLeft ? gutter * (1 - wordsAt) : wideMm + gutter * (1 + wordsAt);
  const along: readonly Item[] = [
    line([x, top], [x, top + alongMm]),
    ...[top, top + alongMm].map((end) => line([x - bar, end], [x + bar, end])),
    slid(
      makeText(measure, words(alongMm), [middle + lift(look.edgePt), top + 5], {
        sizePt: look.edgePt,
        anchor: 'end',
        angle: -90,
      }),
      joins,
    ),
  ];
  return [...(acrossMm === 0 ? [] : across), ...(alongMm === 0 ? [] : along)];
}

const slideMm = 5;
const slidesMost = 12;

/** Moved along the edge beside which it stands, off the joins of sheets, where that is not far. */
function slid(item: TextItem, joins: readonly Box[]): TextItem {
  const [x, y] = item.at;
  for (let i = 0; i <= slidesMost; i++) {
    const tried = { ...item, at: item.angle === 0 ? ([x + i * slideMm, y] as const) : ([x, y + i * slideMm] as const) };
    if (!isOnJoin(joins, boxOfText(tried))) return tried;
  }
  return item;
}

/** From the middle of a line of text to its baseline. */
function lift(sizePt: number): number {
  return (sizePt * mmPerPt * (ascent - descent)) / 2;
}

/** Names of edges come again after so much. */
const nameEveryMm = 600;

/** All edges of the cloth with their names, in the gutter, and the words of what runs across. */
function clothEdges(frame: Frame, checks: readonly Item[]): readonly Item[] {
  const { view, options, toPage, endUm, partings } = frame;
  const { measure, look } = options;
  const { stretches, beginsWith, endsWith } = view;
  const sizePt = look.edgePt;
  const gutter = look.gutterMm;
  const [first, last] = [stretches[0]!, stretches.at(-1)!];
  const level = (x: Um, { left, right }: ViewStretch, kind: LineKind) =>
    lineOf(kind, [toPage([x, left.at]), toPage([x, right.at])], false);
  const taken: Box[] = checks.flatMap((item) => (item.type === 'text' ? [boxOfText(item)] : []));
  const texts: TextItem[] = [];
  const put = (
    text: string,
    at: PagePoint,
    angle: 0 | -90,
    anchor: 'start' | 'middle' | 'end',
    joins = frame.joins,
  ): void => {
    const item = slid(makeText(measure, text, at, { sizePt, angle, anchor }), joins);
    const box = boxOfText(item);
    const isIn = box.top >= 0 && box.bottom <= frame.highMm + 2 * gutter;
    if (!isIn || taken.some((other) => overlaps(box, other))) return;
    texts.push(item);
    taken.push(box);
  };
  const rightOf = (right: ViewEdge) => toPage([0, right.at])[0] + gutter * wordsAt + lift(sizePt);
  const leftOf = (left: ViewEdge) => toPage([0, left.at])[0] - gutter * wordsAt + lift(sizePt);
  const [startX, startY] = toPage([0, first.left.at]);
  put(beginsWith === 'fold' ? 'fold' : 'cut end', [startX, startY - gutter * wordsAt + lift(sizePt)], 0, 'start');
  for (const at of partings) {
    const stretch = stretches.find(({ toUm }) => at <= toUm) ?? last;
    // Stays at its line, joins or not.
    put('roll up to here', [rightOf(stretch.right), toPage([at, 0])[1]], -90, 'middle', []);
  }
  stretches.slice(1).forEach((stretch) => {
    const words = stretch.left.name.endsWith('fold') || stretch.right.name.endsWith('fold') ? 'folded' : 'one layer';
    put(`from here on ${words}`, [leftOf(stretch.left), toPage([stretch.fromUm, 0])[1] + 3], -90, 'end');
  });
  const endsHere = endUm === view.alongUm;
  const endWords = endsHere ? endsWith : 'end of the marker; the cloth goes on';
  const [endX, endY] = toPage([endUm, last.left.at]);
  put(endWords, [endX + 2, endY + gutter * wordsAt + lift(sizePt)], 0, 'start');
  for (const stretch of stretches) {
    const [from, to] = [toPage([stretch.fromUm, 0])[1], toPage([Math.min(stretch.toUm, endUm), 0])[1]];
    for (let y = from + Math.min(45, (to - from) / 2); y < to; y += nameEveryMm) {
      put(edgeWords[stretch.left.name], [leftOf(stretch.left), y], -90, 'middle');
      put(edgeWords[stretch.right.name], [rightOf(stretch.right), y], -90, 'middle');
    }
  }
  return [
    ...stretches.flatMap((stretch) => stretchEdges(frame, stretch)),
    level(0, first, beginsWith === 'fold' ? 'fold' : 'cloth end'),
    level(endUm, last, endsHere ? 'cloth end' : 'limit'),
    ...texts,
  ];
}

function overlaps(a: Box, b: Box): boolean {
  const air = 1;
  return a.left < b.right + air && b.left < a.right + air && a.top < b.bottom + air && b.top < a.bottom + air;
}

/** A selvedge as a double line, a fold as its own; where a stretch ends, how far. */
function stretchEdges({ toPage, endUm }: Frame, { fromUm, toUm, left, right }: ViewStretch): readonly LineItem[] {
  const second = 0.8;
  const end = Math.min(toUm, endUm);
  const upright = (at: Um, by: number, kind: LineKind): LineItem => {
    const [[x, top], [, bottom]] = [toPage([fromUm, at]), toPage([end, at])];
    return lineOf(
      kind,
      [
        [x + by, top],
        [x + by, bottom],
      ],
      false,
    );
  };
  const edge = ({ name, at }: ViewEdge, outwards: 1 | -1): readonly LineItem[] =>
    name.endsWith('fold')
      ? [upright(at, 0, 'fold')]
      : [upright(at, 0, 'selvedge'), upright(at, outwards * second, 'selvedge')];
  return [...edge(left, -1), ...edge(right, 1)];
}

/** Bars of the repeat, where placements end across, what is turned over, where stretches meet: broken at words. */
function paleLines({ view, toPage, endUm }: Frame): readonly LineItem[] {
  const { stretches, bars } = view;
  const last = stretches.length - 1;
  const upright = (y: Um, { fromUm, toUm }: ViewStretch, kind: LineKind): LineItem =>
    lineOf(kind, [toPage([fromUm, y]), toPage([Math.min(toUm, endUm), y])], false);
  const level = (x: Um, { left, right }: ViewStretch, kind: LineKind): LineItem =>
    lineOf(kind, [toPage([x, left.at]), toPage([x, right.at])], false);
  return stretches.flatMap((stretch, i) => [
    ...stretch.limits.map((y) => upright(y, stretch, 'limit')),
    ...stretch.turnedOver.map(({ at }) => upright(at, stretch, 'selvedge')),
    ...(i === last ? [] : [level(stretch.toUm, stretch, 'cloth end')]),
    ...bars.across.filter((y) => y > stretch.left.at && y < stretch.right.at).map((y) => upright(y, stretch, 'bar')),
    ...bars.along
      .filter((x) => x > stretch.fromUm && x <= stretch.toUm && x < endUm)
      .map((x) => level(x, stretch, 'bar')),
  ]);
}

function partingLines({ view, toPage, partings }: Frame): readonly LineItem[] {
  return partings.map((at) => {
    const stretch = view.stretches.find(({ toUm }) => at <= toUm) ?? view.stretches.at(-1)!;
    return lineOf('splice', [toPage([at, stretch.left.at]), toPage([at, stretch.right.at])], false);
  });
}

const airMm = 1.5;

/** With some white around it, so that no line is taken for a letter. */
function withAir({ left, top, right, bottom }: Box): Box {
  return { left: left - airMm, top: top - airMm, right: right + airMm, bottom: bottom + airMm };
}

/** Straight lines less what lies under words. */
function beside(lines: readonly LineItem[], boxes: readonly Box[]): readonly LineItem[] {
  return lines.flatMap((line) => {
    const [from, to] = line.points as readonly [PagePoint, PagePoint];
    const reach = boxOf(line.points);
    let strokes: readonly (readonly [PagePoint, PagePoint])[] = [[from, to]];
    for (const box of boxes) {
      if (touches(box, reach)) strokes = strokes.flatMap((stroke) => withoutGap(stroke, box));
    }
    return strokes.map((points) => lineOf(line.kind, points, false));
  });
}

const hatchApartMm = 6;

/** Slanting strokes within a ring. */
function hatch(ring: readonly PagePoint[]): readonly LineItem[] {
  // In the frame (x + y, x - y) slanting strokes are level.
  const turned = ring.map(([x, y]): PagePoint => [x - y, x + y]);
  const sums = turned.map(([, sum]) => sum);
  const [least, most] = [Math.min(...sums), Math.max(...sums)];
  const lines: LineItem[] = [];
  for (let sum = Math.ceil(least / hatchApartMm) * hatchApartMm + 0.1; sum < most; sum += hatchApartMm) {
    const crossings = crossingsAt(turned, sum);
    for (let i = 0; i + 1 < crossings.length; i += 2) {
      const point = (difference: number): PagePoint => [(sum + difference) / 2, (sum - difference) / 2];
      lines.push(lineOf('hatch', [point(crossings[i]!), point(crossings[i + 1]!)], false));
    }
  }
  return lines;
}

/** Words for pieces that have no room inside: nearby, with a leader line; numbers alone where nothing else is free. */
function labelsOutside(
  { options, wideMm, highMm, joins }: Frame,
  marked: readonly MarkedPiece[],
  solid: readonly Item[],
  flaws: readonly (readonly PagePoint[])[],
): {
  readonly groups: readonly (readonly Item[])[];
  readonly missing: readonly string[];
  /** With their numbers alone. */
  readonly alone: readonly MarkedPiece[];
} {
  const { measure, look } = options;
  const groups: (readonly Item[])[] = [];
  const missing: string[] = [];
  const alone: MarkedPiece[] = [];
  const cloth = {
    left: look.gutterMm,
    top: look.gutterMm,
    right: look.gutterMm + wideMm,
    bottom: look.gutterMm + highMm,
  };
  for (const piece of marked.filter(({ labelled }) => !labelled)) {
    const target = middleOf(piece.outline);
    const reach = boxWithin(around(target, look.reachMm), cloth);
    const bare = new FreeSpace(reach, 0.5);
    const near = [...solid, ...groups.flat()].filter((item) => touches(boxOfItems([item]), reach));
    blockItems(bare, near);
    for (const ring of flaws) if (touches(boxOf(ring), reach)) bare.blockPolygon(ring, 'inside');
    const neighbours = marked.filter(({ box }) => touches(box, reach));
    for (const { items } of neighbours) blockItems(bare, items);
    const anywhere = bare.copy();
    for (const { outline } of neighbours) bare.blockPolygon(outline, 'inside');
    const whole = bare.copy();
    for (const strip of joins) whole.blockBox(strip);
    const texts = [...near, ...neighbours.flatMap(({ items }) => items)]
      .filter((item): item is TextItem => item.type === 'text')
      .map(boxOfText);
    const { number, name } = piece.words;
    const found = outsideTrials(look, number, name)
      .map(
        ({ text, sizePt }) =>
          () =>
            numberWithLeader(measure, text, target, [whole, bare, anywhere], texts, sizePt, look.reachMm),
      )
      .reduce<readonly Item[]>((items, trial) => (items.length > 0 ? items : trial()), []);
    if (found.length === 0) missing.push(number);
    else groups.push(found);
    if (found.some((item) => item.type === 'text' && item.text === number)) alone.push(piece);
  }
  return { groups, missing, alone };
}

/** `2, 3 Armhole binding`, for the first page. */
function numbersAloneOf(marked: readonly MarkedPiece[], outside: readonly MarkedPiece[]): readonly string[] {
  const names = new Map<string, number[]>();
  for (const piece of marked.filter((each) => each.numberAlone || outside.includes(each))) {
    const { name, number } = piece.words;
    names.set(name, [...(names.get(name) ?? []), Number.parseInt(number, 10)]);
  }
  return [...names].map(([name, numbers]) => `${inRuns(numbers)} ${name}`);
}

function outsideTrials(look: MarkerLook, number: string, name: string) {
  const [larger, least] = [look.numberPt.at(-3)!, look.numberPt.at(-1)!];
  return [
    { text: `${number}  ${name}`, sizePt: larger },
    { text: `${number}  ${name}`, sizePt: least },
    { text: number, sizePt: least },
  ];
}

function around([x, y]: PagePoint, mm: number): Box {
  return { left: x - mm, top: y - mm, right: x + mm, bottom: y + mm };
}

function boxWithin(a: Box, b: Box): Box {
  return {
    left: Math.max(a.left, b.left),
    top: Math.max(a.top, b.top),
    right: Math.min(a.right, b.right),
    bottom: Math.min(a.bottom, b.bottom),
  };
}

/** The raw edge of what is turned over onto the cloth has its name beside it, where there is room. */
function turnedOverNames(
  { view, options, toPage, endUm }: Frame,
  marked: readonly MarkedPiece[],
  solid: readonly Item[],
): readonly TextItem[] {
  const { measure, look } = options;
  const reachMm = 2 * look.gutterMm;
  const names: TextItem[] = [];
  const text = (name: ViewEdge['name']) => `${edgeWords[name]}, turned over`;
  const high = look.edgePt * mmPerPt * (ascent + descent);
  for (const { turnedOver, fromUm, toUm, limits } of view.stretches) {
    const ats = [...turnedOver.map(({ at }) => at), ...limits];
    const lines = ats.map((y) => lineOf('limit', [toPage([fromUm, y]), toPage([toUm, y])], false));
    for (const { name, at } of turnedOver) {
      const [[x, top], [, bottom]] = [toPage([fromUm, at]), toPage([Math.min(toUm, endUm), at])];
      const strip = { left: x - reachMm, right: x + reachMm, top, bottom };
      const space = new FreeSpace(strip, 0.5);
      const beside = marked.filter(({ box }) => touches(box, strip));
      const near = [...solid, ...names, ...beside.flatMap(({ items }) => items)];
      blockItems(space, [...lines, ...near.filter((item) => touches(boxOfItems([item]), strip))]);
      for (const { outline } of beside) space.blockPolygon(outline, 'inside');
      const long = widthMm(measure, text(name), look.edgePt, false);
      const found = space.find(high + 0.8, long + 2, [x, (top + bottom) / 2]);
      if (found === null) continue;
      const place: PagePoint = [found[0] + lift(look.edgePt), found[1]];
      names.push(makeText(measure, text(name), place, { sizePt: look.edgePt, anchor: 'middle', angle: -90 }));
    }
  }
  return names;
}
