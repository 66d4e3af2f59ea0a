/**
 * Everything that can be wrong with one declared piece, all at once: its outline, fold edge, grain line, marks
 * and wording, then whether it can be cut from each of its materials. Also notices of how wordings were read.
 */
import { hasErrors, makeFault } from '../diagnostics/faults.js';
import type { Fault, Place, Severity } from '../diagnostics/types.js';
import { containsPoint, firstCrossing, twiceArea } from '../geometry/outline.js';
import { formatLength } from '../units/length.js';
import type { LengthUnit, Point, Um } from '../units/types.js';
import { allowancesFor, makeCutPiece } from './cut-piece.js';
import { distance, foldTolerance, grainFrame, lengthOf, runPoints, strayFromLine } from './grain-frame.js';
import { seamLengthOf } from './marks.js';
import { isOwnMirrorImage } from './mirror-image.js';
import type { DeclaredPiece, MaterialCut } from './types.js';

/** A grain line shorter than this gives no direction to trust. Common practice, no source. */
const grainLengthMin: Um = 10_000;
/** Less area than this (1 mm x 1 mm) is a slip of the pen. */
const areaMinUm2 = 1_000_000;

/**
 * @param units for the wording of lengths
 * @returns errors, warnings and notices; no error means that `makeCutPiece` succeeds for every material
 */
export function checkPiece(piece: DeclaredPiece, units: LengthUnit): Fault[] {
  const faults = [...checkRing(piece, units), ...checkGrain(piece, units), ...checkWording(piece)];
  if (hasErrors(faults)) return faults;
  faults.push(...checkFold(piece, units));
  if (hasErrors(faults)) return faults;
  faults.push(...checkNotches(piece, units), ...checkAwl(piece, units));
  for (const cut of piece.cut) {
    const made = makeCutPiece(piece, cut.material);
    if (made.ok) faults.push(...noticeWording(piece, cut, isOwnMirrorImage(made.value)));
    else faults.push(...made.faults);
  }
  return faults;
}

function fault(
  piece: DeclaredPiece,
  code: string,
  place: Place,
  what: string,
  fix: string,
  severity: Severity = 'error',
): Fault {
  return makeFault(code, place, `piece "${piece.id}"`, what, fix, severity);
}

function checkRing(piece: DeclaredPiece, units: LengthUnit): Fault[] {
  const points: Point[] = [];
  const edgeOf: number[] = [];
  piece.edges.forEach((edge, index) => {
    for (const point of edge.points.slice(0, -1)) {
      points.push(point);
      edgeOf.push(index);
    }
  });
  const crossing = points.length < 3 ? null : firstCrossing(points);
  if (crossing !== null) {
    const first = edgeName(piece, edgeOf[crossing.edge]!);
    const second = edgeName(piece, edgeOf[crossing.other]!);
    const near = `${formatLength(crossing.at[0], units)}, ${formatLength(crossing.at[1], units)}`;
    const which = first === second ? `edge ${first} meets itself` : `edges ${first} and ${second} meet`;
    const what = `the outline crosses or touches itself near ${near}: ${which}`;
    return [
      fault(
        piece,
        'outline-crosses',
        piece.edges[edgeOf[crossing.edge]!]!.place,
        what,
        'move or delete one of their points',
      ),
    ];
  }
  const twice = twiceArea(points);
  if (Number(twice < 0n ? -twice : twice) / 2 < areaMinUm2) {
    return [
      fault(
        piece,
        'outline-empty',
        piece.place,
        'the outline encloses no area',
        'give at least three corners that are not in line',
      ),
    ];
  }
  return [];
}

/** `C-D`, by the labels of its corners. */
export function edgeName(piece: DeclaredPiece, edge: number): string {
  return `${piece.corners[edge]!.label}-${piece.corners[(edge + 1) % piece.corners.length]!.label}`;
}

function checkGrain(piece: DeclaredPiece, units: LengthUnit): Fault[] {
  const length = distance(piece.grain.value.foot, piece.grain.value.head);
  if (length >= grainLengthMin) return [];
  const what = `the grain line is ${formatLength(Math.round(length), units)} long, expected at least ${formatLength(grainLengthMin, units)}`;
  return [fault(piece, 'grain-too-short', piece.grain.place, what, 'give its foot and its head farther apart')];
}

