/**
 * SVG files (SVG 1.1) -> closed outlines in true size, y up with 0 at the bottom of the page: paths, polygons, rects,
 * circles and ellipses with the transforms of all their groups, viewBox and physical units. Nothing else of the file
 * counts, nothing in it is run, and nothing it points to is fetched.
 */
import { drawingLimits } from './limits.js';
import { type PathEdge, readPathData } from './svg-path.js';
import { readXmlTree, type XmlNode, type XmlProblem } from './xml-tree.js';

/** An element that draws a closed outline. */
export interface SvgOutline {
  readonly id: string | null;
  /** Ids and labels of the groups it stands in, the innermost last. */
  readonly groups: readonly string[];
  readonly edges: readonly PathEdge[];
  readonly line: number;
  readonly column: number;
}

export interface SvgDrawing {
  /** In document order. */
  readonly outlines: readonly SvgOutline[];
  /** Elements that draw something which is no closed outline, and why. */
  readonly passedOver: readonly { readonly id: string | null; readonly why: string; readonly line: number }[];
  /** Size of the page in millimetres, and whether the file says it (else a unit is taken as 1/96 inch). */
  readonly pageMm: readonly [number, number];
  readonly sizeIsGiven: boolean;
}

/** CSS absolute units in user units (1/96 inch). */
const userUnits: Readonly<Record<string, number>> = {
  '': 1,
  px: 1,
  mm: 96 / 25.4,
  cm: 960 / 25.4,
  in: 96,
  pt: 96 / 72,
  pc: 16,
};
const mmPerUserUnit = 25.4 / 96;
/** Drawn only where something uses them. */
const unseen = new Set(['defs', 'symbol', 'clipPath', 'mask', 'marker', 'pattern', 'linearGradient', 'metadata']);
const usesMax = drawingLimits.uses;

