/**
 * Random cut lists over the whole format of docs/cut-list.md: every shape and curve, allowances and corners, marks, cut
 * wordings, cloths of every kind, seams. Most are good or nearly so; how they are written down differs too.
 */
import type { LayName } from '../../src/cloth/types.js';
import type { Dice } from './dice.js';
import { type Suit, suits } from './suits.js';

/** What YAML can say. */
export type Value = string | number | boolean | null | readonly Value[] | { readonly [key: string]: Value };
type Keys = Record<string, Value>;
type XY = readonly [number, number];

export interface RandomList {
  readonly text: string;
  /** For one that is laid with another list, whose cloths serve. */
  readonly textWithoutCloths: string;
  readonly materials: readonly string[];
  readonly cloths: readonly string[];
}

interface Context {
  readonly dice: Dice;
  readonly units: 'cm' | 'mm' | 'in';
  readonly materials: readonly string[];
  /** The lay method that it is drawn for; null = none. */
  readonly method: LayName | null;
  readonly suit: Suit | null;
  /** So many whole pieces so far. */
  whole: number;
  /** Outlines that a curve can be taken from: piece, edge, chord. */
  readonly curved: { readonly piece: string; readonly edge: string }[];
}

/** Drawings that a random list may name; they stand beside it. */
export const drawingsBeside = ['rule-pocket.svg', 'locker-bag.dxf'] as const;

export interface Wishes {
  /** It may name the drawings beside it. */
  readonly withDrawings?: boolean;
  /** The lay method that its pieces and cloths suit; without it they are as they come. */
  readonly method?: LayName | null;
  /** Without them as they come. */
  readonly materials?: readonly string[];
}

/** A cut list. */
export function randomCutList(dice: Dice, wishes: Wishes = {}): RandomList {
  const { withDrawings = false, method = null } = wishes;
  const units = dice.pick(['cm', 'cm', 'cm', 'mm', 'in'] as const);
  const count = dice.pick(method === null ? [1, 1, 1, 2, 3] : [1, 1, 1, 1, 2]);
  const materials = wishes.materials ?? dice.some(['shell', 'lining', 'interfacing'], count);
  const suit = method === null ? null : suits[method];
  const context: Context = { dice, units, materials, method, suit, whole: 0, curved: [] };
  const pieces: Keys = {};
  for (let i = dice.pick([1, 1, 2, 2, 2, 3, 3, 4, 6]); i > 0; i--) {
    const earlier = Object.keys(pieces);
    const name = dice.chance(5) ? oddName(dice, i) : `${dice.pick(pieceNames)} ${i}`;
    pieces[name] = dice.chance(10) && earlier.length > 0 ? like(context, dice.pick(earlier)) : piece(context, name);
  }
  if (withDrawings && dice.chance(20)) Object.assign(pieces, drawnPieces(context));
  const cloths = clothsOf(context);
  const list: Keys = { title: dice.chance(3) ? oddName(dice, 0) : 'Cover for the dinghy' };
  if (!dice.chance(5)) list.units = units;
  if (!dice.chance(2)) list.drawn = dice.pick(['net', 'net', 'net', 'cut']);
  list.pieces = pieces;
  list.cloths = cloths;
  if (dice.chance(15)) list.seams = seams(context, Object.keys(pieces));
  const { cloths: _, ...withoutCloths } = list;
  return {
    text: written(dice, list),
    textWithoutCloths: written(dice, withoutCloths),
    materials,
    cloths: Object.keys(cloths),
  };
}

const pieceNames = ['Front', 'Back', 'Pocket', 'Strap', 'Yoke', 'Panel', 'Gusset', 'Tab'];

function oddName(dice: Dice, i: number): string {
  return `${dice.pick(['Ärmel', '帆', 'Ru\u0301cken', 'A-B', "it's", '7', 'null', 'a "b"', 'Flap 🪡', 'x'.repeat(90)])} ${i}`;
}

