/** One piece at true size, to be cut out of paper: what the proof of entry shows, and its name and cut wording inside. */
import type { ProofPiece } from '../report/proof.js';
import { FreeSpace } from './free-space.js';
import { boxOf, type ToPage } from './piece-drawing.js';
import { arrowsOf, drawProofPiece, linesOf } from './proof-piece.js';
import { ascent, type Box, descent, makeText, mmPerPt, widthMm, wrap } from './text.js';
import type { Item, PagePoint, TextMeasure } from './types.js';

/** A drawing at true size in millimetres, y down, its box beginning at [0, 0]. */
export interface Picture {
  readonly title: string;
  readonly items: readonly Item[];
  readonly widthMm: number;
  readonly heightMm: number;
  /** What of it is no empty paper. */
  readonly outline: readonly PagePoint[];
}

/** Room around the drawing for letters; lengths find their place inside. */
const roomMm = 5;
/** Sizes of the words inside, tried from the largest. */
const sizesPt = [14, 11, 9, 7, 5.5] as const;
const widestWordsMm = 120;
/** Cells of a large drawing grow, so that looking for room stays quick. */
const cellsMost = 300_000;

/** The picture of a piece; letters and lengths stand around it, its name and cut wording inside. */
export function truePiece(measure: TextMeasure, proof: ProofPiece): Picture {
  const all = [...proof.shape.outline, ...(proof.shape.seam ?? [])];
  const minX = Math.min(...all.map(([x]) => x));
  const maxY = Math.max(...all.map(([, y]) => y));
  const toPage: ToPage = ([x, y]) => [roomMm + (x - minX) / 1000, roomMm + (maxY - y) / 1000];
  const drawn = boxOf(all.map(toPage));
  const box = { left: 0, top: 0, right: drawn.right + roomMm, bottom: drawn.bottom + roomMm };
  const cellMm = Math.max(0.25, Math.sqrt((box.right * box.bottom) / cellsMost));
  const outline = proof.shape.outline.map(toPage);
  const words = wordsInside(measure, proof, toPage, outline, cellMm);
  const { items } = drawProofPiece(measure, proof, toPage, box, {
    isTrueSize: true,
    cellMm,
    taken: words.map(({ box: each }) => each),
  });
  return {
    title: proof.title,
    items: [...items, ...words.flatMap(({ items: each }) => each)],
    widthMm: box.right,
    heightMm: box.bottom,
    outline,
  };
}

/** Name, and what is to be cut, as large as there is room for beside the lines; nothing where there is none. */
function wordsInside(
  measure: TextMeasure,
  proof: ProofPiece,
  toPage: ToPage,
  outline: readonly PagePoint[],
  cellMm: number,
): readonly { readonly items: readonly Item[]; readonly box: Box }[] {
  const room = boxOf(outline);
  const space = new FreeSpace(room, cellMm);
  space.blockPolygon(outline, 'outside');
  for (const { points, closed } of linesOf(proof, toPage, true)) space.blockPath(points, closed, 1.2 + cellMm);
  for (const { points } of arrowsOf(proof, toPage)) space.blockPath(points, false, 1.2 + cellMm);
  // All of it small rather than a part of it large; the name alone where nothing else has room.
  const wide = Math.min(widestWordsMm, (room.right - room.left) * 0.9);
  for (const words of [proof.words, proof.words.slice(0, 1), []]) {
    for (const sizePt of sizesPt) {
      const bodyPt = Math.max(5, sizePt * 0.7);
      const lines = words.flatMap((line) => wrap(measure, line, wide, bodyPt, false));
      const found = place(measure, proof.title, lines, sizePt, bodyPt, space, room);
      if (found !== null) return [found];
    }
  }
  return [];
}

function place(
  measure: TextMeasure,
  title: string,
  lines: readonly string[],
  titlePt: number,
  bodyPt: number,
  space: FreeSpace,
  room: Box,
) {
  const high = (sizePt: number): number => sizePt * mmPerPt * (ascent + descent);
  const wide = Math.max(
    widthMm(measure, title, titlePt, true),
    ...lines.map((line) => widthMm(measure, line, bodyPt, false)),
  );
  const tall = high(titlePt) + lines.length * high(bodyPt);
  const at = space.find(wide, tall, [(room.left + room.right) / 2, (room.top + room.bottom) / 2]);
  if (at === null) return null;
  const [left, top] = [at[0] - wide / 2, at[1] - tall / 2];
  const box = { left, top, right: left + wide, bottom: top + tall };
  const titleItem = makeText(measure, title, [left, top + ascent * titlePt * mmPerPt], { sizePt: titlePt, bold: true });
  const items = lines.map((line, i) => {
    const baseline = top + high(titlePt) + i * high(bodyPt) + ascent * bodyPt * mmPerPt;
    return makeText(measure, line, [left, baseline], { sizePt: bodyPt });
  });
  return { items: [titleItem, ...items], box };
}
