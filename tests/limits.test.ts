/**
 * Every limit of the program: what lies on it is accepted, what lies beyond is refused with a sentence that says what was
 * found, where, and what to do, and exit code 2. docs/limits.md lists them; write it anew with REWRITE_EXPECTED=1.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { Lexer } from 'yaml';
import { inputBytesMax } from '../src/cli/files.js';
import { runCli } from '../src/cli/run.js';
import {
  cutListsMax,
  effortMax,
  garmentsMax,
  rollMostUm,
  secondsMax,
  seedMax,
  sheetLeastUm,
  widthsMost,
  workersMax,
} from '../src/cli/settings.js';
import {
  clothLengthMax,
  clothWidthMax,
  clothWidthMin,
  coordinateMax,
  limits,
  pieceSizeMin,
  repeatMax,
  smallLengthMax,
} from '../src/cutlist/limits.js';
import { drawingLimits, drawingReachMax } from '../src/drawings/limits.js';
import { layLengthMax, layLimits } from '../src/lay/limits.js';
import { textLengthMax } from '../src/source/read-yaml.js';
import { depthMax, tokensMax } from '../src/source/tokens.js';
import { formatBuy, formatLength } from '../src/units/length.js';
import type { Um } from '../src/units/types.js';
import { fakeWorld } from './cli/fake-world.js';

/** What is typed, and the files that are there. */
interface Scene {
  readonly words: readonly string[];
  readonly files: Readonly<Record<string, string>>;
}

interface Limit {
  readonly what: string;
  /** The constant, as the page shows it. */
  readonly most: string;
  /** Code of the fault; null: told as a wrong option. */
  readonly code: string | null;
  readonly at: () => Scene;
  readonly beyond: () => Scene;
  /** What the sentence beyond says besides the code. */
  readonly says: string | RegExp;
  /** Has no line: the file as a whole, or the command line. */
  readonly placeless?: true;
  /** What lies on the limit is read, but means nothing. */
  readonly meansNothing?: true;
}

async function run({ words, files }: Scene): Promise<{ code: number; err: string }> {
  const world = fakeWorld(files);
  const code = await runCli(words, world);
  return { code, err: world.errText() };
}

const square = (side: number | string, cut = '1', more = '') =>
  `{rectangle: [${side}, ${side}], cut: {shell: ${cut}}, allowance: 0${more}}`;
const times = <T>(count: number, make: (i: number) => T): T[] => Array.from({ length: count }, (_, i) => make(i));
const plainCloth = 'c: {for: shell, width: 150, usable: 147}';

/** A cut list of these pieces and cloths, each a line. */
function listOf(pieces: readonly string[], cloths: readonly string[] = [plainCloth], title = 'T', more = ''): string {
  const lines = (all: readonly string[]) => all.map((line) => `  ${line}`);
  return [
    `title: ${title}`,
    'units: cm',
    'drawn: cut',
    'pieces:',
    ...lines(pieces),
    'cloths:',
    ...lines(cloths),
    more,
  ].join('\n');
}

const check = (text: string, files: Readonly<Record<string, string>> = {}): Scene => ({
  words: ['check', 'a.yaml'],
  files: { 'a.yaml': text, ...files },
});
const plan = (text: string, ...more: string[]): Scene => ({
  words: ['plan', 'a.yaml', '--effort', '0.01', '--quiet', '--method', 'open', ...more],
  files: { 'a.yaml': text },
});
const checkPiece = (piece: string, cloths?: readonly string[]) => check(listOf([`P: ${piece}`], cloths));
const checkCloth = (cloth: string) => check(listOf([`P: ${square(10)}`], [`c: {for: shell, ${cloth}}`]));

const sound = listOf([`P: ${square(10)}`]);

/** The list with a comment that makes it so many characters long. */
function paddedTo(length: number): string {
  return `${sound}\n#${'x'.repeat(length - sound.length - 2)}`;
}

/** The list with empty lines that make it so many words, numbers and signs. */
function tokensTo(count: number): string {
  const own = [...new Lexer().lex(`${sound}\n`)].length;
  const lines = '#\n'.repeat(Math.floor((count - own) / 2));
  const text = `${sound}\n${lines}`;
  const left = count - [...new Lexer().lex(text)].length;
  return left === 0 ? text : `title: T\n${text.slice('title: T\n'.length)}${'\n'.repeat(left)}`;
}

