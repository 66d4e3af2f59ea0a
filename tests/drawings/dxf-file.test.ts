/** Group codes and entities as the DXF reference of any general drawing program lists them; from memory. */
import { describe, expect, test } from 'vitest';
import { type DxfDrawing, readDxfFile } from '../../src/drawings/dxf-file.js';
import { isCounterClockwise } from '../../src/geometry/outline.js';
import type { Point } from '../../src/units/types.js';
import {
  block,
  dxfFile,
  dxfText,
  type Groups,
  insert,
  lightPolyline,
  line,
  millimetres,
  oldPolyline,
  point,
  section,
  text,
  type V,
} from '../support/dxf.js';

function read(file: string, layer: string | null = null, scale = 1): DxfDrawing {
  const drawing = readDxfFile(file, layer, scale);
  if ('problem' in drawing) throw new Error(`${drawing.line}: ${drawing.problem}`);
  return drawing;
}

function problem(file: string): string {
  const drawing = readDxfFile(file);
  return 'problem' in drawing ? `${drawing.line}: ${drawing.problem}` : `read: ${drawing.pieces.length} pieces`;
}

/** The only piece of a drawing of these entities. */
function only(...entities: readonly Groups[]) {
  const { pieces, doubts } = read(dxfFile(millimetres, section('ENTITIES', ...entities)));
  expect([pieces.length, doubts]).toEqual([1, []]);
  return pieces[0]!;
}

function ring({ edges }: { readonly edges: readonly { readonly points: readonly Point[] }[] }): Point[] {
  return edges.flatMap(({ points }) => points.slice(0, -1));
}

function lengthOf(points: readonly Point[]): number {
  return points.reduce((sum, [x, y], i) => {
    const [px, py] = points[i === 0 ? points.length - 1 : i - 1]!;
    return sum + Math.hypot(x - px, y - py);
  }, 0);
}

function areaOf(points: readonly Point[]): number {
  return points.reduce((sum, [x, y], i) => {
    const [nx, ny] = points[(i + 1) % points.length]!;
    return sum + (x * ny - nx * y) / 2;
  }, 0);
}

const wedge: readonly V[] = [
  [0, 0],
  [200, 0],
  [240, 300],
  [50, 300],
];
const wedgeUm = wedge.map(([x, y]) => [x * 1000, y * 1000]);

describe('a flat drawing', () => {
  test.each([
    ['light polyline', lightPolyline('CUT', wedge)],
    ['old polyline', oldPolyline('CUT', wedge)],
    [
      'loose lines in any order and direction',
      [0, 2, 1, 3].flatMap((i) => {
        const [from, to] = [wedge[i]!, wedge[(i + 1) % 4]!];
        return i % 2 === 0 ? line('CUT', from, to) : line('CUT', to, from);
      }),
    ],
    ['an open polyline that comes back to its start', lightPolyline('CUT', [...wedge, wedge[0]!], false)],
  ])('%s', (_, entities) => {
    const piece = only(entities);
    expect(piece.name).toBe('CUT');
    expect(ring(piece)).toEqual(wedgeUm);
  });

  test('ends that lie 0.03 mm apart meet, those 0.2 mm apart do not', () => {
    const open = (gap: number) => lightPolyline('CUT', [[gap, 0], ...wedge.slice(1), [0, 0]], false);
    expect(ring(only(open(0.03))).length).toBe(4);
    expect(read(dxfFile(section('ENTITIES', open(0.2)))).pieces).toEqual([]);
  });

  test('several lines are several pieces, by layer or number', () => {
    const { pieces } = read(
      dxfFile(
        section('ENTITIES', lightPolyline('Bib', wedge), lightPolyline('Tie', wedge), lightPolyline('Tie', wedge)),
      ),
    );
    expect(pieces.map(({ name }) => name)).toEqual(['Bib', 'Tie', 'Tie 2']);
  });

  test('only the layer asked for', () => {
    const file = dxfFile(section('ENTITIES', lightPolyline('Bib', wedge), lightPolyline('Notes', wedge)));
    expect(read(file, 'Bib').pieces.map(({ name }) => name)).toEqual(['Bib']);
  });

  test('blocks are opened where they are inserted: moved, turned, mirrored, enlarged', () => {
    const blocks = section('BLOCKS', block('Sail', lightPolyline('CUT', wedge)));
    const at = (more: Groups) => read(dxfFile(blocks, section('ENTITIES', insert('Sail', 10, 20, more)))).pieces[0]!;
    expect(ring(at([]))).toEqual(wedge.map(([x, y]) => [x * 1000 + 10_000, y * 1000 + 20_000]));
    expect(at([]).name).toBe('Sail');
    expect(ring(at([[50, 90]]))).toEqual(wedge.map(([x, y]) => [10_000 - y * 1000, x * 1000 + 20_000]));
    const mirrored = at([
      [41, -2],
      [42, 2],
    ]);
    expect(ring(mirrored)).toEqual(wedge.map(([x, y]) => [10_000 - 2000 * x, 2000 * y + 20_000]));
    expect(isCounterClockwise(ring(mirrored))).toBe(false);
    const uneven = insert('Sail', 0, 0, [
      [41, 2],
      [42, 1],
    ]);
    const drawing = read(dxfFile(blocks, section('ENTITIES', uneven)));
    expect(drawing.pieces).toEqual([]);
    expect(drawing.doubts.join()).toContain('unequal scales');
  });
});

