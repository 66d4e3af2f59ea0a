/**
 * Which ways to lay a material are worth searching. Most lay methods are one way; partial and double folds are as many
 * as there are depths, and depths with copies that may lie doubled or single; a combination has several stretches. Of
 * those the ways with the least area per width are taken, each measured by what its fullest band must be long.
 */
import { type Folding, fixedFolding, isStrip, type LayZone, zonesOf } from '../cloth/folding.js';
import { isFoldAlongGrain, singleWays } from '../cloth/lay-rules.js';
import { type Cloth, type DeclaredCloth, type LayName, layNames } from '../cloth/types.js';
import { areaUm2, boundsOf } from '../geometry/outline.js';
import { areSeveralGarments, garmentCount, garmentsOf, isTurnedGarment, numbersOf } from '../pieces/garments.js';
import { isOwnMirrorImage } from '../pieces/mirror-image.js';
import type { CutPiece } from '../pieces/types.js';
import { halfOf, type Posed, type PoseOrder, poseProblem, type TooWide } from '../problem/build.js';
import { latticeDown, latticeUp } from '../problem/lattice.js';
import { sumWanted, turnsToldBy, wantedOf } from '../problem/pins.js';
import { axisStep, barsFor, foldsFromBar, matchesAlong, placesOf } from '../problem/repeat.js';
import { umPerUnit } from '../units/length.js';
import type { Point, Um } from '../units/types.js';

/** One way to lay everything: the stretches one after another, each posed. */
export interface Way {
  readonly method: LayName;
  readonly stretches: readonly Posed[];
  /** Pieces that have no place; it cannot be laid then. */
  readonly tooWide: readonly TooWide[];
}

export type WaysAnswer =
  | { readonly legal: true; readonly ways: readonly Way[] }
  | { readonly legal: false; readonly why: string };

/** Of the ways of one method at most so many are searched. */
const waysMost = 4;
/** At most so many depths are looked at, those of one and two pieces first ... */
const depthsMost = 160;
/** ... of so many extents across, those of the largest pieces. */
const extentsMost = 24;
/** Of one depth so many places of a bar are tried. */
const barsOfDepth = 2;
/** Depths are whole millimetres, so that they can be folded by a tape. */
const depthStep: Um = umPerUnit.mm;

/** Lay methods that a cloth may be laid by: all that lie flat, when the cut list does not name one. */
export function methodsOf({ method }: DeclaredCloth): readonly LayName[] {
  // Cloth woven or knitted as a tube is said to be so.
  return method === 'best' ? layNames.filter((name) => name !== 'tube') : [method];
}

/**
 * The ways of one method for these pieces, at least one when it is legal.
 * @param kept only this folding, on this bar: what is pinned lies on it
 */
export function waysOf(
  method: LayName,
  declared: DeclaredCloth,
  order: PoseOrder,
  kept: KeptFolding | null = null,
): WaysAnswer {
  const { cloth } = declared;
  const told = turnsToldBy(order.pins ?? [], order.pieces, order.garments, cloth);
  const plain = waysAlike(method, declared, { ...order, turned: told.turned }, kept);
  const several = areSeveralGarments(order.pieces, order.garments);
  if (cloth.nap !== 'each-garment' || !several || !plain.legal || method === 'combination') return plain;
  // Half of the garments the other way round, as far as nothing says how they lie.
  const all = new Set(order.pieces.flatMap((piece) => numbersOf(garmentsOf(piece, order.garments))));
  const half = [...all].filter((each) => isTurnedGarment(each) && !told.upright.has(each));
  const turned = waysAlike(method, declared, { ...order, turned: new Set([...told.turned, ...half]) }, kept);
  return turned.legal ? { legal: true, ways: [...turned.ways, ...plain.ways].slice(0, waysMost) } : plain;
}

/** How the cloth of a lay lies that is gone on with. */
export interface KeptFolding {
  readonly folding: Folding;
  /** Where its lay takes a bar of the repeat to lie, when the cloth does not say. */
  readonly barAt: Point | null;
  /** By piece: so many of its pairs lay doubled besides what is pinned. */
  readonly doubled: ReadonlyMap<string, number>;
}

