/**
 * One placement on the marker at true size: cutting line, seam line, notches to their depth, awl and match points, grain arrow
 * or fold bracket, and its words as large as they have room for. Marks lie to the micrometre where the lay has them.
 */
import { counted } from '../report/words.js';
import type { Point } from '../units/types.js';
import type { SeenPiece } from './cloth-view.js';
import { FreeSpace } from './free-space.js';
import { isOnJoin } from './join-grid.js';
import { type MarkerLook, onLayer } from './marker-looks.js';
import { matchStrokesWithin } from './match-sign.js';
import {
  awlStrokes,
  boxOf,
  type DrawnPiece,
  endsOf,
  foldBracket,
  grainArrow,
  labelWords,
  lineOf,
  offTheFold,
  type ToPage,
} from './piece-drawing.js';
import { type Block, type BlockLine, makeBlock, type PlacedLabel, setBlock } from './piece-label.js';
import { type Box, cleanText, wrap } from './text.js';
import type { Item, LineItem, PagePoint, TextMeasure } from './types.js';

/** Cells of a large piece grow, so that looking for room stays quick. */
const cellsMost = 12_000;
const finestMm = 0.4;

/** A grain line so near the fold is shown by the head on the bracket. */
const besideFoldMm = 12;

export interface MarkedPiece extends DrawnPiece {
  readonly box: Box;
  /** Its number and name, for where there is no room inside. */
  readonly words: MarkerWords;
  /** No more than its number stands on it. */
  readonly numberAlone: boolean;
}

export interface MarkerWords {
  readonly number: string;
  readonly name: string;
  /** What she must know at the table. */
  readonly short: readonly string[];
  /** The cut wording, note and the like. */
  readonly more: readonly string[];
}

/** What all pieces of a marker are drawn with. */
export interface MarkerPieceOptions {
  readonly measure: TextMeasure;
  readonly toPage: ToPage;
  readonly look: MarkerLook;
  /** There are garments to tell apart. */
  readonly several: boolean;
  readonly known: KnownSpots;
  /** Strips where sheets are joined. */
  readonly joins: readonly Box[];
}

/** One placement, words and all. */
export function markerPiece(
  seen: SeenPiece,
  { measure, toPage, look, several, known, joins }: MarkerPieceOptions,
): MarkedPiece {
  const outline = seen.outline.map(toPage);
  const cutLines = cuttingLines(seen, outline, toPage);
  const marks = marksOf(seen, outline, toPage, look);
  const side = seen.foldSide;
  const bracket = side === null ? null : foldBracket(outline, side, seen.lead.turned === 180, look.bracketTimes);
  const grain = arrowOf(seen, outline, toPage);
  const words = markerWords(seen, several);
  const lines = [...cutLines.slice(1), ...marks, ...(bracket ?? [])];
  const blocks = blocksOf(measure, words, look);
  const key = keyOf(seen, words);
  const labelling = { blocks, outline, lines, grain, look, joins: [] };
  const usual = known.get(key) ?? labelled(labelling);
  known.set(key, usual);
  const box = boxOf(outline);
  const { spot, isInGap, hasArrow } = offJoins(measure, usual, { ...labelling, joins }, box);
  const label = spot === null ? null : setAt(measure, spot, blocks, box);
  const gap = isInGap && label !== null ? label.box : null;
  const arrow = grain !== null && hasArrow ? grainArrow(grain, gap, headOf(outline, look)) : [];
  const items: Item[] = [
    ...onLayer('cutting lines', cutLines),
    ...onLayer('seams and marks', [...marks, ...(bracket ?? []), ...arrow]),
    ...onLayer('labels', label?.texts ?? []),
  ];
  const numberAlone = spot !== null && blocks[spot.block]!.leftOut === justNumber;
  return { items, outline, labelled: label !== null, box, words, numberAlone };
}