describe('curves', () => {
  test('a bulge of 1 is a half circle, to the right of its chord', () => {
    const piece = only(
      lightPolyline('0', [
        [0, 0, 1],
        [100, 0, 0],
        [100, 100],
        [0, 100],
      ]),
    );
    expect(Math.min(...ring(piece).map(([, y]) => y))).toBe(-50_000);
    expect(areaOf(ring(piece))).toBeCloseTo(1e10 + (Math.PI * 50_000 ** 2) / 2, -7);
    // The half circle runs into both sides smoothly, and yet is an edge of its own.
    expect(piece.edges.map(({ curved }) => curved)).toEqual([true, false, false, false]);
  });

  test('a mirrored bulge bends the mirrored way', () => {
    const blocks = section(
      'BLOCKS',
      block(
        'B',
        lightPolyline('x', [
          [0, 0, 1],
          [100, 0],
          [100, 100],
          [0, 100],
        ]),
      ),
    );
    const placed = insert('B', 0, 0, [
      [41, -1],
      [42, 1],
    ]);
    const piece = read(dxfFile(blocks, section('ENTITIES', placed))).pieces[0]!;
    expect(Math.min(...ring(piece).map(([, y]) => y))).toBe(-50_000);
    expect(Math.abs(areaOf(ring(piece)))).toBeCloseTo(1e10 + (Math.PI * 50_000 ** 2) / 2, -7);
  });

  test('circle: 2 pi r within 0.01 %, counter-clockwise', () => {
    const piece = only([
      [0, 'CIRCLE'],
      [8, '0'],
      [10, 500],
      [20, 500],
      [40, 300],
    ]);
    expect(lengthOf(ring(piece)) / (2 * Math.PI * 300_000)).toBeCloseTo(1, 4);
    expect(areaOf(ring(piece)) / (Math.PI * 300_000 ** 2)).toBeCloseTo(1, 3);
  });

  test('ellipse: area pi a b within 0.1 %', () => {
    const piece = only([
      [0, 'ELLIPSE'],
      [8, '0'],
      [10, 0],
      [20, 0],
      [11, 0],
      [21, 200],
      [40, 0.5],
      [41, 0],
      [42, 2 * Math.PI],
    ]);
    expect(areaOf(ring(piece)) / (Math.PI * 200_000 * 100_000)).toBeCloseTo(1, 3);
    expect(Math.max(...ring(piece).map(([, y]) => y))).toBe(200_000);
  });

  test('an arc over 0 degrees joins its chord', () => {
    const arc: Groups = [
      [0, 'ARC'],
      [8, '0'],
      [10, 0],
      [20, 0],
      [40, 100],
      [50, 270],
      [51, 90],
    ];
    const piece = only(arc, line('0', [0, 100], [0, -100]));
    expect(areaOf(ring(piece))).toBeCloseTo((Math.PI * 100_000 ** 2) / 2, -7);
    expect(piece.edges.length).toBe(2);
  });

  /** A clamped cubic without inner knots is a Bezier curve: (0,0) (0,100) (100,100) (100,0); area 0.6 x 100 x 100. */
  test('spline: a cubic without inner knots', () => {
    const knots = [0, 0, 0, 0, 1, 1, 1, 1].map((knot) => [40, knot] as const);
    const controls = [
      [0, 0],
      [0, 100],
      [100, 100],
      [100, 0],
    ].flatMap(
      ([x, y]): Groups => [
        [10, x!],
        [20, y!],
      ],
    );
    const piece = only([[0, 'SPLINE'], [8, '0'], [70, 8], [71, 3], ...knots, ...controls], line('0', [100, 0], [0, 0]));
    expect(Math.abs(areaOf(ring(piece)))).toBeCloseTo(0.6e10, -7);
    expect(Math.max(...ring(piece).map(([, y]) => y))).toBe(75_000);
  });

  /** Piegl and Tiller, The NURBS Book, section 7.5 (from memory): quarter circle with weights 1, 1/sqrt 2, 1. */
  test('spline: a rational quadratic is a true quarter circle', () => {
    const knots = [0, 0, 0, 1, 1, 1].map((knot) => [40, knot] as const);
    const weights = [1, Math.SQRT1_2, 1].map((weight) => [41, weight] as const);
    const controls = [
      [100, 0],
      [100, 100],
      [0, 100],
    ].flatMap(
      ([x, y]): Groups => [
        [10, x!],
        [20, y!],
      ],
    );
    const spline: Groups = [[0, 'SPLINE'], [8, '0'], [70, 12], [71, 2], ...knots, ...weights, ...controls];
    const piece = only(spline, line('0', [0, 100], [0, 0]), line('0', [0, 0], [100, 0]));
    for (const { points, curved } of piece.edges) {
      if (!curved) continue;
      for (const [x, y] of points) expect(Math.abs(Math.hypot(x, y) - 100_000)).toBeLessThan(1.5);
    }
    expect(areaOf(ring(piece))).toBeCloseTo((Math.PI * 100_000 ** 2) / 4, -7);
  });

  /** Cox and de Boor: a uniform quadratic is made of parabolas that touch the middles of its frame's sides. */
  test('spline: inner knots', () => {
    const knots = [0, 0, 0, 1, 2, 2, 2].map((knot) => [40, knot] as const);
    const controls = [
      [0, 0],
      [0, 100],
      [100, 100],
      [100, 0],
    ].flatMap(
      ([x, y]): Groups => [
        [10, x!],
        [20, y!],
      ],
    );
    const piece = only([[0, 'SPLINE'], [8, '0'], [70, 8], [71, 2], ...knots, ...controls], line('0', [100, 0], [0, 0]));
    expect(ring(piece)).toContainEqual([50_000, 100_000]);
  });

  test.each([
    [
      'knots that do not fit',
      [
        [71, 3],
        [40, 0],
        [40, 1],
        [10, 0],
        [20, 0],
        [10, 1],
        [20, 1],
        [10, 2],
        [20, 2],
        [10, 3],
        [20, 0],
      ],
    ],
    [
      'too few control points',
      [
        [71, 3],
        [10, 0],
        [20, 0],
        [10, 1],
        [20, 1],
      ],
    ],
  ] as [string, Groups][])('spline with %s is passed over', (_, groups) => {
    const drawing = read(dxfFile(section('ENTITIES', [[0, 'SPLINE'], [8, '0'], ...groups])));
    expect(drawing.pieces).toEqual([]);
    expect(drawing.doubts.join()).toContain('spline');
  });

  test('a spline given by points it goes through', () => {
    const through = [
      [0, 0],
      [50, 80],
      [100, 0],
    ].flatMap(
      ([x, y]): Groups => [
        [11, x!],
        [21, y!],
      ],
    );
    const piece = only([[0, 'SPLINE'], [8, '0'], [71, 3], ...through], line('0', [100, 0], [0, 0]));
    expect(ring(piece)).toContainEqual([50_000, 80_000]);
  });
});

