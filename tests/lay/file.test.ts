/** Lay files: written and read back, sealed, edited by hand, made to fit again. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkLay } from '../../src/checker/check-lay.js';
import { isEditedByHand, sealLay } from '../../src/lay/build.js';
import { readLay } from '../../src/lay/read.js';
import { recomputeLay } from '../../src/lay/recompute.js';
import type { Lay } from '../../src/lay/types.js';
import { writeLay } from '../../src/lay/write.js';
import { copyOf, damaged, foldedRow, moveCopy, openRow } from '../support/damage.js';
import { sampleLays } from '../support/sample-lays.js';

const lays = { ...sampleLays, openRow, foldedRow };

function reread(text: string): Lay {
  const read = readLay(text, 'a.lay.json');
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.value;
}

/** All keys of all objects in another order. */
function turnKeys(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(turnKeys);
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).reverse();
  return Object.fromEntries(entries.map(([key, item]) => [key, turnKeys(item)]));
}

describe('write and read', () => {
  it.each(Object.entries(lays))('%s comes back equal, and is written the same again', (_name, lay) => {
    const text = writeLay(lay);
    expect(reread(text)).toEqual(lay);
    expect(writeLay(reread(text))).toBe(text);
    expect(text.endsWith('}\n')).toBe(true);
    expect(text).not.toContain('\r');
  });

  it('any text of a person survives', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (title) => {
        const lay = sealLay({ ...openRow, title });
        // Half a surrogate pair is no text: JSON writes it as an escape, and it comes back as it was.
        expect(reread(writeLay(lay))).toEqual(lay);
        expect(isEditedByHand(lay)).toBe(false);
      }),
      { numRuns: 200 },
    );
  });

  it('the order of keys and the spaces make no difference', () => {
    const other = JSON.stringify(turnKeys(openRow), null, 7);
    expect(writeLay(reread(other))).toBe(writeLay(openRow));
    expect(isEditedByHand(reread(other))).toBe(false);
  });

  it('a byte order mark is passed over', () => {
    expect(reread(`\ufeff${writeLay(openRow)}`)).toEqual(openRow);
  });
});

describe('the hash', () => {
  const edits: readonly (readonly [string, (lay: ReturnType<typeof loose>) => void])[] = [
    ['the title', (lay) => Object.assign(lay, { title: 'Another' })],
    ['a coordinate', (lay) => moveCopy(lay, 4, 0, 1)],
    ['a rule of the cloth', (lay) => Object.assign(lay.cloth, { gap: 2_999 })],
    ['a total', (lay) => Object.assign(lay.totals, { buy: 1 })],
    ['the hash itself', (lay) => Object.assign(lay, { selfHash: '' })],
    ['a pin', (lay) => Object.assign(lay.placements[0]!, { pinned: true })],
  ];
  function loose() {
    return structuredClone(openRow) as Parameters<Parameters<typeof damaged>[1]>[0];
  }

  it.each(edits)('no longer fits after an edit of %s', (_what, edit) => {
    expect(isEditedByHand(openRow)).toBe(false);
    expect(isEditedByHand(damaged(openRow, edit))).toBe(true);
  });

  it('has 64 hexadecimal digits', () => {
    expect(openRow.selfHash).toMatch(/^[0-9a-f]{64}$/);
  });
});

describe('edited by hand, then recomputed', () => {
  it.each(Object.entries(lays))('%s is left as it is when nothing was edited', (_name, lay) => {
    expect(writeLay(recomputeLay(lay))).toBe(writeLay(lay));
  });

  it("a copy moved along by `at` alone: outline, stretch and totals follow; it stays somebody's work", () => {
    const edited = damaged(openRow, (lay) => {
      copyOf(lay, 4).at[0] += 70_000;
    });
    const renewed = recomputeLay(edited);
    expect(checkLay(edited).accepted).toBe(false);
    expect(checkLay(renewed)).toEqual({ accepted: true, refusals: [] });
    expect(renewed.totals).toMatchObject({ lengthUsed: 270_000, buy: 400_000 });
    expect(renewed.stretches[0]).toMatchObject({ from: 20_000, to: 290_000 });
    expect(isEditedByHand(renewed)).toBe(true);
    expect(isEditedByHand(recomputeLay(openRow))).toBe(false);
  });

  it('on folded cloth the partner follows its lead', () => {
    const edited = damaged(foldedRow, (lay) => {
      copyOf(lay, 1).at = [320_000 + 3_000, 12_000];
    });
    const renewed = recomputeLay(edited);
    expect(checkLay(renewed)).toEqual({ accepted: true, refusals: [] });
    expect(copyOf(renewed as Parameters<typeof copyOf>[0], 2).at).toEqual([323_000, 1_150_000 - 12_000]);
  });

  it('an illegal edit is left for the checker to refuse', () => {
    const edited = damaged(openRow, (lay) => {
      copyOf(lay, 4).at[1] -= 1;
    });
    expect(checkLay(recomputeLay(edited)).refusals.map(({ sentence }) => sentence)).toEqual([
      'copy 3 (Square) comes near copy 4 (Square): 0.001 mm short of the gap of 3 mm',
    ]);
  });

  it('a lay grown longer than its bound is no longer called proven', () => {
    const proven = sealLay({
      ...openRow,
      status: 'proven shortest',
      totals: { ...openRow.totals, bound: { um: 200_000, why: 'longest piece' } },
    });
    expect(recomputeLay(proven).status).toBe('proven shortest');
    const edited = damaged(proven, (lay) => {
      copyOf(lay, 4).at[0] += 1;
    });
    expect(recomputeLay(edited).status).toBe('shortest found');
  });

  it('a placement of a piece that is not there does not stop it', () => {
    const edited = damaged(openRow, (lay) => {
      lay.placements[0]!.piece = 'Sail';
    });
    expect(checkLay(recomputeLay(edited)).refusals.map(({ code }) => code)).toEqual(['piece-unknown']);
  });
});
