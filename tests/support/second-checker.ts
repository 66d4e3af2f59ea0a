/**
 * A second opinion on a lay file, for tests only: reads the JSON itself, lays the copies out anew and holds them to
 * docs/lay-file.md. Polygons are those of @flatten-js/core, in millimetres and floating point; what comes within `doubtMm` of
 * a limit is settled in whole micrometres. Nothing is shared with src/checker or src/geometry.
 */
import Flatten from '@flatten-js/core';
import type { Lay, Stretch } from '../../src/lay/types.js';

export interface SecondVerdict {
  /** What is certainly not as it must be; nothing = a good lay. */
  readonly wrong: readonly string[];
  /** Where one may be of two minds: whether a piece is its own mirror image. */
  readonly doubtful: readonly string[];
}

type XY = readonly [number, number];
type Ring = readonly XY[];

/** A hundredth of a micrometre. */
const doubtMm = 1e-5;
/** A piece agrees with its mirror image within half a millimetre; about there it is left open. */
const [alikeMm, alikeDoubtMm] = [0.5, 0.01];

/** One copy, laid out anew. */
interface Flat {
  readonly name: string;
  readonly copy: Lay['copies'][number];
  readonly piece: Lay['pieces'][number];
  readonly placement: Lay['placements'][number];
  readonly stretch: Stretch;
  /** Whole micrometres. */
  readonly ring: Ring;
  readonly box: Box;
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly low: number;
  readonly high: number;
}

/** Judges the text of a lay file by itself. */
export function secondVerdict(text: string): SecondVerdict {
  let lay: Lay;
  try {
    lay = JSON.parse(text.replace(/^\ufeff/, '')) as Lay;
  } catch {
    return { wrong: ['it is not JSON'], doubtful: [] };
  }
  return secondVerdictOf(lay);
}

/** Judges a lay by itself. */
export function secondVerdictOf(lay: Lay): SecondVerdict {
  const wrong: string[] = [];
  const doubtful: string[] = [];
  const flats = layOut(lay, wrong);
  if (wrong.length > 0) return { wrong, doubtful };
  const say = (isWrong: boolean, what: string): void => {
    if (isWrong) wrong.push(what);
  };
  judgeStretches(lay, say);
  for (const flat of flats) {
    judgePlace(flat, lay, say);
    judgeTurn(flat, lay, say);
  }
  judgeNap(flats, lay, say);
  judgeLayers(flats, lay, say);
  judgeCounts(flats, lay, say, doubtful);
  judgeTotals(flats, lay, say);
  judgeRepeat(flats, lay, say);
  judgeNeighbours(flats, lay, say);
  judgeFlaws(flats, lay, say);
  return { wrong, doubtful };
}

type Say = (isWrong: boolean, what: string) => void;

/** Follows the numbers from placement to piece, stretch and copies, and lays every copy out as it claims. */
function layOut(lay: Lay, wrong: string[]): Flat[] {
  const say = (what: string) => void wrong.push(what);
  const once = (values: readonly unknown[], what: string) => {
    if (new Set(values).size < values.length) say(`a ${what} is listed twice`);
  };
  if (lay.copies.length === 0) say('no copies');
  once(
    lay.pieces.map(({ id }) => id),
    'piece',
  );
  once(
    lay.stretches.map(({ id }) => id),
    'stretch',
  );
  once(
    lay.placements.map(({ n }) => n),
    'placement',
  );
  once(
    lay.copies.map(({ n }) => n),
    'copy',
  );
  once(
    lay.placements.flatMap(({ copies }) => copies),
    'copy of a placement',
  );
  for (const { id, outline } of lay.pieces) if (!isGoodRing(outline)) say(`piece ${id} is no simple ring`);
  const flats: Flat[] = [];
  for (const placement of lay.placements) {
    const piece = lay.pieces.find(({ id }) => id === placement.piece);
    const stretch = lay.stretches.find(({ id }) => id === placement.stretch);
    if (placement.copies.length < 1 || placement.copies.length > 2) say(`placement ${placement.n} has wrong copies`);
    for (const n of placement.copies) {
      const copy = lay.copies.find((one) => one.n === n);
      if (copy === undefined || piece === undefined || stretch === undefined) {
        say(`placement ${placement.n} leads nowhere`);
        continue;
      }
      const { ring, slackUm } = poseOf(piece.outline, copy);
      const off = copy.outline.some(([x, y], i) => {
        const laid = ring[i];
        return laid === undefined || Math.abs(laid[0] - x) > slackUm || Math.abs(laid[1] - y) > slackUm;
      });
      if (off || copy.outline.length !== ring.length) say(`copy ${n} is not where it claims to be`);
      // Of a tilted copy rounding is settled by what stands in the file, once that is within a micrometre.
      const settled = slackUm > 0 ? copy.outline : ring;
      const name = `copy ${n} (${piece.id})`;
      flats.push({ name, copy, piece, placement, stretch, ring: settled, box: boxOf(settled) });
    }
  }
  if (lay.copies.some(({ n }) => !lay.placements.some(({ copies }) => copies.includes(n)))) say('a loose copy');
  return flats;
}

