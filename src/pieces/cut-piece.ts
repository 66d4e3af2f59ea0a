/**
 * From a declared piece to one ready to cut: grain frame, cutting line (allowances added), unfolding, marks,
 * and how many copies its wording asks for. Takes for granted that `checkPiece` found no error in it.
 */
import { makeFault } from '../diagnostics/faults.js';
import type { Result } from '../diagnostics/types.js';
import { offsetOutline } from '../geometry/allowance.js';
import { cross, firstCrossing, isCounterClockwise } from '../geometry/outline.js';
import type { Outline, Point } from '../units/types.js';
import { type FoldWay, grainFrame, runPoints } from './grain-frame.js';
import { dartAwl, dartLine, placeNotches } from './marks.js';
import { isOwnMirrorImage } from './mirror-image.js';
import type { CutPiece, DeclaredPiece, Demand, EdgeAllowances, MatchPoint, MaterialCut } from './types.js';

/** What of a piece lies on the cloth, all in one frame. */
export interface Shaped {
  /** The cutting line, counter-clockwise. */
  readonly outline: Outline;
  /** The seam line, or null where it is the cutting line. */
  readonly seam: Outline | null;
  readonly notches: readonly (readonly [Point, Point])[];
  readonly awl: readonly Point[];
  readonly lines: CutPiece['lines'];
  readonly match: readonly MatchPoint[];
}

/** A ring of the piece, with the edge that each segment belongs to. */
interface EdgedRing {
  /** Counter-clockwise. */
  readonly outline: Outline;
  /** edgeOf[i]: index of the declared edge that segment i (point i to point i + 1) belongs to. */
  readonly edgeOf: readonly number[];
  /** cornerOf[i]: index of the declared corner at point i, or -1. */
  readonly cornerOf: readonly number[];
}

/**
 * The piece as cut from one material.
 * @returns the cut piece, or a fault when an allowance makes the cutting line impossible
 */
export function makeCutPiece(piece: DeclaredPiece, material: string): Result<CutPiece> {
  const cut = piece.cut.find((entry) => entry.material === material);
  if (cut === undefined) return refuse(piece, 'cut-material', `it is not cut from ${material}`, 'add it under cut');
  const frame = grainFrame(piece);
  const half = shapeIn(piece, material, frame.place);
  if (!half.ok) return half;
  const whole = frame.foldWay === null ? half.value : unfoldAll(half.value, frame.foldWay, piece, frame.place);
  if (firstCrossing(whole.outline) !== null) {
    return refuse(
      piece,
      'unfold-impossible',
      'unfolded, its cutting line crosses itself',
      'check the edges next to the fold',
    );
  }
  const onFold = frame.foldWay === 'along' || frame.foldWay === 'square';
  const form = { ...whole, onFold };
  return {
    ok: true,
    value: {
      id: piece.id,
      size: piece.size,
      outline: whole.outline,
      onFold,
      turn: piece.turn,
      cross: piece.grain.value.cross,
      tiltMaxMicrodegrees: piece.tiltMaxMicrodegrees,
      label: `cut ${cut.text}${(piece.parts ?? 1) > 1 ? `, each joined from ${piece.parts} parts` : ''}`,
      note: piece.note,
      grain: [frame.place(piece.grain.value.foot), frame.place(piece.grain.value.head)],
      seam: whole.seam,
      lines: [...(onFold ? [{ kind: 'fold' as const, points: foldEnds(piece, frame.place) }] : []), ...whole.lines],
      notches: whole.notches,
      awl: whole.awl,
      match: whole.match,
      demand: demandOf(cut, piece.parts, isOwnMirrorImage(form)),
    },
  };
}

/** A piece as drawn, a half not unfolded, in its drawing frame: see `Shaped`. For a piece that can be cut. */
export function shapeAsDrawn(piece: DeclaredPiece, material: string): Result<Shaped> {
  return shapeIn(piece, material, ([x, y]) => [Math.round(x) + 0, Math.round(y) + 0]);
}

