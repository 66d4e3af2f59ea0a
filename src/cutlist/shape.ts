/** The shape of a piece: outline with curves, SVG path or a plain shape -> lettered corners and flattened edges. */
import type { Fault, Place } from '../diagnostics/types.js';
import { readPathData } from '../drawings/svg-path.js';
import { flattenArc, flattenCubic, flattenThrough } from '../geometry/curves.js';
import { boundsOf } from '../geometry/outline.js';
import type { Corner, DeclaredEdge } from '../pieces/types.js';
import type { MapEntry, MapNode, SourceNode } from '../source/types.js';
import { formatDecimal, formatLength, umPerUnit } from '../units/length.js';
import type { Point, Um } from '../units/types.js';
import { Context } from './context.js';
import { readDxfShape } from './dxf-shape.js';
import type { Borrow } from './edge-names.js';
import { asMap, readKeys, readPoint, readPoints, readText, refuse, shorten, tellMany } from './fields.js';
import { coordinateMax, limits, pieceSizeMin } from './limits.js';
import { letterOf, plainShapeKeys, type ReadShape, readPlainShape } from './plain-shapes.js';
import { type Lettered, parseRun } from './runs.js';
import { readSvgShape } from './svg-shape.js';

export type { ReadShape } from './plain-shapes.js';

export const shapeKeys = ['outline', 'path', 'svg', 'dxf', ...plainShapeKeys] as const;
type ShapeKey = (typeof shapeKeys)[number];
/** Keys that another shape replaces whole, when a piece is like another. */
export const shapeParts: readonly string[] = [...shapeKeys, 'curves'];

/** Shapes that bring nothing with them: no grain line, no fold edge, nothing to cut. */
export const bareShapes: readonly ShapeKey[] = ['outline', 'path', 'svg'];

/** One, in a piece without a fault. */
export function shapesGiven(keys: ReadonlyMap<string, MapEntry>): ShapeKey[] {
  return shapeKeys.filter((key) => keys.has(key));
}

/** Reads the one shape that a piece must have, or null after its faults. */
export function readShape(
  keys: ReadonlyMap<string, MapEntry>,
  place: Place,
  borrow: Borrow,
  context: Context,
): ReadShape | null {
  const given = shapesGiven(keys);
  if (given.length === 0) {
    return context.fault(
      'shape-missing',
      place,
      'it has no shape',
      `give one of ${shapeKeys.join(', ')}, or like: another piece`,
    );
  }
  if (given.length > 1) {
    const second = keys.get(given[1]!)!.keyPlace;
    return context.fault('shape-twice', second, `it has two shapes, ${given.join(' and ')}`, 'keep one of them');
  }
  const { value } = keys.get(given[0]!)!;
  const curves = keys.get('curves');
  if (given[0] !== 'outline' && curves !== undefined) {
    return context.fault(
      'curves-misplaced',
      curves.keyPlace,
      'curves go with an outline only',
      'delete them, or draw an outline',
    );
  }
  const shape = readGiven(given[0]!, value, curves?.value ?? null, borrow, context);
  return shape === null ? null : withinLimits(shape, value.place, context);
}

/** The shape, unless it has too many corners or points, or is too small to be meant. */
function withinLimits(shape: ReadShape, place: Place, context: Context): ReadShape | null {
  const many = (found: number, most: number, what: string, fix: string): null =>
    tellMany(place, { found, most, what }, fix, context);
  const corners = shape.corners.length;
  if (corners > limits.corners) return many(corners, limits.corners, 'corners', cornersFix);
  const points = flatPointsOf(shape.edges);
  if (points > limits.flatPoints)
    return many(points, limits.flatPoints, 'points on its curves', 'draw fewer or smaller curves');
  const { minX, minY, maxX, maxY } = boundsOf(shape.edges.flatMap((edge) => edge.points));
  const [wide, high] = [maxX - minX, maxY - minY];
  const least = Math.min(wide, high);
  // What has no height at all is told as what it is: its edges meet.
  if (least >= pieceSizeMin || least === 0) return shape;
  const inMm = (um: Um) => `${formatDecimal(um, umPerUnit.mm, 3)} mm`;
  const what = `it is ${inMm(wide)} wide and ${inMm(high)} high, expected ${formatLength(pieceSizeMin, 'mm')} at least`;
  return context.fault('length-out-of-range', place, what, 'check its numbers and their unit');
}

