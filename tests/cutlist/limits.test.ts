/** The largest cut list that is read: each limit answers with a sentence that names it; what is just within is read. */
import { describe, expect, test } from 'vitest';
import { limits } from '../../src/cutlist/limits.js';
import { readCutList } from '../../src/cutlist/read.js';
import { block, dxfFile, lightPolyline, line, millimetres, point, section, text } from '../support/dxf.js';

const square = 'rectangle: [10, 10], cut: {shell: 1}';

function read(pieces: string, more = '', files: Readonly<Record<string, string>> = {}) {
  const drawings = new Map(Object.entries(files).map(([name, value]) => [name, { ok: true as const, value }]));
  const list = `title: T\nunits: cm\ndrawn: cut\npieces:\n${pieces}\ncloths:\n  c: {for: shell, width: 150, usable: 147}\n${more}`;
  return readCutList(list, 'list.yaml', drawings);
}

/** What is told of a list, faults and notices. */
function told(pieces: string, more = '', files: Readonly<Record<string, string>> = {}): string[] {
  const answer = read(pieces, more, files);
  return (answer.ok ? answer.value.notices : answer.faults).map(({ code, what }) => `${code}: ${what}`);
}

function many(count: number, item: (i: number) => string): string {
  return Array.from({ length: count }, (_, i) => item(i)).join(', ');
}

/** A comb with so many corners along its lower edge. */
function comb(corners: number): (readonly [number, number])[] {
  const teeth = Array.from({ length: corners - 2 }, (_, i): [number, number] => [i, i % 2]);
  return [...teeth, [corners - 3, 100], [0, 100]];
}

describe('so many and no more', () => {
  const outline = (corners: number) =>
    `outline: {${many(
      corners,
      (i) =>
        `C${i}: [${comb(corners)
          [i]!.map((cm) => cm / 10)
          .join(', ')}]`,
    )}}, grain: C0-C${corners - 1}, cut: {shell: 1}`;

  test('corners of an outline', () => {
    expect(read(`  P: {${outline(limits.corners)}}`).ok).toBe(true);
    expect(told(`  P: {${outline(limits.corners + 1)}}`)[0]).toBe('too-many: found 501 corners, at most 500 are read');
  });

  test('points of all pieces together', () => {
    const like = Array.from({ length: 60 }, (_, i) => `  Q${i}: {like: P}\n`).join('');
    expect(told(`  P: {${outline(limits.corners)}}\n${like}`)).toEqual([
      'too-many: found 30500 points in all pieces together, at most 30000 are read',
    ]);
  });

  test('notches, match points, awl points, seams', () => {
    const marked = (marks: string, more = '') => told(`  P: {${square}, ${marks}}`, more);
    const notches = (count: number) => marked(`notches: [${many(count, () => '{edge: A-B, at: 5}')}]`);
    const match = (count: number) => marked(`match: [${many(count, () => '{point: [5, 5], group: hip}')}]`);
    const awl = (count: number) => marked(`awl: [${many(count, () => '[5, 5]')}]`);
    const seams = (count: number) =>
      marked('allowance: 0', `seams: [${many(count, () => '{join: [P A-B, P C-D]}')}]\n`);
    expect(notches(501)[0]).toBe('too-many: found 501 notches, at most 500 are read');
    expect(match(501)[0]).toBe('too-many: found 501 match points, at most 500 are read');
    expect(awl(501)[0]).toBe('too-many: found 501 awl points, at most 500 are read');
    expect(seams(501)[0]).toBe('too-many: found 501 seams, at most 500 are read');
    for (const within of [notches(500), match(500), awl(500), seams(500)])
      expect(within.filter((sentence) => sentence.startsWith('too-many'))).toEqual([]);
  });

  test('characters of a text', () => {
    expect(told(`  P: {${square}, note: ${'x'.repeat(501)}}`)[0]).toBe(
      'wrong-value: found 501 characters, expected a note of at most 500',
    );
    expect(told(`  P: {${square}, note: ${'x'.repeat(500)}}`)).toEqual([]);
  });
});