function waysAlike(method: LayName, declared: DeclaredCloth, order: PoseOrder, kept: KeptFolding | null): WaysAnswer {
  if (kept !== null) {
    const { folding, barAt } = kept;
    const why = 'it leaves no place for what is to be laid besides what is pinned; unpin something';
    return method === 'partial fold' || method === 'double fold'
      ? bestOf([folding], declared, order, why, kept)
      : posedOnBars(folding, declared.cloth, order, waysMost, barAt);
  }
  if (method === 'combination') return combinations(declared, order);
  if (method === 'partial fold') return foldedPartly(declared, order);
  if (method === 'double fold') return foldedTwice(declared, order);
  return posedOnBars(fixedFolding(method, declared.cloth)!, declared.cloth, order, waysMost);
}

/** One way for each place of a bar that is worth a try; on cloth without a repeat, one. */
function posedOnBars(
  folding: Folding,
  cloth: Cloth,
  order: PoseOrder,
  most: number,
  keptBar: Point | null = null,
): WaysAnswer {
  const bars = keptBar === null ? barsOf(folding, cloth, order) : [keptBar];
  if (typeof bars === 'string') return { legal: false, why: bars };
  const ways: Way[] = [];
  let why = '';
  for (const barAt of bars.slice(0, most)) {
    const answer = poseProblem(folding, cloth, barAt === null ? order : { ...order, barAt });
    if (answer.legal) {
      ways.push({ method: folding.method, stretches: [answer.posed], tooWide: answer.tooWide });
    } else why = answer.why;
  }
  return ways.length > 0 ? { legal: true, ways } : { legal: false, why };
}

/** Places of a bar in the flat cloth frame, [null] without a repeat; or why no lay of this kind agrees with it. */
function barsOf(folding: Folding, cloth: Cloth, { pieces }: PoseOrder): readonly (Point | null)[] | string {
  if (cloth.repeat === null) return [null];
  const places = placesOf(pieces, cloth.repeat);
  if (!places.ok) return places.why;
  const bars = barsFor(folding, cloth, pieces, places.places, (piece) => singleWays(cloth, piece));
  return bars.ok ? bars.bars : bars.why;
}

function foldedPartly(declared: DeclaredCloth, order: PoseOrder): WaysAnswer {
  const { cloth, foldUm } = declared;
  if (foldUm !== null && 2 * foldUm >= cloth.width) {
    return { legal: false, why: 'the fold is as deep as half the width, which is a lengthwise fold' };
  }
  const depths = foldUm === null ? depthsFor(declared, order).filter((depth) => 2 * depth < cloth.width) : [foldUm];
  const foldings = depths.map((depth): Folding => ({ method: 'partial fold', folds: [depth, 0] }));
  return bestOf(
    foldings,
    declared,
    order,
    'nothing is left single when it is folded deep enough for its pieces; lay it open or on a lengthwise fold',
  );
}

function foldedTwice(declared: DeclaredCloth, order: PoseOrder): WaysAnswer {
  const { width, repeat } = declared.cloth;
  const depths = depthsFor(declared, order);
  // Both folds lie on an axis of a repeat across.
  const onAxis = (left: Um, right: Um) =>
    repeat?.across == null ? right : width - left - latticeDown(width - left - right, axisStep(repeat)!, 0);
  const foldings = depths.flatMap((left) =>
    [...depths, width / 2 - left]
      .map((right) => onAxis(left, right))
      .filter((right) => right > 0 && right <= left && left + right <= width / 2 && Number.isInteger(right))
      .map((right): Folding => ({ method: 'double fold', folds: [left, right] })),
  );
  return bestOf(foldings, declared, order, 'two folds leave too little for its pieces; lay it open or on one fold');
}

/**
 * Depths at which something more comes to lie side by side: what one, two or three placements on the fold take up
 * across.
 */
