/** Places on a repeat, to the micrometre; folds and layers on an axis of the design. */
import { describe, expect, test } from 'vitest';
import { checkLay } from '../../src/checker/check-lay.js';
import type { Cloth, Repeat } from '../../src/cloth/types.js';
import type { Lay, Turn } from '../../src/lay/types.js';
import type { CutPiece } from '../../src/pieces/types.js';
import type { Point } from '../../src/units/types.js';
import { firstLay } from '../support/built-lays.js';
import { lawn, plainPiece, slant } from '../support/cut-pieces.js';
import { codesOf, damaged, foldPiece, type Loose, moveCopy, refit, reposeCopy } from '../support/damage.js';
import { layOf } from '../support/lays.js';

const plaid: Repeat = { along: 80_000, across: 60_000, start: null, mirror: 'both', drop: false };
const matched: CutPiece = {
  ...slant({ asDrawn: 1, mirrored: 1 }),
  match: [
    { at: [50_000, 0], group: 'hip', way: 'both' },
    { at: [200_000, 180_000], group: 'hem', way: 'along' },
  ],
};
const front: CutPiece = {
  ...foldPiece,
  demand: { asDrawn: 1, mirrored: 0 },
  lines: [
    {
      kind: 'fold',
      points: [
        [0, 0],
        [300_000, 0],
      ],
    },
  ],
  match: [
    { at: [100_000, 90_000], group: 'hip', way: 'both' },
    { at: [100_000, -90_000], group: 'hip', way: 'both' },
  ],
};

function clothOf(repeat: Partial<Repeat>, rest: Partial<Cloth> = {}): Cloth {
  return { ...lawn, repeat: { ...plaid, ...repeat }, ...rest };
}

const open = firstLay('open', clothOf({}), [matched, front]);
const folded = firstLay('lengthwise fold', clothOf({}), [matched, front]);
const dropped = firstLay('open', clothOf({ drop: true, mirror: 'none' }, { nap: 'none' }), [
  { ...matched, match: matched.match.slice(0, 1) },
]);
const turned = firstLay('crosswise cut and turned', clothOf({}), [matched]);
const across = firstLay('crosswise fold', clothOf({}, { nap: 'none' }), [matched]);

test.each(Object.entries({ open, folded, dropped, turned, across }))('%s: sound as it was built', (_, lay) => {
  expect(checkLay(lay).refusals).toEqual([]);
});

describe('a micrometre off its place', () => {
  test.each([
    ['along', 1, 0],
    ['across', 0, 1],
  ] as const)('%s', (_, dx, dy) => {
    expect(codesOf(open, (lay) => moveCopy(lay, lay.copies.at(-1)!.n, dx, dy))).toContain('off-repeat');
  });

  test('a whole repeat away is the same place', () => {
    expect(codesOf(open, (lay) => moveCopy(lay, lay.copies.at(-1)!.n, 400_000, 0))).toEqual([]);
  });

  test('with a drop a column further is half a repeat further along', () => {
    const move = (dx: number, dy: number) =>
      codesOf(dropped, (lay) => moveCopy(lay, lay.copies.at(-1)!.n, 400_000 + dx, dy)).includes('off-repeat');
    expect(move(40_000, 60_000)).toBe(false);
    expect(move(0, 120_000)).toBe(false);
    expect(move(0, 60_000)).toBe(true);
  });
});

test('a point of the group "bar" lies on a bar', () => {
  const barred = firstLay('open', clothOf({ start: [10_000, 7_000] }), [
    { ...matched, match: [{ at: [50_000, 0], group: 'bar', way: 'both' }] },
  ]);
  expect(checkLay(barred).refusals).toEqual([]);
  const shifted = (lay: Loose<Lay>) => {
    lay.cloth.repeat!.start = [10_001, 7_000];
  };
  expect(codesOf(barred, shifted)).toEqual(['off-repeat']);
});

test('a copy turned where the design does not look the same turned', () => {
  const plain = firstLay('open', clothOf({ mirror: 'none' }, { nap: 'none' }), [
    { ...matched, demand: { asDrawn: 2, mirrored: 0 } },
  ]);
  expect(codesOf(plain, (lay) => reposeCopy(lay, 2, { turned: 180 }))).toContain('turned-on-repeat');
});

