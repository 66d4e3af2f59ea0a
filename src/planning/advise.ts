/**
 * What would save cloth, or make it fit: each change is tried by a short search of its own, and told with the length that
 * it gives and whether the garment would look different. A short search may miss some; what it finds is a lay.
 */
import { mayTurn } from '../cloth/lay-rules.js';
import type { DeclaredCloth } from '../cloth/types.js';
import { areaUm2, boundsOf } from '../geometry/outline.js';
import type { Lay } from '../lay/types.js';
import { makeCutPiece } from '../pieces/cut-piece.js';
import type { CutPiece, DeclaredPiece } from '../pieces/types.js';
import { seamForFold, shorterHems } from '../pieces/variants.js';
import { formatLength } from '../units/length.js';
import type { Um } from '../units/types.js';
import { type MaterialOrder, type PlanningSettings, type PlanningTools, planMaterial } from './plan-material.js';
import type { Advice, MaterialPlan } from './types.js';

/** What is changed of an order: its pieces, cut in another way or from other cloth, or the cloth and how it is laid. */
export interface Change {
  readonly change: string;
  readonly changesLook: boolean;
  readonly pieces?: readonly CutPiece[];
  readonly cloth?: DeclaredCloth;
}

/** Effort of each short search. */
const shortEffort = 0.5;
/** Of so many pieces at most it is tried what leaving them out saves: the smallest ones. */
const elsewhereMost = 4;
/** A band: so many times as long as it is wide, and filling so much of its box. */
const bandShape = { slenderness: 3, fill: 0.9 };

/**
 * The changes that help: those that are not seen first, then the shortest lay.
 * @param plan of the order on one of its cloths
 * @param others changes of the pieces
 * @param accept throws when the checker refuses a lay; what is told is a lay
 * @param deadline on the tools' clock, or null
 * @returns null when it was broken off, so that not all was tried
 */
export async function adviseOn(
  order: MaterialOrder,
  plan: MaterialPlan,
  others: readonly Change[],
  settings: PlanningSettings,
  tools: PlanningTools,
  { accept, deadline }: { readonly accept: (lay: Lay, order: MaterialOrder) => void; readonly deadline: number | null },
): Promise<Advice[] | null> {
  const buyUm = plan.chosen?.lay?.totals.buy ?? Number.POSITIVE_INFINITY;
  const silent = { ...tools, onProgress: () => undefined };
  const helpful: Advice[] = [];
  for (const change of [...changesOf(order, plan.cloth), ...others]) {
    if (tools.interrupted() || (deadline !== null && tools.clock() >= deadline)) return null;
    const cloth = change.cloth ?? plan.cloth;
    const pieces = change.pieces ?? order.pieces;
    const changed: MaterialOrder = { ...order, pieces, cloths: [cloth], methods: methodsFor(change, cloth) };
    const [tried] = await planMaterial(changed, { ...settings, effort: shortEffort }, silent, deadline);
    const lay = tried?.chosen?.lay ?? null;
    if (lay === null || lay.totals.buy >= buyUm) continue;
    accept(lay, changed);
    const { change: words, changesLook } = change;
    helpful.push({ change: words, changesLook, lengthUm: lay.totals.lengthUsed, buyUm: lay.totals.buy });
  }
  return helpful.sort((a, b) => Number(a.changesLook) - Number(b.changesLook) || a.lengthUm - b.lengthUm);
}

/** Where every lay method may serve, no doubled lay is shorter than the open one. */
function methodsFor({ cloth: changed }: Change, { method }: DeclaredCloth): MaterialOrder['methods'] {
  return method === 'best' && changed?.method !== 'best' ? ['open'] : null;
}