/** The outline first, then what is cut out of it. */
function cuttingLines(seen: SeenPiece, outline: readonly PagePoint[], toPage: ToPage): readonly LineItem[] {
  const { foldSide, lines } = seen;
  return [
    foldSide === null ? lineOf('cutting', outline, true) : lineOf('cutting', offTheFold(outline, foldSide), false),
    ...lines.filter(({ isCut }) => isCut).map(({ points }) => lineOf('cutting', points.map(toPage), false)),
  ];
}

function marksOf(
  { seam, foldSide, lines, notches, awl, match }: SeenPiece,
  outline: readonly PagePoint[],
  toPage: ToPage,
  look: MarkerLook,
): LineItem[] {
  const ring = seam?.map(toPage) ?? [];
  return [
    ...(ring.length === 0
      ? []
      : [foldSide === null ? lineOf('seam', ring, true) : lineOf('seam', offTheFold(ring, foldSide), false)]),
    ...lines.filter(({ isCut }) => !isCut).map(({ points }) => lineOf('inner', points.map(toPage), false)),
    ...notches.map((ends) => lineOf('mark', ends.map(toPage), false)),
    ...awl.flatMap((at) => awlStrokes(toPage(at), look.awlMm)),
    ...match.flatMap((at) => matchStrokesWithin(outline, toPage(at), look.matchMm)),
  ];
}

/** Foot and head; null where the bracket of the fold shows the head. */
function arrowOf(
  { grain, foldSide }: SeenPiece,
  outline: readonly PagePoint[],
  toPage: ToPage,
): readonly [PagePoint, PagePoint] | null {
  const [foot, head] = grain.map((point: Point) => toPage(point)) as [PagePoint, PagePoint];
  if (foldSide === null || foldSide === 'top') return [foot, head];
  const box = boxOf(outline);
  const isBeside = [foot, head].every(([x]) => (foldSide === 'left' ? x - box.left : box.right - x) < besideFoldMm);
  return isBeside ? null : [foot, head];
}

/** All words of a piece, from what comes first to what can be looked up elsewhere. */
export function markerWords(seen: SeenPiece, several: boolean): MarkerWords {
  const { number, name, notes } = labelWords(seen);
  const { placement, piece } = seen;
  const copies = placement.copies.length;
  return {
    number,
    name,
    short: [...(seen.printedSide === 'down' ? [] : ['printed side up']), ...notes],
    more: [
      ...(several ? [`garment ${placement.garment}`] : []),
      `${counted(copies, 'copy', 'copies')} here · ${cleanText(piece.label)}`,
      ...(piece.note === null ? [] : [cleanText(piece.note)]),
      ...(piece.tiltMaxMicrodegrees === 0 ? [] : [`may lie up to ${piece.tiltMaxMicrodegrees / 1e6}° off the grain`]),
    ],
  };
}

/** Where the words of a piece stand, from the upper left corner of its box. */
interface Spot {
  /** Which of the blocks of words. */
  readonly block: number;
  readonly angle: 0 | -90;
  readonly middle: PagePoint;
  readonly rank: number;
}

interface Labelled {
  readonly spot: Spot | null;
  /** The words stand in a gap of the grain line. */
  readonly isInGap: boolean;
  readonly hasArrow: boolean;
}

/**
 * Spots already found. Pieces alike whose words differ in figures only have the same one, since all figures of the
 * typeface are equally wide.
 */
export type KnownSpots = Map<string, Labelled>;

function keyOf({ piece, lead, foldSide }: SeenPiece, { number, name, short, more }: MarkerWords): string {
  const { mirror, turned, tiltMicrodegrees } = lead;
  const words = [number, name, ...short, ...more].map((text) => text.replace(/\d/g, '0'));
  return JSON.stringify([piece.id, mirror, turned, tiltMicrodegrees, foldSide, words]);
}

