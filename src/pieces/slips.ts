/**
 * Likely slips of the pen in a piece that can be cut all the same: told as notices, never more. Limits: common practice,
 * no source.
 */
import { makeFault } from '../diagnostics/faults.js';
import type { Fault, Place } from '../diagnostics/types.js';
import { formatDecimal, formatLength } from '../units/length.js';
import type { LengthUnit, Um } from '../units/types.js';
import { edgeName } from './edge-name.js';
import { distance, lengthOf, runPoints, strayFromLine } from './grain-frame.js';
import type { DeclaredPiece } from './types.js';

/** Edges shorter than this are rarely meant: two corners on nearly one spot. */
const shortEdge: Um = 2_000;
/** A straight edge at least so long ... */
const longEdge: Um = 50_000;
/** ... that leaves the grain line's direction by this at least, and by less than one in sixty (1 degree), was meant along it. */
const leastOff: Um = 500;
const nearlyAlong = 1 / 60;
/** A fold edge that strays by more than this is drawn a little crooked; it is cut straight. */
const leastStray: Um = 100;

/** Notices about what is legal but often a slip of the pen. */
export function likelySlips(piece: DeclaredPiece, units: LengthUnit): Fault[] {
  return [...shortEdges(piece, units), ...grainBesideEdge(piece, units), ...crookedFold(piece)];
}

function notice(piece: DeclaredPiece, code: string, place: Place, what: string, fix: string): Fault {
  return makeFault(code, place, `piece "${piece.id}"`, what, fix, 'notice');
}

/** The first is told, and how many more there are: of a finely drawn outline they would hide everything else. */
function shortEdges(piece: DeclaredPiece, units: LengthUnit): Fault[] {
  const short = piece.edges.flatMap(({ points, place }, edge) => {
    const length = lengthOf(points);
    return length < shortEdge ? [{ edge, place, length }] : [];
  });
  const [first] = short;
  if (first === undefined) return [];
  // In whole units a very short edge would read as 0.
  const long = (um: Um) => formatLength(um, units === 'cm' ? 'mm' : units);
  const also =
    short.length === 1 ? '' : `, and ${short.length - 1} more of its edges are shorter than ${long(shortEdge)}`;
  const what = `edge ${edgeName(piece, first.edge)} is only ${long(Math.round(first.length))} long${also}`;
  return [notice(piece, 'edge-short', first.place, what, 'delete one of its corners if they are meant to be one')];
}

/** The grain line runs beside a long straight edge, but not quite along it; the longest such edge is told. */
function grainBesideEdge(piece: DeclaredPiece, units: LengthUnit): Fault[] {
  const { foot, head } = piece.grain.value;
  const [gx, gy] = [head[0] - foot[0], head[1] - foot[1]];
  const grain = Math.sqrt(gx * gx + gy * gy);
  const found = piece.edges.flatMap(({ points, curved }, edge) => {
    const [from, to] = [points[0]!, points.at(-1)!];
    const length = distance(from, to);
    if (curved || length < longEdge) return [];
    const [ex, ey] = [to[0] - from[0], to[1] - from[1]];
    const across = Math.abs(gx * ey - gy * ex) / grain;
    const along = Math.abs(gx * ex + gy * ey) / grain;
    const [off, way] = across <= along ? [across, 'along'] : [along, 'square to'];
    if (off < leastOff || off > nearlyAlong * length) return [];
    const name = edgeName(piece, edge);
    const by = formatLength(Math.round(off), units);
    const what = `the grain line is nearly, but not quite, ${way} edge ${name}: off by ${by} over its length`;
    return [{ length, what }];
  });
  const [longest] = found.sort((a, b) => b.length - a.length);
  if (longest === undefined) return [];
  return [notice(piece, 'grain-nearly', piece.grain.place, longest.what, 'check both against the paper')];
}

function crookedFold(piece: DeclaredPiece): Fault[] {
  if (piece.fold === null) return [];
  const { value: run, place } = piece.fold;
  const stray = strayFromLine(runPoints(piece, run));
  if (stray <= leastStray) return [];
  const what = `fold edge ${run.name} strays ${formatDecimal(stray, 1_000, 1)} mm from a straight line; it is taken as straight`;
  return [notice(piece, 'fold-nearly-straight', place, what, 'check its corners against the paper')];
}
