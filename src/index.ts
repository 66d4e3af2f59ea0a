/**
 * Shortlay as a library: text and options in, faults or checked lays with their drawings out. Nothing here touches
 * files, terminal, clock or threads; the caller hands in what is needed of them.
 */
import { checkLay, checkLayAgainst, checkPinned, type Expected } from './checker/check-lay.js';
import type { Verdict } from './checker/types.js';
import type { Cloth, LayName } from './cloth/types.js';
import { beginCutList } from './cutlist/begin.js';
import { type Drawings, drawingsNamed, noDrawings } from './cutlist/drawings.js';
import { baseName, type CountedList, type JoinedLists, joinCutLists, namesOf } from './cutlist/join.js';
import { readCutList } from './cutlist/read.js';
import type { CutList } from './cutlist/types.js';
import { assert } from './diagnostics/assert.js';
import { compareText, makeFault, sortFaults } from './diagnostics/faults.js';
import type { Fault, Place, Result } from './diagnostics/types.js';
import { isEditedByHand } from './lay/build.js';
import { readLay } from './lay/read.js';
import { recomputeLay } from './lay/recompute.js';
import type { Lay } from './lay/types.js';
import { writeLay } from './lay/write.js';
import type { MarkerOptions } from './marker/draw-marker.js';
import { makeCutPiece } from './pieces/cut-piece.js';
import type { CutPiece } from './pieces/types.js';
import { adviseOn, changedPieces } from './planning/advise.js';
import { type KeptLay, keptFrom } from './planning/keep.js';
import { chooseOrders, type Order, type Wishes } from './planning/orders.js';
import { type MaterialOrder, type PlanningTools, planMaterial } from './planning/plan-material.js';
import { tidyPlan } from './planning/tidy.js';
import { checkWidths } from './planning/too-wide.js';
import type { MaterialPlan } from './planning/types.js';
import { chalkCsv } from './report/chalk-csv.js';
import { chalkList } from './report/chalk-list.js';
import { type Comparison, comparePlans, plansInFull } from './report/comparison.js';
import { outcomeOf } from './report/outcome.js';
import { edgesAsDrawn, seamsAsRead } from './report/pieces-as-read.js';
import { proofPieces } from './report/proof.js';
import type { ClothSide } from './report/seen-cloth.js';
import { boughtWidth, roundLength } from './report/words.js';
import type { Sheet, SheetName } from './units/paper.js';
import type { LengthUnit } from './units/types.js';

export { beginCutList, type Drawings, drawingsNamed, type MaterialPlan };

export interface PlanOptions extends Wishes {
  readonly effort: number;
  readonly seconds: number | null;
  readonly seed: number;
  readonly page: 'a4' | 'letter';
  /** So many times everything that the cut list asks for. */
  readonly garments: number;
  /** Say what would save cloth, also where it fits. */
  readonly advise: boolean;
  /** See that what is left is left in one piece. */
  readonly tidies: boolean;
}

export type PlanTools = PlanningTools;

export interface LayOutput {
  /** File name without folder and ending, for example `slipway-apron-shell`. */
  readonly name: string;
  readonly lay: Lay;
  readonly layText: string;
  readonly svg: string;
  readonly pdf: Uint8Array;
}

export type PlanAnswer =
  | { readonly kind: 'faults'; readonly faults: readonly Fault[] }
  | {
      readonly kind: 'planned';
      readonly title: string;
      readonly units: LengthUnit;
      readonly notices: readonly Fault[];
      readonly plans: readonly MaterialPlan[];
      /** Parallel to `plans`; null where there is no lay. */
      readonly outputs: readonly (LayOutput | null)[];
    };

/** A cut list as text. */
export interface CutListSource {
  /** Its name, for faults and output names. */
  readonly file: string;
  readonly text: string;
  /** The files that `drawingsNamed` finds in it. */
  readonly drawings?: Drawings;
  /** Garments of this list, one when left out. */
  readonly garments?: number;
}

/** The text of a lay file. */
export interface KeptSource {
  readonly file: string;
  readonly text: string;
  /** Its name without its ending when it lies where the outputs go; null = it lies elsewhere. */
  readonly ownName: string | null;
}

/** `planCutLists` for one cut list. */
export async function planCutList(
  file: string,
  text: string,
  options: PlanOptions,
  tools: PlanTools,
  drawings: Drawings = noDrawings,
): Promise<PlanAnswer> {
  return planCutLists([{ file, text, drawings }], options, tools);
}

