/** A piece that is too wide is told once for a cloth, however many of its copies are laid in pairs. */
import { expect, it } from 'vitest';
import { layMethods } from '../../src/cloth/types.js';
import { tellTooWide } from '../../src/planning/too-wide.js';
import { declaredOf } from '../support/built-lays.js';
import { markerLays } from '../support/marker-lays.js';

it('tells the widest need of each piece, once', () => {
  const lay = Object.values(markerLays)[0]!;
  const piece = lay.pieces[0] as unknown as Parameters<typeof tellTooWide>[2][number]['piece'];
  const tooWide = [1_600_000, 1_700_000, 1_650_000].map((needsUm) => ({ piece, needsUm, usableUm: 1_400_000 }));
  const words = { places: new Map(), units: 'cm' } as const;
  const told = tellTooWide(layMethods[0]!, declaredOf(lay.cloth), tooWide, words, 'warning');
  expect(told.map(({ what }) => what)).toEqual([
    expect.stringMatching(/^170\.0 cm across is wider than the usable 140\.0 cm of /),
  ]);
});
