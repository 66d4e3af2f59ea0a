/** What is said of a repeat: where its first bar lies, is to lie, or must happen to lie. */
import { describe, expect, it } from 'vitest';
import type { Lay } from '../../src/lay/types.js';
import { nameAndSize, nameWithSize, repeatInWords } from '../../src/report/words.js';
import { markerLays } from '../support/marker-lays.js';

const lay = Object.values(markerLays).find(({ cloth }) => cloth.repeat !== null)!;
type Repeat = NonNullable<Lay['cloth']['repeat']>;
type Match = Lay['pieces'][number]['match'];

function said(repeat: Partial<Repeat>, match: Match, method: 'open' | 'lengthwise fold' = 'open'): string {
  return repeatInWords(
    {
      cloth: { ...lay.cloth, repeat: { ...lay.cloth.repeat!, along: 80_000, across: 60_000, drop: false, ...repeat } },
      stretches: lay.stretches.map((stretch) => ({ ...stretch, method, barAt: [25_000, 81_000] as const })),
      pieces: lay.pieces.map((piece) => ({ ...piece, match })),
    },
    'cm',
  );
}

const both = [{ at: [0, 0], group: 'hem', way: 'both' }] as unknown as Match;
const along = [{ at: [0, 0], group: 'hem', way: 'along' }] as unknown as Match;
const onlyFor = 'only for cloth with a bar 2.1 cm from the left raw edge: measure yours, give it as start';

describe('a name with its size', () => {
  it.each([
    ['Back', 'M', 'Back M'],
    ['Back', null, 'Back'],
    ['Back M', 'M', 'Back M'],
    ['Back M ', 'M', 'Back M '],
    ['M', 'M', 'M'],
    ['Hem', 'm', 'Hem m'],
    ['Back XS-M', 'M', 'Back XS-M M'],
    ['Back 138', '38', 'Back 138 38'],
    ['Back size 38', 'size 38', 'Back size 38'],
    ['Strap 2', '2', 'Strap 2, size 2'],
  ])('%j of size %j is %j', (name, size, expected) => {
    expect(nameWithSize(name, size)).toBe(expected);
  });

  it.each([
    ['Back', null, 'Back'],
    ['Back', 'M', 'Back, size M'],
    ['Back M', 'M', 'Back M'],
    ['Strap 2', '2', 'Strap 2, size 2'],
  ])('with the word, %j of size %j is %j', (name, size, expected) => {
    expect(nameAndSize(name, size)).toBe(expected);
  });
});

describe('a repeat in words', () => {
  it('tells where a measured bar lies', () => {
    expect(said({ start: [20_000, 50_000] }, both)).toBe(
      '8 cm along, 6 cm across; the first bar lies 2.0 cm from the cut end and 5.0 cm from the left raw edge',
    );
  });

  it('tells where to cut when nobody measured, and that nothing can be cut off across', () => {
    const cut = '8 cm along, 6 cm across; lay the first bar 2.5 cm from the cut end';
    expect(said({ start: null }, both)).toBe(`${cut}; ${onlyFor}`);
    expect(said({ start: null }, along)).toBe(cut);
    expect(said({ start: null, drop: true }, along)).toContain(onlyFor);
    expect(said({ start: null }, [], 'lengthwise fold')).toContain(onlyFor);
    expect(said({ start: null, along: null }, both)).toBe(`6 cm across; ${onlyFor}`);
  });
});
