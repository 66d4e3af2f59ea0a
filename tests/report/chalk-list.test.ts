import { describe, expect, test } from 'vitest';
import { chalkList } from '../../src/report/chalk-list.js';
import { grainBeyondFold } from '../../src/report/seen-cloth.js';
import { crowdedLay, exampleLay, foldedLay, openLay, sampleLays } from '../support/sample-lays.js';

const lineOf = (lay: typeof openLay, n: number) => chalkList(lay, 'cm').lines.find((line) => line.n === n)!;

describe('chalk list', () => {
  test('a piece on the fold is measured by its grain line, from the fold', () => {
    // Front of the lay file's description: 50 long, 50 wide at the foot, from x = 2 on; its grain line lies on the
    // fold, from 7.5 cm to 42.5 cm of its length.
    expect(lineOf(exampleLay, 1)).toEqual({
      n: 1,
      piece: 'Front',
      size: null,
      label: 'cut 1 on fold',
      garment: null,
      tiltDegrees: 0,
      copies: 1,
      turnedOver: 0,
      printedSide: 'up',
      turned: false,
      headTowards: 'far end',
      onFold: true,
      opened: false,
      edge: 'fold',
      foot: { fromEndUm: 95_000, fromEdgeUm: 0 },
      head: { fromEndUm: 445_000, fromEdgeUm: 0 },
      alongUm: [20_000, 520_000],
      acrossUm: [0, 250_000],
    });
  });

  test('a pair on folded cloth gives two and is measured from the selvedges when they are nearer', () => {
    // Back: grain foot 5 cm from its lower end and 9 cm from its straight side; it lies at x = 52.3, y = 1.
    expect(lineOf(exampleLay, 2)).toMatchObject({
      copies: 2,
      printedSide: 'up',
      edge: 'selvedges',
      foot: { fromEndUm: 573_000, fromEdgeUm: 100_000 },
      head: { fromEndUm: 973_000, fromEdgeUm: 100_000 },
      alongUm: [523_000, 1_023_000],
      acrossUm: [10_000, 240_000],
    });
  });

  test('a mirrored piece near the right selvedge of open cloth, by hand', () => {
    // Tie, 92 x 8: foot at 15 % of its length, in its middle; row 3 begins where the numbers of piece 8 say.
    const first = lineOf(openLay, 8);
    const turned = lineOf(openLay, 9);
    expect(first.head.fromEndUm - first.foot.fromEndUm).toBe(644_000);
    expect(first.foot.fromEndUm - first.alongUm[0]).toBe(138_000);
    expect(turned).toMatchObject({ turned: true, headTowards: 'cut end', printedSide: 'up' });
    expect(turned.foot.fromEndUm - turned.head.fromEndUm).toBe(644_000);
    // Sleeve 2 lies 30.3 to 80.3 + 0.2 from the left: its grain is nearer to the right selvedge of 150 cm.
    const sleeve = lineOf(openLay, 2);
    const copy = openLay.copies[1]!;
    const ys = copy.outline.map(([, y]) => y);
    expect(sleeve.edge).toBe('right selvedge');
    expect(sleeve.acrossUm).toEqual([1_500_000 - Math.max(...ys), 1_500_000 - Math.min(...ys)]);
    expect(sleeve.foot.fromEdgeUm).toBe(1_500_000 - (copy.at[1] + 250_000));
    expect(lineOf(openLay, 3).printedSide).toBe('down');
  });

  test.each(Object.entries(sampleLays))(
    '%s: grain ends keep one distance, lie within from-to, in laying order',
    (_, lay) => {
      const { lines } = chalkList(lay, 'cm');
      expect(lines.map(({ n }) => n).sort((a, b) => a - b)).toEqual(lay.placements.map(({ n }) => n));
      let last = Number.NEGATIVE_INFINITY;
      for (const line of lines) {
        expect(line.foot.fromEdgeUm).toBe(line.head.fromEdgeUm);
        for (const { fromEndUm } of [line.foot, line.head]) {
          expect(fromEndUm).toBeGreaterThanOrEqual(line.alongUm[0]);
          expect(fromEndUm).toBeLessThanOrEqual(line.alongUm[1]);
        }
        expect(line.acrossUm[0]).toBeLessThan(line.acrossUm[1]);
        expect(line.alongUm[0]).toBeGreaterThanOrEqual(last);
        last = line.alongUm[0];
        const { width } = lay.cloth;
        const folded = lay.stretches[0]!.method === 'lengthwise fold';
        expect(line.foot.fromEdgeUm).toBeLessThanOrEqual((folded ? width / 2 : width) / 2);
      }
    },
  );

  test('every number of the list comes back from the lead copy', () => {
    for (const lay of [openLay, crowdedLay, foldedLay]) {
      for (const line of chalkList(lay, 'cm').lines) {
        const placement = lay.placements.find(({ n }) => n === line.n)!;
        const lead = lay.copies.find(({ n }) => n === placement.copies[0])!;
        const back = (distance: number) =>
          line.edge === 'fold'
            ? lay.cloth.width / 2 - distance
            : line.edge === 'right selvedge'
              ? lay.cloth.width - distance
              : distance;
        const xs = lead.outline.map(([x]) => x);
        const ys = lead.outline.map(([, y]) => y);
        expect(line.alongUm).toEqual([Math.min(...xs), Math.max(...xs)]);
        const across = line.acrossUm.map(back).sort((a, b) => a - b);
        const most = line.onFold ? lay.cloth.width / 2 : Math.max(...ys);
        expect(across).toEqual([Math.min(...ys), most]);
        expect(line.copies).toBe(placement.copies.length);
        if (line.onFold) continue;
        const { grain } = lay.pieces.find(({ id }) => id === placement.piece)!;
        const sign = lead.turned === 180 ? -1 : 1;
        const flip = lead.mirror ? -sign : sign;
        expect([line.foot.fromEndUm, back(line.foot.fromEdgeUm)]).toEqual([
          lead.at[0] + sign * grain[0][0],
          lead.at[1] + flip * grain[0][1],
        ]);
      }
    }
  });

  test('on folded cloth the copy nearer the left selvedge leads, whichever stands first', () => {
    const swapped = {
      ...exampleLay,
      placements: exampleLay.placements.map((placement) => ({ ...placement, copies: [...placement.copies].reverse() })),
    };
    expect(chalkList(swapped, 'cm')).toEqual(chalkList(exampleLay, 'cm'));
  });
});

test('a grain line in the layer below a crosswise fold is shown as far from the fold above it, its paper turned over', () => {
  const line = (foot: number, head: number, foldX: number) =>
    grainBeyondFold(
      [
        [foot, 7],
        [head, 8],
      ],
      foldX,
    );
  const at = (foot: number, head: number) => [
    [foot, 7],
    [head, 8],
  ];
  expect(line(90, 60, 100)).toEqual(at(110, 140));
  expect(line(60, 90, 100)).toEqual(at(140, 110));
  expect(line(110, 140, 100)).toEqual(at(110, 140));
  // Of one that lies across the fold the longer part.
  expect(line(90, 140, 100)).toEqual(at(100, 140));
  expect(line(60, 110, 100)).toEqual(at(140, 100));
});
