/** The shape of a piece from a DXF file, and what the drawing says of it: fold, grain, notches, awl points, cut, size. */

import type { Place } from '../diagnostics/types.js';
import { type DxfDrawing, type DxfPiece, readDxfFile } from '../drawings/dxf-file.js';
import { distance, foldTolerance, lengthOf, strayFromLine } from '../pieces/grain-frame.js';
import type { Corner, DeclaredEdge, EdgeRun, MaterialCut } from '../pieces/types.js';
import type { SourceNode } from '../source/types.js';
import type { Point, Um } from '../units/types.js';
import type { Context } from './context.js';
import { parseWording } from './cut-wording.js';
import { byNumber, letteredCorners, nameFixFor, readDrawingKeys, sizeWords } from './drawing-file.js';
import type { Drawings } from './drawings.js';
import { isName } from './fields.js';
import { limits } from './limits.js';
import type { FromDrawing, ReadShape } from './plain-shapes.js';

/** A notch drawn so far off the outline still belongs to it. Common practice, no source. */
const notchReach: Um = 5_000;

export function readDxfShape(node: SourceNode, context: Context): ReadShape | null {
  const keys = readDrawingKeys(node, 'piece', '{file: bib.dxf, piece: Bib}', context);
  if (keys === null) return null;
  const { name, text, file, which, layer, scale } = keys;
  const drawing = readOnce(text, layer, scale, context.drawings);
  if ('problem' in drawing) {
    const what = `${name}:${drawing.line}: ${drawing.problem}`;
    return context.fault('drawing-broken', file.value.place, what, 'save it anew as DXF text');
  }
  const found = choose(drawing.pieces, which);
  if (typeof found === 'string') {
    const what = [`${name}: ${found}`, ...drawing.doubts.slice(0, 3)].join('; ');
    const names = drawing.pieces.map((piece) => piece.name);
    const otherwise = 'draw its outline as one closed line, and name its layer';
    return context.fault('drawing-outline', node.place, what, nameFixFor(names, which, otherwise));
  }
  if (found.edges.length > limits.corners) {
    const what = `${name}: its outline has ${found.edges.length} corners, at most ${limits.corners} are read`;
    return context.fault('too-many', node.place, what, 'draw its curves with fewer points');
  }
  const { place } = node;
  const edges = found.edges.map((edge) => ({ ...edge, place }));
  const corners = letteredCorners(edges, place);
  tellReading(name, drawing, found, node, context);
  const grain = found.grain === null ? null : { foot: found.grain[0], head: found.grain[1], cross: false };
  const fromDrawing = fromPiece(name, found, corners, edges, node, context);
  return { corners, edges, grain, yUp: 1, hole: null, parts: null, fromDrawing };
}

/** Several pieces of one file: it is read once. */
const readings = new WeakMap<Drawings, Map<string, ReturnType<typeof readDxfFile>>>();

function readOnce(text: string, layer: string | null, scale: number, drawings: Drawings) {
  const known = readings.get(drawings) ?? new Map<string, ReturnType<typeof readDxfFile>>();
  readings.set(drawings, known);
  const key = JSON.stringify([layer, scale, text]);
  const reading = known.get(key) ?? readDxfFile(text, layer, scale);
  known.set(key, reading);
  return reading;
}

/** The piece meant, or what is wrong. */
function choose(pieces: readonly DxfPiece[], which: string | null): DxfPiece | string {
  if (which === null) {
    if (pieces.length === 1) return pieces[0]!;
    return pieces.length === 0 ? 'it has no closed outline' : `it has ${pieces.length} pieces`;
  }
  const exact = pieces.find(({ name }) => name === which);
  if (exact !== undefined) return exact;
  const called = pieces.filter(({ alsoCalled }) => alsoCalled.includes(which));
  if (called.length === 1) return called[0]!;
  return byNumber(pieces, which) ?? `it has no piece "${which}"`;
}

/** What was taken for what, how large it came out, and what may be wrong. */
function tellReading(
  name: string,
  drawing: DxfDrawing,
  piece: DxfPiece,
  { place }: SourceNode,
  context: Context,
): void {
  const { unitsFrom, mmPerUnit } = drawing;
  const size = `the outline is ${sizeWords(piece.edges, context)}`;
  const taken = piece.taken.join(', ');
  if (unitsFrom === null) {
    const what = `${name} does not say its units, so one is taken as ${mmPerUnit} mm: ${size}; ${taken}`;
    context.fault('drawing-size-assumed', place, what, 'measure the paper, and set it right with scale', 'warning');
  } else {
    const by = unitsFrom === 'text' ? 'its units line' : 'its header';
    const what = `from ${name} (a unit is ${mmPerUnit} mm by ${by}): ${size}; ${taken}`;
    context.fault('drawing-size', place, what, 'measure the paper; any key here takes the place of it', 'notice');
  }
  for (const doubt of [...piece.doubts, ...drawing.doubts]) {
    context.fault('drawing-doubt', place, `${name}: ${doubt}`, 'look at the piece with draw', 'notice');
  }
}

