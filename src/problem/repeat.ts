/**
 * Match points on a repeat. Points of one group lie on the same place of the repeat in every copy, so a piece with points
 * has only a lattice of places, and groups that stand on one piece are tied to each other. Where the design looks the same
 * mirrored, a mirrored or turned copy lies on the mirror image of the place.
 *
 * The place of a point is its distance from a bar, modulo the repeat. Places of groups are solved for once: those tied to
 * the group `bar` follow from it, those of a piece on the fold from where that lies, and the first of every other set of tied
 * groups lies on a bar as well.
 */
import { type Folding, foldAxes, zonesOf } from '../cloth/folding.js';
import { isFoldAlongGrain, type LaidWay } from '../cloth/lay-rules.js';
import type { Cloth, Repeat } from '../cloth/types.js';
import { areaUm2, boundsOf, mirrorPoint, turnPoint } from '../geometry/outline.js';
import { copyOutline } from '../lay/transform.js';
import type { CutPiece, MatchPoint } from '../pieces/types.js';
import { formatDecimal, umPerUnit } from '../units/length.js';
import type { Outline, Point, Um } from '../units/types.js';
import type { Lattice } from './types.js';

/** Place of each group on the repeat, along and across. */
export interface Places {
  readonly along: ReadonlyMap<string, Um>;
  readonly across: ReadonlyMap<string, Um>;
}

export type PlacesAnswer =
  | { readonly ok: true; readonly places: Places }
  | { readonly ok: false; readonly why: string };

/** The group whose points lie on a bar. */
const barGroup = 'bar';

/**
 * The places of all groups, or why no place suits all pieces.
 * @param foldFromBar how far across the folds of pieces lie from a bar: 0, or half a repeat
 */
export function placesOf(pieces: readonly CutPiece[], repeat: Repeat, foldFromBar: Um = 0): PlacesAnswer {
  const solved = { along: new Map<string, Um>(), across: new Map<string, Um>() };
  for (const axis of ['along', 'across'] as const) {
    const step = repeat[axis];
    if (step === null) continue;
    const answer = solveAxis(pieces, repeat, axis, step, axis === 'across' ? foldFromBar : 0);
    if (typeof answer === 'string') return { ok: false, why: answer };
    solved[axis] = answer;
  }
  return { ok: true, places: solved };
}

/** The points that are matched on an axis: of a piece on the fold those of the half that is drawn, which come first. */
export function pointsOn(piece: CutPiece, axis: 'along' | 'across', { drop }: Repeat): readonly MatchPoint[] {
  const points = piece.match.filter(({ way }) => way === axis || way === 'both' || drop);
  if (!piece.onFold) return points;
  const side = drawnSide(piece);
  return points.filter(({ at }) => Math.sign(sideOf(piece, at)) * side >= 0);
}

/** On which side of the fold a piece is drawn: its first point that is not on it says so. */
function drawnSide(piece: CutPiece): number {
  const first = piece.match.find(({ at }) => sideOf(piece, at) !== 0);
  return first === undefined ? 0 : Math.sign(sideOf(piece, first.at));
}

function sideOf(piece: CutPiece, [x, y]: Point): number {
  return isFoldAlongGrain(piece) ? y : x;
}

