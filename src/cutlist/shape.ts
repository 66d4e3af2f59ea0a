/** The shape of a piece: outline with curves, SVG path or rectangle -> lettered corners and flattened edges. */
import type { Place } from '../diagnostics/types.js';
import { readPathData } from '../drawings/svg-path.js';
import { flattenArc, flattenCubic, flattenThrough } from '../geometry/curves.js';
import type { Corner, DeclaredEdge, DeclaredGrain } from '../pieces/types.js';
import type { MapEntry, SourceNode } from '../source/types.js';
import { umPerUnit } from '../units/length.js';
import type { Point } from '../units/types.js';
import type { Context } from './context.js';
import { asList, asMap, readKeys, readLength, readPoint, readPoints, readText, refuse } from './fields.js';
import { coordinateMax, limits } from './limits.js';
import { parseRun } from './runs.js';

export interface ReadShape {
  readonly corners: readonly Corner[];
  readonly edges: readonly DeclaredEdge[];
  /** The grain line that lies in the nature of the shape, or null. */
  readonly grain: DeclaredGrain | null;
  /** +1: points of the piece are given with y up; -1: y down, as in path data. */
  readonly yUp: 1 | -1;
}

export const shapeKeys = ['outline', 'path', 'rectangle'] as const;
export const shapesLater = ['trapezoid', 'sector', 'circle-skirt', 'bias-strip', 'svg', 'dxf'] as const;
/** Keys that another shape replaces whole, when a piece is like another. */
export const shapeParts: readonly string[] = [...shapeKeys, 'curves'];

export function readShape(keys: ReadonlyMap<string, MapEntry>, place: Place, context: Context): ReadShape | null {
  const given = shapeKeys.filter((key) => keys.has(key));
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
  const shape = readGiven(given[0]!, value, curves?.value ?? null, context);
  const points = shape === null ? 0 : flatPointsOf(shape.edges);
  if (points <= limits.flatPoints) return shape;
  const what = `its curves make ${points} points, at most ${limits.flatPoints} are read`;
  return context.fault('too-many', value.place, what, 'draw fewer or smaller curves');
}

function readGiven(
  key: (typeof shapeKeys)[number],
  value: SourceNode,
  curves: SourceNode | null,
  context: Context,
): ReadShape | null {
  if (key === 'path') return readPath(value, context);
  if (key === 'rectangle') return readRectangle(value, context);
  return readOutline(value, curves, context);
}

/** Points of the ring that the edges make. */
export function flatPointsOf(edges: readonly DeclaredEdge[]): number {
  return edges.reduce((sum, { points }) => sum + points.length - 1, 0);
}

const labelPattern = /^\p{L}[^\s-]*$/u;

function readOutline(node: SourceNode, curves: SourceNode | null, context: Context): ReadShape | null {
  const map = asMap(node, 'lettered corners {A: [x, y], B: [x, y], ...}', context);
  if (map === null) return null;
  if (map.entries.length < 3) return refuse(node, 'at least three corners', context, 'outline-too-short');
  if (map.entries.length > limits.corners)
    return refuse(node, `at most ${limits.corners} corners`, context, 'too-many');
  const corners: Corner[] = [];
  for (const { key, keyPlace, value } of map.entries) {
    if (!labelPattern.test(key) || key.length > limits.nameLength) {
      context.fault(
        'bad-label',
        keyPlace,
        `"${key}" cannot be a corner's letter`,
        'begin with a letter; no hyphen and no space',
      );
      continue;
    }
    const at = readPoint(value, context);
    if (at !== null) corners.push({ label: key, at: at.value, place: value.place });
  }
  if (corners.length < map.entries.length) return null;
  const drawn = curves === null ? new Map<number, DeclaredEdge>() : readCurves(curves, corners, context);
  if (drawn === null) return null;
  const edges = corners.map((corner, i): DeclaredEdge => {
    const next = corners[(i + 1) % corners.length]!;
    return drawn.get(i) ?? { points: [corner.at, next.at], curved: false, place: corner.place };
  });
  if (!allDistinct(corners, edges, context)) return null;
  return { corners, edges, grain: null, yUp: 1 };
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

const curveTable = { known: ['through', 'arc', 'bezier'], later: ['same as'] };

function readCurves(node: SourceNode, corners: readonly Corner[], context: Context): Map<number, DeclaredEdge> | null {
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
      const points = readCurve(value, run.reversed ? to : from, run.reversed ? from : to, context);
      if (points !== null) {
        drawn.set(edge, { points: run.reversed ? points.reverse() : points, curved: true, place: keyPlace });
      }
    }
  }
  return context.errorCount === before ? drawn : null;
}

function readCurve(node: SourceNode, from: Point, to: Point, context: Context): Point[] | null {
  const expected = 'a curve {through: [[x, y], ...]}, {arc: [x, y]} or {bezier: [[x, y], [x, y]]}';
  const map = asMap(node, expected, context);
  if (map === null) return null;
  const before = context.errorCount;
  const keys = readKeys(map, curveTable, context);
  if (context.errorCount > before) return null;
  const [entry, second] = [...keys.values()];
  if (entry === undefined || second !== undefined) return refuse(node, expected, context);
  if (entry.key === 'arc') return readArc(entry.value, from, to, context);
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
  if (read.edges.length > limits.corners) return refuse(node, `at most ${limits.corners} corners`, context, 'too-many');
  const corners = read.edges.map(({ points }, i) => ({ label: letterOf(i), at: points[0]!, place: node.place }));
  return { corners, edges: read.edges.map((edge) => ({ ...edge, place: node.place })), grain: null, yUp: -1 };
}

/** A, B, ... Z, AA, AB ... */
export function letterOf(index: number): string {
  const rest = Math.floor(index / 26);
  return (rest > 0 ? letterOf(rest - 1) : '') + String.fromCharCode(65 + (index % 26));
}

/** [along the grain, across]: A foot left, B foot right, C head right, D head left. */
function readRectangle(node: SourceNode, context: Context): ReadShape | null {
  const list = asList(node, '[along the grain, across]', context);
  if (list === null) return null;
  if (list.items.length !== 2) return refuse(node, '[along the grain, across]', context);
  const range = { least: 1_000, most: coordinateMax, expected: 'a length' };
  const along = readLength(list.items[0]!, range, context);
  const across = readLength(list.items[1]!, range, context);
  if (along === null || across === null) return null;
  const points: Point[] = [
    [0, 0],
    [across, 0],
    [across, along],
    [0, along],
  ];
  const corners = points.map((at, i) => ({ label: letterOf(i), at, place: node.place }));
  const edges = points.map((at, i) => ({ points: [at, points[(i + 1) % 4]!], curved: false, place: node.place }));
  const middle = Math.round(across / 2);
  return { corners, edges, grain: { foot: [middle, 0], head: [middle, along], cross: false }, yUp: 1 };
}
