/**
 * The transfer list as sections of a column: for each piece what is cut, what to do with it, and its marks, each with a
 * box to tick off.
 */
import type { TransferList, TransferMark, TransferPiece } from '../report/transfer-list.js';
import { counted, nameWithSize } from '../report/words.js';
import type { LengthUnit } from '../units/types.js';
import { bareNumber, type TableRow, type TableSection, tickBox } from './chalk-table.js';
import { lineOf } from './piece-drawing.js';
import { makeText, wrap } from './text.js';
import type { Item, TextMeasure } from './types.js';

const indentMm = 5;
const smallPt = 6;
const bodyPt = 7;

/** Sections in a column `wideMm` wide. */
export function transferSections(
  measure: TextMeasure,
  list: TransferList,
  units: LengthUnit,
  wideMm: number,
): readonly TableSection[] {
  return [
    { heading: titleRow(measure, 'transfer list'), rows: introRows(measure, units, wideMm), beginsColumn: true },
    ...list.pieces.map((piece): TableSection => {
      const name = nameWithSize(piece.piece, piece.size);
      const rows = [
        ...noteRows(measure, piece.note, wideMm),
        ...doings(piece, list.fuses).map((text) => doRow(measure, text, wideMm)),
        ...piece.marks.map((mark) => markRow(measure, mark, units, wideMm)),
      ];
      return {
        heading: nameRow(measure, name, piece, wideMm),
        continued: nameRow(measure, `${name}, continued`, piece, wideMm),
        rows: rows.length > 0 ? rows : [textRow(measure, 'nothing to mark', wideMm)],
      };
    }),
  ];
}

/** A heading of a part of the page. */
export function titleRow(measure: TextMeasure, words: string): TableRow {
  return {
    heightMm: 6.5,
    draw: ([x, y]) => [makeText(measure, words, [x, y + 4.4], { sizePt: 10, bold: true })],
  };
}

/** A paragraph; with a dash before it one of several. */
export function textRow(measure: TextMeasure, text: string, wideMm: number, dash = false): TableRow {
  const indent = dash ? 2.5 : 0;
  const lines = wrap(measure, text, wideMm - indent, smallPt, false);
  return {
    heightMm: lines.length * 2.7 + 1,
    draw: ([x, y]) => [
      ...(dash ? [makeText(measure, '–', [x, y + 2.2], { sizePt: smallPt, grey: 0.2 })] : []),
      ...lines.map((line, i) =>
        makeText(measure, line, [x + indent, y + 2.2 + i * 2.7], { sizePt: smallPt, grey: 0.2 }),
      ),
    ],
  };
}

function introRows(measure: TextMeasure, units: LengthUnit, wideMm: number): readonly TableRow[] {
  const unit = units === 'in' ? 'inches' : units;
  return [
    `Mark these before the paper comes off, on every copy. In ${unit}, measured on the paper with its printed side up and the head of the grain line away from you: along from the foot of the grain line towards its head (below 0 = beyond the foot), across to the left or right of it.`,
  ].map((text) => textRow(measure, text, wideMm));
}

/** Name, what is cut, its numbers in the lay and its note; the two columns of its marks. */
function nameRow(measure: TextMeasure, name: string, piece: TransferPiece, wideMm: number): TableRow {
  const { along, across } = columnsOf(wideMm);
  const roomMm = piece.marks.length > 0 ? along - 13 : wideMm;
  const names = wrap(measure, name, roomMm, 7.5, true).slice(0, 4);
  const notes = wrap(measure, whatIsCut(piece), wideMm, smallPt, false);
  const notesFrom = 1.6 + names.length * 3.1;
  const heads = piece.marks.length === 0 ? [] : [['along', along] as const, ['across', across] as const];
  return {
    heightMm: notesFrom + notes.length * 2.6 + 1.2,
    draw: ([x, y]) => [
      lineOf(
        'rule',
        [
          [x, y + 0.4],
          [x + wideMm, y + 0.4],
        ],
        false,
      ),
      ...names.map((text, i) => makeText(measure, text, [x, y + 3.8 + i * 3.1], { sizePt: 7.5, bold: true })),
      ...heads.map(([text, at]) =>
        makeText(measure, text, [x + at, y + 3.8], { sizePt: smallPt, grey: 0.3, anchor: 'end' }),
      ),
      ...notes.map((text, i) =>
        makeText(measure, text, [x, y + notesFrom + 2.2 + i * 2.6], { sizePt: smallPt, grey: 0.3 }),
      ),
    ],
  };
}

