/** A lay of several cut lists against those that are given, and how a difference is told. The law is docs/lay-file.md. */
import { describe, expect, test } from 'vitest';
import { checkLay, checkLayAgainst, type Expected } from '../../src/checker/check-lay.js';
import type { Lay } from '../../src/lay/types.js';
import { damaged, type Loose, openRow } from '../support/damage.js';
import { table } from '../support/refusals.js';

const apron = { name: 'Apron', sha256: 'a'.repeat(64), garments: [1, 1] as const };
const cap = { name: 'Cap', sha256: 'b'.repeat(64), garments: [2, 3] as const };

/** The Slants are for garment 1, of the cut list "Apron", a Square each for garments 2 and 3, of "Cap". */
const ofTwo = damaged(openRow, (lay) => {
  lay.cutListSha256 = [apron, cap].map((list) => structuredClone(list) as Loose<typeof list>);
  lay.pieces[0]!.garments = [1, 1];
  lay.pieces[1]!.garments = [2, 3];
  lay.pieces[1]!.demand.asDrawn = 1;
  lay.placements[2]!.garment = 2;
  lay.placements[3]!.garment = 3;
});

const expected: Expected = { cutListSha256: [apron, cap], pieces: ofTwo.pieces, cloth: ofTwo.cloth, garments: 3 };

function told(lay: Lay, edit: (wanted: Loose<Expected>) => void): string[] {
  const wanted = structuredClone(expected) as Loose<Expected>;
  edit(wanted);
  return checkLayAgainst(lay, wanted as Expected).refusals.map(({ code, sentence }) => `${code}: ${sentence}`);
}

const other = 'other-cut-list: the lay was made from another cut list or another state of it:';

describe('hashes', () => {
  test('the same cut lists, in any order', () => {
    expect(told(ofTwo, () => {})).toEqual([]);
    expect(
      told(ofTwo, (wanted) => {
        wanted.cutListSha256 = [cap, apron] as never;
      }),
    ).toEqual([]);
  });

  test('another state of one, other garments, one that is not given, one too many', () => {
    expect(
      told(ofTwo, (wanted) => {
        wanted.cutListSha256 = [apron, { ...cap, sha256: 'c'.repeat(64) }] as never;
      }),
    ).toEqual([`${other} its "Cap" is bbbbbbbbbbbb..., this one is cccccccccccc...`]);
    expect(
      told(ofTwo, (wanted) => {
        wanted.cutListSha256 = [apron, { ...cap, garments: [2, 4] }] as never;
      }),
    ).toEqual([`${other} of "Cap" garments[1] is 3, not 4`]);
    expect(
      told(ofTwo, (wanted) => {
        wanted.cutListSha256 = [apron] as never;
      }),
    ).toEqual([`${other} its cut list "Cap" is not among those given`]);
    expect(
      told(ofTwo, (wanted) => {
        wanted.cutListSha256 = [apron, cap, { ...cap, name: 'Bag' }] as never;
      }),
    ).toEqual([`${other} "Bag" is not among its cut lists`]);
  });

  test('one against several', () => {
    const ofOne = (wanted: Loose<Expected>) => {
      wanted.cutListSha256 = 'a'.repeat(64);
    };
    expect(told(ofTwo, ofOne)).toEqual([`${other} it is of 2, and it is held against one`]);
    const lay = damaged(ofTwo, (loose) => {
      loose.cutListSha256 = 'a'.repeat(64);
    });
    expect(told(lay, () => {})[0]).toBe(`${other} it is of one, and it is held against 2`);
  });
});