/**
 * The main job: for each material the shortest checked lay on each of its cloths. What several cut lists cut from
 * materials of the same name is laid together.
 * @param kept a lay whose pinned placements stay where they are; then only that lay is planned
 * @returns faults when the input cannot be planned; a lay that the checker refuses is our own fault and throws
 */
export async function planCutLists(
  sources: readonly CutListSource[],
  options: PlanOptions,
  tools: PlanTools,
  kept: KeptSource | null = null,
): Promise<PlanAnswer> {
  const answer = await planAll(sources, options, tools, {
    ofMany: null,
    share: () => options.effort,
    advise: options.advise ? 'always' : 'where it does not fit',
    tidies: options.tidies,
    kept,
    namesCloths: false,
  });
  if (!answer.ok) return { kind: 'faults', faults: answer.faults };
  const { cutList, planned } = answer.value;
  const files = sources.map(({ file }) => file);
  const plans: MaterialPlan[] = [];
  const outputs: (LayOutput | null)[] = [];
  for (const { order, plans: own } of planned) {
    for (const plan of own) {
      plans.push(plan);
      const name = outputName(files, order, plan.cloth.cloth.name);
      outputs.push(
        plan.chosen === null ? null : await makeOutput(plan, name, { page: options.page, units: cutList.units }),
      );
    }
  }
  return { kind: 'planned', title: cutList.title, units: cutList.units, notices: cutList.notices, plans, outputs };
}

export interface CompareOptions extends Omit<PlanOptions, 'effort' | 'advise' | 'tidies'> {
  /** For each material; null = 40 shared by all of them. */
  readonly effort: number | null;
}

export type CompareAnswer =
  | { readonly kind: 'faults'; readonly faults: readonly Fault[] }
  | {
      readonly kind: 'compared';
      readonly title: string;
      readonly units: LengthUnit;
      readonly notices: readonly Fault[];
      readonly comparisons: readonly Comparison[];
      /** Name of the plot without folder and ending, and the plot itself. */
      readonly plot: { readonly name: string; readonly svg: string };
      /** Of each material the lays that need least and cost least. */
      readonly outputs: readonly LayOutput[];
    };

/** Effort of a whole comparison, where none is given. */
export const comparisonEffort = 40;

/**
 * The same on several cloths or at several widths, without writing all of their lays: how much to buy and what it costs on
 * each, and where the lay breaks.
 */
export async function compareCutLists(
  sources: readonly CutListSource[],
  options: CompareOptions,
  tools: PlanTools,
): Promise<CompareAnswer> {
  const answer = await planAll(sources, options, tools, {
    ofMany: ['open', 'lengthwise fold'],
    share: (materials) => options.effort ?? comparisonEffort / materials,
    advise: 'never',
    tidies: false,
    kept: null,
    namesCloths: true,
  });
  if (!answer.ok) return { kind: 'faults', faults: answer.faults };
  const { cutList, planned } = answer.value;
  const { title, units, notices } = cutList;
  const files = sources.map(({ file }) => file);
  const comparisons: Comparison[] = [];
  const outputs: LayOutput[] = [];
  for (const { order, plans } of planned) {
    const comparison = comparePlans(order.material, plans);
    comparisons.push(comparison);
    for (const plan of new Set([comparison.atHand, comparison.shortest, comparison.cheapest])) {
      if (plan === null) continue;
      const wide = options.widthsUm === null ? [] : [roundLength(boughtWidth(plan.cloth.cloth), units)];
      const name = [outputName(files, { ...order, manyCloths: true }, plan.cloth.cloth.name), ...wide.map(fileWord)];
      outputs.push(await makeOutput(plan, name.join('-'), { page: options.page, units }));
    }
  }
  const { drawComparison } = await import('./marker/draw-comparison.js');
  const svg = await drawComparison(comparisons, { title, units, page: options.page });
  const plot = { name: [...files.map(baseName), 'compared'].map(fileWord).join('-'), svg };
  return { kind: 'compared', title, units, notices, comparisons, plot, outputs };
}

/** Everything planned for one material. */
interface Planned {
  readonly order: Order;
  readonly pieces: readonly CutPiece[];
  readonly plans: readonly MaterialPlan[];
}

