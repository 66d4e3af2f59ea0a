/**
 * Shortlay as a library: text and options in, faults or checked lays with their drawings out. Nothing here touches
 * files, terminal, clock or threads; the caller hands in what is needed of them.
 */
import { checkLay, checkLayAgainst, type Expected } from './checker/check-lay.js';
import type { Verdict } from './checker/types.js';
import type { Cloth, LayName } from './cloth/types.js';
import { beginCutList } from './cutlist/begin.js';
import { type Drawings, drawingsNamed, noDrawings } from './cutlist/drawings.js';
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
import { makeCutPiece } from './pieces/cut-piece.js';
import type { CutPiece, DeclaredPiece } from './pieces/types.js';
import { seamForFold, shorterHems } from './pieces/variants.js';
import { adviseOn, type Change } from './planning/advise.js';
import { chooseOrders, type Order, type Wishes } from './planning/orders.js';
import { type PlanningTools, planMaterial } from './planning/plan-material.js';
import { tidyPlan } from './planning/tidy.js';
import { checkWidths } from './planning/too-wide.js';
import type { MaterialPlan } from './planning/types.js';
import { type Comparison, comparePlans } from './report/comparison.js';
import { outcomeOf } from './report/outcome.js';
import { edgesAsDrawn, seamsAsRead } from './report/pieces-as-read.js';
import { proofPieces } from './report/proof.js';
import { boughtWidth, roundLength } from './report/words.js';
import type { Sheet } from './units/paper.js';
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

/**
 * The main job: for each material the shortest checked lay on each of its cloths.
 * @param file name of the cut list, for faults and output names
 * @param drawings the files that `drawingsNamed` finds in it
 * @returns faults when the input cannot be planned; a lay that the checker refuses is our own fault and throws
 */
