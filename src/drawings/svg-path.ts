/**
 * SVG path data (SVG 1.1, chapter 8) -> one closed ring of corners and edges, y turned up. The only home of the
 * svgpath library, which parses and makes commands absolute; curves are flattened by our own geometry.
 */
import SvgPath from 'svgpath';
import { flattenCubic, flattenEllipticalArc, flattenQuadratic } from '../geometry/curves.js';
import type { Point, Um } from '../units/types.js';
import { drawingLimits, drawingReachMax } from './limits.js';

/** The edge that leaves a corner for the next one, both ends included. */
export interface PathEdge {
  readonly points: readonly Point[];
  readonly curved: boolean;
}

export type PathAnswer = { readonly edges: readonly PathEdge[] } | { readonly problem: string };

const commandsMax = drawingLimits.pathCommands;

/**
 * Reads one closed path.
 * @param text path data, y down as its standard says
 * @param umPerUnit micrometres in one unit of the path's numbers, once transformed
 * @param page of a drawing: its transform list, and the height from whose foot y is counted
 * @returns edges in path order, y up; or what is wrong with the text
 */
export function readPathData(
  text: string,
  umPerUnit: number,
  page: { readonly transform: string; readonly heightMm: number } | null = null,
): PathAnswer {
  const path = new SvgPath(text) as InstanceType<typeof SvgPath> & {
    readonly err: string;
    readonly segments: Segment[];
  };
  if (path.err !== '') return { problem: path.err.replace(/^SvgPath: /, '') };
  path.abs().unshort();
  // The library transforms when it next goes over its segments.
  if (page !== null) path.transform(page.transform).iterate(() => undefined);
  const { segments } = path;
  if (segments.length === 0) return { problem: 'the path is empty' };
  if (segments.length > commandsMax)
    return { problem: `the path has ${segments.length} commands, at most ${commandsMax} are read` };
  if (segments.at(-1)![0] !== 'Z' && segments.at(-1)![0] !== 'z')
    return { problem: 'the path is not closed: end it with Z' };
  const breaks = segments.slice(1, -1).some(([command]) => command === 'M' || command === 'Z' || command === 'z');
  if (breaks) return { problem: 'the path has more than one part; a piece is one closed outline' };
  return collectEdges(segments, umPerUnit, page === null ? 0 : Math.round(page.heightMm * 1_000));
}

type Segment = [string, ...number[]];

function collectEdges(segments: readonly Segment[], umPerUnit: number, heightUm: Um): PathAnswer {
  // Rounded once; y down becomes y up, and minus zero zero.
  const place = (x: number, y: number): Point => [Math.round(x * umPerUnit) + 0, heightUm - Math.round(y * umPerUnit)];
  const edges: PathEdge[] = [];
  const [, startX = 0, startY = 0] = segments[0]!;
  let current = place(startX, startY);
  let [x, y]: [number, number] = [startX, startY];
  const start = current;
  for (const [command, ...n] of segments.slice(1, -1)) {
    const end: [number, number] = command === 'H' ? [n[0]!, y] : command === 'V' ? [x, n[0]!] : [n.at(-2)!, n.at(-1)!];
    const to = place(...end);
    const edge = nearEnough(to) ? edgeOf(command, n, current, to, place, umPerUnit) : null;
    if (edge === null || !edge.points.every(nearEnough)) {
      return { problem: 'it goes farther than 20 m from the origin' };
    }
    if (edge.points.length > 1) edges.push(edge);
    [x, y] = end;
    current = to;
  }
  if (current[0] !== start[0] || current[1] !== start[1]) edges.push({ points: [current, start], curved: false });
  if (edges.length < 2) return { problem: 'the path encloses nothing' };
  return { edges };
}

/** False also for what is no number: an endless control point or radius. */
function nearEnough([x, y]: Point): boolean {
  return Math.abs(x) <= drawingReachMax && Math.abs(y) <= drawingReachMax;
}

function edgeOf(
  command: string,
  n: readonly number[],
  from: Point,
  to: Point,
  place: (x: number, y: number) => Point,
  umPerUnit: number,
): PathEdge {
  switch (command) {
    case 'C':
      return { points: flattenCubic(from, place(n[0]!, n[1]!), place(n[2]!, n[3]!), to), curved: true };
    case 'Q':
      return { points: flattenQuadratic(from, place(n[0]!, n[1]!), to), curved: true };
    case 'A': {
      const radii = [n[0]! * umPerUnit, n[1]! * umPerUnit] as const;
      // Turning y up turns the tilt and the sweep round. (The library mirrors flags into texts, '0' and '1'.)
      const points = flattenEllipticalArc(from, to, radii, -n[2]!, Number(n[3]) === 1, Number(n[4]) === 0);
      return { points, curved: points.length > 2 };
    }
    default:
      return { points: from[0] === to[0] && from[1] === to[1] ? [from] : [from, to], curved: false };
  }
}
