/** Copies tilted, turned and mirrored: what a piece and its cloth allow, and outlines that are what they claim. */
import { describe, expect, test } from 'vitest';
import { checkLay } from '../../src/checker/check-lay.js';
import { isLikeItsMirror } from '../../src/checker/likeness.js';
import { checkClaim, findMeeting } from '../../src/checker/outlines.js';
import { takeApart } from '../../src/checker/parts.js';
import type { Lay, Turn } from '../../src/lay/types.js';
import type { Outline, Point } from '../../src/units/types.js';
import { lawn, slant } from '../support/cut-pieces.js';
import { copyOf, damaged, type Loose, moveCopy, openRow, refit, reposeCopy } from '../support/damage.js';
import { layOf } from '../support/lays.js';

const none = { asDrawn: 0, mirrored: 0 };

/** The Square of copy 4, well away from the others. */
function edited(edit: (lay: Loose<Lay>) => void): string[] {
  const lay = damaged(openRow, (loose) => {
    moveCopy(loose, 4, 50_000, 100_000);
    edit(loose);
    refit(loose);
  });
  return checkLay(lay).refusals.map(({ sentence }) => sentence);
}

describe('tilts', () => {
  const tilted = (tilt: number, most: number, more: (lay: Loose<Lay>) => void = () => {}) =>
    edited((lay) => {
      lay.pieces[1]!.tiltMaxMicrodegrees = most;
      reposeCopy(lay, 4, { tiltMicrodegrees: tilt });
      more(lay);
    });

  test('as far as the piece allows, to either side', () => {
    expect(tilted(2_000_000, 2_000_000)).toEqual([]);
    expect(tilted(-2_000_000, 2_000_000)).toEqual([]);
    expect(tilted(2_000_001, 2_000_000)).toEqual(['copy 4 (Square) is tilted by 2.000001 degrees; its piece allows 2']);
    expect(tilted(-2_000_001, 2_000_000)).toEqual([
      'copy 4 (Square) is tilted by -2.000001 degrees; its piece allows 2',
    ]);
  });

  test('never on a repeat', () => {
    const onRepeat = (lay: Loose<Lay>) => {
      lay.cloth.repeat = { along: 80_000, across: null, start: [0, 0], mirror: 'none', drop: false };
    };
    expect(tilted(1, 2_000_000, onRepeat)).toEqual([
      'copy 4 (Square) is tilted by 0.000001 degrees; on a repeat nothing is tilted',
    ]);
  });

  test('a tilted outline is held to the micrometre', () => {
    expect(
      tilted(1_500_000, 2_000_000, (lay) => {
        copyOf(lay, 4).outline[1]![0] += 1;
      })[0],
    ).toBe('the outline of copy 4 (Square) is off its place by 0.001 mm');
  });
});

describe('outlines as claimed', () => {
  /** The place of a point of the piece, by the angle. */
  function placed([x, y]: Point, mirror: boolean, degrees: number): [number, number] {
    const [u, v] = [x, mirror ? -y : y];
    const angle = (degrees * Math.PI) / 180;
    return [u * Math.cos(angle) - v * Math.sin(angle), u * Math.sin(angle) + v * Math.cos(angle)];
  }

  test.each(
    [false, true].flatMap((mirror) =>
      ([0, 90, 180, 270] as const).flatMap((turned) =>
        [0, 1_234_567, -3_000_000, 45_000_000].map((tilt): [boolean, Turn, number] => [mirror, turned, tilt]),
      ),
    ),
  )('mirrored %s, turned by %i, tilted by %i', (mirror, turned, tiltMicrodegrees) => {
    const [part] = partsOf(openRow);
    const at: Point = [700_000, 900_000];
    const source = mirror ? [...part!.piece.outline].reverse() : part!.piece.outline;
    const outline = source.map((point): Point => {
      const [x, y] = placed(point, mirror, turned + tiltMicrodegrees / 1e6);
      return [Math.round(x) + at[0], Math.round(y) + at[1]];
    });
    const copy = { ...part!.copy, mirror, turned, tiltMicrodegrees, at, outline };
    expect(checkClaim({ ...part!, copy })).toEqual([]);
    const off = outline.map(([x, y], i): Point => (i === 2 ? [x + 3, y - 4] : [x, y]));
    expect(checkClaim({ ...part!, copy: { ...copy, outline: off } })[0]!.sentence).toBe(
      'the outline of copy 1 (Slant) is off its place by 0.005 mm',
    );
  });
});

function partsOf(lay: Lay) {
  const apart = takeApart(lay);
  if ('refusals' in apart) throw new Error(apart.refusals[0]!.sentence);
  return apart.parts;
}