/** Cutting line, seam line and marks in the frame that `place` makes, a half not unfolded. */
function shapeIn(piece: DeclaredPiece, material: string, place: (point: Point) => Point): Result<Shaped> {
  const ring = edgedRing(piece, place);
  const allowances = allowancesFor(piece, material);
  const sign = piece.drawn === 'net' ? 1 : -1;
  const other = offsetOutline(
    ring.outline,
    ring.edgeOf.map((edge) => sign * allowances.byEdge[edge]! + 0),
    (segment) => piece.fold?.value.edges.includes(ring.edgeOf[segment]!) ?? false,
    (segment) => piece.cornerStyles[ring.cornerOf[segment]!] ?? 'plain',
  );
  if (other === null || firstCrossing(other) !== null) {
    const fix = 'use a smaller allowance on its narrow or sharply curved edges';
    return refuse(piece, 'allowance-impossible', 'its allowance makes the line beside the outline cross itself', fix);
  }
  const cutting = piece.drawn === 'net' ? other : ring.outline;
  const seam = other === ring.outline ? null : piece.drawn === 'net' ? ring.outline : other;
  const notches = placeNotches(piece, allowances, place);
  const awl = [
    ...piece.awl.map(({ value }) => value),
    ...piece.darts.map(({ value }) => dartAwl(piece, value, allowances)),
  ].map(place);
  const hole = holeOf(piece, allowances, place);
  if (hole === 'impossible') {
    const fix = 'use a smaller allowance, or a wider waist';
    return refuse(piece, 'hole-impossible', 'its allowance leaves nothing of the hole inside it', fix);
  }
  const lines: CutPiece['lines'] = [
    ...hemLines(piece, allowances),
    ...piece.darts.map(({ value }) => ({ kind: 'dart' as const, points: dartLine(piece, value, allowances) })),
  ].map(({ kind, points }) => ({ kind, points: points.map(place) }));
  const inner = piece.inner.map((points) => ({ kind: 'mark' as const, points: points.map(place) }));
  const match = piece.match.map(({ value }) => ({ ...value, at: place(value.at) }));
  return { ok: true, value: { outline: cutting, seam, notches, awl, lines: [...lines, ...inner, ...hole], match } };
}

/** A piece that cannot be cut so: one fault, at the piece's name. */
function refuse(piece: DeclaredPiece, code: string, what: string, fix: string): Result<CutPiece> {
  return { ok: false, faults: [makeFault(code, piece.place, `piece "${piece.id}"`, what, fix)] };
}

/** Allowances of one material, none along the fold. */
export function allowancesFor(piece: DeclaredPiece, material: string): EdgeAllowances {
  const found = piece.allowanceByMaterial.get(material) ?? piece.allowanceDefault;
  if (piece.fold === null) return found;
  const onFold = new Set(piece.fold.value.edges);
  return { ...found, byEdge: found.byEdge.map((by, edge) => (onFold.has(edge) ? 0 : by)) };
}

/** The cut of a hole, within its seam line by the allowance (on it, for a piece drawn cut), as a closed line. */
function holeOf(
  { hole, drawn }: DeclaredPiece,
  { rest }: EdgeAllowances,
  place: (point: Point) => Point,
): CutPiece['lines'] | 'impossible' {
  if (hole === null) return [];
  const ring = hole.map(place);
  const cut =
    drawn === 'net'
      ? offsetOutline(
          ring,
          ring.map(() => 0 - rest),
        )
      : ring;
  return cut === null ? 'impossible' : [{ kind: 'inner', points: [...cut, cut[0]!] }];
}

/** Along each edge that folds up at a hem corner, in the drawing frame: it is the wider one of the two there. */
function hemLines(piece: DeclaredPiece, { byEdge }: EdgeAllowances): CutPiece['lines'] {
  const n = piece.edges.length;
  const isHem = (edge: number): boolean =>
    [
      [edge, (edge + n - 1) % n],
      [(edge + 1) % n, (edge + 1) % n],
    ].some(([corner, other]) => piece.cornerStyles[corner!] === 'hem' && byEdge[edge]! > byEdge[other!]!);
  return piece.drawn === 'cut'
    ? []
    : piece.edges.flatMap(({ points }, edge) => (isHem(edge) ? [{ kind: 'hem' as const, points }] : []));
}

/**
 * The outline as drawn, in the frame that `place` makes, counter-clockwise. A fold edge becomes one straight
 * segment: the points between its ends (which stray by the fold tolerance at most) are left out.
 */
function edgedRing(piece: DeclaredPiece, place: (point: Point) => Point): EdgedRing {
  const points: Point[] = [];
  const edgeOf: number[] = [];
  const cornerOf: number[] = [];
  const fold = piece.fold?.value;
  const foldStart = fold?.reversed ? fold.edges.at(-1) : fold?.edges[0];
  piece.edges.forEach((edge, index) => {
    const onFold = fold?.edges.includes(index) ?? false;
    const drawn = onFold ? edge.points.slice(0, index === foldStart ? 1 : 0) : edge.points.slice(0, -1);
    drawn.forEach((point, i) => {
      const placed = place(point);
      const last = points.at(-1);
      if (last !== undefined && last[0] === placed[0] && last[1] === placed[1]) return;
      points.push(placed);
      edgeOf.push(index);
      cornerOf.push(i === 0 ? index : -1);
    });
  });
  if (isCounterClockwise(points)) return { outline: points, edgeOf, cornerOf };
  // Walked the other way round, the segment that led to a point now leaves it.
  const n = points.length;
  const reversed = points.map((_, i) => points[n - 1 - i]!);
  return {
    outline: reversed,
    edgeOf: reversed.map((_, i) => edgeOf[(2 * n - 2 - i) % n]!),
    cornerOf: [...cornerOf].reverse(),
  };
}