/** A length in the units of the list, or with its own. */
function length({ dice, units }: Context, cm: number): Value {
  if (dice.chance(4)) {
    return dice.pick([
      `${round(cm, 2)} cm`,
      `${round(cm * 10, 1)} mm`,
      `${round(cm / 100, 4)} m`,
      `${round(cm / 2.54, 3)} in`,
      `${Math.max(1, Math.round(cm / 2.54))} 1/2 in`,
    ]);
  }
  if (units === 'in') return round(cm / 2.54, 3);
  return units === 'mm' ? round(cm * 10, 1) : round(cm, 2);
}

function round(value: number, digits: number): number {
  return Math.round(value * 10 ** digits) / 10 ** digits + 0;
}

/** A point has no units of its own. */
function at({ units }: Context, [x, y]: XY): Value {
  const scale = units === 'in' ? 1 / 2.54 : units === 'mm' ? 10 : 1;
  return [round(x * scale, 3), round(y * scale, 3)];
}

function letter(i: number): string {
  return String.fromCharCode(65 + i);
}

interface Shape {
  readonly keys: Keys;
  /** Corners in cm, lettered from A on. */
  readonly corners: readonly XY[];
  readonly isHalf: boolean;
  /** The grain of a half piece runs square to the fold. */
  readonly isAcross: boolean;
  readonly needsGrain: boolean;
}

function piece(context: Context, name: string): Keys {
  const { dice } = context;
  const shape = shapeOf(context, name);
  const keys: Keys = { ...shape.keys };
  const { corners } = shape;
  if (shape.isHalf) keys.fold = `${letter(corners.length - 1)}-A`;
  if (shape.needsGrain) keys.grain = grain(context, shape);
  keys.cut = cut(context, shape.isHalf);
  if (!dice.chance(10)) keys.allowance = allowance(context, shape, Object.keys(keys.cut));
  if (dice.chance(20)) keys.corner = someEdges(dice, corners, 2, (i) => [letter(i), dice.pick(cornerStyles)]);
  if (dice.chance(8)) keys.drawn = dice.pick(['net', 'cut']);
  marks(context, shape, keys);
  if (dice.chance(10)) keys.turn = dice.pick(['yes', 'no']);
  if (dice.chance(8)) keys.tilt = dice.pick([0.5, 1, 2.345, 5]);
  if (dice.chance(20)) keys.match = matches(context, corners);
  if (dice.chance(5)) keys.size = dice.pick(['38', 'M', 42]);
  if (dice.chance(5)) keys.note = dice.pick(['interface first', 'Achtung: Strich']);
  return keys;
}

const cornerStyles = ['plain', 'square', 'hem'];

function shapeOf(context: Context, name: string): Shape {
  const { dice, suit } = context;
  const [w, h] =
    suit === null ? [dice.decimal(4, 45), dice.decimal(4, 70)] : [dice.decimal(4, 30), dice.decimal(4, 45)];
  const kind = dice.below(20);
  if (kind < 5 && mayBeHalf(context)) return outline(context, name, halfCorners(dice, w, h), true);
  if (kind < 12) return outline(context, name, corners(dice, w, h), false);
  if (kind < 14) return path(context, corners(dice, w, h));
  const plain = (keys: Keys, corners: readonly XY[]): Shape => ({
    keys,
    corners,
    isHalf: false,
    isAcross: false,
    needsGrain: false,
  });
  const box: readonly XY[] = [
    [0, 0],
    [w, 0],
    [w, h],
    [0, h],
  ];
  switch (kind) {
    case 14:
    case 15:
    case 16:
      return plain({ rectangle: [length(context, h), length(context, w)] }, box);
    case 17: {
      const top = dice.decimal(2, 50);
      const keys: Keys = { bottom: length(context, w), top: length(context, top), height: length(context, h) };
      if (dice.chance(50)) keys.lean = dice.pick(['both', 'A', 'B']);
      return plain({ trapezoid: keys }, box);
    }
    case 18: {
      const [inner, degrees] = [dice.pick([0, 3, 12]), dice.pick([20, 45, 90, 135.5, 180, 270, 350])];
      return plain({ sector: { inner: length(context, inner), outer: length(context, inner + w), degrees } }, box);
    }
    default:
      return dice.chance(50)
        ? plain({ 'bias-strip': { length: length(context, 3 * h), width: length(context, 4), pieces: 3 } }, box)
        : plain(
            { 'circle-skirt': { waist: length(context, w), length: length(context, h / 2), part: skirtPart(dice) } },
            box,
          );
  }
}