/** A corner for each: up one side of a saw and straight back. */
function saw(corners: number): string {
  const teeth = times(corners - 1, (i) => `P${i}: [${i % 2 === 0 ? 20 : 20.3}, ${(i / 10).toFixed(1)}]`);
  return `{outline: {${teeth.join(', ')}, Z: [0, ${((corners - 2) / 10).toFixed(1)}]}, grain: [[1, 0], [1, 2]], cut: {shell: 1}, allowance: 0}`;
}

/** An outline whose one edge is a curve through so many points. */
function curve(points: number): string {
  const through = times(points, (i) => `[${((20 * (i + 1)) / (points + 1)).toFixed(4)}, ${(i % 2) / 50}]`).join(', ');
  return `{outline: {A: [0, 0], B: [20, 0], C: [20, 30], D: [0, 30]}, curves: {A-B: {through: [${through}]}}, grain: A-D, cut: {shell: 1}, allowance: 0}`;
}

/** So many points in all: pieces like the first, and a small one for the rest. Written out they would be too many words. */
function pointsInAll(count: number): string[] {
  const whole = Math.floor(count / limits.corners);
  const rest = count - whole * limits.corners;
  const pieces = times(whole, (i) => `P${i}: ${i === 0 ? saw(limits.corners) : '{like: P0}'}`);
  return rest === 0 ? pieces : [...pieces, `Rest: ${saw(rest)}`];
}

/** A wave of `count` cubic curves, `each` points to one: flattening is told by the fault itself. */
function waves(count: number): string {
  const arcs = times(count, (i) => `C${i} ${i % 2 === 0 ? 600 : -600} ${i + 1} ${i % 2 === 0 ? 600 : -600} ${i + 1} 0`);
  return `{path: "M0 0 ${arcs.join(' ')} V1000 H0 Z", grain: [[1, 990], [1, 900]], cut: {shell: 1}, allowance: 0}`;
}

const svgOf = (body: string) => `<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="300mm">${body}</svg>`;
const svgSquare = '<path d="M0 0 H100 V100 H0 Z"/>';
const fromSvg = (svg: string): Scene =>
  check(listOf(['P: {svg: {file: p.svg}, grain: [[1, 1], [1, 3]], cut: {shell: 1}, allowance: 0}']), { 'p.svg': svg });

const dxfOf = (entities: string, blocks = '') =>
  `0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n5\n0\nENDSEC\n0\nSECTION\n2\nBLOCKS\n${blocks}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n${entities}0\nENDSEC\n0\nEOF\n`;
const dxfSquare = '0\nLWPOLYLINE\n8\n0\n90\n4\n70\n1\n10\n0\n20\n0\n10\n9\n20\n0\n10\n9\n20\n9\n10\n0\n20\n9\n';
const dxfPoint = '0\nPOINT\n8\nx\n10\n0\n20\n0\n';
const fromDxf = (dxf: string): Scene =>
  check(listOf(['P: {dxf: {file: p.dxf}, grain: [[1, 1], [1, 3]], cut: {shell: 1}, allowance: 0}']), { 'p.dxf': dxf });

/** Four drawings that are so large together. */
function largeDrawings(bytes: number): Scene {
  const each = Math.floor(bytes / 4);
  const files = times(4, (i) => [`d${i}.svg`, svgOf(svgSquare).padEnd(i < 3 ? each : bytes - 3 * each)] as const);
  const piece = (file: string) => `{svg: {file: ${file}}, grain: [[1, 1], [1, 3]], cut: {shell: 1}, allowance: 0}`;
  return check(listOf(files.map(([file], i) => `P${i}: ${piece(file)}`)), Object.fromEntries(files));
}

const cm = (um: Um) => `${um / 10_000}`;
const count = (number: number) => String(number).replace(/\B(?=(\d{3})+$)/g, ' ');
const inM = (um: Um) => formatBuy(um, 'cm');

/** One of each kind of thing that a cut list has many of: `make(count)` makes the list. */
function many(what: string, most: number, make: (count: number) => Scene, says: string | RegExp): Limit {
  return {
    what,
    most: count(most),
    code: 'too-many',
    at: () => make(most),
    beyond: () => make(most + 1),
    says,
  };
}

