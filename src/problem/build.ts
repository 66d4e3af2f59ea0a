/**
 * From lay rules to frozen numbers: shapes, choices, zones. Also remembers what each kind and choice means, so that
 * a solution can become a lay again.
 *
 * Search frame: x = 0 is where placements begin on the layer on the table; y is that of the flat cloth frame. On cloth
 * folded across x = 0 is the fold.
 */
import { createHash } from 'node:crypto';
import { type Folding, foldSumAt, isCrosswise, isStrip, type LayZone, zonesOf } from '../cloth/folding.js';
import {
  isFoldAlongGrain,
  type LaidWay,
  layRules,
  type PlacementForm,
  type PlacementRule,
} from '../cloth/lay-rules.js';
import type { Cloth } from '../cloth/types.js';
import { assert } from '../diagnostics/assert.js';
import { boundsOf, firstCrossing, mirrorOutline, ringKey, turnOutline } from '../geometry/outline.js';
import { roomOf } from '../lay/totals.js';
import { isOwnMirrorImage } from '../pieces/mirror-image.js';
import type { CutPiece } from '../pieces/types.js';
import type { Outline, Point, Um } from '../units/types.js';
import { latticeUp } from './lattice.js';
import { type LyingPin, lyingPin, movedBy, type Pin, sumWanted, wantedOf } from './pins.js';
import { foldsFromBar, laidOutline, latticesOf, modulo, type Places, placesOf } from './repeat.js';
import type { Blocked, Choice, Kind, Lattice, Pinned, Problem, Shape } from './types.js';

/** What a choice of a kind stands for: a piece on the fold that lies unfolded has the form `single`. */
export interface ChoiceMeaning extends LaidWay {
  readonly form: PlacementForm;
}

/** What a kind of the problem stands for. */
export interface KindMeaning {
  readonly piece: CutPiece;
  readonly rule: PlacementRule;
  /** It belongs to the garments that lie turned. */
  readonly isTurned: boolean;
  /** Parallel to the kind's choices. */
  readonly choices: readonly ChoiceMeaning[];
}

export interface Posed {
  readonly folding: Folding;
  /** Garments that lie turned end for end. */
  readonly turned: ReadonlySet<number>;
  /** What stays where it lies. */
  readonly pins: readonly Pin[];
  /** Where a bar of the repeat was taken to lie, in the flat cloth frame; null when it matters to no piece. */
  readonly barAt: Point | null;
  readonly problem: Problem;
  readonly kinds: readonly KindMeaning[];
}

/** A piece that cannot lie anywhere across the cloth, however it may be turned. */
export interface TooWide {
  readonly piece: CutPiece;
  /** Its least extent across the cloth, and what there is. */
  readonly needsUm: Um;
  readonly usableUm: Um;
}

export type PoseAnswer =
  | { readonly legal: true; readonly posed: Posed; readonly tooWide: readonly TooWide[] }
  | { readonly legal: false; readonly why: string };

/** What is laid down together. */
export interface PoseOrder {
  readonly pieces: readonly CutPiece[];
  /** Of the whole lay; a piece may say which of them it is for. */
  readonly garments: number;
  /** Garments that lie wholly turned end for end. */
  readonly turned?: ReadonlySet<number>;
  /** Placements that stay where they lie; the rest is laid besides them. */
  readonly pins?: readonly Pin[];
  /** By piece: so many of its pairs lie as two placements each on the single part of the cloth. */
  readonly singlePairs?: ReadonlyMap<string, number>;
  /** Where a bar of the repeat lies in the flat cloth frame; on a crosswise fold it lies on the fold. */
  readonly barAt?: Point;
  /** How far across the folds of pieces lie from a bar, where another stretch of the same lay says it. */
  readonly foldFromBar?: Um;
}

/**
 * Poses the search for one way to fold the cloth.
 * @returns the problem, with pieces that are too wide named (their kinds then have no choices); or why the method
 *   is not legal for these pieces on this cloth
 */