/** Mirrored, turned, tilted, moved; by the cosine and sine of the machine. */
function poseOf(outline: Ring, copy: Lay['copies'][number]): { readonly ring: Ring; readonly slackUm: number } {
  const listed = copy.mirror ? outline.map(([x, y]): XY => [x, -y]).reverse() : outline;
  const quarters = copy.turned / 90;
  const turn = ([x, y]: XY): XY => {
    let at: XY = [x, y];
    for (let i = 0; i < quarters; i++) at = [-at[1], at[0]];
    return at;
  };
  const angle = (copy.tiltMicrodegrees * Math.PI) / 180e6;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const tilt = ([x, y]: XY): XY => (angle === 0 ? [x, y] : [x * c - y * s, x * s + y * c]);
  const ring = listed.map((point): XY => {
    const [x, y] = tilt(turn(point));
    return [x + copy.at[0], y + copy.at[1]];
  });
  return { ring, slackUm: angle === 0 ? 0 : 0.51 };
}

function isGoodRing(outline: Ring): boolean {
  if (outline.length < 3 || outline.some((point) => !point.every(Number.isSafeInteger))) return false;
  if (twiceArea(outline) <= 0n) return false;
  const last = outline.length - 1;
  const solid = solidOf(outline);
  return nearEdges(solid, solid, doubtMm).every(([one, other]) => {
    const [i, j] = [solid.segments.indexOf(one), solid.segments.indexOf(other)];
    if (i === j) return one.length > 0;
    if (j < i) return true;
    // Edges that follow one another may not run back; all others may not meet.
    if (j === i + 1) return !runsBack(one, other);
    if (i === 0 && j === last) return !runsBack(other, one);
    return one.distanceTo(other)[0] > doubtMm;
  });
}

function runsBack({ ps: a, pe: b }: Flatten.Segment, { pe: c }: Flatten.Segment): boolean {
  const [ux, uy, vx, vy] = [b.x - a.x, b.y - a.y, c.x - b.x, c.y - b.y];
  return Math.abs(ux * vy - uy * vx) <= 1e-12 * Math.hypot(ux, uy) * Math.hypot(vx, vy) && ux * vx + uy * vy < 0;
}

function twiceArea(ring: Ring): bigint {
  return ring.reduce((sum, [x, y], i) => {
    const [nextX, nextY] = ring[(i + 1) % ring.length]!;
    return sum + BigInt(x) * BigInt(nextY) - BigInt(nextX) * BigInt(y);
  }, 0n);
}

function boxOf(ring: Ring): Box {
  const box = { left: Infinity, right: -Infinity, low: Infinity, high: -Infinity };
  for (const [x, y] of ring) {
    box.left = Math.min(box.left, x);
    box.right = Math.max(box.right, x);
    box.low = Math.min(box.low, y);
    box.high = Math.max(box.high, y);
  }
  return box;
}