test('a fold beside the axis of the design, or of a design that is not the same mirrored', () => {
  const shifted = (lay: Loose<Lay>) => {
    lay.cloth.repeat!.start = [0, 575_001];
  };
  expect(codesOf(folded, shifted)).toContain('fold-off-repeat');
  const plain = (lay: Loose<Lay>) => {
    lay.cloth.repeat!.mirror = 'none';
  };
  for (const lay of [folded, turned, across]) expect(codesOf(lay, plain)).toContain('fold-off-repeat');
});

test('layers of cloth cut across that are no whole number of repeats apart', () => {
  const longer = (lay: Loose<Lay>) => {
    lay.cloth.repeat!.along = 81_000;
  };
  expect(codesOf(turned, longer)).toContain('fold-off-repeat');
});

test('one repeat more is bought where it is not known how far the first bar is', () => {
  const partOf = (lay: Lay) => lay.totals.buyParts.find(({ why }) => why === 'reaching the first bar')?.um ?? 0;
  expect(partOf(open)).toBe(80_000);
  expect(partOf(firstLay('open', clothOf({ start: [0, 0] }), [matched, front]))).toBe(0);
  const onlyAcross = { ...matched, match: [{ at: [50_000, 0] as const, group: 'hip', way: 'across' as const }] };
  expect(partOf(firstLay('open', clothOf({}), [onlyAcross]))).toBe(0);
});

describe('the place of a point, however its copy lies', () => {
  /** A copy of a Slant on cloth without grain or nap, its point on a bar that lies where the point is, or off it. */
  function laid(mirror: boolean, turned: Turn, off: number, axis: 'along' | 'across'): string[] {
    const at: Point = [50_000, 30_000];
    const piece: CutPiece = { ...slant({ asDrawn: 0, mirrored: 0 }), match: [{ at, group: 'bar', way: axis }] };
    const repeat: Repeat = { along: 80_000, across: 60_000, start: [0, 0], mirror: 'none', drop: false };
    const cloth: Cloth = { ...lawn, nap: 'none', grain: 'free', repeat };
    const lay = layOf({ title: 'Place', cloth, puts: [{ piece, mirror, turned }] });
    const [atX, atY] = lay.copies[0]!.at;
    const angle = (turned * Math.PI) / 180;
    const y = mirror ? -at[1] : at[1];
    const pointX = atX + Math.round(at[0] * Math.cos(angle) - y * Math.sin(angle));
    const pointY = atY + Math.round(at[0] * Math.sin(angle) + y * Math.cos(angle));
    const start: Point = axis === 'along' ? [pointX + off, 12_345] : [12_345, pointY + off];
    const verdict = checkLay({ ...lay, cloth: { ...cloth, repeat: { ...repeat, start } } });
    return verdict.refusals.map(({ sentence }) => sentence);
  }

  test.each(
    [false, true].flatMap((mirror) => ([0, 90, 180, 270] as const).map((turned): [boolean, Turn] => [mirror, turned])),
  )('mirrored %s, turned by %i', (mirror, turned) => {
    const alsoTurned =
      turned === 0 ? [] : [`copy 1 (Slant) is turned by ${turned} degrees, and the repeat does not look the same so`];
    for (const axis of ['along', 'across'] as const) {
      expect(laid(mirror, turned, 0, axis)).toEqual(alsoTurned);
      const off = (by: string) => `the point "bar" of copy 1 (Slant) is ${by} off that of a bar ${axis} the repeat`;
      expect(laid(mirror, turned, 7, axis)).toContain(off('0.007 mm'));
      expect(laid(mirror, turned, -7, axis)).toContain(off('0.007 mm'));
      expect(laid(mirror, turned, axis === 'along' ? 80_000 : 60_000, axis)).toEqual(alsoTurned);
    }
  });

  test('a copy turned end for end sees a mirrored design mirrored', () => {
    const piece: CutPiece = {
      ...slant({ asDrawn: 0, mirrored: 0 }),
      match: [{ at: [0, 0], group: 'hip', way: 'along' }],
    };
    const repeat: Repeat = { along: 80_000, across: null, start: [3_000, 0], mirror: 'along', drop: false };
    const cloth: Cloth = { ...lawn, nap: 'none', repeat };
    // The first copy has its point at 20 mm, 17 mm after a bar; the other is to have it 17 mm before one.
    const lay = layOf({ title: 'End for end', cloth, puts: [{ piece }, { piece, turned: 180 }] });
    expect(lay.copies.map(({ at }) => at[0])).toEqual([20_000, 220_000]);
    const moved = (dx: number) =>
      checkLay(
        damaged(lay, (loose) => {
          moveCopy(loose, 2, dx, 0);
          refit(loose);
        }),
      ).refusals.map(({ sentence }) => sentence);
    // 3 + 3 x 80 - 17 = 226 mm.
    expect(moved(6_000)).toEqual([]);
    expect(moved(6_000 + 160_000)).toEqual([]);
    expect(moved(6_001)).toEqual([
      'the point "hip" of copy 2 (Slant) is 0.001 mm off that of copy 1 (Slant) along the repeat',
    ]);
    expect(moved(6_000 - 6_000)).toEqual([
      'the point "hip" of copy 2 (Slant) is 6 mm off that of copy 1 (Slant) along the repeat',
    ]);
  });

  test('a mirrored copy sees it mirrored across, unless it is turned end for end as well', () => {
    const piece: CutPiece = {
      ...slant({ asDrawn: 0, mirrored: 0 }),
      match: [{ at: [0, 0], group: 'hip', way: 'across' }],
    };
    const place = (mirror: boolean, turned: Turn, bar: number | null = 4_000) => {
      const start: Point | null = bar === null ? null : [0, bar];
      const repeat: Repeat = { along: null, across: 60_000, start, mirror: 'across', drop: false };
      const cloth: Cloth = { ...lawn, nap: 'none', repeat };
      const lay = layOf({ title: 'Across', cloth, puts: [{ piece }, { piece, mirror, turned }] });
      const y = lay.copies[1]!.at[1];
      // The first copy has its point at 10 mm, 6 mm after a bar.
      const isOn = (wanted: number) => {
        const dy = ((((wanted - y) % 60_000) + 60_000) % 60_000) + 60_000;
        const changed = damaged(lay, (loose) => {
          moveCopy(loose, 2, 0, dy);
          refit(loose);
        });
        return checkLay(changed).accepted;
      };
      return [isOn(10_000), isOn(2 * (bar ?? 0) - 10_000)];
    };
    expect(place(false, 0)).toEqual([true, false]);
    expect(place(true, 0)).toEqual([false, true]);
    expect(place(false, 180)).toEqual([false, true]);
    expect(place(true, 180)).toEqual([true, false]);
    // Where nobody says, places count from the raw edge of the left selvedge.
    expect(place(true, 0, null)).toEqual([false, true]);
  });
});