export function poseProblem(folding: Folding, cloth: Cloth, order: PoseOrder): PoseAnswer {
  const { pieces, turned = new Set<number>(), pins = [], singlePairs, barAt = [cloth.ends[0], 0] } = order;
  const { method } = folding;
  const flaws = cloth.flaws.filter((flaw) => !isStrip(flaw));
  if (flaws.length > 0 && isCrosswise(method)) return { legal: false, why: whyNoFlaws };
  const zones = zonesOf(folding, cloth);
  if (zones.length === 0) return { legal: false, why: 'nothing of the width is left to lay on' };
  const pieceOf = new Map(pieces.map((piece) => [piece.id, piece]));
  const lying = pins.map((pin) => lyingPin(pin, zones, halfOn));
  const offDesign = (design: Design | null) =>
    pins.find((pin, i) => !isOnDesign(lying[i]!, pieceOf.get(pin.placement.piece)!, cloth, design));
  const froms = order.foldFromBar === undefined ? foldsFromBar(folding, cloth, barAt[1]) : [order.foldFromBar];
  const designs = designsFor(folding, cloth, pieces, barAt, froms);
  if (typeof designs === 'string') return { legal: false, why: designs };
  const design = designs.find((each) => offDesign(each) === undefined) ?? designs[0]!;
  const off = offDesign(design);
  if (off !== undefined) return { legal: false, why: whyOffDesign(off) };
  const shapes = new ShapeTable();
  const kinds: Kind[] = [];
  const meanings: KindMeaning[] = [];
  const tooWide: TooWide[] = [];
  const groups = pieces.flatMap((piece) => groupsOf(piece, order.garments, turned, pins));
  for (const { piece, share, ...group } of groups) {
    const singlePairsHere = Math.round((singlePairs?.get(piece.id) ?? 0) * share);
    const frame = { method, zones, cloth, ...group, singlePairs: singlePairsHere };
    const answer = layRules(piece, isOwnMirrorImage(piece), frame);
    if (!answer.legal) return answer;
    for (const rule of answer.rules) {
      const { choices, meaning, needsUm, usableUm, hasRoom } = choicesOf(rule, piece, {
        folding,
        zones,
        cloth,
        shapes,
        design,
      });
      if (choices.length === 0 && !Number.isFinite(needsUm)) return { legal: false, why: whyNoFold(piece) };
      if (choices.length === 0 && hasRoom) return { legal: false, why: whyNoPlace(piece) };
      if (choices.length === 0) tooWide.push({ piece, needsUm, usableUm });
      kinds.push({ name: piece.id, count: rule.count, choices });
      meanings.push({ piece, rule, isTurned: group.isTurned, choices: meaning });
    }
  }
  const pinned = lying.map((each, i) => pinnedAs(each, pins[i]!.placement.piece, cloth, shapes));
  const places = pinned.map(({ shape, x, y }) => ({ shape, x, y }));
  const blocked = [...blockedBy(flaws, folding, zones, cloth, shapes), ...places];
  const unhashed = {
    zones: zones.map(({ from, to }) => ({ yFrom: from, yTo: to })),
    shapes: shapes.shapes,
    kinds,
    blocked,
    ...(pinned.length === 0 ? {} : { pinned }),
    gapUm: cloth.gap,
    lengthMaxUm: lengthMaxOf(folding, cloth, pieces),
  };
  const problem = { ...unhashed, hash: hashNumbers(unhashed) };
  const isMatched = cloth.repeat !== null && pieces.some(({ match }) => match.length > 0);
  const bar = isMatched && cloth.repeat?.start === null ? (order.barAt ?? null) : null;
  return { legal: true, posed: { folding, turned, pins, barAt: bar, problem, kinds: meanings }, tooWide };
}

/** What the garments of a piece still want: those that lie upright, and those that lie turned; with their share of all. */
function groupsOf(piece: CutPiece, garments: number, turned: ReadonlySet<number>, pins: readonly Pin[]) {
  const wanted = wantedOf(piece, garments, pins);
  return [false, true].flatMap((isTurned) => {
    const own = [...wanted.keys()].filter((garment) => turned.has(garment) === isTurned);
    const demand = sumWanted(wanted, (garment) => turned.has(garment) === isTurned);
    const rest: CutPiece = { ...piece, demand, garments: undefined };
    return own.length === 0 ? [] : [{ piece: rest, isTurned, share: own.length / wanted.size }];
  });
}

/** A pinned placement as the search has it. */
function pinnedAs({ zone, outline, copy }: LyingPin, piece: string, { ends }: Cloth, shapes: ShapeTable): Pinned {
  const [dx, dy] = copy.at;
  const shape = shapes.indexOf(movedBy(outline, [-dx, -dy]), 0);
  return { name: piece, shape, zone, x: dx - ends[0], y: dy };
}