describe('where an outline meets itself', () => {
  test.each<[string, Outline, Point | null]>([
    [
      'two edges that cross',
      [
        [0, 0],
        [10, 10],
        [10, 0],
        [0, 10],
      ],
      [5, 5],
    ],
    [
      'two that cross between whole micrometres',
      [
        [0, 0],
        [12, 6],
        [10, -2],
        [4, 10],
      ],
      // At (7.2, 3.6).
      [7, 4],
    ],
    [
      'a corner on an edge before it',
      [
        [0, 0],
        [10, 0],
        [10, 10],
        [4, 0],
        [0, 10],
      ],
      [4, 0],
    ],
    [
      'a corner on an edge after it',
      [
        [0, 0],
        [10, 0],
        [10, 10],
        [5, 6],
        [0, 10],
        [0, 8],
        [10, 4],
        [0, 4],
      ],
      [5, 6],
    ],
    [
      'back along its own edge',
      [
        [0, 0],
        [10, 0],
        [10, 10],
        [10, 5],
        [0, 5],
      ],
      [10, 5],
    ],
    [
      'back along its first edge at the last corner',
      [
        [0, 0],
        [10, 0],
        [10, 10],
        [5, 0],
      ],
      [0, 0],
    ],
    [
      'a corner twice',
      [
        [0, 0],
        [10, 0],
        [10, 10],
        [10, 10],
        [0, 10],
      ],
      [10, 10],
    ],
    [
      'the same corner again later',
      [
        [0, 0],
        [5, 5],
        [10, 0],
        [10, 10],
        [5, 5],
        [0, 10],
      ],
      [5, 5],
    ],
    [
      'none: a corner in the middle of an edge',
      [
        [0, 0],
        [5, 0],
        [10, 0],
        [10, 10],
      ],
      null,
    ],
  ])('%s', (_, ring, at) => {
    const found = findMeeting(ring);
    if (at === null || found === null) expect(found).toBe(at);
    else expect([...found]).toEqual([...at]);
  });
});

describe('likeness of left and right', () => {
  const ring = (off: number): Outline => [
    [0, -50_000],
    [100_000, -50_000],
    [100_000, 50_000],
    [40_000, 50_000 + off],
    [0, 50_000],
  ];
  const isLike = (marks: Partial<Parameters<typeof isLikeItsMirror>[0]>) =>
    isLikeItsMirror({ outline: ring(0), notches: [], awl: [], ...marks });

  test('an outline within half a millimetre of its mirror image', () => {
    expect(isLike({})).toBe(true);
    // The bulge moves the middle by half of it, so on either side it stands half as far off.
    expect(isLike({ outline: ring(500) })).toBe(true);
    expect(isLike({ outline: ring(2_000) })).toBe(false);
    expect(isLike({ outline: slant(none).outline })).toBe(false);
  });

  test('an edge is near as a whole, also the one from the last point to the first', () => {
    const split: Outline = [
      [100_000, 50_000],
      [0, 50_000],
      [0, 17_000],
      [0, -50_000],
      [33_000, -50_000],
      [100_000, -50_000],
    ];
    expect(isLike({ outline: split })).toBe(true);
  });

  test('every notch and awl point has its counterpart, half a millimetre off at most', () => {
    const at = (x: number, y: number): Point => [x, y];
    expect(isLike({ awl: [at(30_000, 20_000), at(30_300, -20_400)] })).toBe(true);
    expect(isLike({ awl: [at(30_000, 20_000), at(30_300, -20_401)] })).toBe(false);
    expect(isLike({ awl: [at(30_000, 20_000), at(30_301, -20_400)] })).toBe(false);
    expect(isLike({ awl: [at(30_000, 20_000), at(29_700, -19_600), at(80_000, 30_000)] })).toBe(false);
    const notch = (y: number): [Point, Point] => [at(50_000, y), at(50_000, y * 0.9)];
    expect(isLike({ notches: [notch(50_000), notch(-50_000)] })).toBe(true);
    expect(isLike({ notches: [notch(50_000)] })).toBe(false);
  });
});

describe('nap', () => {
  const cloth = { ...lawn, grain: 'woven' as const };
  const cross = { ...slant(none), cross: true };
  const codes = (puts: readonly { mirror?: boolean; turned: Turn }[], more: Partial<typeof lawn> = {}) => {
    const lay = layOf({
      title: 'Nap',
      cloth: { ...cloth, ...more },
      puts: puts.map((put) => ({ piece: cross, ...put })),
    });
    return [...new Set(checkLay(lay).refusals.map(({ code }) => code))];
  };

  test('a quarter turn lays it across; left and right agree turned opposite ways', () => {
    expect(codes([{ turned: 90 }, { turned: 270, mirror: true }])).toEqual([]);
    expect(codes([{ turned: 270 }, { turned: 90, mirror: true }])).toEqual([]);
    expect(codes([{ turned: 90 }, { turned: 90, mirror: true }])).toEqual(['against-nap']);
    expect(codes([{ turned: 270 }, { turned: 270, mirror: true }])).toEqual(['against-nap']);
    expect(codes([{ turned: 0 }, { turned: 90 }])).toEqual([]);
    expect(codes([{ turned: 180 }, { turned: 90 }])).toEqual(['against-nap']);
    expect(codes([{ turned: 180 }, { turned: 270 }])).toEqual([]);
    expect(codes([{ turned: 0 }, { turned: 270 }])).toEqual(['against-nap']);
  });

  test('cloth without nap or grain lets all lie as they will', () => {
    expect(codes([{ turned: 90 }, { turned: 270 }], { nap: 'none' })).toEqual([]);
    expect(codes([{ turned: 0 }, { turned: 180 }], { grain: 'free' })).toEqual([]);
  });
});

test('turned over: laid one way, cut out the other', () => {
  expect(
    edited((lay) => {
      lay.cloth.faces = 'both';
      Object.assign(copyOf(lay, 4), { turnedOver: true });
    }),
  ).toEqual(['copy 4 (Square) is laid as drawn and turned over: that makes it a mirrored copy, not a copy as drawn']);
  expect(edited((lay) => reposeCopy(lay, 4, { mirror: true }))).toEqual([
    'copy 4 (Square) is laid mirrored and not turned over: that makes it a mirrored copy, not a copy as drawn',
  ]);
});