interface Labelling {
  readonly blocks: readonly BlockChoice[];
  readonly outline: readonly PagePoint[];
  /** Of all that is drawn inside but the arrow. */
  readonly lines: readonly Item[];
  readonly grain: readonly [PagePoint, PagePoint] | null;
  readonly look: MarkerLook;
  /** Strips to keep off. */
  readonly joins: readonly Box[];
}

/** The same words off the joins of the sheets, where there is room for them at half their size at least. */
function offJoins(measure: TextMeasure, usual: Labelled, labelling: Labelling, box: Box): Labelled {
  const { blocks, joins } = labelling;
  if (usual.spot === null || !isOnJoin(joins, setAt(measure, usual.spot, blocks, box).box)) return usual;
  const other = labelled({ ...labelling, joins: joins.filter((strip) => isOnJoin([strip], box)) });
  if (other.spot === null || other.hasArrow !== usual.hasArrow) return usual;
  const [was, is] = [blocks[usual.spot.block]!, blocks[other.spot.block]!];
  const sizeOf = ({ make }: BlockChoice) => make().lines[0]!.sizePt;
  return is.leftOut <= was.leftOut && sizeOf(is) >= sizeOf(was) / 2 ? other : usual;
}

/** Beside the grain arrow; where that leaves the words small, in a gap of it, or at last in its stead. */
function labelled({ blocks, outline, lines, grain, look, joins }: Labelling): Labelled {
  const space = spaceIn(outline, lines, look, joins);
  const place = (free: FreeSpace) => placeBlocks(free, blocks, boxOf(outline));
  if (grain === null) return { spot: place(space()), isInGap: false, hasArrow: true };
  const clear = clearanceOf(outline, look);
  const beside = space();
  for (const item of grainArrow(grain, null, headOf(outline, look))) block(beside, item, clear);
  const spot = place(beside);
  const isGood = spot !== null && spot.rank <= blocks.length / 4;
  if (isGood) return { spot, isInGap: false, hasArrow: true };
  const between = space();
  for (const end of endsOf(grain)) between.blockPath(end, false, clear);
  block(between, grainArrow(grain, null, headOf(outline, look)).at(-1)!, clear);
  const over = place(between);
  if (over !== null && (spot === null || over.rank < spot.rank)) return { spot: over, isInGap: true, hasArrow: true };
  if (spot !== null) return { spot, isInGap: false, hasArrow: true };
  const instead = place(space());
  return { spot: instead, isInGap: false, hasArrow: instead === null };
}

/** Less white around the words of a narrow piece, so that they have room at all. */
function clearanceOf(outline: readonly PagePoint[], { clearanceMm }: MarkerLook): number {
  const { left, right, top, bottom } = boxOf(outline);
  return clearanceMm * Math.min(1, Math.max(0.3, Math.min(right - left, bottom - top) / 60));
}

/** Fresh grids of the room inside. */
function spaceIn(
  outline: readonly PagePoint[],
  lines: readonly Item[],
  look: MarkerLook,
  joins: readonly Box[],
): () => FreeSpace {
  const box = boxOf(outline);
  const areaMm2 = (box.right - box.left) * (box.bottom - box.top);
  const cellMm = Math.max(finestMm, Math.sqrt(areaMm2 / cellsMost));
  const filled = new FreeSpace(box, cellMm);
  filled.blockPolygon(outline, 'outside');
  const clear = clearanceOf(outline, look) + cellMm;
  filled.blockPath(outline, true, clear);
  for (const item of lines) block(filled, item, clear);
  for (const strip of joins) filled.blockBox(strip);
  return () => filled.copy();
}

/** Keeps words off a line, off what is filled, and out of what is cut out of the piece: there is no paper to write on. */
function block(space: FreeSpace, item: Item, clearanceMm: number): void {
  if (item.type === 'text') return;
  const isFilled = item.type === 'area';
  space.blockPath(item.points, isFilled || item.closed, clearanceMm);
  if (isFilled || item.kind === 'cutting') space.blockPolygon(item.points, 'inside');
}