/** Where the first whole piece has wordings of its own, halves come after it. */
function mayBeHalf({ suit, whole }: Context): boolean {
  return suit === null || (suit.halves.length > 0 && (whole > 0 || suit.cuts[0] === suit.cuts[1]));
}

function skirtPart(dice: Dice): Value {
  return dice.pick([1, '3/4', '1/2', '1/4']);
}

/** A simple ring, seen from a point inside it or one of some letters. */
function corners(dice: Dice, w: number, h: number): readonly XY[] {
  const a = Math.min(w, h) * dice.decimal(0.2, 0.45, 2);
  const letters: readonly (readonly XY[])[] = [
    [
      [0, 0],
      [w, 0],
      [w, a],
      [a, a],
      [a, h],
      [0, h],
    ],
    [
      [0, 0],
      [w, 0],
      [w, h],
      [w - a, h],
      [w - a, a],
      [a, a],
      [a, h],
      [0, h],
    ],
    [
      [0, 0],
      [w, h / 50],
      [w / 2, h],
    ],
  ];
  if (dice.chance(25)) return dice.pick(letters);
  const count = dice.between(3, 9);
  const angles = Array.from({ length: count }, (_, i) => ((i + dice.decimal(0, 0.7, 2)) * 2 * Math.PI) / count);
  return angles.map((angle): XY => {
    const far = dice.decimal(0.5, 1, 2);
    return [round((w / 2) * (1 + far * Math.cos(angle)), 1), round((h / 2) * (1 + far * Math.sin(angle)), 1)];
  });
}

/** A half piece: its fold x = 0 from the last corner down or up to A, the others to the right of it in order of height. */
function halfCorners(dice: Dice, w: number, h: number): readonly XY[] {
  const count = dice.between(1, 5);
  const between = Array.from({ length: count }, (_, i): XY => {
    const level = (i + dice.decimal(0, 0.9, 2)) / count;
    return [round(w * dice.decimal(0.4, 1, 2), 1), round(h * (1 - level), 1)];
  });
  const level = between.map(([x, y], i): XY => [x, i === 0 && dice.chance(50) ? h : y]);
  return [[0, h], ...level, [0, 0]];
}

function outline(context: Context, name: string, points: readonly XY[], isHalf: boolean): Shape {
  const { dice } = context;
  const upsideDown = isHalf && dice.chance(30);
  const corners = upsideDown ? [...points].reverse() : points;
  const keys: Keys = { outline: Object.fromEntries(corners.map((point, i) => [letter(i), at(context, point)])) };
  if (dice.chance(45)) keys.curves = curves(context, name, corners, isHalf);
  if (dice.chance(10) && keys.curves === undefined) keys.measured = measured(context, corners);
  return { keys, corners, isHalf, isAcross: isHalf && isAcross(context), needsGrain: true };
}

function isAcross({ dice, suit }: Context): boolean {
  return suit?.halves.length === 1 ? suit.halves[0] === 'across' : dice.chance(25);
}

function curves(context: Context, name: string, corners: readonly XY[], isHalf: boolean): Keys {
  const { dice } = context;
  const most = isHalf ? corners.length - 1 : corners.length;
  const found: Keys = {};
  for (const i of dice.some(
    Array.from({ length: most }, (_, k) => k),
    dice.between(1, 2),
  )) {
    const [from, to] = [corners[i]!, corners[(i + 1) % corners.length]!];
    const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
    const bulge = dice.decimal(-0.12, 0.12, 3);
    const along = (share: number, out: number): Value =>
      at(context, [from[0] + dx * share + dy * out, from[1] + dy * share - dx * out]);
    const edge = `${letter(i)}-${letter((i + 1) % corners.length)}`;
    const known = context.curved.filter(({ piece }) => piece !== name);
    const sort = dice.below(known.length > 0 ? 8 : 7);
    if (sort < 2) found[edge] = { arc: along(0.5, bulge || 0.05) };
    else if (sort < 5) {
      const count = dice.between(2, 5);
      const points = Array.from({ length: count }, (_, k) => (k + 1) / (count + 1));
      found[edge] = { through: points.map((share) => along(share, bulge * 4 * share * (1 - share))) };
    } else if (sort < 7)
      found[edge] = { bezier: [along(0.3, bulge), along(0.7, dice.chance(30) ? -bulge : bulge * 1.3)] };
    else found[edge] = { 'same as': known.map(({ piece, edge }) => `${piece} ${edge}`)[0]! };
    context.curved.push({ piece: name, edge });
  }
  return found;
}

