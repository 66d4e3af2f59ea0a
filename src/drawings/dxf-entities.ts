/**
 * DXF groups -> what is drawn, entity by entity, in the file's own units: lines, arcs, circles, ellipses, polylines of
 * both kinds with their bulges, splines, points, texts, and insertions of blocks. Everything else is left out and counted.
 */
import { type DxfGroup, type DxfProblem, numberOf, readDxfGroups } from './dxf-groups.js';
import { drawingLimits } from './limits.js';

export type Xy = readonly [number, number];

interface Common {
  readonly layer: string;
  readonly line: number;
}

export interface DxfVertex {
  readonly at: Xy;
  /** Tangent of a quarter of the angle of the arc to the next vertex, above 0 counter-clockwise; 0 = straight. */
  readonly bulge: number;
}

export type DxfEntity = Common &
  (
    | { readonly type: 'polyline'; readonly vertices: readonly DxfVertex[]; readonly closed: boolean }
    | {
        readonly type: 'arc';
        readonly centre: Xy;
        readonly radius: number;
        readonly degrees: readonly [number, number];
      }
    | {
        readonly type: 'ellipse';
        readonly centre: Xy;
        /** From the centre to an end of the longer axis. */
        readonly axis: Xy;
        readonly ratio: number;
        /** Parameters where it begins and ends, in degrees. */
        readonly degrees: readonly [number, number];
      }
    | {
        readonly type: 'spline';
        readonly degree: number;
        readonly knots: readonly number[];
        readonly controls: readonly Xy[];
        readonly weights: readonly number[];
        readonly through: readonly Xy[];
        readonly closed: boolean;
      }
    | { readonly type: 'point'; readonly at: Xy }
    | { readonly type: 'text'; readonly at: Xy; readonly text: string }
    | {
        readonly type: 'insert';
        readonly block: string;
        readonly at: Xy;
        readonly scale: Xy;
        readonly degrees: number;
        /** Columns and rows of insertions, and how far they are apart. */
        readonly array: { readonly counts: readonly [number, number]; readonly apart: Xy };
      }
  );

export interface DxfBlock {
  readonly name: string;
  readonly base: Xy;
  readonly entities: readonly DxfEntity[];
  readonly line: number;
}

export interface DxfContent {
  /** $INSUNITS of the header; 0 = it says nothing. */
  readonly unitCode: number;
  readonly blocks: ReadonlyMap<string, DxfBlock>;
  readonly entities: readonly DxfEntity[];
  /** Kinds of entity that are not read, and how many of each. */
  readonly leftOut: ReadonlyMap<string, number>;
}

/** One entity's groups; vertices of an old polyline are kept with it. */
interface Raw {
  readonly kind: string;
  readonly line: number;
  readonly groups: readonly DxfGroup[];
}

/** Drawings of pieces stay far below these; limits on the work. */
const entitiesMax = drawingLimits.entities;

/** Reads a whole file. */
export function readDxfContent(text: string): DxfContent | DxfProblem {
  const groups = readDxfGroups(text);
  if ('problem' in groups) return groups;
  const first = groups[0]!;
  if (first.code !== 0 || first.value !== 'SECTION') {
    return { problem: 'it does not begin with a section, as a DXF file does', line: first.line };
  }
  const reader = new Reader();
  for (const section of sectionsOf(groups)) {
    if (section.name === 'HEADER') reader.readHeader(section.groups);
    else if (section.name === 'BLOCKS') reader.readBlocks(rawsOf(section.groups));
    else if (section.name === 'ENTITIES')
      for (const entity of reader.read(rawsOf(section.groups))) reader.entities.push(entity);
    if (reader.fault !== null) return reader.fault;
  }
  const { unitCode, blocks, entities, leftOut } = reader;
  return { unitCode, blocks, entities, leftOut };
}

interface Section {
  readonly name: string;
  readonly groups: readonly DxfGroup[];
}

/** Sections by name; one that is cut short goes to the end of the file. */
function sectionsOf(groups: readonly DxfGroup[]): Section[] {
  const sections: Section[] = [];
  let open: DxfGroup[] | null = null;
  groups.forEach((group, i) => {
    if (group.code === 0 && group.value === 'SECTION') {
      open = [];
      const name = groups[i + 1]?.code === 2 ? groups[i + 1]!.value : '';
      sections.push({ name, groups: open });
    } else if (group.code === 0 && (group.value === 'ENDSEC' || group.value === 'EOF')) {
      open = null;
    } else {
      open?.push(group);
    }
  });
  return sections;
}

