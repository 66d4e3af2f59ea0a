/**
 * Proof of entry: every piece on paper as it was typed, several to a page, each to a scale of its own that is stated
 * beside it. What is cut differently from different materials is drawn once for each.
 */
import type { ProofPiece } from '../report/proof.js';
import type { LengthUnit } from '../units/types.js';
import { matchInWords } from './match-sign.js';
import { marginMm, type PageSize, pageSizesMm } from './page-sizes.js';
import { boxOf, lineOf, type ToPage } from './piece-drawing.js';
import { drawProofPiece, labelRoomMm } from './proof-piece.js';
import { type Box, makeText, shorten, wrap } from './text.js';
import type { Drawing, Item, ItemGroup, Page, PagePoint, TextMeasure } from './types.js';

export interface ProofOptions {
  readonly title: string;
  readonly page: PageSize;
  readonly units: LengthUnit;
  readonly measure: TextMeasure;
}

/** 1 : so much. */
const scales = [1, 2, 2.5, 4, 5, 8, 10, 12.5, 15, 20, 25, 40, 50, 80, 100, 150, 200];
const columnGapMm = 6;
/** Most height of a drawing without its labels: two rows and their words on a page. */
const drawnHighMm = 88;
const wordsPt = 7;
const wordsHighMm = 3.3;
const headMm = 17;
/** The line that explains match points. */
const matchHighMm = 3.6;
const footMm = 6;

interface Block {
  readonly proof: ProofPiece;
  readonly scale: number;
  /** It takes the whole width of the page. */
  readonly isWide: boolean;
  readonly widthMm: number;
  readonly drawnMm: readonly [number, number];
  readonly words: readonly string[];
  readonly heightMm: number;
}

/** Lays the pages out; at least one piece. */
export function proofDrawing(pieces: readonly ProofPiece[], options: ProofOptions): Drawing {
  const [widthMm, heightMm] = pageSizesMm[options.page];
  const hasMatch = pieces.some(({ shape }) => shape.match.length > 0);
  const frame: Box = {
    left: marginMm,
    right: widthMm - marginMm,
    top: marginMm + headMm + (hasMatch ? matchHighMm : 0),
    bottom: heightMm - marginMm - footMm,
  };
  const rows = rowsOf(pieces.map((proof) => makeBlock(proof, frame, options)));
  const pages: ItemGroup[][] = [];
  let y = Number.POSITIVE_INFINITY;
  for (const row of rows) {
    const high = Math.max(...row.map(({ heightMm: each }) => each));
    if (y + high > frame.bottom) {
      pages.push([]);
      y = frame.top;
    }
    row.forEach((block, i) => {
      const left = frame.left + (i === 0 ? 0 : block.widthMm + columnGapMm);
      pages.at(-1)!.push(drawBlock(block, [left, y], options));
    });
    y += high + 5;
  }
  return {
    title: `${options.title} · pieces`,
    scale: 1,
    origin: [frame.left, frame.top],
    pages: pages.map((groups, i): Page => {
      const own = { title: null, placement: null, items: pageWords(frame, i + 1, pages.length, hasMatch, options) };
      return { widthMm, heightMm, groups: [own, ...groups] };
    }),
  };
}

/** Half the width of the page, or all of it for a piece that lies much wider than high. */
function makeBlock(proof: ProofPiece, frame: Box, { measure }: ProofOptions): Block {
  const box = boxOf(allPoints(proof).map(([x, y]): PagePoint => [x / 1000, y / 1000]));
  const [long, high] = [box.right - box.left, box.bottom - box.top];
  const isWide = long > 1.8 * high;
  const all = frame.right - frame.left;
  const widthMm = isWide ? all : (all - columnGapMm) / 2;
  const room = widthMm - 2 * labelRoomMm;
  const scale =
    scales.find((s) => long / s <= room && high / s <= drawnHighMm) ??
    Math.ceil(Math.max(long / room, high / drawnHighMm));
  const drawnMm = [long / scale, high / scale] as const;
  const words = [`1 : ${scale}; ${proof.words[0]}`, ...proof.words.slice(1)].flatMap((line) =>
    wrap(measure, line, widthMm, wordsPt, false),
  );
  const heightMm = 5 + drawnMm[1] + 2 * labelRoomMm + words.length * wordsHighMm;
  return { proof, scale, isWide, widthMm, drawnMm, words, heightMm };
}