/** A length that may be from `least` to `most`. */
function range(what: string, [least, most]: readonly [Um | null, Um], make: (length: string) => Scene): Limit[] {
  const code = 'length-out-of-range';
  const above: Limit = {
    what: least === null ? what : `${what}, at most`,
    most: most >= 1_000_000 ? inM(most) : formatLength(most, 'cm'),
    code,
    at: () => make(cm(most)),
    beyond: () => make(cm(most + 1)),
    says: 'of at most',
  };
  const below: Limit = {
    what: `${what}, at least`,
    most: least === null || least < 10_000 ? `${(least ?? 0) / 1000} mm` : formatLength(least, 'cm'),
    code,
    at: () => make(cm(least ?? 0)),
    beyond: () => make(cm((least ?? 0) - 1)),
    says: 'at least',
  };
  return least === null ? [above] : [below, above];
}

const inCutList: readonly Limit[] = [
  {
    what: 'characters of the file',
    most: count(textLengthMax),
    code: 'file-too-large',
    at: () => check(paddedTo(textLengthMax)),
    beyond: () => check(paddedTo(textLengthMax + 1)),
    says: `the file has ${textLengthMax + 1} characters, at most ${textLengthMax} are read`,
  },
  {
    what: 'words, numbers and signs of the file (a corner `A: [1, 2]` is fourteen)',
    most: count(tokensMax),
    code: 'file-too-large',
    at: () => check(tokensTo(tokensMax)),
    beyond: () => check(tokensTo(tokensMax + 2)),
    says: `the file holds more than ${tokensMax} words, numbers and signs`,
  },
  {
    what: 'lists and maps within each other',
    most: count(depthMax),
    code: 'nested-too-deep',
    // The file is a map itself.
    at: () => check(listOf([`P: ${square(10)}`], [plainCloth], '['.repeat(depthMax - 1) + ']'.repeat(depthMax - 1))),
    beyond: () => check(listOf([`P: ${square(10)}`], [plainCloth], '['.repeat(depthMax) + ']'.repeat(depthMax))),
    meansNothing: true,
    says: `nested more than ${depthMax} deep`,
  },
  many(
    'pieces',
    limits.pieces,
    (n) => check(listOf(times(n, (i) => `P${i}: ${square(10)}`))),
    `found ${limits.pieces + 1} pieces, at most ${limits.pieces} are read`,
  ),
  many(
    'cloths, each remnant counted',
    limits.cloths,
    (n) =>
      check(
        listOf(
          [`P: ${square(10)}`],
          times(n - 2, (i) => `c${i}: {for: shell, width: 150, usable: 147}`).concat(
            'r: {for: shell, width: 150, usable: 147, length: [50, 60]}',
          ),
        ),
      ),
    `found ${limits.cloths + 1} cloths, each remnant counted, at most ${limits.cloths} are read`,
  ),
  many(
    'different materials',
    limits.materials,
    (n) =>
      check(
        listOf(
          times(n, (i) => `P${i}: {rectangle: [10, 10], cut: {m${i}: 1}, allowance: 0}`),
          times(n, (i) => i)
            .filter((i) => i % limits.materials === 0)
            .map(
              (i) =>
                `c${i}: {for: [${times(Math.min(limits.materials, n - i), (k) => `m${i + k}`)}], width: 150, usable: 147}`,
            ),
        ),
      ),
    `found ${limits.materials + 1} different materials, at most ${limits.materials} are read`,
  ),
  many(
    'copies of a piece in one wording',
    limits.copies,
    (n) => checkPiece(square(1, `${n}`)),
    `found ${limits.copies + 1} copies, at most ${limits.copies} are read`,
  ),
  many(
    'strips in all of a bias strip joined from several',
    limits.copies,
    (n) =>
      checkPiece(
        n === limits.copies
          ? `{bias-strip: {length: 2000, width: 4, pieces: ${n / 10}}, cut: {shell: 10}, allowance: 0}`
          : '{bias-strip: {length: 1820, width: 4, pieces: 91}, cut: {shell: 11}, allowance: 0}',
      ),
    `found ${limits.copies + 1} strips in all, at most ${limits.copies} are read`,
  ),
  many(
    'corners of a piece',
    limits.corners,
    (n) => checkPiece(saw(n)),
    `found ${limits.corners + 1} corners, at most ${limits.corners} are read`,
  ),
  many(
    'points given for a curve',
    limits.curvePoints,
    (n) => checkPiece(curve(n)),
    `found ${limits.curvePoints + 1} points, at most ${limits.curvePoints} are read`,
  ),
  {
    what: 'points of a piece once its curves are flattened to 0.02 mm (some tens for a curve)',
    most: count(limits.flatPoints),
    code: 'too-many',
    at: () => checkPiece(saw(limits.corners)),
    beyond: () => checkPiece(waves(40)),
    says: /found \d+ points on its curves, at most 3000 are read/,
  },
  many(
    'the same of all pieces together',
    limits.flatPointsInAll,
    (n) => check(listOf(pointsInAll(n === limits.flatPointsInAll ? n : n + 3))),
    `found ${limits.flatPointsInAll + 4} points in all pieces together, at most ${limits.flatPointsInAll} are read`,
  ),
  ...(['notches', 'darts', 'pleats', 'awl', 'match'] as const).map((key): Limit => {
    const words = { awl: 'awl points', match: 'match points' } as const;
    const what = key in words ? words[key as keyof typeof words] : key;
    const one = {
      notches: '{edge: A-B, at: 1}',
      darts: '{edge: A-B, at: 5, width: 1, tip: [5, 5]}',
      pleats: '{edge: A-B, at: 5, depth: 1}',
      awl: '[1, 1]',
      match: '{point: [1, 1], group: bar}',
    }[key];
    return many(
      `${what} of a piece`,
      limits.marks,
      // Beside each other they would take more than the edge; a few of them are enough to be read.
      (n) =>
        checkPiece(
          square(
            10,
            '1',
            `, ${key}: [${times(key === 'darts' || key === 'pleats' ? (n > limits.marks ? n : 1) : n, () => one)}]`,
          ),
        ),
      `found ${limits.marks + 1} ${what}, at most ${limits.marks} are read`,
    );
  }),
  many(
    'seams',
    limits.seams,
    (n) =>
      check(listOf([`P: ${square(10)}`], [plainCloth], 'T', `seams: [${times(n, () => '{join: [P A-B, P C-D]}')}]`)),
    `found ${limits.seams + 1} seams, at most ${limits.seams} are read`,
  ),
  many(
    'flaws of a cloth',
    limits.flaws,
    (n) => checkCloth(`width: 150, usable: 147, flaws: [${times(n, () => '{at: [80, 40], size: [1, 1]}')}]`),
    `found ${limits.flaws + 1} flaws, at most ${limits.flaws} are read`,
  ),
  many(
    'different drawings',
    limits.drawings,
    (n) =>
      check(
        listOf(
          times(n, (i) => `P${i}: {svg: {file: d${i}.svg}, grain: [[1, 1], [1, 3]], cut: {shell: 1}, allowance: 0}`),
        ),
        Object.fromEntries(times(n, (i) => [`d${i}.svg`, svgOf(svgSquare)])),
      ),
    `found ${limits.drawings + 1} different drawings, at most ${limits.drawings} are read`,
  ),
  {
    what: 'drawings of a cut list, together',
    most: `${inputBytesMax / 1e6} MB`,
    code: 'drawing-unread',
    at: () => largeDrawings(inputBytesMax),
    beyond: () => largeDrawings(inputBytesMax + 1),
    says: 'd3.svg: with it the drawings of the cut list hold more than 24 MB, and no more are read',
  },
  {
    what: 'characters of a name (piece, cloth, material, corner)',
    most: count(limits.nameLength),
    code: 'bad-name',
    at: () => check(listOf([`${'n'.repeat(limits.nameLength)}: ${square(10)}`])),
    beyond: () => check(listOf([`${'n'.repeat(limits.nameLength + 1)}: ${square(10)}`])),
    says: `found a name of ${limits.nameLength + 1} characters for a piece, at most ${limits.nameLength} are read`,
  },
  {
    what: 'characters of a text (title, note, size, wording)',
    most: count(limits.textLength),
    code: 'wrong-value',
    at: () => check(listOf([`P: ${square(10)}`], [plainCloth], 't'.repeat(limits.textLength))),
    beyond: () => check(listOf([`P: ${square(10)}`], [plainCloth], 't'.repeat(limits.textLength + 1))),
    says: `found ${limits.textLength + 1} characters, expected a title of at most ${limits.textLength}`,
  },
  {
    what: 'a piece, each way, at least',
    most: formatLength(pieceSizeMin, 'mm'),
    code: 'length-out-of-range',
    at: () =>
      checkPiece(
        '{outline: {A: [0, 0], B: [0.1, 0], C: [0.1, 0.1], D: [0, 0.1]}, grain: [[0, 0], [0, 2]], cut: {shell: 1}, allowance: 0}',
      ),
    beyond: () =>
      checkPiece(
        '{outline: {A: [0, 0], B: [0.0999, 0], C: [0.0999, 0.1], D: [0, 0.1]}, grain: [[0, 0], [0, 2]], cut: {shell: 1}, allowance: 0}',
      ),
    says: 'it is 0.999 mm wide and 1.000 mm high, expected 1 mm at least',
  },
  ...range('coordinates and sides of a piece', [null, coordinateMax], (length) =>
    checkPiece(`{rectangle: [10, ${length}], cut: {shell: 1}, allowance: 0}`),
  ),
  ...range('width of a cloth', [clothWidthMin, clothWidthMax], (length) =>
    checkCloth(`width: ${length}, selvedge: 0, usable: [0, 1]`),
  ),
  ...range('what is usable of it', [clothWidthMin, clothWidthMax], (length) =>
    checkCloth(`width: 2000, usable: ${length}`),
  ).slice(0, 1),
  ...range('length at hand', [null, clothLengthMax], (length) =>
    checkCloth(`width: 150, usable: 147, length: ${length}`),
  ),
  ...range('repeat', [1_000, repeatMax], (length) =>
    checkCloth(`width: 150, usable: 147, repeat: {along: ${length}, start: [0, 0]}`),
  ),
  ...range('gap, ends and allowances', [null, smallLengthMax], (length) =>
    checkCloth(`width: 150, usable: 147, gap: ${length}`),
  ),
];