function rawsOf(groups: readonly DxfGroup[]): Raw[] {
  const raws: { kind: string; line: number; groups: DxfGroup[] }[] = [];
  for (const group of groups) {
    if (group.code === 0) raws.push({ kind: group.value, line: group.line, groups: [] });
    else raws.at(-1)?.groups.push(group);
  }
  return raws;
}

class Reader {
  unitCode = 0;
  readonly blocks = new Map<string, DxfBlock>();
  readonly entities: DxfEntity[] = [];
  readonly leftOut = new Map<string, number>();
  count = 0;
  fault: DxfProblem | null = null;

  readHeader(groups: readonly DxfGroup[]): void {
    groups.forEach(({ code, value }, i) => {
      if (code !== 9 || value !== '$INSUNITS') return;
      const next = groups[i + 1];
      this.unitCode = next === undefined ? 0 : (numberOf(next) ?? 0);
    });
  }

  readBlocks(raws: readonly Raw[]): void {
    for (let i = 0; i < raws.length; i++) {
      const head = raws[i]!;
      if (head.kind !== 'BLOCK') continue;
      let end = i + 1;
      while (end < raws.length && raws[end]!.kind !== 'ENDBLK' && raws[end]!.kind !== 'BLOCK') end++;
      const inside = raws.slice(i + 1, end);
      const name = textOf(head, 2) ?? '';
      const base: Xy = [this.number(head, 10, 0), this.number(head, 20, 0)];
      // A file that gives a name twice means the first.
      if (!this.blocks.has(name)) this.blocks.set(name, { name, base, entities: this.read(inside), line: head.line });
      i += inside.length;
    }
  }

  read(raws: readonly Raw[]): DxfEntity[] {
    const found: DxfEntity[] = [];
    for (let i = 0; i < raws.length; i++) {
      const raw = raws[i]!;
      if (++this.count > entitiesMax) {
        this.fault ??= { problem: `it has more than ${entitiesMax} entities`, line: raw.line };
        break;
      }
      if (raw.kind === 'POLYLINE') {
        let end = i + 1;
        while (raws[end]?.kind === 'VERTEX') end++;
        found.push(this.oldPolyline(raw, raws.slice(i + 1, end)));
        i = raws[end]?.kind === 'SEQEND' ? end : end - 1;
        continue;
      }
      const entity = this.entityOf(raw);
      if (entity !== null) found.push(entity);
      else if (!unmentioned.has(raw.kind)) this.leftOut.set(raw.kind, (this.leftOut.get(raw.kind) ?? 0) + 1);
    }
    return found;
  }

  private entityOf(raw: Raw): DxfEntity | null {
    const common = commonOf(raw);
    // Drawn on the back of the paper: some kinds count x the other way then.
    const back = this.number(raw, 230, 1) < 0;
    const onBack = ([x, y]: Xy): Xy => (back ? [0 - x, y] : [x, y]);
    switch (raw.kind) {
      case 'LINE': {
        const vertices = [this.xy(raw, 10), this.xy(raw, 11)].map((at) => ({ at, bulge: 0 }));
        return { ...common, type: 'polyline', vertices, closed: false };
      }
      case 'LWPOLYLINE':
        return { ...common, type: 'polyline', ...turnedOver(this.lightPolyline(raw), back) };
      case 'ARC': {
        const [from, to] = [this.number(raw, 50, 0), this.number(raw, 51, 360)];
        const degrees = back ? ([180 - to, 180 - from] as const) : ([from, to] as const);
        return { ...common, type: 'arc', centre: onBack(this.xy(raw, 10)), radius: this.number(raw, 40, 0), degrees };
      }
      case 'CIRCLE':
        return {
          ...common,
          type: 'arc',
          centre: onBack(this.xy(raw, 10)),
          radius: this.number(raw, 40, 0),
          degrees: [0, 360],
        };
      case 'ELLIPSE': {
        const perRadian = 180 / Math.PI;
        const degrees = [this.number(raw, 41, 0) * perRadian, this.number(raw, 42, 2 * Math.PI) * perRadian] as const;
        const [centre, axis, ratio] = [this.xy(raw, 10), this.xy(raw, 11), this.number(raw, 40, 1)];
        return { ...common, type: 'ellipse', centre, axis, ratio: back ? -ratio : ratio, degrees };
      }
      case 'SPLINE': {
        const flags = this.number(raw, 70, 0);
        return {
          ...common,
          type: 'spline',
          degree: this.number(raw, 71, 3),
          knots: this.numbers(raw, 40),
          controls: this.xys(raw, 10),
          weights: this.numbers(raw, 41),
          through: this.xys(raw, 11),
          closed: flags % 2 === 1,
        };
      }
      case 'POINT':
        return { ...common, type: 'point', at: this.xy(raw, 10) };
      case 'TEXT':
      case 'MTEXT':
      case 'ATTRIB': {
        const text = raw.groups.filter(({ code }) => code === 3 || code === 1).map(({ value }) => value);
        return { ...common, type: 'text', at: this.xy(raw, 10), text: plainText(text.join('')) };
      }
      case 'INSERT': {
        const [sx, sy, degrees] = [this.number(raw, 41, 1), this.number(raw, 42, 1), this.number(raw, 50, 0)];
        const many = (code: number): number => Math.max(1, Math.round(this.number(raw, code, 1)));
        const apart: Xy = [this.number(raw, 44, 0), this.number(raw, 45, 0)];
        return {
          ...common,
          type: 'insert',
          block: textOf(raw, 2) ?? '',
          at: onBack(this.xy(raw, 10)),
          scale: back ? [0 - sx, sy] : [sx, sy],
          degrees: back ? 0 - degrees : degrees,
          array: { counts: [many(70), many(71)], apart: onBack(apart) },
        };
      }
      default:
        return null;
    }
  }