describe('corners', () => {
  const rounded: readonly V[] = Array.from(
    { length: 19 },
    (_, i) => [100 * Math.cos((i * Math.PI) / 36), 100 * Math.sin((i * Math.PI) / 36)] as const,
  );

  test('where the line turns by more than 10 degrees', () => {
    const piece = only(lightPolyline('0', [[0, 0], ...rounded]));
    expect(piece.edges.map(({ points, curved }) => [points.length, curved])).toEqual([
      [2, false],
      [19, true],
      [2, false],
    ]);
  });

  test('or where the drawing names them', () => {
    const named = [rounded[0]!, rounded[9]!, [0, 0] as const].map((at) => point('2', at));
    const blocks = section('BLOCKS', block('P', lightPolyline('1', [[0, 0], ...rounded]), ...named));
    const [piece] = read(dxfFile(blocks)).pieces;
    expect(piece!.edges.map(({ points }) => points.length)).toEqual([2, 10, 11]);
  });
});

describe('a block for each piece, layers by number', () => {
  const bib = block(
    'B1',
    text('Piece Name: Bib'),
    text('Size: M'),
    text('Quantity: 2'),
    text('Material: shell'),
    text('Annotation: cut 1 pair'),
    lightPolyline('1', wedge),
    lightPolyline('14', [
      [10, 10],
      [180, 10],
      [100, 200],
    ]),
    line('7', [100, 20], [100, 250]),
    line('6', [0, 0], [200, 0]),
    point('4', [100, 0]),
    line('80', [50, 0], [50, 5]),
    point('13', [120, 150]),
    [
      [0, 'CIRCLE'],
      [8, '13'],
      [10, 60],
      [20, 70],
      [40, 2],
    ],
    line('8', [20, 20], [180, 20]),
  );
  const tie = block('Tie', oldPolyline('1', wedge));
  const file = dxfFile(
    section('BLOCKS', bib, tie),
    section('ENTITIES', text('UNITS: METRIC', '1'), insert('B1', 5000, 0)),
  );

  test('everything on its layer', () => {
    const { pieces, unitsFrom, mmPerUnit } = read(file);
    expect([unitsFrom, mmPerUnit]).toEqual(['text', 1]);
    expect(pieces.map(({ name }) => name)).toEqual(['Bib', 'Tie']);
    const [piece] = pieces;
    expect(ring(piece!)).toEqual(wedgeUm);
    expect(piece!.alsoCalled).toContain('B1');
    expect(piece!.grain).toEqual([
      [100_000, 20_000],
      [100_000, 250_000],
    ]);
    expect(piece!.mirrorLine).toEqual([
      [0, 0],
      [200_000, 0],
    ]);
    expect(piece!.notches).toEqual([
      [[100_000, 0]],
      [
        [50_000, 0],
        [50_000, 5_000],
      ],
    ]);
    expect(piece!.awl).toEqual([
      [120_000, 150_000],
      [60_000, 70_000],
    ]);
    expect(piece!.inner.length).toBe(1);
    expect(piece!.said).toMatchObject({ size: 'M', quantity: '2', material: 'shell', annotations: ['cut 1 pair'] });
    expect(piece!.hasSeamLine).toBe(true);
  });

  test('units in the header, in a line of text, or nowhere', () => {
    const header = (code: number) =>
      section('HEADER', [
        [9, '$INSUNITS'],
        [70, code],
      ]);
    const outline = section(
      'ENTITIES',
      lightPolyline('a', [
        [0, 0],
        [1, 0],
        [0, 1],
      ]),
    );
    const width = (...sections: readonly Groups[]) => {
      const drawing = read(dxfFile(...sections));
      return [Math.max(...ring(drawing.pieces[0]!).map(([x]) => x)), drawing.unitsFrom];
    };
    expect(width(header(1), outline)).toEqual([25_400, 'header']);
    expect(width(header(5), outline)).toEqual([10_000, 'header']);
    expect(width(header(0), outline)).toEqual([1_000, null]);
    expect(width(outline)).toEqual([1_000, null]);
    const english = section(
      'ENTITIES',
      text('Units: ENGLISH', '1'),
      lightPolyline('1', [
        [0, 0],
        [1, 0],
        [0, 1],
      ]),
    );
    expect(width(english)).toEqual([25_400, 'text']);
    expect(read(dxfFile(header(5), english)).doubts.join()).toContain('units line');
    expect(Math.max(...ring(read(dxfFile(outline), null, 2.5).pieces[0]!).map(([x]) => x))).toBe(2_500);
  });

  test('no closed outline: says how far its ends are apart', () => {
    const open = block('Bib', lightPolyline('1', [...wedge, [3, 4]], false));
    expect(read(dxfFile(section('BLOCKS', open))).doubts.join()).toContain('5 mm apart');
  });
});

