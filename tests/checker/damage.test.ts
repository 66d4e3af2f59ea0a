/** Every damage to a legal lay is refused, with its own code and a sentence that names copies and amount. */
import { describe, expect, it } from 'vitest';
import { checkLay } from '../../src/checker/check-lay.js';
import type { Lay } from '../../src/lay/types.js';
import { lawn, plainPiece, square } from '../support/cut-pieces.js';
import {
  copyOf,
  damaged,
  foldedRow,
  followLead,
  type Loose,
  moveCopy,
  openRow,
  refit,
  reposeCopy,
  tightRow,
} from '../support/damage.js';
import { layOf } from '../support/lays.js';
import { table } from '../support/refusals.js';
import { openLay, sampleLays } from '../support/sample-lays.js';

const patch = plainPiece(
  'Patch',
  [
    [0, 0],
    [20_000, 0],
    [20_000, 20_000],
    [0, 20_000],
  ],
  { asDrawn: 1, mirrored: 0 },
);

/** A square of 20 cm, and 3 mm beside it a patch of 2 cm. */
const patched = layOf({
  title: 'Patch',
  cloth: lawn,
  puts: [{ piece: square({ asDrawn: 1, mirrored: 0 }) }, { piece: patch }],
});

describe('legal lays are accepted', () => {
  it.each(Object.entries({ ...sampleLays, openRow, tightRow, foldedRow }))('%s', (_name, lay) => {
    expect(checkLay(lay)).toEqual({ accepted: true, refusals: [] });
  });
});

table('copies and their neighbours', [
  {
    what: 'one micrometre into a neighbour',
    lay: tightRow,
    edit: (lay) => moveCopy(lay, 3, 0, 1),
    codes: ['copies-overlap'],
    sentence: 'copy 3 (Square) reaches 0.001 mm into copy 4 (Square)',
  },
  {
    what: 'gap one micrometre short',
    lay: openRow,
    edit: (lay) => moveCopy(lay, 3, 0, 1),
    codes: ['gap-short'],
    sentence: 'copy 3 (Square) comes near copy 4 (Square): 0.001 mm short of the gap of 3 mm',
  },
  {
    what: 'touching where there is to be a gap',
    lay: openRow,
    edit: (lay) => moveCopy(lay, 4, 0, -3_000),
    codes: ['gap-short'],
    sentence: 'copy 3 (Square) touches copy 4 (Square): 3 mm short of the gap of 3 mm',
  },
  {
    what: 'two alike on top of each other',
    lay: tightRow,
    edit: (lay) => moveCopy(lay, 4, 0, -200_000),
    codes: ['copies-overlap'],
    sentence: 'copy 3 (Square) lies on top of copy 4 (Square)',
  },
  {
    what: 'one inside another',
    lay: patched,
    edit: (lay) => moveCopy(lay, 2, 50_000, -143_000),
    codes: ['copies-overlap'],
    sentence: 'copy 2 (Patch) reaches 70 mm into copy 1 (Square)',
  },
]);

it('whether copies overlap is said only where every outline is sound and as claimed', () => {
  const codes = (edit: (lay: Loose<Lay>) => void) =>
    checkLay(
      damaged(patched, (lay) => {
        moveCopy(lay, 2, 50_000, -143_000);
        edit(lay);
      }),
    ).refusals.map(({ code }) => code);
  expect(codes(() => {})).toEqual(['copies-overlap']);
  expect(
    codes((lay) => {
      lay.pieces[1]!.outline.reverse();
    }),
  ).toEqual(['outline-clockwise', 'outline-not-claimed']);
  expect(
    codes((lay) => {
      copyOf(lay, 2).at[0] += 1;
    }),
  ).toEqual(['outline-not-claimed']);
});