/** Plans every material of the cut lists on all its cloths and widths. */
async function planAll(
  sources: readonly CutListSource[],
  options: Omit<PlanOptions, 'effort' | 'page' | 'advise' | 'tidies'>,
  tools: PlanTools,
  how: {
    /** The lay methods where there are many cloths and widths; null = all, however many. */
    readonly ofMany: readonly LayName[] | null;
    readonly share: (materials: number) => number;
    readonly advise: 'always' | 'where it does not fit' | 'never';
    readonly tidies: boolean;
    readonly kept: KeptSource | null;
    /** The names of lays carry the cloth's in any case. */
    readonly namesCloths: boolean;
  },
): Promise<Result<{ readonly cutList: JoinedLists; readonly planned: readonly Planned[] }>> {
  const posed = ordersOf(sources, options, how);
  if (!posed.ok) return posed;
  const { cutList, orders, kept } = posed.value;
  const deadline = options.seconds === null ? null : tools.clock() + options.seconds;
  const settings = { ...options, effort: how.share(orders.length) };
  const planned: Planned[] = [];
  for (const order of orders) {
    const { material, cloths } = order;
    const pieces = cutPiecesFor(cutList, material);
    const isMany = cloths.length > plansInFull && cloths.every(({ method }) => method === 'best');
    const materialOrder: MaterialOrder = {
      material,
      pieces,
      garments: cutList.garments,
      places: placesOf(cutList),
      cloths,
      methods: isMany ? how.ofMany : null,
      title: cutList.title,
      cutListSha256: cutList.sha256,
      units: cutList.units,
      ...(kept === null ? {} : { kept }),
    };
    const found = await planMaterial(materialOrder, settings, tools, deadline);
    const plans: MaterialPlan[] = [];
    for (const plan of found) {
      const tidied = how.tidies && kept === null ? await tidyPlan(materialOrder, plan, tools) : plan;
      const fitsNowhere = found.every((each) => outcomeOf(each).status === 'does not fit');
      const isAsked = kept === null && (how.advise === 'always' || (how.advise !== 'never' && fitsNowhere));
      const others = isAsked ? changedPieces(cutList.pieces, materialOrder) : [];
      const accept = (lay: Lay, changed: MaterialOrder) => assertAccepted(lay, cutList, changed.pieces, lay.cloth);
      const rest = { accept, deadline };
      const wouldHelp = isAsked ? await adviseOn(materialOrder, tidied, others, settings, tools, rest) : null;
      plans.push({ ...tidied, wouldHelp });
    }
    for (const { candidates, cloth } of plans) {
      for (const { lay } of candidates) if (lay !== null) assertAccepted(lay, cutList, pieces, cloth.cloth);
    }
    planned.push({ order, pieces, plans });
  }
  return { ok: true, value: { cutList, planned } };
}

/** What is to be planned; or all faults of the cut lists and of what the run asks for. */
function ordersOf(
  sources: readonly CutListSource[],
  options: Wishes & Pick<PlanOptions, 'garments'>,
  { kept, namesCloths }: { readonly kept: KeptSource | null; readonly namesCloths: boolean },
): Result<{ readonly cutList: JoinedLists; readonly orders: readonly Order[]; readonly kept: KeptLay | null }> {
  const read = readAll(sources);
  if (!read.ok) return read;
  const counted = read.value.map((each, i) => ({
    cutList: each,
    garments: (sources[i]!.garments ?? 1) * options.garments,
  }));
  const joined = joinCutLists(counted, options.cloth);
  if (!joined.ok) return joined;
  const cutList = joined.value;
  const materials = [...new Set(cutList.pieces.flatMap(({ cut }) => cut.map(({ material }) => material)))];
  const orders = chooseOrders(
    materials,
    cutList.cloths,
    options,
    { file: sources[0]!.file, line: 1, column: 1 },
    namesCloths,
  );
  if (!orders.ok) return orders;
  const files = sources.map(({ file }) => file);
  const clash = clashOf(files, orders.value, namesCloths);
  if (clash !== null) return { ok: false, faults: [clash] };
  if (kept === null) return { ok: true, value: { cutList, orders: orders.value, kept: null } };
  const keeping = keepLay(kept, orders.value, cutList, options, files);
  return keeping.ok ? { ok: true, value: { cutList, ...keeping.value } } : keeping;
}