const inLay: readonly Limit[] = [
  {
    what: 'copies in one lay',
    most: count(layLimits.copies),
    code: 'too-many',
    at: () =>
      plan(
        listOf(
          times(3, (i) => `P${i}: ${square(1, '1000')}`),
          ['c: {for: shell, width: 150, usable: 147, gap: 0}'],
        ),
      ),
    beyond: () => plan(listOf([...times(3, (i) => `P${i}: ${square(1, '1000')}`), `Q: ${square(1)}`])),
    says: `found ${layLimits.copies + 1} copies in one lay, at most ${layLimits.copies} are planned`,
  },
  {
    what: 'points on the cutting lines of all its copies together',
    most: count(layLimits.points),
    code: 'too-many',
    at: () => check(listOf(times(2, (i) => `P${i}: ${saw(500)}`.replace('shell: 1', 'shell: 750')))),
    beyond: () =>
      plan(listOf([...times(2, (i) => `P${i}: ${saw(500)}`.replace('shell: 1', 'shell: 750')), `Q: ${square(1)}`])),
    says: `found ${layLimits.points + 4} points on the cutting lines of its 1501 copies, at most ${layLimits.points} are planned`,
  },
  {
    what: 'length of a lay that is planned, by its area alone',
    most: inM(layLengthMax),
    code: 'lay-too-long',
    at: () => plan(listOf([`P: ${square(147, '10')}`], ['c: {for: shell, width: 150, usable: 147, gap: 0}'])),
    beyond: () => plan(listOf([`P: ${square(147, '14')}`])),
    says: /what is cut from shell takes 20\.58 m of it even without waste, at most 20\.0 m are planned in one lay/,
  },
  {
    what: 'characters of a lay file',
    most: count(layLimits.fileCharacters),
    code: 'file-too-large',
    at: () => check(sound),
    beyond: () => ({ words: ['check', 'a.lay.json'], files: { 'a.lay.json': `{${' '.repeat(inputBytesMax)}` } }),
    says: 'found 24.1 MB, at most 24 MB are read',
    placeless: true,
  },
];