describe('the text of the file', () => {
  test('CRLF, comments, no blanks, letters written as codes', () => {
    const plain = dxfFile(millimetres, section('BLOCKS', block('Gr\\U+00F6\\U+00DFe', lightPolyline('1', wedge))));
    const other = `999\r\nmade by hand\r\n${plain.replace(/\n */g, '\r\n').trimStart()}`;
    for (const each of [plain, other]) {
      expect(read(each).pieces[0]!.name).toBe('Größe');
      expect(ring(read(each).pieces[0]!)).toEqual(wedgeUm);
    }
  });

  test('without its last lines it is read all the same', () => {
    const whole = dxfFile(section('ENTITIES', lightPolyline('1', wedge)));
    expect(read(whole.replace('  0\nEOF\n', '')).pieces.length).toBe(1);
  });

  test.each([
    ['', '1: it holds nothing'],
    ['hello\nworld\n', '1: found "hello" where the number of a group should be'],
    ['  0\nSECTION\n  2', '3: it ends after the number 2, without a value'],
    ['  0\nLINE\n', '2: it does not begin with a section'],
    ['a\0b', '1: it is binary'],
    [
      dxfText([
        [0, 'SECTION'],
        [2, 'ENTITIES'],
        [0, 'CIRCLE'],
        [10, 'far'],
      ]),
      '8: found "far" where a number should be',
    ],
    [
      dxfText([
        [0, 'SECTION'],
        [2, 'ENTITIES'],
        [0, 'CIRCLE'],
        [40, 'NaN'],
      ]),
      '8: found "NaN"',
    ],
  ])('%j', (file, expected) => {
    expect(problem(file)).toContain(expected);
  });

  test('what is not read is counted', () => {
    const drawing = read(
      dxfFile(
        section(
          'ENTITIES',
          [
            [0, 'HATCH'],
            [8, '1'],
          ],
          lightPolyline('1', wedge),
        ),
      ),
    );
    expect(drawing.doubts).toContain('1 of kind HATCH were not read');
  });
});