function solveAxis(
  pieces: readonly CutPiece[],
  repeat: Repeat,
  axis: 'along' | 'across',
  step: Um,
  foldFromBar: Um,
): Map<string, Um> | string {
  const value = ({ at }: MatchPoint) => (axis === 'along' ? at[0] : at[1]);
  const found = new Map<string, Um>();
  const ties: { readonly piece: string; readonly a: string; readonly b: string; readonly by: Um }[] = [];
  const groups: string[] = [];
  const onAxes: { readonly piece: string; readonly group: string; readonly by: Um }[] = [];
  for (const piece of pieces) {
    const points = pointsOn(piece, axis, repeat);
    const [first] = points;
    if (first === undefined) continue;
    groups.push(first.group);
    for (const point of points.slice(1)) {
      groups.push(point.group);
      ties.push({ piece: piece.id, a: first.group, b: point.group, by: value(point) - value(first) });
    }
    // Symmetric about its fold, it lies with that on an axis of a design that is symmetric too.
    const onAxis = piece.onFold && mirrors(repeat, axis) && (axis === 'across') === isFoldAlongGrain(piece);
    if (onAxis) onAxes.push({ piece: piece.id, group: first.group, by: value(first) + foldFromBar });
  }
  // Groups tied to a bar first; then those of pieces on the fold, which lies on a bar or half way; then each set from its first one.
  const roots = [{ group: barGroup, by: 0 }, ...onAxes, ...groups.map((group) => ({ group, by: 0 }))];
  for (const { group: root, by: at } of roots) {
    if (found.has(root)) continue;
    found.set(root, modulo(at, step));
    const queue = [root];
    for (let group = queue.shift(); group !== undefined; group = queue.shift()) {
      for (const { a, b, by } of ties) {
        if (a !== group && b !== group) continue;
        const [other, place] = a === group ? [b, found.get(a)! + by] : [a, found.get(b)! - by];
        if (!found.has(other)) {
          // With a drop the column counts: a whole repeat across is half a one along.
          found.set(other, repeat.drop ? place : modulo(place, step));
          queue.push(other);
        }
      }
    }
  }
  for (const { piece, a, b, by } of ties) {
    const whole = repeat.drop && axis === 'across' ? 2 * step : step;
    const off = modulo(found.get(a)! + by - found.get(b)!, whole);
    if (off === 0) continue;
    const least = formatDecimal(Math.min(off, whole - off), umPerUnit.cm, 2);
    return `on ${piece} the points of "${a}" and "${b}" miss the places that other pieces give them by ${least} cm ${axis} the repeat; move a point, or put it in a group of its own`;
  }
  const between = axis === 'across' ? axisStep(repeat)! : step / 2;
  for (const { piece, group, by } of onAxes) {
    const off = modulo(found.get(group)! - by, between);
    if (off === 0) continue;
    const least = formatDecimal(Math.min(off, between - off), umPerUnit.cm, 2);
    return `the fold of ${piece} would lie ${least} cm off an axis of the repeat where its points of "${group}" are on their place; move a point, or put it in a group of its own`;
  }
  return found;
}

/** Whether a design looks the same mirrored on an axis. */
export function mirrors({ mirror }: Repeat, axis: 'along' | 'across'): boolean {
  return mirror === axis || mirror === 'both';
}

/** The rest of a division, never negative. */
export function modulo(value: Um, step: Um): Um {
  return ((value % step) + step) % step;
}

/**
 * The lattices on which a piece laid in one way may have its reference, none when it may not be laid so: turned where the
 * design is not the same turned, or on the cross grain. A piece without points on the repeat may lie anywhere.
 * @param bar place of a bar in the frame of the search
 */
