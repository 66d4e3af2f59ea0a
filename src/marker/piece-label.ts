/**
 * The words on a piece: its number as large as there is room for, its name, size and how the paper lies. Tried from
 * rich to poor; what finds no room stands in the chalk list anyway, the number never goes missing: if it does not
 * fit, the piece gets it from outside with a leader line (cloth-drawing.ts).
 */
import type { FreeSpace } from './free-space.js';
import { ascent, type Box, descent, makeText, mmPerPt, widthMm, wrap } from './text.js';
import type { PagePoint, TextItem, TextMeasure } from './types.js';

/** The least size of any text on the plan. */
export const textSizeMinPt = 5;

export interface LabelWords {
  readonly number: string;
  /** Name, size. */
  readonly name: string;
  /** Shorter lines beneath the name, such as `printed side down`. */
  readonly notes: readonly string[];
}

export interface PlacedLabel {
  readonly texts: readonly TextItem[];
  readonly box: Box;
  /** 0 is best: the number at its largest with all other words. */
  readonly rank: number;
}

/** A line of text in a block that is still at no place. */
export interface BlockLine {
  readonly text: string;
  readonly sizePt: number;
  readonly bold: boolean;
}

export interface Block {
  readonly rank: number;
  readonly lines: readonly BlockLine[];
  readonly widthMm: number;
  readonly heightMm: number;
}

const lineGap = 0.12;
const numberSizesPt = [18, 16, 14, 12, 10, 9, 8, 7, 6, 5] as const;
/** Below it the number is no longer larger than the name. */
const numberWithWordsMinPt = 7;
/** A number alone does not shout. */
const numberAloneMaxPt = 12;
/** A label whose number has at least 10 pt, with all words. */
export const goodRank = 4;
/** By how many sizes a label without its notes must be larger to be preferred. */
const notesWorth = 2.5;
/** By how many sizes an upright label must be larger than a level one to be worth turning the head. */
const turnedCost = 4;
/** White space wished for around a label, widest first. */
const airMm = [2.5, 1.2, 0.3, 0] as const;

/** Puts the words where they fit, or answers null. */
export function placeLabel(measure: TextMeasure, space: FreeSpace, words: LabelWords): PlacedLabel | null {
  const wish = space.middle();
  if (wish === null) return null;
  const trials = labelBlocks(measure, words).flatMap((block) => [
    { block, angle: 0 as const, rank: block.rank },
    { block, angle: -90 as const, rank: block.rank + turnedCost },
  ]);
  // Array sort is stable, so equal ranks keep the order in which the blocks were made.
  for (const { block, angle, rank } of trials.sort((a, b) => a.rank - b.rank)) {
    for (const air of airMm) {
      const [wide, high] = angle === 0 ? [block.widthMm, block.heightMm] : [block.heightMm, block.widthMm];
      const middle = space.find(wide + 2 * air, high + 2 * air, wish);
      if (middle !== null) return setBlock(measure, block, middle, angle, rank);
    }
  }
  return null;
}

/** The blocks to try, richest and largest first. */
function labelBlocks(measure: TextMeasure, words: LabelWords): readonly Block[] {
  const blocks: Block[] = [];
  for (const [rank, sizePt] of numberSizesPt.entries()) {
    if (sizePt < numberWithWordsMinPt) break;
    const namePt = Math.min(9, 3.5 + sizePt / 3);
    const notePt = Math.max(textSizeMinPt, namePt - 1.5);
    for (const nameWidthMm of nameWidths(measure, words.name, namePt)) {
      const number = { text: words.number, sizePt, bold: true };
      const names = wrap(measure, words.name, nameWidthMm, namePt, false).map((text) => line(text, namePt));
      const notes = words.notes.flatMap((note) => {
        const wide = Math.max(nameWidthMm, widthMm(measure, 'printed side', notePt, false));
        return wrap(measure, note, wide, notePt, false).map((text) => line(text, notePt));
      });
      blocks.push(makeBlock(measure, rank, [number, ...names, ...notes]));
      if (notes.length > 0) blocks.push(makeBlock(measure, rank + notesWorth, [number, ...names]));
    }
  }
  const inOneLine = `${words.number}  ${words.name}`;
  for (const sizePt of [9, 8, 7, 6]) blocks.push(makeBlock(measure, blocks.length, [line(inOneLine, sizePt)]));
  // An upright name is worth more than a level number alone.
  for (const sizePt of numberSizesPt.filter((size) => size <= numberAloneMaxPt)) {
    blocks.push(makeBlock(measure, blocks.length + turnedCost, [{ text: words.number, sizePt, bold: true }]));
  }
  return blocks;
}

function line(text: string, sizePt: number): BlockLine {
  return { text, sizePt, bold: false };
}

/** On one line, or on up to five of about equal length where there are spaces to break at. */
function nameWidths(measure: TextMeasure, name: string, sizePt: number): readonly number[] {
  const whole = widthMm(measure, name, sizePt, false);
  const longestWord = Math.max(...name.split(/\s+/).map((word) => widthMm(measure, word, sizePt, false)));
  const widths = [1, 0.6, 0.45, 0.36, 0.3].map((part) => Math.max(longestWord, whole * part) + 0.01);
  return widths.filter((width, i) => widths.indexOf(width) === i);
}

/** Lines one beneath the other, measured. */
export function makeBlock(measure: TextMeasure, rank: number, lines: readonly BlockLine[]): Block {
  const heights = lines.map(({ sizePt }) => (ascent + descent) * sizePt * mmPerPt);
  const gaps = lines.slice(1).map(({ sizePt }) => lineGap * sizePt * mmPerPt);
  return {
    rank,
    lines,
    widthMm: Math.max(...lines.map(({ text, sizePt, bold }) => widthMm(measure, text, sizePt, bold))),
    heightMm: [...heights, ...gaps].reduce((sum, height) => sum + height, 0),
  };
}

/** The block's lines one beneath the other (angle -90: from left to right, read from below), centred on `middle`. */
export function setBlock(
  measure: TextMeasure,
  block: Block,
  [middleX, middleY]: PagePoint,
  angle: 0 | -90,
  rank: number,
): PlacedLabel {
  const texts: TextItem[] = [];
  let down = -block.heightMm / 2;
  block.lines.forEach(({ text, sizePt, bold }, i) => {
    const size = sizePt * mmPerPt;
    if (i > 0) down += lineGap * size;
    const baseline = down + ascent * size;
    const at: PagePoint = angle === 0 ? [middleX, middleY + baseline] : [middleX + baseline, middleY];
    texts.push(makeText(measure, text, at, { sizePt, bold, anchor: 'middle', angle }));
    down += (ascent + descent) * size;
  });
  const [wide, high] = angle === 0 ? [block.widthMm, block.heightMm] : [block.heightMm, block.widthMm];
  const box = {
    left: middleX - wide / 2,
    right: middleX + wide / 2,
    top: middleY - high / 2,
    bottom: middleY + high / 2,
  };
  return { texts, box, rank };
}
