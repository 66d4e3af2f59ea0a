/**
 * What a DXF file draws, as lines in micrometres: insertions opened, bulges, arcs, ellipses and splines flattened, and
 * loose lines that meet at their ends joined to rings.
 *
 * Sources: bulge = tangent of a quarter of the arc's angle, height of the arc = bulge x half its chord (general
 * knowledge of the format, from memory); splines by de Boor's algorithm (de Boor, "On calculating with B-splines", 1972).
 */
import { directionOf, flattenArc, flattenSmooth, flattenThrough } from '../geometry/curves.js';
import type { Point } from '../units/types.js';
import type { DxfContent, DxfEntity, DxfVertex, Xy } from './dxf-entities.js';
import { drawingLimits, drawingReachMax } from './limits.js';
import type { PathEdge } from './svg-path.js';

/** A line as drawn, from end to end. */
export interface DrawnLine {
  readonly layer: string;
  /** The innermost block it was inserted with; null when drawn directly. */
  readonly block: string | null;
  readonly segments: readonly PathEdge[];
  readonly line: number;
}

export interface Drawn {
  readonly lines: DrawnLine[];
  readonly points: { readonly layer: string; readonly at: Point; readonly line: number }[];
  readonly texts: { readonly layer: string; readonly text: string; readonly line: number }[];
  /** What could not be drawn, and why. */
  readonly passedOver: { readonly why: string; readonly line: number }[];
}

/** Drawing units -> micrometres: turned, evenly scaled, perhaps mirrored, moved. */
export interface Placing {
  /** x -> [a, b], y -> [c, d]. */
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly at: Xy;
}

/** Neither turned nor moved, so many micrometres to a unit. */
export function scaledBy(umPerUnit: number): Placing {
  return { a: umPerUnit, b: 0, c: 0, d: umPerUnit, at: [0, 0] };
}

/** Work that is still allowed: insertions, and points of all lines together. One for a whole file. */
export interface Budget {
  insertions: number;
  points: number;
}

export function makeBudget(): Budget {
  return { insertions: drawingLimits.insertions, points: drawingLimits.points };
}
/** What is not drawn is work too. */
const refusedCosts = 100;

/**
 * Draws entities and everything they insert. What lies on layer 0 of a block lies on the layer of its insertion.
 * @param within the block that the entities are in, or null
 */
export function drawEntities(
  entities: readonly DxfEntity[],
  content: DxfContent,
  placing: Placing,
  within: string | null,
  budget: Budget,
): Drawn {
  const drawn: Drawn = { lines: [], points: [], texts: [], passedOver: [] };
  const visit = (
    list: readonly DxfEntity[],
    at: Placing,
    block: string | null,
    ofInsertion: string | null,
    under: readonly string[],
  ): void => {
    for (const entity of list) {
      if (budget.points < 0) return;
      const { line } = entity;
      const layer = entity.layer === '0' && ofInsertion !== null ? ofInsertion : entity.layer;
      if (entity.type === 'text') drawn.texts.push({ layer, line, text: entity.text });
      else if (entity.type === 'point') {
        const [point] = flat([put(at, entity.at)]);
        if (point !== undefined) drawn.points.push({ layer, at: point, line });
      } else if (entity.type === 'insert') {
        const inner = content.blocks.get(entity.block);
        if (inner === undefined || under.includes(inner.name)) continue;
        if (under.length >= drawingLimits.blockDepth) {
          const why = `blocks are inserted in blocks more than ${drawingLimits.blockDepth} deep; "${inner.name}" is left out`;
          if (!drawn.passedOver.some((each) => each.why === why)) drawn.passedOver.push({ why, line });
          continue;
        }
        for (const placed of insertPlacings(at, entity, inner.base)) {
          if (--budget.insertions < 0) break;
          if (placed !== null) visit(inner.entities, placed, inner.name, layer, [...under, inner.name]);
          else drawn.passedOver.push({ why: `block "${inner.name}" is inserted with unequal scales`, line });
        }
      } else {
        const segments = segmentsOf(entity, at);
        if (typeof segments === 'string') drawn.passedOver.push({ why: segments, line });
        else if (segments.length > 0) drawn.lines.push({ layer, block, segments, line });
        budget.points -= typeof segments === 'string' ? refusedCosts : pointsOf(segments).length;
      }
    }
  };
  const before = { ...budget };
  visit(entities, placing, null, null, within === null ? [] : [within]);
  if (before.points >= 0 && budget.points < 0)
    drawn.passedOver.push({ why: `it has more than ${drawingLimits.points} points; the rest is left out`, line: 1 });
  if (before.insertions >= 0 && budget.insertions < 0) {
    drawn.passedOver.push({
      why: `it inserts more than ${drawingLimits.insertions} blocks; the rest is left out`,
      line: 1,
    });
  }
  return drawn;
}