function allPoints({ shape }: ProofPiece) {
  return [...shape.outline, ...(shape.seam ?? [])];
}

/** Two half blocks side by side, a wide one alone. */
function rowsOf(blocks: readonly Block[]): Block[][] {
  const rows: Block[][] = [];
  for (const block of blocks) {
    const last = rows.at(-1);
    if (!block.isWide && last?.length === 1 && !last[0]!.isWide) last.push(block);
    else rows.push([block]);
  }
  return rows;
}

function drawBlock(block: Block, [left, top]: PagePoint, { measure }: ProofOptions): ItemGroup {
  const { proof, scale, widthMm, drawnMm } = block;
  const xs = allPoints(proof).map(([x]) => x);
  const ys = allPoints(proof).map(([, y]) => y);
  const minX = Math.min(...xs);
  const maxY = Math.max(...ys);
  const drawnLeft = left + (widthMm - drawnMm[0]) / 2;
  const drawnTop = top + 5 + labelRoomMm;
  const toPage: ToPage = ([x, y]) => [drawnLeft + (x - minX) / (1000 * scale), drawnTop + (maxY - y) / (1000 * scale)];
  const box = { left, right: left + widthMm, top: top + 5, bottom: drawnTop + drawnMm[1] + labelRoomMm };
  const drawn = drawProofPiece(measure, proof, toPage, box);
  const title = makeText(measure, shorten(measure, proof.title, widthMm, 9, true), [left, top + 3.4], {
    sizePt: 9,
    bold: true,
  });
  const unlabelled =
    drawn.unlabelled === 0 ? [] : [`${drawn.unlabelled} short edges are not lettered with their length`];
  const words = [...block.words, ...unlabelled].map((line, i) =>
    makeText(measure, line, [left, box.bottom + wordsHighMm * (i + 0.8)], { sizePt: wordsPt }),
  );
  return { title: `piece ${proof.title}`, placement: null, items: [title, ...drawn.items, ...words] };
}

function pageWords(
  frame: Box,
  page: number,
  pages: number,
  hasMatch: boolean,
  { title, units, measure }: ProofOptions,
): Item[] {
  const wide = frame.right - frame.left;
  const top = marginMm;
  const what = `Pieces as typed, seen from the right side of the cloth, paper printed side up. Lengths in ${units === 'in' ? 'inches' : units} on the seam line.`;
  const how =
    'Bold: cutting line. Fine dashes: seam line. Dots: hem, dart or other line. Dash and dot: fold. Cross: awl point.';
  const foot = frame.bottom + footMm;
  return [
    makeText(measure, shorten(measure, title, wide, 13, true), [frame.left, top + 4.6], { sizePt: 13, bold: true }),
    makeText(measure, shorten(measure, what, wide, 7.5, false), [frame.left, top + 9.2], { sizePt: 7.5 }),
    makeText(measure, shorten(measure, how, wide, 7.5, false), [frame.left, top + 12.8], { sizePt: 7.5 }),
    ...(hasMatch ? [makeText(measure, matchInWords, [frame.left, top + 12.8 + matchHighMm], { sizePt: 7.5 })] : []),
    lineOf(
      'rule',
      [
        [frame.left, foot - 3.6],
        [frame.right, foot - 3.6],
      ],
      false,
    ),
    makeText(measure, `page ${page} of ${pages}`, [frame.right, foot], { sizePt: 6.5, anchor: 'end' }),
  ];
}
