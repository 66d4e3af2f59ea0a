/** The shape of a piece from an SVG file: one closed outline of it, in true size. */
import { readSvgFile, type SvgDrawing, type SvgOutline } from '../drawings/svg-file.js';
import type { SourceNode } from '../source/types.js';
import { formatLength } from '../units/length.js';
import type { Context } from './context.js';
import { byNumber, letteredCorners, nameFixFor, readDrawingKeys, sizeWords } from './drawing-file.js';
import type { ReadShape } from './plain-shapes.js';

/** Reads `svg: {file, id, layer, scale}`, or null after its faults. */
export function readSvgShape(node: SourceNode, context: Context): ReadShape | null {
  const keys = readDrawingKeys(node, 'id', '{file: bib.svg, id: bib}', context);
  if (keys === null) return null;
  const { name, text, file, which: id, layer, scale } = keys;
  const drawing = readSvgFile(text, scale);
  if ('problem' in drawing) {
    const what = `${name}:${drawing.line}:${drawing.column}: ${drawing.problem}`;
    return context.fault('drawing-broken', file.value.place, what, 'save it anew as plain SVG');
  }
  const found = chooseOutline(drawing.outlines, id, layer);
  if (typeof found === 'string') {
    const passed = drawing.passedOver.filter((each) => id === null || each.id === id);
    const why = passed.slice(0, 3).map((each) => `${each.id ?? `line ${each.line}`}: ${each.why}`);
    const what = [`${name}: ${found}`, ...why].join('; ');
    const ids = drawing.outlines.flatMap((outline) => outline.id ?? []);
    const fix = nameFixFor(ids, id, 'give the outline an id in the drawing, and name it');
    return context.fault('drawing-outline', node.place, what, fix);
  }
  tellSize(name, found, drawing, node, context);
  const { place } = node;
  const edges = found.edges.map((edge) => ({ ...edge, place }));
  const corners = letteredCorners(edges, place);
  return { corners, edges, grain: null, yUp: 1, hole: null, parts: null, fromDrawing: null };
}

/** The outline meant, or what is wrong. */
export function chooseOutline(
  outlines: readonly SvgOutline[],
  id: string | null,
  layer: string | null,
): SvgOutline | string {
  const inLayer = outlines.filter(({ groups }) => layer === null || groups.includes(layer));
  const where = layer === null ? '' : ` in "${layer}"`;
  const named = id === null ? inLayer : inLayer.filter((outline) => outline.id === id || outline.groups.at(-1) === id);
  if (named.length === 1) return named[0]!;
  const numbered = named.length === 0 ? byNumber(inLayer, id) : undefined;
  if (numbered !== undefined) return numbered;
  const which = id === null ? 'closed outlines' : `closed outlines with id "${id}"`;
  return named.length === 0 ? `it has no ${which}${where}` : `it has ${named.length} ${which}${where}`;
}

/** How large it came out: a drawing that names no size is as wrong as its guess. */
function tellSize(
  name: string,
  { edges }: SvgOutline,
  { pageMm, sizeIsGiven }: SvgDrawing,
  { place }: SourceNode,
  context: Context,
): void {
  const size = sizeWords(edges, context);
  if (sizeIsGiven) {
    const page = pageMm.map((mm) => formatLength(Math.round(mm * 1000), context.units)).join(' x ');
    const what = `from ${name} (page ${page}): the outline is ${size}`;
    context.fault('drawing-size', place, what, 'measure the paper; scale: sets it right', 'notice');
    return;
  }
  const what = `${name} does not say its size, so a unit is taken as 1/96 inch: the outline is ${size}`;
  context.fault('drawing-size-assumed', place, what, 'measure the paper, and set it right with scale', 'warning');
}
