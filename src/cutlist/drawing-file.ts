/** What the shapes that come from a file have in common: its text, and how large the outline came out. */
import type { Place } from '../diagnostics/types.js';
import { boundsOf } from '../geometry/outline.js';
import type { Corner, DeclaredEdge } from '../pieces/types.js';
import type { MapEntry, SourceNode } from '../source/types.js';
import { formatLength } from '../units/length.js';
import type { Point } from '../units/types.js';
import type { Context } from './context.js';
import { asMap, nearest, readKeys, readNumber, readText, refuse } from './fields.js';
import { letterOf } from './plain-shapes.js';

/** The keys of a shape from a file, read. */
export interface DrawingKeys {
  readonly name: string;
  readonly text: string;
  readonly file: MapEntry;
  /** The value of the key that names one of its outlines, or null. */
  readonly which: string | null;
  readonly layer: string | null;
  readonly scale: number;
}

/**
 * Reads `{file: .., WHICH: .., layer: .., scale: ..}` and finds the file's text.
 * @param which the key that names one outline of several
 * @param form an example, for faults
 */
export function readDrawingKeys(
  node: SourceNode,
  which: 'id' | 'piece',
  form: string,
  context: Context,
): DrawingKeys | null {
  const map = asMap(node, form, context);
  if (map === null) return null;
  const before = context.errorCount;
  const keys = readKeys(map, { known: ['file', which, 'layer', 'scale'] }, context);
  const file = keys.get('file');
  if (context.errorCount > before) return null;
  if (file === undefined) return refuse(node, form, context);
  const words = (key: string, expected: string): string | null =>
    keys.has(key) ? readText(keys.get(key)!.value, expected, context) : null;
  const name = file.value.kind === 'scalar' ? file.value.text : refuse(file.value, 'the name of a drawing', context);
  const named = words(which, 'the name of one outline, or its number');
  const layer = words('layer', 'the name of a layer or group');
  const range = { least: 0.0001, most: 10_000, expected: 'a scale, such as 1 or 2.5' };
  const scale = keys.has('scale') ? readNumber(keys.get('scale')!.value, range, context) : 1;
  if (name === null || scale === null || context.errorCount > before) return null;
  const text = context.drawings.get(name);
  if (text?.ok) return { name, text: text.value, file, which: named, layer, scale };
  const why = text === undefined ? 'it was not read' : text.faults.map(({ what }) => what).join('; ');
  const fix = 'the name is relative to the cut list; check it and the folder';
  return context.fault('drawing-unread', file.value.place, `${name}: ${why}`, fix);
}

/** Lettered corners, one at the beginning of each edge. */
export function letteredCorners(edges: readonly { readonly points: readonly Point[] }[], place: Place): Corner[] {
  return edges.map(({ points }, i) => ({ label: letterOf(i), at: points[0]!, place }));
}

/** `20 cm wide and 30 cm high`. */
export function sizeWords(edges: readonly Pick<DeclaredEdge, 'points'>[], context: Context): string {
  const { minX, minY, maxX, maxY } = boundsOf(edges.flatMap(({ points }) => points));
  return `${formatLength(maxX - minX, context.units)} wide and ${formatLength(maxY - minY, context.units)} high`;
}

/** What to write instead of a name that is not there. */
export function nameFixFor(names: readonly string[], which: string | null, otherwise: string): string {
  const different = [...new Set(names)];
  if (different.length === 0) return otherwise;
  const near = which === null ? null : nearest(which, different);
  if (near !== null) return `did you mean "${near}"?`;
  return `name one of: ${different.slice(0, 10).join(', ')}${different.length > 10 ? ', ...' : ''}`;
}

/** An outline by its number in the file, from 1; undefined when `which` is no such number. */
export function byNumber<T>(all: readonly T[], which: string | null): T | undefined {
  return which !== null && /^[1-9]\d{0,4}$/.test(which) ? all[Number(which) - 1] : undefined;
}
