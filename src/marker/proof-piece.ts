/**
 * One piece as it was typed, for comparing with the paper: corners lettered, edges with their lengths on the seam line,
 * cutting line bold and seam line thin, grain arrow, fold bracket, notches, awl points, darts, match points with
 * the names of their groups.
 */
import { isCounterClockwise } from '../geometry/outline.js';
import type { ProofPiece } from '../report/proof.js';
import type { Point, Um } from '../units/types.js';
import { FreeSpace } from './free-space.js';
import { matchMm, matchPlaces, matchStrokes } from './match-sign.js';
import { awlStrokes, boxOf, grainArrow, lineOf, notchStroke, type ToPage, triangle } from './piece-drawing.js';
import { ascent, type Box, cleanText, descent, makeText, mmPerPt, widthMm } from './text.js';
import type { Item, LineItem, PagePoint, TextItem, TextMeasure } from './types.js';

/** Room around the drawing for letters and lengths. */
export const labelRoomMm = 11;
const letterPt = 7.5;
const lengthPt = 6.5;
/** A length farther from its edge than this gets a line that leads to it. */
const leaderFromMm = 6;
/** Edges that are shorter on the page are left to the table in the terminal. */
export const shortEdgeMm = 2.5;
const notchMm = 1.6;
/** Half the side of the sign of a match point at true size. */
const matchTrueMm = 2.5;
/** The name of a group farther from its point than this could be taken for another one's. */
const groupWithinMm = 2.5;
const clearanceMm = 0.6;

export interface ProofScale {
  /** Notches are drawn as deep as they are cut; else long enough to be seen. */
  readonly isTrueSize: boolean;
  /** Side of the cells in which room for labels is looked for; null = the finest. */
  readonly cellMm: number | null;
  /** Where something stands already. */
  readonly taken: readonly Box[];
}

const toScale: ProofScale = { isTrueSize: false, cellMm: null, taken: [] };

/**
 * @param toPage drawing frame -> page; the drawing with its labels stays within `box`
 * @returns the items, and how many edges are too short for a label
 */
export function drawProofPiece(
  measure: TextMeasure,
  proof: ProofPiece,
  toPage: ToPage,
  box: Box,
  { isTrueSize, cellMm, taken }: ProofScale = toScale,
): { readonly items: readonly Item[]; readonly unlabelled: number } {
  const lines = linesOf(proof, toPage, isTrueSize);
  const arrows = arrowsOf(proof, toPage);
  const space = cellMm === null ? new FreeSpace(box) : new FreeSpace(box, cellMm);
  const clearance = clearanceMm + (cellMm ?? 0);
  for (const { points, closed } of lines) space.blockPath(points, closed, clearance);
  for (const { points } of arrows) space.blockPath(points, false, clearance);
  for (const each of taken) space.blockBox(each);
  const labels = [...letters(measure, proof, toPage, space), ...lengths(measure, proof, toPage, space)];
  for (const item of labels) if (item.type === 'line') space.blockPath(item.points, false, clearance);
  labels.push(...groupNames(measure, proof, toPage, space, isTrueSize));
  const unlabelled = proof.edges.filter(({ points }) => chordMm(points, toPage) < shortEdgeMm).length;
  return { items: [...lines, ...arrows, ...labels], unlabelled };
}

function matchReachMm(isTrueSize: boolean): number {
  return isTrueSize ? matchTrueMm : matchMm;
}

/** Everything of a piece that is a line, and its grain arrow: what words must keep off. */
export function linesOf(proof: ProofPiece, toPage: ToPage, isTrueSize: boolean): readonly LineItem[] {
  const { shape } = proof;
  const fold = foldOf(proof, toPage);
  const notch = ([outer, inner]: readonly [Point, Point]): LineItem => {
    const [from, to] = [toPage(outer), toPage(inner)];
    return lineOf('mark', isTrueSize ? [from, to] : notchStroke(from, to, notchMm), false);
  };
  return [
    fold === null ? lineOf('cutting', shape.outline.map(toPage), true) : lineOf('cutting', fold.rest, false),
    ...(fold === null ? [] : [lineOf('fold', fold.ends, false)]),
    ...(shape.seam === null ? [] : [lineOf('seam', shape.seam.map(toPage), true)]),
    ...shape.lines.map(({ kind, points }) => lineOf(kind === 'inner' ? 'cutting' : 'inner', points.map(toPage), false)),
    ...shape.notches.map(notch),
    ...shape.awl.flatMap((at) => awlStrokes(toPage(at))),
    ...matchPlaces(shape.match).flatMap(({ at }) => matchStrokes(toPage(at), matchReachMm(isTrueSize))),
  ];
}