function judgeStretches({ stretches, cloth }: Lay, say: Say): void {
  const { width, usable } = cloth;
  say(!(usable[0] >= 0 && usable[0] < usable[1] && usable[1] <= width), 'usable width');
  for (const { id, from, to, method, folds, foldX, cutX } of stretches) {
    const [left, right] = folds;
    const flat = left === 0 && right === 0;
    const fits: Record<string, boolean> = {
      open: flat,
      'lengthwise fold': left * 2 === width && right === 0,
      'partial fold': left > 0 && left * 2 < width && right === 0,
      'double fold': left > 0 && right > 0 && (left + right) * 2 <= width,
      tube: left * 4 === width && right * 4 === width && usable[0] === 0 && usable[1] === width,
      'crosswise fold': flat && foldX !== undefined,
      'crosswise cut and turned': flat && cutX !== undefined,
    };
    say(!fits[method], `folds of stretch ${id}`);
    say(foldX !== undefined && method !== 'crosswise fold', `foldX of stretch ${id}`);
    say(cutX !== undefined && method !== 'crosswise cut and turned', `cutX of stretch ${id}`);
    const across = foldX ?? cutX ?? from;
    say(across < from || across > to || to <= from, `reach of stretch ${id}`);
    say(
      stretches.some((other) => other.id !== id && other.from < to && from < other.to),
      `stretch ${id} is not alone`,
    );
  }
}

function judgePlace({ box, name, stretch }: Flat, { cloth }: Lay, say: Say): void {
  const { usable, ends, length, width } = cloth;
  if (stretch.method === 'tube') say(box.high - box.low > width, `${name} is wider than the tube`);
  else say(box.low < usable[0] || box.high > usable[1], `${name} leaves the usable width`);
  say(box.left < ends[0], `${name} lies in the cut end`);
  say(length !== null && box.right > length - ends[1], `${name} lies in the far end`);
  say(box.left < stretch.from || box.right > stretch.to, `${name} leaves its stretch`);
}

function judgeTurn({ copy, piece, name }: Flat, { cloth }: Lay, say: Say): void {
  say(copy.turned % 180 === 90 && !piece.cross && cloth.grain === 'woven', `${name} lies across the grain`);
  const tiltMost = cloth.repeat === null ? piece.tiltMaxMicrodegrees : 0;
  say(Math.abs(copy.tiltMicrodegrees) > tiltMost, `${name} is tilted`);
  say(copy.turnedOver && cloth.faces === 'one', `${name} is turned over`);
  say((copy.is === 'asDrawn') !== (copy.mirror === copy.turnedOver), `${name} has the wrong hand`);
}

function judgeNap(flats: readonly Flat[], { cloth }: Lay, say: Say): void {
  const ways = new Map<number, boolean>();
  for (const { copy, piece, placement, name } of flats) {
    const isFree = piece.turn ?? (cloth.nap === 'none' || cloth.grain === 'free');
    if (isFree) continue;
    // A mirrored copy at 270 agrees with a plain one at 90.
    const up = { 0: false, 90: copy.mirror, 180: true, 270: !copy.mirror }[copy.turned];
    const group = cloth.nap === 'each-garment' ? placement.garment : 0;
    say(up !== (ways.get(group) ?? up), `${name} lies against the nap`);
    if (!ways.has(group)) ways.set(group, up);
  }
}

interface Doubled {
  /** The part of the width that lies double. */
  readonly from: number;
  readonly to: number;
  readonly fold: number;
}

function doubledParts({ method, folds: [left, right] }: Stretch, width: number): readonly Doubled[] {
  if (method === 'tube') {
    // The lower layer lies round y = 0 from fold to fold, the upper one round the half width: what lies below is read
    // together with what lies above it, so the fold between them comes first.
    return [1, -1, 3].map((quarter) => {
      const fold = (quarter * width) / 4;
      return { from: fold - width / 2, to: fold + width / 2, fold };
    });
  }
  const parts: Doubled[] = [];
  if (left > 0) parts.push({ from: 0, to: 2 * left, fold: left });
  if (right > 0) parts.push({ from: width - 2 * right, to: width, fold: width - right });
  return parts;
}

