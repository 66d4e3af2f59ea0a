/**
 * DXF files -> pieces in true size. Two ways of drawing are understood: a block for each piece with its contents told
 * apart by numbered layers, as the practice ASTM D6673-10 (withdrawn 2019) describes; and plain closed lines.
 * The layer numbers are from memory, not from a copy of the practice; so what was taken for what is told with each piece.
 */
import { boundsOf } from '../geometry/outline.js';
import type { Point } from '../units/types.js';
import { type DxfContent, type DxfEntity, readDxfContent } from './dxf-entities.js';
import type { DxfProblem } from './dxf-groups.js';
import { type Drawn, type DrawnLine, drawEntities, makeBudget, pointsOf, ringsOf, scaledBy } from './dxf-lines.js';
import { edgesOfRing } from './ring-corners.js';
import type { PathEdge } from './svg-path.js';

export interface DxfPiece {
  readonly name: string;
  /** Other names it can be called by: its block, its layer. */
  readonly alsoCalled: readonly string[];
  /** The layer its outline lies on. */
  readonly layer: string;
  readonly line: number;
  readonly edges: readonly PathEdge[];
  /** Both ends of the mirror line. */
  readonly mirrorLine: readonly [Point, Point] | null;
  readonly grain: readonly [Point, Point] | null;
  /** Where each is drawn: a point, or both ends of a short line of which the one nearer to the edge counts. */
  readonly notches: readonly (readonly Point[])[];
  readonly awl: readonly Point[];
  readonly inner: readonly (readonly Point[])[];
  /** A seam line lies within the outline, which is the cutting line then. */
  readonly hasSeamLine: boolean;
  readonly said: DxfSaid;
  /** What was taken for what, for people. */
  readonly taken: readonly string[];
  /** What may have been misread. */
  readonly doubts: readonly string[];
}

/** What texts say of a piece. */
export interface DxfSaid {
  readonly size: string | null;
  readonly quantity: string | null;
  readonly material: string | null;
  /** All of them. */
  readonly annotations: readonly string[];
}

export interface DxfDrawing {
  /** In order of the file. */
  readonly pieces: readonly DxfPiece[];
  readonly mmPerUnit: number;
  /** Who says how long a unit is: a line of text in the drawing, its header, or nobody (then millimetres are assumed). */
  readonly unitsFrom: 'text' | 'header' | null;
  /** What may have been misread in the file as a whole. */
  readonly doubts: readonly string[];
}

/** Numbers of the layers. From memory. */
const layers = {
  boundary: [1],
  turnPoints: [2],
  notches: [4, 80, 81, 82, 83],
  mirror: [6],
  grain: [7],
  inner: [8, 11],
  drill: [13],
  seam: [14],
} as const;
type LayerUse = keyof typeof layers;

/** $INSUNITS -> millimetres: inch, foot, millimetre, centimetre, metre. From memory. */
const headerUnits: Readonly<Record<number, number>> = { 1: 25.4, 2: 304.8, 4: 1, 5: 10, 6: 1000 };
const unitWords: Readonly<Record<string, number>> = { metric: 1, english: 25.4 };

/**
 * All pieces of a file.
 * @param layer the outline lies on this layer, whatever the numbers say
 * @param scale the drawing is made so many times larger
 */
