/**
 * What a placement yields. On a single layer one copy. On a doubled one two, one lying exactly on the other, each in its
 * own layer; or one copy that lies across the fold, its fold edge on it. No placement crosses the end of a doubled band.
 */
import type { Cloth } from '../cloth/types.js';
import type { Outline, Point, Um } from '../units/types.js';
import { type Box, boxOf } from './exact.js';
import { type DoubledBand, doubledBands, partnerOf } from './layers.js';
import { farthest } from './outlines.js';
import type { Laid, Part } from './parts.js';
import type { Refusal } from './types.js';
import { amount, mm, refuse } from './words.js';

/** Whether one placement and its copies are what the lay rules allow on this cloth. */
export function checkPlacement(laid: Laid, cloth: Cloth): Refusal[] {
  const [first, second] = laid.parts;
  if (first === undefined) return [];
  const { method } = laid.stretch;
  if (method === 'crosswise fold' || method === 'crosswise cut and turned') return checkCrosswise(laid, cloth);
  const bands = doubledBands(laid.stretch, cloth);
  const boxes = laid.parts.map(({ copy }) => boxOf(copy.outline));
  const band = bands.find((one) => isWithin(boxes[0]!, one)) ?? null;
  if (band === null) {
    const cut = bands.find((one) => boxes[0]!.low < one.to && boxes[0]!.high > one.from);
    if (cut !== undefined) return [refuseCrossing(first, boxes[0]!, cut)];
    if (second === undefined) return [];
    const who = `placement ${laid.placement.n} (${laid.piece.id})`;
    const what = `${who} yields copies ${first.copy.n} and ${second.copy.n}, but single cloth gives one at a time`;
    return [refuse('pair-on-open', what)];
  }
  if (second === undefined) return checkOnFold(first, bands);
  const refusals = checkAlike(first, second, partnerOf(laid.stretch, band, cloth.width, true)!);
  for (const [i, { name }] of laid.parts.entries()) {
    // In which layer it lies, its middle tells; then it may not reach over any fold of its band.
    const { low, high } = boxes[i]!;
    const over = low + high < band.twiceFold ? 2 * high - band.twiceFold : band.twiceFold - 2 * low;
    if (over > 0) refusals.push(refuse('over-fold', `${name} reaches ${mm(over / 2)} over the fold`));
  }
  return refusals;
}

function isWithin({ low, high }: Box, { from, to }: DoubledBand): boolean {
  return low >= from && high <= to;
}

function refuseCrossing({ name }: Part, { low, high }: Box, { from, to }: DoubledBand): Refusal {
  const over = high > to ? high - to : from - low;
  return refuse('crosses-edge', `${name} reaches ${mm(over)} over the edge of the turned-over part it lies on`);
}

/** Two copies cut at once: opposite hands, and one lies exactly where the layers put it against the other. */
function checkAlike(first: Part, second: Part, partner: (point: Point) => Point): Refusal[] {
  const refusals: Refusal[] = [];
  if (first.copy.mirror === second.copy.mirror) {
    const both = first.copy.mirror ? 'both mirrored' : 'neither mirrored';
    refusals.push(
      refuse('pair-alike', `${first.name} and ${second.name} come from one cut through doubled cloth but are ${both}`),
    );
  }
  const reflected = reflect(first.copy.outline, partner);
  if (reflected.length !== second.copy.outline.length) {
    const counts = `${second.copy.outline.length} points, not ${reflected.length}`;
    refusals.push(
      refuse('not-reflected', `${second.name} does not lie on ${first.name} in the other layer: it has ${counts}`),
    );
    return refusals;
  }
  const off = farthest(reflected, second.copy.outline);
  if (off > 0)
    refusals.push(
      refuse('not-reflected', `${second.name} is off its place on ${first.name} in the other layer by ${amount(off)}`),
    );
  return refusals;
}

