/** Counts, totals, and the lay against its cut list. */
import { describe, expect, it, test } from 'vitest';
import { checkLay, checkLayAgainst, type Expected } from '../../src/checker/check-lay.js';
import type { Repeat } from '../../src/cloth/types.js';
import type { Lay } from '../../src/lay/types.js';
import { lawn, plainPiece, slant, square } from '../support/cut-pieces.js';
import { copyOf, damaged, foldedRow, type Loose, moveCopy, openRow, refit, reposeCopy } from '../support/damage.js';
import { layOf } from '../support/lays.js';
import { table } from '../support/refusals.js';

table('counts', [
  {
    what: 'one copy too many',
    lay: openRow,
    edit: (lay) => {
      lay.copies.push({ ...structuredClone(copyOf(lay, 4)), n: 5 });
      lay.placements.push({ n: 5, stretch: 1, piece: 'Square', garment: 1, copies: [5], pinned: false });
      moveCopy(lay, 5, 0, 203_000);
      refit(lay);
    },
    codes: ['copy-surplus'],
    sentence: '1 copy of piece "Square" too many: 3 found, 2 wanted',
  },
  {
    what: 'one copy too few',
    lay: openRow,
    edit: (lay) => {
      lay.copies.pop();
      lay.placements.pop();
      refit(lay);
    },
    codes: ['copy-missing'],
    sentence: '1 copy of piece "Square" too few: 1 found, 2 wanted',
  },
  {
    what: 'mirrored without leave',
    lay: openRow,
    edit: (lay) => reposeCopy(lay, 1, { mirror: true, is: 'mirrored' }),
    codes: ['copy-missing', 'copy-surplus'],
    sentence: '1 copy of piece "Slant" too few: 0 as drawn found, 1 wanted',
  },
  {
    what: 'a piece that nobody wants cut',
    lay: openRow,
    edit: (lay) => {
      lay.pieces[1]!.demand = { asDrawn: 0, mirrored: 0 };
    },
    codes: ['copy-surplus'],
    sentence: '2 copies of piece "Square" too many: 2 found, 0 wanted',
  },
  {
    what: 'a garment more than is laid',
    lay: openRow,
    edit: (lay) => {
      lay.placements[0]!.garment = 2;
    },
    codes: ['copy-missing'],
    sentence: '2 copies of piece "Square" too few: 2 found, 4 wanted',
  },
  {
    what: 'a garment without a number',
    lay: openRow,
    edit: (lay) => {
      lay.placements[0]!.garment = 0;
    },
    codes: ['garment-unknown'],
    sentence: 'placement 1 (Slant) is for garment 0; the lay has 1',
  },
  {
    what: 'a piece for the garments of no cut list',
    lay: openRow,
    edit: (lay) => {
      lay.pieces[1]!.garments = [1, 1];
    },
    codes: ['cut-lists-disagree'],
    sentence: 'piece "Square" is for garment 1, and no cut list of the lay has such garments',
  },
  {
    what: 'cut lists whose garments are not numbered on',
    lay: openRow,
    edit: (lay) => {
      lay.cutListSha256 = [
        { name: 'Apron', sha256: 'a', garments: [1, 1] },
        { name: 'Cap', sha256: 'b', garments: [3, 3] },
      ];
      for (const piece of lay.pieces) piece.garments = [1, 1];
    },
    codes: ['cut-lists-disagree'],
    sentence: 'cut list "Cap" has garment 3; its first is 2',
  },
]);