/** All points of segments that follow each other. */
export function pointsOf(segments: readonly PathEdge[]): Point[] {
  return segments.flatMap(({ points }, i) => (i === 0 ? points : points.slice(1)));
}

type Insertion = Extract<DxfEntity, { type: 'insert' }>;

/** One for each insertion of an array; null when it is stretched more one way than the other: arcs would be arcs no more. */
function* insertPlacings(outer: Placing, { at, scale, degrees, array }: Insertion, [baseX, baseY]: Xy) {
  const [sx, sy] = scale;
  if (Math.abs(Math.abs(sx) - Math.abs(sy)) > 1e-9 * Math.abs(sx) || sx === 0) {
    yield null;
    return;
  }
  const [cos, sin] = directionOf(degrees);
  const own = { a: cos * sx, b: sin * sx, c: -sin * sy, d: cos * sy };
  const [columns, rows] = array.counts;
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const [dx, dy] = [column * array.apart[0], row * array.apart[1]];
      const x = at[0] + cos * dx - sin * dy - own.a * baseX - own.c * baseY;
      const y = at[1] + sin * dx + cos * dy - own.b * baseX - own.d * baseY;
      const placed: Placing = {
        a: outer.a * own.a + outer.c * own.b,
        b: outer.b * own.a + outer.d * own.b,
        c: outer.a * own.c + outer.c * own.d,
        d: outer.b * own.c + outer.d * own.d,
        at: put(outer, [x, y]),
      };
      yield placed;
    }
  }
}

function put({ a, b, c, d, at }: Placing, [x, y]: Xy): Xy {
  return [a * x + c * y + at[0], b * x + d * y + at[1]];
}

/** Rounded to whole micrometres, never minus zero; what is too far away is left out. */
function flat(points: readonly Xy[]): Point[] {
  return points.flatMap(([x, y]): Point[] =>
    Math.abs(x) <= drawingReachMax && Math.abs(y) <= drawingReachMax ? [[Math.round(x) + 0, Math.round(y) + 0]] : [],
  );
}

type LineEntity = Exclude<DxfEntity, { type: 'text' | 'point' | 'insert' }>;

/** Segments of one line, each from where the one before ended; or why there are none. */
function segmentsOf(entity: LineEntity, placing: Placing): readonly PathEdge[] | string {
  const segments = roughSegments(entity, placing);
  if (typeof segments === 'string') return segments;
  const isNear = segments.every(({ points }) =>
    points.every(([x, y]) => Math.abs(x) <= drawingReachMax && Math.abs(y) <= drawingReachMax),
  );
  return isNear ? withoutStandstill(segments) : tooFar;
}

const tooFar = 'it goes farther than 20 m from the origin';

/** Without points that are the one before again, and segments of which nothing is left. */
function withoutStandstill(segments: readonly PathEdge[]): PathEdge[] {
  return segments.flatMap(({ points, curved }) => {
    const kept = points.filter(([x, y], i) => i === 0 || x !== points[i - 1]![0] || y !== points[i - 1]![1]);
    return kept.length > 1 ? [{ points: kept, curved }] : [];
  });
}

