import { describe, expect, test } from 'vitest';
import { readSvgFile, type SvgDrawing } from '../../src/drawings/svg-file.js';
import type { Point } from '../../src/units/types.js';

const page = (inside: string, head = 'width="210mm" height="297mm" viewBox="0 0 210 297"'): string =>
  `<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" ${head}>${inside}</svg>`;

function read(text: string, scale = 1): SvgDrawing {
  const drawing = readSvgFile(text, scale);
  if ('problem' in drawing) throw new Error(drawing.problem);
  return drawing;
}

function why(text: string): string {
  const drawing = readSvgFile(text);
  return 'problem' in drawing ? drawing.problem : 'it was read';
}

/** Corners of the only outline, in millimetres. */
function corners(text: string, scale = 1): (readonly number[])[] {
  const { outlines } = read(text, scale);
  expect(outlines.length).toBe(1);
  return outlines[0]!.edges.map(({ points }) => points[0]!.map((um) => um / 1000));
}

const square = '<rect x="10" y="20" width="30" height="40"/>';

describe('true size', () => {
  test('millimetres by the viewBox, y up from the foot of the page', () => {
    expect(corners(page(square))).toEqual([
      [10, 277],
      [40, 277],
      [40, 237],
      [10, 237],
    ]);
  });

  test.each([
    ['width="8.5in" height="11in" viewBox="0 0 850 1100"', 0.254, 279.4],
    ['width="21cm" height="29.7cm" viewBox="0 0 2100 2970"', 0.1, 297],
    ['width="210mm" viewBox="0 0 210 297"', 1, 297],
    ['width="96" height="192"', 25.4 / 96, 50.8],
    ['viewBox="0 0 96 192"', 25.4 / 96, 50.8],
    ['width="72pt" height="144pt" viewBox="0 0 72 144"', 25.4 / 72, 50.8],
  ])('%s', (head, mmPerUnit, high) => {
    const [[x, y]] = corners(page(square, head)) as [readonly number[]];
    expect(x).toBeCloseTo(10 * mmPerUnit, 3);
    expect(y).toBeCloseTo(high - 20 * mmPerUnit, 3);
    expect(read(page(square, head)).sizeIsGiven).toBe(
      /mm|cm|in|pt/.test(head.replace('viewBox', '')) && head.includes('width') && !head.includes('"96"'),
    );
  });

  test('a viewBox of another shape is centred, unless the ratio is not to be kept', () => {
    const tall = 'width="100mm" height="200mm" viewBox="0 0 100 100"';
    expect(corners(page(square, tall))[0]).toEqual([10, 200 - 70]);
    expect(corners(page(square, `${tall} preserveAspectRatio="none"`))[0]).toEqual([10, 200 - 40]);
    expect(corners(page(square, 'width="100mm" height="100mm" viewBox="-50 -50 100 100"'))[0]).toEqual([60, 30]);
  });

  test('scale enlarges about the lower left corner of the page', () => {
    expect(corners(page(square), 2)).toEqual(corners(page(square)).map((point) => point.map((mm) => 2 * mm)));
  });
});