/** The one order that a kept lay is of, with what is kept of it; or why it cannot be gone on with. */
function keepLay(
  { file, text, ownName }: KeptSource,
  orders: readonly Order[],
  cutList: JoinedLists,
  { method }: Pick<PlanOptions, 'method'>,
  files: readonly string[],
): Result<{ readonly orders: readonly Order[]; readonly kept: KeptLay }> {
  const read = readLay(text, file);
  if (!read.ok) return read;
  const lay = recomputeLay(read.value);
  const refuse = (code: string, what: string, fix: string): Result<never> => ({
    ok: false,
    faults: [makeFault(code, { file, line: 1, column: 1 }, null, what, fix)],
  });
  if (lay.placements.every(({ pinned }) => !pinned)) {
    const fix = 'open it in a text editor, and write "pinned": true in the lines of those placements that are to stay';
    return refuse('nothing-pinned', 'nothing is pinned in it, so there is nothing to keep', fix);
  }
  const order = orders.find(({ material }) => material === lay.material);
  const declared = order?.cloths.find(({ cloth }) => cloth.name === lay.cloth.name);
  if (order === undefined || declared === undefined) {
    const what = `it is a lay of ${lay.material} on ${lay.cloth.name}, and that is not planned here`;
    return refuse('kept-differs', what, 'give the cut lists, --material and --cloth that it was planned with');
  }
  const expected = expectedOf(cutList, cutPiecesFor(cutList, lay.material), declared.cloth);
  const { refusals } = checkPinned(lay, expected);
  if (refusals.length > 0) {
    return { ok: false, faults: keptFaults(file, refusals) };
  }
  const answer = keptFrom(lay);
  const otherwise = 'plan it by another lay method, such as --method open, and pin what is to stay in that lay';
  if (!answer.ok) return refuse('kept-method', answer.why, otherwise);
  const { kept } = answer;
  if (method !== null && method !== 'best' && method !== kept.method) {
    const what = `it is laid by the method ${kept.method}, and --method says ${method}`;
    return refuse('kept-method', what, 'leave --method out: what is pinned lies as its cloth lies');
  }
  if (outputName(files, order, declared.cloth.name) === ownName) {
    const what = 'the new lay would be written over it, and a lay that is kept is never written over';
    return refuse('out-over-input', what, 'name another folder with --out');
  }
  return { ok: true, value: { orders: [{ ...order, cloths: [declared] }], kept } };
}

/** What the checker says of the lay that is kept: it is of something else, or what is pinned may not lie there. */
function keptFaults(file: string, refusals: Verdict['refusals']): Fault[] {
  const place = { file, line: 1, column: 1 };
  const differs = new Set(['other-cut-list', 'piece-missing', 'piece-surplus', 'piece-differs', 'cloth-differs']);
  const [other, ...more] = refusals.filter(({ code }) => differs.has(code));
  if (other !== undefined) {
    const further = more.length === 0 ? '' : `; and ${more.length} more such`;
    const what = `it was planned from something else, or for other garments: ${other.sentence}${further}`;
    const fix =
      'plan with the cut lists (in their order), numbers of garments and options that it was planned with, or without --keep';
    return [makeFault('kept-differs', place, null, what, fix)];
  }
  const fix = 'mend its place in the file, or write "pinned": false';
  return refusals.map(({ sentence }) => makeFault('kept-refused', place, null, sentence, fix));
}

/** All cut lists, or the faults of all of them. */
function readAll(sources: readonly CutListSource[]): Result<readonly CutList[]> {
  const read = sources.map(({ file, text, drawings }) => readCutList(text, file, drawings, sources.length > 1));
  const faults = read.flatMap((each) => (each.ok ? [] : each.faults));
  if (faults.length > 0) return { ok: false, faults: sortFaults(faults) };
  return { ok: true, value: read.flatMap((each) => (each.ok ? [each.value] : [])) };
}

/**
 * The pieces cut from one material, by name, so that their order in the file decides nothing. The reader has checked
 * that each can be made.
 */
export function cutPiecesFor(
  cutList: Pick<CutList, 'pieces'> & Partial<Pick<JoinedLists, 'garmentsOf'>>,
  material: string,
): readonly CutPiece[] {
  return cutList.pieces
    .filter(({ cut }) => cut.some((entry) => entry.material === material))
    .sort((a, b) => compareText(a.id, b.id))
    .map((piece) => {
      const made = makeCutPiece(piece, material);
      assert(made.ok, `piece "${piece.id}" was checked and can be cut from ${material}`);
      const garments = cutList.garmentsOf?.get(piece.id);
      return garments === undefined ? made.value : { ...made.value, garments };
    });
}

/** Where each piece's name stands. */
function placesOf(cutList: Pick<CutList, 'pieces'>): ReadonlyMap<string, Place> {
  return new Map(cutList.pieces.map((piece) => [piece.id, piece.place]));
}

