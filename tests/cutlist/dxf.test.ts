import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readCutList } from '../../src/cutlist/read.js';
import { cutPiecesFor } from '../../src/index.js';
import { block, dxfFile, lightPolyline, line, millimetres, point, section, text } from '../support/dxf.js';

const lockerBag = readFileSync(new URL('../../fixtures/drawings/locker-bag.dxf', import.meta.url), 'utf8');

function read(pieces: string, files: Record<string, string>, drawn = 'net') {
  const drawings = new Map(Object.entries(files).map(([name, value]) => [name, { ok: true as const, value }]));
  const list = `title: T\nunits: cm\ndrawn: ${drawn}\npieces:\n${pieces}\ncloths:\n  c: {for: shell, width: 150, usable: 147}\n`;
  const cutList = readCutList(list, 'list.yaml', drawings);
  if (!cutList.ok) throw new Error(cutList.faults.map(({ what, fix }) => `${what} (${fix})`).join('\n'));
  return cutList.value;
}

const locker = { 'locker-bag.dxf': lockerBag };
const body = 'dxf: {file: locker-bag.dxf, piece: Body}, allowance: 1';

describe('what the drawing says', () => {
  test('fold, grain, notches, awl points, inner lines, cut wording and size', () => {
    const cutList = read(`  Body: {${body}}`, locker);
    const [piece] = cutPiecesFor(cutList, 'shell');
    expect(piece).toMatchObject({ id: 'Body', size: '1', onFold: true, demand: { asDrawn: 1, mirrored: 0 } });
    // 42 along the fold and 24 to each side, and 1 cm of allowance where nothing is on the fold.
    const xs = piece!.outline.map(([x]) => x);
    const ys = piece!.outline.map(([, y]) => y);
    expect([Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)]).toEqual([440_000, 500_000]);
    expect(piece!.awl.length).toBe(4);
    expect(piece!.lines.filter(({ kind }) => kind === 'mark').length).toBe(2);
    const outer = piece!.notches.map(([[x, y]]) => [x, Math.abs(y)]);
    expect(outer).toContainEqual([140_000, 250_000]);
    expect(cutList.notices.map(({ code }) => code)).toEqual(['drawing-size']);
  });

  test('a quantity makes the wording where no annotation does', () => {
    const [tab] = cutPiecesFor(read('  Tab: {dxf: {file: locker-bag.dxf, piece: Tab}, allowance: 1}', locker), 'shell');
    expect(tab!.demand).toEqual({ asDrawn: 4, mirrored: 0 });
  });

  test('every key of the cut list takes the place of it', () => {
    const [piece] = cutPiecesFor(
      read(
        `  Body: {${body}, fold: none, grain: [[1, 1], [20, 1]], cut: {shell: 2 same way}, notches: [], awl: [], size: 2}`,
        locker,
      ),
      'shell',
    );
    expect(piece).toMatchObject({
      onFold: false,
      size: '2',
      notches: [],
      awl: [],
      demand: { asDrawn: 2, mirrored: 0 },
    });
    expect(Math.max(...piece!.outline.map(([x]) => x)) - Math.min(...piece!.outline.map(([x]) => x))).toBe(260_000);
  });

  test('by block, by number, and made larger', () => {
    const wide = (shape: string): number => {
      const [piece] = cutPiecesFor(read(`  P: {dxf: {file: locker-bag.dxf, ${shape}}, allowance: 0}`, locker), 'shell');
      const ys = piece!.outline.map(([, y]) => y);
      return Math.max(...ys) - Math.min(...ys);
    };
    expect(wide('piece: POCKET')).toBe(170_000);
    expect(wide('piece: 2')).toBe(170_000);
    expect(wide('piece: Pocket, scale: 1.5')).toBe(255_000);
  });
});