/** Changes of the cloth and of how pieces may lie on it. */
function changesOf({ pieces }: MaterialOrder, declared: DeclaredCloth): Change[] {
  const { cloth, method } = declared;
  const changes: Change[] = [];
  if (method !== 'best' && method !== 'tube') {
    const change = `another lay method than ${method}, whichever is shortest`;
    changes.push({ change, changesLook: false, cloth: { ...declared, method: 'best' } });
  }
  if (pieces.some((piece) => !mayTurn(cloth, piece) && piece.turn === null)) {
    const change = 'pieces turned end for end, against the nap';
    changes.push({ change, changesLook: true, cloth: { ...declared, cloth: { ...cloth, nap: 'none' } } });
  }
  const bands = cloth.grain === 'free' ? [] : pieces.filter((piece) => isBand(piece) && !piece.cross);
  if (bands.length > 0) {
    const crossed = pieces.map((piece) => (bands.includes(piece) ? { ...piece, cross: true } : piece));
    const change = `${bands.map(({ id }) => id).join(', ')} cut on the cross grain`;
    changes.push({ change, changesLook: true, pieces: crossed });
  }
  if (cloth.length !== null && !declared.irregular) {
    const change = 'a longer piece of the same cloth';
    changes.push({ change, changesLook: false, cloth: { ...declared, cloth: { ...cloth, length: null } } });
  }
  if (cloth.gap > 0) {
    const change = 'no gap between the pieces';
    changes.push({ change, changesLook: false, cloth: { ...declared, cloth: { ...cloth, gap: 0 } } });
  }
  return changes;
}

function isBand({ outline, onFold }: CutPiece): boolean {
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  const [long, wide] = [Math.max(maxX - minX, maxY - minY), Math.min(maxX - minX, maxY - minY)];
  const isSlender = long >= bandShape.slenderness * wide;
  return !onFold && isSlender && areaUm2(outline) >= bandShape.fill * long * wide;
}

/** A seam instead of a fold gets this allowance. */
const seamAllowanceUm = 10_000;
/** Hems of at least three centimetres are tried with two. */
const hemUm = { from: 30_000, to: 20_000 };

/** The pieces of one material as they could be cut instead, each change alone. */
export function changedPieces(
  all: readonly DeclaredPiece[],
  { material, pieces, units }: Pick<MaterialOrder, 'material' | 'pieces' | 'units'>,
): Change[] {
  const declared = new Map(all.map((piece) => [piece.id, piece]));
  const replaced = (made: ReadonlyMap<string, CutPiece>) => pieces.map((piece) => made.get(piece.id) ?? piece);
  const made = (change: (piece: DeclaredPiece) => DeclaredPiece | null, own: readonly CutPiece[]) =>
    new Map(
      own.flatMap(({ id, garments }) => {
        const other = change(declared.get(id)!);
        const cut = other === null ? null : makeCutPiece(other, material);
        if (cut === null || !cut.ok) return [];
        return [[id, garments === undefined ? cut.value : { ...cut.value, garments }] as const];
      }),
    );
  const inWords = (um: Um) => formatLength(um, units);
  const seams = pieces
    .filter(({ onFold }) => onFold)
    .map((piece) => ({ piece, halves: made((each) => seamForFold(each, seamAllowanceUm), [piece]) }))
    .filter(({ halves }) => halves.size > 0)
    .map(({ piece, halves }) => ({
      change: `${piece.id} with a seam instead of the fold, ${inWords(seamAllowanceUm)} of allowance added`,
      changesLook: true,
      pieces: replaced(halves),
    }));
  const hemmed = made((piece) => shorterHems(piece, material, hemUm.from, hemUm.to), pieces);
  const hems = [
    {
      change: `hems of ${inWords(hemUm.to)} (${[...hemmed.keys()].join(', ')})`,
      changesLook: true,
      pieces: replaced(hemmed),
    },
  ].filter(() => hemmed.size > 0);
  // The largest piece is what the garment is of.
  const elsewhere = [...pieces]
    .sort((a, b) => areaUm2(a.outline) - areaUm2(b.outline))
    .slice(0, Math.min(elsewhereMost, pieces.length - 1))
    .map((piece) => ({
      change: `${piece.id} from other cloth`,
      changesLook: true,
      pieces: pieces.filter((other) => other !== piece),
    }));
  return [...seams, ...hems, ...elsewhere];
}
