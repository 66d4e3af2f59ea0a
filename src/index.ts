/**
 * Shortlay as a library: text and options in, faults or checked lays with their drawings out. Nothing here touches
 * files, terminal, clock or threads; the caller hands in what is needed of them.
 */
import { checkLay, checkLayAgainst, type Expected } from './checker/check-lay.js';
import type { Verdict } from './checker/types.js';
import { type Cloth, type DeclaredCloth, evenWidth, type LayMethod, type Nap } from './cloth/types.js';
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
import type { CutPiece } from './pieces/types.js';
import { type PlanningTools, planMaterial } from './planning/plan-material.js';
import { checkWidths } from './planning/too-wide.js';
import type { MaterialPlan } from './planning/types.js';
import type { LengthUnit, Um } from './units/types.js';

export interface PlanOptions {
  /** null = all. */
  readonly material: string | null;
  readonly cloth: string | null;
  /** These four go before what the file says. */
  readonly widthUm: Um | null;
  readonly lengthUm: Um | null;
  readonly nap: Nap | null;
  readonly method: LayMethod | 'best' | null;
  readonly effort: number;
  readonly seconds: number | null;
  readonly seed: number;
  readonly page: 'a4' | 'letter';
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
 * @returns faults when the input cannot be planned; a lay that the checker refuses is our own fault and throws
 */
export async function planCutList(
  file: string,
  text: string,
  options: PlanOptions,
  tools: PlanTools,
): Promise<PlanAnswer> {
  const read = readCutList(text, file);
  if (!read.ok) return { kind: 'faults', faults: sortFaults(read.faults) };
  const cutList = read.value;
  const orders = chooseOrders(cutList, options);
  if (!orders.ok) return { kind: 'faults', faults: orders.faults };
  const deadline = options.seconds === null ? null : tools.clock() + options.seconds;
  const plans: MaterialPlan[] = [];
  const outputs: (LayOutput | null)[] = [];
  for (const { material, cloths, manyCloths } of orders.value) {
    const pieces = cutPiecesFor(cutList, material);
    const order = {
      material,
      pieces,
      places: placesOf(cutList),
      cloths,
      title: cutList.title,
      cutListSha256: cutList.sha256,
      units: cutList.units,
    };
    for (const plan of await planMaterial(order, options, tools, deadline)) {
      plans.push(plan);
      outputs.push(plan.chosen === null ? null : await makeOutput(cutList, pieces, plan, manyCloths, options.page));
    }
  }
  const clash = clashOf(file, outputs);
  if (clash !== null) return { kind: 'faults', faults: [clash] };
  return { kind: 'planned', title: cutList.title, units: cutList.units, notices: cutList.notices, plans, outputs };
}

interface Order {
  readonly material: string;
  readonly cloths: readonly DeclaredCloth[];
  /** Several cloths compete for this material, so output names carry the cloth's. */
  readonly manyCloths: boolean;
}

/** Materials in the order in which the pieces name them, each with its cloths; the options narrow and override. */
function chooseOrders(cutList: CutList, options: PlanOptions): Result<readonly Order[]> {
  const materials = [...new Set(cutList.pieces.flatMap(({ cut }) => cut.map(({ material }) => material)))];
  const faults: Fault[] = [];
  const at = { file: cutList.file, line: 1, column: 1 };
  if (options.material !== null && !materials.includes(options.material)) {
    const what = `nothing is cut from a material called "${options.material}"`;
    faults.push(makeFault('unknown-material', at, '--material', what, `name one of: ${materials.join(', ')}`));
  }
  const names = cutList.cloths.map(({ cloth }) => cloth.name);
  if (options.cloth !== null && !names.includes(options.cloth)) {
    const what = `the cut list has no cloth called "${options.cloth}"`;
    faults.push(makeFault('unknown-cloth', at, '--cloth', what, `name one of: ${names.join(', ')}`));
  }
  const orders: Order[] = [];
  for (const material of materials) {
    if (options.material !== null && material !== options.material) continue;
    const all = cutList.cloths.filter((cloth) => cloth.materials.includes(material));
    const asked = all.filter(({ cloth }) => options.cloth === null || cloth.name === options.cloth);
    const cloths = asked.map((cloth) => overrideCloth(cloth, options, faults));
    if (cloths.length > 0) orders.push({ material, cloths, manyCloths: all.length > 1 });
  }
  if (
    (options.widthUm !== null || options.lengthUm !== null) &&
    new Set(orders.flatMap((order) => order.cloths.map(({ cloth }) => cloth.name))).size > 1
  ) {
    const what = 'a width or length given for the run would hold for several cloths';
    faults.push(
      makeFault('which-cloth', at, options.widthUm === null ? '--length' : '--width', what, 'name one with --cloth'),
    );
  }
  if (orders.length === 0 && faults.length === 0) {
    faults.push(
      makeFault('nothing-to-plan', at, null, 'no piece is cut from this cloth', 'choose another --cloth or --material'),
    );
  }
  return faults.length > 0 ? { ok: false, faults } : { ok: true, value: orders };
}

/** Command-line values instead of the file's. Another width keeps what the file's width loses at either side. */
function overrideCloth(declared: DeclaredCloth, options: PlanOptions, faults: Fault[]): DeclaredCloth {
  const { cloth } = declared;
  const width = options.widthUm === null ? cloth.width : evenWidth(options.widthUm);
  const usable: readonly [Um, Um] = [cloth.usable[0], cloth.usable[1] + width - cloth.width];
  if (usable[1] <= usable[0]) {
    const what = 'the width leaves nothing between the selvedges';
    faults.push(
      makeFault('width-too-small', declared.place, `cloth "${cloth.name}"`, what, 'give the whole width of the cloth'),
    );
  }
  const changed: Cloth = {
    ...cloth,
    width,
    usable,
    length: options.lengthUm ?? cloth.length,
    nap: options.nap ?? cloth.nap,
  };
  const notices = width === cloth.width ? declared.notices : [usableKept(declared)];
  return { ...declared, cloth: changed, method: options.method ?? declared.method, notices };
}

/** Another width was given: what is lost at its sides is taken to be as before. */
function usableKept({ cloth, place }: DeclaredCloth): Fault {
  const what = 'with another width its sides are taken to lose as much as those of the width in the file';
  const fix = 'measure the cloth and give its width and usable in the file';
  return makeFault('usable-assumed', place, `cloth "${cloth.name}"`, what, fix, 'notice');
}

/**
 * The pieces cut from one material, by name, so that their order in the file decides nothing. The reader has checked
 * that each can be made.
 */
function cutPiecesFor(cutList: CutList, material: string): readonly CutPiece[] {
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

function expectedOf(cutList: CutList, pieces: readonly CutPiece[], cloth: Cloth): Expected {
  return { cutListSha256: cutList.sha256, pieces, cloth, garments: 1 };
}

/** Checks the chosen lay and draws it. */
async function makeOutput(
  cutList: CutList,
  pieces: readonly CutPiece[],
  plan: MaterialPlan,
  manyCloths: boolean,
  page: 'a4' | 'letter',
): Promise<LayOutput> {
  const lay = plan.chosen?.lay ?? null;
  assert(lay !== null, 'a chosen candidate has a lay');
  const verdict = checkLayAgainst(lay, expectedOf(cutList, pieces, plan.cloth.cloth));
  const reasons = verdict.refusals.map(({ sentence }) => sentence).join('; ');
  assert(verdict.accepted, `the checker accepts the lay found for ${plan.material}: ${reasons}`);
  const { drawPlan } = await import('./marker/draw-plan.js');
  const drawn = await drawPlan(lay, { page, units: cutList.units });
  const parts = [baseName(cutList.file), plan.material, ...(manyCloths ? [plan.cloth.cloth.name] : [])];
  return { name: parts.map(fileWord).join('-'), lay, layText: writeLay(lay), ...drawn };
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

function clashOf(file: string, outputs: readonly (LayOutput | null)[]): Fault | null {
  const names = outputs.flatMap((output) => (output === null ? [] : [output.name]));
  const twice = names.find((name, i) => names.indexOf(name) !== i);
  if (twice === undefined) return null;
  const what = `two lays would both be written as ${twice}`;
  const fix = 'give its materials and cloths names that differ in letters or digits';
  return makeFault('output-clash', { file, line: 1, column: 1 }, null, what, fix);
}

/** Reads and checks a cut list, never searches. */
export function checkCutList(
  file: string,
  text: string,
): { readonly cutList: CutList | null; readonly faults: readonly Fault[] } {
  const read = readCutList(text, file);
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
  cutList: { readonly file: string; readonly text: string } | null,
): Result<{ readonly lay: Lay; readonly verdict: Verdict; readonly editedByHand: boolean }> {
  const read = readLay(text, file);
  if (!read.ok) return read;
  const lay = read.value;
  const editedByHand = isEditedByHand(lay);
  if (cutList === null) return { ok: true, value: { lay, verdict: checkLay(lay), editedByHand } };
  const list = readCutList(cutList.text, cutList.file);
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
  const expected = expectedOf(list.value, cutPiecesFor(list.value, lay.material), declared.cloth);
  return { ok: true, value: { lay, verdict: checkLayAgainst(lay, expected), editedByHand } };
}

/** `check --write`: outlines and totals recomputed from `at` and `turned`, and checked; it stays edited by hand. */
export function rewriteLay(file: string, text: string): Result<{ readonly text: string; readonly verdict: Verdict }> {
  const read = readLay(text, file);
  if (!read.ok) return read;
  const lay = recomputeLay(read.value);
  return { ok: true, value: { text: writeLay(lay), verdict: checkLay(lay) } };
}
