import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { clothTable } from '../../src/cutlist/cloth.js';
import { pieceTable } from '../../src/cutlist/piece.js';
import { letterOf } from '../../src/cutlist/plain-shapes.js';
import { readCutList } from '../../src/cutlist/read.js';
import type { CutList } from '../../src/cutlist/types.js';
import { areaUm2 } from '../../src/geometry/outline.js';
import { makeCutPiece } from '../../src/pieces/cut-piece.js';
import type { DeclaredPiece } from '../../src/pieces/types.js';

function root(path: string): string {
  return fileURLToPath(new URL(`../../${path}`, import.meta.url));
}

function read(text: string): CutList {
  const answer = readCutList(text, 'list.yaml');
  if (!answer.ok) throw new Error(answer.faults.map(({ what }) => what).join('\n'));
  return answer.value;
}

/** A list of one piece, `keys` as its YAML flow map without braces. */
function piece(keys: string, top = 'units: cm\ndrawn: net'): DeclaredPiece {
  const list = read(`title: T\n${top}\npieces:\n  P: {${keys}}\ncloths:\n  c: {for: [shell, lining], width: 150}\n`);
  return list.pieces[0]!;
}

function cloth(keys: string, units = 'cm') {
  const text = `title: T\nunits: ${units}\ndrawn: cut\npieces:\n  P: {rectangle: [5, 5], cut: {shell: 1}}\ncloths:\n  c: {for: shell, ${keys}}\n`;
  return read(text).cloths[0]!;
}

function codes(text: string): string[] {
  const answer = readCutList(text, 'list.yaml');
  return (answer.ok ? answer.value.notices : answer.faults).map(({ code }) => code);
}

const square = 'outline: {A: [0, 0], B: [10, 0], C: [10, 10], D: [0, 10]}, grain: A-D';

describe('fixtures that must read', () => {
  const files = ['boatyard', 'published'].flatMap((folder) =>
    readdirSync(root(`fixtures/${folder}`)).flatMap((name) =>
      name.endsWith('.yaml') ? [`fixtures/${folder}/${name}`] : [],
    ),
  );
  test('are there', () => expect(files.length).toBeGreaterThan(10));
  test.each(files)('%s', (file) => {
    const list = read(readFileSync(root(file), 'utf8'));
    expect(list.notices.filter(({ severity }) => severity !== 'notice')).toEqual([]);
    for (const each of list.pieces) {
      for (const { material } of each.cut) expect(makeCutPiece(each, material).ok).toBe(true);
    }
  });
});

describe('the reference', () => {
  const reference = readFileSync(root('docs/cut-list.md'), 'utf8');

  test('names every key', () => {
    const keys = [pieceTable, clothTable].flatMap(({ known }) => [...known]);
    expect(keys.filter((key) => !reference.includes(`\`${key}\``))).toEqual([]);
  });

  test('the example of the README reads', () => {
    const example = /```yaml\n(title:[\s\S]*?)```/.exec(readFileSync(root('README.md'), 'utf8'))![1]!;
    expect(read(example).pieces.length).toBeGreaterThan(1);
  });

  test('its first example reads', () => {
    const example = /```yaml\n(title:[\s\S]*?)```/.exec(reference)![1]!;
    expect(read(example).pieces.map(({ id }) => id)).toEqual(['Bib']);
  });
});