function measured(context: Context, corners: readonly XY[]): Keys {
  const { dice } = context;
  return someEdges(dice, corners, 2, (i) => [
    edgeName(dice, corners, i),
    length(context, edgeLength(corners, i) + (dice.chance(10) ? 1 : 0)),
  ]);
}

function edgeName(dice: Dice, corners: readonly XY[], i: number): string {
  const ends = [letter(i), letter((i + 1) % corners.length)];
  return dice.chance(20) ? ends.reverse().join('-') : ends.join('-');
}

function edgeLength(corners: readonly XY[], i: number): number {
  const [from, to] = [corners[i]!, corners[(i + 1) % corners.length]!];
  return Math.hypot(to[0] - from[0], to[1] - from[1]);
}

function someEdges(
  dice: Dice,
  corners: readonly XY[],
  most: number,
  entry: (i: number) => readonly [string, Value],
): Keys {
  const chosen = dice.some([...corners.keys()], dice.between(1, most));
  return Object.fromEntries(chosen.map((i) => entry(i)));
}

/** SVG path data, y down. */
function path(context: Context, corners: readonly XY[]): Shape {
  const { dice, units } = context;
  const scale = units === 'in' ? 1 / 2.54 : units === 'mm' ? 10 : 1;
  const high = Math.max(...corners.map(([, y]) => y));
  const down = corners.map(([x, y]): XY => [round(x * scale, 2), round((high - y) * scale, 2)]);
  const words = down.map(([x, y], i) => {
    if (i === 0) return `M${x} ${y}`;
    const [px, py] = down[i - 1]!;
    const [dx, dy] = [round(x - px, 2), round(y - py, 2)];
    switch (dice.below(6)) {
      case 0:
        return `l${dx},${dy}`;
      case 1:
        return `Q${round(px + dx / 2 + dy / 12, 2)} ${round(py + dy / 2 - dx / 12, 2)} ${x} ${y}`;
      case 2:
        return `c${round(dx / 3 + dy / 15, 2)} ${round(dy / 3 - dx / 15, 2)} ${round((2 * dx) / 3, 2)} ${round((2 * dy) / 3, 2)} ${dx} ${dy}`;
      case 3:
        return `A${round(Math.hypot(dx, dy) * 1.2, 2)} ${round(Math.hypot(dx, dy) * 1.2, 2)} 0 0 ${dice.below(2)} ${x} ${y}`;
      default:
        return `L${x} ${y}`;
    }
  });
  const flipped = corners.map(([x, y]): XY => [x, high - y]);
  return {
    keys: { path: `${words.join(' ')} Z` },
    corners: flipped,
    isHalf: false,
    isAcross: false,
    needsGrain: true,
  };
}

/** A point inside, or as good as that. */
function middle(corners: readonly XY[]): XY {
  const mean = (k: 0 | 1, points: readonly XY[]) => points.reduce((sum, point) => sum + point[k], 0) / points.length;
  const triples = corners.map((point, i) => [point, corners[(i + 1) % corners.length]!, corners.at(i - 1)!]);
  const middles = [corners, ...triples].map((points): XY => [mean(0, points), mean(1, points)]);
  return middles.find((point) => isInside(point, corners)) ?? middles[0]!;
}

function isInside([x, y]: XY, corners: readonly XY[]): boolean {
  return corners.reduce((inside, [ax, ay], i) => {
    const [bx, by] = corners[(i + 1) % corners.length]!;
    const passes = ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax);
    return passes ? !inside : inside;
  }, false);
}

