/** A lay that is gone on with: what is pinned in it stays, on cloth that lies as it lay; the rest is searched anew. */
import { isCrosswise } from '../cloth/folding.js';
import type { LayMethod } from '../cloth/types.js';
import type { Lay } from '../lay/types.js';
import type { Pin } from '../problem/pins.js';
import type { KeptFolding } from './ways.js';

export interface KeptLay extends KeptFolding {
  readonly method: LayMethod;
  readonly pins: readonly Pin[];
}

export type KeptAnswer = { readonly ok: true; readonly kept: KeptLay } | { readonly ok: false; readonly why: string };

/** What of a lay is kept; or why nothing can be. Its pinned placements are taken to be legal. */
export function keptFrom(lay: Lay): KeptAnswer {
  const [stretch, another] = lay.stretches;
  if (another !== undefined) {
    return { ok: false, why: 'it is laid in several stretches, and where the second begins depends on the first' };
  }
  const { method, folds, barAt = null } = stretch!;
  if (isCrosswise(method)) {
    const where = method === 'crosswise fold' ? 'where the fold lies' : 'where the cloth is cut';
    return { ok: false, why: `${where} depends on how long the lay becomes, so nothing can stay in its place` };
  }
  return { ok: true, kept: { method, folding: { method, folds }, barAt, doubled: doubledIn(lay), pins: pinsOf(lay) } };
}

/** Placements of two copies that are not pinned, counted by piece. */
function doubledIn({ placements }: Lay): ReadonlyMap<string, number> {
  const doubled = new Map<string, number>();
  for (const { piece, copies, pinned } of placements) {
    if (!pinned && copies.length === 2) doubled.set(piece, (doubled.get(piece) ?? 0) + 1);
  }
  return doubled;
}

/** The pinned placements of a lay with their copies. */
function pinsOf({ placements, copies }: Lay): readonly Pin[] {
  const byNumber = new Map(copies.map((copy) => [copy.n, copy]));
  return placements
    .filter(({ pinned }) => pinned)
    .map((placement) => ({ placement, copies: placement.copies.map((n) => byNumber.get(n)!) }));
}