table('edges of the cloth', [
  {
    what: 'one micrometre over the left edge',
    lay: openRow,
    edit: (lay) => moveCopy(lay, 1, 0, -1),
    codes: ['off-usable-width'],
    sentence: 'copy 1 (Slant) reaches 0.001 mm over the left edge of the usable width',
  },
  {
    what: 'one micrometre over the right edge',
    lay: openRow,
    edit: (lay) => moveCopy(lay, 4, 0, 1_140_000 - 879_000 + 1),
    codes: ['off-usable-width'],
    sentence: 'copy 4 (Square) reaches 0.001 mm over the right edge of the usable width',
  },
  {
    what: 'over the left edge on the lower layer alone',
    lay: foldedRow,
    edit: (lay) => {
      lay.cloth.usable = [10_001, 1_140_000];
      refit(lay);
    },
    codes: ['off-usable-width'],
    sentence: 'copy 1 (Slant) reaches 0.001 mm over the left edge of the usable width',
  },
  {
    what: 'into the cut end',
    lay: openRow,
    edit: (lay) => {
      moveCopy(lay, 4, -1, 0);
      refit(lay);
    },
    codes: ['off-cut-end'],
    sentence: 'copy 4 (Square) reaches 0.001 mm into the end that is kept clear at the cut end',
  },
  {
    what: 'beyond the length at hand',
    lay: openRow,
    edit: (lay) => {
      lay.cloth.length = 239_999;
      refit(lay);
    },
    codes: ['off-far-end', 'past-length'],
    sentence: 'copy 1 (Slant) reaches 0.001 mm beyond the length at hand less the end that is kept clear',
  },
  {
    what: 'out of its stretch towards the far end',
    lay: openRow,
    edit: (lay) => {
      moveCopy(lay, 4, 1, 0);
      const { to } = lay.stretches[0]!;
      refit(lay);
      lay.stretches[0]!.to = to;
    },
    codes: ['off-stretch'],
    sentence: 'copy 4 (Square) reaches 0.001 mm out of stretch 1 towards the far end',
  },
  {
    what: 'out of its stretch towards the cut end',
    lay: openRow,
    edit: (lay) => {
      lay.stretches[0]!.from += 1;
    },
    codes: ['off-stretch'],
    sentence: 'copy 1 (Slant) reaches 0.001 mm out of stretch 1 towards the cut end',
  },
]);

table('nap, grain, sides', [
  {
    what: 'against the nap',
    lay: openRow,
    edit: (lay) => reposeCopy(lay, 4, { turned: 180 }),
    codes: ['against-nap'],
    sentence:
      'copy 4 (Square) is turned by 180 degrees against copy 1 (Slant), which is turned by 0; the nap runs one way',
  },
  {
    what: 'turned although the piece says no',
    lay: openLay,
    edit: (lay) => {
      for (const piece of lay.pieces) if (piece.id === 'Tie') piece.turn = false;
    },
    codes: ['against-nap'],
    sentence:
      'copy 9 (Tie) is turned by 180 degrees against copy 8 (Tie), which is turned by 0; its piece may not be turned',
  },
  {
    what: 'against the other copies of its garment',
    lay: damaged(openRow, (lay) => {
      lay.cloth.nap = 'each-garment';
    }),
    edit: (lay) => reposeCopy(lay, 2, { turned: 180 }),
    codes: ['against-nap'],
    sentence:
      'copy 2 (Slant) is turned by 180 degrees against copy 1 (Slant), which is turned by 0; the nap is to run alike in garment 1',
  },
  {
    what: 'a quarter turn without leave',
    lay: openRow,
    edit: (lay) => reposeCopy(lay, 4, { turned: 90 }),
    codes: ['off-grain'],
    sentence:
      'copy 4 (Square) is turned by 90 degrees; neither its piece (also: cross) nor the grain of the cloth allows quarter turns',
  },
  {
    what: 'turned over on cloth with one right side',
    lay: openRow,
    edit: (lay) => Object.assign(copyOf(lay, 4), { turnedOver: true, is: 'mirrored' }),
    codes: ['turned-over'],
    sentence: 'copy 4 (Square) is turned over after cutting, but the cloth has one right side',
  },
  {
    what: 'said to be the other hand',
    lay: openRow,
    edit: (lay) => {
      copyOf(lay, 4).is = 'mirrored';
    },
    codes: ['wrong-hand'],
    sentence:
      'copy 4 (Square) is laid as drawn and not turned over: that makes it a copy as drawn, not a mirrored copy',
  },
  {
    what: 'tilted',
    lay: openRow,
    edit: (lay) => {
      copyOf(lay, 4).tiltMicrodegrees = 1_500_000;
    },
    codes: ['outline-not-claimed', 'tilt'],
    sentence: 'copy 4 (Square) is tilted by 1.5 degrees; its piece allows 0',
  },
]);