function grain(context: Context, { corners, isHalf, isAcross }: Shape): Value {
  const { dice } = context;
  const [x, y] = middle(corners);
  const two = (dx: number, dy: number): Value => [at(context, [x, y]), at(context, [x + dx, y + dy])];
  if (isAcross) return two(2, 0);
  const fold = `${letter(corners.length - 1)}-A`;
  if (isHalf && dice.chance(context.suit === null ? 90 : 98))
    return dice.pick([fold, { edge: fold }, { edge: fold, also: 'cross' }, two(0, -3)]);
  const edge = edgeName(dice, corners, dice.below(corners.length));
  return dice.pick([edge, { edge }, { edge, also: 'cross' }, two(0, 3), two(1, 2), two(-3, 0.1)]);
}

function cut(context: Context, isHalf: boolean): Keys {
  const { dice, materials, suit } = context;
  const suited = suit?.cuts[context.whole === 0 ? 0 : 1];
  if (!isHalf) context.whole += 1;
  const words = () => {
    if (isHalf && !dice.chance(3)) return dice.pick(['1 on fold', '1 on fold', '2 on fold']);
    if (suited !== undefined && !dice.chance(5)) return dice.pick(suited);
    const plain = ['1', '2', '3', '4', '1 pair', '2 pairs', '1 same way', '2 same way', '4 same way', 1, 2];
    return dice.pick([...plain, '1 pair + 1 same way', '2 + 1 pair', dice.chance(20) ? '9 pairs' : '1']);
  };
  const own = dice.some(materials, dice.chance(70) ? 1 : materials.length);
  return Object.fromEntries(own.map((material) => [material, words()]));
}

function allowance(context: Context, { corners, isHalf }: Shape, materials: readonly string[]): Value {
  const { dice } = context;
  const width = () => length(context, dice.pick([0, 0.5, 0.6, 1, 1, 1.5, 2, 4]));
  const byEdge = (): Keys => {
    const free = isHalf ? corners.slice(0, -1) : corners;
    const named = someEdges(dice, free, 2, (i) => [`${letter(i)}-${letter((i + 1) % corners.length)}`, width()]);
    return dice.chance(85) ? { all: width(), ...named } : named;
  };
  const one = () => (dice.chance(50) ? width() : byEdge());
  return dice.chance(12) ? Object.fromEntries(materials.map((material) => [material, one()])) : one();
}

function marks(context: Context, shape: Shape, keys: Keys): void {
  const { dice } = context;
  const { corners, isHalf } = shape;
  const free = isHalf ? corners.length - 1 : corners.length;
  const [x, y] = middle(corners);
  const place = () => {
    const i = dice.below(free);
    return {
      edge: edgeName(dice, corners, i),
      at: length(context, edgeLength(corners, i) * dice.decimal(0.2, 0.8, 2)),
    };
  };
  const list = (most: number, one: () => Keys) => Array.from({ length: dice.between(1, most) }, one);
  if (dice.chance(25)) {
    keys.notches = list(3, () => ({
      ...place(),
      ...(dice.chance(20) ? { depth: length(context, 0.6) } : {}),
      ...(dice.chance(20) ? { double: dice.pick(['yes', 'no']) } : {}),
    }));
  }
  if (dice.chance(15)) keys.awl = [at(context, [x, y]), at(context, [x + dice.decimal(-1, 1), y])];
  if (dice.chance(10))
    keys.darts = list(1, () => ({ ...place(), width: length(context, 1.2), tip: at(context, [x, y]) }));
  if (dice.chance(8)) keys.pleats = list(2, () => ({ ...place(), depth: length(context, dice.pick([0.5, 1])) }));
}

function matches(context: Context, corners: readonly XY[]): Value {
  const { dice, suit } = context;
  return Array.from({ length: suit === null ? dice.between(1, 2) : 1 }, () => {
    const point = at(context, dice.chance(50) ? middle(corners) : dice.pick(corners));
    const group = dice.pick(['bar', 'hip', 'hem']);
    const way = dice.pick(suit?.repeats.length === 1 ? suit.repeats : ['along', 'across', 'both']);
    return dice.chance(suit === null ? 60 : 90) ? { point, group, way } : { point, group };
  });
}

