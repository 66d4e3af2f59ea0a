/** The shape of a piece from an SVG file: one closed outline of it, in true size. */
import { readSvgFile, type SvgOutline } from '../drawings/svg-file.js';
import { boundsOf } from '../geometry/outline.js';
import type { SourceNode } from '../source/types.js';
import { formatLength } from '../units/length.js';
import type { Context } from './context.js';
import { asMap, nearest, readKeys, readNumber, readText, refuse } from './fields.js';
import { letterOf, type ReadShape } from './plain-shapes.js';

const svgForm = '{file: bib.svg, id: bib}';

export function readSvgShape(node: SourceNode, context: Context): ReadShape | null {
  const map = asMap(node, svgForm, context);
  if (map === null) return null;
  const before = context.errorCount;
  const keys = readKeys(map, { known: ['file', 'id', 'layer', 'scale'], later: [] }, context);
  const file = keys.get('file');
  if (context.errorCount > before) return null;
  if (file === undefined) return refuse(node, svgForm, context);
  const name = readText(file.value, 'the name of an SVG file', context);
  const id = keys.has('id') ? readText(keys.get('id')!.value, 'the id of an element', context) : null;
  const layer = keys.has('layer') ? readText(keys.get('layer')!.value, 'the name of a group', context) : null;
  const range = { least: 0.0001, most: 10_000, expected: 'a scale, such as 1 or 2.5' };
  const scale = keys.has('scale') ? readNumber(keys.get('scale')!.value, range, context) : 1;
  if (name === null || scale === null || context.errorCount > before) return null;
  const text = context.drawings.get(name);
  if (text === undefined || !text.ok) {
    const why = text === undefined ? 'it was not read' : text.faults.map(({ what }) => what).join('; ');
    const fix = 'the name is relative to the cut list; check it and the folder';
    return context.fault('drawing-unread', file.value.place, `${name}: ${why}`, fix);
  }
  const drawing = readSvgFile(text.value, scale);
  if ('problem' in drawing) {
    const what = `${name}:${drawing.line}:${drawing.column}: ${drawing.problem}`;
    return context.fault('drawing-broken', file.value.place, what, 'save it anew as plain SVG');
  }
  const found = choose(drawing.outlines, id, layer);
  if (typeof found === 'string') {
    const passed = drawing.passedOver.filter((each) => id === null || each.id === id);
    const why = passed.slice(0, 3).map((each) => `${each.id ?? `line ${each.line}`}: ${each.why}`);
    const what = [`${name}: ${found}`, ...why].join('; ');
    return context.fault('drawing-outline', node.place, what, fixFor(drawing.outlines, id));
  }
  tellSize(name, found, drawing.pageMm, drawing.sizeIsGiven, node, context);
  const { place } = node;
  const corners = found.edges.map(({ points }, i) => ({ label: letterOf(i), at: points[0]!, place }));
  const edges = found.edges.map((edge) => ({ ...edge, place }));
  return { corners, edges, grain: null, yUp: 1, hole: null, parts: null };
}

/** The outline meant, or what is wrong. */
function choose(outlines: readonly SvgOutline[], id: string | null, layer: string | null): SvgOutline | string {
  const inLayer = outlines.filter(({ groups }) => layer === null || groups.includes(layer));
  const where = layer === null ? '' : ` in "${layer}"`;
  const named = id === null ? inLayer : inLayer.filter((outline) => outline.id === id || outline.groups.at(-1) === id);
  if (named.length === 1) return named[0]!;
  const which = id === null ? 'closed outlines' : `closed outlines with id "${id}"`;
  return named.length === 0 ? `it has no ${which}${where}` : `it has ${named.length} ${which}${where}`;
}

function fixFor(outlines: readonly SvgOutline[], id: string | null): string {
  const ids = [...new Set(outlines.flatMap((outline) => outline.id ?? []))];
  if (ids.length === 0) return 'give the outline an id in the drawing, and name it';
  const near = id === null ? null : nearest(id, ids);
  if (near !== null) return `did you mean "${near}"?`;
  return `name one with id: ${ids.slice(0, 10).join(', ')}${ids.length > 10 ? ', ...' : ''}`;
}

/** How large it came out: a drawing that names no size is as wrong as its guess. */
function tellSize(
  name: string,
  { edges }: SvgOutline,
  pageMm: readonly [number, number],
  sizeIsGiven: boolean,
  { place }: SourceNode,
  context: Context,
): void {
  const { minX, minY, maxX, maxY } = boundsOf(edges.flatMap(({ points }) => points));
  const size = `${formatLength(maxX - minX, context.units)} wide and ${formatLength(maxY - minY, context.units)} high`;
  if (sizeIsGiven) {
    const page = pageMm.map((mm) => formatLength(Math.round(mm * 1000), context.units)).join(' x ');
    const what = `from ${name} (page ${page}): the outline is ${size}`;
    context.fault('drawing-size', place, what, 'measure the paper; scale: sets it right', 'notice');
    return;
  }
  const what = `${name} does not say its size, so a unit is taken as 1/96 inch: the outline is ${size}`;
  context.fault('drawing-size-assumed', place, what, 'measure the paper, and set it right with scale', 'warning');
}
