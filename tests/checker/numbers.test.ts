/** Numbers that cannot be reckoned with, and what belongs to what: such a lay is refused before anything else is judged. */
import { describe, expect, test } from 'vitest';
import { checkLay } from '../../src/checker/check-lay.js';
import { amount, mm } from '../../src/checker/words.js';
import type { Lay } from '../../src/lay/types.js';
import { coordinateMaxUm } from '../../src/units/types.js';
import { copyOf, damaged, type Loose, openRow } from '../support/damage.js';

function told(edit: (lay: Loose<Lay>) => void): string[] {
  return checkLay(damaged(openRow, edit)).refusals.map(({ sentence }) => sentence);
}

describe('whole micrometres within 47.4 m, everywhere', () => {
  const far = coordinateMaxUm + 1;
  const range = 'whole micrometres up to 47453132 are possible';
  const flaw = (value: number): [number, number][] => [
    [0, 0],
    [value, 0],
    [10, 10],
  ];
  test.each<[string, (lay: Loose<Lay>) => void]>([
    [
      `the cloth has the value ${far}; ${range}`,
      (lay) => {
        lay.cloth.length = far;
      },
    ],
    [
      `the cloth has the value 3000.5; ${range}`,
      (lay) => {
        lay.cloth.gap = 3_000.5;
      },
    ],
    [
      `the cloth has the value 0.5; ${range}`,
      (lay) => {
        lay.cloth.ends = [20_000, 0.5];
      },
    ],
    [
      `the cloth has the value 100000.5; ${range}`,
      (lay) => {
        lay.cloth.soldBy = 100_000.5;
      },
    ],
    [
      `the cloth has the value 10000.5; ${range}`,
      (lay) => {
        lay.cloth.usable = [10_000.5, 1_140_000];
      },
    ],
    [
      `flaw 2 of the cloth has the value ${far}; ${range}`,
      (lay) => {
        lay.cloth.flaws = [flaw(10), flaw(far)];
      },
    ],
    [
      `piece "Square" has the value -${far}; ${range}`,
      (lay) => {
        lay.pieces[1]!.outline[0] = [0, -far];
      },
    ],
    [
      `stretch 1 has the value 20000.5; ${range}`,
      (lay) => {
        lay.stretches[0]!.from = 20_000.5;
      },
    ],
    [
      `stretch 1 has the value ${far}; ${range}`,
      (lay) => {
        lay.stretches[0]!.to = far;
      },
    ],
    [
      `copy 4 has the value 0.5; ${range}`,
      (lay) => {
        copyOf(lay, 4).at = [0.5, 0];
      },
    ],
    [
      `copy 4 has the value ${far}; ${range}`,
      (lay) => {
        copyOf(lay, 4).outline[3] = [0, far];
      },
    ],
  ])('%s', (sentence, edit) => {
    expect(told(edit)).toEqual([sentence]);
  });

  test('the first of several is named', () => {
    expect(
      told((lay) => {
        copyOf(lay, 4).at = [0.25, 0.5];
      }),
    ).toEqual([`copy 4 has the value 0.25; ${range}`]);
  });

  test('the largest is within, also with a minus', () => {
    const unusable = (edit: (lay: Loose<Lay>) => void) =>
      told(edit).filter((sentence) => sentence.includes('the value'));
    expect(
      unusable((lay) => {
        lay.cloth.length = coordinateMaxUm;
        lay.pieces[1]!.outline[0] = [0, -coordinateMaxUm];
      }),
    ).toEqual([]);
  });
});

describe('outlines of fewer than three points', () => {
  test('of a piece, of a copy', () => {
    expect(
      told((lay) => {
        lay.pieces[1]!.outline.splice(2);
        copyOf(lay, 4).outline.splice(2);
      }),
    ).toEqual([
      'the outline of piece "Square" has fewer than 3 points',
      'the outline of copy 4 has fewer than 3 points',
    ]);
    expect(
      told((lay) => {
        lay.pieces[1]!.outline.splice(3);
        copyOf(lay, 4).outline.splice(3);
      }).filter((sentence) => sentence.includes('fewer')),
    ).toEqual([]);
  });
});

describe('a cloth that cannot be', () => {
  const width = 'the usable width does not lie within the width of the cloth';
  const rest = 'gap and ends may not be negative; length at hand and selling step must be more than nothing';
  test.each<[string, Partial<Loose<Lay>['cloth']>, readonly string[]]>([
    ['no width', { width: 0, usable: [0, 0] }, [width]],
    ['usable from before its edge', { usable: [-1, 1_140_000] }, [width]],
    ['nothing usable', { usable: [10_000, 10_000] }, [width]],
    ['usable beyond its width', { width: 1_139_999 }, [width]],
    ['a gap below nothing', { gap: -1 }, [rest]],
    ['an end below nothing', { ends: [-1, 20_000] }, [rest]],
    ['the other end below nothing', { ends: [20_000, -1] }, [rest]],
    ['sold by nothing', { soldBy: 0 }, [rest]],
    ['no length at hand', { length: 0 }, [rest]],
    ['all as it may just be', { usable: [0, 1_140_000], width: 1_140_000, gap: 0, ends: [0, 0], soldBy: 1 }, []],
    ['a length of one micrometre, which is far too little', { length: 1 }, []],
  ])('%s', (_, cloth, sentences) => {
    const impossible = told((lay) => Object.assign(lay.cloth, cloth)).filter((sentence) =>
      [width, rest].includes(sentence),
    );
    expect(impossible).toEqual(sentences);
  });
});

describe('listed twice, or not at all', () => {
  test.each<[string, (lay: Loose<Lay>) => void]>([
    ['piece "Slant" is listed twice', (lay) => lay.pieces.push(structuredClone(lay.pieces[0]!))],
    ['stretch 1 is listed twice', (lay) => lay.stretches.push(structuredClone(lay.stretches[0]!))],
    ['copy 2 is listed twice', (lay) => lay.copies.push(structuredClone(copyOf(lay, 2)))],
    ['the unit is "mm", not "um"', (lay) => Object.assign(lay, { unit: 'mm' })],
    [
      'placement 1 (Slant) has 0 copies; one or two are possible',
      (lay) => {
        lay.placements[0]!.copies = [];
      },
    ],
  ])('%s', (sentence, edit) => {
    expect(told(edit)[0]).toBe(sentence);
  });
});

describe('words', () => {
  test('millimetres to the micrometre, without idle zeros; a half one too', () => {
    expect([0, 1, 1_000, 1_150_000, 1_234_567, -20_500].map(mm)).toEqual([
      '0 mm',
      '0.001 mm',
      '1 mm',
      '1150 mm',
      '1234.567 mm',
      '-20.5 mm',
    ]);
    expect([0.5, 575_000.5].map(mm)).toEqual(['0.0005 mm', '575.0005 mm']);
  });

  test('an amount is never worded as nothing', () => {
    expect([0.2, 0.99, 1, 1.5, 7_071.07].map(amount)).toEqual([
      'less than 0.001 mm',
      'less than 0.001 mm',
      '0.001 mm',
      '0.002 mm',
      '7.071 mm',
    ]);
  });
});
