/** Allowances: one length, a map with `all` and edges or runs, or either of these for each material. */
import { edgeName } from '../pieces/edge-name.js';
import type { EdgeAllowances } from '../pieces/types.js';
import type { MapNode, SourceNode } from '../source/types.js';
import type { Um } from '../units/types.js';
import type { Context } from './context.js';
import { describe, readLength } from './fields.js';
import { smallLengthMax } from './limits.js';
import { type Lettered, parseRun } from './runs.js';

export interface ReadAllowances {
  readonly byMaterial: ReadonlyMap<string, EdgeAllowances>;
  readonly byDefault: EdgeAllowances;
}

const range = { least: 0, most: smallLengthMax, expected: 'an allowance' };

/**
 * Without the key there is no allowance.
 * @param corners, materials null where they are not known, and only faults are wanted
 * @param folded edges on the fold
 * @param isOneHand both were given for the same piece, not one of them for another that it is like
 */
export function readAllowances(
  node: SourceNode | null,
  corners: Lettered,
  materials: readonly string[] | null,
  folded: readonly number[],
  isOneHand: boolean,
  context: Context,
): ReadAllowances {
  const given: Given = { corners, folded, isOneHand };
  const none: EdgeAllowances = { byEdge: (corners ?? []).map(() => 0), rest: 0, place: null };
  if (node === null) return { byMaterial: new Map(), byDefault: none };
  const way = node.kind === 'map' ? wayOf(node, corners, materials) : 'by edge';
  if (node.kind !== 'map' || way === 'by edge')
    return { byMaterial: new Map(), byDefault: readOne(node, given, materials, context) ?? none };
  const byMaterial = new Map<string, EdgeAllowances>();
  for (const { key, keyPlace, value } of node.entries) {
    if (way === 'unknown' && value.kind === 'empty' && /^\d+$/.test(key)) {
      // 1,5 between braces.
      parseRun(key, keyPlace, corners, context);
    } else if (way === 'unknown' || materials?.includes(key)) {
      byMaterial.set(key, readOne(value, given, null, context) ?? none);
    } else {
      const fix = `name one of its materials: ${materials?.join(', ')}`;
      context.fault('allowance-material', keyPlace, `allowance for "${key}", which the piece is not cut from`, fix);
    }
  }
  for (const material of way === 'unknown' ? [] : (materials ?? [])) {
    if (!byMaterial.has(material)) {
      const fix = `add "${material}: 0" if it has none`;
      context.fault('allowance-material', node.place, `no allowance is given for ${material}`, fix);
    }
  }
  return { byMaterial, byDefault: none };
}

/** A map by material: no key is `all` or an edge, and one of them at least is a material. */
function wayOf(
  { entries }: MapNode,
  corners: Lettered,
  materials: readonly string[] | null,
): 'by material' | 'by edge' | 'unknown' {
  const keys = entries.map(({ key }) => key);
  if (keys.some((key) => key === 'all' || isEdgeOf(corners, key))) return 'by edge';
  if (materials !== null && corners !== null)
    return keys.some((key) => materials.includes(key)) ? 'by material' : 'by edge';
  return materials !== null && keys.every((key) => materials.includes(key)) ? 'by material' : 'unknown';
}

function isEdgeOf(corners: Lettered, key: string): boolean {
  const ends = key.split('-').map((end) => end.trim());
  return ends.length === 2 && ends.every((end) => corners?.some(({ label }) => label === end));
}

interface Given {
  readonly corners: Lettered;
  readonly folded: readonly number[];
  readonly isOneHand: boolean;
}

/** One length for all edges, or `all` and then single edges and runs. */
function readOne(
  node: SourceNode,
  { corners, folded, isOneHand }: Given,
  materials: readonly string[] | null,
  context: Context,
): EdgeAllowances | null {
  if (node.kind === 'scalar') {
    const um = readLength(node, range, context);
    return um === null ? null : { byEdge: (corners ?? []).map(() => um), rest: um, place: node.place };
  }
  if (node.kind !== 'map') {
    const what = `found ${describe(node)}, expected a length or {all: 1, A-B: 3}`;
    return context.fault('wrong-value', node.place, what, 'give a length, or a map with all and edges');
  }
  const byEdge: (Um | null)[] = (corners ?? []).map(() => null);
  const all = node.entries.find(({ key }) => key === 'all');
  const base = all === undefined ? 0 : readLength(all.value, range, context);
  for (const { key, keyPlace, value } of node.entries) {
    if (key === 'all') continue;
    if (materials?.includes(key) && !isEdgeOf(corners, key)) {
      const other = materials.find((each) => each !== key);
      const fix =
        other === undefined
          ? 'write "all" for the edges that are not named'
          : `part them by material: {${key}: 1, ${other}: {all: 1, A-B: 3}}`;
      context.fault('allowance-material', keyPlace, `"${key}" is a material, and stands beside edges`, fix);
      continue;
    }
    const run = parseRun(key, keyPlace, corners, context);
    // 1,5 between braces: what stands behind the comma has been told.
    const um = run === null && value.kind === 'empty' ? null : readLength(value, range, context);
    if (run === null || um === null) continue;
    if (isOneHand && um > 0 && run.edges.length > 0 && run.edges.every((edge) => folded.includes(edge))) {
      const what = `${key} lies on the fold, and the allowance given for it is left out`;
      context.fault('allowance-on-fold', keyPlace, what, 'check which edge is the fold, or leave it out', 'warning');
    }
    for (const edge of run.edges) {
      if (byEdge[edge] !== null) {
        context.fault('allowance-twice', keyPlace, `an edge of ${key} has an allowance already`, 'name each edge once');
      }
      byEdge[edge] = um;
    }
  }
  if (all === undefined && corners !== null) tellUnsaid(node, byEdge, corners, folded, context);
  const rest = base ?? 0;
  return { byEdge: byEdge.map((um) => um ?? rest), rest, place: node.place };
}

/** Without `all`, an edge that is not named has no allowance; the fold edge needs none. */
function tellUnsaid(
  { place }: MapNode,
  byEdge: readonly (Um | null)[],
  corners: NonNullable<Lettered>,
  folded: readonly number[],
  context: Context,
): void {
  const unsaid = [...corners.keys()].filter((edge) => byEdge[edge] === null && !folded.includes(edge));
  if (unsaid.length === 0) return;
  const names = unsaid.map((edge) => edgeName({ corners }, edge));
  const what = `no allowance is given for ${names.join(', ')}`;
  context.fault('allowance-unsaid', place, what, 'add "all: 1", or name them with 0 if that is meant', 'notice');
}
