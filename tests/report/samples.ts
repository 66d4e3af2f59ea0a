/** A lay of two pieces on folded lawn, and plans around it, made without any other room at work. */
import type { Cloth, DeclaredCloth } from '../../src/cloth/types.js';
import type { Fault } from '../../src/diagnostics/types.js';
import type { Lay } from '../../src/lay/types.js';
import type { Candidate, MaterialPlan } from '../../src/planning/types.js';
import type { ReportInput } from '../../src/report/types.js';
import { lawn } from '../support/cut-pieces.js';

export const pricedLawn: Cloth = { ...lawn, priceMinorPerMetre: 1850, currency: 'EUR' };

const place = { file: 'apron.yaml', line: 14, column: 3 };

export const sampleLay: Lay = {
  format: 'shortlay-lay/1',
  unit: 'um',
  title: 'Slipway apron',
  cutListSha256: '',
  selfHash: '',
  material: 'shell',
  status: 'shortest found',
  seed: 1,
  effort: 1.5,
  cloth: pricedLawn,
  pieces: [],
  stretches: [{ id: 1, from: 20_000, to: 2_170_000, method: 'lengthwise fold', folds: [575_000, 0] }],
  placements: [
    { n: 1, stretch: 1, piece: 'Front', garment: 1, copies: [1], pinned: false },
    { n: 2, stretch: 1, piece: 'Back', garment: 1, copies: [2, 3], pinned: false },
  ],
  copies: [1, 2, 3].map((n) => ({
    n,
    is: n === 2 ? ('mirrored' as const) : ('asDrawn' as const),
    mirror: n === 2,
    turned: 0 as const,
    turnedOver: false,
    tiltMicrodegrees: 0,
    at: [20_000, 0] as const,
    outline: [],
  })),
  totals: {
    lengthUsed: 2_150_000,
    buyParts: [
      { why: 'ends', um: 40_000 },
      { why: 'rounding up', um: 110_000 },
    ],
    buy: 2_300_000,
    areaUm2: 0,
    utilisationPpm: 713_000,
    bound: { um: 1_982_300, why: 'area of all copies' },
  },
};

const usableAssumed: Fault = {
  code: 'usable-assumed',
  severity: 'notice',
  place,
  subject: 'cloth "lawn"',
  what: 'usable width taken as 113.0 cm',
  fix: 'measure the cloth and give usable',
};

export function declared(cloth: Cloth, measured: boolean): DeclaredCloth {
  return {
    cloth,
    materials: ['shell'],
    method: 'best',
    irregular: false,
    foldUm: null,
    place,
    notices: measured ? [] : [usableAssumed],
  };
}

export const folded: Candidate = {
  method: 'lengthwise fold',
  lay: sampleLay,
  status: 'shortest found',
  fitProven: null,
  lengthFoundUm: 2_150_000,
  bound: sampleLay.totals.bound,
  effort: 1.5,
  reachedBy: { starts: 14, of: 20 },
};

const longer = { ...sampleLay, totals: { ...sampleLay.totals, lengthUsed: 2_501_000, buy: 2_600_000 } };
export const open: Candidate = { ...folded, method: 'open', lay: longer, effort: 2.25 };

export const tooShort: Candidate = {
  method: 'open',
  lay: null,
  status: 'does not fit',
  fitProven: true,
  lengthFoundUm: null,
  bound: { um: 1_980_000, why: 'longest piece' },
  effort: 0.5,
  reachedBy: { starts: 0, of: 0 },
};

export const planned: MaterialPlan = {
  material: 'shell',
  cloth: declared(pricedLawn, false),
  chosen: folded,
  candidates: [open, folded],
  refused: [],
  roomUm: null,
  notices: [],
  wouldHelp: null,
  seed: 1,
  effort: 3.75,
};

export const remnant: MaterialPlan = {
  ...planned,
  cloth: declared({ ...pricedLawn, name: 'remnant', length: 1_200_000 }, true),
  roomUm: 1_160_000,
  chosen: null,
  candidates: [tooShort],
  effort: 0.5,
};

export const pairNotice: Fault = {
  code: 'read-as-pairs',
  severity: 'notice',
  place,
  subject: 'piece "Pocket"',
  what: '2 is read as 1 pair',
  fix: 'write 1 pair, or 2 same way',
};

export function inputOf(...plans: MaterialPlan[]): ReportInput {
  return { title: 'Slipway apron', units: 'cm', notices: [], plans };
}