table('totals', [
  {
    what: 'length used',
    lay: openRow,
    edit: (lay) => {
      lay.totals.lengthUsed += 1;
    },
    codes: ['total-length'],
    sentence: 'the length used is given as 200.001 mm; the copies use 200 mm',
  },
  {
    what: 'an addition',
    lay: openRow,
    edit: (lay) => {
      lay.totals.buyParts[1]!.um -= 10_000;
    },
    codes: ['total-buy-parts'],
    sentence:
      'the additions are given as: ends 40 mm, rounding up 50 mm; they should be: ends 40 mm, rounding up 60 mm',
  },
  {
    what: 'an addition under another name',
    lay: openRow,
    edit: (lay) => {
      lay.totals.buyParts[0]!.why = 'for luck';
    },
    codes: ['total-buy-parts'],
    sentence:
      'the additions are given as: for luck 40 mm, rounding up 60 mm; they should be: ends 40 mm, rounding up 60 mm',
  },
  {
    what: 'too much to buy',
    lay: openRow,
    edit: (lay) => {
      lay.totals.buy += 100_000;
    },
    codes: ['total-buy'],
    sentence: 'the length to buy is given as 400 mm; it should be 300 mm',
  },
  {
    what: 'area',
    lay: openRow,
    edit: (lay) => {
      lay.totals.areaUm2 -= 0.5;
    },
    codes: ['total-area'],
    sentence: 'the area of the copies is given as 161999999999.5 um2; it is 162000000000 um2',
  },
  {
    // 1 620 cm2 on 113 cm x 20 cm of usable cloth are 71.6814 %.
    what: 'utilisation',
    lay: openRow,
    edit: (lay) => {
      lay.totals.utilisationPpm += 1;
    },
    codes: ['total-utilisation'],
    sentence: 'the utilisation is given as 716815 parts in a million; it is 716814',
  },
  {
    what: 'a bound above the length used',
    lay: openRow,
    edit: (lay) => {
      lay.totals.bound.um = 200_001;
    },
    codes: ['bound-passed'],
    sentence: 'the lay uses 200 mm, yet the bound says that none is below 200.001 mm',
  },
  {
    what: 'proven, but longer than the bound',
    lay: openRow,
    edit: (lay) => {
      lay.status = 'proven shortest';
    },
    codes: ['not-proven'],
    sentence: 'the lay is called proven shortest, but it uses 200 mm, the bound is 180 mm',
  },
]);

describe('what is bought', () => {
  /** The row, 200 mm long from 20 mm on, after an edit; its sums are made to fit. */
  const changed = (edit: (lay: Loose<Lay>) => void) =>
    damaged(openRow, (lay) => {
      edit(lay);
      refit(lay);
    });
  const told = (lay: Lay) => checkLay(lay).refusals.map(({ sentence }) => sentence);
  const partsOf = ({ totals }: Lay) => totals.buyParts.map(({ why, um }) => `${why} ${um}`);

  test('what washing takes is added before rounding up', () => {
    const lay = changed((loose) => {
      loose.cloth.shrinkagePpm = { along: 40_000, across: 0 };
    });
    // 240 mm are left of 250 mm.
    expect(partsOf(lay)).toEqual(['ends 40000', 'shrinkage 10000', 'rounding up 50000']);
    expect(told(lay)).toEqual([]);
    const without = damaged(lay, (loose) => {
      loose.totals.buyParts.splice(1, 1);
    });
    expect(told(without)).toEqual([
      'the additions are given as: ends 40 mm, rounding up 50 mm; they should be: ends 40 mm, shrinkage 10 mm, rounding up 50 mm',
    ]);
    const none = damaged(lay, (loose) => {
      loose.totals.buyParts = [];
    });
    expect(told(none)[0]).toMatch(/^the additions are given as: none; they should be: ends/);
  });

  test('to the micrometre, whatever washing takes', () => {
    for (const along of [1, 33_333, 50_000, 99_999, 250_001])
      for (const more of [0, 1, 2, 3, 1_237, 999_999]) {
        const lay = changed((loose) => {
          loose.cloth.shrinkagePpm = { along, across: 0 };
          loose.cloth.soldBy = 1;
          moveCopy(loose, 4, more, 0);
        });
        expect(told(lay)).toEqual([]);
        const less = damaged(lay, (loose) => {
          loose.totals.buy -= 1;
          loose.totals.buyParts.at(-1)!.um -= 1;
        });
        expect(told(less)).toHaveLength(2);
      }
  });

  test('both ends, each as it is', () => {
    const lay = changed((loose) => {
      loose.cloth.ends = [20_000, 35_000];
    });
    expect(partsOf(lay)).toEqual(['ends 55000', 'rounding up 45000']);
    expect(told(lay)).toEqual([]);
    const remnant = changed((loose) => {
      loose.cloth.ends = [20_000, 35_000];
      loose.cloth.length = 255_000;
    });
    expect(told(remnant)).toEqual([]);
  });

  test('what lies clear before the first piece', () => {
    const lay = changed((loose) => {
      for (const { n } of loose.copies) moveCopy(loose, n, 30_000, 0);
    });
    expect(partsOf(lay)).toEqual(['before the first piece 30000', 'ends 40000', 'rounding up 30000']);
    expect(told(lay)).toEqual([]);
  });

  test('a remnant is not rounded up, and may be used to its end', () => {
    const remnant = (length: number) =>
      changed((loose) => {
        loose.cloth.length = length;
      });
    expect(partsOf(remnant(240_000))).toEqual(['ends 40000']);
    expect(told(remnant(240_000))).toEqual([]);
    expect(told(remnant(239_999)).at(-1)).toBe(
      'the lay needs 240 mm of the cloth; there are 239.999 mm, 0.001 mm too little',
    );
  });

  test('one repeat to reach its first bar, where it is not known and something is matched along it', () => {
    const repeated = (repeat: Partial<Repeat>, way: 'both' | 'along' | 'across' | null) =>
      changed((loose) => {
        loose.cloth.repeat = {
          along: 80_000,
          across: 60_000,
          start: null,
          mirror: 'both',
          drop: false,
          ...repeat,
        } as typeof loose.cloth.repeat;
        if (way !== null) loose.pieces[0]!.match = [{ at: [0, 0], group: 'hem', way }];
      });
    const bar = (repeat: Partial<Repeat>, way: 'both' | 'along' | 'across' | null) => {
      const lay = repeated(repeat, way);
      expect(told(lay).filter((sentence) => /additions|buy/.test(sentence))).toEqual([]);
      return lay.totals.buyParts.find(({ why }) => why === 'reaching the first bar')?.um ?? 0;
    };
    expect([bar({}, 'both'), bar({}, 'along'), bar({}, 'across'), bar({}, null)]).toEqual([80_000, 80_000, 0, 0]);
    expect(bar({ start: [0, 0] }, 'both')).toBe(0);
    expect(bar({ along: null }, 'both')).toBe(0);
    // Where every second column lies half a repeat on, a place across is one along as well.
    expect(bar({ drop: true }, 'across')).toBe(80_000);
  });
});