describe('a difference is told by its place and both values', () => {
  test.each<[string, (wanted: Loose<Expected>) => void]>([
    [
      'piece "Slant" differs from the cut list: turn is null, not true',
      (wanted) => {
        wanted.pieces[0]!.turn = true;
      },
    ],
    [
      'piece "Slant" differs from the cut list: garments is [1,1], not missing',
      (wanted) => {
        delete wanted.pieces[0]!.garments;
      },
    ],
    [
      'piece "Slant" differs from the cut list: seam is null, not [[0,0]]',
      (wanted) => {
        wanted.pieces[0]!.seam = [[0, 0]];
      },
    ],
    [
      'piece "Slant" differs from the cut list: demand is {"asDrawn":1,"mirrored":1}, not []',
      (wanted) => {
        wanted.pieces[0]!.demand = [] as never;
      },
    ],
    // 60 characters are told whole, of more than that 59.
    [
      `piece "Slant" differs from the cut list: label is "cut as wanted", not "${'x'.repeat(58)}"`,
      (wanted) => {
        wanted.pieces[0]!.label = 'x'.repeat(58);
      },
    ],
    [
      `piece "Slant" differs from the cut list: label is "cut as wanted", not "${'x'.repeat(58)}…`,
      (wanted) => {
        wanted.pieces[0]!.label = 'x'.repeat(59);
      },
    ],
  ])('%s', (sentence, edit) => {
    const whole = told(ofTwo, edit);
    expect(whole).toHaveLength(1);
    expect(whole[0]!.split(': ').slice(1).join(': ')).toBe(sentence);
  });

  test('the first in order of keys', () => {
    expect(
      told(ofTwo, (wanted) => {
        wanted.cloth.width = 1_160_000;
        wanted.cloth.gap = 2_000;
      }),
    ).toEqual(['cloth-differs: cloth "lawn" differs from the cut list: gap is 3000, not 2000']);
  });
});

test('a lay of several cut lists is sound', () => {
  expect(checkLay(ofTwo).refusals).toEqual([]);
});

table('garments of several cut lists', [
  {
    what: 'a copy for a garment of another list',
    lay: ofTwo,
    edit: (lay) => {
      lay.placements[3]!.garment = 1;
    },
    codes: ['garment-unknown'],
    sentence: 'placement 4 (Square) is for garment 1; its piece is for garments 2 to 3',
  },
  {
    what: 'a copy for a garment after those of its list',
    lay: ofTwo,
    edit: (lay) => {
      lay.placements[0]!.garment = 2;
    },
    codes: ['garment-unknown'],
    sentence: 'placement 1 (Slant) is for garment 2; its piece is for garment 1',
  },
  {
    what: 'half a garment',
    lay: ofTwo,
    edit: (lay) => {
      lay.placements[3]!.garment = 2.5;
    },
    codes: ['garment-unknown'],
    sentence: 'placement 4 (Square) is for garment 2.5; its piece is for garments 2 to 3',
  },
  {
    what: 'a piece of no list',
    lay: ofTwo,
    edit: (lay) => {
      delete lay.pieces[0]!.garments;
      lay.pieces[0]!.demand = { asDrawn: 0, mirrored: 0 };
      lay.placements.splice(0, 2);
      lay.copies.splice(0, 2);
    },
    codes: ['cut-lists-disagree', 'total-area', 'total-utilisation'],
    sentence: 'piece "Slant" is of no cut list, and no cut list of the lay has such garments',
  },
  {
    what: 'a piece for garments of two lists',
    lay: ofTwo,
    edit: (lay) => {
      lay.pieces[1]!.garments = [1, 3];
      lay.pieces[1]!.demand = { asDrawn: 0, mirrored: 0 };
    },
    codes: ['copy-surplus', 'cut-lists-disagree'],
    sentence: 'piece "Square" is for garments 1 to 3, and no cut list of the lay has such garments',
  },
  {
    what: 'a list twice',
    lay: ofTwo,
    edit: (lay) => {
      lay.cutListSha256 = [
        { ...apron, garments: [1, 1] },
        { ...apron, garments: [2, 3] },
      ];
    },
    codes: ['cut-lists-disagree'],
    sentence: 'cut list "Apron" is listed twice',
  },
  {
    what: 'a list that ends before it begins',
    lay: ofTwo,
    edit: (lay) => {
      lay.cutListSha256 = [
        { ...apron, garments: [1, 1] },
        { ...cap, garments: [2, 3] },
        { ...cap, name: 'Bag', garments: [4, 3] },
      ];
    },
    codes: ['cut-lists-disagree'],
    sentence: 'cut list "Bag" has garments 4 to 3; its first is 4',
  },
  {
    what: 'lists that do not begin with garment 1',
    lay: ofTwo,
    edit: (lay) => {
      lay.cutListSha256 = [{ ...cap, garments: [2, 3] }];
      lay.pieces.shift();
      lay.placements.splice(0, 2);
      lay.copies.splice(0, 2);
    },
    codes: ['cut-lists-disagree', 'total-area', 'total-utilisation'],
    sentence: 'cut list "Cap" has garments 2 to 3; its first is 1',
  },
]);