function whatIsCut({ label, numbers, copies, foldedFrom, marks }: TransferPiece): string {
  const nos = `${numbers.length === 1 ? 'no.' : 'nos.'} ${inRuns(numbers)}`;
  const half =
    foldedFrom === 'both halves' ? 'both halves told' : `${foldedFrom} from the fold; mark both halves alike`;
  return [
    label,
    `${nos}: ${counted(copies, 'copy', 'copies')}`,
    ...(foldedFrom === null || marks.length === 0 ? [] : [`half piece: ${half}`]),
  ].join(' · ');
}

/** `1 – 4, 7, 9`: numbers that grow. */
export function inRuns(numbers: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const n of numbers) {
    const run = runs.at(-1);
    if (run !== undefined && run[1] === n - 1) run[1] = n;
    else runs.push([n, n]);
  }
  return runs
    .map(([from, to]) => (from === to ? `${from}` : `${from}${to === from + 1 ? ',' : ' –'} ${to}`))
    .join(', ');
}

/** A row for each line, so that a note of any length goes on in the next column. */
function noteRows(measure: TextMeasure, note: string | null, wideMm: number): readonly TableRow[] {
  if (note === null) return [];
  return wrap(measure, note, wideMm, smallPt, false).map((line) => textRow(measure, line, wideMm));
}

/** What is to be seen to, apart from marks. */
function doings(piece: TransferPiece, fuses: boolean): readonly string[] {
  const { pairs, restAsDrawn, restMirrored, turnedOver, tilted, crossed } = piece;
  const rests = [
    ...(restAsDrawn > 0 ? [`${restAsDrawn} as drawn`] : []),
    ...(restMirrored > 0 ? [`${restMirrored} mirrored`] : []),
  ];
  return [
    ...(pairs > 0
      ? [[`${counted(pairs, 'pair', 'pairs')} (one as drawn, one mirrored)`, ...rests].join(', and ')]
      : []),
    ...(turnedOver > 0 ? [`turn ${turnedOver} over after cutting`] : []),
    ...tilted.map(({ n, degrees }) => `no. ${n} lies ${degrees}° off the grain`),
    ...(crossed.length > 0 ? [`on the cross grain: no. ${inRuns(crossed)}`] : []),
    ...(fuses ? ['fuse to the wrong side of its piece from the other cloth; try it on a scrap first'] : []),
  ];
}

function doRow(measure: TextMeasure, text: string, wideMm: number): TableRow {
  const lines = wrap(measure, text, wideMm - indentMm, bodyPt, false);
  return {
    heightMm: lines.length * 3 + 1,
    draw: ([x, y]) => [
      tick(x, y),
      ...lines.map((line, i) => makeText(measure, line, [x + indentMm, y + 2.7 + i * 3], { sizePt: bodyPt })),
    ],
  };
}

/** `[] notch      12.0    4.5 left`; long words go on below, so that no name of a match group is cut off. */
function markRow(measure: TextMeasure, mark: TransferMark, units: LengthUnit, wideMm: number): TableRow {
  const { along, across } = columnsOf(wideMm);
  const lines = wrap(measure, mark.what, along - 14 - indentMm, bodyPt, false);
  return {
    heightMm: lines.length * 3 + 1,
    draw: ([x, y]) => {
      const number = (um: number, at: number) =>
        makeText(measure, bareNumber(um, units), [x + at, y + 2.7], { sizePt: bodyPt, anchor: 'end' });
      return [
        tick(x, y),
        ...lines.map((line, i) => makeText(measure, line, [x + indentMm, y + 2.7 + i * 3], { sizePt: bodyPt })),
        number(mark.alongUm, along),
        number(mark.acrossUm, across),
        ...(mark.side === null ? [] : [makeText(measure, mark.side, [x + across + 1.5, y + 2.7], { sizePt: bodyPt })]),
      ];
    },
  };
}

/** Right edges of the two columns of numbers. */
function columnsOf(wideMm: number): { readonly along: number; readonly across: number } {
  return { along: wideMm - 27, across: wideMm - 9 };
}

function tick(x: number, y: number): Item {
  return lineOf('box', tickBox(x + 0.4, y + 0.5, 2.4), true);
}
