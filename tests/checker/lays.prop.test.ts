/**
 * Random legal lays are accepted; any one of them with a single damage is refused. Legal by construction: boxes in
 * rows, never nearer than the gap.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkLay } from '../../src/checker/check-lay.js';
import type { Lay } from '../../src/lay/types.js';
import type { CutPiece } from '../../src/pieces/types.js';
import { lawn, plainPiece } from '../support/cut-pieces.js';
import { copyOf, damaged, followLead, type Loose, moveCopy, refit } from '../support/damage.js';
import { layOf } from '../support/lays.js';
import { gridOutlines } from '../support/polygons.js';

const demand = { asDrawn: 0, mirrored: 0 };

const pieces: fc.Arbitrary<CutPiece[]> = fc
  .array(gridOutlines(5, 16_001), { minLength: 1, maxLength: 4 })
  .map((outlines) => outlines.map((outline, i) => plainPiece(`Piece ${i + 1}`, outline, demand)));

/** Symmetric about the grain line: a random rectangle or trapezoid across the fold. */
const foldPieces: fc.Arbitrary<CutPiece> = fc
  .record({
    length: fc.integer({ min: 1, max: 300_000 }),
    foot: fc.integer({ min: 1, max: 90_000 }),
    head: fc.integer({ min: 1, max: 90_000 }),
  })
  .map(({ length, foot, head }) =>
    plainPiece(
      'Across',
      [
        [0, -foot],
        [length, -head],
        [length, head],
        [0, foot],
      ],
      demand,
      true,
    ),
  );

const lays: fc.Arbitrary<Lay> = fc
  .record({
    pieces,
    across: fc.option(foldPieces, { nil: null }),
    puts: fc.array(fc.record({ piece: fc.nat(), mirror: fc.boolean(), turned: fc.boolean() }), {
      minLength: 2,
      maxLength: 12,
    }),
    folded: fc.boolean(),
    gap: fc.constantFrom(0, 3_000, 5_002),
    nap: fc.constantFrom('one-way' as const, 'none' as const),
  })
  .map(({ pieces, across, puts, folded, gap, nap }) =>
    layOf({
      title: 'Random',
      cloth: { ...lawn, gap, nap },
      folded,
      puts: [
        ...puts.map((put) => {
          const turned = nap === 'none' && put.turned ? (180 as const) : (0 as const);
          return { piece: pieces[put.piece % pieces.length]!, mirror: put.mirror, turned };
        }),
        ...(across === null ? [] : [{ piece: across }]),
      ],
    }),
  );

/** Damages that no lay of `lays` survives, whichever copy they touch. */
const damages: Readonly<Record<string, (lay: Loose<Lay>, n: number) => void>> = {
  'an outline point off by one': (lay, n) => {
    copyOf(lay, n).outline[0]![0] += 1;
  },
  'moved without its outline': (lay, n) => {
    copyOf(lay, n).at[1] -= 1;
  },
  'a twin on top of it': (lay, n) => {
    const twin = { ...structuredClone(copyOf(lay, n)), n: 1_000 };
    const placement = lay.placements.find(({ copies }) => copies.includes(n))!;
    lay.copies.push(twin);
    lay.placements.push({ ...placement, n: 1_000, copies: [1_000] });
  },
  'over the left edge': (lay, n) => {
    const low = Math.min(...copyOf(lay, n).outline.map(([, y]) => y));
    moveCopy(lay, n, 0, lay.cloth.usable[0] - low - 1);
  },
  'over the right edge': (lay, n) => {
    const high = Math.max(...copyOf(lay, n).outline.map(([, y]) => y));
    moveCopy(lay, n, 0, lay.cloth.usable[1] - high + 1);
  },
  'into the cut end': (lay, n) => {
    const left = Math.min(...copyOf(lay, n).outline.map(([x]) => x));
    moveCopy(lay, n, lay.cloth.ends[0] - left - 1, 0);
  },
  'in no placement': (lay, n) => {
    for (const placement of lay.placements) placement.copies = placement.copies.filter((copy) => copy !== n);
    lay.placements = lay.placements.filter(({ copies }) => copies.length > 0);
  },
  'said to be the other hand': (lay, n) => {
    const copy = copyOf(lay, n);
    copy.is = copy.is === 'asDrawn' ? 'mirrored' : 'asDrawn';
  },
  'turned over': (lay, n) => {
    copyOf(lay, n).turnedOver = true;
  },
  'a quarter turn': (lay, n) => {
    copyOf(lay, n).turned = 90;
  },
  'a copy less wanted': (lay, n) => {
    const { piece } = lay.placements.find(({ copies }) => copies.includes(n))!;
    const { demand: wanted } = lay.pieces.find(({ id }) => id === piece)!;
    if (wanted.asDrawn > 0) wanted.asDrawn -= 1;
    else wanted.mirrored -= 1;
  },
  'a longer length to buy': (lay) => {
    lay.totals.buy += lay.cloth.soldBy;
  },
};

describe('random lays', () => {
  it('are accepted', () => {
    fc.assert(
      fc.property(lays, (lay) => {
        expect(checkLay(lay)).toEqual({ accepted: true, refusals: [] });
      }),
      { numRuns: 300 },
    );
  });

  it.each(Object.entries(damages))('%s: refused', (_name, damage) => {
    fc.assert(
      fc.property(lays, fc.nat(), (lay, pick) => {
        const n = lay.copies[pick % lay.copies.length]!.n;
        expect(checkLay(damaged(lay, (loose) => damage(loose, n))).accepted).toBe(false);
      }),
      { numRuns: 60 },
    );
  });

  it('a copy on folded cloth moved alone by one micrometre is refused, moved with its partner it follows', () => {
    const folded = lays.filter(({ stretches, placements }) => {
      return stretches[0]!.method === 'lengthwise fold' && placements[0]!.copies.length === 2;
    });
    fc.assert(
      fc.property(folded, (lay) => {
        const [lead, partner] = lay.placements[0]!.copies as [number, number];
        const alone = damaged(lay, (loose) => moveCopy(loose, lead, 1, 0));
        expect(checkLay(alone).refusals.map(({ code }) => code)).toContain('not-reflected');
        const together = damaged(lay, (loose) => {
          moveCopy(loose, lead, 1, 0);
          followLead(loose, lead, partner);
          refit(loose);
        });
        expect(checkLay(together).refusals.map(({ code }) => code)).not.toContain('not-reflected');
      }),
      { numRuns: 60 },
    );
  });
});