/** What is pinned lies on the places that the others of its match groups are to have, or they could not lie at all. */
function isOnDesign({ copy }: LyingPin, piece: CutPiece, { ends, repeat }: Cloth, design: Design | null): boolean {
  if (design === null) return true;
  const [x, y] = [copy.at[0] - ends[0], copy.at[1]];
  return latticesOf(piece, copy, repeat!, design.places, design.bar).some(
    (lattice) =>
      lattice === null ||
      (latticeUp(x, lattice.xStep, lattice.xOffset) === x && latticeUp(y, lattice.yStep, lattice.yOffset) === y),
  );
}

function whyOffDesign({ placement }: Pin): string {
  return `${placement.piece}, pinned in placement ${placement.n}, is matched, and lies on another place of the repeat than the rest would; unpin it, or plan anew`;
}

function whyNoFold({ id }: CutPiece): string {
  return `${id} is cut on the fold, and nothing is to be cut where the cloth would be folded; lay it open, or on a partial or double fold`;
}

function whyNoPlace({ id }: CutPiece): string {
  return `no place of the repeat suits ${id}: it may be too wide for the nearest one, or matched across at two points, which a mirrored copy cannot be where the repeat is not the same mirrored; match it at one point, or along only`;
}

/** The repeat as the search has it. */
interface Design {
  readonly places: Places;
  /** Place of a bar in the search frame. */
  readonly bar: Point;
}

/** How matched points may lie on the repeat, the usual way first, [null] without one; or why they cannot. */
function designsFor(
  folding: Folding,
  cloth: Cloth,
  pieces: readonly CutPiece[],
  bar: Point,
  froms: readonly Um[],
): readonly (Design | null)[] | string {
  const { repeat } = cloth;
  if (repeat === null) return [null];
  const answers = froms.map((from) => placesOf(pieces, repeat, from));
  const designs = answers.flatMap((answer) =>
    answer.ok ? [{ places: answer.places, bar: searchBar(folding, cloth, bar) }] : [],
  );
  const [first] = answers;
  return designs.length > 0 || first!.ok ? designs : first!.why;
}

function searchBar({ method }: Folding, { ends }: Cloth, [x, y]: Point): Point {
  return [method === 'crosswise fold' ? 0 : x - ends[0], y];
}

const whyNoFlaws =
  'where a flaw, or the edge of an irregular remnant, comes to lie in the other layer depends on the length of the lay; lay it open, or on a fold along the cloth';

/** Flaws as things that never move: on doubled cloth those of both layers. */
function blockedBy(
  flaws: readonly Outline[],
  folding: Folding,
  zones: readonly LayZone[],
  { width, ends }: Cloth,
  shapes: ShapeTable,
): Blocked[] {
  const sums = new Set(
    zones.flatMap(({ layers, from, to }) => (layers === 2 ? [foldSumAt(folding, width, (from + to) / 2)] : [])),
  );
  const rounds = folding.method === 'tube' ? [0, -width] : [0];
  return flaws.flatMap((flaw) => {
    const own = shapes.indexOf(flaw, 0);
    const image = shapes.indexOf(mirrorOutline(flaw), 0);
    const x = 0 - ends[0];
    return rounds.flatMap((round): Blocked[] => [
      { shape: own, x, y: round },
      ...[...sums].flatMap((sum) => (sum === null ? [] : [{ shape: image, x, y: sum - round }])),
    ]);
  });
}

/** A length found by the search -> the length of cloth that its copies take up, both layers of crosswise lays counted. */
export function flatLengthOf({ method }: Folding, cloth: Pick<Cloth, 'gap' | 'repeat'>, lengthUm: Um): Um {
  if (method === 'crosswise fold') return 2 * lengthUm;
  return method === 'crosswise cut and turned' ? layerLengthOf(cloth, lengthUm) + lengthUm : lengthUm;
}

/** Of cloth cut across: how far the second layer begins after the first, a whole number of repeats where there is one. */
export function layerLengthOf({ gap, repeat }: Pick<Cloth, 'gap' | 'repeat'>, lengthUm: Um): Um {
  return latticeUp(lengthUm + gap, repeat?.along ?? 0, 0);
}

/** How often a length found by the search counts: layers of crosswise lays lie one after another. */
export function layersOf({ method }: Folding): 1 | 2 {
  return isCrosswise(method) ? 2 : 1;
}

/** The greatest length of the search that may fit between the ends; null = no limit. */
function lengthMaxOf(folding: Folding, cloth: Cloth, pieces: readonly CutPiece[]): Um | null {
  const room = roomOf(cloth, pieces);
  return room === null ? null : Math.floor(room / layersOf(folding));
}

/** What pairs keep from a fold, so that their two copies keep the whole gap. */
export function halfOf(gap: Um): Um {
  return Math.ceil(gap / 2);
}

