/**
 * Figures from the world outside, each through a real cut list and the whole of `plan`. The source stands beside each
 * check and at the top of its file under fixtures/published.
 */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import type { PlanOptions } from '../src/index.js';
import type { MaterialPlan } from '../src/planning/types.js';
import { umPerUnit } from '../src/units/length.js';
import { planText } from './support/plan.js';

const folder = fileURLToPath(new URL('../fixtures/published/', import.meta.url));

async function planFirst(text: string, options: Partial<PlanOptions> = {}): Promise<MaterialPlan> {
  return (await planText(text, { effort: 2, ...options })).plans[0]!;
}

function read(name: string): string {
  return readFileSync(`${folder}${name}.yaml`, 'utf8');
}

async function plan(name: string, options: Partial<PlanOptions> = {}): Promise<MaterialPlan> {
  return planFirst(read(name), options);
}

function lengthUsed(found: MaterialPlan, method = 'open'): number {
  const candidate = found.candidates.find((each) => each.method === method);
  return candidate!.lay!.totals.lengthUsed;
}

const { in: inch, yd: yard, cm } = umPerUnit;

describe('circle skirts', () => {
  // W24a: 'Sew a poodle skirt', craft page, August 2011: 4 yd of 36 in felt.
  test('two half circles the same way need 4 R = 144 in', async () => {
    expect(Math.abs(lengthUsed(await plan('w24a-half-circles-same-way')) - 144 * inch)).toBeLessThan(0.01 * inch);
  });

  // W24b: the same page: 2 yd of 72 in felt.
  test('a full circle in one piece needs 2 R = 72 in', async () => {
    const found = await plan('w24b-full-circle');
    expect(Math.abs(lengthUsed(found) - 72 * inch)).toBeLessThan(0.01 * inch);
    expect(found.chosen!.status).toBe('proven shortest');
  });

  // W24c: derived: the arcs touch midway between the centres, (2 + sqrt 3) R.
  test.each(['w24c-half-circles-turned', 'w24c-half-circles-pair'])('%s needs 134.354 in', async (name) => {
    expect(Math.abs(lengthUsed(await plan(name)) / inch - (2 + Math.sqrt(3)) * 36)).toBeLessThan(0.05);
  });
});

describe('rectangles', () => {
  // W22: 'Preparing to buy fabric', quilt how-to.
  test('63 squares of 2.5 in on 44 in: 4 rows, 10 in', async () => {
    expect(lengthUsed(await plan('w22-squares'))).toBe(10 * inch);
  });

  // W8: upholstery glossary "width".
  test('a bedcover from 1.35 m cloth: 9 m', async () => {
    const found = await plan('w8-bedcover');
    expect(lengthUsed(found)).toBe(900 * cm);
    expect(found.chosen!.status).toBe('proven shortest');
  });

  // W13: 'Table cloth, how to', sewing guide page; its note: on 44 in usable it does not fit.
  test('a table cloth: 69 x 45 in, buy 2 yd, and not on 44 in', async () => {
    const found = await plan('w13-table-cloth');
    expect(found.chosen!.lay!.totals.buy).toBe(2 * yard);
    const narrow = await plan('w13-table-cloth', { widthsUm: [44 * inch] });
    expect(narrow.chosen).toBe(null);
    expect(narrow.candidates[0]).toMatchObject({ status: 'does not fit', fitProven: true });
    expect(narrow.notices.map(({ code }) => code)).toContain('piece-too-wide');
  });

  // X1a: 'Calculating fabric for curtains', track supplier's instruction sheet.
  test('a plain curtain: 4 widths of 240 cm, 9.6 m', async () => {
    expect(lengthUsed(await plan('x1a-curtain'))).toBe(960 * cm);
  });

  // X4: 'Calculating fabric', sewing school page, 30 May 2022.
  test('a pleated curtain: 5 x 257 cm = 12.85 m, bought as 13 m', async () => {
    const found = await plan('x4-pleated-curtain');
    expect(lengthUsed(found)).toBe(1285 * cm);
    expect(found.chosen!.lay!.totals.buy).toBe(1300 * cm);
  });
});

describe('shapes whose answer is known', () => {
  // D1: derived: the triangles complete a 20 x 30 rectangle.
  test('two right triangles, one turned: 30 in', async () => {
    expect(lengthUsed(await plan('d1-triangles'))).toBe(30 * inch);
  });

  // D2: derived: n b = 80 the same way, n/2 (a + b) + (b - a)/2 = 65 alternating.
  test.each([
    ['d2-gores-same-way', 80],
    ['d2-gores-turned', 65],
  ])('%s: one row of 70 on exactly %i cm, longer on 1 mm less', async (name, width) => {
    expect(lengthUsed(await plan(name))).toBe(70 * cm);
    expect(lengthUsed(await plan(name, { widthsUm: [width * cm - 1000] }))).toBeGreaterThan(70 * cm);
  });

  // D3: derived: the half on the fold uses the same cloth as the whole on open cloth.
  test('a half piece on the fold is as long as the whole piece open: 60', async () => {
    const found = await plan('d3-fold');
    expect(lengthUsed(found, 'open')).toBe(60 * cm);
    expect(lengthUsed(found, 'lengthwise fold')).toBe(60 * cm);
  });

  // D4: derived: pi / 4.
  test('a circle uses 78.54 % of its square', async () => {
    const { lay } = (await plan('d4-circle')).chosen!;
    expect(lay!.totals.utilisationPpm / 10_000).toBeCloseTo(78.54, 2);
  });
});

