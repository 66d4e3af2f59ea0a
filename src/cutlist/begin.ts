/**
 * A drawing (SVG or DXF) -> the text of a cut list to go on from. What the drawing says is written down; what it does
 * not say, or what may have been misread, stands there as a comment with a question mark. A question that must be
 * answered is a key that is commented out, so that `check` names it until it is.
 */
import { makeFault } from '../diagnostics/faults.js';
import type { Result } from '../diagnostics/types.js';
import { type DxfDrawing, type DxfPiece, readDxfFile } from '../drawings/dxf-file.js';
import { readSvgFile, type SvgDrawing, type SvgOutline } from '../drawings/svg-file.js';
import { boundsOf } from '../geometry/outline.js';
import { lengthOf } from '../pieces/grain-frame.js';
import { formatLength, umPerUnit } from '../units/length.js';
import type { LengthUnit, Point, Um } from '../units/types.js';
import { letteredCorners } from './drawing-file.js';
import { choosePiece, saidBy } from './dxf-shape.js';
import { isName } from './fields.js';
import { limits } from './limits.js';
import { letterOf } from './plain-shapes.js';
import { chooseOutline } from './svg-shape.js';

export interface BegunCutList {
  readonly text: string;
  readonly pieces: number;
  /** Comments with a question mark. */
  readonly questions: number;
}

/** Edges listed for each piece. */
const edgesListed = 40;
const grainReach: Um = 10_000;

/**
 * Begins a cut list.
 * @param path of the drawing, for faults
 * @param file the same as the cut list will name it, relative to where the cut list is to stand
 */
export function beginCutList(text: string, path: string, file: string, units: LengthUnit): Result<BegunCutList> {
  if (/\.(ya?ml|json)$/i.test(path)) {
    const fix = 'name an SVG or DXF file; plan, check and draw read cut lists';
    return { ok: false, faults: [makeFault('drawing-broken', null, path, 'it is no drawing', fix)] };
  }
  const isSvg = /\.svg$/i.test(file) || (!/\.dxf$/i.test(file) && text.trimStart().startsWith('<'));
  const begun = isSvg ? fromSvg(readSvgFile(text), file, units) : fromDxf(readDxfFile(text), file, units);
  if ('problem' in begun) {
    const { problem, line, column } = begun;
    const fix = isSvg ? 'save it anew as plain SVG' : 'save it anew as DXF text, or as plain SVG';
    return { ok: false, faults: [makeFault('drawing-broken', { file: path, line, column }, null, problem, fix)] };
  }
  if (begun.pieces.length === 0) {
    const what = ['it has no closed outline', ...begun.doubts.slice(0, 5)].join('; ');
    const fix = 'draw each piece as one closed line';
    return { ok: false, faults: [makeFault('drawing-outline', { file: path, line: 1, column: 1 }, null, what, fix)] };
  }
  return { ok: true, value: writeBegun(begun, file, units) };
}

/** What both kinds of drawing come to. */
interface Begun {
  readonly pieces: readonly BegunPiece[];
  /** About the file as a whole: a comment each. */
  readonly facts: readonly string[];
  readonly doubts: readonly string[];
}

interface BegunPiece {
  readonly name: string;
  /** `svg: {...}` or `dxf: {...}`. */
  readonly shape: string;
  readonly edges: readonly { readonly points: readonly Point[]; readonly curved: boolean }[];
  readonly facts: readonly string[];
  readonly doubts: readonly string[];
  readonly hasGrain: boolean;
  /** Cut wording with its material, null when the drawing does not say it. */
  readonly cut: readonly { readonly material: string; readonly wording: string }[] | null;
  /** The edge on the fold, as the drawing has it. */
  readonly fold: string | null;
  readonly hasSeamLine: boolean;
}

interface Broken {
  readonly problem: string;
  readonly line: number;
  readonly column: number;
}