table('outlines', [
  {
    what: 'one micrometre off the transform it claims',
    lay: openRow,
    edit: (lay) => {
      copyOf(lay, 4).outline[2]![1] += 1;
    },
    codes: ['outline-not-claimed', 'total-area', 'total-utilisation'],
    sentence: 'the outline of copy 4 (Square) is off its place by 0.001 mm',
  },
  {
    what: 'moved without its outline',
    lay: openRow,
    edit: (lay) => {
      copyOf(lay, 4).at[0] += 30;
    },
    codes: ['outline-not-claimed'],
    sentence: 'the outline of copy 4 (Square) is off its place by 0.03 mm',
  },
  {
    what: 'a point more than the piece',
    lay: openRow,
    edit: (lay) => {
      copyOf(lay, 4).outline.splice(1, 0, [120_000, 679_000]);
    },
    codes: ['outline-not-claimed'],
    sentence: 'the outline of copy 4 (Square) has 5 points, its piece 4',
  },
  {
    what: 'a piece that crosses itself',
    lay: openRow,
    edit: (lay) => {
      lay.pieces[1]!.outline = [
        [0, -100_000],
        [200_000, 100_000],
        [200_000, -100_000],
        [0, 150_000],
      ];
    },
    codes: ['outline-not-claimed', 'outline-not-simple'],
    sentence: 'the outline of piece "Square" meets itself at (111.111 mm, 11.111 mm)',
  },
  {
    what: 'a piece that runs clockwise',
    lay: openRow,
    edit: (lay) => {
      lay.pieces[1]!.outline.reverse();
    },
    codes: ['outline-clockwise', 'outline-not-claimed'],
    sentence: 'the outline of piece "Square" runs clockwise',
  },
  {
    what: 'a piece that encloses nothing',
    lay: openRow,
    edit: (lay) => {
      lay.pieces[1]!.outline = [
        [0, 0],
        [200_000, 0],
        [100_000, 0],
      ];
    },
    codes: ['outline-no-area', 'outline-not-claimed'],
    sentence: 'the outline of piece "Square" encloses nothing',
  },
]);

table('folded cloth', [
  {
    what: 'off the fold by a micrometre',
    lay: foldedRow,
    edit: (lay) => moveCopy(lay, 3, 0, 1),
    codes: ['off-fold'],
    sentence: 'the middle of copy 3 (Panel) lies 0.001 mm beside the fold',
  },
  {
    what: 'on the fold, but the fold of an odd width lies at half a micrometre',
    lay: foldedRow,
    edit: (lay) => {
      lay.cloth.width = 1_150_001;
      lay.stretches[0]!.folds = [575_000.5, 0];
      followLead(lay, 1, 2);
      lay.cloth.usable = [10_000, 1_140_001];
      refit(lay);
    },
    codes: ['off-fold'],
    sentence: 'the middle of copy 3 (Panel) lies 0.0005 mm beside the fold',
  },
  {
    what: 'partner not the reflection',
    lay: foldedRow,
    edit: (lay) => moveCopy(lay, 2, 0, -1),
    codes: ['not-reflected'],
    sentence: 'copy 2 (Slant) is off its place on copy 1 (Slant) in the other layer by 0.001 mm',
  },
  {
    what: 'neither of a pair mirrored',
    lay: foldedRow,
    edit: (lay) => reposeCopy(lay, 2, { mirror: false, is: 'asDrawn' }),
    codes: ['copy-missing', 'copy-surplus', 'not-reflected', 'pair-alike'],
    sentence: 'copy 1 (Slant) and copy 2 (Slant) come from one cut through doubled cloth but are neither mirrored',
  },
  {
    what: 'a pair over the fold',
    lay: foldedRow,
    edit: (lay) => {
      lay.cloth.gap = 0;
      moveCopy(lay, 1, 301_000, 335_001);
      followLead(lay, 1, 2);
      refit(lay);
    },
    codes: ['copies-overlap', 'over-fold'],
    sentence: 'copy 1 (Slant) reaches 0.001 mm over the fold',
  },
  {
    what: 'a piece of no fold single on doubled cloth',
    lay: foldedRow,
    edit: (lay) => {
      lay.placements[0]!.copies = [1];
      lay.copies.splice(1, 1);
      lay.pieces[0]!.demand.mirrored = 0;
      refit(lay);
    },
    codes: ['single-on-doubled'],
    sentence: 'copy 1 (Slant) lies single on doubled cloth, but its piece is not cut on the fold',
  },
  {
    what: 'halves that differ',
    lay: foldedRow,
    edit: (lay) => {
      lay.pieces[1]!.outline[1]![0] -= 1;
      copyOf(lay, 3).outline[1]![0] -= 1;
      refit(lay);
    },
    codes: ['halves-differ'],
    sentence: 'copy 3 (Panel) lies across the fold, but its two halves are not mirror images in the fold line',
  },
  {
    what: 'a fold edge that is square to the grain',
    lay: foldedRow,
    edit: (lay) => {
      lay.pieces[1]!.lines.push({
        kind: 'fold',
        points: [
          [0, -10_000],
          [0, 10_000],
        ],
      });
      refit(lay);
    },
    codes: ['fold-square-to-grain'],
    sentence: 'copy 3 (Panel) lies on a fold along the cloth, but the fold edge of its piece is square to the grain',
  },
  {
    what: 'fold at another depth than the middle',
    lay: foldedRow,
    edit: (lay) => {
      lay.stretches[0]!.folds[0] = 574_000;
    },
    codes: ['fold-depth'],
    sentence:
      'stretch 1 has folds 574 mm and 0 mm deep; "lengthwise fold" on a width of 1150 mm cannot have such folds',
  },
  {
    what: 'two copies of one placement on open cloth',
    lay: openRow,
    edit: (lay) => {
      lay.placements[0]!.copies = [1, 2];
      lay.placements.splice(1, 1);
    },
    codes: ['pair-on-open'],
    sentence: 'placement 1 (Slant) yields copies 1 and 2, but single cloth gives one at a time',
  },
  {
    what: 'a tube of cloth that has selvedges',
    lay: foldedRow,
    edit: (lay) => {
      lay.stretches[0]!.method = 'tube';
      lay.stretches[0]!.folds = [287_500, 287_500];
    },
    codes: ['fold-depth', 'not-reflected', 'off-fold'],
    sentence: 'stretch 1 has folds 287.5 mm and 287.5 mm deep; "tube" on a width of 1150 mm cannot have such folds',
  },
]);

