/** Seen from the wrong side of the cloth: everything mirrored across, and called by where it then lies. */
import { beforeAll, describe, expect, test } from 'vitest';
import type { Lay } from '../../src/lay/types.js';
import { type ClothView, viewCloth } from '../../src/marker/cloth-view.js';
import { loadPageFont, type PageFont } from '../../src/marker/font.js';
import { planDrawing } from '../../src/marker/plan.js';
import { chalkList } from '../../src/report/chalk-list.js';
import type { Point } from '../../src/units/types.js';
import { firstLay } from '../support/built-lays.js';
import { lawn } from '../support/cut-pieces.js';
import { textsOf } from '../support/drawings.js';
import { pieceCm } from '../support/lays.js';
import { exampleLay, foldedLay, openLay, sampleLays } from '../support/sample-lays.js';

let font: PageFont;
beforeAll(async () => {
  font = await loadPageFont();
});

/** Not its own mirror image. */
const slanted = (id: string, pairs: number) => ({
  ...pieceCm(id, [
    [0, 0],
    [30, 4],
    [26, 14],
    [0, 18],
  ]),
  demand: { asDrawn: pairs, mirrored: pairs },
});

const flaw: Point[] = [
  [300_000, 500_000],
  [340_000, 500_000],
  [340_000, 540_000],
  [300_000, 540_000],
];

const built: Record<string, Lay> = Object.fromEntries(
  (['partial fold', 'double fold', 'tube', 'crosswise cut and turned', 'crosswise fold'] as const).map((method) => {
    const cloth = {
      ...lawn,
      nap: 'none' as const,
      usable: method === 'tube' ? ([0, lawn.width] as const) : lawn.usable,
      // Where one comes to lie in the other layer of cloth doubled across depends on the lay's length.
      flaws: method.startsWith('crosswise') ? [] : [flaw],
    };
    return [method, firstLay(method, cloth, [slanted('Strake', 3)])];
  }),
);
const lays: Record<string, Lay> = { ...sampleLays, ...built };

const swap = (words: string) => words.replace(/left|right/g, (word) => (word === 'left' ? 'right' : 'left'));
const sorted = (points: readonly Point[]) => points.map((point) => point.join(' ')).sort();

function areaOf(ring: readonly Point[]): number {
  return ring.reduce((sum, [x, y], i) => {
    const [nextX, nextY] = ring[(i + 1) % ring.length]!;
    return sum + (x * nextY - nextX * y) / 2;
  }, 0);
}