/** Before it is flattened: a curve so large takes long. */
function isFar(points: readonly Xy[]): boolean {
  return points.some(([x, y]) => !(Math.abs(x) <= drawingReachMax && Math.abs(y) <= drawingReachMax));
}

function roughSegments(entity: LineEntity, placing: Placing): readonly PathEdge[] | string {
  switch (entity.type) {
    case 'polyline':
      return polylineSegments(entity.vertices, entity.closed, placing);
    case 'arc': {
      const { centre, radius, degrees } = entity;
      if (radius <= 0) return 'it is a circle without a radius';
      const [x, y] = centre;
      if (isFar([put(placing, [x - radius, y - radius]), put(placing, [x + radius, y + radius])])) return tooFar;
      const around = (angle: number): Xy => {
        const [cos, sin] = directionOf(angle);
        return put(placing, [centre[0] + radius * cos, centre[1] + radius * sin]);
      };
      const [from, span] = spanOf(degrees);
      const parts = span > 180 ? 2 : 1;
      return Array.from({ length: parts }, (_, i) => {
        const [begin, middle, end] = [0, 0.5, 1].map((part) => around(from + (span * (i + part)) / parts));
        return arcEdge(begin!, middle!, span === 360 && i === 1 ? around(from) : end!);
      });
    }
    case 'ellipse': {
      const { centre, axis, ratio, degrees } = entity;
      const [from, span] = spanOf(degrees);
      const around = (t: number): Xy => {
        const [cos, sin] = directionOf(t);
        const x = centre[0] + axis[0] * cos - axis[1] * ratio * sin;
        const y = centre[1] + axis[1] * cos + axis[0] * ratio * sin;
        return put(placing, [x, y]);
      };
      if (isFar([0, 90, 180, 270].map(around))) return tooFar;
      const points = flattenSmooth(around, from, from + span);
      if (span === 360) points[points.length - 1] = points[0]!;
      return [{ points, curved: true }];
    }
    case 'spline':
      return splineSegments(entity, placing);
  }
}

/** Where an arc begins and how far it goes, counter-clockwise, more than 0 and at most a whole turn. */
function spanOf([from, to]: readonly [number, number]): readonly [number, number] {
  if (Math.abs(to - from - 360) < 1e-9) return [from, 360];
  const turns = Math.ceil((from - to) / 360);
  const span = to - from + 360 * turns;
  return [from, span <= 1e-9 ? 360 : span];
}

function arcEdge(from: Xy, over: Xy, to: Xy): PathEdge {
  const [begin, middle, end] = flat([from, over, to]);
  // Too far away, which whoever asked finds out.
  if (begin === undefined || middle === undefined || end === undefined)
    return { points: [from, over, to], curved: true };
  return { points: flattenArc(begin, over, end) ?? [begin, end], curved: true };
}

function polylineSegments(vertices: readonly DxfVertex[], closed: boolean, placing: Placing): PathEdge[] {
  const turned = placing.a * placing.d - placing.b * placing.c < 0 ? -1 : 1;
  const count = closed ? vertices.length : vertices.length - 1;
  const segments: PathEdge[] = [];
  for (let i = 0; i < count; i++) {
    const { at, bulge } = vertices[i]!;
    const from = put(placing, at);
    const to = put(placing, vertices[(i + 1) % vertices.length]!.at);
    if (bulge === 0 || !Number.isFinite(bulge)) {
      const points = flat([from, to]);
      const [a, b] = points.length === 2 ? (points as [Point, Point]) : [from, to];
      if (a[0] !== b[0] || a[1] !== b[1]) segments.push({ points: [a, b], curved: false });
      continue;
    }
    // The middle of an arc that turns left lies to the right of its chord.
    const high = (turned * bulge) / 2;
    const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
    if (dx === 0 && dy === 0) continue;
    segments.push(arcEdge(from, [(from[0] + to[0]) / 2 + dy * high, (from[1] + to[1]) / 2 - dx * high], to));
  }
  return segments;
}

