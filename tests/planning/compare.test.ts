/** One run over several cloths: where one asks for nothing that another did not, it is never told to need more. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CompareAnswer, type CompareOptions, compareCutLists } from '../../src/index.js';
import type { MaterialPlan } from '../../src/planning/types.js';
import { plainOptions, plainTools, planText } from '../support/plan.js';

type Compared = Extract<CompareAnswer, { kind: 'compared' }>;

async function compare(text: string, options: Partial<CompareOptions> = {}): Promise<Compared> {
  const answer = await compareCutLists([{ file: 'list.yaml', text }], { ...plainOptions, ...options }, plainTools());
  if (answer.kind === 'faults') throw new Error(answer.faults.map(({ what }) => what).join('\n'));
  return answer;
}

function list(pieces: readonly string[], cloths: string): string {
  return `title: Sail ties\nunits: cm\ndrawn: cut\npieces:\n${pieces.join('\n')}\ncloths:\n${cloths}\n`;
}

function piece(name: string, along: number, across: number, cut: string): string {
  return `  ${name}: {rectangle: [${along}, ${across}], cut: {duck: ${cut}}}`;
}

function slant(name: string, along: number, across: number, cut: string): string {
  const outline = `{A: [0, 0], B: [${across}, 0], C: [${Math.round(across * 0.6)}, ${along}], D: [0, ${Math.round(along * 0.8)}]}`;
  return `  ${name}: {outline: ${outline}, grain: A-D, cut: {duck: ${cut}}}`;
}

const random = fc.array(
  fc.record({
    make: fc.constantFrom(piece, slant),
    along: fc.integer({ min: 8, max: 60 }),
    across: fc.integer({ min: 6, max: 40 }),
    cut: fc.constantFrom('1 same way', '2 same way', '1 pair', '2 pairs'),
  }),
  { minLength: 1, maxLength: 4 },
);

function piecesOf(drawn: readonly { make: typeof piece; along: number; across: number; cut: string }[]): string[] {
  return drawn.map(({ make, along, across, cut }, i) => make(`P${i}`, along, across, cut));
}

function usedOf(plans: readonly MaterialPlan[], method: string): number[] {
  return plans.map(
    ({ candidates }) => candidates.find((candidate) => candidate.method === method)?.lay?.totals.lengthUsed ?? Infinity,
  );
}

function neverLonger(lengths: readonly number[]): void {
  expect(lengths).toEqual([...lengths].sort((a, b) => b - a));
}

describe('within one run', () => {
  it('a wider cloth never needs more, lay method by lay method', async () => {
    await fc.assert(
      fc.asyncProperty(random, async (drawn) => {
        const text = list(piecesOf(drawn), '  duck: {for: duck, width: 100, usable: 97}');
        const { comparisons } = await compare(text, { widthsUm: [500_000, 620_000, 900_000], effort: 0.1 });
        const { plans } = comparisons[0]!;
        neverLonger(usedOf(plans, 'open'));
        neverLonger(usedOf(plans, 'lengthwise fold'));
      }),
      { numRuns: 3, endOnFailure: true },
    );
  });

  it('of cloths that are alike none needs more than another, in whatever order they stand', async () => {
    const cloths = ['wide', 'first', 'second'].map(
      (name) => `  ${name}: {for: duck, width: ${name === 'wide' ? 84 : 80}, usable: ${name === 'wide' ? 82 : 78}}`,
    );
    const pieces = [slant('Gore', 50, 30, '2 pairs'), slant('Tab', 23, 17, '3 same way')];
    const { plans } = await planText(list(pieces, cloths.join('\n')), { effort: 1, method: 'open' });
    const [wide, first, second] = usedOf(plans, 'open');
    expect(first).toBe(second);
    expect(wide).toBeLessThanOrEqual(first!);
  });

  it('cloth without nap, without grain or with two right sides never needs more', async () => {
    const cloths = [
      '  strict: {for: duck, width: 80, usable: 78}',
      '  none: {for: duck, width: 80, usable: 78, nap: none}',
      '  both: {for: duck, width: 80, usable: 78, nap: none, faces: both}',
      '  felt: {for: duck, width: 80, usable: 78, nap: none, faces: both, grain: free, gap: 0}',
    ].join('\n');
    await fc.assert(
      fc.asyncProperty(random, async (drawn) => {
        const { plans } = await planText(list(piecesOf(drawn), cloths), { effort: 0.1, method: 'open' });
        neverLonger(usedOf(plans, 'open'));
      }),
      { numRuns: 3, endOnFailure: true },
    );
  });

  it('opened cloth never needs more', async () => {
    await fc.assert(
      fc.asyncProperty(random, async (drawn) => {
        const { plans } = await planText(list(piecesOf(drawn), '  duck: {for: duck, width: 80, usable: 78}'));
        const [open, ...folded] = plans[0]!.candidates.map(({ lay }) => lay?.totals.lengthUsed ?? Infinity);
        for (const length of folded) expect(length).toBeGreaterThanOrEqual(open!);
      }),
      { numRuns: 3, endOnFailure: true },
    );
  });

  it('a remnant takes over what fits, and only that', async () => {
    const pieces = [piece('Side', 60, 40, '2 same way'), piece('Strap', 90, 6, '2 same way')];
    const cloths = [
      '  bolt: {for: duck, width: 90, usable: 88}',
      '  rest: {for: duck, width: 110, usable: 108, length: 97}',
      '  scrap: {for: duck, width: 110, usable: 108, length: 90}',
    ].join('\n');
    const { plans } = await planText(list(pieces, cloths), { method: 'open' });
    expect(plans.map(({ chosen }) => chosen?.lay?.totals.lengthUsed ?? null)).toEqual([
      expect.any(Number),
      900_000,
      null,
    ]);
  });
});

describe('a remnant', () => {
  const pieces = [piece('Side', 60, 40, '2 same way'), piece('Strap', 90, 6, '2 same way')];

  it('that it comes out of is told before the bolts, and costs nothing', async () => {
    const cloths = [
      '  bolt: {for: duck, width: 90, usable: 88, price: 10, currency: EUR}',
      '  rest: {for: duck, width: 110, usable: 108, length: 97, price: 10, currency: EUR}',
    ].join('\n');
    const { comparisons, outputs } = await compare(list(pieces, cloths), { method: 'open' });
    const [{ atHand, shortest, cheapest, breaks }] = comparisons as [Compared['comparisons'][0]];
    expect([atHand, shortest, cheapest].map((plan) => plan!.cloth.cloth.name)).toEqual(['rest', 'bolt', 'bolt']);
    expect(outputs).toHaveLength(2);
    expect(breaks).toEqual([]);
  });

  it('that is shorter than the bound is proven not to do, by every method', async () => {
    const cloth = '  rest: {for: duck, width: 110, usable: 108, length: 90}';
    const { plans } = await planText(list(pieces, cloth));
    expect(plans[0]!.chosen).toBeNull();
    expect(plans[0]!.candidates.map(({ fitProven }) => fitProven)).toEqual(plans[0]!.candidates.map(() => true));
  });
});

describe('a comparison', () => {
  // Two of 40 cm side by side need 80.3 cm across with the gap of 0.3: at 82 usable they do, at 78 they do not.
  const boards = [piece('Board', 50, 40, '2 same way')];

  it('names the pieces that make a width break, and the best by length and by cost', async () => {
    const text = list(boards, '  duck: {for: duck, width: 100, usable: 98, method: open, price: 10, currency: EUR}');
    const { comparisons } = await compare(text, { widthsUm: [700_000, 800_000, 840_000, 900_000] });
    const [{ breaks, shortest, cheapest, plans }] = comparisons as [Compared['comparisons'][0]];
    expect(breaks).toHaveLength(1);
    expect(breaks[0]).toMatchObject({
      pieces: ['Board', 'Board'],
      needsUm: 803_000,
      longerUm: expect.closeTo(503_000, -1),
    });
    expect([breaks[0]!.narrow, breaks[0]!.wide]).toEqual([plans[1], plans[2]]);
    expect([shortest, cheapest]).toEqual([plans[2], plans[2]]);
  });

  it('says where a piece no longer fits at all', async () => {
    const text = list(boards, '  duck: {for: duck, width: 100, usable: 98, method: open}');
    const { comparisons } = await compare(text, { widthsUm: [410_000, 450_000] });
    const [{ breaks, plans, cheapest }] = comparisons as [Compared['comparisons'][0]];
    expect(plans.map(({ chosen }) => chosen === null)).toEqual([true, false]);
    expect(breaks[0]).toMatchObject({ pieces: ['Board'], needsUm: 400_000, longerUm: null });
    expect(cheapest).toBeNull();
  });

  it('of cloths of one width each', async () => {
    const cloths = [
      '  wide: {for: duck, width: 90, usable: 88, method: open, price: 20, currency: EUR}',
      '  narrow: {for: duck, width: 70, usable: 68, method: open, price: 9, currency: EUR}',
    ].join('\n');
    const { comparisons, outputs } = await compare(list(boards, cloths));
    const [{ breaks, shortest, cheapest }] = comparisons as [Compared['comparisons'][0]];
    expect([shortest!.cloth.cloth.name, cheapest!.cloth.cloth.name]).toEqual(['wide', 'narrow']);
    expect(breaks.map(({ narrow, wide }) => [narrow.cloth.cloth.name, wide.cloth.cloth.name])).toEqual([
      ['narrow', 'wide'],
    ]);
    expect(outputs.map(({ name }) => name)).toEqual(['list-duck-wide', 'list-duck-narrow']);
  });

  it('names all pieces of a long row', async () => {
    // Eight of 10 cm side by side need 82.1 cm with their gaps of 0.3.
    const text = list(
      [piece('Tab', 40, 10, '8 same way')],
      '  duck: {for: duck, width: 100, usable: 98, method: open}',
    );
    const { comparisons } = await compare(text, { widthsUm: [830_000, 850_000] });
    expect(comparisons[0]!.breaks[0]).toMatchObject({ pieces: Array(8).fill('Tab'), needsUm: 821_000 });
  });

  it('leaves cloth without a price out of the costs', async () => {
    const cloths = [
      '  wide: {for: duck, width: 90, usable: 88, method: open}',
      '  narrow: {for: duck, width: 70, usable: 68, method: open, price: 9, currency: EUR}',
    ].join('\n');
    const { comparisons } = await compare(list(boards, cloths));
    expect(comparisons[0]!.cheapest!.cloth.cloth.name).toBe('narrow');
  });

  it('compares no costs in several currencies', async () => {
    const cloths = [
      '  wide: {for: duck, width: 90, usable: 88, method: open, price: 20, currency: EUR}',
      '  narrow: {for: duck, width: 70, usable: 68, method: open, price: 9, currency: GBP}',
    ].join('\n');
    expect((await compare(list(boards, cloths))).comparisons[0]!.cheapest).toBeNull();
  });

  it('gives the same when it is run again with the effort it reached', async () => {
    const text = list(
      [slant('Gore', 50, 30, '3 pairs'), slant('Tab', 20, 12, '5 same way')],
      '  duck: {for: duck, width: 90, usable: 88}',
    );
    const widthsUm = [700_000, 800_000];
    let seconds = 0;
    const tools = { ...plainTools(), clock: () => seconds++ };
    const options = { ...plainOptions, effort: 20, widthsUm, seconds: 6 };
    const capped = await compareCutLists([{ file: 'list.yaml', text }], options, tools);
    if (capped.kind === 'faults') throw new Error(capped.faults.map(({ what }) => what).join());
    const { effort } = capped.comparisons[0]!.plans[0]!;
    const again = await compare(text, { effort, widthsUm });
    expect(effort).toBeLessThan(20);
    expect(again.outputs.map(({ layText }) => layText)).toEqual(capped.outputs.map(({ layText }) => layText));
    expect(again.plot).toEqual(capped.plot);
  });
});