function expectedOf({ sha256, garments }: JoinedLists, pieces: readonly CutPiece[], cloth: Cloth): Expected {
  return { cutListSha256: sha256, pieces, cloth, garments };
}

/** Every lay that is told of is one that the checker accepts. */
function assertAccepted(lay: Lay, cutList: JoinedLists, pieces: readonly CutPiece[], cloth: Cloth): void {
  const verdict = checkLayAgainst(lay, expectedOf(cutList, pieces, cloth));
  const reasons = verdict.refusals.map(({ sentence }) => sentence).join('; ');
  assert(verdict.accepted, `the checker accepts the lay found for ${lay.material}: ${reasons}`);
}

/** Draws the chosen lay, which the checker has accepted. */
async function makeOutput(
  plan: MaterialPlan,
  name: string,
  { page, units }: { readonly page: PlanOptions['page']; readonly units: LengthUnit },
): Promise<LayOutput> {
  const lay = plan.chosen?.lay ?? null;
  assert(lay !== null, 'a chosen candidate has a lay');
  const { drawPlan } = await import('./marker/draw-plan.js');
  const drawn = await drawPlan(lay, { page, units });
  return { name, lay, layText: writeLay(lay), ...drawn };
}

/** Lower case; letters and digits of any script stay, everything else becomes a hyphen. */
function fileWord(text: string): string {
  const word = text
    .normalize('NFC')
    .toLowerCase()
    .replace(/[^\p{L}\p{M}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '');
  return word === '' ? 'lay' : word;
}

/** CUTLIST-MATERIAL, and the cloth's name where several compete; the names of several cut lists one after another. */
function outputName(files: readonly string[], { material, manyCloths }: Order, cloth: string): string {
  return [...files.map(baseName), material, ...(manyCloths ? [cloth] : [])].map(fileWord).join('-');
}

/** Two lays that would be written under one name. */
function clashOf(files: readonly string[], orders: readonly Order[], namesCloths: boolean): Fault | null {
  const names = orders.flatMap((order) => {
    const named = { ...order, manyCloths: order.manyCloths || namesCloths };
    return [...new Set(order.cloths.map(({ cloth }) => cloth.name))].map((name) => outputName(files, named, name));
  });
  const twice = names.find((name, i) => names.indexOf(name) !== i);
  if (twice === undefined) return null;
  const what = `two lays would both be written as ${twice}`;
  const fix = 'give its materials and cloths names that differ in letters or digits';
  return makeFault('output-clash', { file: files[0]!, line: 1, column: 1 }, null, what, fix);
}

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
): Promise<Result<DrawnPieces>> {
  const read = readCutList(text, file, drawings);
  if (!read.ok) return { ok: false, faults: sortFaults(read.faults) };
  const cutList = read.value;
  const { drawProof } = await import('./marker/draw-proof.js');
  const drawn = await drawProof(proofPieces(cutList), { title: cutList.title, units: cutList.units, page });
  const name = [baseName(file), 'pieces'].map(fileWord).join('-');
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
  options: { readonly sheet: Sheet; readonly format: PrintFormat },
  drawings: Drawings = noDrawings,
): Promise<Result<PrintedPieces>> {
  const read = readCutList(text, file, drawings);
  if (!read.ok) return { ok: false, faults: sortFaults(read.faults) };
  const { title, units, notices } = read.value;
  const pieces = proofPieces(read.value);
  const name = [baseName(file), 'pieces', 'true', 'size'].map(fileWord).join('-');
  const { drawTruePieces } = await import('./marker/draw-true-pieces.js');
  const { bytes, sheets } = await drawTruePieces(pieces, { title, units, ...options });
  return { ok: true, value: { name, pieces: pieces.length, notices, sheets, bytes } };
}