describe('seen from the wrong side', () => {
  test.each(Object.entries(lays))('%s: all that is seen lies at its mirror image', (_, lay) => {
    const right = viewCloth(lay);
    const wrong = viewCloth(lay, 'wrong');
    const image = ([x, y]: Point): Point => [x, right.acrossUm - y];
    right.pieces.forEach((piece, i) => {
      const other = wrong.pieces[i]!;
      for (const key of ['outline', 'awl', 'grain'] as const) {
        expect(sorted(other[key])).toEqual(sorted(piece[key].map(image)));
      }
      expect(sorted(other.notches.flat())).toEqual(sorted(piece.notches.flat().map(image)));
      expect(other.grain[0]).toEqual(image(piece.grain[0]));
      expect(areaOf(other.outline)).toBeCloseTo(areaOf(piece.outline), 0);
      expect(other.printedSide).not.toBe(piece.printedSide);
      expect(other.foldSide).toBe(piece.foldSide === null ? null : swap(piece.foldSide));
    });
    expect(wrong.flaws.map(sorted)).toEqual(right.flaws.map((ring) => sorted(ring.map(image))));
    right.stretches.forEach((stretch, i) => {
      const other = wrong.stretches[i]!;
      expect(other.left).toEqual({ name: swap(stretch.right.name), at: right.acrossUm - stretch.right.at });
      expect(other.right).toEqual({ name: swap(stretch.left.name), at: right.acrossUm - stretch.left.at });
    });
    const same = ({ alongUm, acrossUm, usedUm, buyUm, beginsWith, endsWith }: ClothView) => [
      alongUm,
      acrossUm,
      usedUm,
      buyUm,
      beginsWith,
      endsWith,
    ];
    expect(same(wrong)).toEqual(same(right));
  });

  test.each(Object.entries(lays))('%s: the chalk list measures alike, from edges with swapped names', (_, lay) => {
    const right = chalkList(lay, 'cm');
    const wrong = chalkList(lay, 'cm', 'wrong');
    expect(wrong.from).toBe(right.from);
    const asWrong = right.lines.map((line) => ({
      ...line,
      edge: swap(line.edge),
      headTowards: swap(line.headTowards),
      printedSide: line.printedSide === 'up' ? 'down' : 'up',
    }));
    const byNumber = <T extends { readonly n: number }>(lines: readonly T[]) => [...lines].sort((a, b) => a.n - b.n);
    expect(byNumber(wrong.lines)).toEqual(byNumber(asWrong));
    const along = wrong.lines.map(({ alongUm }) => alongUm[0]);
    expect(along).toEqual([...along].sort((a, b) => a - b));
  });

  test('a tape from the named edge finds each piece where the drawing shows it', () => {
    for (const lay of Object.values(lays)) {
      const view = viewCloth(lay, 'wrong');
      for (const { n, edge, acrossUm } of chalkList(lay, 'cm', 'wrong').lines) {
        const seen = view.pieces.find(({ placement }) => placement.n === n)!;
        const stretch = view.stretches[lay.stretches.indexOf(seen.stretch)]!;
        const ys = seen.outline.map(([, y]) => y);
        const found =
          stretch.left.name === edge
            ? [Math.min(...ys) - stretch.left.at, Math.max(...ys) - stretch.left.at]
            : [stretch.right.at - Math.max(...ys), stretch.right.at - Math.min(...ys)];
        expect([stretch.left.name, stretch.right.name]).toContain(edge);
        expect(found).toEqual(acrossUm);
      }
    }
  });

  test('every page says so in its title line, and how the cloth lies', () => {
    const draw = (lay: Lay) =>
      planDrawing(lay, { page: 'a4', units: 'cm', measure: font, side: 'wrong' }).pages.map((page) =>
        textsOf(page).map(({ text }) => text),
      );
    const said = 'seen from the wrong side of the cloth: left and right are swapped';
    for (const lay of Object.values(lays)) for (const words of draw(lay)) expect(words).toContain(said);
    expect(draw(openLay)[0]).toContain('open, one layer, wrong side up');
    expect(draw(foldedLay)[0]).toContain('wrong sides together, fold at the left');
    expect(draw({ ...exampleLay, cloth: { ...exampleLay.cloth, fusible: true } })[0]).toEqual(
      expect.arrayContaining([
        'seen from the side without glue: left and right are swapped',
        'plain sides together, fold at the left',
      ]),
    );
    // A title of any length leaves it standing.
    expect(draw({ ...openLay, title: 'long '.repeat(60) })[0]).toContain(said);
    const right = planDrawing(openLay, { page: 'a4', units: 'cm', measure: font });
    expect(right.pages.flatMap(textsOf).map(({ text }) => text)).not.toContain(said);
  });

  test('bars and flaws are told from what is the left then', () => {
    const cloth = {
      ...openLay.cloth,
      repeat: { along: null, across: 80_000, start: [0, 50_000] as const, mirror: 'none' as const, drop: false },
      flaws: [
        [
          [100_000, 200_000],
          [130_000, 200_000],
          [130_000, 260_000],
          [100_000, 260_000],
        ],
      ] as Point[][],
    };
    const words = (side: 'right' | 'wrong') =>
      planDrawing({ ...openLay, cloth }, { page: 'a3', units: 'cm', measure: font, side })
        .pages.flatMap(textsOf)
        .map(({ text }) => text)
        .join(' ');
    // 150 cm wide: a bar at 5 cm is 145 = 18 x 8 + 1 cm from the other edge; 20 to 26 cm is 124 to 130.
    expect(words('right')).toContain('the first bar lies 5.0 cm from the left raw edge');
    expect(words('right')).toContain('10.0 cm – 13.0 cm, 20.0 cm – 26.0 cm');
    expect(words('wrong')).toContain('the first bar lies 1.0 cm from the left raw edge');
    expect(words('wrong')).toContain('10.0 cm – 13.0 cm, 124.0 cm – 130.0 cm');
  });
});
