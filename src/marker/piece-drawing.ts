/**
 * One placement on the plan: cutting line, seam line, marks, grain arrow with its head, fold bracket and label.
 * Marks keep their place but not their size: a notch at 1 : 12 would be a dot.
 */
import { nameWithSize } from '../report/words.js';
import type { Point } from '../units/types.js';
import type { FoldSide, SeenPiece } from './cloth-view.js';
import { FreeSpace } from './free-space.js';
import { matchStrokesWithin } from './match-sign.js';
import { goodRank, type LabelWords, type PlacedLabel, placeLabel } from './piece-label.js';
import { type Box, boxOfText, cleanText } from './text.js';
import type { AreaItem, Item, LineItem, LineKind, PagePoint, TextMeasure } from './types.js';

/** Cloth -> page. */
export type ToPage = (point: Point) => PagePoint;

export interface DrawnPiece {
  readonly items: readonly Item[];
  readonly outline: readonly PagePoint[];
  /** False when not even the number found room inside. */
  readonly labelled: boolean;
}

const notchMm = 1.3;
const awlMm = 0.6;
const clearanceMm = 0.45;
const smallMm = 6;

/** Draws one placement; `number` is shown as `7`, or `7 ↓` for paper that lies printed side down. */
export function drawPiece(measure: TextMeasure, seen: SeenPiece, toPage: ToPage): DrawnPiece {
  const whole = seen.outline.map(toPage);
  const outline = thinned(whole);
  const marks = [
    ...innerMarks(seen, toPage, isSmall(outline)),
    ...seen.match.flatMap((at) => matchStrokesWithin(outline, toPage(at))),
  ];
  const side = seen.foldSide;
  const bracket = side === null ? [] : foldBracket(whole, side, seen.lead.turned === 180);
  const grain: readonly [PagePoint, PagePoint] = [toPage(seen.grain[0]), toPage(seen.grain[1])];
  const { label, gap, arrow } = labelPiece(measure, {
    words: labelWords(seen),
    outline,
    drawn: [...marks, ...bracket],
    grain: side === null || side === 'top' ? grain : null,
  });
  const items: Item[] = [
    { type: 'area', points: outline, grey: 1 },
    side === null ? lineOf('cutting', outline, true) : lineOf('cutting', thinned(offTheFold(whole, side)), false),
    ...marks,
    ...bracket,
    ...(arrow && (side === null || side === 'top') ? grainArrow(grain, gap) : []),
    ...(label?.texts ?? []),
  ];
  return { items, outline, labelled: label !== null };
}

/** Less than a dot of a printer with 600 dots to the inch. */
const dotMm = 0.04;

/** Without the points that lie within a dot of the last one: drawn small, five hundred points of a piece are a few. */
function thinned(points: readonly PagePoint[]): readonly PagePoint[] {
  let [lastX, lastY] = [Number.NaN, Number.NaN];
  return points.filter(([x, y], i) => {
    const isNear = (x - lastX) * (x - lastX) + (y - lastY) * (y - lastY) < dotMm * dotMm;
    if (isNear && i < points.length - 1) return false;
    [lastX, lastY] = [x, y];
    return true;
  });
}

/** Too small for anything but its cutting line, marks and number. */
function isSmall(outline: readonly PagePoint[]): boolean {
  const box = boxOf(outline);
  return Math.min(box.right - box.left, box.bottom - box.top) < smallMm;
}

/** Seam line, other lines, notches and awl points. */
function innerMarks(seen: SeenPiece, toPage: ToPage, small: boolean): readonly LineItem[] {
  const onPage = (points: readonly Point[]) => points.map(toPage);
  const seam = seen.seam === null ? [] : onPage(seen.seam);
  const fine = [
    ...(seam.length === 0
      ? []
      : [
          seen.foldSide === null
            ? lineOf('seam', thinned(seam), true)
            : lineOf('seam', thinned(offTheFold(seam, seen.foldSide)), false),
        ]),
    ...seen.lines.map(({ isCut, points }) => lineOf(isCut ? 'cutting' : 'inner', onPage(points), false)),
  ];
  return [
    ...(small ? [] : fine),
    ...seen.notches.map(([edge, inner]) =>
      lineOf('mark', notchStroke(toPage(edge), toPage(inner), small ? 0.5 : notchMm), false),
    ),
    ...seen.awl.flatMap((at) => awlStrokes(toPage(at))),
  ];
}

/** A half ring as the open path that begins and ends on the fold: along the fold nothing is cut. */
export function offTheFold(ring: readonly PagePoint[], side: FoldSide): readonly PagePoint[] {
  const depth = depthFrom(ring, side);
  const isOn = (i: number) => depth(ring[i % ring.length]!) < 1e-6;
  const last = ring.findIndex((_, i) => isOn(i) && isOn(i + 1));
  return last < 0 ? ring : [...ring.slice(last + 1), ...ring.slice(0, last + 1)];
}