/** How pages of a lay are printed. */
export interface LayPageOptions {
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
export function layToPrint(
  file: string,
  text: string,
): Result<{ readonly lay: Lay; readonly verdict: Verdict; readonly editedByHand: boolean }> {
  const read = readLay(text, file);
  if (!read.ok) return read;
  const editedByHand = isEditedByHand(read.value);
  const lay = editedByHand ? recomputeLay(read.value) : read.value;
  return { ok: true, value: { lay, verdict: checkLay(lay), editedByHand } };
}

/** `X.lay.json` -> `X-plan`, and whether it is seen from the other side. */
function printedName(file: string, what: string, side: ClothSide): string {
  const own = file.replace(/^.*[/\\]/, '').replace(/(\.lay)?\.json$/i, '');
  return `${own}-${what}${side === 'wrong' ? '-wrong-side' : ''}`;
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
  const { drawLayPages } = await import('./marker/draw-lay-pages.js');
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
  const { drawMarker } = await import('./marker/draw-marker.js');
  const { bytes, sheets } = await drawMarker(lay, options);
  const name = printedName(file, options.what, options.side);
  return { ok: true, value: { accepted: true, name, bytes, placements: lay.placements.length, pages: sheets } };
}

/** Reads and checks a cut list, never searches. */
export function checkCutList(
  file: string,
  text: string,
  drawings: Drawings = noDrawings,
): { readonly cutList: CutList | null; readonly faults: readonly Fault[] } {
  const read = readCutList(text, file, drawings);
  if (!read.ok) return { cutList: null, faults: sortFaults(read.faults) };
  const cutList = read.value;
  const words = { places: placesOf(cutList), units: cutList.units };
  const widths = cutList.cloths.flatMap((cloth) =>
    cloth.materials.flatMap((material) => checkWidths(cutPiecesFor(cutList, material), cloth, words)),
  );
  const assumed = cutList.cloths.flatMap(({ notices }) => notices);
  return { cutList, faults: sortFaults([...cutList.notices, ...assumed, ...widths]) };
}

/** The independent checker on a lay file; with its cut lists, if any are given, also whether they belong together. */
export function checkLayFile(
  file: string,
  text: string,
  sources: readonly CutListSource[],
): Result<{ readonly lay: Lay; readonly verdict: Verdict; readonly editedByHand: boolean }> {
  const read = readLay(text, file);
  if (!read.ok) return read;
  const lay = read.value;
  const editedByHand = isEditedByHand(lay);
  const [first] = sources;
  if (first === undefined) return { ok: true, value: { lay, verdict: checkLay(lay), editedByHand } };
  const cutLists = readAll(sources);
  if (!cutLists.ok) return cutLists;
  const lists = joinCutLists(countedAs(lay, cutLists.value), lay.cloth.name);
  if (!lists.ok) return lists;
  const declared = lists.value.cloths.find(
    ({ cloth, materials }) => cloth.name === lay.cloth.name && materials.includes(lay.material),
  );
  const known = lists.value.pieces.some(({ cut }) => cut.some(({ material }) => material === lay.material));
  if (declared === undefined || !known) {
    const which = sources.length === 1 ? 'the cut list has' : 'the cut lists have';
    const what = `${which} no material "${lay.material}" with a cloth "${lay.cloth.name}" for it`;
    const place = { file: first.file, line: 1, column: 1 };
    return {
      ok: false,
      faults: [makeFault('other-cut-list', place, null, what, 'check it against the cut list it was planned from')],
    };
  }
  const expected = expectedOf(lists.value, cutPiecesFor(lists.value, lay.material), declared.cloth);
  return { ok: true, value: { lay, verdict: checkLayAgainst(lay, expected), editedByHand } };
}

/** A cut list does not say for how many garments it is planned, nor which of several is the first; the lay does. */
function countedAs({ cutListSha256: listed, placements }: Lay, cutLists: readonly CutList[]): readonly CountedList[] {
  if (typeof listed === 'string' || cutLists.length === 1) {
    const garments = placements.reduce((most, { garment }) => Math.max(most, garment), 1);
    return cutLists.map((cutList) => ({ cutList, garments }));
  }
  const names = namesOf(cutLists);
  const orderOf = (name: string | undefined) => {
    const at = listed.findIndex((entry) => entry.name === name);
    return at === -1 ? listed.length : at;
  };
  return cutLists
    .map((cutList, i) => ({ cutList, at: orderOf(names[i]) }))
    .sort((a, b) => a.at - b.at)
    .map(({ cutList, at }) => {
      const [first, last] = listed[at]?.garments ?? [1, 1];
      return { cutList, garments: last - first + 1 };
    });
}

/** `check --write`: outlines and totals recomputed from `at` and `turned`, and checked; it stays edited by hand. */
export function rewriteLay(file: string, text: string): Result<{ readonly text: string; readonly verdict: Verdict }> {
  const read = readLay(text, file);
  if (!read.ok) return read;
  const lay = recomputeLay(read.value);
  return { ok: true, value: { text: writeLay(lay), verdict: checkLay(lay) } };
}