function judgeLayers(flats: readonly Flat[], { cloth, placements }: Lay, say: Say): void {
  for (const { n } of placements) {
    const own = flats.filter(({ placement }) => placement.n === n);
    const [lead, other] = own;
    const { stretch, piece, box, name } = lead!;
    const isAcross = stretch.foldX !== undefined || stretch.cutX !== undefined;
    const parts = isAcross ? [] : doubledParts(stretch, cloth.width);
    for (const { from, to } of parts) {
      const isWithin = box.low >= from && box.high <= to;
      const isOutside = box.high <= from || box.low >= to;
      // Round a tube every part is doubled; there one of them must hold the copy.
      if (stretch.method !== 'tube') say(!isWithin && !isOutside, `${name} crosses the edge of the doubled part`);
    }
    const within = parts.filter(({ from, to }) => box.low >= from && box.high <= to);
    // Both folds of a tube lead from one layer to the other, once round apart.
    const joins = ({ fold }: Doubled) => other !== undefined && isSameSet(reflect(lead!.ring, fold), other.ring);
    const part = within.find(joins) ?? within[0];
    if (stretch.method === 'tube') say(part === undefined, `${name} lies in no layer of the tube`);
    if (!isAcross && part === undefined) {
      say(other !== undefined, `${name} is one of two where the cloth is single`);
      continue;
    }
    if (other === undefined) judgeOnFold(lead!, parts, say);
    else judgeTwo(lead!, other, part ?? null, cloth.width, say);
    const fold = piece.lines.filter(({ kind }) => kind === 'fold').flatMap(({ points }) => points);
    if (other === undefined) say(!piece.onFold, `${name} lies single on doubled cloth`);
    const k = stretch.foldX === undefined ? 1 : 0;
    if (other === undefined)
      say(
        fold.some((point) => point[k] !== 0),
        `the fold edge of ${name} lies the other way`,
      );
  }
}

function judgeOnFold({ ring, stretch, name }: Flat, parts: readonly Doubled[], say: Say): void {
  const { foldX, cutX } = stretch;
  say(cutX !== undefined, `${name} has no partner`);
  const images =
    foldX === undefined ? parts.map(({ fold }) => reflect(ring, fold)) : [ring.map(([x, y]): XY => [2 * foldX - x, y])];
  say(!images.some((image) => isSameSet(image, ring)), `${name} is not symmetric about the fold`);
}

function reflect(ring: Ring, fold: number): Ring {
  return ring.map(([x, y]): XY => [x, 2 * fold - y]);
}

function judgeTwo(lead: Flat, other: Flat, part: Doubled | null, width: number, say: Say): void {
  const { foldX, cutX, from } = lead.stretch;
  const isNear = lead.box.left <= other.box.left;
  const by = cutX === undefined ? 0 : isNear ? cutX - from : from - cutX;
  const image = lead.ring.map(([x, y]): XY => {
    if (foldX !== undefined) return [2 * foldX - x, y];
    if (cutX !== undefined) return [x + by, width - y];
    return [x, 2 * part!.fold - y];
  });
  say(!isSameSet(image, other.ring), `${other.name} does not lie on ${lead.name}`);
  say(lead.copy.mirror === other.copy.mirror, `${lead.name} and ${other.name} are alike`);
  const edge = foldX ?? cutX;
  const [near, far] = isNear ? [lead, other] : [other, lead];
  say(
    edge !== undefined && (near.box.right > edge || far.box.left < edge),
    `${near.name} and ${far.name} share a layer`,
  );
  for (const { box, name } of [lead, other]) {
    const [low, high, at] = edge === undefined ? [box.low, box.high, part!.fold] : [box.left, box.right, edge];
    say(low < at && high > at, `${name} lies in both layers`);
  }
}