function depthsFor({ cloth }: DeclaredCloth, order: PoseOrder): readonly Um[] {
  const extents = new Set<Um>();
  const byArea = [...order.pieces].sort((a, b) => areaUm2(b.outline) - areaUm2(a.outline));
  for (const piece of byArea) {
    const { minY, maxY } = boundsOf(piece.outline);
    if (piece.onFold && isFoldAlongGrain(piece)) extents.add(Math.ceil((maxY - minY) / 2));
    else if (!piece.onFold) extents.add(maxY - minY + halfOf(cloth.gap));
  }
  const ones = [...extents].slice(0, extentsMost);
  const beside = (a: Um, b: Um) => a + b + cloth.gap;
  const twos = ones.flatMap((a, i) => ones.slice(i).map((b) => beside(a, b)));
  const threes = ones.flatMap((a) => twos.map((b) => beside(a, b)));
  const { repeat } = cloth;
  // Of a repeat across whose bars are known the fold lies on one, or half way between.
  const start = repeat?.across == null ? null : repeat.start?.[1];
  const lost = Math.max(cloth.usable[0], cloth.width - cloth.usable[1], halfOf(cloth.gap));
  const depths = [...ones, ...twos, ...threes]
    .map((extent) => Math.ceil((extent + lost) / depthStep) * depthStep)
    .map((depth) => (start == null ? depth : latticeUp(depth, axisStep(repeat!)!, start)))
    .filter((depth) => 2 * depth <= cloth.width);
  return [...new Set(depths)].slice(0, depthsMost);
}

interface Estimated {
  readonly folding: Folding;
  readonly singlePairs: ReadonlyMap<string, number>;
  readonly lengthUm: number;
}

/** The most promising ways among these depths. */
function bestOf(
  foldings: readonly Folding[],
  declared: DeclaredCloth,
  order: PoseOrder,
  whyNone: string,
  kept: KeptFolding | null = null,
): WaysAnswer {
  const { cloth } = declared;
  const loads = order.pieces.map((piece) => loadOf(piece, cloth.gap, cloth.faces === 'both', order));
  const estimated = foldings
    .flatMap((folding) => estimate(folding, cloth, loads, order))
    .sort((a, b) => a.lengthUm - b.lengthUm || a.folding.folds[0] - b.folding.folds[0]);
  const ways: Way[] = [];
  let why = whyNone;
  const asKept = kept === null ? [] : [{ folding: kept.folding, singlePairs: singlePairsAsKept(loads, kept) }];
  for (const { folding, singlePairs } of [...estimated, ...asKept]) {
    const answer = posedOnBars(folding, declared.cloth, { ...order, singlePairs }, barsOfDepth, kept?.barAt ?? null);
    if (!answer.legal) why = answer.why;
    else ways.push(...answer.ways.filter(({ tooWide }) => tooWide.length === 0));
    if (ways.length >= waysMost) break;
  }
  return ways.length === 0 ? { legal: false, why } : { legal: true, ways: ways.slice(0, waysMost) };
}

/** Pairs that lay single stay so: the rest of a lay can at least be laid as it lay. */
function singlePairsAsKept(loads: readonly Load[], { doubled }: KeptFolding): ReadonlyMap<string, number> {
  return new Map(loads.map(({ piece, pairs }) => [piece.id, Math.max(0, pairs - (doubled.get(piece.id) ?? 0))]));
}

/** What one kind of copies of a piece takes up, doubled or single. */
interface Load {
  readonly piece: CutPiece;
  readonly pairs: number;
  readonly areaUm2: number;
  readonly alongUm: Um;
  /** What a pair takes up across on doubled cloth, and a single copy on single cloth. */
  readonly pairAcrossUm: Um;
  readonly acrossUm: Um;
  readonly onFold: boolean;
}

/**
 * Pairs lie doubled where they have room, and single elsewhere; and another way in which so many of them lie single
 * that both bands come out about as long.
 */