/** Where a drawing is read otherwise than it was meant, it says so; from a strict reading of the format. */
describe('what is easily read wrongly', () => {
  const flat = (...entities: readonly Groups[]) => read(dxfFile(millimetres, section('ENTITIES', ...entities)));
  const onBack: Groups = [[230, -1]];

  test('drawn on the back of the paper: polylines, arcs and insertions count x the other way', () => {
    const line230 = [...lightPolyline('a', wedge), ...onBack];
    expect(ring(flat(line230).pieces[0]!)).toEqual(wedge.map(([x, y]) => [0 - x * 1000, y * 1000]));
    // A half circle from (0, -50) over (50, 0) to (0, 50), said from behind: over 90 to 270 degrees about 0.
    const arc: Groups = [[0, 'ARC'], [8, 'a'], [10, 0], [20, 0], [40, 50], [50, 90], [51, 270], ...onBack];
    const { pieces } = flat(arc, line('a', [0, 50], [0, -50]));
    expect(Math.max(...ring(pieces[0]!).map(([x]) => x))).toBe(50_000);
    const blocks = section('BLOCKS', block('b', lightPolyline('a', wedge)));
    const placed = read(dxfFile(millimetres, blocks, section('ENTITIES', insert('b', 10, 20, onBack)))).pieces[0]!;
    expect(ring(placed)).toEqual(wedge.map(([x, y]) => [-10_000 - x * 1000, 20_000 + y * 1000]));
  });

  test('an insertion of 3 columns and 2 rows draws six pieces', () => {
    const blocks = section('BLOCKS', block('b', lightPolyline('a', wedge)));
    const many = insert('b', 0, 0, [
      [70, 3],
      [71, 2],
      [44, 500],
      [45, 400],
    ]);
    const { pieces } = read(dxfFile(millimetres, blocks, section('ENTITIES', many)));
    expect(pieces.map((piece) => ring(piece)[0])).toEqual(
      [0, 400].flatMap((y) => [0, 500, 1000].map((x) => [1000 * x, 1000 * y])),
    );
  });

  test('what lies on layer 0 of a block lies on the layer of its insertion', () => {
    const blocks = section('BLOCKS', block('b', lightPolyline('0', wedge)));
    const placed = [...insert('b')].map(([code, value]) =>
      code === 8 ? ([8, '1'] as const) : ([code, value] as const),
    );
    expect(read(dxfFile(blocks, section('ENTITIES', placed))).pieces[0]!.layer).toBe('1');
  });

  test('a piece drawn directly beside blocks of pieces is a piece too', () => {
    const blocks = section('BLOCKS', block('B', lightPolyline('1', wedge)));
    const { pieces } = read(dxfFile(blocks, section('ENTITIES', insert('B'), lightPolyline('1', wedge))));
    expect(pieces.map(({ name }) => name)).toEqual(['B', '1']);
  });

  test.each([
    [
      'an open line beside a closed one',
      [
        lightPolyline('1', wedge),
        lightPolyline(
          '1',
          [
            [0, 0],
            [9, 9],
            [9, 0],
          ],
          false,
        ),
      ],
      '1 lines on its boundary layer do not close',
    ],
    ['a mirrored insertion of a piece', [insert('B', 0, 0, [[41, -1]])], 'inserted mirrored'],
    ['one of unequal scales', [insert('B', 0, 0, [[41, 2]])], 'inserted with unequal scales'],
    [
      'two of different scales',
      [
        insert('B'),
        insert('B', 0, 0, [
          [41, 2],
          [42, 2],
        ]),
      ],
      'at several scales',
    ],
  ] as [string, Groups[], string][])('%s is told', (_, entities, said) => {
    const blocks = section('BLOCKS', block('B', lightPolyline('1', wedge)));
    expect(read(dxfFile(blocks, section('ENTITIES', ...entities))).doubts.join()).toContain(said);
  });

  test('one line that nearly comes back is closed: a spline, an ellipse over 6.28318, closed points', () => {
    const ellipse: Groups = [
      [0, 'ELLIPSE'],
      [8, 'a'],
      [10, 0],
      [20, 0],
      [11, 100],
      [21, 0],
      [40, 0.5],
      [41, 0],
      [42, 6.28318],
    ];
    const points = [
      [0, 0],
      [50, 80],
      [100, 0],
    ].flatMap(
      ([x, y]): Groups => [
        [11, x!],
        [21, y!],
      ],
    );
    const through: Groups = [[0, 'SPLINE'], [8, 'b'], [70, 1], [71, 3], ...points];
    expect(flat(ellipse, through).pieces.map(({ name }) => name)).toEqual(['a', 'b']);
  });

  test('points that lie on each other make no edge', () => {
    const twice: readonly V[] = [
      [0, 0],
      [100, 0, 0.3],
      [100.0001, 0],
      [100, 100],
      [0, 100],
      [0, 0.03],
    ];
    for (const { points } of flat(lightPolyline('a', twice)).pieces[0]!.edges) {
      for (const [i, point] of points.slice(1).entries()) expect(point).not.toEqual(points[i]);
    }
  });

  test('steps of a micrometre are no corners', () => {
    const stepped: readonly V[] = [
      [0, 0],
      [100, 0],
      [100.001, 0.001],
      [200, 0.001],
      [200, 100],
      [0, 100],
    ];
    expect(flat(lightPolyline('a', stepped)).pieces[0]!.edges.length).toBe(4);
  });

  test('no layer, and units that are no units', () => {
    expect(flat(lightPolyline('', wedge)).pieces[0]!.name).toBe('Piece');
    const { unitsFrom, pieces } = read(
      dxfFile(section('ENTITIES', text('Units: constructor'), lightPolyline('a', wedge))),
    );
    expect([unitsFrom, pieces.length]).toEqual([null, 1]);
  });
});