const cornersFix = 'draw what is curved as curves, with fewer corners';

function readGiven(
  key: ShapeKey,
  value: SourceNode,
  curves: SourceNode | null,
  borrow: Borrow,
  context: Context,
): ReadShape | null {
  if (key === 'path') return readPath(value, context);
  if (key === 'svg') return readSvgShape(value, context);
  if (key === 'dxf') return readDxfShape(value, context);
  return key === 'outline' ? readOutline(value, curves, borrow, context) : readPlainShape(key, value, context);
}

/** Points of the ring that the edges make. */
export function flatPointsOf(edges: readonly DeclaredEdge[]): number {
  return edges.reduce((sum, { points }) => sum + points.length - 1, 0);
}

const labelPattern = /^\p{L}[^\s-]*$/u;
const isLabel = (key: string): boolean => labelPattern.test(key) && key.length <= limits.nameLength;

/** The letters of an outline, for what names them, where the rest of the shape could not be read. */
export function lettersOf(keys: ReadonlyMap<string, MapEntry>): Lettered {
  const outline = keys.get('outline')?.value;
  if (outline?.kind !== 'map' || shapesGiven(keys).length !== 1) return null;
  const { entries } = outline;
  if (entries.length < 3 || entries.length > limits.corners || !entries.every(({ key }) => isLabel(key))) return null;
  return entries.map(({ key }) => ({ label: key }));
}

function readOutline(node: SourceNode, curves: SourceNode | null, borrow: Borrow, context: Context): ReadShape | null {
  const map = asMap(node, 'lettered corners {A: [x, y], B: [x, y], ...}', context);
  if (map === null) return null;
  if (map.entries.length < 3) return refuse(node, 'at least three corners', context, 'outline-too-short');
  const found = map.entries.length;
  if (found > limits.corners) {
    const counted = { found, most: limits.corners, what: 'corners' };
    return tellMany(map.entries[limits.corners]!.keyPlace, counted, cornersFix, context);
  }
  const corners: Corner[] = [];
  for (const { key, keyPlace, value } of map.entries) {
    if (!isLabel(key)) {
      context.fault(
        'bad-label',
        keyPlace,
        `"${shorten(key)}" cannot be a corner's letter`,
        `begin with a letter; no hyphen and no space, ${limits.nameLength} characters at most`,
      );
      continue;
    }
    const at = readPoint(value, context);
    if (at !== null) corners.push({ label: key, at: at.value, place: value.place });
  }
  if (corners.length < map.entries.length) {
    if (curves !== null && map.entries.every(({ key }) => isLabel(key))) checkCurves(curves, map, borrow, context);
    return null;
  }
  const drawn = curves === null ? new Map<number, DeclaredEdge>() : readCurves(curves, corners, borrow, context);
  if (drawn === null) return null;
  const edges = corners.map((corner, i): DeclaredEdge => {
    const next = corners[(i + 1) % corners.length]!;
    return drawn.get(i) ?? { points: [corner.at, next.at], curved: false, place: corner.place };
  });
  if (!allDistinct(corners, edges, context)) return null;
  return { corners, edges, grain: null, yUp: 1, hole: null, parts: null, fromDrawing: null };
}

/** A straight edge between two corners on the same spot has no direction. */
function allDistinct(corners: readonly Corner[], edges: readonly DeclaredEdge[], context: Context): boolean {
  const before = context.errorCount;
  edges.forEach(({ points, curved }, i) => {
    const [from, to] = [points[0]!, points.at(-1)!];
    if (curved || from[0] !== to[0] || from[1] !== to[1]) return;
    const [a, b] = [corners[i]!, corners[(i + 1) % corners.length]!];
    context.fault(
      'corners-alike',
      b.place,
      `corners ${a.label} and ${b.label} lie on the same spot`,
      'delete one of them',
    );
  });
  return context.errorCount === before;
}

