/** The shape of a piece from a DXF file, and what the drawing says of it: fold, grain, notches, awl points, cut, size. */

import type { Place } from '../diagnostics/types.js';
import { type DxfDrawing, type DxfPiece, readDxfFile } from '../drawings/dxf-file.js';
import { edgeName } from '../pieces/edge-name.js';
import { distance, foldTolerance, strayFromLine } from '../pieces/grain-frame.js';
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

/** Reads `dxf: {file, piece, layer, scale}`, or null after its faults. */
export function readDxfShape(node: SourceNode, context: Context): ReadShape | null {
  const keys = readDrawingKeys(node, 'piece', '{file: bib.dxf, piece: Bib}', context);
  if (keys === null) return null;
  const { name, text, file, which, layer, scale } = keys;
  const drawing = readOnce(text, layer, scale, context.drawings);
  if ('problem' in drawing) {
    const what = `${name}:${drawing.line}: ${drawing.problem}`;
    return context.fault('drawing-broken', file.value.place, what, 'save it anew as DXF text');
  }
  const found = choosePiece(drawing.pieces, which);
  if (typeof found === 'string') {
    const what = [`${name}: ${found}`, ...drawing.doubts.slice(0, 3)].join('; ');
    const names = drawing.pieces.map((piece) => piece.name);
    const otherwise = 'draw its outline as one closed line, and name its layer';
    return context.fault('drawing-outline', node.place, what, nameFixFor(names, which, otherwise));
  }
  const { place } = node;
  const edges = found.edges.map((edge) => ({ ...edge, place }));
  const corners = letteredCorners(edges, place);
  tellReading(name, drawing, found, node, context);
  const grain = found.grain === null ? null : { foot: found.grain[0], head: found.grain[1], cross: false };
  const fromDrawing = fromPiece(name, found, corners, edges, node, context);
  return { corners, edges, grain, yUp: 1, hole: null, parts: null, fromDrawing };
}

type Reading = ReturnType<typeof readDxfFile>;

/** Several pieces of one file: it is read once. Kept as long as the drawings of the cut list are. */
const readings = new WeakMap<Drawings, Map<string, Map<string, Reading>>>();

function readOnce(text: string, layer: string | null, scale: number, drawings: Drawings): Reading {
  const byText = readings.get(drawings) ?? new Map<string, Map<string, Reading>>();
  const known = byText.get(text) ?? new Map<string, Reading>();
  readings.set(drawings, byText.set(text, known));
  const key = JSON.stringify([layer, scale]);
  const reading = known.get(key) ?? readDxfFile(text, layer, scale);
  known.set(key, reading);
  return reading;
}