/** A fold asks for "on fold" in every material, and the reverse. */
function checkWording(piece: DeclaredPiece): Fault[] {
  const faults: Fault[] = [];
  for (const cut of piece.cut) {
    const onFold = cut.terms.every(({ kind }) => kind === 'on fold');
    const anyFold = cut.terms.some(({ kind }) => kind === 'on fold');
    if (piece.fold !== null && !onFold) {
      const what = `it has a fold edge (${piece.fold.value.name}), but its wording for ${cut.material} is "${cut.text}"`;
      faults.push(
        fault(
          piece,
          'fold-wording',
          cut.place,
          what,
          'write "on fold", for example "1 on fold", or take away the fold',
        ),
      );
    } else if (piece.fold === null && anyFold) {
      const what = `its wording for ${cut.material} is "${cut.text}", but it has no fold edge`;
      faults.push(
        fault(piece, 'fold-wording', cut.place, what, 'name the edge that lies on the fold, for example "fold: A-B"'),
      );
    }
  }
  return faults;
}

function checkFold(piece: DeclaredPiece, units: LengthUnit): Fault[] {
  if (piece.fold === null) return [];
  const { value: run, place } = piece.fold;
  const points = runPoints(piece, run);
  const stray = strayFromLine(points);
  if (stray > foldTolerance) {
    const off = Number.isFinite(stray) ? `strays ${formatLength(Math.round(stray), units)} from` : 'is not';
    return [
      fault(
        piece,
        'fold-not-straight',
        place,
        `fold edge ${run.name} ${off} a straight line`,
        'a fold edge must be straight: name another edge, or draw it straight',
      ),
    ];
  }
  const from = points[0]!;
  const to = points.at(-1)!;
  const length = distance(from, to);
  const sides = piece.edges
    .flatMap((edge, index) => (run.edges.includes(index) ? [] : edge.points))
    .filter((point) => distance(point, from) > foldTolerance && distance(point, to) > foldTolerance)
    .map(([x, y]) => ((to[0] - from[0]) * (y - from[1]) - (to[1] - from[1]) * (x - from[0])) / length);
  if (Math.min(...sides) <= 1 && Math.max(...sides) >= -1) {
    return [
      fault(
        piece,
        'fold-inside',
        place,
        `the piece lies on both sides of its fold edge ${run.name}`,
        'draw only the half on one side of the fold',
      ),
    ];
  }
  if (grainFrame(piece).foldWay === 'askew') {
    const what = `fold edge ${run.name} is neither along nor square to the grain line, so it cannot lie on a fold and is cut open, unfolded`;
    return [fault(piece, 'fold-askew', place, what, 'check the grain line if that is not meant', 'warning')];
  }
  return [];
}

function checkNotches(piece: DeclaredPiece, units: LengthUnit): Fault[] {
  const faults: Fault[] = [];
  for (const { value: notch, place } of piece.notches) {
    if (piece.fold !== null && notch.run.edges.some((edge) => piece.fold!.value.edges.includes(edge))) {
      const fix = 'put it on a neighbouring edge, at 0 from the fold';
      faults.push(
        fault(piece, 'notch-on-fold', place, `a notch on the fold edge ${notch.run.name} cannot be cut`, fix),
      );
      continue;
    }
    const length =
      piece.cut.length === 0
        ? lengthOf(runPoints(piece, notch.run))
        : Math.min(...piece.cut.map(({ material }) => seamLengthOf(piece, notch.run, allowancesFor(piece, material))));
    if (notch.atUm > length) {
      const what = `a notch at ${formatLength(notch.atUm, units)} along ${notch.run.name}, which is only ${formatLength(Math.round(length), units)} long`;
      faults.push(
        fault(piece, 'notch-off-edge', place, what, 'measure it along the seam line from the first corner named'),
      );
    }
  }
  return faults;
}

/** An awl point outside its own piece would be pricked into another one. */
function checkAwl(piece: DeclaredPiece, units: LengthUnit): Fault[] {
  const ring = piece.edges.flatMap((edge) => edge.points.slice(0, -1));
  return piece.awl
    .filter(({ value }) => !containsPoint(ring, value))
    .map(({ value: [x, y], place }) => {
      const at = `${formatLength(x, units)}, ${formatLength(y, units)}`;
      const fix = 'measure it in the frame of the outline (y downwards with a path)';
      return fault(piece, 'awl-outside', place, `awl point ${at} lies outside the piece`, fix);
    });
}

/** A bare even number of a piece with a left and a right is read as pairs: say so. */
function noticeWording(piece: DeclaredPiece, cut: MaterialCut, ownMirrorImage: boolean): Fault[] {
  if (ownMirrorImage || piece.fold !== null) return [];
  return cut.terms
    .filter(({ count, kind }) => kind === 'plain' && count > 1)
    .map(({ count }) => {
      const pairs = Math.floor(count / 2);
      const rest = count % 2 === 1 ? ' and 1 as drawn' : '';
      const what = `"${cut.text}" of ${cut.material} is read as ${pairs} ${pairs === 1 ? 'pair' : 'pairs'}${rest}`;
      return fault(
        piece,
        'read-as-pairs',
        cut.place,
        what,
        `write "${count} same way" if they are all alike`,
        'notice',
      );
    });
}