describe('bound and shares', () => {
  const told = (edit: (lay: Loose<Lay>) => void) =>
    checkLay(damaged(openRow, edit)).refusals.map(({ sentence }) => sentence);

  test('a bound from nothing to the length used; proven when it is that length', () => {
    const bounded = (um: number, status: Lay['status'] = 'shortest found') =>
      told((lay) => {
        lay.totals.bound.um = um;
        lay.status = status;
      });
    expect([bounded(0), bounded(200_000), bounded(200_000, 'proven shortest')]).toEqual([[], [], []]);
    expect(bounded(-1)).toEqual(['the lay uses 200 mm, yet the bound says that none is below -0.001 mm']);
    expect(bounded(199_999, 'proven shortest')).toHaveLength(1);
  });

  test('a share that is no whole number', () => {
    expect(
      told((lay) => {
        lay.totals.utilisationPpm += 0.25;
      }),
    ).toEqual(['the utilisation is given as 716814.25 parts in a million; it is 716814']);
  });

  test('a lay of no length at all is refused, not stumbled over', () => {
    const thin = told((lay) => {
      lay.copies.splice(1);
      lay.placements.splice(1);
      for (const point of lay.copies[0]!.outline) point[0] = 20_000;
    });
    expect(thin).toContain('the length used is given as 200 mm; the copies use 0 mm');
    expect(thin).toContain('the utilisation is given as 716814 parts in a million; it is 0');
  });

  test('a share just half way is rounded up', () => {
    const lay = layOf({
      title: 'Half',
      cloth: { ...lawn, width: 1_000_000, usable: [0, 1_000_000], gap: 0, ends: [0, 0] },
      // Half of 801 um x 1 mm, on 1 m x 1 mm of cloth: 400.5 parts in a million.
      puts: [{ piece: bar(801) }],
    });
    const share = (ppm: number) =>
      checkLay(
        damaged(lay, (loose) => {
          loose.totals.utilisationPpm = ppm;
        }),
      ).accepted;
    expect([share(400), share(401), share(402)]).toEqual([false, true, false]);
  });

  /** A triangle 1 mm along and so much across. */
  function bar(acrossUm: number) {
    return plainPiece(
      'Bar',
      [
        [0, 0],
        [1_000, 0],
        [1_000, acrossUm],
      ],
      { asDrawn: 0, mirrored: 0 },
    );
  }
});