function fromSvg(drawing: SvgDrawing | Broken, file: string, units: LengthUnit): Begun | Broken {
  if ('problem' in drawing) return drawing;
  const { passedOver, pageMm, sizeIsGiven } = drawing;
  const within = drawing.outlines.filter((outline) => !isPage(outline, pageMm));
  const outlines = within.length === 0 ? drawing.outlines : within;
  const pages = drawing.outlines.length - outlines.length;
  const pieces = outlines.slice(0, limits.pieces).map((outline, i): BegunPiece => {
    const number = String(drawing.outlines.indexOf(outline) + 1);
    // By its id when that finds it, else by its number.
    const names = outline.id !== null && survives(outline.id) ? [outline.id, number] : [number];
    const which = names.find((name) => chooseOutline(drawing.outlines, name, null) === outline);
    return {
      name: outline.id ?? `Piece ${i + 1}`,
      shape: `svg: {file: ${quoted(file)}, id: ${quoted(which ?? number)}}`,
      edges: outline.edges,
      facts: [placeOf(outline)],
      doubts: which === undefined ? ['give it an id of its own in the drawing: another outline goes by this one'] : [],
      hasGrain: false,
      cut: null,
      fold: null,
      hasSeamLine: false,
    };
  });
  const [wide, high] = pageMm.map((mm) => formatLength(Math.round(mm * 1000), units));
  const facts = [
    ...(sizeIsGiven ? [`the page is ${wide} wide and ${high} high`] : []),
    ...(pages === 0 ? [] : ['a rectangle as large as the page was left out']),
  ];
  const doubts = [
    ...(sizeIsGiven ? [] : ['the drawing does not say its size, so a unit is taken as 1/96 inch: measure the paper']),
    ...passedOver.slice(0, 10).map(({ id, why, line }) => `not read: ${id ?? 'an outline'}, line ${line}: ${why}`),
    ...(passedOver.length > 10 ? [`not read either: ${passedOver.length - 10} more lines`] : []),
    ...(outlines.length > limits.pieces ? [`only ${limits.pieces} of its ${outlines.length} outlines stand here`] : []),
  ];
  return { pieces, facts, doubts };
}

/** A sheet drawn around the pieces. */
function isPage({ edges }: SvgOutline, pageMm: readonly [number, number]): boolean {
  const { minX, minY, maxX, maxY } = boundsOf(edges.flatMap(({ points }) => points));
  const near = (um: Um, mm: number): boolean => Math.abs(um - 1000 * mm) <= 10;
  return edges.length === 4 && near(maxX - minX, pageMm[0]) && near(maxY - minY, pageMm[1]);
}

/** Comes back from a cut list as it is: one line, no blanks at its ends or two together, not too long. */
function survives(name: string): boolean {
  return (
    name === name.trim().replace(/\s+/g, ' ') && name.length <= limits.nameLength && !/[\p{C}\p{Zl}\p{Zp}]/u.test(name)
  );
}

function placeOf({ line, groups }: SvgOutline): string {
  const group = groups.at(-1);
  return `line ${line}${group === undefined ? '' : ` in group ${group}`}`;
}

function fromDxf(
  drawing: DxfDrawing | { problem: string; line: number },
  file: string,
  units: LengthUnit,
): Begun | Broken {
  if ('problem' in drawing) return { ...drawing, column: 1 };
  const by = drawing.unitsFrom === 'text' ? 'its units line' : 'its header';
  const facts = drawing.unitsFrom === null ? [] : [`a unit is ${drawing.mmPerUnit} mm, by ${by}`];
  const noUnits = 'the drawing does not say its units, so one is taken as 1 mm: measure the paper';
  const shown = drawing.pieces.slice(0, limits.pieces);
  const left = drawing.pieces.length - shown.length;
  return {
    pieces: shown.map((piece) => dxfPiece(piece, drawing, file, units)),
    facts,
    doubts: [
      ...(drawing.unitsFrom === null ? [noUnits] : []),
      ...drawing.doubts,
      ...(left > 0 ? [`${left} more pieces are not listed here`] : []),
    ],
  };
}