/** Smaller heads on small pieces. */
function headOf(outline: readonly PagePoint[], { grainHeadMm }: MarkerLook): number {
  const { left, right, top, bottom } = boxOf(outline);
  return Math.min(grainHeadMm, Math.min(right - left, bottom - top) * 0.15);
}

/** All kinds of words but the number left out. */
const justNumber = 3;

interface BlockChoice {
  /** How many kinds of words it leaves out. */
  readonly leftOut: number;
  /** Measured when it is tried. */
  readonly make: () => Block;
}

/** Blocks of words to try, the richest and largest first. */
function blocksOf(measure: TextMeasure, words: MarkerWords, look: MarkerLook): readonly BlockChoice[] {
  const least = look.numberPt.at(-1)!;
  const block =
    (sizePt: number, widthMm: number, texts: readonly string[]): (() => Block) =>
    () => {
      const namePt = Math.max(least, sizePt * 0.55);
      const wordPt = Math.max(least, Math.min(sizePt * 0.36, least * 2));
      const wrapped = (text: string, pt: number): BlockLine[] =>
        wrap(measure, text, widthMm, pt, false).map((line) => ({ text: line, sizePt: pt, bold: false }));
      const number = { text: words.number, sizePt, bold: true };
      return makeBlock(measure, 0, [
        number,
        ...wrapped(words.name, namePt),
        ...texts.flatMap((text) => wrapped(text, wordPt)),
      ]);
    };
  const widths = (sizePt: number) => [sizePt * 4, sizePt * 2.4, sizePt * 1.5];
  const blocks = (leftOut: number, sizesPt: readonly number[], texts: readonly string[]): BlockChoice[] =>
    sizesPt.flatMap((sizePt) => widths(sizePt).map((widthMm) => ({ leftOut, make: block(sizePt, widthMm, texts) })));
  const alone = (leftOut: number, text: string, sizePt: number, bold: boolean): BlockChoice => {
    return { leftOut, make: () => makeBlock(measure, 0, [{ text, sizePt, bold }]) };
  };
  const large = look.numberPt.filter((sizePt) => sizePt >= look.withWordsPt);
  const small = look.numberPt.slice(-6);
  return [
    ...blocks(0, large, [...words.short, ...words.more]),
    ...blocks(1, large.slice(-3), words.short),
    ...blocks(2, small, []),
    ...small.slice(1).map((sizePt) => alone(2, `${words.number}  ${words.name}`, sizePt, false)),
    ...small.map((sizePt) => alone(justNumber, words.number, sizePt, true)),
  ];
}

/** Upright words must be better by so many blocks to be worth turning the head. */
const turnedCost = 6;

/** The first block that has room, level or else upright. */
function placeBlocks(space: FreeSpace, blocks: readonly BlockChoice[], box: Box): Spot | null {
  const wish = space.middle();
  if (wish === null) return null;
  const level = blocks.map(({ make }, block) => ({ make, block, angle: 0 as const, rank: block }));
  const upright = blocks.map(({ make }, block) => ({ make, block, angle: -90 as const, rank: block + turnedCost }));
  for (const { make, block, angle, rank } of [...level, ...upright].sort((a, b) => a.rank - b.rank)) {
    const { widthMm, heightMm } = make();
    const at = angle === 0 ? space.find(widthMm, heightMm, wish) : space.find(heightMm, widthMm, wish);
    if (at !== null) return { block, angle, rank, middle: [at[0] - box.left, at[1] - box.top] };
  }
  return null;
}

function setAt(measure: TextMeasure, spot: Spot, blocks: readonly BlockChoice[], { left, top }: Box): PlacedLabel {
  const middle: PagePoint = [left + spot.middle[0], top + spot.middle[1]];
  return setBlock(measure, blocks[spot.block]!.make(), middle, spot.angle, spot.rank);
}