export function readDxfFile(text: string, layer: string | null = null, scale = 1): DxfDrawing | DxfProblem {
  const content = readDxfContent(text);
  if ('problem' in content) return content;
  const units = unitsOf(content);
  const umPerUnit = units.mmPerUnit * 1000 * scale;
  const isBoundary = (each: string): boolean => (layer === null ? isOn(each, 'boundary') : each === layer);
  const draws = (entity: DxfEntity): boolean => !['point', 'text', 'insert'].includes(entity.type);
  const blocks = [...content.blocks.values()].filter(({ entities }) =>
    entities.some((entity) => isBoundary(entity.layer) && draws(entity)),
  );
  const doubts = [...units.doubts];
  const budget = makeBudget();
  const pieces: DxfPiece[] = [];
  const insertions = insertionsByBlock(content);
  for (const { name, entities, base } of blocks) {
    const { scale: inserted, doubts: ofInsertion } = howInserted(name, insertions.get(name) ?? []);
    doubts.push(...ofInsertion);
    const k = umPerUnit * inserted;
    const placing = { ...scaledBy(k), at: [-base[0] * k, -base[1] * k] as const };
    const drawn = drawEntities(entities, content, placing, name, budget);
    pieces.push(...piecesOf(drawn, isBoundary, name, true, doubts));
  }
  // Beside blocks of pieces only what is drawn directly can be one more.
  const direct = pieces.length === 0 ? content.entities : content.entities.filter(draws);
  const drawn = drawEntities(direct, content, scaledBy(umPerUnit), null, budget);
  const numbered = pieces.length > 0 || drawn.lines.some((line) => isBoundary(line.layer));
  pieces.push(...piecesOf(drawn, numbered ? isBoundary : () => layer === null, null, numbered, doubts));
  for (const [kind, count] of content.leftOut) doubts.push(`${count} of kind ${cleaned(kind)} were not read`);
  return {
    pieces: named(pieces),
    mmPerUnit: units.mmPerUnit * scale,
    unitsFrom: units.from,
    doubts:
      doubts.length <= doubtsMax ? doubts : [...doubts.slice(0, doubtsMax), `${doubts.length - doubtsMax} more doubts`],
  };
}

/** As many as anybody reads. */
const doubtsMax = 30;

function isOn(layer: string, use: LayerUse): boolean {
  return /^\d+$/.test(layer) && (layers[use] as readonly number[]).includes(Number(layer));
}

