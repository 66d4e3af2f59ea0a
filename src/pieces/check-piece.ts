/**
 * Everything that can be wrong with one declared piece, all at once: its outline, fold edge, grain line, marks
 * and wording, then whether it can be cut from each of its materials. Also notices of how wordings were read. What could
 * be read of a faulty piece is checked as far as it goes.
 */
import { hasErrors, makeFault } from '../diagnostics/faults.js';
import type { Fault, Place, Severity } from '../diagnostics/types.js';
import { containsPoint, firstCrossing, twiceArea } from '../geometry/outline.js';
import { formatLength } from '../units/length.js';
import type { LengthUnit, Point, Um } from '../units/types.js';
import { allowancesFor, makeCutPiece } from './cut-piece.js';
import { edgeName } from './edge-name.js';
import { distance, foldTolerance, grainFrame, lengthOf, runPoints, strayFromLine } from './grain-frame.js';
import { seamLengthOf } from './marks.js';
import { isOwnMirrorImage } from './mirror-image.js';
import { likelySlips } from './slips.js';
import type { DeclaredPiece, EdgeRun, MaterialCut } from './types.js';

/** A grain line shorter than this gives no direction to trust. Common practice, no source. */
const grainLengthMin: Um = 10_000;
/** Less area than this (1 mm x 1 mm) is a slip of the pen. */
const areaMinUm2 = 1_000_000;

/**
 * @param units for the wording of lengths
 * @returns errors, warnings and notices; no error means that `makeCutPiece` succeeds for every material
 */
export function checkPiece(piece: DeclaredPiece, units: LengthUnit): Fault[] {
  const faults = checkDrawn(piece, units, { fold: true, seams: true });
  if (hasErrors(faults)) return faults;
  faults.push(...likelySlips(piece, units));
  for (const cut of piece.cut) {
    const made = makeCutPiece(piece, cut.material);
    if (made.ok) faults.push(...noticeWording(piece, cut, isOwnMirrorImage(made.value)));
    else faults.push(...made.faults);
  }
  return faults;
}

/**
 * A piece some of whose keys could not be read: what they would say is left out of it, its grain line may be a stand-in,
 * and it is `drawn: cut` where that is not known.
 * @returns errors that stay when its other faults are mended
 */
export function checkUnfinished(piece: DeclaredPiece, units: LengthUnit, sure: Sure): Fault[] {
  return checkDrawn(piece, units, sure).filter(({ severity }) => severity === 'error');
}

/** The same of one whose shape could not be read. */
export function checkWithoutShape(piece: Shapeless, units: LengthUnit, sure: Sure): Fault[] {
  return [...checkGrain(piece, units), ...(sure.fold ? checkWording(piece) : [])];
}

type Shapeless = Pick<DeclaredPiece, 'id' | 'fold' | 'grain' | 'cut'>;

/** Whether it is known of a piece which edge lies on the fold, and how long its seam lines are. */
export interface Sure {
  readonly fold: boolean;
  readonly seams: boolean;
}

/** In an outline that is none, and along a fold edge that is none, nothing more is looked for. */
function checkDrawn(piece: DeclaredPiece, units: LengthUnit, sure: Sure): Fault[] {
  const ring = checkRing(piece, units);
  const grain = checkGrain(piece, units);
  const wording = sure.fold ? checkWording(piece) : [];
  if (ring.length > 0) return [...ring, ...grain, ...wording];
  const fold = sure.fold ? checkFold(piece, units) : [];
  const isFoldGood = sure.fold && wording.length === 0 && fold.length === 0;
  // Drawn cut, the allowances beside a notch and the fold edge shorten its seam line.
  const left = { fold: isFoldGood, seams: sure.seams && (isFoldGood || piece.drawn === 'net') };
  return [
    ...[...grain, ...wording, ...fold],
    ...(isFoldGood && grain.length === 0 ? warnAskew(piece) : []),
    ...checkAlongEdges(piece, units, left),
    ...checkInside(piece, units),
  ];
}