/** The grain arrow, and the bracket of a fold. An arrow on the fold is moved in, beside the bracket. */
export function arrowsOf(proof: ProofPiece, toPage: ToPage): readonly Exclude<Item, TextItem>[] {
  const [foot, head] = proof.grain.map(toPage) as [PagePoint, PagePoint];
  const fold = foldOf(proof, toPage);
  if (fold === null) return grainArrow([foot, head], null) as Exclude<Item, TextItem>[];
  const outline = proof.shape.outline.map(toPage);
  const bracket = foldBracketAt(fold.ends, outline);
  const [a] = fold.ends;
  const [nx, ny] = inwards(fold.ends, outline);
  const isOnFold = [foot, head].every(([x, y]) => Math.abs((x - a[0]) * nx + (y - a[1]) * ny) < bracketDeepMm + 1);
  const by = isOnFold ? bracketDeepMm + 3 : 0;
  const moved = ([x, y]: PagePoint): PagePoint => [x + nx * by, y + ny * by];
  return [...grainArrow([moved(foot), moved(head)], null), ...bracket] as Exclude<Item, TextItem>[];
}

/** The direction square to the fold, to the side on which the piece lies. */
function inwards([a, b]: readonly [PagePoint, PagePoint], outline: readonly PagePoint[]): readonly [number, number] {
  const [ux, uy] = unit(a, b);
  const box = boxOf(outline);
  const middle: PagePoint = [(box.left + box.right) / 2, (box.top + box.bottom) / 2];
  const side = (middle[0] - a[0]) * -uy + (middle[1] - a[1]) * ux >= 0 ? 1 : -1;
  return [-uy * side, ux * side];
}

/** How far the bracket of a fold stands off it. */
const bracketDeepMm = 3;

function chordMm(points: readonly Point[], toPage: ToPage): number {
  const [[ax, ay], [bx, by]] = [toPage(points[0]!), toPage(points[Math.floor(points.length / 2)]!)];
  const [cx, cy] = toPage(points.at(-1)!);
  return Math.sqrt((bx - ax) ** 2 + (by - ay) ** 2) + Math.sqrt((cx - bx) ** 2 + (cy - by) ** 2);
}

/** +1 when outwards is to the right of the way round, in the drawing frame. */
function outwards({ edges }: ProofPiece): 1 | -1 {
  return isCounterClockwise(edges.flatMap(({ points }) => points.slice(0, -1))) ? 1 : -1;
}

function letters(measure: TextMeasure, proof: ProofPiece, toPage: ToPage, space: FreeSpace): Item[] {
  const side = outwards(proof);
  return proof.edges.flatMap(({ letter, points: after }, i) => {
    const before = proof.edges.at(i - 1)!.points;
    const at = toPage(after[0]!);
    const [ax, ay] = unit(toPage(before.at(-2)!), at);
    const [bx, by] = unit(at, toPage(after[1]!));
    // On the page y runs down, so outwards is to the left of the way where it was to the right.
    const [nx, ny] = lengthened(side * -(ay + by), side * (ax + bx));
    return putText(measure, letter, [at[0] + 3 * nx, at[1] + 3 * ny], letterPt, true, space);
  });
}

function lengths(measure: TextMeasure, proof: ProofPiece, toPage: ToPage, space: FreeSpace): Item[] {
  const side = outwards(proof);
  return proof.edges.flatMap(({ points, length: text }) => {
    if (chordMm(points, toPage) < shortEdgeMm) return [];
    const { at, way } = middleOf(points.map(toPage));
    const [nx, ny] = [side * -way[1], side * way[0]];
    const wide = widthMm(measure, text, lengthPt, false);
    const high = lengthPt * mmPerPt * (ascent + descent);
    const away = 0.9 + (Math.abs(nx) * wide + Math.abs(ny) * high) / 2;
    const put = putText(measure, text, [at[0] + nx * away, at[1] + ny * away], lengthPt, false, space);
    const [label] = put;
    if (label === undefined || label.type !== 'text') return [];
    const [x, y] = [label.at[0], label.at[1] - (lengthPt * mmPerPt * (ascent - descent)) / 2];
    const distance = Math.sqrt((x - at[0]) ** 2 + (y - at[1]) ** 2);
    if (distance <= leaderFromMm + wide / 2) return put;
    const from = distance - wide / 2 - 1;
    const leader: PagePoint = [at[0] + ((x - at[0]) * from) / distance, at[1] + ((y - at[1]) * from) / distance];
    return [lineOf('leader', [at, leader], false), ...put];
  });
}

/** Beside each match point the names of its groups, where there is room close to it. */
function groupNames(
  measure: TextMeasure,
  { shape }: ProofPiece,
  toPage: ToPage,
  space: FreeSpace,
  isTrueSize: boolean,
): Item[] {
  const reach = matchReachMm(isTrueSize) + groupWithinMm;
  return matchPlaces(shape.match).flatMap(({ at, groups }) => {
    const [x, y] = toPage(at);
    const name = cleanText(groups.join(', '));
    const [wide, high] = roomFor(measure, name, lengthPt, false);
    const near = space.around([x, y], reach + Math.max(wide, high));
    const isNear = (spot: PagePoint | null): spot is PagePoint =>
      spot !== null && Math.abs(spot[0] - x) - wide / 2 <= reach && Math.abs(spot[1] - y) - high / 2 <= reach;
    const beside = (reach + wide) / 2;
    // Above or below it, else to the right or to the left.
    const spot = [0, beside, -beside].map((by) => near.find(wide, high, [x + by, y])).find(isNear);
    return spot === undefined ? [] : [setText(measure, name, spot, lengthPt, false, space)];
  });
}