export async function planCutList(
  file: string,
  text: string,
  options: PlanOptions,
  tools: PlanTools,
  drawings: Drawings = noDrawings,
): Promise<PlanAnswer> {
  const answer = await planAll({ file, text, drawings }, options, tools, {
    ofMany: null,
    share: () => options.effort,
    advise: options.advise ? 'always' : 'where it does not fit',
    tidies: options.tidies,
  });
  if (!answer.ok) return { kind: 'faults', faults: answer.faults };
  const { cutList, planned } = answer.value;
  const plans: MaterialPlan[] = [];
  const outputs: (LayOutput | null)[] = [];
  for (const { order, pieces, plans: own } of planned) {
    for (const plan of own) {
      plans.push(plan);
      const name = outputName(file, order, plan.cloth.cloth.name);
      outputs.push(plan.chosen === null ? null : await makeOutput(cutList, pieces, plan, name, options));
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
const comparisonEffort = 40;
/** On more cloths and widths than this only the two lay methods that most tables are laid by are compared. */
const allMethodsMost = 6;

/**
 * The same on several cloths or at several widths, without writing all of their lays: how much to buy and what it costs on
 * each, and where the lay breaks.
 */
export async function compareCutList(
  file: string,
  text: string,
  options: CompareOptions,
  tools: PlanTools,
  drawings: Drawings = noDrawings,
): Promise<CompareAnswer> {
  const answer = await planAll({ file, text, drawings }, options, tools, {
    ofMany: ['open', 'lengthwise fold'],
    share: (materials) => options.effort ?? comparisonEffort / materials,
    advise: 'never',
    tidies: false,
  });
  if (!answer.ok) return { kind: 'faults', faults: answer.faults };
  const { cutList, planned } = answer.value;
  const { title, units, notices } = cutList;
  const comparisons: Comparison[] = [];
  const outputs: LayOutput[] = [];
  for (const { order, pieces, plans } of planned) {
    const comparison = comparePlans(order.material, plans);
    comparisons.push(comparison);
    for (const plan of plans) assertAccepted(cutList, pieces, plan, options.garments);
    for (const plan of new Set([comparison.shortest, comparison.cheapest])) {
      if (plan === null) continue;
      const wide = options.widthsUm === null ? [] : [roundLength(boughtWidth(plan.cloth.cloth), units)];
      const name = [
        outputName(file, { ...order, manyCloths: true }, plan.cloth.cloth.name),
        ...wide.map(fileWord),
      ].join('-');
      outputs.push(await makeOutput(cutList, pieces, plan, name, options));
    }
  }
  const { drawComparison } = await import('./marker/draw-comparison.js');
  const svg = await drawComparison(comparisons, { title, units, page: options.page });
  const plot = { name: [baseName(file), 'compared'].map(fileWord).join('-'), svg };
  return { kind: 'compared', title, units, notices, comparisons, plot, outputs };
}

/** Everything planned for one material. */
interface Planned {
  readonly order: Order;
  readonly pieces: readonly CutPiece[];
  readonly plans: readonly MaterialPlan[];
}

/** Plans every material of a cut list on all its cloths and widths. */
async function planAll(
  { file, text, drawings }: { readonly file: string; readonly text: string; readonly drawings: Drawings },
  options: Omit<PlanOptions, 'effort' | 'page' | 'advise' | 'tidies'>,
  tools: PlanTools,
  how: {
    /** The lay methods where there are many cloths and widths; null = all, however many. */
    readonly ofMany: readonly LayName[] | null;
    readonly share: (materials: number) => number;
    readonly advise: 'always' | 'where it does not fit' | 'never';
    readonly tidies: boolean;
  },
): Promise<Result<{ readonly cutList: CutList; readonly planned: readonly Planned[] }>> {
  const read = readCutList(text, file, drawings);
  if (!read.ok) return { ok: false, faults: sortFaults(read.faults) };
  const cutList = read.value;
  const materials = [...new Set(cutList.pieces.flatMap(({ cut }) => cut.map(({ material }) => material)))];
  const orders = chooseOrders(materials, cutList.cloths, options, { file, line: 1, column: 1 });
  if (!orders.ok) return orders;
  const clash = clashOf(file, orders.value);
  if (clash !== null) return { ok: false, faults: [clash] };
  const deadline = options.seconds === null ? null : tools.clock() + options.seconds;
  const effort = how.share(orders.value.length);
  const planned: Planned[] = [];
  for (const order of orders.value) {
    const { material, cloths } = order;
    const pieces = cutPiecesFor(cutList, material);
    const isMany = cloths.length > allMethodsMost && cloths.every(({ method }) => method === 'best');
    const materialOrder = {
      material,
      pieces,
      garments: options.garments,
      places: placesOf(cutList),
      cloths,
      methods: isMany ? how.ofMany : null,
      title: cutList.title,
      cutListSha256: cutList.sha256,
      units: cutList.units,
    };
    const settings = { ...options, effort };
    const plans: MaterialPlan[] = [];
    for (const plan of await planMaterial(materialOrder, settings, tools, deadline)) {
      const isAsked = how.advise === 'always' || (how.advise !== 'never' && outcomeOf(plan).status === 'does not fit');
      const others = isAsked ? otherPieces(cutList, material, pieces) : [];
      const wouldHelp = isAsked ? await adviseOn(materialOrder, plan, others, settings, tools, deadline) : null;
      const tidied = how.tidies ? await tidyPlan(materialOrder, plan, tools) : plan;
      plans.push({ ...tidied, wouldHelp });
    }
    planned.push({ order, pieces, plans });
  }
  return { ok: true, value: { cutList, planned } };
}

/** A seam instead of a fold gets this allowance. */
const seamAllowanceUm = 10_000;
/** Hems of at least three centimetres are tried with two. */
const hemUm = { from: 30_000, to: 20_000 };

/** The pieces of one material as they could be cut instead, each change alone. */
function otherPieces(cutList: CutList, material: string, pieces: readonly CutPiece[]): Change[] {
  const declared = new Map(cutList.pieces.map((piece) => [piece.id, piece]));
  const replaced = (made: ReadonlyMap<string, CutPiece>) => pieces.map((piece) => made.get(piece.id) ?? piece);
  const made = (change: (piece: DeclaredPiece) => DeclaredPiece | null, own: readonly CutPiece[]) =>
    new Map(
      own.flatMap(({ id }) => {
        const other = change(declared.get(id)!);
        const cut = other === null ? null : makeCutPiece(other, material);
        return cut?.ok ? [[id, cut.value] as const] : [];
      }),
    );
  const inCm = (um: number) => roundLength(um, cutList.units);
  const seams = pieces
    .filter(({ onFold }) => onFold)
    .map((piece) => ({ piece, halves: made((each) => seamForFold(each, seamAllowanceUm), [piece]) }))
    .filter(({ halves }) => halves.size > 0)
    .map(({ piece, halves }) => ({
      change: `${piece.id} with a seam instead of the fold, ${inCm(seamAllowanceUm)} of allowance added`,
      changesLook: true,
      pieces: replaced(halves),
    }));
  const hemmed = made((piece) => shorterHems(piece, hemUm.from, hemUm.to), pieces);
  const hems = [
    {
      change: `hems of ${inCm(hemUm.to)} (${[...hemmed.keys()].join(', ')})`,
      changesLook: true,
      pieces: replaced(hemmed),
    },
  ].filter(() => hemmed.size > 0);
  const elsewhere = pieces
    .filter(() => pieces.length > 1)
    .map((piece) => ({
      change: `${piece.id} from other cloth`,
      changesLook: true,
      pieces: pieces.filter((other) => other !== piece),
    }));
  return [...seams, ...hems, ...elsewhere];
}

/**
 * The pieces cut from one material, by name, so that their order in the file decides nothing. The reader has checked
 * that each can be made.
 */
export function cutPiecesFor(cutList: CutList, material: string): readonly CutPiece[] {
  return cutList.pieces
    .filter(({ cut }) => cut.some((entry) => entry.material === material))
    .sort((a, b) => compareText(a.id, b.id))
    .map((piece) => {
      const made = makeCutPiece(piece, material);
      assert(made.ok, `piece "${piece.id}" was checked and can be cut from ${material}`);
      return made.value;
    });
}

/** Where each piece's name stands. */
function placesOf(cutList: CutList): ReadonlyMap<string, Place> {
  return new Map(cutList.pieces.map((piece) => [piece.id, piece.place]));
}

function expectedOf(cutList: CutList, pieces: readonly CutPiece[], cloth: Cloth, garments: number): Expected {
  return { cutListSha256: cutList.sha256, pieces, cloth, garments };
}

/** Every lay that is told of is one that the checker accepts. */
function assertAccepted(cutList: CutList, pieces: readonly CutPiece[], plan: MaterialPlan, garments: number): void {
  for (const { lay } of plan.candidates) {
    if (lay === null) continue;
    const verdict = checkLayAgainst(lay, expectedOf(cutList, pieces, plan.cloth.cloth, garments));
    const reasons = verdict.refusals.map(({ sentence }) => sentence).join('; ');
    assert(verdict.accepted, `the checker accepts the lay found for ${plan.material}: ${reasons}`);
  }
}

/** Checks the chosen lay, and all that it is compared with, and draws it. */
async function makeOutput(
  cutList: CutList,
  pieces: readonly CutPiece[],
  plan: MaterialPlan,
  name: string,
  { page, garments }: Pick<PlanOptions, 'page' | 'garments'>,
): Promise<LayOutput> {
  const lay = plan.chosen?.lay ?? null;
  assert(lay !== null, 'a chosen candidate has a lay');
  assertAccepted(cutList, pieces, plan, garments);
  const { drawPlan } = await import('./marker/draw-plan.js');
  const drawn = await drawPlan(lay, { page, units: cutList.units });
  return { name, lay, layText: writeLay(lay), ...drawn };
}

/** `boats/Slipway apron.yaml` -> `Slipway apron`. */
function baseName(file: string): string {
  return file.replace(/^.*[/\\]/, '').replace(/\.(ya?ml|json)$/i, '');
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

/** CUTLIST-MATERIAL, and the cloth's name where several compete. */
function outputName(file: string, { material, manyCloths }: Order, cloth: string): string {
  return [baseName(file), material, ...(manyCloths ? [cloth] : [])].map(fileWord).join('-');
}

/** Two lays that would be written under one name. */
function clashOf(file: string, orders: readonly Order[]): Fault | null {
  const names = orders.flatMap((order) =>
    [...new Set(order.cloths.map(({ cloth }) => cloth.name))].map((name) => outputName(file, order, name)),
  );
  const twice = names.find((name, i) => names.indexOf(name) !== i);
  if (twice === undefined) return null;
  const what = `two lays would both be written as ${twice}`;
  const fix = 'give its materials and cloths names that differ in letters or digits';
  return makeFault('output-clash', { file, line: 1, column: 1 }, null, what, fix);
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

/** The independent checker on a lay file; with its cut list also whether the two belong together. */
export function checkLayFile(
  file: string,
  text: string,
  cutList: { readonly file: string; readonly text: string; readonly drawings?: Drawings } | null,
): Result<{ readonly lay: Lay; readonly verdict: Verdict; readonly editedByHand: boolean }> {
  const read = readLay(text, file);
  if (!read.ok) return read;
  const lay = read.value;
  const editedByHand = isEditedByHand(lay);
  if (cutList === null) return { ok: true, value: { lay, verdict: checkLay(lay), editedByHand } };
  const list = readCutList(cutList.text, cutList.file, cutList.drawings);
  if (!list.ok) return list;
  const declared = list.value.cloths.find(
    ({ cloth, materials }) => cloth.name === lay.cloth.name && materials.includes(lay.material),
  );
  const known = list.value.pieces.some(({ cut }) => cut.some(({ material }) => material === lay.material));
  if (declared === undefined || !known) {
    const what = `the cut list has no material "${lay.material}" with a cloth "${lay.cloth.name}" for it`;
    const place = { file: cutList.file, line: 1, column: 1 };
    return {
      ok: false,
      faults: [makeFault('other-cut-list', place, null, what, 'check it against the cut list it was planned from')],
    };
  }
  // A cut list does not say for how many garments it is planned; the lay does.
  const garments = lay.placements.reduce((most, { garment }) => Math.max(most, garment), 1);
  const expected = expectedOf(list.value, cutPiecesFor(list.value, lay.material), declared.cloth, garments);
  return { ok: true, value: { lay, verdict: checkLayAgainst(lay, expected), editedByHand } };
}

/** `check --write`: outlines and totals recomputed from `at` and `turned`, and checked; it stays edited by hand. */
export function rewriteLay(file: string, text: string): Result<{ readonly text: string; readonly verdict: Verdict }> {
  const read = readLay(text, file);
  if (!read.ok) return read;
  const lay = recomputeLay(read.value);
  return { ok: true, value: { text: writeLay(lay), verdict: checkLay(lay) } };
}
