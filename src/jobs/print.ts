/** Pages of what there is already: the pieces of a cut list, and a lay. */
import { checkLay } from '../checker/check-lay.js';
import type { Verdict } from '../checker/types.js';
import { type Drawings, noDrawings } from '../cutlist/drawings.js';
import { baseName } from '../cutlist/join.js';
import { readCutList } from '../cutlist/read.js';
import { sortFaults } from '../diagnostics/faults.js';
import type { Fault, Result } from '../diagnostics/types.js';
import { isEditedByHand } from '../lay/build.js';
import { readLay } from '../lay/read.js';
import { recomputeLay } from '../lay/recompute.js';
import type { Lay } from '../lay/types.js';
import type { MarkerOptions } from '../marker/draw-marker.js';
import type { Dated } from '../marker/types.js';
import { chalkCsv } from '../report/chalk-csv.js';
import { chalkList } from '../report/chalk-list.js';
import { edgesAsDrawn, seamsAsRead } from '../report/pieces-as-read.js';
import { proofPieces } from '../report/proof.js';
import type { ClothSide } from '../report/seen-cloth.js';
import type { Sheet, SheetName } from '../units/paper.js';
import type { LengthUnit } from '../units/types.js';
import { nameOf, printedName } from './names.js';

export type { Dated };

export interface DrawnPieces {
  /** File name without folder and ending, for example `slipway-apron-pieces`. */
  readonly name: string;
  /** Every edge of every piece, for the terminal. */
  readonly lines: readonly string[];
  readonly svg: string;
  readonly pdf: Uint8Array;
  readonly notices: readonly Fault[];
}

/** Proof of entry: all pieces of a cut list drawn as they were typed, never searched. */
export async function drawPieces(
  file: string,
  text: string,
  page: 'a4' | 'letter',
  drawings: Drawings = noDrawings,
  { madeAt = null }: Dated = {},
): Promise<Result<DrawnPieces>> {
  const read = readCutList(text, file, drawings, 'if any');
  if (!read.ok) return { ok: false, faults: sortFaults(read.faults) };
  const cutList = read.value;
  const { drawProof } = await import('../marker/draw-proof.js');
  const drawn = await drawProof(proofPieces(cutList), { title: cutList.title, units: cutList.units, page, madeAt });
  const name = nameOf(baseName(file), 'pieces');
  const lines = [cutList.title, ...edgesAsDrawn(cutList), ...seamsAsRead(cutList)];
  return { ok: true, value: { name, lines, ...drawn, notices: cutList.notices } };
}

export interface PrintedPieces {
  /** File name without folder and ending. */
  readonly name: string;
  readonly pieces: number;
  /** Sheets of paper; null for a drawing that is one. */
  readonly sheets: number | null;
  readonly bytes: Uint8Array;
  readonly notices: readonly Fault[];
}

export const printFormats = ['pdf', 'svg', 'dxf'] as const;
export type PrintFormat = (typeof printFormats)[number];

/** All pieces of a cut list at true size, to cut out of paper (PDF), or to take elsewhere (SVG, DXF). */
export async function printPieces(
  file: string,
  text: string,
  options: { readonly sheet: Sheet; readonly format: PrintFormat } & Dated,
  drawings: Drawings = noDrawings,
): Promise<Result<PrintedPieces>> {
  const read = readCutList(text, file, drawings, 'if any');
  if (!read.ok) return { ok: false, faults: sortFaults(read.faults) };
  const { title, units, notices } = read.value;
  const pieces = proofPieces(read.value);
  const name = nameOf(baseName(file), 'pieces', 'true', 'size');
  const { drawTruePieces } = await import('../marker/draw-true-pieces.js');
  const { bytes, sheets } = await drawTruePieces(pieces, { title, units, ...options });
  return { ok: true, value: { name, pieces: pieces.length, notices, sheets, bytes } };
}

/** How pages of a lay are printed. */
export interface LayPageOptions extends Dated {
  readonly page: SheetName;
  readonly units: LengthUnit;
  /** The side of the cloth that lies up. */
  readonly side: ClothSide;
}

/** What is printed of a lay; or, when the checker refuses it, nothing but why. */
export type PrintedLay =
  | { readonly accepted: false; readonly verdict: Verdict }
  | {
      readonly accepted: true;
      /** File name without folder and ending, for example `slipway-apron-shell-plan`. */
      readonly name: string;
      readonly bytes: Uint8Array;
      readonly placements: number;
      /** null for a file that has none. */
      readonly pages: number | null;
    };

/** A lay file as it is printed: recomputed when it was edited by hand, and judged by the checker. */
function layToPrint(
  file: string,
  text: string,
): Result<{ readonly lay: Lay; readonly verdict: Verdict; readonly editedByHand: boolean }> {
  const read = readLay(text, file);
  if (!read.ok) return read;
  const editedByHand = isEditedByHand(read.value);
  const lay = editedByHand ? recomputeLay(read.value) : read.value;
  return { ok: true, value: { lay, verdict: checkLay(lay), editedByHand } };
}

/** The page that `plan` writes, from a lay file. */
export async function printPlan(
  file: string,
  text: string,
  options: LayPageOptions & { readonly format: 'pdf' | 'svg' },
): Promise<Result<PrintedLay>> {
  return printLayPages(file, text, 'plan', options);
}

/** The chalk list with the transfer list; as CSV only the measures of the placements. */
export async function printChalk(
  file: string,
  text: string,
  options: LayPageOptions & { readonly format: 'pdf' | 'svg' | 'csv' },
): Promise<Result<PrintedLay>> {
  const { format, units, side } = options;
  if (format !== 'csv') return printLayPages(file, text, 'chalk', { ...options, format });
  const read = layToPrint(file, text);
  if (!read.ok) return read;
  const { lay, verdict } = read.value;
  if (!verdict.accepted) return { ok: true, value: { accepted: false, verdict } };
  const bytes = Buffer.from(chalkCsv(chalkList(lay, units, side), units), 'utf8');
  const name = printedName(file, 'chalk', side);
  return { ok: true, value: { accepted: true, name, bytes, placements: lay.placements.length, pages: null } };
}

async function printLayPages(
  file: string,
  text: string,
  what: 'plan' | 'chalk',
  options: LayPageOptions & { readonly format: 'pdf' | 'svg' },
): Promise<Result<PrintedLay>> {
  const read = layToPrint(file, text);
  if (!read.ok) return read;
  const { lay, verdict } = read.value;
  if (!verdict.accepted) return { ok: true, value: { accepted: false, verdict } };
  const { drawLayPages } = await import('../marker/draw-lay-pages.js');
  const { bytes, pages } = await drawLayPages(lay, { what, ...options });
  const name = printedName(file, what, options.side);
  return { ok: true, value: { accepted: true, name, bytes, placements: lay.placements.length, pages } };
}

/** The marker of a lay at true size, on sheets, as one picture, or for a projector. */
export async function printMarker(file: string, text: string, options: MarkerOptions): Promise<Result<PrintedLay>> {
  const read = layToPrint(file, text);
  if (!read.ok) return read;
  const { lay, verdict } = read.value;
  if (!verdict.accepted) return { ok: true, value: { accepted: false, verdict } };
  const { drawMarker } = await import('../marker/draw-marker.js');
  const { bytes, sheets } = await drawMarker(lay, options);
  const name = printedName(file, options.what, options.side);
  return { ok: true, value: { accepted: true, name, bytes, placements: lay.placements.length, pages: sheets } };
}