function dxfPiece(piece: DxfPiece, drawing: DxfDrawing, file: string, units: LengthUnit): BegunPiece {
  const place = { file, line: 1, column: 1 };
  const { fold, cut } = saidBy(piece, letteredCorners(piece.edges, place), piece.edges, place);
  const { size, quantity, material, annotations } = piece.said;
  const said = [
    ...Object.entries({ size, quantity, material }).flatMap(([key, value]) =>
      value === null ? [] : [`${key} "${value}"`],
    ),
    ...annotations.map((annotation) => `"${annotation}"`),
  ];
  const number = String(drawing.pieces.indexOf(piece) + 1);
  const which = choosePiece(drawing.pieces, piece.name) === piece && survives(piece.name) ? piece.name : number;
  const grain = piece.grain?.map(([x, y]) => `[${inUnits(x, units)}, ${inUnits(y, units)}]`).join(' to ');
  return {
    name: piece.name,
    shape: `dxf: {file: ${quoted(file)}, piece: ${quoted(which)}}`,
    edges: piece.edges,
    facts: [...piece.taken, ...(said.length > 0 ? [`it says ${said.join(', ')}`] : [])],
    doubts: [
      ...piece.doubts,
      ...(piece.mirrorLine !== null && fold === null
        ? ['its mirror line is no edge of the outline: say which edge lies on the fold, "fold: A-B", or "fold: none"']
        : []),
      ...(grain === undefined ? [] : [`is its grain line right, foot ${grain} the head, which is worn uppermost?`]),
    ],
    hasGrain: piece.grain !== null,
    cut: cut.length === 0 ? null : cut.map(({ material: of, text }) => ({ material: of, wording: text })),
    fold: fold?.name ?? null,
    hasSeamLine: piece.hasSeamLine,
  };
}

function writeBegun({ pieces, facts, doubts }: Begun, file: string, units: LengthUnit): BegunCutList {
  let questions = 0;
  const ask = (line: string): string => {
    questions++;
    return line;
  };
  const unit = (cm: number): string =>
    String(units === 'cm' ? cm : units === 'mm' ? 10 * cm : Math.round(cm / 2.54 / 0.125) * 0.125);
  const names = uniqueNames(pieces);
  const title = comment(file.replace(/^.*[/\\]/, '').replace(/\.[^.]*$/, '')).trim() || 'From a drawing';
  const cutAsDrawn =
    '"cut" when the outlines are cutting lines, "net" when they are seam lines and allowances are to be added';
  const allCut = pieces.every(({ hasSeamLine }) => hasSeamLine);
  const lines = [
    `# Begun from ${comment(file)}. Answer what has a question mark: take the "#" away before a key, and put in what is right.`,
    '# "check" says what is still missing; then look at every piece with "draw".',
    `title: ${quoted(title)}`,
    `units: ${units}`,
    allCut
      ? ask('drawn: cut   # ? all have seam lines within their outlines; "net" adds allowances')
      : ask(`# drawn: cut   # ? ${cutAsDrawn}`),
    ...facts.map((fact) => `# ${comment(fact)}`),
    ...doubts.map((doubt) => ask(`# ? ${comment(doubt)}`)),
    'pieces:',
    ...pieces.flatMap((piece, i) => pieceLines(piece, names[i]!, allCut, units, unit, ask)),
    'cloths:',
    ask(
      `  # cloth: {for: shell, width: ${unit(150)}}   # ? the cloths you have or mean to buy, and for which material`,
    ),
    '',
  ];
  return { text: lines.join('\n'), pieces: pieces.length, questions };
}