/** Files made to harm: each is answered, none takes long (work is limited by count, not by a clock). */
describe('hostile files', () => {
  test('blocks that insert each other 2^20 times', () => {
    const nested = Array.from({ length: 20 }, (_, i) =>
      block(`b${i}`, ...(i === 19 ? [lightPolyline('z', wedge)] : [insert(`b${i + 1}`), insert(`b${i + 1}`, 1)])),
    );
    const drawing = read(dxfFile(section('BLOCKS', ...nested), section('ENTITIES', insert('b0'))));
    expect(drawing.pieces.length).toBeLessThan(5_001);
  });

  test('a block that inserts itself', () => {
    const blocks = section('BLOCKS', block('a', insert('a'), lightPolyline('1', wedge)));
    expect(read(dxfFile(blocks, section('ENTITIES', insert('a')))).pieces.length).toBe(1);
  });

  test.each([
    ['1e308', 1e308],
    ['-1e308', -1e308],
    ['1e-320', 1e-320],
  ])('%s as coordinate, bulge, radius, scale, knot and weight', (_, value) => {
    const knots = [0, 0, 0, 0, value, value, value, value].map((knot) => [40, knot] as const);
    const entities: Groups[] = [
      lightPolyline('1', [
        [value, 0],
        [1, value],
        [0, 1],
      ]),
      lightPolyline('1', [
        [0, 0, value],
        [100, 0, value],
        [0, 100],
      ]),
      [
        [0, 'CIRCLE'],
        [8, '1'],
        [10, value],
        [20, 0],
        [40, value],
      ],
      [
        [0, 'ARC'],
        [8, '1'],
        [10, 0],
        [20, 0],
        [40, 100],
        [50, value],
        [51, value],
      ],
      [
        [0, 'ELLIPSE'],
        [8, '1'],
        [10, 0],
        [20, 0],
        [11, value],
        [21, value],
        [40, value],
        [41, value],
        [42, value],
      ],
      [
        [0, 'SPLINE'],
        [8, '1'],
        [71, 3],
        ...knots,
        [41, value],
        [10, 0],
        [20, 0],
        [10, value],
        [20, 1],
        [10, 2],
        [20, 2],
        [10, 3],
        [20, 0],
      ],
      insert('b', value, value, [
        [41, value],
        [42, value],
        [50, value],
      ]),
    ];
    for (const each of entities) {
      const blocks = section('BLOCKS', block('b', lightPolyline('z', wedge)));
      const { pieces } = read(dxfFile(blocks, section('ENTITIES', each)));
      for (const piece of pieces) {
        for (const [x, y] of ring(piece))
          expect([Number.isSafeInteger(x), Number.isSafeInteger(y)]).toEqual([true, true]);
      }
    }
  });

  test('100 000 vertices, 20 000 loose lines, a million blank lines', () => {
    const many = Array.from({ length: 100_000 }, (_, i): V => [i % 317, (i * 7) % 311]);
    expect(read(dxfFile(section('ENTITIES', lightPolyline('1', many)))).pieces.length).toBe(1);
    expect(
      problem(
        dxfText([[0, 'SECTION'], [2, 'ENTITIES'], ...Array.from({ length: 150_000 }, () => [0, 'LINE'] as const)]),
      ),
    ).toContain('more than 50000 entities');
    const star = Array.from({ length: 20_000 }, (_, i) => line('1', [0, 0], [100, i / 10]));
    expect(read(dxfFile(section('ENTITIES', ...star))).pieces).toEqual([]);
    const many2 = Array.from({ length: 4_000 }, (_, i) => `b${i}`);
    const blocks = section(
      'BLOCKS',
      ...many2.map((name) => block(name, text('Piece Name: Same'), lightPolyline('1', wedge))),
    );
    expect(read(dxfFile(blocks, section('ENTITIES', ...many2.map((name) => insert(name))))).pieces.length).toBe(4_000);
    const far = Array.from(
      { length: 20_000 },
      (): Groups => [
        [0, 'ELLIPSE'],
        [8, '1'],
        [11, 1e30],
        [40, 1],
      ],
    );
    expect(read(dxfFile(section('ENTITIES', ...far))).pieces).toEqual([]);
    const kinds = Array.from({ length: 20_000 }, (_, i): Groups => [[0, `KIND${i}`]]);
    expect(read(dxfFile(section('ENTITIES', ...kinds))).doubts.length).toBeLessThan(50);
    const loose = Array.from({ length: 20_000 }, (_, i) => line('1', [i, 0], [i + 1, 0]));
    expect(read(dxfFile(section('ENTITIES', ...loose))).pieces).toEqual([]);
    expect(problem('\n'.repeat(1_000_000))).toContain('holds nothing');
    expect(problem('0\n'.repeat(4_100_000))).toContain('characters');
  });

  test('names that point elsewhere are names and no more', () => {
    const blocks = section(
      'BLOCKS',
      block('/etc/passwd', lightPolyline('1', wedge), text('Piece Name: <script>alert(1)</script>')),
    );
    expect(read(dxfFile(blocks)).pieces[0]!.name).toBe('?script?alert(1)?/script?');
  });
});