function like({ dice, materials, suit }: Context, other: string): Keys {
  const keys: Keys = { like: other };
  if (suit === null && dice.chance(60))
    keys.cut = { [dice.pick(materials)]: dice.pick(['1 on fold', '1 pair', '1', '2 same way']) };
  if (dice.chance(40)) keys.allowance = dice.pick([0, 1, 2]);
  if (dice.chance(20)) keys.turn = 'yes';
  return keys;
}

function drawnPieces({ dice, materials }: Context): Keys {
  const cut = { [materials[0]!]: dice.pick(['1 pair', '2', '1 same way']) };
  const pocket: Keys = { svg: { file: 'rule-pocket.svg', id: 'pocket-outline' }, grain: 'A-D', cut, allowance: 1 };
  const tab: Keys = { dxf: { file: 'locker-bag.dxf', piece: dice.pick(['Pocket', 'Tab']) }, cut, allowance: 0 };
  return dice.chance(50) ? { 'Rule pocket': pocket } : { 'Locker tab': tab };
}

function clothsOf(context: Context): Keys {
  const { dice, materials } = context;
  const found: Keys = {};
  for (const material of materials) {
    const count = dice.chance(15) ? 2 : 1;
    for (let i = 0; i < count; i++) found[`${material} cloth ${i + 1}`] = cloth(context, material);
  }
  if (dice.chance(3)) found.spare = cloth(context, 'canvas');
  return found;
}

const methods = [
  'open',
  'lengthwise fold',
  'partial fold',
  'double fold',
  'crosswise fold',
  'crosswise cut and turned',
  'combination',
  'best',
];

function cloth(context: Context, material: string): Keys {
  const { dice, suit } = context;
  const cm = (value: number) => length(context, value);
  const width = dice.pick(suit?.widths ?? [60, 75, 90, 112, 115, 140, 150, 150.3]);
  const keys: Keys = { for: dice.chance(5) ? [material] : material, width: cm(width) };
  const maybe = (percent: number, key: string, value: () => Value) => {
    if (dice.chance(percent)) keys[key] = value();
  };
  const isTube = context.method === null ? dice.chance(8) : context.method === 'tube';
  if (isTube) keys.method = 'tube';
  else if (context.method !== null && dice.chance(80)) keys.method = context.method;
  else maybe(90, 'method', () => dice.pick(methods));
  if (!isTube) {
    maybe(15, 'selvedge', () => cm(dice.pick([0, 0.5, 2])));
    maybe(50, 'usable', () => (dice.chance(50) ? cm(width - 3) : [cm(1), cm(width - 2)]));
  }
  if (keys.method === 'partial fold') maybe(60, 'fold', () => cm(dice.decimal(10, width / 2 - 1)));
  maybe(suit?.naps == null ? 60 : 95, 'nap', () => dice.pick(suit?.naps ?? ['one-way', 'each-garment', 'none']));
  maybe(20, 'faces', () => dice.pick(['one', 'both']));
  maybe(10, 'grain', () => dice.pick(['woven', 'free']));
  maybe(8, 'fusible', () => dice.pick(['yes', 'no']));
  if (suit?.flaws !== false)
    maybe(15, 'flaws', () => Array.from({ length: dice.between(1, 3) }, () => flaw(context, width)));
  // With flaws a repeat must say where it begins.
  if (suit === null || !suit.freeStart || keys.flaws === undefined) maybe(28, 'repeat', () => repeat(context));
  maybe(6, 'crease', () => 'avoid');
  maybe(18, 'length', () => atHand(context, width));
  maybe(20, 'ends', () => [cm(dice.pick([0, 1, 5])), cm(dice.pick([0, 2, 4.5]))]);
  maybe(50, 'gap', () => cm(dice.pick([0, 0, 0.3, 0.33, 1.5])));
  maybe(12, 'shrinkage', () => ({ along: dice.pick([0, 3, 4.5]), across: dice.pick([0, 2, 3.3]) }));
  maybe(30, 'price', () => dice.pick([18.5, 7, 0, 12.99]));
  maybe(15, 'sold-by', () => cm(dice.pick([1, 5, 10, 25])));
  maybe(15, 'currency', () => 'EUR');
  return keys;
}