/** Faults of curves that do not lie in where the corners are, which could not be read. */
function checkCurves(node: SourceNode, outline: MapNode, borrow: Borrow, context: Context): void {
  const faults: Fault[] = [];
  const somewhere = outline.entries.map(
    ({ key, keyPlace }, i): Corner => ({ label: key, at: [100_003 * i, 100_019 * (i % 2)], place: keyPlace }),
  );
  readCurves(node, somewhere, borrow, new Context(context.units, context.subject, faults, context.drawings));
  const measured = ['arc-straight', 'curve-points-alike', 'same-as-ends'];
  context.faults.push(...faults.filter(({ code }) => !measured.includes(code)));
}

const curveTable = { known: ['through', 'arc', 'bezier', 'same as'] };
/** Ends of a borrowed curve may lie so much nearer or farther apart than here. Common practice, no source. */
const chordTolerance: Um = 3_000;

function readCurves(
  node: SourceNode,
  corners: readonly Corner[],
  borrow: Borrow,
  context: Context,
): Map<number, DeclaredEdge> | null {
  const map = asMap(node, 'curves by edge, {C-D: {through: [[x, y], ...]}}', context);
  if (map === null) return null;
  const before = context.errorCount;
  const drawn = new Map<number, DeclaredEdge>();
  for (const { key, keyPlace, value } of map.entries) {
    const run = parseRun(key, keyPlace, corners, context);
    if (run === null) continue;
    const edge = run.edges[0]!;
    if (run.edges.length !== 1) {
      context.fault('curve-not-an-edge', keyPlace, `${key} is a run over corners`, 'give a curve for each single edge');
    } else if (drawn.has(edge)) {
      context.fault('curve-twice', keyPlace, `edge ${key} has a curve already`, 'keep one of them');
    } else {
      const [from, to] = [corners[edge]!.at, corners[(edge + 1) % corners.length]!.at];
      const points = readCurve(value, run.reversed ? to : from, run.reversed ? from : to, borrow, context);
      if (points !== null) {
        drawn.set(edge, { points: run.reversed ? points.reverse() : points, curved: true, place: keyPlace });
      }
    }
  }
  return context.errorCount === before ? drawn : null;
}

function readCurve(node: SourceNode, from: Point, to: Point, borrow: Borrow, context: Context): Point[] | null {
  const expected =
    'a curve {through: [[x, y], ...]}, {arc: [x, y]}, {bezier: [[x, y], [x, y]]} or {same as: Front G-H}';
  const map = asMap(node, expected, context);
  if (map === null) return null;
  const before = context.errorCount;
  const keys = readKeys(map, curveTable, context);
  if (context.errorCount > before) return null;
  const [entry, second] = [...keys.values()];
  if (entry === undefined || second !== undefined) return refuse(node, expected, context);
  if (entry.key === 'arc') return readArc(entry.value, from, to, context);
  if (entry.key === 'same as') return readSameAs(entry.value, from, to, borrow, context);
  if (isOnePoint(entry.value)) return tellOnePoint(entry, context);
  if (entry.key === 'bezier') {
    const controls = readPoints(entry.value, 2, 2, context);
    return controls === null ? null : flattenCubic(from, controls[0]!.value, controls[1]!.value, to);
  }
  const through = readPoints(entry.value, 2, limits.curvePoints, context);
  if (through === null) return null;
  const points = [from, ...through.map(({ value }) => value), to];
  const alike = points.findIndex(([x, y], i) => i > 0 && x === points[i - 1]![0] && y === points[i - 1]![1]);
  if (alike === -1) return flattenThrough(points);
  const place = through[Math.min(alike, through.length) - 1]!.place;
  return context.fault(
    'curve-points-alike',
    place,
    'two points of the curve lie on the same spot',
    'delete one of them',
  );
}

