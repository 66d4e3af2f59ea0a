/**
 * Shapes given by a few measures, each with lettered corners and a grain line of its own: rectangle, trapezoid, sector,
 * circle skirt, bias strip. Corners run counter-clockwise, y up; where the frame has its origin stands at each.
 */
import { directionOf, flattenArc } from '../geometry/curves.js';
import type { Corner, DeclaredEdge, DeclaredGrain, EdgeRun, MaterialCut } from '../pieces/types.js';
import type { MapEntry, SourceNode } from '../source/types.js';
import type { Point, Um } from '../units/types.js';
import type { Context } from './context.js';
import { asList, asMap, readChoice, readKeys, readLength, readNumber, refuse } from './fields.js';
import { coordinateMax, limits, pieceSizeMin } from './limits.js';

/** What a drawing says of a piece beside its shape; a key of the cut list takes the place of each. */
export interface FromDrawing {
  readonly fold: EdgeRun | null;
  /** `alongUm` along the run as drawn. */
  readonly notches: readonly { readonly run: EdgeRun; readonly alongUm: Um }[];
  readonly awl: readonly Point[];
  /** Lines that are drawn on the piece and not cut. */
  readonly inner: readonly (readonly Point[])[];
  readonly cut: readonly MaterialCut[];
  readonly size: string | null;
  /** A seam line lies within the outline. */
  readonly hasSeamLine: boolean;
}

export interface ReadShape {
  readonly corners: readonly Corner[];
  readonly edges: readonly DeclaredEdge[];
  /** The grain line that lies in the nature of the shape, or null. */
  readonly grain: DeclaredGrain | null;
  /** +1: points of the piece are given with y up; -1: y down, as in path data. */
  readonly yUp: 1 | -1;
  /** A closed seam line inside the outline, cut out within its allowance: the waist of a full circle skirt. */
  readonly hole: readonly Point[] | null;
  /** So many flat parts are cut and joined for each one asked for, all alike. */
  readonly parts: number | null;
  /** null where the shape is all there is. */
  readonly fromDrawing: FromDrawing | null;
}

export const plainShapeKeys = ['rectangle', 'trapezoid', 'sector', 'circle-skirt', 'bias-strip'] as const;

/** Reads the shape that `key` names, or null after its faults. */
export function readPlainShape(
  key: (typeof plainShapeKeys)[number],
  node: SourceNode,
  context: Context,
): ReadShape | null {
  switch (key) {
    case 'rectangle':
      return readRectangle(node, context);
    case 'trapezoid':
      return readTrapezoid(node, context);
    case 'sector':
      return readSector(node, context);
    case 'circle-skirt':
      return readCircleSkirt(node, context);
    case 'bias-strip':
      return readBiasStrip(node, context);
  }
}

/** Side lengths of a piece. */
const side = { least: pieceSizeMin, most: coordinateMax, expected: 'a length' };

/** [along the grain, across]: A (0, 0) foot left, B foot right, C head right, D head left. */
function readRectangle(node: SourceNode, context: Context): ReadShape | null {
  const list = asList(node, '[along the grain, across]', context);
  if (list === null) return null;
  if (list.items.length !== 2) return refuse(node, '[along the grain, across]', context);
  const along = readLength(list.items[0]!, side, context);
  const across = readLength(list.items[1]!, side, context);
  if (along === null || across === null) return null;
  return upright([0, 0], [across, 0], [across, along], [0, along], node);
}

const leanWords = ['both', 'A', 'B'] as const;

/** A (0, 0) and B at the foot; `lean` says which side slants: both alike, or only the one at A or at B. */
function readTrapezoid(node: SourceNode, context: Context): ReadShape | null {
  const keys = readMeasures(node, '{bottom: 60, top: 40, height: 70}', ['bottom', 'top', 'height'], ['lean'], context);
  if (keys === null) return null;
  const [bottom, top, height] = ['bottom', 'top', 'height'].map((key) =>
    readLength(keys.get(key)!.value, side, context),
  );
  const lean = keys.has('lean') ? readChoice(keys.get('lean')!.value, leanWords, context) : 'both';
  if (bottom == null || top == null || height == null || lean === null) return null;
  const left = lean === 'both' ? Math.round((bottom - top) / 2) : lean === 'A' ? bottom - top : 0;
  return upright([0, 0], [bottom, 0], [left + top, height], [left, height], node);
}