describe('pieces', () => {
  test('lengths in every unit, exact to the micrometre', () => {
    const corners = piece(
      'outline: {A: [0, 0], B: [3 1/2 in, 0], C: [8.23455, 1 mm], D: [0, 1/8 yd]}, grain: A-D, cut: {shell: 1}',
    ).corners;
    expect(corners.map(({ at }) => at)).toEqual([
      [0, 0],
      [88_900, 0],
      [82_346, 1_000],
      [0, 114_300],
    ]);
  });

  test('a rectangle stands head up: A foot left, B foot right, C head right, D head left', () => {
    const { corners, grain } = piece('rectangle: [90, 6], cut: {shell: 1}');
    expect(corners.map(({ label, at }) => [label, ...at])).toEqual([
      ['A', 0, 0],
      ['B', 60_000, 0],
      ['C', 60_000, 900_000],
      ['D', 0, 900_000],
    ]);
    expect(grain.value).toEqual({ foot: [30_000, 0], head: [30_000, 900_000], cross: false });
  });

  test('points of a path piece count y down, like the path', () => {
    const { corners, grain, awl } = piece(
      'path: M0 0 H18 V16 C18 20 0 20 0 16 Z, grain: [[9, 15], [9, 2]], awl: [[4, 5]], cut: {shell: 1}',
    );
    expect(corners.map(({ label }) => label)).toEqual(['A', 'B', 'C', 'D']);
    expect(grain.value.foot).toEqual([90_000, -150_000]);
    expect(grain.value.head).toEqual([90_000, -20_000]);
    expect(awl[0]!.value).toEqual([40_000, -50_000]);
  });

  test('path and outline of the same shape are the same shape', () => {
    const cut = (each: DeclaredPiece) => {
      const made = makeCutPiece(each, 'shell');
      return made.ok ? [...made.value.outline].sort((a, b) => a[0] - b[0] || a[1] - b[1]) : null;
    };
    const drawn = piece(
      'outline: {A: [0, 0], B: [18, 0], C: [18, -16], D: [0, -16]}, curves: {C-D: {bezier: [[18, -20], [0, -20]]}}, grain: [[9, -15], [9, -2]], cut: {shell: 1}, allowance: 1',
    );
    const path = piece(
      'path: M0 0 H18 V16 C18 20 0 20 0 16 Z, grain: [[9, 15], [9, 2]], cut: {shell: 1}, allowance: 1',
    );
    expect(cut(path)).toEqual(cut(drawn));
  });

  test('letters after Z', () => {
    expect([0, 25, 26, 27, 51, 52, 701, 702].map(letterOf)).toEqual(['A', 'Z', 'AA', 'AB', 'AZ', 'BA', 'ZZ', 'AAA']);
  });

  test('an edge, the same edge from its other end, a run', () => {
    const { notches } = piece(
      `${square}, cut: {shell: 1}, allowance: 1, notches: [{edge: B-C, at: 1}, {edge: C-B, at: 1}, {edge: A-C, at: 12}, {edge: D-B, at: 1}, {edge: A-D, at: 1}]`,
    );
    expect(notches.map(({ value: { run } }) => [run.edges, run.reversed])).toEqual([
      [[1], false],
      [[1], true],
      [[0, 1], false],
      [[3, 0], false],
      [[3], true],
    ]);
  });

  test('in a shape of two corners the other edge goes by B-A', () => {
    const { notches } = piece(
      'path: M0 5 A5 5 0 0 1 10 5 A5 5 0 0 1 0 5 Z, grain: [[5, 9], [5, 1]], cut: {shell: 1}, allowance: 1, notches: [{edge: A-B, at: 2}, {edge: B-A, at: 2}]',
    );
    expect(notches.map(({ value: { run } }) => [run.edges, run.reversed])).toEqual([
      [[0], false],
      [[1], false],
    ]);
  });

  test('a curve named from its other end counts its points from there', () => {
    const curve = (name: string, points: string) =>
      piece(`${square}, curves: {${name}: {through: ${points}}}, cut: {shell: 1}, allowance: 0`).edges[1]!.points;
    expect(curve('C-B', '[[11, 7], [12, 3]]')).toEqual(curve('B-C', '[[12, 3], [11, 7]]'));
  });

  test('an arc of a half circle encloses pi r^2 / 2 more', () => {
    const made = makeCutPiece(
      piece(`${square}, curves: {B-C: {arc: [15, 5]}}, cut: {shell: 1}, allowance: 0`),
      'shell',
    );
    expect(made.ok && areaUm2(made.value.outline) / (1e10 + (Math.PI * 50_000 ** 2) / 2)).toBeCloseTo(1, 3);
  });

  test('grain by edge, by map, by two points', () => {
    const grains = ['A-D', '{edge: A-D}', '[[0, 0], [0, 10]]'].map(
      (grain) => piece(`${square.replace('A-D', grain)}, cut: {shell: 1}, allowance: 0`).grain.value,
    );
    for (const grain of grains) expect(grain).toEqual({ foot: [0, 0], head: [0, 100_000], cross: false });
  });

  test('wordings in all their forms', () => {
    const terms = (wording: string) => piece(`${square}, cut: {shell: ${wording}}, allowance: 0`).cut[0]!.terms;
    expect(terms('3')).toEqual([{ count: 3, kind: 'plain' }]);
    expect(terms('1 pair')).toEqual([{ count: 1, kind: 'pair' }]);
    expect(terms('2 Pairs +  1 same  way + 1')).toEqual([
      { count: 2, kind: 'pair' },
      { count: 1, kind: 'same way' },
      { count: 1, kind: 'plain' },
    ]);
    expect(piece(`${square}, fold: D-A, cut: {shell: 2 on fold}, allowance: 0`).cut[0]!.terms).toEqual([
      { count: 2, kind: 'on fold' },
    ]);
  });

  test('allowances: one, by edge, by material', () => {
    const byEdge = (allowance: string, material = 'shell') => {
      const { allowanceByMaterial, allowanceDefault } = piece(
        `${square}, cut: {shell: 1, lining: 1}, allowance: ${allowance}`,
      );
      return (allowanceByMaterial.get(material) ?? allowanceDefault).byEdge;
    };
    expect(byEdge('1')).toEqual([10_000, 10_000, 10_000, 10_000]);
    expect(byEdge('{all: 1, A-B: 3, C-A: 0}')).toEqual([30_000, 10_000, 0, 0]);
    expect(byEdge('{A-B: 3}')).toEqual([30_000, 0, 0, 0]);
    expect(byEdge('{shell: {all: 1, A-B: 3}, lining: 0}', 'shell')).toEqual([30_000, 10_000, 10_000, 10_000]);
    expect(byEdge('{shell: {all: 1, A-B: 3}, lining: 0}', 'lining')).toEqual([0, 0, 0, 0]);
  });

  test('like fills in what is not given; another shape takes the curves along', () => {
    const list = read(`title: T
drawn: net
pieces:
  One: {${square}, curves: {B-C: {arc: [12, 5]}}, cut: {shell: 1}, allowance: 1, note: mine}
  Two: {like: One, note: theirs, allowance: {all: 2}}
  Three: {like: Two, rectangle: [5, 6]}
cloths:
  c: {for: shell, width: 150}
`);
    const [one, two, three] = list.pieces;
    expect(two!.edges.map(({ points }) => points)).toEqual(one!.edges.map(({ points }) => points));
    expect([two!.note, two!.allowanceDefault.byEdge[0]]).toEqual(['theirs', 20_000]);
    expect([three!.note, three!.edges.length, three!.edges.some(({ curved }) => curved)]).toEqual(['theirs', 4, false]);
  });

  test('a tape length 0.3 cm off is borne, more is a fault', () => {
    const text = (tape: string) =>
      `title: T\nunits: cm\ndrawn: net\npieces:\n  P: {${square}, measured: {B-C: ${tape}}, cut: {shell: 1}, allowance: 0}\ncloths:\n  c: {for: shell, width: 150, usable: 147}\n`;
    expect(codes(text('10.3'))).toEqual([]);
    expect(codes(text('9.7'))).toEqual([]);
    expect(codes(text('10.3001'))).toEqual(['measured-differs']);
  });
});