/** What lies on an outline in the other layer, listed from the image of the last point on, as the lay file lists it. */
function reflect(outline: Outline, partner: (point: Point) => Point): Outline {
  return [...outline].reverse().map(partner);
}

function checkOnFold({ copy, piece, name }: Part, bands: readonly DoubledBand[]): Refusal[] {
  if (!piece.onFold)
    return [refuse('single-on-doubled', `${name} lies single on doubled cloth, but its piece is not cut on the fold`)];
  if (foldPoints(piece).some(([, y]) => y !== 0)) {
    const why = 'the fold edge of its piece is square to the grain';
    return [refuse('fold-square-to-grain', `${name} lies on a fold along the cloth, but ${why}`)];
  }
  const { low, high } = boxOf(copy.outline);
  const [near] = [...bands].sort((a, b) => Math.abs(low + high - a.twiceFold) - Math.abs(low + high - b.twiceFold));
  const off = Math.abs(low + high - near!.twiceFold);
  if (off > 0) return [refuse('off-fold', `the middle of ${name} lies ${mm(off / 2)} beside the fold`)];
  return checkHalves(copy.outline, name, ([x, y]) => [x, near!.twiceFold - y]);
}

/** Doubled across: both layers lie one after another along the cloth. */
function checkCrosswise({ parts, stretch, placement, piece }: Laid, { width }: Cloth): Refusal[] {
  const [first, second] = parts as [Part, Part | undefined];
  const { foldX, cutX } = stretch;
  const at = foldX ?? cutX;
  // The stretch itself is refused elsewhere.
  if (at === undefined) return [];
  if (second === undefined) return checkAcrossFold(first, foldX ?? null, placement.n, piece.id);
  const isNear = boxOf(first.copy.outline).left <= boxOf(second.copy.outline).left;
  const refusals = checkAlike(first, second, partnerOf(stretch, null, width, isNear)!);
  const [near, far] = isNear ? [first, second] : [second, first];
  const over = (um: Um, name: string) => {
    const where = foldX === undefined ? 'over the cut' : 'over the fold';
    if (um > 0) refusals.push(refuse('over-fold', `${name} reaches ${mm(um)} ${where}`));
  };
  over(boxOf(near.copy.outline).right - at, near.name);
  over(at - boxOf(far.copy.outline).left, far.name);
  return refusals;
}

function checkAcrossFold({ copy, piece, name }: Part, foldX: Um | null, n: number, id: string): Refusal[] {
  if (foldX === null || !piece.onFold)
    return [refuse('single-on-doubled', `placement ${n} (${id}) yields one copy, but cloth doubled across gives two`)];
  if (foldPoints(piece).some(([x]) => x !== 0)) {
    const why = 'the fold edge of its piece runs along the grain';
    return [refuse('fold-along-grain', `${name} lies on a fold across the cloth, but ${why}`)];
  }
  const { left, right } = boxOf(copy.outline);
  const off = Math.abs(left + right - 2 * foldX);
  if (off > 0) return [refuse('off-fold', `the middle of ${name} lies ${mm(off / 2)} beside the fold`)];
  return checkHalves(copy.outline, name, ([x, y]) => [2 * foldX - x, y]);
}

function foldPoints({ lines }: Part['piece']): Point[] {
  return lines.flatMap(({ kind, points }) => (kind === 'fold' ? [...points] : []));
}

/** The reflected ring is the ring itself, perhaps listed from another point on. */
function checkHalves(outline: Outline, name: string, partner: (point: Point) => Point): Refusal[] {
  const reflected = reflect(outline, partner);
  const [x, y] = reflected[0]!;
  const start = outline.findIndex((point) => point[0] === x && point[1] === y);
  const isSame =
    start >= 0 &&
    reflected.every((point, i) => {
      const own = outline[(start + i) % outline.length]!;
      return own[0] === point[0] && own[1] === point[1];
    });
  if (isSame) return [];
  const what = `${name} lies across the fold, but its two halves are not mirror images in the fold line`;
  return [refuse('halves-differ', what)];
}