/** How far a point lies from the fold at one side of a ring. */
function depthFrom(ring: readonly PagePoint[], side: FoldSide): (point: PagePoint) => number {
  const [xs, ys] = [ring.map(([x]) => x), ring.map(([, y]) => y)];
  const [least, most, top] = [Math.min(...xs), Math.max(...xs), Math.min(...ys)];
  if (side === 'top') return ([, y]) => y - top;
  return side === 'left' ? ([x]) => x - least : ([x]) => most - x;
}

/** Words for the plan. */
export function labelWords({ placement, piece, lead, onClothFold, turnedOver, printedSide }: SeenPiece): LabelWords {
  const name = cleanText(nameWithSize(piece.id, piece.size)).trim();
  return {
    number: printedSide === 'down' ? `${placement.n} ↓` : `${placement.n}`,
    name: name === '' ? '?' : name,
    notes: [
      ...(printedSide === 'down' ? ['printed side down'] : []),
      ...(placement.copies.length > 1 ? [turnedOver === 1 ? 'gives two alike' : 'gives a pair'] : []),
      ...(turnedOver > 0 ? [placement.copies.length > 1 ? 'turn one over' : 'turn it over'] : []),
      ...(onClothFold ? ['on the fold'] : []),
      ...(lead.tiltMicrodegrees === 0 ? [] : [`${Math.abs(lead.tiltMicrodegrees) / 1e6}° off the grain`]),
    ],
  };
}

interface Labelling {
  readonly words: LabelWords;
  readonly outline: readonly PagePoint[];
  /** What the label must not touch. */
  readonly drawn: readonly (LineItem | AreaItem)[];
  /** null: a bracket stands in for the grain arrow. */
  readonly grain: readonly [PagePoint, PagePoint] | null;
}

interface Labelled {
  readonly label: PlacedLabel | null;
  /** Left out of the grain line. */
  readonly gap: Box | null;
  /** False when the number needs the room of the grain arrow; the chalk list tells which way the head points. */
  readonly arrow: boolean;
}

/** The label beside the grain arrow, or, where that leaves it small, in a gap of it, or at last in its stead. */
function labelPiece(measure: TextMeasure, { words, outline, drawn, grain }: Labelling): Labelled {
  const freeSpace = () => {
    const space = new FreeSpace(boxOf(outline));
    space.blockPolygon(outline, 'outside');
    space.blockPath(outline, true, clearanceMm);
    for (const item of drawn) space.blockPath(item.points, item.type === 'area' || item.closed, clearanceMm);
    return space;
  };
  if (grain === null) return { label: placeLabel(measure, freeSpace(), words), gap: null, arrow: true };
  const beside = freeSpace();
  const arrow = grainArrow(grain, null);
  for (const item of arrow) beside.blockPath(item.points, item.type === 'area', clearanceMm);
  const label = placeLabel(measure, beside, words);
  if (label !== null && label.rank <= goodRank) return { label, gap: null, arrow: true };
  const between = freeSpace();
  for (const part of endsOf(grain)) between.blockPath(part, false, clearanceMm);
  const over = placeLabel(measure, between, words);
  if (over !== null && (label === null || over.rank < label.rank)) return { label: over, gap: over.box, arrow: true };
  if (label !== null) return { label, gap: null, arrow: true };
  const instead = placeLabel(measure, freeSpace(), words);
  return { label: instead, gap: null, arrow: instead === null };
}

/** The parts of a grain arrow that a label must leave to be seen. */
export function endsOf(grain: readonly [PagePoint, PagePoint]): readonly (readonly PagePoint[])[] {
  const [foot, head] = grain;
  const [, ...barAndHead] = grainArrow(grain, null);
  const at = (part: number): PagePoint => [foot[0] + (head[0] - foot[0]) * part, foot[1] + (head[1] - foot[1]) * part];
  return [...barAndHead.map(({ points }) => points), [foot, at(0.15)], [at(0.75), head]];
}

const grainHeadMm = 1.8;

/** A line from foot to head with a filled head and a bar at the foot; `gap` is left out of it. */
export function grainArrow(
  [foot, head]: readonly [PagePoint, PagePoint],
  gap: Box | null,
  headMm = grainHeadMm,
): readonly (Item & { readonly points: readonly PagePoint[] })[] {
  const [dx, dy] = [head[0] - foot[0], head[1] - foot[1]];
  const length = Math.sqrt(dx * dx + dy * dy);
  if (length === 0) return [];
  const [ux, uy] = [dx / length, dy / length];
  const size = Math.min(headMm, length * 0.45);
  const base: PagePoint = [head[0] - ux * size, head[1] - uy * size];
  const half = size * 0.32;
  return [
    ...withoutGap([foot, base], gap).map((points) => lineOf('grain', points, false)),
    lineOf('grain', [offset(foot, -uy, ux, half), offset(foot, uy, -ux, half)], false),
    { type: 'area', points: [head, offset(base, -uy, ux, half), offset(base, uy, -ux, half)], grey: 0 },
  ];
}