/** The piece meant, or what is wrong. */
export function choosePiece(pieces: readonly DxfPiece[], which: string | null): DxfPiece | string {
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
  for (const doubt of piece.doubts) {
    context.fault('drawing-doubt', place, `${name}: ${doubt}`, 'look at the piece with draw', 'notice');
  }
  // What concerns the file as a whole is told with its first piece.
  for (const doubt of drawing.doubts) {
    const what = `${name}: ${doubt}`;
    if (context.faults.some((fault) => fault.what === what)) continue;
    context.fault('drawing-doubt', place, what, 'look at the pieces with draw', 'notice');
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
    const fix = 'name the edge on the fold, "fold: A-B", or say "fold: none"';
    context.fault('drawing-doubt', place, what, fix, 'warning');
  }
  const drawnNotches = piece.notches.slice(0, limits.marks);
  const notches = drawnNotches.flatMap((ends) => nearestOnOutline(ends, corners, edges) ?? []);
  const lost = piece.notches.length - notches.length;
  const innerPoints = piece.inner.reduce((sum, points) => sum + points.length, 0);
  if (innerPoints > limits.flatPoints) {
    const what = `${name}: its inner lines have ${innerPoints} points, so they were left out`;
    context.fault('drawing-doubt', place, what, 'draw them with fewer points', 'notice');
  }
  if (lost > 0) {
    const what = `${name}: ${lost} notches lie off the outline and were left out`;
    context.fault('drawing-doubt', place, what, 'give the notches here: they take the place of all of them', 'warning');
  }
  return {
    fold,
    notches,
    awl: piece.awl.slice(0, limits.marks),
    inner: innerPoints > limits.flatPoints ? [] : piece.inner,
    cut,
    size: piece.said.size,
    hasSeamLine: piece.hasSeamLine,
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

/** The edge, or the straight run of edges, that a mirror line lies on, from end to end or within it. */
function runAlong(
  mirror: readonly [Point, Point],
  corners: readonly Corner[],
  edges: readonly Pick<DeclaredEdge, 'points'>[],
): EdgeRun | null {
  const n = corners.length;
  const runOf = (from: number, count: number): EdgeRun => ({
    name: `${corners[from]!.label}-${corners[(from + count) % n]!.label}`,
    edges: Array.from({ length: count }, (_, i) => (from + i) % n),
    reversed: false,
  });
  const within = edges.findIndex(
    ({ points }) =>
      strayFromLine(points) <= foldTolerance &&
      mirror.every((end) => offSegment(end, points[0]!, points.at(-1)!) <= foldTolerance),
  );
  if (within !== -1) return runOf(within, 1);
  const [first, last] = mirror.map((end) => corners.findIndex(({ at }) => distance(at, end) <= foldTolerance));
  if (first === undefined || last === undefined || first === -1 || last === -1 || first === last) return null;
  for (const [from, to] of [
    [first, last],
    [last, first],
  ] as const) {
    const run = runOf(from, (to - from + n) % n);
    if (strayFromLine(run.edges.flatMap((edge) => edges[edge]!.points)) <= foldTolerance) return run;
  }
  return null;
}

/** Distance of a point from the nearest place of a straight segment. */
function offSegment(at: Point, from: Point, to: Point): number {
  return distance(at, footOn(at, from, to).foot);
}

function footOn(at: Point, from: Point, to: Point): { readonly foot: Point; readonly along: number } {
  const length = distance(from, to);
  if (length === 0) return { foot: from, along: 0 };
  const [ux, uy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const along = Math.max(0, Math.min(length, (at[0] - from[0]) * ux + (at[1] - from[1]) * uy));
  return { foot: [from[0] + ux * along, from[1] + uy * along], along };
}

interface OnOutline {
  readonly run: EdgeRun;
  readonly alongUm: Um;
  readonly off: number;
}

/** Of the ends of a notch the one nearer to the outline. */
function nearestOnOutline(
  ends: readonly Point[],
  corners: readonly Corner[],
  edges: readonly DeclaredEdge[],
): OnOutline | null {
  const found = ends.flatMap((end) => onOutline(end, corners, edges) ?? []);
  return found.sort((a, b) => a.off - b.off)[0] ?? null;
}

/** The edge nearest to a place, and how far along it that is; null when none is near. */
function onOutline(at: Point, corners: readonly Corner[], edges: readonly DeclaredEdge[]): OnOutline | null {
  let best: OnOutline | null = null;
  edges.forEach(({ points }, edge) => {
    let before = 0;
    for (let i = 1; i < points.length; i++) {
      const [from, to] = [points[i - 1]!, points[i]!];
      const { foot, along } = footOn(at, from, to);
      const off = distance(at, foot);
      if (off < (best?.off ?? notchReach)) {
        const name = edgeName({ corners }, edge);
        const alongUm = Math.round(before + along);
        best = { run: { name, edges: [edge], reversed: false }, alongUm, off };
      }
      before += distance(from, to);
    }
  });
  return best;
}

/** The wordings that the texts of a drawing give, when they name materials. A mirror line unread leaves it open. */
function cutSaid({ said, mirrorLine }: DxfPiece, isOnFold: boolean, place: Place): MaterialCut[] {
  if (mirrorLine !== null && !isOnFold) return [];
  const { material, annotations, quantity } = said;
  const make = (of: string | null, text: string | null): MaterialCut[] => {
    const read = text === null ? { problem: '' } : parseWording(text);
    return of !== null && isName(of) && 'terms' in read
      ? [{ material: of, terms: read.terms, text: text!, place }]
      : [];
  };
  // `cut 1 on fold from shell`, one for each material; or one wording for the one material named.
  const worded = annotations.map((annotation) => /^cut\s+(.+?)(?:\s+from\s+(.+))?$/i.exec(annotation));
  const each = worded.flatMap((match) => (match?.[2] === undefined ? [] : make(match[2], match[1]!)));
  if (each.length > 0) return new Set(each.map((cut) => cut.material)).size === each.length ? each : [];
  const counted = quantity !== null && /^\d+$/.test(quantity) ? `${quantity}${isOnFold ? ' on fold' : ''}` : null;
  const [first] = [...worded.flatMap((match) => make(material, match?.[1] ?? null)), ...make(material, counted)];
  return first === undefined ? [] : [first];
}