describe('elements', () => {
  test('transforms of nested groups, in the order of the standard', () => {
    const nested = `<g transform="translate(100 0)"><g transform="rotate(90)"><g transform="scale(2 1)">${square}</g></g></g>`;
    // (10, 20) -> (20, 20) -> (-20, 20) -> (80, 20), y down.
    expect(corners(page(nested))[0]).toEqual([80, 277]);
  });

  test('use draws what is in defs, moved; what it does not use is not drawn', () => {
    const text = page(`<defs><rect id="r" width="10" height="10"/></defs><use xlink:href="#r" x="5" y="6"/>`);
    expect(corners(text)[0]).toEqual([5, 291]);
    expect(read(page('<defs><rect id="r" width="10" height="10"/></defs>')).outlines).toEqual([]);
    expect(read(page('<g style="stroke:red; display: none"><rect width="10" height="10"/></g>')).outlines).toEqual([]);
  });

  test('polygons, circles, ellipses and rounded rects', () => {
    expect(corners(page('<polygon points="0,0 10,0 10,20"/>'))).toEqual([
      [0, 297],
      [10, 297],
      [10, 277],
    ]);
    const far = (text: string, at: Point, radius: number): number =>
      Math.max(
        ...read(text).outlines[0]!.edges.flatMap(({ points }) =>
          points.map(([x, y]) => Math.abs(Math.sqrt((x / 1000 - at[0]) ** 2 + (y / 1000 - at[1]) ** 2) - radius)),
        ),
      );
    expect(far(page('<circle cx="50" cy="60" r="40"/>'), [50, 237], 40)).toBeLessThan(0.002);
    expect(far(page('<ellipse cx="50" cy="60" rx="40" ry="40"/>'), [50, 237], 40)).toBeLessThan(0.002);
    expect(read(page('<rect width="20" height="10" rx="3"/>')).outlines[0]!.edges.length).toBe(8);
  });

  test('ids and groups are kept; what is not closed is passed over with a reason', () => {
    const text = page('<g id="back" label="Back"><path id="a" d="M0 0 H10 V10 Z"/><path id="b" d="M0 0 H10 V10"/></g>');
    const { outlines, passedOver } = read(text);
    expect(outlines.map(({ id, groups }) => [id, groups])).toEqual([['a', ['back', 'Back']]]);
    expect(passedOver).toEqual([{ id: 'b', why: 'the path is not closed: end it with Z', line: 2 }]);
  });
});

describe('hostile files are refused or harmless, and nothing is fetched', () => {
  const bomb = `<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa">${Array.from({ length: 9 }, (_, i) => `<!ENTITY ${'bcdefghij'[i]} "${`&${'abcdefghi'[i]};`.repeat(10)}">`).join('')}]>`;
  test.each([
    ['an entity bomb', page('<text>&j;</text>').replace('?>', `?>${bomb}`), /entity/],
    [
      'an external entity',
      page('<text>&x;</text>').replace('?>', '?><!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>'),
      /entity/,
    ],
    ['not XML', 'hello', /text|root|document|element/],
    ['an open element', page('<g>').replace('</svg>', ''), /unclosed/],
    ['wrong nesting', page('<g><a></g></a>'), /./],
    ['nested 10 000 deep', page('<g>'.repeat(10_000) + '</g>'.repeat(10_000)), /nested more than/],
    ['200 000 elements', page('<g/>'.repeat(200_000)), /more than 100000 elements/],
    ['another root', '<html xmlns="http://www.w3.org/1999/xhtml"/>', /not "svg"/],
    ['a viewBox of nonsense', page(square, 'viewBox="0 0 1e309 NaN"'), /viewBox/],
  ])('%s', (_, text, words) => {
    expect(why(text)).toMatch(words);
  });

  test.each([
    ['1e308', '<path d="M0 0 L1e308 0 L0 1e308 Z"/>'],
    ['NaN', '<path d="M0 0 LNaN 0 L0 1 Z"/>'],
    [
      '100 000 points',
      `<polygon points="${Array.from({ length: 100_000 }, (_, i) => `${i % 100},${i / 1000}`).join(' ')}"/>`,
    ],
    ['a matrix of zeros', '<rect width="10" height="10" transform="matrix(0 0 0 0 0 0)"/>'],
    ['a script', '<script>throw new Error("run")</script>'],
    ['a picture from elsewhere', '<image href="http://127.0.0.1:9/x.png" width="10" height="10"/>'],
    ['use of another file', '<use href="http://127.0.0.1:9/x.svg#a"/>'],
    ['use of itself', '<g id="a"><use href="#a"/><use href="#a"/></g>'],
  ])('%s draws nothing', (_, inside) => {
    expect(read(page(inside)).outlines).toEqual([]);
  });

  test('uses of uses of uses end', () => {
    const level = (n: number): string => `<g id="g${n}">${`<use href="#g${n + 1}"/>`.repeat(20)}</g>`;
    const text = page(
      `<defs>${Array.from({ length: 12 }, (_, n) => level(n)).join('')}<g id="g12">${square}</g></defs><use href="#g0"/>`,
    );
    expect(read(text).outlines.length).toBeLessThanOrEqual(5_000);
  });
});