/** SHA-256 of the canonical numbers; names are left out, they decide nothing. */
export function hashNumbers(problem: Omit<Problem, 'hash'>): string {
  const kinds = problem.kinds.map(({ count, choices }) => ({ count, choices }));
  return createHash('sha256')
    .update(JSON.stringify({ ...problem, kinds }))
    .digest('hex');
}

interface Choices {
  readonly choices: Choice[];
  readonly meaning: ChoiceMeaning[];
  /** Least extent across over all ways, with what it must keep from a fold; and the widest band for it. */
  readonly needsUm: Um;
  readonly usableUm: Um;
  /** Some band is wide enough, so that only the repeat keeps it out. */
  readonly hasRoom: boolean;
}

interface Frame {
  readonly folding: Folding;
  readonly zones: readonly LayZone[];
  readonly cloth: Cloth;
  readonly shapes: ShapeTable;
  readonly design: Design | null;
}

/** One way to lay a piece in a zone. */
interface Laying {
  readonly form: PlacementForm;
  readonly outline: Outline;
  /** Range of its reference across. */
  readonly yMin: Um;
  readonly yMax: Um;
  readonly needsUm: Um;
  readonly lattice: Lattice | null;
  /** What it keeps from x = 0. */
  readonly keepUm: Um;
}

function choicesOf(rule: PlacementRule, piece: CutPiece, frame: Frame): Choices {
  const { folding, zones, cloth, shapes, design } = frame;
  const choices: Choice[] = [];
  const meaning: ChoiceMeaning[] = [];
  const forms = new Set<string>();
  let needsUm = Number.POSITIVE_INFINITY;
  let usableUm = 0;
  let hasRoom = false;
  zones.forEach((zone, z) => {
    for (const way of rule.ways) {
      const outline = laidOutline(piece, way);
      // A tilt rounds its points, which may fold the finest corners over themselves.
      if (way.tiltMicrodegrees !== undefined && firstCrossing(outline) !== null) continue;
      for (const laying of layingsIn(zone, rule, way, { piece, outline }, folding, cloth)) {
        needsUm = Math.min(needsUm, laying.needsUm);
        usableUm = Math.max(usableUm, zone.to - zone.from);
        if (laying.yMin > laying.yMax || laying.needsUm > zone.to - zone.from) continue;
        hasRoom = true;
        const { minX, minY, maxY } = boundsOf(laying.outline);
        const { yMin, yMax, keepUm } = laying;
        const onDesign = (laid: LaidWay) =>
          design === null ? [null] : latticesOf(piece, laid, cloth.repeat!, design.places, design.bar);
        // On a crosswise fold the copy in the upper layer is turned, and has to suit the design as well.
        const isTurnedTwin = folding.method === 'crosswise fold' && laying.form === 'pair';
        const lattices = isTurnedTwin && onDesign(twinOf(way)).length === 0 ? [] : onDesign(way);
        for (const onRepeat of lattices) {
          const lattice = both(laying.lattice, onRepeat);
          if (lattice === 'none' || !hasPlaceAcross(lattice, yMin, yMax)) continue;
          // A half turn or a mirror that only moves the outline gives no other places.
          const places = lattice === null ? '' : latticeKey(lattice, minX, minY);
          const form = `${z} ${yMin + minY} ${yMax + maxY} ${places} ${formKey(laying.outline)}`;
          if (forms.has(form)) continue;
          forms.add(form);
          choices.push({ shape: shapes.indexOf(laying.outline, keepUm), zone: z, yMin, yMax, lattice });
          meaning.push({ ...way, form: laying.form });
        }
      }
    }
  });
  return { choices, meaning, needsUm, usableUm, hasRoom };
}