function isSameSet(a: Ring, b: Ring): boolean {
  const sorted = (ring: Ring) => ring.map(([x, y]) => `${x + 0},${y + 0}`).sort();
  const [one, other] = [sorted(a), sorted(b)];
  return one.length === other.length && one.every((point, i) => point === other[i]);
}

function judgeCounts(flats: readonly Flat[], lay: Lay, say: Say, doubtful: string[]): void {
  const highest = Math.max(...lay.placements.map(({ garment }) => garment));
  const lists = typeof lay.cutListSha256 === 'string' ? null : lay.cutListSha256;
  let last = 0;
  for (const { name, garments } of lists ?? []) {
    say(garments[0] !== last + 1 || garments[1] < garments[0], `garments of list ${name}`);
    last = garments[1];
  }
  say(lists !== null && new Set(lists.map(({ name }) => name)).size < lists.length, 'a list stands twice');
  for (const piece of lay.pieces) {
    const isOfList = (lists ?? []).some(({ garments }) => String(garments) === String(piece.garments));
    say(lists === null ? piece.garments !== undefined : !isOfList, `${piece.id} is of no list`);
    const [from, to] = piece.garments ?? [1, highest];
    const own = flats.filter((flat) => flat.piece === piece);
    for (const { placement, name } of own)
      say(placement.garment < from || placement.garment > to, `${name} is for no garment`);
    const mirrored = own.filter(({ copy }) => copy.is === 'mirrored').length;
    const times = to - from + 1;
    const wants = { asDrawn: piece.demand.asDrawn * times, mirrored: piece.demand.mirrored * times };
    const isNumber = own.length === wants.asDrawn + wants.mirrored;
    if (isNumber && mirrored === wants.mirrored) continue;
    const likeness = likenessMm(piece);
    const isOpen = isNumber && Math.abs(likeness - alikeMm) < alikeDoubtMm;
    if (isOpen) doubtful.push(`whether ${piece.id} is its own mirror image`);
    else say(!isNumber || likeness > alikeMm, `copies of ${piece.id}`);
  }
}

/** How far a piece is from its own mirror image, moved across the grain. */
function likenessMm({ outline, notches, awl }: Lay['pieces'][number]): number {
  const { low, high } = boxOf(outline);
  const polygon = polygonOf(outline);
  const image = ([x, y]: XY) => mmPoint([x, low + high - y]);
  const marks = (points: readonly XY[]) =>
    points.map((point) => Math.min(...points.map((other) => image(point).distanceTo(mmPoint(other))[0])));
  const edges = [...polygon.edges] as Flatten.Edge[];
  const fromRing = outline.map((point) =>
    Math.min(...edges.map((edge) => image(point).distanceTo(edge.shape as Flatten.Segment)[0])),
  );
  return Math.max(...fromRing, ...marks(notches.map(([at]) => at)), ...marks(awl));
}

