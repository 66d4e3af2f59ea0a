/** Random pieces and cloths for lay methods: rectangles, slants, halves on the fold along and across, flaws, nap, faces. */
import fc from 'fast-check';
import { type Cloth, type Repeat, stripEnd } from '../../src/cloth/types.js';
import type { CutPiece, MatchPoint } from '../../src/pieces/types.js';
import type { Outline, Point, Um } from '../../src/units/types.js';
import { lawn, plainPiece } from './cut-pieces.js';

const size = fc.integer({ min: 30, max: 320 }).map((mm) => mm * 1_000);
const count = fc.integer({ min: 1, max: 3 });
const turn = fc.constantFrom(null, null, true, false);

interface Drawn {
  readonly along: Um;
  readonly across: Um;
  readonly cut: Um;
  readonly count: number;
  readonly odd: number;
  readonly turn: boolean | null;
  readonly cross: boolean;
  readonly tilt: number;
  /** A point of the piece, in shares of its box. */
  readonly match: readonly {
    readonly at: readonly [number, number];
    readonly group: string;
    readonly way: MatchPoint['way'];
  }[];
}

const drawn: fc.Arbitrary<Drawn> = fc.record({
  along: size,
  across: size,
  cut: fc.integer({ min: 1, max: 29 }).map((mm) => mm * 1_000),
  count,
  odd: fc.constantFrom(0, 0, 0, 1),
  turn,
  cross: fc.constantFrom(false, false, false, true),
  tilt: fc.constantFrom(0, 0, 0, 1_500_000, 2_345_678),
  match: fc.uniqueArray(
    fc.record({
      at: fc.tuple(fc.nat(10), fc.nat(10)),
      group: fc.constantFrom('bar', 'hip', 'hem'),
      way: fc.constantFrom('along' as const, 'across' as const, 'both' as const),
    }),
    { maxLength: 2, selector: ({ group }) => group },
  ),
});

const makers: readonly ((id: string, drawn: Drawn) => CutPiece)[] = [rectangle, slant, onFoldAlong, onFoldAcross];

function finish(piece: CutPiece, { turn: turns, cross, match: shares, tilt }: Drawn): CutPiece {
  const xs = piece.outline.map(([x]) => x);
  const ys = piece.outline.map(([, y]) => y);
  const share = (values: readonly number[], tenths: number) => {
    const [least, most] = [Math.min(...values), Math.max(...values)];
    return Math.round(least + ((most - least) * tenths) / 10);
  };
  const drawn = shares.map(
    ({ at, group, way }): MatchPoint => ({ at: [share(xs, at[0]), share(ys, at[1])], group, way }),
  );
  const across = piece.lines.some(({ points }) => points.every(([x]) => x === 0));
  // Of a piece on the fold the points of one half are drawn, and listed before those of the other.
  const isDrawn = ({ at }: MatchPoint) => (across ? at[0] : at[1]) >= 0;
  const mirrored = ({ at: [x, y], ...rest }: MatchPoint): MatchPoint => ({ at: across ? [-x, y] : [x, -y], ...rest });
  const half = drawn.filter(isDrawn);
  const match = piece.onFold
    ? [...half, ...half.filter(({ at }) => (across ? at[0] : at[1]) > 0).map(mirrored)]
    : drawn;
  return { ...piece, turn: turns, cross, match, tiltMaxMicrodegrees: tilt };
}

function rectangle(id: string, own: Drawn): CutPiece {
  const { along, across } = own;
  const outline: Outline = [
    [0, 0],
    [along, 0],
    [along, across],
    [0, across],
  ];
  return finish(plainPiece(id, outline, { asDrawn: 2 * own.count + own.odd, mirrored: 0 }), own);
}

function slant(id: string, own: Drawn): CutPiece {
  const { along, across, cut } = own;
  const outline: Outline = [
    [0, 0],
    [along, cut],
    [along, across + cut],
    [0, across],
  ];
  return finish(plainPiece(id, outline, { asDrawn: own.count + own.odd, mirrored: own.count }), own);
}