table('what belongs to what', [
  {
    what: 'a copy in no placement',
    lay: openRow,
    edit: (lay) => {
      lay.placements.splice(3, 1);
    },
    codes: ['copy-loose'],
    sentence: 'copy 4 belongs to no placement',
  },
  {
    what: 'a copy in two placements',
    lay: openRow,
    edit: (lay) => {
      lay.placements[3]!.copies = [3];
      lay.copies.splice(3, 1);
    },
    codes: ['copy-twice'],
    sentence: 'copy 3 (Square) stands in placement 3 and in placement 4',
  },
  {
    what: 'a placement of a copy that is not there',
    lay: openRow,
    edit: (lay) => {
      lay.copies.splice(3, 1);
    },
    codes: ['copy-unknown'],
    sentence: 'placement 4 (Square) yields copy 4, which the lay does not list',
  },
  {
    what: 'a placement of a piece that is not there',
    lay: openRow,
    edit: (lay) => {
      lay.placements[3]!.piece = 'Sail';
    },
    codes: ['piece-unknown'],
    sentence: 'placement 4 (Sail) is of a piece that the lay does not list',
  },
  {
    what: 'a placement in a stretch that is not there',
    lay: openRow,
    edit: (lay) => {
      lay.placements[3]!.stretch = 2;
    },
    codes: ['stretch-unknown'],
    sentence: 'placement 4 (Square) is in stretch 2, which the lay does not list',
  },
  {
    what: 'a number twice',
    lay: openRow,
    edit: (lay) => {
      lay.placements[3]!.n = 3;
    },
    codes: ['number-twice'],
    sentence: 'placement 3 is listed twice',
  },
  {
    what: 'three copies in a placement',
    lay: openRow,
    edit: (lay) => {
      lay.placements[1]!.copies = [2, 3, 4];
      lay.placements.splice(2, 2);
    },
    codes: ['placement-copies'],
    sentence: 'placement 2 (Slant) has 3 copies; one or two are possible',
  },
  {
    what: 'stretches that overlap',
    lay: openRow,
    edit: (lay) => {
      lay.stretches.push({ id: 2, from: 219_999, to: 300_000, method: 'open', folds: [0, 0] });
    },
    codes: ['stretches-overlap'],
    sentence: 'stretch 2 begins 0.001 mm inside stretch 1',
  },
  {
    what: 'a stretch that ends before it begins',
    lay: openRow,
    edit: (lay) => {
      lay.stretches.push({ id: 2, from: 300_000, to: 299_999, method: 'open', folds: [0, 0] });
    },
    codes: ['stretch-empty'],
    sentence: 'stretch 2 ends 0.001 mm before it begins',
  },
  {
    what: 'another format',
    lay: openRow,
    edit: (lay) => Object.assign(lay, { format: 'shortlay-lay/2' }),
    codes: ['format-unknown'],
    sentence: 'the format is "shortlay-lay/2", not "shortlay-lay/1"',
  },
  {
    what: 'no copies',
    lay: openRow,
    edit: (lay) => Object.assign(lay, { copies: [], placements: [] }),
    codes: ['lay-empty'],
    sentence: 'the lay has no copies',
  },
  {
    what: 'half a micrometre',
    lay: openRow,
    edit: (lay) => moveCopy(lay, 4, 0.5, 0),
    codes: ['number-unusable'],
    sentence: 'copy 4 has the value 20000.5; whole micrometres up to 47453132 are possible',
  },
  {
    what: 'a usable width outside the cloth',
    lay: openRow,
    edit: (lay) => {
      lay.cloth.usable = [10_000, 1_150_001];
    },
    codes: ['cloth-impossible'],
    sentence: 'the usable width does not lie within the width of the cloth',
  },
]);