function pieceLines(
  piece: BegunPiece,
  name: string,
  allCut: boolean,
  units: LengthUnit,
  unit: (cm: number) => string,
  ask: (line: string) => string,
): string[] {
  const { minX, minY, maxX, maxY } = boundsOf(piece.edges.flatMap(({ points }) => points));
  const size = `${formatLength(maxX - minX, units)} wide and ${formatLength(maxY - minY, units)} high`;
  const listed = piece.edges.slice(0, edgesListed).map(({ points, curved }, i) => {
    const edge = `${letterOf(i)}-${letterOf((i + 1) % piece.edges.length)}`;
    return `${edge} ${formatLength(Math.round(lengthOf(points)), units)}${curved ? ' (curved)' : ''}`;
  });
  const at = piece.edges.slice(0, edgesListed).map(({ points: [corner] }, i) => {
    return `${letterOf(i)} ${inUnits(corner![0], units)}, ${inUnits(corner![1], units)}`;
  });
  const more = piece.edges.length > edgesListed ? `, and ${piece.edges.length - edgesListed} more edges` : '';
  const middle = inUnits(Math.round((minX + maxX) / 2), units);
  // Of a very small piece it goes beyond the edges: a grain line has its least length.
  const reach = Math.max(Math.round(0.3 * (maxY - minY)), grainReach);
  const [foot, head] = [-reach, reach].map((off) => inUnits(Math.round((minY + maxY) / 2) + off, units));
  return [
    `  ${quoted(name)}:`,
    ...[`${size}`, ...piece.facts].map((fact) => `    # ${comment(fact)}`),
    `    # corners, to the right and up: ${at.join('; ')}${more}`,
    `    # edges: ${listed.join(', ')}${more}`,
    ...piece.doubts.map((doubt) => ask(`    # ? ${comment(doubt)}`)),
    `    ${piece.shape}`,
    ...(piece.hasSeamLine && !allCut ? [ask('    drawn: cut   # ? it has a seam line within its outline')] : []),
    ...(piece.hasGrain
      ? []
      : [
          ask(
            `    # grain: [[${middle}, ${foot}], [${middle}, ${head}]]   # ? straight up the drawing; or an edge, foot to head`,
          ),
        ]),
    ...(piece.fold === null
      ? []
      : [ask(`    # ? its mirror line is edge ${piece.fold}, which lies on the fold; "fold: none" when it does not`)]),
    cutLine(piece, ask),
    ask(`    # allowance: ${unit(1)}   # ? or by edge: {all: ${unit(1)}, A-B: ${unit(3)}}`),
  ];
}

function cutLine({ cut, fold }: BegunPiece, ask: (line: string) => string): string {
  if (cut === null) return ask(`    # cut: {shell: ${fold === null ? '1' : '1 on fold'}}   # ? how many, and of what`);
  const each = cut.map(({ material, wording }) => `${quoted(material)}: ${quoted(wording)}`);
  return ask(`    cut: {${each.join(', ')}}   # ? as the drawing says`);
}

function inUnits(um: Um, units: LengthUnit): string {
  return String(Math.round((1000 * um) / umPerUnit[units]) / 1000 + 0);
}

/** Names that a cut list takes, each once. */
function uniqueNames(pieces: readonly BegunPiece[]): string[] {
  const used = new Set<string>();
  const last = new Map<string, number>();
  return pieces.map(({ name }, i) => {
    const plain = [
      ...name
        .replace(/[^\p{L}\p{N} _.()+-]/gu, ' ')
        .replace(/\s+/g, ' ')
        .trim(),
    ]
      .slice(0, 60)
      .join('')
      .trim();
    const start = isName(plain) && /^\p{L}/u.test(plain) ? plain : `Piece ${i + 1}`;
    let k = last.get(start) ?? 1;
    let free = start;
    while (used.has(free)) free = `${start} ${++k}`;
    last.set(start, k);
    used.add(free);
    return free;
  });
}

/** Plain words stay as they are; all else goes between quotes. */
function quoted(text: string): string {
  const isPlain =
    /^[A-Za-z][A-Za-z0-9_./-]*( [A-Za-z0-9_./-]+)*$/.test(text) && !/^(true|false|null|yes|no|on|off)$/i.test(text);
  if (isPlain && !/\s$/.test(text)) return text;
  return JSON.stringify(text).replace(/[\p{C}\p{Zl}\p{Zp}]/gu, (letter) =>
    [...Array(letter.length).keys()].map((i) => `\\u${letter.charCodeAt(i).toString(16).padStart(4, '0')}`).join(''),
  );
}

/** On one line. */
function comment(text: string): string {
  return text.replace(/[\p{C}\p{Zl}\p{Zp}]/gu, ' ');
}