describe('cloth', () => {
  // M1: Vilumsone-Nemes, Industrial Cutting of Textile Materials, p. 19: less the selvedges and 1 to 2 cm; numbers ours.
  test('of 150 cm with 1 cm selvedges 146 to 147 cm are usable', async () => {
    const text = read('x1a-curtain').replace('width: 140, selvedge: 0, usable: 140', 'width: 150, selvedge: 1');
    const found = await planFirst(text);
    const [from, to] = found.chosen!.lay!.cloth.usable;
    expect(to - from).toBeGreaterThanOrEqual(146 * cm);
    expect(to - from).toBeLessThanOrEqual(147 * cm);
  });

  // M4: 'Fabric wastage outside the marker', 2013: 2 cm at each end, 4 cm per ply.
  test('ends of 2 cm add 4 cm to what is bought', async () => {
    const found = await planFirst(read('x1a-curtain').replace('ends: [0, 0]', 'ends: [2, 2]'));
    expect(found.chosen!.lay!.totals.buyParts).toEqual([{ why: 'ends', um: 4 * cm }]);
    expect(found.chosen!.lay!.totals.buy).toBe(964 * cm);
  });
});

describe('cloth at hand', () => {
  test('is taken as it is needed, without rounding up to the selling step', async () => {
    const found = await plan('x4-pleated-curtain', { lengthUm: 1_290 * cm });
    expect(found.chosen!.lay!.totals).toMatchObject({ buyParts: [], buy: 1285 * cm });
  });
});

describe('more cloth than can be reckoned with', () => {
  test('is declined in words, not by a crash', async () => {
    const text = read('x1a-curtain').replace('4 same way', '20 same way');
    await expect(planFirst(text)).rejects.toThrow(
      /takes 48\.0 m of it even without waste, at most 20\.0 m are planned/,
    );
  });
});

describe('widths cut one below the other', () => {
  // W9, W11: 'Making continuous piping strips / bias binding', furnishing forum; W15: 'Mathematically challenged',
  // quilters' forum; W17: note on wide quilt backings; W19: 'Yardage requirement for 3 tier skirt', 2013; W20a: 'Alternate
  // skirt', costume page; W23: 'Yards of cloth to generate a full-sized bed comforter'; X1c: 'Calculating fabric for
  // curtains', track supplier; X3a: 'Measuring guide', curtain maker.
  test.each([
    ['w9-strips-23', 23 * inch, null],
    ['w11-strips-20', 20 * inch, null],
    ['w15-quilt-back', 112 * inch, null],
    ['w17-quilt-back', 300 * inch, (67 / 8) * yard],
    ['w19-tiered-skirt', 187 * inch, (21 / 4) * yard],
    ['w20a-gathered-skirt', 98 * inch, (11 / 4) * yard],
    ['w23-comforter', 176 * inch, 5 * yard],
    ['x1c-sheer', 540 * cm, null],
    ['x3a-curtain', 3 * 150 * cm, null],
  ])('%s', async (name, used, buy) => {
    const found = await plan(name);
    expect(lengthUsed(found)).toBe(used);
    expect(found.chosen!.status).toBe('proven shortest');
    if (buy !== null) expect(found.chosen!.lay!.totals.buy).toBe(buy);
  });
});

describe('repeats, washing, fusing', () => {
  // W5: workroom newsletter 'Pattern repeats', August 2011.
  test('a cut of 116 in on a repeat of 25 in: the next begins 125 in further', async () => {
    const { copies } = (await plan('w5-repeat')).chosen!.lay!;
    expect(copies[1]!.at[0] - copies[0]!.at[0]).toBe(125 * inch);
  });

  // W28a: 'Allow extra to match even stripes or plaids', fabric-shop blog, 2010: the repeat for each of two stacked pieces.
  test.each([1.25, 4.25])('two stacked pieces on a repeat of %f in need at most twice as much more', async (repeat) => {
    const list = (key: string) =>
      `title: Two\nunits: in\ndrawn: cut\npieces:\n  P: {rectangle: [20.3, 30], cut: {shell: 2 same way}, match: [{point: [7, 0], group: waist, way: along}]}\ncloths:\n  c: {for: shell, width: 36, usable: 36, ends: [0, 0], gap: 0, sold-by: 0.001 cm, method: open${key}}\n`;
    const buy = async (key: string) => (await planFirst(list(key))).chosen!.lay!.totals.buy;
    const extra = (await buy(`, repeat: {along: ${repeat}}`)) - (await buy(''));
    expect(extra).toBeGreaterThan(0);
    expect(extra).toBeLessThanOrEqual(2 * repeat * inch);
  });

  // SH2: derived, L / (1 - s); ISO 5077 gives the loss against the length before.
  test('2 m after a loss of 5 % are 2.105 m', async () => {
    const { totals } = (await plan('sh2-shrinkage')).chosen!.lay!;
    expect(totals.lengthUsed).toBe(200 * cm);
    expect(Math.abs(totals.buy / cm - 200 / 0.95)).toBeLessThan(0.001);
  });

  // M5: Vilumsone-Nemes, pp. 23 and 219: 10 to 20 mm around a fused part.
  test('a fused part with 15 mm to spare around it', async () => {
    const { lay } = (await plan('m5-fusing-buffer')).chosen!;
    expect(lay!.totals.lengthUsed).toBe(43 * cm);
    expect(lay!.totals.areaUm2).toBe(43 * cm * 7 * cm);
  });
});