type Spline = Extract<DxfEntity, { type: 'spline' }>;

const degreeMost = 10;

function splineSegments(spline: Spline, placing: Placing): readonly PathEdge[] | string {
  const { degree, knots, controls, through } = spline;
  const n = controls.length;
  if (isFar([...controls, ...through].map((at) => put(placing, at)))) return tooFar;
  if (n === 0 && through.length > 1) {
    const round = spline.closed ? [...through, through[0]!] : through;
    const points = flat(round.map((at) => put(placing, at))).filter(
      (point, i, all) => i === 0 || point[0] !== all[i - 1]![0] || point[1] !== all[i - 1]![1],
    );
    return points.length > 1 ? [{ points: flattenThrough(points), curved: true }] : [];
  }
  const rises = knots.every((knot, i) => i === 0 || knot >= knots[i - 1]!);
  if (!Number.isInteger(degree) || degree < 1 || degree > degreeMost || n <= degree) {
    return `it is a spline of degree ${degree} with ${n} control points`;
  }
  if (knots.length !== n + degree + 1 || !rises) return 'it is a spline whose knots do not fit its control points';
  const homogeneous = controls.map((at, i): readonly [number, number, number] => {
    const [x, y] = put(placing, at);
    const weight = spline.weights[i] ?? 1;
    return [x * weight, y * weight, weight];
  });
  if (homogeneous.some(([, , weight]) => weight <= 0)) return 'it is a spline with a weight of 0 or less';
  // One part for each stretch between knots: within it the curve is smooth.
  const points: Point[] = [];
  for (let k = degree; k < n; k++) {
    if (knots[k + 1]! <= knots[k]!) continue;
    const part = flattenSmooth((t) => deBoor(homogeneous, knots, degree, k, t), knots[k]!, knots[k + 1]!);
    points.push(...(points.length === 0 ? part : part.slice(1)));
  }
  return [{ points, curved: true }];
}

/** Point of a B-spline at t in [knots[k], knots[k + 1]]. */
function deBoor(
  controls: readonly (readonly [number, number, number])[],
  knots: readonly number[],
  degree: number,
  k: number,
  t: number,
): Xy {
  const d = Array.from({ length: degree + 1 }, (_, j) => [...controls[j + k - degree]!] as [number, number, number]);
  for (let r = 1; r <= degree; r++) {
    for (let j = degree; j >= r; j--) {
      const low = knots[j + k - degree]!;
      const high = knots[j + 1 + k - r]!;
      const share = high === low ? 0 : (t - low) / (high - low);
      for (const axis of [0, 1, 2] as const) d[j]![axis] = (1 - share) * d[j - 1]![axis] + share * d[j]![axis];
    }
  }
  const [x, y, weight] = d[degree]!;
  return [x / weight, y / weight];
}

/** A closed line. */
export interface Ring {
  readonly layer: string;
  readonly block: string | null;
  /** Each begins where the one before ends, the first where the last ends. */
  readonly segments: readonly PathEdge[];
  readonly line: number;
}

/** Ends of lines that lie so near each other meet. */
const meetUm = 50;

/** Closed lines, and rings made of open ones that meet end to end on the same layer; what stays open is left over. */
export function ringsOf(lines: readonly DrawnLine[]): { readonly rings: Ring[]; readonly open: DrawnLine[] } {
  const rings: Ring[] = [];
  const open: DrawnLine[] = [];
  for (const line of lines) (isClosed(line.segments) ? rings : open).push(line);
  const ends = new EndIndex(open);
  const left: DrawnLine[] = [];
  open.forEach((line, i) => {
    if (!ends.take(i)) return;
    const segments = [...line.segments];
    for (;;) {
      if (comesBack(segments)) break;
      const next = ends.next(endOf(segments), line);
      if (next === null) break;
      segments.push(...joinedTo(endOf(segments), next));
    }
    if (comesBack(segments)) {
      rings.push({ ...line, segments: withoutStandstill(closeRing(segments)) });
    } else {
      left.push({ ...line, segments });
    }
  });
  return { rings: rings.sort((a, b) => a.line - b.line), open: left };
}