const inDrawing: readonly Limit[] = [
  {
    what: 'characters of a drawing',
    most: count(drawingLimits.characters),
    code: 'drawing-broken',
    at: () => fromSvg(`${svgOf(svgSquare)}`.padEnd(drawingLimits.characters, ' ')),
    beyond: () => fromSvg(`${svgOf(svgSquare)}`.padEnd(drawingLimits.characters + 1, ' ')),
    says: `p.svg:1:1: it has ${drawingLimits.characters + 1} characters, at most ${drawingLimits.characters} are read`,
  },
  {
    what: 'elements of an SVG drawing',
    most: count(drawingLimits.elements),
    code: 'drawing-broken',
    at: () => fromSvg(svgOf(svgSquare + '<g/>'.repeat(drawingLimits.elements - 2))),
    beyond: () => fromSvg(svgOf(svgSquare + '<g/>'.repeat(drawingLimits.elements - 1))),
    says: `it has more than ${drawingLimits.elements} elements`,
  },
  {
    what: 'elements within each other',
    most: count(drawingLimits.depth),
    code: 'drawing-broken',
    at: () =>
      fromSvg(svgOf('<g>'.repeat(drawingLimits.depth - 2) + svgSquare + '</g>'.repeat(drawingLimits.depth - 2))),
    beyond: () =>
      fromSvg(svgOf('<g>'.repeat(drawingLimits.depth - 1) + svgSquare + '</g>'.repeat(drawingLimits.depth - 1))),
    says: `its elements are nested more than ${drawingLimits.depth} deep`,
  },
  {
    what: 'commands of a path',
    most: count(drawingLimits.pathCommands),
    code: 'bad-path',
    // Lines of no length are commands, but no corners.
    at: () => checkPiece(pathOf(drawingLimits.pathCommands)),
    beyond: () => checkPiece(pathOf(drawingLimits.pathCommands + 1)),
    says: `the path has ${drawingLimits.pathCommands + 1} commands, at most ${drawingLimits.pathCommands} are read`,
  },
  {
    what: 'entities of a DXF drawing',
    most: count(drawingLimits.entities),
    code: 'drawing-broken',
    at: () => fromDxf(dxfOf(dxfSquare + dxfPoint.repeat(drawingLimits.entities - 1))),
    beyond: () => fromDxf(dxfOf(dxfSquare + dxfPoint.repeat(drawingLimits.entities))),
    says: `it has more than ${drawingLimits.entities} entities`,
  },
  {
    what: 'distance from the origin',
    most: inM(drawingReachMax),
    code: 'bad-path',
    at: () => checkPiece('{path: M0 0 H2000 V-10 H0 Z, grain: [[1, -1], [1, -9]], cut: {shell: 1}, allowance: 0}'),
    beyond: () =>
      checkPiece('{path: M0 0 H2000.1 V-10 H0 Z, grain: [[1, -1], [1, -9]], cut: {shell: 1}, allowance: 0}'),
    says: 'it goes farther than 20 m from the origin',
  },
];