function estimate(folding: Folding, cloth: Cloth, loads: readonly Load[], order: PoseOrder): Estimated[] {
  const zones = zonesOf(folding, cloth);
  const heightOf = (layers: 1 | 2) => zones.filter((zone) => zone.layers === layers).map(heightOfZone);
  const [doubled, single] = [Math.max(0, ...heightOf(2)), Math.max(0, ...heightOf(1))];
  const [doubledSum, singleSum] = [sumOf(heightOf(2)), sumOf(heightOf(1))];
  const forced = loads.filter(({ pairs, onFold, pairAcrossUm }) => !onFold && pairs > 0 && pairAcrossUm > doubled);
  if (forced.some(({ acrossUm }) => acrossUm > single)) return [];
  const isForced = new Set(forced);
  let [doubledArea, singleArea, longest] = [0, 0, 0];
  for (const load of loads) {
    const { piece, pairs, onFold, areaUm2: area, alongUm, acrossUm } = load;
    const count = countOf(piece, order);
    const odd = onFold ? 0 : count - 2 * pairs;
    if (odd > 0 && acrossUm > single) return [];
    longest = Math.max(longest, alongUm);
    singleArea += odd * area;
    if (onFold && count > 0 && acrossUm / 2 > doubled && acrossUm > single) return [];
    if (onFold) {
      if (acrossUm / 2 <= doubled) doubledArea += (count * area) / 2;
      else singleArea += count * area;
    } else if (isForced.has(load)) singleArea += 2 * pairs * area;
    else doubledArea += pairs * area;
  }
  const lengthOf = (doubledNow: number, singleNow: number) =>
    Math.max(longest, over(doubledNow, doubledSum), over(singleNow, singleSum));
  const plain = new Map(forced.map(({ piece, pairs }) => [piece.id, pairs]));
  const found: Estimated[] = [{ folding, singlePairs: plain, lengthUm: lengthOf(doubledArea, singleArea) }];
  const evened = new Map(plain);
  const free = loads.filter((load) => !load.onFold && load.pairs > 0 && !isForced.has(load) && load.acrossUm <= single);
  for (const { piece, pairs, areaUm2: area } of free.sort((a, b) => b.areaUm2 - a.areaUm2)) {
    for (let k = 1; k <= pairs; k++) {
      const next: [number, number] = [doubledArea - area, singleArea + 2 * area];
      if (lengthOf(...next) >= lengthOf(doubledArea, singleArea)) break;
      [doubledArea, singleArea] = next;
      evened.set(piece.id, k);
    }
  }
  if (evened.size > plain.size) {
    found.push({ folding, singlePairs: evened, lengthUm: lengthOf(doubledArea, singleArea) });
  }
  return found;
}

function over(area: number, height: number): number {
  return area === 0 ? 0 : height === 0 ? Number.POSITIVE_INFINITY : area / height;
}

function heightOfZone({ from, to }: LayZone): Um {
  return to - from;
}

/** The sum of some numbers. */
export function sumOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0);
}

function loadOf(piece: CutPiece, gap: Um, turnsOver: boolean, order: PoseOrder): Load {
  const { minX, minY, maxX, maxY } = boundsOf(piece.outline);
  const { asDrawn, mirrored } = demandOf(piece, order);
  const anyTwo = turnsOver || isOwnMirrorImage(piece);
  return {
    piece,
    pairs: piece.onFold ? 0 : anyTwo ? Math.floor((asDrawn + mirrored) / 2) : Math.min(asDrawn, mirrored),
    areaUm2: areaUm2(piece.outline),
    alongUm: maxX - minX,
    pairAcrossUm: maxY - minY + halfOf(gap),
    acrossUm: maxY - minY,
    onFold: piece.onFold,
  };
}

/**
 * Folded lengthwise for what lies doubled, then open for the rest; and once more with some of the pairs in the open
 * stretch, as many as fill it up.
 */