export function latticesOf(
  piece: CutPiece,
  { mirror, turned }: LaidWay,
  repeat: Repeat,
  places: Places,
  [barX, barY]: Point,
): readonly (Lattice | null)[] {
  const along = repeat.along === null ? undefined : pointsOn(piece, 'along', repeat)[0];
  const across = repeat.across === null ? undefined : pointsOn(piece, 'across', repeat)[0];
  if (along === undefined && across === undefined) return [null];
  if (turned % 180 !== 0) return [];
  const isTurned = turned === 180;
  if (isTurned && repeat.along !== null && !mirrors(repeat, 'along')) return [];
  // Mirrored as well as turned it sees the design across as the others do.
  if (isTurned && !mirror && repeat.across !== null && !mirrors(repeat, 'across')) return [];
  const laid = (point: MatchPoint): Point => turnPoint(mirror ? mirrorPoint(point.at) : point.at, turned);
  const seesMirrored = mirror !== isTurned;
  const flipped = seesMirrored && mirrors(repeat, 'across');
  // Where the design is not the same mirrored, a mirrored copy can have one of its points on its place, no second one.
  const apart = pointsOn(piece, 'across', repeat).some(({ at }) => across !== undefined && at[1] !== across.at[1]);
  if (seesMirrored && !flipped && repeat.across !== null && apart) return [];
  const x = along === undefined ? 0 : barX + (isTurned ? -1 : 1) * places.along.get(along.group)! - laid(along)[0];
  const y = across === undefined ? 0 : barY + (flipped ? -1 : 1) * places.across.get(across.group)! - laid(across)[1];
  const lattice = (xStep: Um, xOffset: Um, yStep: Um, yOffset: Um): Lattice => ({ xStep, xOffset, yStep, yOffset });
  const [xStep, yStep] = [along === undefined ? 0 : repeat.along!, across === undefined ? 0 : repeat.across!];
  if (!repeat.drop || xStep === 0 || yStep === 0) return [lattice(xStep, x, yStep, y)];
  return [lattice(xStep, x, 2 * yStep, y), lattice(xStep, x + xStep / 2, 2 * yStep, y + yStep)];
}

/** Whether any of the pieces has a point that is matched along the cloth. */
export function matchesAlong(pieces: readonly CutPiece[], repeat: Repeat | null): boolean {
  return (
    repeat !== null && repeat.along !== null && pieces.some((piece) => pointsOn(piece, 'along', repeat).length > 0)
  );
}

/** Bars that are worth a try, in the flat cloth frame; or why the layers of a lay method would not agree on the repeat. */
export type BarsAnswer =
  | { readonly ok: true; readonly bars: readonly Point[] }
  | { readonly ok: false; readonly why: string };

/** At most so many places of a bar are tried along, and across. */
const barsMost = 3;

/**
 * Where a bar may lie. Folds lie on an axis of the design. Where nothing else says so, a bar lies so that one of the
 * largest pieces begins at the very start, or at an edge: other places would not let it.
 */
export function barsFor(
  folding: Folding,
  cloth: Cloth,
  pieces: readonly CutPiece[],
  places: Places,
  ways: (piece: CutPiece) => readonly LaidWay[],
): BarsAnswer {
  const repeat = cloth.repeat!;
  const across = barsAcross(folding, cloth, repeat, pieces, places, ways);
  if (typeof across === 'string') return { ok: false, why: across };
  const along = barsAlong(folding, cloth, repeat, pieces, places, ways);
  if (typeof along === 'string') return { ok: false, why: along };
  return { ok: true, bars: along.flatMap((x) => across.map((y): Point => [x, y])) };
}

function barsAcross(
  folding: Folding,
  cloth: Cloth,
  repeat: Repeat,
  pieces: readonly CutPiece[],
  places: Places,
  ways: (piece: CutPiece) => readonly LaidWay[],
): readonly Um[] | string {
  const step = repeat.across;
  if (step === null) return [repeat.start?.[1] ?? 0];
  const zones = zonesOf(folding, cloth);
  const turned = folding.method === 'crosswise cut and turned';
  const axes = turned ? [cloth.width / 2] : foldAxes(folding, cloth.width);
  if (axes.length > 0 && !mirrors(repeat, 'across')) {
    return 'the repeat across the cloth is not the same mirrored, so the two layers would not agree; lay it open';
  }
  const between = axisStep(repeat)!;
  const isOnAxis = (bar: Um, axis: Um) => modulo(axis - bar, between) === 0;
  const free = axes.length > 0 ? [axes[0]!, axes[0]! + between] : edgeBars();
  const bars = repeat.start === null ? free : [repeat.start[1]];
  const agreed = bars.filter((bar) => axes.every((axis) => isOnAxis(bar, axis)));
  if (agreed.length > 0) return agreed.slice(0, barsMost);
  return turned
    ? 'the middle of the cloth is no axis of the repeat, so a layer turned over would not agree with the other; lay it open'
    : 'a fold would not lie on an axis of the repeat, so the two layers would not agree; lay it open, or fold it on a bar';

  /** The largest pieces at the left edge, or the middle of the cloth on a bar. */
  function edgeBars(): Um[] {
    const from = zones[0]?.from ?? 0;
    const edges = largestLaid(pieces, 'across', repeat, places, ways).map(({ lattice, minY }) =>
      modulo(from - minY - lattice.yOffset, step!),
    );
    return [...new Set([...edges.slice(0, barsMost - 1), Math.round(cloth.width / 2)])];
  }
}