/** Symmetric about its fold line, y = 0. */
function onFoldAlong(id: string, own: Drawn): CutPiece {
  const { along, across, cut } = own;
  const half = Math.round(across / 2);
  const outline: Outline = [
    [0, -half],
    [along, -half + Math.min(cut, half - 1_000)],
    [along, half - Math.min(cut, half - 1_000)],
    [0, half],
  ];
  const piece = plainPiece(id, outline, { asDrawn: 1, mirrored: 0 }, true);
  return finish({ ...piece, lines: [{ kind: 'fold', points: lineOf([0, 0], [along, 0]) }] }, { ...own, cross: false });
}

/** Symmetric about its fold line, x = 0. */
function onFoldAcross(id: string, own: Drawn): CutPiece {
  const { along, across, cut } = own;
  const half = Math.round(along / 2);
  const outline: Outline = [
    [-half, 0],
    [half, 0],
    [half - Math.min(cut, half - 1_000), across],
    [-half + Math.min(cut, half - 1_000), across],
  ];
  const piece = plainPiece(id, outline, { asDrawn: 1, mirrored: 0 }, true);
  return finish({ ...piece, lines: [{ kind: 'fold', points: lineOf([0, 0], [0, across]) }] }, { ...own, cross: false });
}

function lineOf(...points: Point[]): readonly Point[] {
  return points;
}

/** One to four pieces; `makersFrom` says of which sorts. */
export const pieces: fc.Arbitrary<readonly CutPiece[]> = fc
  .array(fc.record({ sort: fc.nat(makers.length - 1), own: drawn }), { minLength: 1, maxLength: 4 })
  .map((all) => all.map(({ sort, own }, i) => makers[sort]!(`P${i}`, own)));

const flaw: fc.Arbitrary<Outline> = fc
  .record({
    x: fc.nat(500),
    y: fc.nat(1_100),
    along: fc.integer({ min: 5, max: 120 }),
    across: fc.integer({ min: 5, max: 90 }),
  })
  .map(({ x, y, along, across }): Outline => {
    const [left, low, right, high] = [x, y, x + along, y + across].map((mm) => mm * 1_000) as [Um, Um, Um, Um];
    return [
      [left, low],
      [right, low],
      [right, high],
      [left, high],
    ];
  });

const repeatStep = fc.constantFrom(null, 20_000, 35_000, 64_002, 120_000);
const repeats: fc.Arbitrary<Repeat> = fc
  .record({
    along: repeatStep,
    across: repeatStep,
    start: fc.option(fc.tuple(fc.nat(120_000), fc.nat(120_000))),
    mirror: fc.constantFrom('none' as const, 'along' as const, 'across' as const, 'both' as const),
    drop: fc.boolean(),
  })
  .filter(({ along, across }) => along !== null || across !== null)
  .map((repeat) => ({
    ...repeat,
    drop: repeat.drop && repeat.along !== null && repeat.across !== null && repeat.along % 2 === 0,
  }));

/** Cloths of all sorts but tubes, which have no selvedge: see `tubeOf`. */
export const cloths: fc.Arbitrary<Cloth> = fc
  .record({
    width: fc.integer({ min: 700, max: 1_500 }).map((mm) => mm * 1_000),
    sides: fc.tuple(fc.nat(20), fc.nat(20)),
    gap: fc.constantFrom(0, 3_000, 3_001, 15_000),
    nap: fc.constantFrom('one-way' as const, 'none' as const, 'each-garment' as const),
    faces: fc.constantFrom('one' as const, 'one' as const, 'both' as const),
    grain: fc.constantFrom('woven' as const, 'woven' as const, 'free' as const),
    flaws: fc.oneof(fc.constant([]), fc.array(flaw, { maxLength: 2 })),
    crease: fc.constantFrom(false, false, false, true),
    repeat: fc.oneof(fc.constant(null), repeats),
  })
  .map(({ width, sides, crease, flaws, ...rest }): Cloth => {
    const strip: Outline = [
      [0, width / 2 - 5_000],
      [stripEnd, width / 2 - 5_000],
      [stripEnd, width / 2 + 5_000],
      [0, width / 2 + 5_000],
    ];
    const usable = [sides[0] * 1_000, width - sides[1] * 1_000] as const;
    return { ...lawn, width, usable, flaws: crease ? [...flaws, strip] : flaws, ...rest };
  });

/** The same cloth as a tube. */
export function tubeOf(cloth: Cloth): Cloth {
  const width = 4 * Math.floor(cloth.width / 4);
  return { ...cloth, width, usable: [0, width], flaws: [] };
}