function judgeTotals(flats: readonly Flat[], lay: Lay, say: Say): void {
  const { totals, cloth, pieces, status } = lay;
  const left = Math.min(...flats.map(({ box }) => box.left));
  const right = Math.max(...flats.map(({ box }) => box.right));
  const used = right - left;
  say(totals.lengthUsed !== used, 'length used');
  const repeat = cloth.repeat;
  const isTied = pieces.some(({ match }) => match.some(({ way }) => way !== 'across' || repeat?.drop === true));
  const bar = repeat !== null && repeat.start === null && isTied ? (repeat.along ?? 0) : 0;
  const before = left - cloth.ends[0];
  const washed = used + before + cloth.ends[0] + cloth.ends[1] + bar;
  say(cloth.length !== null && washed > cloth.length, 'there is not so much cloth');
  const remains = 1_000_000n - BigInt(cloth.shrinkagePpm?.along ?? 0);
  const dry = Number((BigInt(washed) * 1_000_000n + remains - 1n) / remains);
  const buy = cloth.length === null ? Math.ceil(dry / cloth.soldBy) * cloth.soldBy : dry;
  say(totals.buy !== buy, 'length to buy');
  const parts: readonly (readonly [string, number])[] = [
    ['before the first piece', before],
    ['ends', cloth.ends[0] + cloth.ends[1]],
    ['reaching the first bar', bar],
    ['shrinkage', dry - washed],
    ['rounding up', buy - dry],
  ];
  const named = totals.buyParts.map(({ why, um }) => [why, um] as const);
  say(String(named) !== String(parts.filter(([, um]) => um > 0)), 'additions');
  const twice = flats.reduce((sum, { ring }) => sum + twiceArea(ring), 0n);
  say(totals.areaUm2 !== Number(twice) / 2, 'area');
  const share = (1e6 * totals.areaUm2) / ((cloth.usable[1] - cloth.usable[0]) * used);
  say(Math.abs(totals.utilisationPpm - share) > 0.501, 'utilisation');
  say(totals.bound.um < 0 || totals.bound.um > used, 'bound');
  say(status === 'proven shortest' && totals.bound.um !== used, 'not proven');
}

/** Points of one group on one place of the repeat; folds on an axis of the design. */
function judgeRepeat(flats: readonly Flat[], { cloth, stretches }: Lay, say: Say): void {
  const { repeat, width } = cloth;
  if (repeat === null) return;
  const steps = [repeat.along, repeat.across];
  const isSame = [repeat.mirror, repeat.mirror].map((way, k) => way === 'both' || way === ['along', 'across'][k]);
  const modulo = (value: number, step: number) => ((value % step) + step) % step;
  const barOf = (stretch: Stretch) => repeat.start ?? stretch.barAt ?? null;
  for (const stretch of stretches) {
    const { id, foldX, cutX, from } = stretch;
    const folds: (readonly [axis: 0 | 1, at: number])[] = doubledParts(stretch, width).map(({ fold }) => [1, fold]);
    if (foldX !== undefined) folds.push([0, foldX]);
    if (cutX !== undefined) folds.push([1, width / 2]);
    for (const [axis, at] of folds) {
      const step = steps[axis] ?? null;
      if (step === null) continue;
      const every = axis === 1 && repeat.drop ? step : step / 2;
      const bar = barOf(stretch);
      const off = bar === null ? 0 : modulo(at - bar[axis], every);
      say(!isSame[axis] || off !== 0, `stretch ${id} is folded off the repeat`);
    }
    const apart = cutX === undefined || repeat.along === null ? 0 : modulo(cutX - from, repeat.along);
    say(apart !== 0, `the layers of stretch ${id} do not agree on the repeat`);
  }
  const places = [new Map([['bar', 0]]), new Map([['bar', 0]])];
  for (const { piece, copy, stretch, name } of flats) {
    const turnsBack = [copy.turned === 180, (copy.turned === 180) !== copy.mirror];
    const flips = turnsBack.map((back, k) => back && isSame[k]!);
    const bar = barOf(stretch) ?? [0, 0];
    for (const { at, group, way } of drawnMatches(piece)) {
      const own = poseOf([at], copy).ring[0]!;
      const from = own.map((value, k) => (flips[k] ? bar[k]! - value : value - bar[k]!));
      const column = repeat.drop && steps[1] !== null ? Math.floor(from[1]! / steps[1]!) : 0;
      const lies = [from[0]! - (column * (steps[0] ?? 0)) / 2, from[1]!];
      const counts = [way !== 'across' || repeat.drop, way !== 'along' || repeat.drop];
      for (const k of [0, 1] as const) {
        const step = steps[k] ?? null;
        if (step === null || !counts[k]) continue;
        // A copy that lies the other way round must meet a design that looks the same so.
        const isReversed = copy.turned !== 0 && (copy.turned !== 180 || (turnsBack[k]! && !isSame[k]));
        say(isReversed, `${name} is turned on the repeat`);
        const place = modulo(lies[k]!, step);
        say((places[k]!.get(group) ?? place) !== place, `point ${group} of ${name} is off the repeat`);
        if (!places[k]!.has(group)) places[k]!.set(group, place);
      }
    }
  }
}