describe('folds of a repeat, in words', () => {
  const told = (lay: Lay, edit: (loose: Loose<Lay>) => void) =>
    checkLay(damaged(lay, edit))
      .refusals.filter(({ code }) => code === 'fold-off-repeat')
      .map(({ sentence }) => sentence);

  test('along: on a bar or half way between two', () => {
    const from = (y: number, more: Partial<Repeat> = {}) =>
      told(folded, (lay) => {
        Object.assign(lay.cloth.repeat!, { start: [0, y], ...more });
      });
    // The fold lies at 575 mm.
    expect([from(575_000), from(545_000), from(575_000 - 60_000), from(575_000 + 30_000)]).toEqual([[], [], [], []]);
    const off = (by: string) => [
      `stretch 1 is doubled by a fold along it, but the repeat across has no axis there: ${by} off`,
    ];
    expect(from(575_002)).toEqual(off('0.002 mm'));
    expect(from(574_998)).toEqual(off('0.002 mm'));
    expect(from(590_000)).toEqual(off('15 mm'));
    const alike = 'stretch 1 is doubled by a fold along it, but the repeat across is not the same mirrored';
    expect(from(575_000, { mirror: 'along' })).toEqual([alike]);
    expect(from(575_000, { mirror: 'across' })).toEqual([]);
    // With a drop a fold half way between two columns would lay a column on one half a repeat on.
    expect(from(575_000, { drop: true })).toEqual([]);
    expect(from(545_000, { drop: true })).toEqual(off('30 mm'));
    expect(from(575_000 - 60_000, { drop: true })).toEqual([]);
  });

  test('the axis that the lay itself chose, where no bar is known', () => {
    expect(folded.stretches[0]!.barAt).toBeDefined();
    expect(
      told(folded, (lay) => {
        lay.stretches[0]!.barAt![1] += 1;
      }),
    ).toEqual(['stretch 1 is doubled by a fold along it, but the repeat across has no axis there: 0.001 mm off']);
    expect(
      told(folded, (lay) => {
        delete lay.stretches[0]!.barAt;
      }),
    ).toEqual([]);
  });

  test('across: on a bar along the cloth or half way; cut and turned by whole repeats', () => {
    const at = (dx: number) =>
      told(across, (lay) => {
        lay.cloth.repeat!.start = [lay.stretches[0]!.foldX! + dx, 0];
      });
    expect([at(0), at(40_000), at(-80_000)]).toEqual([[], [], []]);
    expect(at(3)).toEqual([
      'stretch 1 is doubled by a fold across it, but the repeat along has no axis there: 0.003 mm off',
    ]);
    expect(
      told(turned, (lay) => {
        lay.stretches[0]!.cutX! += 1_000;
      })[0],
    ).toMatch(/^the layers of stretch 1 begin \d+ mm apart, which is no whole number of repeats$/);
    expect(
      told(turned, (lay) => {
        lay.cloth.repeat!.start = [0, 575_001];
      }),
    ).toEqual(['stretch 1 is doubled by a layer turned over, but the repeat across has no axis there: 0.001 mm off']);
    expect(
      told(turned, (lay) => {
        lay.stretches[0]!.cutX! += 1_000;
        lay.cloth.repeat!.along = null;
      }),
    ).toEqual([]);
  });
});

