/** Edges and runs by name: `C-D` an edge, `D-C` the same from its other end, `B-E` a run over corners in file order. */
import type { Place } from '../diagnostics/types.js';
import type { Corner, EdgeRun } from '../pieces/types.js';
import type { SourceNode } from '../source/types.js';
import type { Context } from './context.js';
import { nearest, refuse } from './fields.js';

/** Letters of the corners of a piece, in order; null where its shape could not be read. */
export type Lettered = readonly Pick<Corner, 'label'>[] | null;

/** The run called `name`, or null after a fault at `place`; without edges where the corners are not known. */
export function parseRun(name: string, place: Place, corners: Lettered, context: Context): EdgeRun | null {
  const labels = (corners ?? []).map(({ label }) => label);
  const ends = name.split('-').map((end) => end.trim());
  if (/^\d+$/.test(name.trim())) {
    return context.fault(
      'bad-edge',
      place,
      `found "${name}" where an edge should be`,
      'between braces write decimals with a point: 1.5, not 1,5',
    );
  }
  if (ends.length !== 2) {
    return context.fault(
      'bad-edge',
      place,
      `"${name}" is not an edge`,
      `name its two corners, such as ${labels[0] ?? 'A'}-${labels[1] ?? 'B'}`,
    );
  }
  if (corners === null) return { name, edges: [], reversed: false };
  const [from, to] = ends.map((end) => labels.indexOf(end)) as [number, number];
  if (from === -1 || to === -1) {
    const missing = from === -1 ? ends[0]! : ends[1]!;
    const near = nearest(missing, labels);
    const fix =
      near === null || labels.length < 40
        ? `its corners are ${labels.slice(0, 40).join(', ')}`
        : `did you mean ${near}?`;
    return context.fault('no-such-corner', place, `"${name}": there is no corner "${missing}"`, fix);
  }
  if (from === to)
    return context.fault('bad-edge', place, `"${name}" begins and ends at one corner`, 'name two corners');
  const n = corners.length;
  // D-C, the very next corner backwards, is edge C-D from its other end; every other run goes on in file order.
  if ((to + 1) % n === from && n > 2) return { name, edges: [to], reversed: true };
  const edges: number[] = [];
  for (let edge = from; edge !== to; edge = (edge + 1) % n) edges.push(edge);
  return { name, edges, reversed: false };
}

/** A node that holds the name of an edge or run. */
export function readRun(node: SourceNode, corners: Lettered, context: Context): EdgeRun | null {
  if (node.kind !== 'scalar') return refuse(node, 'an edge such as A-B', context, 'bad-edge');
  return parseRun(node.text.trim(), node.place, corners, context);
}