function repeat(context: Context): Keys {
  const { dice, suit } = context;
  const keys: Keys = {};
  const which = suit?.repeats.length === 1 ? Number(suit.repeats[0] === 'across') : dice.below(3);
  if (which !== 1) keys.along = length(context, dice.pick([2, 3.5, 8, 20]));
  if (which !== 0) keys.across = length(context, dice.pick([2, 4, 6.4, 12]));
  if (dice.chance(suit === null ? 40 : suit.freeStart ? 8 : 70))
    keys.start = at(context, [dice.decimal(0, 20), dice.decimal(0, 20)]);
  if (dice.chance(suit === null ? 60 : 90)) keys.mirror = dice.pick(suit?.mirrors ?? ['along', 'across', 'both']);
  if (which === 2 && dice.chance(75)) keys.drop = '1/2';
  return keys;
}

function flaw(context: Context, width: number): Keys {
  const { dice } = context;
  const [x, y] = [dice.decimal(0, 120), dice.decimal(0, width)];
  if (dice.chance(70)) return { at: at(context, [x, y]), size: at(context, [dice.decimal(1, 9), dice.decimal(1, 9)]) };
  const ring: readonly XY[] = [
    [x, y],
    [x + dice.decimal(2, 10), y],
    [x + 4, y + dice.decimal(2, 10)],
  ];
  return { outline: ring.map((point) => at(context, point)) };
}

function atHand(context: Context, width: number): Value {
  const { dice } = context;
  const long = dice.decimal(60, 500);
  const irregular: Keys = {
    outline: [
      [0, 0],
      [long, 0],
      [long * 0.8, width],
      [0, width],
    ].map((point) => at(context, point as unknown as XY)),
  };
  return dice.pick<Value>([
    length(context, long),
    length(context, long),
    [length(context, long), length(context, 90)],
    [length(context, 120), irregular],
  ]);
}

function seams({ dice }: Context, pieces: readonly string[]): Value {
  const edge = () => `${dice.pick(pieces)} ${dice.pick(['A-B', 'B-C', 'C-D', 'B-A', 'A-C'])}`;
  return Array.from({ length: dice.between(1, 3) }, (): Keys => {
    const side = (): Value => (dice.chance(25) ? [edge(), edge()] : edge());
    const seam: Keys = { join: [side(), side()] };
    if (dice.chance(20)) seam.ease = 1;
    if (dice.chance(20)) seam.gather = dice.pick([1.5, 2]);
    return seam;
  });
}

/** Blocks at the top and brackets within, all blocks, or JSON. */
export function written(dice: Dice, list: Keys): string {
  switch (dice.below(5)) {
    case 0:
      return `${JSON.stringify(list, null, dice.pick([0, 2]))}\n`;
    case 1:
      return block(list, 0, 9);
    default:
      return block(list, 0, 2);
  }
}

function block(value: Value, indent: number, deepest: number): string {
  if (!isMap(value)) return `${' '.repeat(indent)}${flow(value)}\n`;
  return Object.entries(value)
    .map(([key, inner]) => {
      const begin = `${' '.repeat(indent)}${scalar(key)}:`;
      const isOpen = isMap(inner) && Object.keys(inner).length > 0 && indent < 2 * deepest;
      return isOpen ? `${begin}\n${block(inner, indent + 2, deepest)}` : `${begin} ${flow(inner)}\n`;
    })
    .join('');
}

/** Keys with values. */
export function isMap<T>(value: T | { readonly [key: string]: T }): value is { readonly [key: string]: T } {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function flow(value: Value): string {
  if (Array.isArray(value)) return `[${value.map(flow).join(', ')}]`;
  if (isMap(value)) {
    return `{${Object.entries(value)
      .map(([key, inner]) => `${scalar(key)}: ${flow(inner)}`)
      .join(', ')}}`;
  }
  return typeof value === 'string' ? scalar(value) : String(value);
}

function scalar(text: string): string {
  return /^\w([\w ./+-]*[\w.])?$/.test(text) && text !== 'null' ? text : JSON.stringify(text);
}