/**
 * How far across the folds of pieces may lie from a bar, the usual one first: where the cloth is folded says it; pieces cut
 * open may lie on a bar or half way between two.
 * @param barY place of a bar across, in the flat cloth frame
 */
export function foldsFromBar(folding: Folding, { repeat, width }: Cloth, barY: Um): readonly Um[] {
  if (repeat === null || repeat.across === null) return [0];
  const [axis] = foldAxes(folding, width);
  if (axis !== undefined) return [modulo(axis - barY, repeat.across)];
  return repeat.drop ? [0] : [0, repeat.across / 2];
}

/** From one axis of a design across the cloth to the next: half a repeat, or with a drop, which shifts columns, a whole. */
export function axisStep({ across, drop }: Repeat): Um | null {
  return across === null || drop ? across : across / 2;
}

function barsAlong(
  { method }: Folding,
  cloth: Cloth,
  repeat: Repeat,
  pieces: readonly CutPiece[],
  places: Places,
  ways: (piece: CutPiece) => readonly LaidWay[],
): readonly Um[] | string {
  const step = repeat.along;
  if (step === null) return [repeat.start?.[0] ?? 0];
  if (method === 'crosswise fold') {
    if (!mirrors(repeat, 'along')) {
      return 'the repeat along the cloth is not the same mirrored, so the layers of a crosswise fold would not agree; lay it open';
    }
    // The fold is the bar, wherever it comes to lie.
    return repeat.start === null
      ? [0]
      : 'where the crosswise fold lies depends on the length, so not on a bar that is given';
  }
  if (repeat.start !== null) return [repeat.start[0]];
  const starts = largestLaid(pieces, 'along', repeat, places, ways).map(
    ({ lattice, minX }) => cloth.ends[0] + modulo(0 - minX - lattice.xOffset, step),
  );
  return starts.length === 0 ? [cloth.ends[0]] : [...new Set(starts)].slice(0, barsMost);
}

/** The pieces matched on an axis, the largest first, in each way in which they may be laid: their lattice for a bar at 0. */
function largestLaid(
  pieces: readonly CutPiece[],
  axis: 'along' | 'across',
  repeat: Repeat,
  places: Places,
  ways: (piece: CutPiece) => readonly LaidWay[],
): { readonly lattice: Lattice; readonly minX: Um; readonly minY: Um }[] {
  const matched = pieces.filter((piece) => pointsOn(piece, axis, repeat).length > 0);
  return matched
    .sort((a, b) => areaUm2(b.outline) - areaUm2(a.outline))
    .flatMap((piece) =>
      ways(piece).flatMap((way) => {
        const [lattice] = latticesOf(piece, way, repeat, places, [0, 0]);
        const { minX, minY } = boundsOf(laidOutline(piece, way));
        return lattice ? [{ lattice, minX, minY }] : [];
      }),
    );
}

/** The outline laid down: mirrored, turned, tilted. */
export function laidOutline(
  piece: Pick<CutPiece, 'outline'>,
  { mirror, turned, tiltMicrodegrees = 0 }: LaidWay,
): Outline {
  return copyOutline(piece, { mirror, turned, tiltMicrodegrees, at: [0, 0] });
}
