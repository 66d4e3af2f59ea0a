/** Lays of the boatyard workshop to draw: open and folded, curved, tiny, many and long. */
import type { Lay } from '../../src/lay/types.js';
import type { CutPiece } from '../../src/pieces/types.js';
import { lawn } from './cut-pieces.js';
import { curveCm, layOf, outlineCm, pieceCm, ticking } from './lays.js';

const notch = (x: number, y: number, dx: number, dy: number) =>
  outlineCm([
    [x, y],
    [x + dx, y + dy],
  ]) as unknown as CutPiece['notches'][number];

/** Half of a bib, unfolded: waist 68, top 26, curved under the arms. */
const bib = pieceCm(
  'Bib',
  [
    [0, -34],
    [0, 34],
    ...([[54, 34], ...curveCm([54, 34], [58, 15], [82, 13]), [82, -13]] as const),
    ...curveCm([82, -13], [58, -15], [54, -34]),
  ].map(([x, y]) => [x!, -y!] as const),
  {
    onFold: true,
    label: 'cut 1 on fold',
    size: 'M',
    notches: [notch(30, 34, 0, -0.4), notch(30, -34, 0, 0.4)],
    awl: outlineCm([
      [40, 20],
      [40, -20],
    ]),
    lines: [
      {
        kind: 'hem',
        points: outlineCm([
          [3, -34],
          [3, 34],
        ]),
      },
    ],
  },
);

const pocket = pieceCm('Pocket', [[0, 0], [18, 0], [18, 17], [5, 17], ...curveCm([5, 17], [0, 15], [0, 9], 12)], {
  label: 'cut 1 pair',
  notches: [notch(9, 0, 0, 0.4)],
});

const tie = pieceCm(
  'Tie',
  [
    [0, 0],
    [92, 0],
    [92, 8],
    [0, 8],
  ],
  { label: 'cut 2 same way' },
);

const sleeve = pieceCm('Windjammer sleeve, upper part', [
  [0, 0],
  [42, 4],
  ...curveCm([42, 4], [62, 10], [58, 24]),
  ...curveCm([58, 24], [62, 38], [42, 46]),
  [0, 50],
]);

const gusset = pieceCm('Gusset', [
  [0, 0],
  [14, 0],
  [7, 12],
]);

const yoke = pieceCm('Πλάτη и кокетка, größe Nº 40½ über Ærø', [
  [0, 0],
  [22, 0],
  ...curveCm([22, 0], [14, 22], [22, 44]),
  [0, 44],
]);

const facing = pieceCm('Facing', [[0, 0], [60, 0], ...curveCm([60, 0], [40, 9], [0, 9])]);

const belt = pieceCm('Belt loop strip', [
  [0, 0],
  [70, 0],
  [70, 3.5],
  [0, 3.5],
]);

/** The example of the lay file's description. */
export const exampleLay: Lay = layOf({
  title: 'Example',
  cloth: { ...lawn, name: 'lawn 115' },
  folded: true,
  puts: [
    {
      piece: {
        ...pieceCm(
          'Front',
          [
            [0, -25],
            [50, -20],
            [50, 20],
            [0, 25],
          ],
          { onFold: true, label: 'cut 1 on fold' },
        ),
        seam: null,
        awl: outlineCm([
          [30, 9],
          [30, -9],
        ]),
      },
    },
    {
      piece: {
        ...pieceCm(
          'Back',
          [
            [0, 0],
            [50, 0],
            [50, 18],
            [0, 23],
          ],
          { label: 'cut 1 pair', grain: [outlineCm([[5, 9]])[0]!, outlineCm([[45, 9]])[0]!] },
        ),
        seam: null,
      },
    },
  ],
});

export const openLay: Lay = layOf({
  title: 'Windjammer smock',
  cloth: { ...ticking, nap: 'none', priceMinorPerMetre: 1850, currency: 'EUR' },
  puts: [
    { piece: bib },
    { piece: sleeve },
    { piece: sleeve, mirror: true },
    { piece: yoke },
    { piece: yoke, mirror: true, turned: 180 },
    { piece: pocket },
    { piece: pocket, mirror: true },
    { piece: tie },
    { piece: tie, turned: 180 },
    { piece: facing },
    { piece: facing, mirror: true },
    { piece: gusset },
    { piece: gusset, mirror: true },
    { piece: belt },
    { piece: belt },
  ],
});

export const foldedLay: Lay = layOf({
  title: 'Slipway apron',
  cloth: ticking,
  folded: true,
  puts: [{ piece: bib }, { piece: pocket }, { piece: tie }, { piece: facing, mirror: true }, { piece: belt }],
});

const patch = pieceCm('Reef patch', [
  [0, 0],
  [3, 0],
  [3, 3],
  [0, 3],
]);
const tab = pieceCm('Tab', [
  [0, 0],
  [2, 0],
  [2, 1],
  [0, 1],
]);

export const tinyLay: Lay = layOf({
  title: 'Sail bag with reef patches',
  cloth: ticking,
  puts: [
    { piece: sleeve },
    { piece: yoke, mirror: true },
    ...Array.from({ length: 8 }, (_, i) => ({ piece: patch, mirror: i % 2 === 1 })),
    ...Array.from({ length: 6 }, (_, i) => ({ piece: tab, mirror: i % 2 === 1 })),
    { piece: sleeve },
  ],
});

export const crowdedLay: Lay = layOf({
  title: 'Sixty pocket parts for the whole yard',
  cloth: lawn,
  puts: Array.from({ length: 60 }, (_, i) => ({
    piece: [pocket, gusset, yoke, facing][i % 4]!,
    mirror: i % 3 === 0,
  })),
});

const cover = pieceCm('Boat cover panel', [[0, 0], [390, 0], ...curveCm([390, 0], [370, 50], [390, 100]), [0, 100]]);

export const longLay: Lay = layOf({
  title: 'Winter cover',
  cloth: { ...lawn, name: 'canvas' },
  puts: [{ piece: cover }, { piece: cover, mirror: true }, { piece: cover }, { piece: pocket }, { piece: tie }],
});

export const sampleLays: Readonly<Record<string, Lay>> = {
  example: exampleLay,
  open: openLay,
  folded: foldedLay,
  tiny: tinyLay,
  crowded: crowdedLay,
  long: longLay,
};
