/** What of a rectangle lies outside a ring, by clipper-lib (A. Vatti 1992). */
import ClipperLib from 'clipper-lib';
import type { Outline, Point, Um } from '../units/types.js';
import { boundsOf, isCounterClockwise } from './outline.js';

/**
 * Rings, counter-clockwise and simple, that cover what of [0, along] x [0, across] the outline does not; crossings are
 * rounded to whole micrometres.
 * @param outline simple, within the rectangle or reaching over it
 */
export function outsideOf(outline: Outline, alongUm: Um, acrossUm: Um): readonly Outline[] {
  const { minX, maxX } = boundsOf(outline);
  // Halves meet within the outline, so that neither leaves a ring with a hole.
  const split = Math.round((Math.max(0, minX) + Math.min(alongUm, maxX)) / 2);
  return [
    [0, split],
    [split, alongUm],
  ].flatMap(([from, to]) => difference(rectangle(from!, to!, acrossUm), outline));
}

function rectangle(from: Um, to: Um, across: Um): Outline {
  return [
    [from, 0],
    [to, 0],
    [to, across],
    [from, across],
  ];
}

function difference(subject: Outline, clip: Outline): Outline[] {
  const clipper = new ClipperLib.Clipper();
  clipper.StrictlySimple = true;
  const path = (ring: Outline) => ring.map(([X, Y]) => ({ X, Y }));
  clipper.AddPath(path(subject), ClipperLib.PolyType.ptSubject, true);
  clipper.AddPath(path(clip), ClipperLib.PolyType.ptClip, true);
  const solution: { X: number; Y: number }[][] = [];
  const { pftNonZero } = ClipperLib.PolyFillType;
  clipper.Execute(ClipperLib.ClipType.ctDifference, solution, pftNonZero, pftNonZero);
  return solution
    .map((ring): Outline => ring.map(({ X, Y }): Point => [X, Y]))
    .filter((ring) => ring.length >= 3)
    .map((ring) => (isCounterClockwise(ring) ? ring : [...ring].reverse()));
}