/** All closed outlines of a file, or the first thing that keeps it from being read. */
export function readSvgFile(text: string, scale = 1): SvgDrawing | XmlProblem {
  const root = readXmlTree(text);
  if ('problem' in root) return root;
  if (root.name !== 'svg') return at(root, `its first element is "${root.name}", not "svg"`);
  const page = pageOf(root);
  if ('problem' in page) return page;
  const drawing = { outlines: [] as SvgOutline[], passedOver: [] as SvgDrawing['passedOver'][number][] };
  const byId = new Map<string, XmlNode>();
  collectIds(root, byId);
  let uses = 0;
  const visit = (
    node: XmlNode,
    transforms: readonly string[],
    groups: readonly string[],
    used: readonly XmlNode[],
  ): void => {
    if (unseen.has(node.name) && used.at(-1) !== node) return;
    if (/(^|;)\s*display\s*:\s*none/.test(node.attributes.get('style') ?? '')) return;
    if (node.attributes.get('display') === 'none') return;
    const own = node.attributes.get('transform');
    const all = own === undefined ? transforms : [...transforms, own];
    if (node.name === 'use') {
      const target = byId.get((node.attributes.get('href') ?? '').replace(/^#/, ''));
      // What lies in another file, or in itself, is not drawn.
      if (target === undefined || used.includes(target)) return;
      if (++uses > usesMax) {
        const why = `more than ${usesMax} times something is used in it; the rest is left out`;
        if (uses === usesMax + 1) drawing.passedOver.push({ id: null, why, line: node.line });
        return;
      }
      const [x, y] = [number(node, 'x') ?? 0, number(node, 'y') ?? 0];
      visit(target, [...all, `translate(${x} ${y})`], groupsWith(node, groups), [...used, target]);
      return;
    }
    const data = dataOf(node);
    if (data !== null) {
      addOutline(drawing, node, data, [page.matrix(scale), ...all], page.heightMm * scale, groups);
      return;
    }
    for (const child of node.children) visit(child, all, groupsWith(node, groups), used);
  };
  for (const child of root.children) visit(child, [], [], []);
  return { ...drawing, pageMm: [page.widthMm * scale, page.heightMm * scale], sizeIsGiven: page.isGiven };
}

function at({ line, column }: XmlNode, problem: string): XmlProblem {
  return { problem, line, column };
}

function collectIds(node: XmlNode, byId: Map<string, XmlNode>): void {
  const id = node.attributes.get('id');
  if (id !== undefined && !byId.has(id)) byId.set(id, node);
  for (const child of node.children) collectIds(child, byId);
}

function groupsWith(node: XmlNode, groups: readonly string[]): readonly string[] {
  const names = ['id', 'label'].flatMap((key) => node.attributes.get(key) ?? []);
  return names.length === 0 ? groups : [...groups, ...names];
}

interface PageFrame {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly isGiven: boolean;
  /** User units of the drawing -> millimetres on the page, times a scale. */
  readonly matrix: (scale: number) => string;
}

function pageOf(root: XmlNode): PageFrame | XmlProblem {
  const box = (root.attributes.get('viewBox') ?? '')
    .trim()
    .split(/[\s,]+/)
    .map(Number);
  const hasBox = box.length === 4 && box.every(Number.isFinite) && box[2]! > 0 && box[3]! > 0;
  if (root.attributes.has('viewBox') && !hasBox) return at(root, 'its viewBox is not four numbers with a size above 0');
  const [minX, minY, boxWide, boxHigh] = hasBox ? (box as [number, number, number, number]) : [0, 0, 0, 0];
  const wide = number(root, 'width');
  const high = number(root, 'height');
  const width = wide ?? (hasBox ? (high === null ? boxWide : (high * boxWide) / boxHigh) : 0);
  const height = high ?? (hasBox ? (wide === null ? boxHigh : (wide * boxHigh) / boxWide) : 0);
  const [sx, sy] = hasBox ? [width / boxWide, height / boxHigh] : [1, 1];
  const keeps = (root.attributes.get('preserveAspectRatio') ?? '').trim() !== 'none';
  const [ux, uy] = keeps ? [Math.min(sx, sy), Math.min(sx, sy)] : [sx, sy];
  // Centred where the page has another shape than the box.
  const [left, top] = hasBox
    ? [(width - ux * boxWide) / 2 - ux * minX, (height - uy * boxHigh) / 2 - uy * minY]
    : [0, 0];
  const isGiven = /(mm|cm|in|pt|pc)\s*$/.test(root.attributes.get('width') ?? root.attributes.get('height') ?? '');
  return {
    widthMm: width * mmPerUserUnit,
    heightMm: height * mmPerUserUnit,
    isGiven,
    matrix: (scale) => {
      const k = mmPerUserUnit * scale;
      return `matrix(${k * ux} 0 0 ${k * uy} ${k * left} ${k * top})`;
    },
  };
}

/** A length in user units; null where there is none, or one in percent. */
function number(node: XmlNode, key: string): number | null {
  const match = /^\s*([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)\s*(px|mm|cm|in|pt|pc|)\s*$/.exec(
    node.attributes.get(key) ?? '',
  );
  if (match === null) return null;
  const value = Number(match[1]) * userUnits[match[2]!]!;
  return Number.isFinite(value) ? value : null;
}

/** Path data of what an element draws; null when it draws nothing of its own. */
function dataOf(node: XmlNode): string | null {
  const value = (key: string): number => number(node, key) ?? 0;
  switch (node.name) {
    case 'path':
      return node.attributes.get('d') ?? '';
    case 'polygon':
    case 'polyline': {
      const points = (node.attributes.get('points') ?? '').trim();
      return points === '' ? '' : `M ${points}${node.name === 'polygon' ? ' Z' : ''}`;
    }
    case 'rect':
      return rectData(value('x'), value('y'), value('width'), value('height'), number(node, 'rx'), number(node, 'ry'));
    case 'circle':
      return ellipseData(value('cx'), value('cy'), value('r'), value('r'));
    case 'ellipse':
      return ellipseData(value('cx'), value('cy'), value('rx'), value('ry'));
    default:
      return null;
  }
}

function rectData(x: number, y: number, w: number, h: number, rx: number | null, ry: number | null): string {
  if (w <= 0 || h <= 0) return '';
  const a = Math.min(w / 2, rx ?? ry ?? 0);
  const b = Math.min(h / 2, ry ?? rx ?? 0);
  if (a <= 0 || b <= 0) return `M${x} ${y} H${x + w} V${y + h} H${x} Z`;
  const arc = (toX: number, toY: number): string => `A${a} ${b} 0 0 1 ${toX} ${toY}`;
  return [
    `M${x + a} ${y} H${x + w - a} ${arc(x + w, y + b)} V${y + h - b} ${arc(x + w - a, y + h)}`,
    `H${x + a} ${arc(x, y + h - b)} V${y + b} ${arc(x + a, y)} Z`,
  ].join(' ');
}

function ellipseData(x: number, y: number, rx: number, ry: number): string {
  if (rx <= 0 || ry <= 0) return '';
  const arc = (toX: number, toY: number): string => `A${rx} ${ry} 0 0 1 ${toX} ${toY}`;
  return `M${x + rx} ${y} ${arc(x, y + ry)} ${arc(x - rx, y)} ${arc(x, y - ry)} ${arc(x + rx, y)} Z`;
}

function addOutline(
  drawing: { outlines: SvgOutline[]; passedOver: SvgDrawing['passedOver'][number][] },
  node: XmlNode,
  data: string,
  transforms: readonly string[],
  heightMm: number,
  groups: readonly string[],
): void {
  const id = node.attributes.get('id') ?? null;
  if (transforms.some(flattens)) {
    drawing.passedOver.push({ id, why: 'a transform leaves nothing of it', line: node.line });
    return;
  }
  const read = readPathData(data, 1_000, { transform: transforms.join(' '), heightMm });
  if ('problem' in read) drawing.passedOver.push({ id, why: read.problem, line: node.line });
  else drawing.outlines.push({ id, groups, edges: read.edges, line: node.line, column: node.column });
}

/** A matrix or scale that leaves a line or a point. */
function flattens(transform: string): boolean {
  return [...transform.matchAll(/(matrix|scale)\s*\(([^)]*)\)/g)].some(([, kind, list = '']) => {
    const [a = 1, b = a, c = 0, d = 0] = list
      .trim()
      .split(/[\s,]+/)
      .map(Number);
    return kind === 'scale' ? a * b === 0 : a * d - b * c === 0;
  });
}