function fromPiece(
  name: string,
  piece: DxfPiece,
  corners: readonly Corner[],
  edges: readonly DeclaredEdge[],
  { place }: SourceNode,
  context: Context,
): FromDrawing {
  const { fold, cut } = saidBy(piece, corners, edges, place);
  if (piece.mirrorLine !== null && fold === null) {
    const what = `${name}: its mirror line is no edge of the outline, so the piece is read as drawn, without a fold`;
    context.fault('drawing-doubt', place, what, 'name the edge on the fold with fold:', 'notice');
  }
  const notches = piece.notches.flatMap((at) => onOutline(at, corners, edges) ?? []);
  const lost = piece.notches.length - notches.length;
  if (lost > 0) {
    const what = `${name}: ${lost} notches lie off the outline and were left out`;
    context.fault('drawing-doubt', place, what, 'give the notches here: they take the place of all of them', 'warning');
  }
  return {
    fold,
    notches: notches.slice(0, limits.marks),
    awl: piece.awl.slice(0, limits.marks),
    inner: piece.inner,
    cut,
    size: piece.said.size,
  };
}

/** Which edge of a piece lies on the fold, and what is to be cut, as far as its drawing says so. */
export function saidBy(
  piece: DxfPiece,
  corners: readonly Corner[],
  edges: readonly Pick<DeclaredEdge, 'points'>[],
  place: Place,
): Pick<FromDrawing, 'fold' | 'cut'> {
  const fold = piece.mirrorLine === null ? null : runAlong(piece.mirrorLine, corners, edges);
  return { fold, cut: cutSaid(piece, fold !== null, place) };
}

/** The edge, or the straight run of edges, that a mirror line lies on. */
function runAlong(
  [from, to]: readonly [Point, Point],
  corners: readonly Corner[],
  edges: readonly Pick<DeclaredEdge, 'points'>[],
): EdgeRun | null {
  const at = (point: Point): number => corners.findIndex((corner) => distance(corner.at, point) <= foldTolerance);
  const [first, last] = [at(from), at(to)];
  if (first === -1 || last === -1 || first === last) return null;
  for (const [a, b] of [
    [first, last],
    [last, first],
  ] as const) {
    const run: number[] = [];
    for (let edge = a; edge !== b; edge = (edge + 1) % corners.length) run.push(edge);
    const points = run.flatMap((edge) => edges[edge]!.points);
    if (strayFromLine(points) > foldTolerance) continue;
    return { name: `${corners[a]!.label}-${corners[b]!.label}`, edges: run, reversed: false };
  }
  return null;
}

/** The edge nearest to a notch, and how far along it that is; null when none is near. */
function onOutline(at: Point, corners: readonly Corner[], edges: readonly DeclaredEdge[]) {
  let best: { readonly run: EdgeRun; readonly alongUm: Um } | null = null;
  let nearest: number = notchReach;
  edges.forEach(({ points }, edge) => {
    for (let i = 1; i < points.length; i++) {
      const [from, to] = [points[i - 1]!, points[i]!];
      const length = distance(from, to);
      const along = ((at[0] - from[0]) * (to[0] - from[0]) + (at[1] - from[1]) * (to[1] - from[1])) / length;
      const part = Math.max(0, Math.min(length, along));
      const foot: Point = [
        from[0] + ((to[0] - from[0]) * part) / length,
        from[1] + ((to[1] - from[1]) * part) / length,
      ];
      const off = distance(at, foot);
      if (off >= nearest) continue;
      nearest = off;
      const name = `${corners[edge]!.label}-${corners[(edge + 1) % corners.length]!.label}`;
      const alongUm = Math.round(lengthOf(points.slice(0, i)) + part);
      best = { run: { name, edges: [edge], reversed: false }, alongUm };
    }
  });
  return best as { readonly run: EdgeRun; readonly alongUm: Um } | null;
}

/** The wording that the texts of a drawing give, when they name a material. */
function cutSaid({ said }: DxfPiece, isOnFold: boolean, place: Place): MaterialCut[] {
  const { material, annotation, quantity } = said;
  if (material === null || !isName(material)) return [];
  const worded = annotation === null ? null : annotation.replace(/^cut\s+/i, '');
  const counted = quantity !== null && /^\d+$/.test(quantity) ? `${quantity}${isOnFold ? ' on fold' : ''}` : null;
  for (const text of [worded, counted]) {
    const read = text === null ? { problem: '' } : parseWording(text);
    if ('terms' in read) return [{ material, terms: read.terms, text: text!, place }];
  }
  return [];
}