/** For people and names: plain letters and signs, single blanks. */
function cleaned(text: string): string {
  const plain = text.replace(/[^\p{L}\p{N} _.,:;/()#+-]/gu, '?').replace(/\s+/g, ' ');
  return [...plain].slice(0, 60).join('').trim();
}

interface Units {
  readonly mmPerUnit: number;
  readonly from: DxfDrawing['unitsFrom'];
  readonly doubts: readonly string[];
}

function unitsOf(content: DxfContent): Units {
  const entities = [...content.entities, ...[...content.blocks.values()].flatMap((block) => block.entities)];
  const words = entities.flatMap((entity) => (entity.type === 'text' ? [sayingOf(entity.text)] : []));
  const said = words.find((each) => each?.key === 'units' && Object.hasOwn(unitWords, each.value.toLowerCase()));
  const byText = said === undefined ? null : unitWords[said!.value.toLowerCase()]!;
  const byHeader = headerUnits[content.unitCode] ?? null;
  if (byText !== null) {
    // "Metric" is millimetres by the practice; a header in centimetres or metres contradicts it.
    const other = byHeader !== null && byHeader !== byText;
    const doubts = other
      ? [`its units line says ${said!.value}, its header ${byHeader} mm: the units line was taken`]
      : [];
    return { mmPerUnit: byText, from: 'text', doubts };
  }
  if (byHeader !== null) return { mmPerUnit: byHeader, from: 'header', doubts: [] };
  return { mmPerUnit: 1, from: null, doubts: [] };
}

/** `Piece Name: Bib` -> piece name, Bib. */
function sayingOf(text: string): { readonly key: string; readonly value: string } | null {
  const match = /^\s*([A-Za-z][A-Za-z ]*?)\s*[:=]\s*(.*?)\s*$/.exec(text);
  return match === null ? null : { key: match[1]!.toLowerCase().replace(/\s+/g, ' '), value: match[2]! };
}

type Insertion = Extract<DxfEntity, { type: 'insert' }>;

function insertionsByBlock({ entities }: DxfContent): ReadonlyMap<string, readonly Insertion[]> {
  const found = new Map<string, Insertion[]>();
  for (const entity of entities) {
    if (entity.type !== 'insert') continue;
    const list = found.get(entity.block);
    if (list === undefined) found.set(entity.block, [entity]);
    else list.push(entity);
  }
  return found;
}

/** By what all insertions enlarge a block, 1 when nothing inserts it; and what of them was not followed. */
function howInserted(
  name: string,
  insertions: readonly Insertion[],
): { readonly scale: number; readonly doubts: readonly string[] } {
  const sizes = insertions.map(({ scale: [x, y] }) => [Math.abs(x), Math.abs(y)] as const);
  const [[wide, high] = [1, 1]] = sizes;
  const isEven = wide === high && wide !== 0;
  const isOne = isEven && sizes.every(([x, y]) => x === wide && y === wide);
  const isMirrored = insertions.some(({ scale: [x, y] }) => x * y < 0);
  const block = `block "${cleaned(name)}"`;
  return {
    scale: isOne ? wide : 1,
    doubts: [
      ...(isOne
        ? []
        : [`${block} is inserted ${isEven ? 'at several scales' : 'with unequal scales'}: it was read at its own`]),
      ...(isMirrored ? [`${block} is inserted mirrored: it was read as the block itself draws it`] : []),
    ],
  };
}

/**
 * Pieces of what one block (or the whole drawing) draws.
 * @param numbered layers are told apart by their numbers; else every closed line is a piece
 */
function piecesOf(
  drawn: Drawn,
  isBoundary: (layer: string) => boolean,
  block: string | null,
  numbered: boolean,
  doubts: string[],
): DxfPiece[] {
  const { rings, open } = ringsOf(drawn.lines.filter(({ layer }) => isBoundary(layer)));
  const where = block === null ? '' : `block "${cleaned(block)}": `;
  doubts.push(...drawn.passedOver.slice(0, 10).map(({ why, line }) => `${where}line ${line}: ${why}`));
  const outlines = rings.filter(({ segments }) => enclosesSomething(segments));
  if (outlines.length === 0 && block !== null) {
    const why = open[0] === undefined ? 'nothing on its boundary layer encloses anything' : gapOf(open[0]);
    doubts.push(`${where}it has no closed outline; ${why}`);
  } else if (open.length > 0 && numbered) {
    doubts.push(
      `${where}${open.length} lines on its boundary layer do not close and were left out; ${gapOf(open[0]!)}`,
    );
  } else if (open.length > 0) {
    doubts.push(`${where}${open.length} lines do not close and were left out`);
  }
  // Marks belong to the one piece of a block; in a flat drawing nobody says to which.
  const alone = outlines.length === 1;
  return outlines.map((ring): DxfPiece => {
    const marks = alone && numbered ? marksOf(drawn) : noMarks;
    const said = alone ? saidOf(drawn) : nothingSaid;
    const corners = alone ? drawn.points.filter(({ layer }) => isOn(layer, 'turnPoints')).map(({ at }) => at) : [];
    const own = block ?? ring.block;
    const names = [said.name, own === null ? null : own, ring.layer].filter((name) => name !== null && name !== '');
    const loose = numbered && !alone && drawn.lines.length > outlines.length;
    return {
      name: names[0] ?? 'Piece',
      alsoCalled: names.slice(1) as string[],
      layer: ring.layer,
      line: ring.line,
      edges: edgesOfRing(ring.segments, corners),
      ...marks,
      said,
      taken: [`outline from layer ${cleaned(ring.layer)}`, ...marks.taken],
      doubts: [
        ...marks.doubts,
        ...(loose ? ['other lines beside it were not taken: nobody says which piece they belong to'] : []),
      ],
    };
  });
}

/** Not a line there and back. */
function enclosesSomething(segments: readonly PathEdge[]): boolean {
  const ring = segments.flatMap(({ points }) => points.slice(0, -1));
  let twice = 0;
  ring.forEach(([x, y], i) => {
    const [nextX, nextY] = ring[(i + 1) % ring.length]!;
    twice += x * nextY - nextX * y;
  });
  return ring.length >= 3 && twice !== 0;
}

function gapOf({ segments, line }: DrawnLine): string {
  const [from, to] = [segments[0]!.points[0]!, segments.at(-1)!.points.at(-1)!];
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const gap = Math.round(Math.sqrt(dx * dx + dy * dy) / 10) / 100;
  return `the ends of the line at ${line} lie ${gap} mm apart`;
}

type Marks = Pick<DxfPiece, 'mirrorLine' | 'grain' | 'notches' | 'awl' | 'inner' | 'hasSeamLine' | 'taken' | 'doubts'>;

const noMarks: Marks = {
  mirrorLine: null,
  grain: null,
  notches: [],
  awl: [],
  inner: [],
  hasSeamLine: false,
  taken: [],
  doubts: [],
};

function marksOf({ lines, points }: Drawn): Marks {
  const on = (use: LayerUse) => lines.filter(({ layer }) => isOn(layer, use));
  const pointsOn = (use: LayerUse) => points.filter(({ layer }) => isOn(layer, use)).map(({ at }) => at);
  const [mirror, grain] = [on('mirror'), on('grain')];
  const notches = [...pointsOn('notches').map((at) => [at]), ...on('notches').map(endsOf)];
  const drills = [...pointsOn('drill'), ...on('drill').map(middleOf)];
  const inner = on('inner').map(({ segments }) => pointsOf(segments));
  const cutouts = on('inner').filter(({ layer }) => Number(layer) === 11).length;
  const taken = [
    ...(mirror.length > 0 ? ['mirror line (fold) from layer 6'] : []),
    ...(grain.length > 0 ? ['grain line from layer 7, its head where the line ends'] : []),
    ...(notches.length > 0 ? [`notches from layers 4 and 80 to 83: ${notches.length}`] : []),
    ...(drills.length > 0 ? [`awl points from layer 13: ${drills.length}`] : []),
    ...(inner.length > 0 ? [`inner lines from layers 8 and 11: ${inner.length}`] : []),
  ];
  const doubts = [
    ...(mirror.length > 1 ? [`it has ${mirror.length} mirror lines: the first was taken`] : []),
    ...(grain.length > 1 ? [`it has ${grain.length} grain lines: the first was taken`] : []),
    ...(cutouts > 0 ? ['its cut-outs (layer 11) are only drawn: cut them by hand; nothing is laid there'] : []),
  ];
  return {
    mirrorLine: mirror[0] === undefined ? null : endsOf(mirror[0]),
    grain: grain[0] === undefined ? null : endsOf(grain[0]),
    notches,
    awl: drills,
    inner,
    hasSeamLine: on('seam').length > 0,
    taken,
    doubts,
  };
}

function endsOf({ segments }: DrawnLine): [Point, Point] {
  return [segments[0]!.points[0]!, segments.at(-1)!.points.at(-1)!];
}

/** Of a small circle or cross, its middle. */
function middleOf({ segments }: DrawnLine): Point {
  const { minX, minY, maxX, maxY } = boundsOf(pointsOf(segments));
  return [Math.round((minX + maxX) / 2) + 0, Math.round((minY + maxY) / 2) + 0];
}

const nothingSaid = { name: null, size: null, quantity: null, material: null, annotations: [] };

function saidOf({ texts }: Drawn): DxfSaid & { readonly name: string | null } {
  const sayings = texts.flatMap(({ text }) => sayingOf(text) ?? []);
  const find = (key: string): string | null => {
    const value = sayings.find((saying) => saying.key === key)?.value ?? '';
    return value === '' ? null : cleaned(value);
  };
  return {
    name: find('piece name'),
    size: find('size'),
    quantity: find('quantity'),
    material: find('material'),
    annotations: sayings.flatMap(({ key, value }) => (key === 'annotation' && value !== '' ? [cleaned(value)] : [])),
  };
}

/** Each by a name that no other has: of those alike, all but the first are numbered. */
function named(pieces: readonly DxfPiece[]): DxfPiece[] {
  const used = new Set<string>();
  const last = new Map<string, number>();
  return pieces.map((piece) => {
    const candidates = [piece.name, ...piece.alsoCalled].map(cleaned).filter((name) => name !== '');
    const first = candidates[0] ?? 'Piece';
    let name = candidates.find((each) => !used.has(each)) ?? first;
    let k = last.get(first) ?? 1;
    while (used.has(name)) name = `${first} ${++k}`;
    last.set(first, k);
    used.add(name);
    return { ...piece, name };
  });
}