const expected: Expected = {
  cutListSha256: openRow.cutListSha256,
  pieces: openRow.pieces,
  cloth: openRow.cloth,
  garments: 1,
};

interface Change {
  readonly what: string;
  readonly edit: (expected: Loose<Expected>) => void;
  readonly refusals: readonly { readonly code: string; readonly sentence: string }[];
}

const changes: readonly Change[] = [
  {
    what: 'wrong hash',
    edit: (wanted) => {
      wanted.cutListSha256 = 'f'.repeat(64);
    },
    refusals: [
      {
        code: 'other-cut-list',
        sentence:
          'the lay was made from another cut list or another state of it: its cut list is 000000000000..., this one is ffffffffffff...',
      },
    ],
  },
  {
    what: 'a changed cloth rule',
    edit: (wanted) => {
      wanted.cloth.gap = 5_000;
    },
    refusals: [{ code: 'cloth-differs', sentence: 'cloth "lawn" differs from the cut list: gap is 3000, not 5000' }],
  },
  {
    what: 'a changed range in the cloth',
    edit: (wanted) => {
      wanted.cloth.usable[1] = 1_139_999;
    },
    refusals: [
      { code: 'cloth-differs', sentence: 'cloth "lawn" differs from the cut list: usable[1] is 1140000, not 1139999' },
    ],
  },
  {
    what: 'a changed outline',
    edit: (wanted) => {
      wanted.pieces[0]!.outline[2]![1] += 1;
    },
    refusals: [
      {
        code: 'piece-differs',
        sentence: 'piece "Slant" differs from the cut list: outline[2][1] is 180000, not 180001',
      },
    ],
  },
  {
    what: 'a changed mark',
    edit: (wanted) => {
      wanted.pieces[1]!.awl.push([0, 0]);
    },
    refusals: [
      { code: 'piece-differs', sentence: 'piece "Square" differs from the cut list: awl has 0 entries, not 1' },
    ],
  },
  {
    what: 'a changed demand',
    edit: (wanted) => {
      wanted.pieces[1]!.demand.asDrawn = 3;
    },
    refusals: [
      { code: 'piece-differs', sentence: 'piece "Square" differs from the cut list: demand.asDrawn is 2, not 3' },
    ],
  },
  {
    what: 'a piece that the cut list does not have',
    edit: (wanted) => {
      wanted.pieces.pop();
    },
    refusals: [{ code: 'piece-surplus', sentence: 'piece "Square" of the lay is not in the cut list' }],
  },
  {
    what: 'a piece of the cut list that the lay does not have',
    edit: (wanted) => {
      wanted.pieces.push({ ...structuredClone(wanted.pieces[0]!), id: 'Strap' });
    },
    refusals: [{ code: 'piece-missing', sentence: 'piece "Strap" of the cut list is not in the lay' }],
  },
  {
    what: 'two garments wanted',
    edit: (wanted) => {
      wanted.garments = 2;
    },
    refusals: [
      { code: 'copy-missing', sentence: '1 copy of piece "Slant" too few: 1 as drawn found, 2 wanted' },
      { code: 'copy-missing', sentence: '1 copy of piece "Slant" too few: 1 mirrored found, 2 wanted' },
      { code: 'copy-missing', sentence: '2 copies of piece "Square" too few: 2 found, 4 wanted' },
    ],
  },
];

describe('against the cut list', () => {
  it('accepts a lay of the same pieces, in any order', () => {
    const wanted = { ...expected, pieces: [...expected.pieces].reverse() };
    expect(checkLayAgainst(openRow, wanted)).toEqual({ accepted: true, refusals: [] });
  });

  it.each(changes)('refuses: $what', ({ edit, refusals }) => {
    const wanted = structuredClone(expected) as Loose<Expected>;
    edit(wanted);
    expect(checkLayAgainst(openRow, wanted as Expected)).toEqual({ accepted: false, refusals });
  });

  it('still judges the lay itself', () => {
    const lay = damaged(openRow, (loose) => moveCopy(loose, 1, 0, -1));
    expect(checkLayAgainst(lay, expected).refusals.map(({ code }) => code)).toEqual(['off-usable-width']);
  });
});