  private lightPolyline(raw: Raw) {
    const vertices: { at: Xy; bulge: number }[] = [];
    for (const group of raw.groups) {
      const last = vertices.at(-1);
      if (group.code === 10) vertices.push({ at: [this.value(group), 0], bulge: 0 });
      else if (group.code === 20 && last !== undefined) last.at = [last.at[0], this.value(group)];
      else if (group.code === 42 && last !== undefined) last.bulge = this.value(group);
    }
    return { vertices, closed: this.number(raw, 70, 0) % 2 === 1 };
  }

  /** Vertices of the frame of a fitted spline (flag 16) are no part of the line. */
  private oldPolyline(raw: Raw, vertices: readonly Raw[]): DxfEntity {
    const drawn = vertices.filter((vertex) => Math.floor(this.number(vertex, 70, 0) / 16) % 2 === 0);
    const line = {
      vertices: drawn.map((vertex) => ({ at: this.xy(vertex, 10), bulge: this.number(vertex, 42, 0) })),
      closed: this.number(raw, 70, 0) % 2 === 1,
    };
    return { ...commonOf(raw), type: 'polyline', ...turnedOver(line, this.number(raw, 230, 1) < 0) };
  }

  private xy(raw: Raw, code: number): Xy {
    return [this.number(raw, code, 0), this.number(raw, code + 10, 0)];
  }

  private xys(raw: Raw, code: number): Xy[] {
    const xs = this.numbers(raw, code);
    const ys = this.numbers(raw, code + 10);
    return xs.map((x, i) => [x, ys[i] ?? 0]);
  }

  private numbers(raw: Raw, code: number): number[] {
    return raw.groups.filter((group) => group.code === code).map((group) => this.value(group));
  }

  private number(raw: Raw, code: number, otherwise: number): number {
    const group = raw.groups.find((each) => each.code === code);
    return group === undefined ? otherwise : this.value(group);
  }

  private value(group: DxfGroup): number {
    const number = numberOf(group);
    if (number === null) {
      const shown = group.value.replace(/[^\x20-\x7E]/g, '?').slice(0, 30);
      this.fault ??= { problem: `found "${shown}" where a number should be`, line: group.line };
    }
    return number ?? 0;
  }
}

interface Polyline {
  readonly vertices: readonly DxfVertex[];
  readonly closed: boolean;
}

function turnedOver({ vertices, closed }: Polyline, isOver: boolean): Polyline {
  if (!isOver) return { vertices, closed };
  return { vertices: vertices.map(({ at: [x, y], bulge }) => ({ at: [0 - x, y], bulge: 0 - bulge })), closed };
}

/** Kinds that draw nothing. */
const unmentioned = new Set(['SEQEND', 'VERTEX', 'ENDBLK', 'BLOCK', 'ATTDEF', 'VIEWPORT']);

function commonOf(raw: Raw): Common {
  return { layer: textOf(raw, 8) ?? '0', line: raw.line };
}

function textOf(raw: Raw, code: number): string | null {
  return raw.groups.find((group) => group.code === code)?.value ?? null;
}

/** Text without the codes for its look. */
function plainText(text: string): string {
  return text
    .replace(/%%[uoUO]/g, '')
    .replace(/\\P/g, ' ')
    .replace(/\\[A-Za-z][^;\\]*;/g, '')
    .replace(/[{}]/g, '')
    .trim();
}
