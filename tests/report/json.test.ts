import { describe, expect, it } from 'vitest';
import { reportJson } from '../../src/report/json.js';
import { inputOf, pairNotice, planned, remnant } from './samples.js';

const layKeys = [
  'material',
  'cloth',
  'method',
  'foldDepthsCm',
  'widthCm',
  'usableWidthCm',
  'lengthUsedCm',
  'buyCm',
  'buyParts',
  'cost',
  'currency',
  'utilisationPercent',
  'wastePercent',
  'boundCm',
  'boundReason',
  'gapPercent',
  'status',
  'fitProven',
  'placements',
  'copies',
  'cutLists',
  'verified',
  'seed',
  'effort',
  'seconds',
  'files',
  'wouldHelp',
];

const facts = { files: [['lays/a-shell.lay.json'], []], seconds: [1.23456, null] };
const parsed = JSON.parse(reportJson({ ...inputOf(planned, remnant), notices: [pairNotice] }, facts));

describe('the report for programs', () => {
  it('has every key, in order, whether there is a lay or not', () => {
    expect(Object.keys(parsed)).toEqual(['format', 'title', 'notices', 'lays']);
    for (const lay of parsed.lays) expect(Object.keys(lay)).toEqual(layKeys);
  });

  it('gives a lay in centimetres, percent and whole currency', () => {
    expect(parsed.lays[0]).toEqual({
      material: 'shell',
      cloth: 'lawn',
      method: 'lengthwise fold',
      foldDepthsCm: [57.5, 0],
      widthCm: 115,
      usableWidthCm: 113,
      lengthUsedCm: 215,
      buyCm: 230,
      buyParts: [
        { why: 'ends', cm: 4 },
        { why: 'rounding up', cm: 11 },
      ],
      cost: 42.55,
      currency: 'EUR',
      utilisationPercent: 71.3,
      wastePercent: 28.7,
      boundCm: 198.23,
      boundReason: 'area of all copies',
      gapPercent: 7.8,
      status: 'shortest found',
      fitProven: null,
      placements: 2,
      copies: 3,
      cutLists: null,
      verified: true,
      seed: 1,
      // Both cloths together are one material: 2.25 + 1.5 + 0.5.
      effort: 3.75,
      seconds: 1.235,
      files: ['lays/a-shell.lay.json'],
      wouldHelp: null,
    });
  });

  it('says null where a value does not apply', () => {
    const nulls = Object.entries(parsed.lays[1])
      .filter(([, value]) => value === null)
      .map(([key]) => key);
    expect(nulls).toEqual([
      'method',
      'foldDepthsCm',
      'lengthUsedCm',
      'buyCm',
      'buyParts',
      'cost',
      'utilisationPercent',
      'wastePercent',
      'gapPercent',
      'placements',
      'copies',
      'cutLists',
      'verified',
      'seconds',
      'wouldHelp',
    ]);
    expect(parsed.lays[1]).toMatchObject({ status: 'does not fit', fitProven: true, boundCm: 198, files: [] });
  });

  it('gives a notice with its place and words', () => {
    expect(parsed.notices).toEqual([
      {
        severity: 'notice',
        code: 'read-as-pairs',
        file: 'apron.yaml',
        line: 14,
        column: 3,
        subject: 'piece "Pocket"',
        what: '2 is read as 1 pair',
        fix: 'write 1 pair, or 2 same way',
      },
    ]);
  });
});