/** Of a piece on the fold the points of the half that is drawn, which are listed first. */
function drawnMatches({ match, onFold, lines }: Lay['pieces'][number]): Lay['pieces'][number]['match'] {
  if (!onFold) return match;
  const isAcross = lines.some(({ kind, points }) => kind === 'fold' && points.every(([x]) => x === 0));
  const side = (point: XY) => Math.sign(isAcross ? point[0] : point[1]);
  const drawn = match.map(({ at }) => side(at)).find((way) => way !== 0) ?? 0;
  return match.filter(({ at }) => side(at) === 0 || side(at) === drawn);
}

function judgeNeighbours(flats: readonly Flat[], { cloth }: Lay, say: Say): void {
  const solids = flats.flatMap(({ ring, name, stretch, copy }) =>
    (stretch.method === 'tube' ? [-cloth.width, 0, cloth.width] : [0]).map((by) => ({
      name,
      n: copy.n,
      isMoved: by !== 0,
      solid: solidOf(ring.map(([x, y]): XY => [x, y + by])),
    })),
  );
  const gap = cloth.gap / 1000;
  for (const [i, a] of solids.entries()) {
    for (const b of solids.slice(i + 1)) {
      // Round a tube it is enough to move one of the two.
      if (a.n === b.n || (a.isMoved && b.isMoved)) continue;
      const what = `${a.name} and ${b.name} are ${gap > 0 ? 'nearer than the gap' : 'on one another'}`;
      say(isBadPair(a.solid, b.solid, gap), what);
    }
  }
}

function judgeFlaws(flats: readonly Flat[], { cloth }: Lay, say: Say): void {
  for (const [i, flaw] of cloth.flaws.entries()) {
    say(!isGoodRing(flaw), `flaw ${i + 1} is no simple ring`);
    if (!isGoodRing(flaw)) continue;
    for (const { ring, name, stretch } of flats) {
      for (const by of stretch.method === 'tube' ? [-cloth.width, 0, cloth.width] : [0]) {
        const solid = solidOf(flaw.map(([x, y]): XY => [x, y + by]));
        say(isBadPair(solidOf(ring), solid, 0), `${name} lies on flaw ${i + 1}`);
      }
    }
  }
}

/** A ring in millimetres with what is asked of it again and again. */
interface Solid {
  readonly box: Box;
  readonly segments: readonly Flatten.Segment[];
  polygon(): Flatten.Polygon;
}

function solidOf(ring: Ring): Solid {
  let polygon: Flatten.Polygon | null = null;
  const points = ring.map(mmPoint);
  return {
    box: boxOf(ring.map(([x, y]): XY => [x / 1000, y / 1000])),
    segments: points.map((point, i) => new Flatten.Segment(point, points[(i + 1) % points.length])),
    polygon: () => (polygon ??= polygonOf(ring)),
  };
}

function mmPoint([x, y]: XY): Flatten.Point {
  return new Flatten.Point(x / 1000, y / 1000);
}

function polygonOf(ring: Ring): Flatten.Polygon {
  return new Flatten.Polygon(ring.map(mmPoint));
}

/** With a gap the distance of the two tells; without one, whether something of the one lies inside the other. */
function isBadPair(a: Solid, b: Solid, gap: number): boolean {
  if (boxesApart(a.box, b.box) > gap) return false;
  const near = nearEdges(a, b, gap + doubtMm);
  if (near.some(([one, other]) => crosses(one, other))) return true;
  if (reachesInto(a, b) || reachesInto(b, a)) return true;
  return gap > 0 && near.some(([one, other]) => areNearer(one, other, gap));
}