function pathOf(commands: number): string {
  return `{path: "M0 0 ${'H0 '.repeat(commands - 5)}H9 V9 H0 Z", grain: [[1, 8], [1, 1]], cut: {shell: 1}, allowance: 0}`;
}

function option(what: string, most: string, at: readonly string[], beyond: readonly string[], says: string): Limit {
  const scene = (more: readonly string[]): Scene => ({ words: ['plan', 'missing.yaml', ...more], files: {} });
  return { what, most, code: null, at: () => scene(at), beyond: () => scene(beyond), says };
}

const number = (what: string, name: string, most: number): Limit =>
  option(what, count(most), [name, `${most}`], [name, `${most + 1}`], `${name}: found "${most + 1}", expected a`);

const onCommandLine: readonly Limit[] = [
  number('garments of a run', '--garments', garmentsMax),
  option(
    'cut lists of a run',
    count(cutListsMax),
    times(cutListsMax - 1, (i) => `${i}.yaml`),
    times(cutListsMax, (i) => `${i}.yaml`),
    `${cutListsMax + 1} cut lists in one lay: at most ${cutListsMax} are planned`,
  ),
  number('effort', '--effort', effortMax),
  number('seconds', '--seconds', secondsMax),
  number('seed', '--seed', seedMax),
  number('threads', '--workers', workersMax),
  option(
    'width, at most',
    inM(clothWidthMax),
    ['--width', '20 m'],
    ['--width', '20.1 m'],
    '--width: found "20.1 m", expected a length from 1.0 cm and up to 20.0 m',
  ),
  option(
    'width, at least',
    formatLength(clothWidthMin, 'cm'),
    ['--width', '1'],
    ['--width', '0.9'],
    '--width: found "0.9", expected a length from 1.0 cm and up to 20.0 m',
  ),
  option(
    'length at hand',
    inM(clothLengthMax),
    ['--length', '40 m'],
    ['--length', '40.1 m'],
    '--length: found "40.1 m", expected a length above 0 and up to 40.0 m',
  ),
  {
    ...option('widths that are compared', count(widthsMost), [], [], `${widthsMost} widths at most`),
    at: () => ({ words: ['compare', 'missing.yaml', '--widths', '90..149', '--step', '1'], files: {} }),
    beyond: () => ({ words: ['compare', 'missing.yaml', '--widths', '90..150', '--step', '1'], files: {} }),
  },
  ...(
    [
      ['paper on a roll, width at most', rollMostUm, inM(rollMostUm), 1],
      ['paper, each way, at least', sheetLeastUm, formatLength(sheetLeastUm, 'cm'), -1],
    ] as const
  ).map(
    ([what, um, most, way]): Limit => ({
      ...option(what, most, [], [], 'of 14 cm at least, 5 m wide at most'),
      at: () => ({ words: ['print', 'missing.yaml', '--what', 'pieces', '--sheet', `roll:${um / 10_000}`], files: {} }),
      beyond: () => ({
        words: ['print', 'missing.yaml', '--what', 'pieces', '--sheet', `roll:${um / 10_000 + way}`],
        files: {},
      }),
    }),
  ),
];