/** Four corners A to D with the grain from the middle of A-B straight up. */
function upright(a: Point, b: Point, c: Point, d: Point, node: SourceNode): ReadShape {
  // In the middle of the width that both ends share, or at the nearest place within the foot.
  const middle = Math.round((Math.max(a[0], Math.min(d[0], b[0])) + Math.min(b[0], Math.max(c[0], a[0]))) / 2);
  return polygon([a, b, c, d], { foot: [middle, a[1]], head: [middle, d[1]], cross: false }, node);
}

function polygon(points: readonly Point[], grain: DeclaredGrain, node: SourceNode): ReadShape {
  const { place } = node;
  const n = points.length;
  return {
    corners: points.map((at, i) => ({ label: letterOf(i), at, place })),
    edges: points.map((at, i) => ({ points: [at, points[(i + 1) % n]!], curved: false, place })),
    grain,
    yUp: 1,
    hole: null,
    parts: null,
    fromDrawing: null,
  };
}

const radius = { least: 0, most: coordinateMax / 2, expected: 'a radius' };

/** Part of a ring, its centre at (0, 0), the piece below it: A-B the outer arc at the foot, C-D the inner one. */
function readSector(node: SourceNode, context: Context): ReadShape | null {
  const keys = readMeasures(node, '{inner: 12, outer: 80, degrees: 90}', ['inner', 'outer', 'degrees'], [], context);
  if (keys === null) return null;
  const inner = readLength(keys.get('inner')!.value, radius, context);
  const outer = readLength(keys.get('outer')!.value, { ...radius, least: 1_000 }, context);
  const range = { least: 1, most: 350, expected: 'degrees from 1 to 350' };
  const degrees = readNumber(keys.get('degrees')!.value, range, context);
  if (inner === null || outer === null || degrees === null) return null;
  if (inner + 1_000 > outer) {
    const what = 'the inner radius is not smaller than the outer one by a millimetre or more';
    return context.fault('sector-empty', keys.get('inner')!.value.place, what, 'check both radii');
  }
  return ringPart(inner, outer, degrees, node);
}

/** @param degrees less than 360 */
function ringPart(inner: number, outer: number, degrees: number, node: SourceNode): ReadShape {
  const { place } = node;
  const [cos, sin] = directionOf(degrees / 2);
  // Half the angle to each side of straight down.
  const at = (r: number, way: 1 | -1): Point => [Math.round(way * r * sin) + 0, Math.round(-r * cos) + 0];
  const [a, b, c, d] = [at(outer, -1), at(outer, 1), at(inner, 1), at(inner, -1)];
  const arc = (from: Point, r: number, to: Point): readonly Point[] => flattenArc(from, [0, -Math.round(r)], to)!;
  const edges: DeclaredEdge[] = [
    { points: arc(a, outer, b), curved: true, place },
    { points: [b, c], curved: false, place },
  ];
  if (inner > 0) edges.push({ points: arc(c, inner, d), curved: true, place });
  edges.push({ points: [inner > 0 ? d : c, a], curved: false, place });
  return {
    corners: edges.map(({ points }, i) => ({ label: letterOf(i), at: points[0]!, place })),
    edges,
    grain: { foot: [0, -Math.round(outer)], head: [0, 0 - Math.round(inner)], cross: false },
    yUp: 1,
    hole: null,
    parts: null,
    fromDrawing: null,
  };
}

const skirtParts = ['1', '3/4', '1/2', '1/4'] as const;

/**
 * The waist lies on the inner arc of so much of a circle: inner radius = waist / (2 pi x part). The centre is (0, 0). A
 * whole circle has its corners A to D at the foot, right, head and left, and its waist is a hole.
 */