/** Two edges that do not cross: by the library, and where that comes too near to the gap, in whole micrometres. */
function areNearer(one: Flatten.Segment, other: Flatten.Segment, gap: number): boolean {
  const [apart] = one.distanceTo(other);
  if (Math.abs(apart - gap) > doubtMm) return apart < gap;
  const gapUm = BigInt(Math.round(gap * 1000));
  const isNear = (point: Flatten.Point, edge: Flatten.Segment) => {
    const [[ax, ay], [bx, by], [px, py]] = [wholeUm(edge.ps), wholeUm(edge.pe), wholeUm(point)];
    const [dx, dy, ux, uy] = [bx - ax, by - ay, px - ax, py - ay];
    const [along, square] = [dx * ux + dy * uy, dx * dx + dy * dy];
    if (along <= 0n) return ux * ux + uy * uy < gapUm * gapUm;
    if (along >= square) return (px - bx) ** 2n + (py - by) ** 2n < gapUm * gapUm;
    return (dx * uy - dy * ux) ** 2n < gapUm * gapUm * square;
  };
  const ends = [isNear(one.ps, other), isNear(one.pe, other), isNear(other.ps, one), isNear(other.pe, one)];
  return ends.some((isShort) => isShort);
}

function wholeUm({ x, y }: Flatten.Point): readonly [bigint, bigint] {
  return [BigInt(Math.round(x * 1000)), BigInt(Math.round(y * 1000))];
}

function boxesApart(a: Box, b: Box): number {
  return Math.max(a.left - b.right, b.left - a.right, a.low - b.high, b.low - a.high);
}

function nearEdges(a: Solid, b: Solid, within: number): (readonly [Flatten.Segment, Flatten.Segment])[] {
  const reach = ({ box }: Flatten.Segment): Box => ({
    left: box.xmin,
    right: box.xmax,
    low: box.ymin,
    high: box.ymax,
  });
  const own = a.segments
    .map((segment) => ({ segment, box: reach(segment) }))
    .filter(({ box }) => boxesApart(box, b.box) <= within);
  const others = b.segments
    .map((segment) => ({ segment, box: reach(segment) }))
    .filter(({ box }) => boxesApart(box, a.box) <= within);
  return own.flatMap((one) =>
    others.flatMap((other) =>
      boxesApart(one.box, other.box) <= within ? [[one.segment, other.segment] as const] : [],
    ),
  );
}

/** Two edges that go through one another, each with an end to both sides of the other; touching is not crossing. */
function crosses(one: Flatten.Segment, other: Flatten.Segment): boolean {
  return isOnBothSides(one, other) && isOnBothSides(other, one);
}

function isOnBothSides({ ps, pe }: Flatten.Segment, line: Flatten.Segment): boolean {
  const [[ax, ay], [bx, by]] = [wholeUm(line.ps), wholeUm(line.pe)];
  const [one, other] = [ps, pe].map((end) => {
    const [x, y] = wholeUm(end);
    return (bx - ax) * (y - ay) - (by - ay) * (x - ax);
  }) as [bigint, bigint];
  return (one > 0n && other < 0n) || (one < 0n && other > 0n);
}

/** Some corner of `a`, or a point half a micrometre inside the middle of an edge, lies within `b`. */
function reachesInto(a: Solid, b: Solid): boolean {
  const inward = (segment: Flatten.Segment) => {
    const { x, y } = segment.middle();
    const { ps, pe, length } = segment;
    return new Flatten.Point(x - (5e-4 * (pe.y - ps.y)) / length, y + (5e-4 * (pe.x - ps.x)) / length);
  };
  return a.segments.some((segment) => {
    if (isDeepIn(segment.ps, b)) return true;
    const point = inward(segment);
    return isDeepIn(point, b) && isDeepIn(point, a);
  });
}

function isDeepIn(point: Flatten.Point, { box, polygon }: Solid): boolean {
  if (point.x <= box.left || point.x >= box.right || point.y <= box.low || point.y >= box.high) return false;
  if (!polygon().contains(point)) return false;
  return point.distanceTo(polygon())[0] > doubtMm;
}