function combinations(declared: DeclaredCloth, order: PoseOrder): WaysAnswer {
  const { cloth } = declared;
  if (cloth.flaws.some((flaw) => !isStrip(flaw))) {
    return {
      legal: false,
      why: 'where the second stretch begins, and so what lies on a flaw, depends on the first; lay it open or folded along',
    };
  }
  if (matchesAlong(order.pieces, cloth.repeat)) {
    return {
      legal: false,
      why: 'where the second stretch begins, and so its place on the repeat, depends on the first; lay it open or folded along',
    };
  }
  const folding = fixedFolding('lengthwise fold', cloth)!;
  const bars = barsOf(folding, cloth, order);
  if (typeof bars === 'string') return { legal: false, why: bars };
  // Points of one group lie on one place in both stretches, so both take the fold's from the one that has it.
  const bar = bars[0] == null ? {} : { barAt: bars[0], foldFromBar: foldsFromBar(folding, cloth, bars[0][1])[0]! };
  const height = Math.max(0, ...zonesOf(folding, cloth).map(heightOfZone));
  if (height === 0) return { legal: false, why: 'nothing can lie folded, so one lay method is enough; lay it open' };
  const splits = order.pieces.map((piece) => {
    const load = loadOf(piece, cloth.gap, cloth.faces === 'both', order);
    const fits = load.onFold ? load.acrossUm / 2 <= height : load.pairAcrossUm <= height;
    const pairs = fits ? load.pairs : 0;
    const whole = load.onFold && fits && isFoldAlongGrain(piece);
    return { load, pairs, whole };
  });
  const odd = splits.filter(({ load, pairs, whole }) => !whole && 2 * pairs < countOf(load.piece, order));
  if (odd.length === 0)
    return { legal: false, why: 'everything can lie folded, so one lay method is enough; lay it on a lengthwise fold' };
  if (odd.length === splits.length && splits.every(({ pairs }) => pairs === 0)) {
    return { legal: false, why: 'nothing can lie folded, so one lay method is enough; lay it open' };
  }
  const usable = cloth.usable[1] - cloth.usable[0];
  const openLength = Math.max(...odd.map(({ load }) => load.alongUm));
  const openArea = sumOf(odd.map(({ load, pairs }) => (countOf(load.piece, order) - 2 * pairs) * load.areaUm2));
  const filled = new Map(splits.map(({ load, pairs }) => [load.piece.id, pairs]));
  let room = openLength * usable * openFill - openArea;
  for (const { load, pairs } of [...splits].sort((a, b) => b.load.areaUm2 - a.load.areaUm2)) {
    if (load.alongUm > openLength || pairs === 0) continue;
    const more = Math.min(pairs, Math.floor(room / (2 * load.areaUm2)));
    if (more <= 0) continue;
    room -= more * 2 * load.areaUm2;
    filled.set(load.piece.id, pairs - more);
  }
  const plans = [new Map(splits.map(({ load, pairs }) => [load.piece.id, pairs])), filled];
  const isSame = [...filled].every(([id, pairs]) => plans[0]!.get(id) === pairs);
  const ways: Way[] = [];
  for (const pairsOf of isSame ? plans.slice(0, 1) : plans) {
    const doubled = splits.map(({ load: { piece }, whole }) =>
      whole ? demandOf(piece, order) : takePairs(piece, pairsOf.get(piece.id)!, order),
    );
    const folded = splits.map(({ load: { piece } }, i) => ({ ...piece, demand: doubled[i]!, garments: undefined }));
    const rest = splits.map(({ load: { piece } }, i): CutPiece => {
      const all = demandOf(piece, order);
      const { asDrawn, mirrored } = doubled[i]!;
      const demand = { asDrawn: all.asDrawn - asDrawn, mirrored: all.mirrored - mirrored };
      return { ...piece, demand, garments: undefined };
    });
    const first = poseProblem(folding, cloth, { pieces: folded, garments: 1, ...bar });
    const second = poseProblem(fixedFolding('open', cloth)!, cloth, { pieces: rest, garments: 1, ...bar });
    if (!first.legal) return first;
    if (!second.legal) return second;
    if (first.posed.kinds.length === 0 || second.posed.kinds.length === 0) continue;
    const tooWide = [...first.tooWide, ...second.tooWide];
    ways.push({ method: 'combination', stretches: [first.posed, second.posed], tooWide });
  }
  return ways.length > 0 ? { legal: true, ways } : { legal: false, why: 'one lay method is enough for its pieces' };
}

/** Share of an open stretch that pieces can be hoped to fill. */
const openFill = 0.85;

/** What is to be laid of a piece in all, less what is pinned. */
function demandOf(piece: CutPiece, { garments, pins = [] }: PoseOrder): CutPiece['demand'] {
  const times = garmentCount(piece, garments);
  const { asDrawn, mirrored } = piece.demand;
  if (pins.length === 0) return { asDrawn: asDrawn * times, mirrored: mirrored * times };
  return sumWanted(wantedOf(piece, garments, pins), () => true);
}

function countOf(piece: CutPiece, order: PoseOrder): number {
  const { asDrawn, mirrored } = demandOf(piece, order);
  return asDrawn + mirrored;
}

/** The copies of so many pairs; of a piece whose left and right copies are alike its demand stands under one of them. */
function takePairs(piece: CutPiece, pairs: number, order: PoseOrder): CutPiece['demand'] {
  const { asDrawn, mirrored } = demandOf(piece, order);
  const mirroredTaken = Math.min(mirrored, pairs);
  return { asDrawn: Math.min(asDrawn, 2 * pairs - mirroredTaken), mirrored: mirroredTaken };
}