describe('cloths', () => {
  test('defaults are in cm, the selling step follows the units', () => {
    expect(cloth('width: 150').cloth).toMatchObject({
      width: 1_500_000,
      usable: [15_000, 1_485_000],
      ends: [30_000, 30_000],
      gap: 3_000,
      soldBy: 100_000,
      nap: 'one-way',
      faces: 'one',
      length: null,
      priceMinorPerMetre: null,
    });
    const inches = cloth('width: 45', 'in');
    expect(inches.cloth).toMatchObject({ width: 1_143_000, ends: [30_000, 30_000], gap: 3_000, soldBy: 114_300 });
    expect(inches.notices.map(({ code }) => code)).toEqual(['usable-assumed']);
    expect(inches.method).toBe('best');
  });

  test('usable: centred, or from a tape', () => {
    expect(cloth('width: 150, usable: 140').cloth.usable).toEqual([50_000, 1_450_000]);
    expect(cloth('width: 150, usable: [2, 147.5]').cloth.usable).toEqual([20_000, 1_475_000]);
    expect(cloth('width: 150, selvedge: 2').cloth.usable).toEqual([25_000, 1_475_000]);
  });

  test('a price per yard becomes one per metre', () => {
    expect(cloth('width: 150, price: 18.50').cloth.priceMinorPerMetre).toBe(1_850);
    // The international yard is 0.9144 m (1959).
    expect(cloth('width: 45, price: 9.144', 'in').cloth.priceMinorPerMetre).toBe(1_000);
  });

  test('a bad piece does not hide the faults of the next, nor of a cloth', () => {
    const text = `title: T
drawn: net
pieces:
  One: {rectangle: [1], cut: {shell: 1}}
  Two: {${square}, cut: {shell: none}}
cloths:
  c: {for: shell, width: -3}
  d: {for: shell, width: 150, nap: sideways}
`;
    expect(codes(text)).toEqual(['wrong-value', 'bad-wording', 'length-out-of-range', 'wrong-value']);
  });
});

describe('the hash', () => {
  const text = readFileSync(root('fixtures/boatyard/sail-bag.yaml'), 'utf8');

  test('comments, spaces, quotes, places and written units do not change it', () => {
    const other = text
      .replace(/^(?!$)/gm, '# a comment\n')
      .replace('rectangle: [26, 30]', 'rectangle: [ 260 mm,   "30.0" ]')
      .replace(/\n/g, '\r\n');
    expect(read(other).sha256).toBe(read(text).sha256);
  });

  test.each([
    ['a corner', '[46, 0]', '[46.0001, 0]'],
    ['a wording', '1 pair', '2 same way'],
    ['an allowance', 'C-D: 5', 'C-D: 5.1'],
    ['a notch', 'at: 23', 'at: 23.1'],
    ['a width', 'width: 150', 'width: 151'],
    ['a price', 'price: 21.00', 'price: 21.01'],
    ['the nap', 'nap: none', 'nap: one-way'],
  ])('%s does', (_, from, to) => {
    expect(text).toContain(from);
    expect(read(text.replace(from, to)).sha256).not.toBe(read(text).sha256);
  });
});