const groups = { 'A cut list': inCutList, 'A lay': inLay, 'A drawing': inDrawing, 'The command line': onCommandLine };

describe.each(Object.entries(groups))('%s', (group, all) => {
  const patient = 300_000;
  test.each(all.map((limit) => [limit.what, limit] as const))(
    '%s',
    async (_, { at, beyond, code, says, placeless, meansNothing }) => {
      const accepted = await run(at());
      // What is typed is right, but there is no such file.
      if (group === 'The command line') expect(accepted.err).toContain('[file-missing]');
      else if (meansNothing === true) expect(accepted.err).not.toContain(`[${code}]`);
      else expect(accepted.err).not.toContain('error: ');
      const refused = await run(beyond());
      expect(refused.code).toBe(2);
      const place = placeless === true ? String.raw`error: \S+: ` : String.raw`\S+:\d+:\d+: error: `;
      if (code !== null) expect(refused.err).toMatch(new RegExp(String.raw`^${place}.*\[${code}\]\n {2}fix: \S`, 'm'));
      if (typeof says === 'string') expect(refused.err).toContain(says);
      else expect(refused.err).toMatch(says);
    },
    patient,
  );
});

test('docs/limits.md is what the constants say', () => {
  const path = fileURLToPath(new URL('../docs/limits.md', import.meta.url));
  const head = `# Limits

What the program reads and plans at most. More is refused before any work with a sentence that says what was found, where
it stands and what to do; the exit code is 2. (Of a drawing with more uses, inserted blocks or points than are followed, the rest
is left out, which is told.) The figures are those of the program: \`tests/limits.test.ts\` tries each of them,
and what lies just beyond, and compares this page. That the largest work can really be done is shown in
[benchmarks/limits.md](benchmarks/limits.md). All limits are our own choice, so that memory and time stay within bounds.
`;
  const tables = Object.entries(groups).map(([title, all]) =>
    [
      `\n## ${title}\n`,
      '| what | limit | code |',
      '|---|---|---|',
      ...all.map(({ what, most, code }) => `| ${what} | ${most} | ${code === null ? '-' : `\`${code}\``} |`),
      '',
    ].join('\n'),
  );
  const page = [head, ...tables].join('');
  if (process.env.REWRITE_EXPECTED === '1') writeFileSync(path, page);
  expect(readFileSync(path, 'utf8')).toBe(page);
});