/** `[[x, y]]`, or `[x, y]` as an arc has it. */
function isOnePoint(node: SourceNode): boolean {
  if (node.kind !== 'list') return false;
  if (node.items.length === 1) return node.items[0]!.kind === 'list';
  return node.items.length === 2 && node.items.every(({ kind }) => kind === 'scalar');
}

/** A curve over one point has a name of its own. */
function tellOnePoint({ key, value }: MapEntry, context: Context): null {
  const [many, fix] =
    key === 'bezier'
      ? ['two', 'give a control point for each end; for one point that the edge passes over use arc: [x, y]']
      : ['at least two', 'for one point use arc: [x, y], or measure a second one'];
  return context.fault('bad-point', value.place, `found one point, expected ${many}: [[x, y], [x, y]]`, fix);
}

/** An edge of another piece, moved and turned, never mirrored, so that its ends lie on the corners here. */
function readSameAs(node: SourceNode, from: Point, to: Point, borrow: Borrow, context: Context): Point[] | null {
  const text = readText(node, 'an edge of another piece, such as Front G-H', context);
  const lent = text === null ? null : borrow(text, node.place, context);
  if (text === null || lent === null) return null;
  const [first, last] = [lent[0]!, lent.at(-1)!];
  const [lentX, lentY] = [last[0] - first[0], last[1] - first[1]];
  const [hereX, hereY] = [to[0] - from[0], to[1] - from[1]];
  const lentLong = Math.sqrt(lentX * lentX + lentY * lentY);
  const hereLong = Math.sqrt(hereX * hereX + hereY * hereY);
  if (lentLong === 0 || Math.abs(lentLong - hereLong) > chordTolerance) {
    const [there, here] = [lentLong, hereLong].map((long) => formatLength(Math.round(long), context.units));
    const what = `the ends of ${text} lie ${there} apart, the corners here ${here}`;
    return context.fault('same-as-ends', node.place, what, 'move a corner, or draw the curve');
  }
  // Turned by the angle between the two chords: one complex number, here / lent.
  const square = lentLong * lentLong;
  const re = (hereX * lentX + hereY * lentY) / square;
  const im = (hereY * lentX - hereX * lentY) / square;
  const middle = lent.slice(1, -1).map(([x, y]): Point => {
    const [dx, dy] = [x - first[0], y - first[1]];
    return [Math.round(from[0] + dx * re - dy * im), Math.round(from[1] + dx * im + dy * re)];
  });
  return [from, ...middle, to];
}

function readArc(node: SourceNode, from: Point, to: Point, context: Context): Point[] | null {
  const over = readPoint(node, context);
  if (over === null) return null;
  const points = flattenArc(from, over.value, to);
  if (points?.every(([x, y]) => Math.max(Math.abs(x), Math.abs(y)) <= 2 * coordinateMax)) return points;
  return context.fault(
    'arc-straight',
    over.place,
    'the point of the arc lies in line with its ends',
    'move it, or leave the edge straight',
  );
}

function readPath(node: SourceNode, context: Context): ReadShape | null {
  const text = node.kind === 'scalar' ? node.text : readText(node, 'SVG path data, such as "M0 0 H18 V16 Z"', context);
  if (text === null) return null;
  const read = readPathData(text, umPerUnit[context.units]);
  if ('problem' in read) {
    return context.fault(
      'bad-path',
      node.place,
      `path: ${read.problem}`,
      'write one closed outline: M x y, then L H V C S Q T A, and Z',
    );
  }
  const corners = read.edges.map(({ points }, i) => ({ label: letterOf(i), at: points[0]!, place: node.place }));
  const edges = read.edges.map((edge) => ({ ...edge, place: node.place }));
  return { corners, edges, grain: null, yUp: -1, hole: null, parts: null, fromDrawing: null };
}
