/** Seams of the cut list: which edges are sewn together. Two sides that do not match are worth a warning. */
import type { Located } from '../diagnostics/types.js';
import { measureSeam, type Seam, type SeamEdge, type SeamSum, seamInWords } from '../pieces/seams.js';
import type { DeclaredPiece } from '../pieces/types.js';
import type { MapEntry, SourceNode } from '../source/types.js';
import { formatLength } from '../units/length.js';
import type { LengthUnit } from '../units/types.js';
import type { Context } from './context.js';
import { splitEdgeName } from './edge-names.js';
import { asList, asMap, itemsWithin, readKeys, readLength, readNumber, readText, refuse } from './fields.js';
import { coordinateMax, limits } from './limits.js';
import { parseRun } from './runs.js';

const seamTable = { known: ['join', 'ease', 'gather'] };
const seamForm = '{join: [[Front A-B, Back A-B], Waistband C-D]}';

/**
 * @param pieces those that could be read, or null under the names of the others
 * @returns the seams whose edges could all be found
 */
export function readSeams(
  entry: MapEntry | undefined,
  pieces: ReadonlyMap<string, DeclaredPiece | null>,
  context: Context,
): Located<Seam>[] {
  const list = entry === undefined ? null : asList(entry.value, `a list of seams [${seamForm}]`, context);
  const items =
    list === null ? [] : itemsWithin(list, limits.seams, 'seams', 'divide them into several cut lists', context);
  return items.flatMap((item, i) => {
    const own = context.about(`seam ${i + 1}`);
    const seam = readSeam(item, pieces, own);
    if (seam === null) return [];
    // A faulty piece has no lengths to trust.
    if (context.errorCount === 0) warnOfMismatch(seam, item, own);
    return [{ value: seam, place: item.place }];
  });
}

function readSeam(node: SourceNode, pieces: ReadonlyMap<string, DeclaredPiece | null>, context: Context): Seam | null {
  const map = asMap(node, seamForm, context);
  if (map === null) return null;
  const before = context.errorCount;
  const keys = readKeys(map, seamTable, context);
  const join = keys.get('join');
  if (context.errorCount > before) return null;
  if (join === undefined) return refuse(node, seamForm, context, 'seam-without-edges');
  const sides = asList(join.value, 'two sides, [Front A-B, Back A-B]', context);
  if (sides === null) return null;
  if (sides.items.length !== 2) return refuse(sides, 'two sides, [Front A-B, Back A-B]', context, 'seam-sides');
  const [first, second] = sides.items.map((side) => readSide(side, pieces, context));
  const ease = keys.get('ease');
  const range = { least: -coordinateMax, most: coordinateMax, expected: 'an ease' };
  const easeUm = ease === undefined ? 0 : readLength(ease.value, range, context);
  const gather = keys.get('gather');
  const times = { least: 0.1, most: 20, expected: 'how many times as long, such as 2' };
  const gathered = gather === undefined ? 1 : readNumber(gather.value, times, context);
  if (!first || !second || easeUm === null || gathered === null) return null;
  return { first, second, easeUm, gather: gathered };
}

function readSide(
  node: SourceNode,
  pieces: ReadonlyMap<string, DeclaredPiece | null>,
  context: Context,
): SeamEdge[] | null {
  const items = node.kind === 'list' ? node.items : [node];
  if (items.length === 0) return refuse(node, 'an edge such as Front A-B', context, 'seam-sides');
  const edges = items.map((item): SeamEdge | null => {
    const text = readText(item, 'an edge such as Front A-B', context);
    const named = text === null ? null : splitEdgeName(text, item.place, pieces, context);
    const piece = named === null ? null : pieces.get(named.piece)!;
    if (named === null || piece === null) return null;
    const run = parseRun(named.run, item.place, piece.corners, context);
    return run === null ? null : { piece, run };
  });
  return edges.includes(null) ? null : (edges as SeamEdge[]);
}

function warnOfMismatch(seam: Seam, { place }: SourceNode, context: Context): void {
  const lengths = measureSeam(seam);
  if (lengths.matches) return;
  const { first, second } = lengths;
  const what = `${seamInWords(seam, lengths, context.units)}, so they do not match`;
  const wants = [
    wanted(second, lengths.secondWanted, context.units),
    wanted(first, lengths.firstWanted, context.units),
  ];
  const twice = [countedTwice(seam, seam.first, 1), countedTwice(seam, seam.second, 2)].join('');
  context.fault('seam-mismatch', place, what, `they match with ${wants.join(', or with ')}${twice}`, 'warning');
}

/** Copies that go to both sides of the garment count twice only when they are worded as a pair. */
function countedTwice(seam: Seam, side: readonly SeamEdge[], which: 1 | 2): string {
  const [only, another] = side;
  const isEven = only?.piece.cut.every(({ terms }) =>
    terms.every(({ count, kind }) => kind !== 'pair' && count % 2 === 0),
  );
  if (only === undefined || another !== undefined || only.piece.fold !== null || !isEven) return '';
  const doubled = [only, only];
  const { matches } = measureSeam(which === 1 ? { ...seam, first: doubled } : { ...seam, second: doubled });
  return matches ? `, or when ${only.piece.id} is worded as a pair, if one goes to each side` : '';
}

/** `Waistband C-D 74.0 cm long`: what the last edge of a side would have to be. */
function wanted({ edges, sumUm }: SeamSum, wantedUm: number, units: LengthUnit): string {
  const last = edges.at(-1)!;
  const length = last.sewnUm + (wantedUm - sumUm) / last.times;
  return `${last.name} ${formatLength(Math.round(length), units)} long`;
}