function readCircleSkirt(node: SourceNode, context: Context): ReadShape | null {
  const keys = readMeasures(node, '{waist: 70, length: 60, part: 3/4}', ['waist', 'length', 'part'], [], context);
  if (keys === null) return null;
  const waist = readLength(keys.get('waist')!.value, side, context);
  const length = readLength(keys.get('length')!.value, side, context);
  const part = readChoice(keys.get('part')!.value, skirtParts, context);
  if (waist === null || length === null || part === null) return null;
  const quarters = { '1': 4, '3/4': 3, '1/2': 2, '1/4': 1 }[part];
  const inner = (2 * waist) / (Math.PI * quarters);
  const outer = inner + length;
  if (outer > radius.most) return refuse(node, `a skirt of at most ${radius.most / 1_000_000} m radius`, context);
  return quarters === 4 ? wholeCircle(inner, outer, node) : ringPart(inner, outer, 90 * quarters, node);
}

function wholeCircle(inner: number, outer: number, node: SourceNode): ReadShape {
  const quarter = (r: number, i: number): Point => {
    const whole = Math.round(r);
    return (
      [
        [0, -whole],
        [whole, 0],
        [0, whole],
        [-whole, 0],
      ] as const
    )[i % 4]!.map((v) => v + 0) as unknown as Point;
  };
  // Half the side of the square in the circle, along and across.
  const between = (r: number, i: number): Point => {
    const off = Math.round(r * Math.SQRT1_2);
    return (
      [
        [off, -off],
        [off, off],
        [-off, off],
        [-off, -off],
      ] as const
    )[i]!;
  };
  const arcs = (r: number) => [0, 1, 2, 3].map((i) => flattenArc(quarter(r, i), between(r, i), quarter(r, i + 1))!);
  const { place } = node;
  const edges = arcs(outer).map((points): DeclaredEdge => ({ points, curved: true, place }));
  return {
    corners: edges.map(({ points }, i) => ({ label: letterOf(i), at: points[0]!, place })),
    edges,
    grain: { foot: quarter(outer, 0), head: quarter(inner, 0), cross: false },
    yUp: 1,
    hole: arcs(inner).flatMap((points) => points.slice(0, -1)),
    parts: null,
    fromDrawing: null,
  };
}

/**
 * A strip on the true bias, its ends cut along the thread, A (0, 0) and A-B along the strip: length is that of the whole
 * joined strip, on its middle line.
 */
function readBiasStrip(node: SourceNode, context: Context): ReadShape | null {
  const keys = readMeasures(node, '{length: 250, width: 4, pieces: 3}', ['length', 'width'], ['pieces'], context);
  if (keys === null) return null;
  const length = readLength(keys.get('length')!.value, side, context);
  const width = readLength(keys.get('width')!.value, side, context);
  const range = { least: 1, most: limits.copies, expected: 'a whole number of strips to join', whole: true };
  const pieces = keys.has('pieces') ? readNumber(keys.get('pieces')!.value, range, context) : 1;
  if (length === null || width === null || pieces === null) return null;
  const each = Math.ceil(length / pieces);
  const half = Math.round(width / 2);
  const shape = polygon(
    [
      [0, 0],
      [each, 0],
      [each + width, width],
      [width, width],
    ],
    { foot: [Math.round(each / 2), 0], head: [Math.round(each / 2) + 2 * half, 2 * half], cross: false },
    node,
  );
  return { ...shape, parts: pieces };
}

/** The keys of a shape given by measures, all that must be there being there. */
function readMeasures(
  node: SourceNode,
  example: string,
  needed: readonly string[],
  also: readonly string[],
  context: Context,
): ReadonlyMap<string, MapEntry> | null {
  const map = asMap(node, example, context);
  if (map === null) return null;
  const before = context.errorCount;
  const keys = readKeys(map, { known: [...needed, ...also] }, context);
  if (context.errorCount > before) return null;
  const missing = needed.filter((key) => !keys.has(key));
  if (missing.length === 0) return keys;
  return context.fault('measure-missing', node.place, `${missing.join(' and ')} missing`, `write it as in ${example}`);
}

/** A, B, ... Z, AA, AB ... */
export function letterOf(index: number): string {
  const rest = Math.floor(index / 26);
  return (rest > 0 ? letterOf(rest - 1) : '') + String.fromCharCode(65 + (index % 26));
}
