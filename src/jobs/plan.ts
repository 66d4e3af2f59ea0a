/** The main job: cut lists -> for each material the shortest checked lay on each of its cloths, and its pages. */
import { checkLayAgainst } from '../checker/check-lay.js';
import type { Cloth, LayName } from '../cloth/types.js';
import { type Drawings, noDrawings } from '../cutlist/drawings.js';
import { type JoinedLists, joinCutLists } from '../cutlist/join.js';
import { assert } from '../diagnostics/assert.js';
import { sortFaults } from '../diagnostics/faults.js';
import type { Fault, Result } from '../diagnostics/types.js';
import type { Lay } from '../lay/types.js';
import { writeLay } from '../lay/write.js';
import type { Dated } from '../marker/types.js';
import type { CutPiece } from '../pieces/types.js';
import { adviseOn, changedPieces } from '../planning/advise.js';
import type { KeptLay } from '../planning/keep.js';
import { chooseOrders, type Order, type Wishes } from '../planning/orders.js';
import { type MaterialOrder, type PlanningTools, planMaterial } from '../planning/plan-material.js';
import { tidyPlan } from '../planning/tidy.js';
import { tellTooMuch } from '../planning/too-much.js';
import type { MaterialPlan } from '../planning/types.js';
import { plansInFull } from '../report/comparison.js';
import { outcomeOf } from '../report/outcome.js';
import type { LengthUnit } from '../units/types.js';
import { keepLay } from './keep-lay.js';
import { clashOf, outputName } from './names.js';
import { type CutListSource, cutPiecesFor, expectedOf, type KeptSource, placesOf, readAll } from './sources.js';

export interface PlanOptions extends Wishes, Dated {
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
  await tools.executor.rest();
  const plans: MaterialPlan[] = [];
  const outputs: (LayOutput | null)[] = [];
  for (const { order, plans: own } of planned) {
    for (const plan of own) {
      plans.push(plan);
      const name = outputName(files, order, plan.cloth.cloth.name);
      outputs.push(plan.chosen === null ? null : await makeOutput(plan, name, { ...options, units: cutList.units }));
    }
  }
  return { kind: 'planned', title: cutList.title, units: cutList.units, notices: cutList.notices, plans, outputs };
}

/** Everything planned for one material. */
interface Planned {
  readonly order: Order;
  readonly plans: readonly MaterialPlan[];
}

/** Plans every material of the cut lists on all its cloths and widths. */
export async function planAll(
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
  const { cutList, kept } = posed.value;
  const [places, { garments, units }] = [placesOf(cutList), cutList];
  const orders = posed.value.orders.map((order) => ({ ...order, pieces: cutPiecesFor(cutList, order.material) }));
  const tooMuch = orders.flatMap((order) => tellTooMuch({ ...order, garments, places, units }));
  if (tooMuch.length > 0) return { ok: false, faults: sortFaults(tooMuch) };
  const deadline = options.seconds === null ? null : tools.clock() + options.seconds;
  const settings = { ...options, effort: how.share(orders.length) };
  const planned: Planned[] = [];
  for (const order of orders) {
    const { material, cloths, pieces } = order;
    const isMany = cloths.length > plansInFull && cloths.every(({ method }) => method === 'best');
    const materialOrder: MaterialOrder = {
      material,
      pieces,
      garments,
      places,
      cloths,
      methods: isMany ? how.ofMany : null,
      title: cutList.title,
      cutListSha256: cutList.sha256,
      units,
      ...(kept === null ? {} : { kept }),
    };
    const found = await planMaterial(materialOrder, settings, tools, deadline);
    const fitsNowhere = found.every((plan) => outcomeOf(plan).status === 'does not fit');
    const isAsked = kept === null && (how.advise === 'always' || (how.advise !== 'never' && fitsNowhere));
    const others = isAsked ? changedPieces(cutList.pieces, materialOrder) : [];
    const accept = (lay: Lay, changed: MaterialOrder) => assertAccepted(lay, cutList, changed.pieces, lay.cloth);
    const rest = { accept, deadline };
    const plans: MaterialPlan[] = [];
    for (const plan of found) {
      const tidied = how.tidies && kept === null ? await tidyPlan(materialOrder, plan, tools) : plan;
      const wouldHelp = isAsked ? await adviseOn(materialOrder, tidied, others, settings, tools, rest) : null;
      plans.push({ ...tidied, wouldHelp });
    }
    for (const { candidates, cloth } of plans) {
      for (const { lay } of candidates) if (lay !== null) assertAccepted(lay, cutList, pieces, cloth.cloth);
    }
    planned.push({ order, plans });
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

/** Every lay that is told of is one that the checker accepts. */
function assertAccepted(lay: Lay, cutList: JoinedLists, pieces: readonly CutPiece[], cloth: Cloth): void {
  const verdict = checkLayAgainst(lay, expectedOf(cutList, pieces, cloth));
  const reasons = verdict.refusals.map(({ sentence }) => sentence).join('; ');
  assert(verdict.accepted, `the checker accepts the lay found for ${lay.material}: ${reasons}`);
}

/** Draws the chosen lay, which the checker has accepted. */
export async function makeOutput(
  plan: MaterialPlan,
  name: string,
  { page, units, madeAt = null }: { readonly page: PlanOptions['page']; readonly units: LengthUnit } & Dated,
): Promise<LayOutput> {
  const lay = plan.chosen?.lay ?? null;
  assert(lay !== null, 'a chosen candidate has a lay');
  const { drawPlan } = await import('../marker/draw-plan.js');
  const drawn = await drawPlan(lay, { page, units, madeAt });
  return { name, lay, layText: writeLay(lay), ...drawn };
}