/**
 * Copies that a wording asks for. A pair is one as drawn and one mirrored; a bare even number of a piece with a
 * left and a right is read as pairs, a bare odd one leaves one as drawn. Of a piece that is its own mirror image
 * only the number counts, and all of it stands under asDrawn. What is joined from parts asks for so many of each, and
 * all parts must be alike to be joined.
 */
function demandOf(cut: MaterialCut, parts: number | null, ownMirrorImage: boolean): Demand {
  let asDrawn = 0;
  let mirrored = 0;
  for (const { count, kind } of cut.terms) {
    const pairs = kind === 'pair' ? count : kind === 'plain' && parts === null ? Math.floor(count / 2) : 0;
    const singles = kind === 'pair' ? 0 : count - 2 * pairs;
    asDrawn += (parts ?? 1) * (pairs + singles);
    mirrored += (parts ?? 1) * pairs;
  }
  return ownMirrorImage ? { asDrawn: asDrawn + mirrored, mirrored: 0 } : { asDrawn, mirrored };
}

/** Both ends of the fold edge as drawn, in the grain frame. */
function foldEnds(piece: DeclaredPiece, place: (point: Point) => Point): readonly Point[] {
  const points = runPoints(piece, piece.fold!.value);
  return [place(points[0]!), place(points.at(-1)!)];
}

/** Unfolds outline, seam line and marks about the fold line. */
function unfoldAll(half: Shaped, way: FoldWay, piece: DeclaredPiece, place: (point: Point) => Point): Shaped {
  const reflect = reflectionOf(way, piece, place);
  // A slit that lies on the fold line is its own reflection.
  const isOff = ([a, b]: readonly [Point, Point]): boolean => reflect.side(a) !== 0 || reflect.side(b) !== 0;
  const ring = (outline: Outline): Outline => unfold(outline, reflect.side, reflect.point);
  return {
    outline: ring(half.outline),
    seam: half.seam === null ? null : ring(half.seam),
    notches: [
      ...half.notches,
      ...half.notches.filter(isOff).map(([a, b]) => [reflect.point(a), reflect.point(b)] as const),
    ],
    awl: [...half.awl, ...half.awl.filter((point) => reflect.side(point) !== 0).map(reflect.point)],
    lines: [
      ...half.lines,
      ...half.lines
        .filter(({ points }) => points.some((point) => reflect.side(point) !== 0))
        .map(({ kind, points }) => ({ kind, points: points.map(reflect.point) })),
    ],
    match: [
      ...half.match,
      ...half.match.filter(({ at }) => reflect.side(at) !== 0).map((each) => ({ ...each, at: reflect.point(each.at) })),
    ],
  };
}

interface Reflection {
  /** Signed distance from the fold line (up to scale); 0 on it. */
  readonly side: (point: Point) => number;
  readonly point: (point: Point) => Point;
}

function reflectionOf(way: FoldWay, piece: DeclaredPiece, place: (point: Point) => Point): Reflection {
  if (way === 'along') return { side: ([, y]) => y, point: ([x, y]) => [x, 0 - y] };
  if (way === 'square') return { side: ([x]) => x, point: ([x, y]) => [0 - x, y] };
  const [[fromX, fromY], [toX, toY]] = foldEnds(piece, place) as [Point, Point];
  const dx = toX - fromX;
  const dy = toY - fromY;
  const square = dx * dx + dy * dy;
  return {
    side: ([x, y]) => {
      const off = (dx * (y - fromY) - dy * (x - fromX)) / Math.sqrt(square);
      return Math.abs(off) <= 2 ? 0 : off;
    },
    point: ([x, y]) => {
      const along = 2 * ((x - fromX) * dx + (y - fromY) * dy);
      return [
        Math.round(2 * fromX + (along * dx) / square - x) + 0,
        Math.round(2 * fromY + (along * dy) / square - y) + 0,
      ];
    },
  };
}

/**
 * A half outline and its mirror image joined along the fold line.
 * @param side 0 for points on the fold line; the half must leave the line once and come back once (checkPiece)
 */
function unfold(half: Outline, side: (point: Point) => number, reflect: (point: Point) => Point): Outline {
  const n = half.length;
  const off = half.map((point) => side(point) !== 0);
  // The open chain of points off the fold, from the point where the ring leaves the fold to where it comes back.
  const start = half.findIndex((_, i) => !off[i] && off[(i + 1) % n]!);
  const chain: Point[] = [half[start]!];
  let i = (start + 1) % n;
  while (off[i]) {
    chain.push(half[i]!);
    i = (i + 1) % n;
  }
  chain.push(half[i]!);
  const back = chain.slice(1, -1).reverse().map(reflect);
  return withoutInLine([...chain, ...back]);
}

/** Drops points that lie in line between their neighbours. */
function withoutInLine(outline: Outline): Outline {
  return outline.filter((point, i) => {
    const before = outline.at(i - 1)!;
    const after = outline[(i + 1) % outline.length]!;
    return cross(before[0], before[1], point[0], point[1], after[0], after[1]) !== 0;
  });
}