/** Text in the free place nearest to the wish; none where nothing is free. */
function putText(
  measure: TextMeasure,
  text: string,
  wish: PagePoint,
  sizePt: number,
  bold: boolean,
  space: FreeSpace,
): Item[] {
  const at = space.find(...roomFor(measure, text, sizePt, bold), wish);
  return at === null ? [] : [setText(measure, text, at, sizePt, bold, space)];
}

/** Width and height that a text takes, with a little air at its ends. */
function roomFor(measure: TextMeasure, text: string, sizePt: number, bold: boolean): readonly [number, number] {
  return [widthMm(measure, text, sizePt, bold) + 0.6, sizePt * mmPerPt * (ascent + descent)];
}

/** Text with its middle at a place, which is free no longer. */
function setText(
  measure: TextMeasure,
  text: string,
  [x, y]: PagePoint,
  sizePt: number,
  bold: boolean,
  space: FreeSpace,
): TextItem {
  const [wide, high] = roomFor(measure, text, sizePt, bold);
  space.blockBox({ left: x - wide / 2, right: x + wide / 2, top: y - high / 2, bottom: y + high / 2 });
  const baseline = y + (sizePt * mmPerPt * (ascent - descent)) / 2;
  return makeText(measure, text, [x, baseline], { sizePt, bold, anchor: 'middle' });
}

/** The point half way along a path, and the way the path goes there. */
function middleOf(points: readonly PagePoint[]): { readonly at: PagePoint; readonly way: readonly [number, number] } {
  const long = (i: number): number =>
    Math.sqrt((points[i + 1]![0] - points[i]![0]) ** 2 + (points[i + 1]![1] - points[i]![1]) ** 2);
  let total = 0;
  for (let i = 0; i + 1 < points.length; i++) total += long(i);
  let left = total / 2;
  let i = 0;
  while (i + 2 < points.length && left > long(i)) left -= long(i++);
  const way = unit(points[i]!, points[i + 1]!);
  return { at: [points[i]![0] + way[0] * left, points[i]![1] + way[1] * left], way };
}

function unit([ax, ay]: PagePoint, [bx, by]: PagePoint): readonly [number, number] {
  return lengthened(bx - ax, by - ay);
}

function lengthened(x: number, y: number): readonly [number, number] {
  const length = Math.sqrt(x * x + y * y);
  return length === 0 ? [0, 0] : [x / length, y / length];
}

interface FoldOnPage {
  readonly ends: readonly [PagePoint, PagePoint];
  /** The cutting line from one end of the fold round to the other. */
  readonly rest: readonly PagePoint[];
}

function foldOf(proof: ProofPiece, toPage: ToPage): FoldOnPage | null {
  const found = foldOnOutline(proof);
  if (found === null) return null;
  const [first, ...between] = found.map(toPage);
  return { ends: [between.at(-1)!, first!], rest: [first!, ...between] };
}

/** The cutting line from one end of the fold round to the other, in the drawing frame; null without a fold. */
export function foldOnOutline({ fold, shape: { outline } }: ProofPiece): readonly Point[] | null {
  if (fold === null) return null;
  const [[fromX, fromY], [toX, toY]] = fold;
  const length = Math.sqrt((toX - fromX) ** 2 + (toY - fromY) ** 2);
  const off = ([x, y]: Point): Um => Math.abs((toX - fromX) * (y - fromY) - (toY - fromY) * (x - fromX)) / length;
  const isOn = (i: number): boolean => off(outline[i % outline.length]!) <= 2;
  const at = outline.findIndex((_, i) => isOn(i) && isOn(i + 1));
  return at < 0 ? null : [...outline.slice(at + 1), ...outline.slice(0, at + 1)];
}

/** A bracket beside the fold edge, inside the piece, with two heads that point at it. */
function foldBracketAt([a, b]: readonly [PagePoint, PagePoint], outline: readonly PagePoint[]): readonly Item[] {
  const [ux, uy] = unit(a, b);
  const length = Math.sqrt((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2);
  const [nx, ny] = inwards([a, b], outline);
  const inset = Math.min(5, length * 0.15);
  const at = (along: number, in_: number): PagePoint => [a[0] + ux * along + nx * in_, a[1] + uy * along + ny * in_];
  const [from, to] = [inset, length - inset];
  return [
    lineOf('grain', [at(from, 1.7), at(from, bracketDeepMm), at(to, bracketDeepMm), at(to, 1.7)], false),
    triangle(at(from, 0.4), at(from, 1.7), 0.45),
    triangle(at(to, 0.4), at(to, 1.7), 0.45),
  ];
}