function fault(
  piece: Pick<DeclaredPiece, 'id'>,
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
    const near = pointInWords(piece, crossing.at, units);
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

function checkGrain(piece: Shapeless, units: LengthUnit): Fault[] {
  const length = distance(piece.grain.value.foot, piece.grain.value.head);
  if (length >= grainLengthMin) return [];
  const what = `the grain line is ${formatLength(Math.round(length), units)} long, expected at least ${formatLength(grainLengthMin, units)}`;
  return [fault(piece, 'grain-too-short', piece.grain.place, what, 'give its foot and its head farther apart')];
}

/** A fold asks for "on fold" in every material, and the reverse. */
function checkWording(piece: Shapeless): Fault[] {
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
  return [];
}

function warnAskew(piece: DeclaredPiece): Fault[] {
  if (piece.fold === null || grainFrame(piece).foldWay !== 'askew') return [];
  const { value: run, place } = piece.fold;
  const what = `fold edge ${run.name} is neither along nor square to the grain line, so it cannot lie on a fold and is cut open, unfolded`;
  return [fault(piece, 'fold-askew', place, what, 'check the grain line if that is not meant', 'warning')];
}

/** What is marked along edges: it must lie on an edge that is cut, and within its seam line. */
function checkAlongEdges(piece: DeclaredPiece, units: LengthUnit, sure: Sure): Fault[] {
  const check = (what: 'notch' | 'dart' | 'pleat', value: Stretch, halfUm: number, place: Place): Fault[] => {
    const onFold = sure.fold ? checkOffFold(piece, what, value, place) : [];
    return onFold.length > 0 || !sure.seams ? onFold : checkStretch(piece, what, value, halfUm, place, units);
  };
  return [
    ...piece.notches.flatMap(({ value, place }) => check('notch', value, 0, place)),
    ...piece.darts.flatMap(({ value, place }) => check('dart', value, value.widthUm / 2, place)),
    ...piece.pleats.flatMap(({ value, place }) => check('pleat', value, value.depthUm, place)),
  ];
}

interface Stretch {
  readonly run: EdgeRun;
  readonly atUm: Um;
}

function checkOffFold(piece: DeclaredPiece, what: string, { run }: Stretch, place: Place): Fault[] {
  if (piece.fold === null || !run.edges.some((edge) => piece.fold!.value.edges.includes(edge))) return [];
  const fix = 'put it on a neighbouring edge, at 0 from the fold';
  return [fault(piece, `${what}-on-fold`, place, `a ${what} on the fold edge ${run.name} cannot be cut`, fix)];
}

/** @param halfUm how far it reaches to each side of its place */
function checkStretch(
  piece: DeclaredPiece,
  what: string,
  { run, atUm }: Stretch,
  halfUm: number,
  place: Place,
  units: LengthUnit,
): Fault[] {
  const length =
    piece.cut.length === 0
      ? lengthOf(runPoints(piece, run))
      : Math.min(...piece.cut.map(({ material }) => seamLengthOf(piece, run, allowancesFor(piece, material))));
  if (atUm - halfUm >= 0 && atUm + halfUm <= length) return [];
  if (length <= 0) {
    // Drawn cut: the seam lines of the neighbours meet before they reach it.
    const none = `a ${what} along ${run.name}, of whose seam line the allowances beside it leave nothing`;
    return [
      fault(piece, `${what}-off-edge`, place, none, 'use smaller allowances beside it, or put it on another edge'),
    ];
  }
  const at = formatLength(atUm, units);
  const long = formatLength(Math.round(length), units);
  const many =
    halfUm === 0
      ? `a ${what} at ${at} along ${run.name}, which is only ${long} long`
      : `a ${what} at ${at}, ${formatLength(Math.round(2 * halfUm), units)} wide, reaches past an end of ${run.name}, which is ${long} long`;
  return [fault(piece, `${what}-off-edge`, place, many, 'measure it along the seam line from the first corner named')];
}

/** An awl point, a dart's tip or a match point outside its own piece is a slip: it would land on another one. */
function checkInside(piece: DeclaredPiece, units: LengthUnit): Fault[] {
  const ring = piece.edges.flatMap((edge) => edge.points.slice(0, -1));
  const points: (readonly [name: string, code: string, at: Point, place: Place])[] = [
    ...piece.awl.map(({ value, place }) => ['awl point', 'awl-outside', value, place] as const),
    ...piece.darts.map(({ value, place }) => ['the tip of the dart at', 'dart-outside', value.tip, place] as const),
    ...piece.match.map(({ value, place }) => ['match point', 'match-outside', value.at, place] as const),
  ];
  const frame = piece.yDown ? 'path, y downwards' : 'outline';
  return points
    .filter(([, , at]) => !containsPoint(ring, at))
    .map(([name, code, at, place]) => {
      const what = `${name} ${pointInWords(piece, at, units)} lies outside the piece`;
      return fault(piece, code, place, what, `measure it in the frame of the ${frame}`);
    });
}

/** A point as the file has it: `6.0 cm, 25.0 cm`. */
function pointInWords({ yDown }: DeclaredPiece, [x, y]: Point, units: LengthUnit): string {
  return `${formatLength(x, units)}, ${formatLength(yDown ? 0 - y : y, units)}`;
}

/** A bare even number of a piece with a left and a right is read as pairs: say so. */
function noticeWording(piece: DeclaredPiece, cut: MaterialCut, ownMirrorImage: boolean): Fault[] {
  if (ownMirrorImage || piece.fold !== null || piece.parts !== null) return [];
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