test('of a piece on the fold the half that is drawn counts, whichever it is', () => {
  const plain = { mirror: 'none' as const };
  expect(checkLay(firstLay('open', clothOf(plain), [front])).refusals).toEqual([]);
  const other = { ...front, match: [...front.match].reverse() };
  expect(checkLay(firstLay('open', clothOf(plain), [other])).refusals).toEqual([]);
  // One that lies on the fold says nothing about the halves.
  const first = { ...front, match: [{ at: [50_000, 0] as const, group: 'top', way: 'both' as const }, ...front.match] };
  expect(checkLay(firstLay('open', clothOf(plain), [first])).refusals).toEqual([]);
  const square: CutPiece = {
    ...plainPiece(
      'Yoke',
      [
        [-150_000, 0],
        [150_000, 0],
        [150_000, 200_000],
        [-150_000, 200_000],
      ],
      { asDrawn: 1, mirrored: 0 },
      true,
    ),
    lines: [
      {
        kind: 'fold',
        points: [
          [0, 0],
          [0, 200_000],
        ],
      },
    ],
    match: [
      { at: [110_000, 20_000], group: 'hip', way: 'both' },
      { at: [-110_000, 20_000], group: 'hip', way: 'both' },
    ],
  };
  expect(checkLay(firstLay('open', clothOf(plain), [square])).refusals).toEqual([]);
});

test('points on the fold itself count too', () => {
  const onFold: CutPiece = { ...front, match: [{ at: [100_000, 0], group: 'bar', way: 'both' }] };
  const lay = firstLay('open', clothOf({ start: [10_000, 7_000] }), [onFold]);
  expect(checkLay(lay).refusals).toEqual([]);
  for (const [dx, dy] of [
    [1, 0],
    [0, 1],
  ] as const)
    expect(codesOf(lay, (loose) => moveCopy(loose, 1, dx, dy))).toEqual(['off-repeat']);
});

test('where nothing is matched on the repeat a copy may be turned; on half a design end for end', () => {
  const lays = (match: CutPiece['match'], mirror: Repeat['mirror'], turned: Turn, isMirrored = false) => {
    const cloth = clothOf({ mirror, start: [0, 0] }, { nap: 'none', grain: 'free' });
    const piece = { ...slant({ asDrawn: 0, mirrored: 0 }), match };
    const lay = layOf({ title: 'Turned', cloth, puts: [{ piece, turned, mirror: isMirrored }] });
    return checkLay(lay).refusals.some(({ code }) => code === 'turned-on-repeat');
  };
  const both = [{ at: [0, 0] as const, group: 'hip', way: 'both' as const }];
  expect([lays([], 'none', 180), lays([], 'none', 90)]).toEqual([false, false]);
  expect([lays(both, 'both', 180), lays(both, 'both', 90), lays(both, 'both', 270)]).toEqual([false, true, true]);
  expect([lays(both, 'along', 180), lays(both, 'across', 180), lays(both, 'none', 180)]).toEqual([true, true, true]);
  expect([lays(both, 'along', 180, true), lays(both, 'across', 180, true)]).toEqual([false, true]);
});