describe('notches', () => {
  const file = (...marks: Parameters<typeof block>[1][]) =>
    dxfFile(
      millimetres,
      section(
        'BLOCKS',
        block(
          'P',
          text('Quantity: 1'),
          text('Material: shell'),
          line('7', [50, 10], [50, 90]),
          ...marks,
          lightPolyline('1', [
            [0, 0],
            [100, 0],
            [100, 200],
            [0, 200],
          ]),
        ),
      ),
    );

  test.each(['net', 'cut'])('drawn %s: a notch stays where it is drawn, square to its edge', (drawn) => {
    const cutList = read('  P: {dxf: {file: p.dxf}, allowance: 1}', { 'p.dxf': file(point('4', [100, 60])) }, drawn);
    const [piece] = cutPiecesFor(cutList, 'shell');
    const out = drawn === 'net' ? 10_000 : 0;
    // Grain foot at (50, 10), head straight up: along = y - 10, to the left = 50 - x.
    expect(piece!.notches).toEqual([
      [
        [50_000, -50_000 - out],
        [50_000, -50_000 - out + 4_000],
      ],
    ]);
  });

  test('one that lies off the outline is told', () => {
    const cutList = read('  P: {dxf: {file: p.dxf}, allowance: 1}', { 'p.dxf': file(point('4', [60, 60])) });
    expect(cutPiecesFor(cutList, 'shell')[0]!.notches).toEqual([]);
    expect(
      cutList.notices.some(({ what, severity }) => what.includes('off the outline') && severity === 'warning'),
    ).toBe(true);
  });

  test('a mirror line through the middle is no fold', () => {
    const cutList = read('  P: {dxf: {file: p.dxf}, cut: {shell: 1}, allowance: 1}', {
      'p.dxf': file(line('6', [50, 0], [50, 200])),
    });
    expect(cutPiecesFor(cutList, 'shell')[0]!.onFold).toBe(false);
    expect(cutList.notices.some(({ what }) => what.includes('mirror line'))).toBe(true);
  });
});

test('a notch drawn as a line from inside to the edge is on the edge', () => {
  const outline = lightPolyline('1', [
    [0, 0],
    [100, 0],
    [100, 200],
    [0, 200],
  ]);
  const file = dxfFile(
    millimetres,
    section('BLOCKS', block('P', outline, line('7', [50, 10], [50, 90]), line('4', [94, 60], [100, 60]))),
  );
  const [piece] = cutPiecesFor(
    read('  P: {dxf: {file: p.dxf}, cut: {shell: 1}, allowance: 0}', { 'p.dxf': file }),
    'shell',
  );
  expect(piece!.notches[0]![0]).toEqual([50_000, -50_000]);
});

test('drawn net with a seam line within is a warning, drawn cut is not', () => {
  const outline = lightPolyline('1', [
    [0, 0],
    [100, 0],
    [100, 200],
    [0, 200],
  ]);
  const seam = lightPolyline('14', [
    [10, 10],
    [90, 10],
    [90, 190],
  ]);
  const file = dxfFile(millimetres, section('BLOCKS', block('P', outline, seam, line('7', [50, 10], [50, 90]))));
  const warnings = (drawn: string) =>
    read('  P: {dxf: {file: p.dxf}, cut: {shell: 1}, allowance: 1}', { 'p.dxf': file }, drawn).notices.filter(
      ({ severity }) => severity === 'warning',
    );
  expect(
    warnings('net')
      .map(({ what }) => what)
      .join(),
  ).toContain('seam line');
  expect(warnings('cut')).toEqual([]);
});

test.each([
  ['no such file', '{file: x.dxf}', 'it was not read'],
  ['no such piece', '{file: locker-bag.dxf, piece: Boddy}', 'did you mean "Body"'],
  ['which of them', '{file: locker-bag.dxf}', 'it has 3 pieces (name one of: Body, Pocket, Tab)'],
  ['broken', '{file: broken.dxf}', 'broken.dxf:1: found "no"'],
  ['an open line', '{file: open.dxf}', '100 mm apart'],
  ['a key of SVG', '{file: locker-bag.dxf, id: Body}', 'unknown key "id"'],
])('%s', (_, shape, expected) => {
  const open = lightPolyline(
    '1',
    [
      [0, 0],
      [100, 100],
      [0, 100],
    ],
    false,
  );
  const files = { ...locker, 'broken.dxf': 'no\ndrawing\n', 'open.dxf': dxfFile(section('BLOCKS', block('P', open))) };
  expect(() => read(`  P: {dxf: ${shape}, cut: {shell: 1}, grain: A-B, allowance: 1}`, files)).toThrow(expected);
});