describe('slips that are told where they are', () => {
  const drawn = 'outline: {A: [0, 0], B: [10, 0], C: [10, 10], D: [0, 10]}, grain: A-D, cut: {shell: 1}';

  test('two points of a curve on the same spot', () => {
    const sentence = 'curve-points-alike: two points of the curve lie on the same spot';
    const curve = (points: string) => told(`  P: {${drawn}, curves: {B-C: {through: ${points}}}}`);
    expect(curve('[[12, 5], [12, 5]]')).toEqual([sentence]);
    expect(curve('[[10, 0], [12, 5]]')).toEqual([sentence]);
    expect(curve('[[12, 5], [10, 10]]')).toEqual([sentence]);
    expect(curve('[[12, 3], [12, 7]]')).toEqual([]);
  });

  test('an edge from a corner to itself', () => {
    expect(told(`  P: {${drawn}, notches: [{edge: A-A, at: 1}]}`)).toEqual([
      'bad-edge: "A-A" begins and ends at one corner',
    ]);
  });

  test('an allowance that is a list', () => {
    expect(told(`  P: {${drawn}, allowance: [1, 2]}`)[0]).toMatch(
      /^wrong-value: found .*, expected a length or \{all: 1, A-B: 3\}$/,
    );
  });

  test('a usable width of three numbers', () => {
    const answer = readCutList(
      `title: T\nunits: cm\ndrawn: cut\npieces:\n  P: {${square}}\ncloths:\n  c: {for: shell, width: 150, usable: [1, 2, 3]}\n`,
      'list.yaml',
    );
    expect(answer.ok ? [] : answer.faults.map(({ what }) => what)[0]).toMatch(/a usable width, or \[from, to\]/);
  });
});

describe('drawings', () => {
  const said = [text('Quantity: 1'), text('Material: shell')];
  const ring = [
    [0, 0],
    [100, 0],
    [100, 200],
    [0, 200],
  ] as const;
  const grain = line('7', [50, 10], [50, 90]);
  const file = (...inside: Parameters<typeof block>[1][]) =>
    dxfFile(millimetres, section('BLOCKS', block('P', ...inside)));
  const of = (dxf: string, more = '') => told(`  P: {dxf: {file: p.dxf}${more}}`, '', { 'p.dxf': dxf });

  test('so many corners and no more', () => {
    expect(of(file(...said, grain, lightPolyline('1', comb(501))))).toContain(
      'too-many: found 501 corners, at most 500 are read',
    );
  });

  test('inner lines of so many points are left out, and told', () => {
    const zigzag = lightPolyline(
      '8',
      Array.from({ length: 3_001 }, (_, i) => [20 + (i % 2) * 10, 20 + i / 20] as const),
      false,
    );
    const all = of(file(...said, grain, zigzag, lightPolyline('1', ring)));
    expect(all).toContain('drawing-doubt: p.dxf: its inner lines have 3001 points, so they were left out');
  });

  test('what may be wrong with a piece, and once what is with the file', () => {
    const solid = [
      [0, 'SOLID'],
      [8, '1'],
    ] as const;
    const two = dxfFile(
      millimetres,
      section(
        'BLOCKS',
        block('P', ...said, grain, line('7', [20, 10], [20, 90]), solid, lightPolyline('1', ring)),
        block('Q', ...said, grain, lightPolyline('1', ring)),
      ),
    );
    const doubts = told('  P: {dxf: {file: p.dxf, piece: P}}\n  Q: {dxf: {file: p.dxf, piece: Q}}', '', {
      'p.dxf': two,
    }).filter((each) => each.startsWith('drawing-doubt'));
    expect(doubts).toEqual([
      'drawing-doubt: p.dxf: 1 of kind SOLID were not read',
      'drawing-doubt: p.dxf: it has 2 grain lines: the first was taken',
    ]);
  });

  test('one that does not say how many', () => {
    expect(of(file(grain, lightPolyline('1', ring)))[0]).toMatch(/^cut-missing/);
    expect(of(file(grain, lightPolyline('1', ring)), ', cut: {shell: 1}').some((each) => /^cut/.test(each))).toBe(
      false,
    );
  });

  test('a mirror line along several edges in line is the fold, drawn from either end', () => {
    const split = [
      [0, 0],
      [0, 80],
      [0, 200],
      [100, 200],
      [100, 0],
    ] as const;
    for (const mirror of [line('6', [0, 0], [0, 200]), line('6', [0, 200], [0, 0])]) {
      const answer = read('  P: {dxf: {file: p.dxf}, cut: {shell: 1 on fold}}', '', {
        'p.dxf': file(grain, mirror, ...split.map((corner) => point('2', corner)), lightPolyline('1', split)),
      });
      if (!answer.ok) throw new Error(answer.faults[0]!.what);
      expect(answer.value.pieces[0]!.fold!.value.edges).toHaveLength(2);
    }
  });

  test('a mirror line from corner to corner across the piece is none', () => {
    const answer = read('  P: {dxf: {file: p.dxf}, cut: {shell: 1}}', '', {
      'p.dxf': file(grain, line('6', [0, 0], [100, 200]), lightPolyline('1', ring)),
    });
    if (!answer.ok) throw new Error(answer.faults[0]!.what);
    expect(answer.value.pieces[0]!.fold).toBeNull();
    expect(answer.value.notices.some(({ what }) => what.includes('mirror line is no edge'))).toBe(true);
  });
});