/**
 * A bracket whose two arrow heads point at the edge on the fold; its own head shows the head of the grain where that
 * runs along the fold. `times` the size that it has on the plan.
 */
export function foldBracket(
  outline: readonly PagePoint[],
  side: FoldSide,
  turned: boolean,
  times = 1,
): readonly (LineItem | AreaItem)[] {
  const depth = depthFrom(outline, side);
  const along = ([x, y]: PagePoint) => (side === 'top' ? x : y);
  const fold = outline.find((point) => depth(point) < 1e-6)!;
  const page = (u: number, v: number): PagePoint =>
    side === 'top' ? [u, fold[1] + v] : [side === 'left' ? fold[0] + v : fold[0] - v, u];
  const onFold = outline.filter((point) => depth(point) < 1e-6).map(along);
  const [first, last] = [Math.min(...onFold), Math.max(...onFold)];
  const inset = Math.min(4 * times, (last - first) * 0.12);
  const reach = Math.min(3 * times, Math.max(...outline.map(depth)) * 0.3);
  const size = Math.min(1.5 * times, reach * 0.6);
  const [from, to] = [first + inset, last - inset];
  const tip = 0.3 * times;
  const stem = [page(from, tip + size), page(from, reach), page(to, reach), page(to, tip + size)];
  const heads = [from, to].map((u) => triangle(page(u, tip), page(u, tip + size), size * 0.32));
  if (side !== 'top') {
    const headAt = from + (to - from) * (turned ? 0.3 : 0.7);
    const half = (turned ? -size : size) / 2;
    heads.push(triangle(page(headAt + half, reach), page(headAt - half, reach), size * 0.4));
  }
  return [lineOf('grain', stem, false), ...heads];
}

/** A filled arrow head. */
export function triangle(tip: PagePoint, base: PagePoint, half: number): AreaItem {
  const [dx, dy] = [tip[0] - base[0], tip[1] - base[1]];
  const length = Math.sqrt(dx * dx + dy * dy);
  const [nx, ny] = length === 0 ? [0, 0] : [-dy / length, dx / length];
  return { type: 'area', points: [tip, offset(base, nx, ny, half), offset(base, nx, ny, -half)], grey: 0 };
}

/** The parts of a stroke that lie outside the box. */
export function withoutGap(
  [from, to]: readonly [PagePoint, PagePoint],
  gap: Box | null,
): readonly (readonly [PagePoint, PagePoint])[] {
  if (gap === null) return [[from, to]];
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const air = 0.5;
  let enter = 0;
  let leave = 1;
  for (const [start, way, low, high] of [
    [from[0], dx, gap.left - air, gap.right + air],
    [from[1], dy, gap.top - air, gap.bottom + air],
  ] as const) {
    if (way === 0) {
      if (start < low || start > high) return [[from, to]];
      continue;
    }
    const [a, b] = [(low - start) / way, (high - start) / way];
    enter = Math.max(enter, Math.min(a, b));
    leave = Math.min(leave, Math.max(a, b));
  }
  if (enter >= leave) return [[from, to]];
  const at = (t: number): PagePoint => [from[0] + dx * t, from[1] + dy * t];
  return [...(enter > 0 ? [[from, at(enter)] as const] : []), ...(leave < 1 ? [[at(leave), to] as const] : [])];
}

/** A stroke of a length from the edge inwards. */
export function notchStroke(edge: PagePoint, inner: PagePoint, longMm: number): readonly PagePoint[] {
  const [dx, dy] = [inner[0] - edge[0], inner[1] - edge[1]];
  const length = Math.sqrt(dx * dx + dy * dy);
  return length === 0 ? [edge, inner] : [edge, offset(edge, dx / length, dy / length, longMm)];
}

/** A small cross. */
export function awlStrokes([x, y]: PagePoint, reachMm = awlMm): readonly LineItem[] {
  return [
    lineOf(
      'mark',
      [
        [x - reachMm, y],
        [x + reachMm, y],
      ],
      false,
    ),
    lineOf(
      'mark',
      [
        [x, y - reachMm],
        [x, y + reachMm],
      ],
      false,
    ),
  ];
}

/** A line of a kind through some points. */
export function lineOf(kind: LineKind, points: readonly PagePoint[], closed: boolean): LineItem {
  return { type: 'line', kind, points, closed };
}

function offset([x, y]: PagePoint, dx: number, dy: number, by: number): PagePoint {
  return [x + dx * by, y + dy * by];
}

/** The smallest upright box around some points. */
export function boxOf(points: readonly PagePoint[]): Box {
  let [left, top] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  let [right, bottom] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  // A loop: of a whole lay they are more than one call takes as its arguments.
  for (const [x, y] of points) {
    if (x < left) left = x;
    if (x > right) right = x;
    if (y < top) top = y;
    if (y > bottom) bottom = y;
  }
  return { left, right, top, bottom };
}

/** The smallest upright box around an item. */
export function boxOfItem(item: Item): Box {
  return item.type === 'text' ? boxOfText(item) : boxOf(item.points);
}