function layingsIn(
  zone: LayZone,
  { form }: PlacementRule,
  { turned, tiltMicrodegrees = 0 }: LaidWay,
  { piece, outline }: { readonly piece: CutPiece; readonly outline: Outline },
  { method }: Folding,
  { gap }: Cloth,
): Laying[] {
  const { minY, maxY } = boundsOf(outline);
  const across = maxY - minY;
  if (zone.layers === 1) {
    if (form === 'pair') return [];
    const range = { yMin: zone.from - minY, yMax: zone.to - maxY, needsUm: across };
    return [{ form: 'single', outline, ...range, lattice: null, keepUm: 0 }];
  }
  if (form === 'single') return [];
  if (form === 'pair') {
    const keep = (edge: Um) => (zone.folds.includes(edge) ? halfOf(gap) : 0);
    const [low, high] = [keep(zone.from), keep(zone.to)];
    const range = { yMin: zone.from + low - minY, yMax: zone.to - high - maxY, needsUm: across + low + high };
    // On a crosswise fold x = 0 is the fold.
    return [{ form, outline, ...range, lattice: null, keepUm: method === 'crosswise fold' ? halfOf(gap) : 0 }];
  }
  // Its fold edge runs along the fold, or it has no place on this one.
  if (turned % 180 !== 0 || tiltMicrodegrees !== 0 || isFoldAlongGrain(piece) === isCrosswise(method)) return [];
  if (isCrosswise(method)) {
    const range = { yMin: zone.from - minY, yMax: zone.to - maxY, needsUm: across };
    return [{ form, outline: farHalf(outline), ...range, lattice: onlyAtZero, keepUm: 0 }];
  }
  return zone.folds.map((fold): Laying => {
    const half = halfAt(outline, fold === zone.to);
    return { form, outline: half, yMin: fold, yMax: fold, needsUm: across / 2, lattice: null, keepUm: 0 };
  });
}

/** How the copy in the upper layer of a crosswise fold lies: mirrored, and turned a half turn. */
function twinOf({ mirror, turned }: LaidWay): LaidWay {
  return { mirror: !mirror, turned: ((540 - turned) % 360) as LaidWay['turned'] };
}

/** A piece on a crosswise fold has x = 0 only: on the repeat too, or not at all. */
function both(own: Lattice | null, onRepeat: Lattice | null): Lattice | null | 'none' {
  if (own === null || onRepeat === null) return own ?? onRepeat;
  const { xStep, xOffset, yStep, yOffset } = onRepeat;
  if (xStep > 0 && xOffset % xStep !== 0) return 'none';
  return { ...own, yStep, yOffset };
}

function hasPlaceAcross(lattice: Lattice | null, yMin: Um, yMax: Um): boolean {
  return lattice === null || latticeUp(yMin, lattice.yStep, lattice.yOffset) <= yMax;
}

/** Equal for lattices on which outlines with these least points have the same places. */
function latticeKey({ xStep, xOffset, yStep, yOffset }: Lattice, minX: Um, minY: Um): string {
  const x = xStep === 0 ? 0 : modulo(xOffset + minX, xStep);
  const y = yStep === 0 ? 0 : modulo(yOffset + minY, yStep);
  return `${xStep} ${x} ${yStep} ${y}`;
}

/** x can only be 0: the next place of this lattice lies beyond all coordinates. */
const onlyAtZero: Lattice = { xStep: 2 ** 40, xOffset: 0, yStep: 0, yOffset: 0 };

/** The half at y <= 0 of an outline that is symmetric about y = 0. */
function lowerHalf(outline: Outline): Outline {
  const half: Point[] = [];
  outline.forEach((point, i) => {
    const next = outline[(i + 1) % outline.length]!;
    if (point[1] <= 0) half.push(point);
    // A segment across the fold of a symmetric outline stands square to it.
    if (point[1] * next[1] < 0) half.push([point[0], 0]);
  });
  assert(half.length >= 3, 'an on-fold piece has area on both sides of its fold');
  return half;
}

/** The half at y <= 0, or else that at y >= 0. */
function halfAt(outline: Outline, below: boolean): Outline {
  return below ? lowerHalf(outline) : mirrorOutline(lowerHalf(mirrorOutline(outline)));
}

/** The half of an outline on one side of a fold along the cloth. */
function halfOn(outline: Outline, foldY: Um, below: boolean): Outline {
  return movedBy(halfAt(movedBy(outline, [0, -foldY]), below), [0, foldY]);
}

/** The half at x >= 0 of an outline that is symmetric about x = 0. */
function farHalf(outline: Outline): Outline {
  return turnOutline(lowerHalf(turnOutline(outline, 270)), 90);
}

/** Equal for outlines that differ only by a move and by the point they are listed from. */
function formKey(outline: Outline): string {
  const { minX, minY } = boundsOf(outline);
  return ringKey(outline.map(([x, y]): Point => [x - minX, y - minY]));
}

class ShapeTable {
  readonly shapes: Shape[] = [];
  readonly #known = new Map<string, number>();

  indexOf(outline: Outline, keepUm: Um): number {
    const key = JSON.stringify([keepUm, outline]);
    const known = this.#known.get(key);
    if (known !== undefined) return known;
    this.#known.set(key, this.shapes.length);
    this.shapes.push(keepUm === 0 ? { outline } : { outline, keepUm });
    return this.shapes.length - 1;
  }
}