describe('what may be laid more than one way', () => {
  const none = { asDrawn: 0, mirrored: 0 };

  it('a piece that is its own mirror image counts either way up', () => {
    const lay = damaged(openRow, (loose) => reposeCopy(loose, 4, { mirror: true, is: 'mirrored' }));
    expect(checkLay(lay)).toEqual({ accepted: true, refusals: [] });
  });

  it.each([
    ['an awl point beside the middle', { awl: [[50_000, 501]] as const }],
    [
      'a notch on one side',
      {
        notches: [
          [
            [50_000, 100_000],
            [50_000, 96_000],
          ],
        ] as const,
      },
    ],
  ])('%s tells left from right', (_what, marks) => {
    const lay = damaged(openRow, (loose) => {
      Object.assign(loose.pieces[1]!, structuredClone(marks));
      reposeCopy(loose, 4, { mirror: true, is: 'mirrored' });
    });
    expect(checkLay(lay).refusals.map(({ code }) => code)).toEqual(['copy-missing', 'copy-surplus']);
  });

  it('likeness reaches half a millimetre', () => {
    const lay = (off: number) =>
      damaged(openRow, (loose) => {
        loose.pieces[1]!.awl = [[50_000, off]];
        reposeCopy(loose, 4, { mirror: true, is: 'mirrored' });
      });
    expect(checkLay(lay(250)).accepted).toBe(true);
    expect(checkLay(lay(251)).accepted).toBe(false);
  });

  it('cloth with two right sides takes the other outline, turned over after cutting', () => {
    const lay = damaged(foldedRow, (loose) => {
      loose.cloth.faces = 'both';
      loose.pieces[0]!.demand = { asDrawn: 2, mirrored: 0 };
      Object.assign(copyOf(loose, 2), { turnedOver: true, is: 'asDrawn' });
    });
    expect(checkLay(lay)).toEqual({ accepted: true, refusals: [] });
  });

  it('all copies may lie a half turn round, and pieces that may turn lie either way', () => {
    const turned = layOf({
      title: 'Turned',
      cloth: lawn,
      puts: [
        { piece: slant(none), turned: 180 },
        { piece: { ...square(none), turn: true } },
        { piece: { ...square(none), id: 'Other square' }, turned: 180 },
      ],
    });
    expect(checkLay(turned)).toEqual({ accepted: true, refusals: [] });
  });

  it('each garment may have its own way of the nap', () => {
    const pieces = { left: slant(none), even: square(none) };
    const puts = [
      { piece: pieces.left },
      { piece: pieces.even },
      { piece: pieces.left, turned: 180 as const },
      { piece: pieces.even, turned: 180 as const },
    ];
    const lay = damaged(layOf({ title: 'Two', cloth: { ...lawn, nap: 'each-garment' }, puts }), (loose) => {
      for (const piece of loose.pieces) piece.demand.asDrawn = 1;
      for (const placement of loose.placements.slice(2)) placement.garment = 2;
    });
    expect(checkLay(lay)).toEqual({ accepted: true, refusals: [] });
    const mixed = damaged(lay, (loose) => {
      loose.placements[1]!.garment = 2;
      loose.placements[3]!.garment = 1;
    });
    expect(checkLay(mixed).refusals.map(({ code }) => code)).toEqual(['against-nap', 'against-nap']);
  });

  it('a pair of cross pieces lies turned by 90 and 270 degrees, its nap alike', () => {
    const cross = { ...slant(none), cross: true };
    const lay = layOf({ title: 'Bands', cloth: lawn, folded: true, puts: [{ piece: cross, turned: 90 }] });
    expect(lay.copies.map(({ turned }) => turned)).toEqual([90, 270]);
    expect(checkLay(lay)).toEqual({ accepted: true, refusals: [] });
    const puts = [
      { piece: cross, turned: 90 as const },
      { piece: cross, turned: 270 as const },
    ];
    const against = layOf({ title: 'Bands', cloth: lawn, puts });
    expect(checkLay(against).refusals.map(({ code }) => code)).toEqual(['against-nap']);
  });

  it('cloth without a grain takes quarter turns of any piece', () => {
    const cloth = { ...lawn, grain: 'free' as const, nap: 'none' as const };
    const piece = slant(none);
    const turns = ([0, 90, 180, 270] as const).map((turned) => ({ piece, turned }));
    expect(checkLay(layOf({ title: 'Felt', cloth, puts: turns }))).toEqual({ accepted: true, refusals: [] });
  });
});