/** Its ends meet, and it is more than a short line. */
function comesBack(segments: readonly PathEdge[]): boolean {
  return near(startOf(segments), endOf(segments)) && pointsOf(segments).length > 3;
}

function isClosed(segments: readonly PathEdge[]): boolean {
  const [start, end] = [startOf(segments), endOf(segments)];
  return start[0] === end[0] && start[1] === end[1];
}

function startOf(segments: readonly PathEdge[]): Point {
  return segments[0]!.points[0]!;
}

function endOf(segments: readonly PathEdge[]): Point {
  return segments.at(-1)!.points.at(-1)!;
}

function near([ax, ay]: Point, [bx, by]: Point): boolean {
  return Math.abs(ax - bx) <= meetUm && Math.abs(ay - by) <= meetUm;
}

function turnedRound(segments: readonly PathEdge[]): PathEdge[] {
  return segments.map(({ points, curved }) => ({ points: [...points].reverse(), curved })).reverse();
}

/** The line, begun from `from` (which its first point nearly is). */
function joinedTo(from: Point, segments: readonly PathEdge[]): PathEdge[] {
  const [first, ...rest] = segments;
  return [{ points: [from, ...first!.points.slice(1)], curved: first!.curved }, ...rest];
}

function closeRing(segments: readonly PathEdge[]): PathEdge[] {
  const last = segments.at(-1)!;
  return [...segments.slice(0, -1), { points: [...last.points.slice(0, -1), startOf(segments)], curved: last.curved }];
}

/** Open lines by layer, block and the squares in which their ends lie. */
class EndIndex {
  /** The line that comes first in the file last, so that it is found first. */
  private readonly squares = new Map<string, number[]>();
  private readonly taken = new Set<number>();

  constructor(private readonly lines: readonly DrawnLine[]) {
    for (let i = lines.length - 1; i >= 0; i--) {
      const { segments } = lines[i]!;
      for (const end of [startOf(segments), endOf(segments)]) {
        const key = squareOf(lines[i]!, end, 0, 0);
        const list = this.squares.get(key);
        if (list === undefined) this.squares.set(key, [i]);
        else list.push(i);
      }
    }
  }

  /** False when it is taken already. */
  take(i: number): boolean {
    if (this.taken.has(i)) return false;
    this.taken.add(i);
    return true;
  }

  /** Takes a line that begins or ends at a point, turned so that it begins there; null when there is none. */
  next(at: Point, like: DrawnLine): readonly PathEdge[] | null {
    for (const dx of [0, -1, 1]) {
      for (const dy of [0, -1, 1]) {
        const list = this.squares.get(squareOf(like, at, dx, dy)) ?? [];
        while (list.length > 0 && this.taken.has(list.at(-1)!)) list.pop();
        for (let k = list.length - 1; k >= 0; k--) {
          const i = list[k]!;
          const { segments } = this.lines[i]!;
          const begins = near(startOf(segments), at);
          if (this.taken.has(i) || (!begins && !near(endOf(segments), at))) continue;
          this.taken.add(i);
          return begins ? segments : turnedRound(segments);
        }
      }
    }
    return null;
  }
}

function squareOf({ layer, block }: DrawnLine, [x, y]: Point, dx: number, dy: number): string {
  return JSON.stringify([Math.floor(x / meetUm) + dx, Math.floor(y / meetUm) + dy, layer, block]);
}
