/** Lays by every method, of the boatyard's own pieces, to print as markers. */

import type { Cloth, LayName } from '../../src/cloth/types.js';
import { cutPiecesFor } from '../../src/index.js';
import type { Lay } from '../../src/lay/types.js';
import type { CutPiece } from '../../src/pieces/types.js';
import { firstLay } from './built-lays.js';
import { lawn } from './cut-pieces.js';
import { fixtureCutList } from './fixtures.js';
import { sampleLays } from './sample-lays.js';

const drill: Cloth = { ...lawn, name: 'drill', width: 1_500_000, usable: [15_000, 1_485_000], nap: 'none' };

/** The work apron: a bib on the fold, pairs of pockets, straps. */
export const apronPieces = cutPiecesFor(fixtureCutList('boatyard/slipway-apron.yaml'), 'shell');
const blousePieces = cutPiecesFor(fixtureCutList('boatyard/harbour-blouse.yaml'), 'shell');
/** One of them is wanted once only, so not everything can lie folded. */
const withOdd = apronPieces.map((piece) =>
  piece.id === 'Rule pocket' ? { ...piece, demand: { asDrawn: 1, mirrored: 0 } } : piece,
);
const pairs = apronPieces.filter(({ onFold }) => !onFold);

const by = (method: LayName, cloth: Cloth, pieces = apronPieces): Lay => ({
  ...firstLay(method, cloth, pieces),
  title: `Apron, ${method}`,
});

export const plaid: Cloth = {
  ...drill,
  name: 'plaid',
  repeat: { along: 120_000, across: 90_000, start: [30_000, 45_000], mirror: 'none', drop: false },
  flaws: [
    [
      [250_000, 1_100_000],
      [420_000, 1_100_000],
      [460_000, 1_260_000],
      [250_000, 1_300_000],
    ],
  ],
};

/** Matched at a corner of its cutting line and further in; of a piece on the fold at both halves alike. */
function matched(piece: CutPiece): CutPiece {
  const [[x, y], [grainX]] = [piece.outline[0]!, piece.grain[0]];
  const half = [
    { at: [x, y], group: `corner of ${piece.id}`, way: 'along' },
    { at: [grainX, y / 2], group: 'bar', way: 'along' },
  ] as const;
  const other = half
    .filter(({ at }) => at[1] !== 0)
    .map(({ at, ...rest }) => ({ ...rest, at: [at[0], -at[1]] as const }));
  return { ...piece, match: piece.onFold ? [...half, ...other] : half };
}

const striped: Cloth = {
  ...drill,
  name: 'striped',
  repeat: { along: 60_000, across: 100_000, start: [30_000, 50_000], mirror: 'both', drop: false },
};

export const markerLays: Readonly<Record<string, Lay>> = {
  ...sampleLays,
  'apron open': by('open', drill),
  'apron lengthwise fold': by('lengthwise fold', drill),
  'apron partial fold': by('partial fold', drill),
  'apron double fold': by('double fold', drill),
  'apron tube': by('tube', { ...drill, width: 1_600_000, usable: [0, 1_600_000] }),
  'pockets crosswise fold': by('crosswise fold', drill, pairs),
  'pockets crosswise cut and turned': by('crosswise cut and turned', { ...drill, nap: 'one-way' }, pairs),
  'apron combination': by('combination', drill, withOdd),
  'apron plaid with a flaw': by('open', plaid),
  'apron matched on the fold': by('lengthwise fold', striped, apronPieces.map(matched)),
  'blouse open': by('open', { ...drill, nap: 'one-way' }, blousePieces),
};
