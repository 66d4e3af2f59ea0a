/**
 * How a stretch of cloth lies on the table: in one layer, or doubled by folds along it at two depths, (f1, f2) from the
 * left and the right selvedge; or doubled across its length. One model for all lay methods.
 *
 * On doubled cloth one layer lies on the table, right side up, and the other on top of it, right sides together. What is
 * laid down is described on the layer on the table, in the flat cloth frame: on a lengthwise fold that is the left half,
 * on partial and double folds everything between the two folds, on a tube its lower layer (y = 0 is its middle), on
 * cloth folded across the far half.
 */
import type { Outline, Um } from '../units/types.js';
import { type Cloth, type LayMethod, stripEnd } from './types.js';

export interface Folding {
  readonly method: LayMethod;
  /** Depths of the folds along the cloth, from the left and the right selvedge; 0 = not folded there. */
  readonly folds: readonly [Um, Um];
}

/** A band across the cloth in which placements of one sort lie. None crosses its borders. */
export interface LayZone {
  readonly layers: 1 | 2;
  /** Where outlines on the layer on the table may lie across. */
  readonly from: Um;
  readonly to: Um;
  /** Folds along the cloth at its borders, each equal to `from` or `to`. */
  readonly folds: readonly Um[];
}

/** Doubled across its length, so that both layers lie one after another on the flat cloth. */
export function isCrosswise(method: LayMethod): boolean {
  return method === 'crosswise fold' || method === 'crosswise cut and turned';
}

/** The only depths of a lay method on this cloth; null for partial and double folds, which have many. */
export function fixedFolding(method: LayMethod, { width }: Pick<Cloth, 'width'>): Folding | null {
  switch (method) {
    case 'lengthwise fold':
      return { method, folds: [width / 2, 0] };
    case 'tube':
      return { method, folds: [width / 4, width / 4] };
    case 'partial fold':
    case 'double fold':
      return null;
    default:
      return { method, folds: [0, 0] };
  }
}

/**
 * The bands in which placements lie, on both sides of strips where nothing is cut. Where the edge of a turned-over part
 * lies on the cloth, copies on both sides of it keep the gap.
 * @param folding depths as the method has them: partial (f, 0), double f1 + f2 at most half the width
 */
export function zonesOf(folding: Folding, cloth: ZonedCloth): readonly LayZone[] {
  const strips = cloth.flaws.filter(isStrip).map((flaw): Range => {
    const ys = flaw.map(([, y]) => y);
    return [Math.min(...ys), Math.max(...ys)];
  });
  return strips.reduce<readonly LayZone[]>(
    (zones, strip) => zones.flatMap((zone) => besideStrip(zone, strip, folding, cloth)),
    wholeZones(folding, cloth).filter(({ from, to }) => to > from),
  );
}

type ZonedCloth = Pick<Cloth, 'width' | 'usable' | 'gap' | 'flaws'>;
type Range = readonly [from: Um, to: Um];

/** Whether a flaw runs on along the cloth without end. */
export function isStrip(flaw: Outline): boolean {
  return flaw.some(([x]) => x >= stripEnd);
}

/** What is left of a zone at both sides of a strip, which on doubled cloth spoils both layers. */
function besideStrip(zone: LayZone, [a, b]: Range, folding: Folding, { width, gap }: ZonedCloth): LayZone[] {
  const own: Range[] =
    folding.method === 'tube'
      ? [
          [a, b],
          [a - width, b - width],
        ]
      : [[a, b]];
  const sum = foldSumAt(folding, width, (zone.from + zone.to) / 2);
  const turned = folding.method === 'crosswise cut and turned';
  const mirrored = zone.layers === 2 && (sum !== null || turned);
  const both = mirrored ? [...own, ...own.map(([c, d]): Range => [(sum ?? width) - d, (sum ?? width) - c])] : own;
  return both.reduce<LayZone[]>(
    (zones, [low, high]) =>
      zones.flatMap((one) => {
        if (high <= one.from || low >= one.to) return [one];
        // What lies beside a strip along a fold still keeps half the gap from it.
        const keep = Math.ceil(gap / 2);
        const [left, right] = [low, high].map((edge) => one.folds.find((fold) => Math.abs(fold - edge) < keep) ?? null);
        const parts = [
          { from: one.from, to: Math.min(low, one.to, ...(left === null ? [] : [left! - keep])) },
          { from: Math.max(high, one.from, ...(right === null ? [] : [right! + keep])), to: one.to },
        ].filter(({ from, to }) => to > from);
        return parts.map((part) => ({
          ...one,
          ...part,
          folds: one.folds.filter((fold) => fold === part.from || fold === part.to),
        }));
      }),
    [zone],
  );
}

/** The bands before strips; one that ends before it begins is none. */
function wholeZones(
  { method, folds: [left, right] }: Folding,
  { width, usable: [from, to], gap }: ZonedCloth,
): readonly LayZone[] {
  switch (method) {
    case 'open':
      return [{ layers: 1, from, to, folds: [] }];
    case 'lengthwise fold':
      return [{ layers: 2, from: Math.max(from, width - to), to: width / 2, folds: [width / 2] }];
    case 'tube':
      return [{ layers: 2, from: -width / 4, to: width / 4, folds: [-width / 4, width / 4] }];
    case 'crosswise fold':
      return [{ layers: 2, from, to, folds: [] }];
    case 'crosswise cut and turned':
      return [{ layers: 2, from: Math.max(from, width - to), to: Math.min(to, width - from), folds: [] }];
    case 'partial fold':
    case 'double fold': {
      // What the turned-over part loses at its selvedge, its layer on the table loses too.
      const lostLeft = Math.max(from, Math.ceil(gap / 2));
      const lostRight = Math.max(width - to, Math.ceil(gap / 2));
      const fold = width - right;
      return [
        { layers: 2, from: left, to: Math.min(2 * left - lostLeft, to), folds: [left] },
        {
          layers: 1,
          from: left > 0 ? Math.max(2 * left, 2 * left - lostLeft + gap) : from,
          to: right > 0 ? width - Math.max(2 * right, 2 * right - lostRight + gap) : to,
          folds: [],
        },
        { layers: 2, from: Math.max(width - 2 * right + lostRight, from), to: fold, folds: [fold] },
      ];
    }
  }
}

/**
 * Twice the place across of the fold in which an outline on either layer is reflected: y -> sum - y.
 * @param y somewhere within the outline
 * @returns null where the cloth is not doubled by a fold along it
 */
export function foldSumAt({ method, folds: [left, right] }: Folding, width: Um, y: Um): Um | null {
  switch (method) {
    case 'lengthwise fold':
      return width;
    case 'tube':
      return width / 2;
    case 'partial fold':
    case 'double fold':
      if (y < 2 * left) return 2 * left;
      return y > width - 2 * right ? 2 * (width - right) : null;
    default:
      return null;
  }
}

/** Where folds along the cloth lie across it. */
export function foldAxes({ method, folds: [left, right] }: Folding, width: Um): readonly Um[] {
  if (method === 'lengthwise fold') return [width / 2];
  if (method === 'tube') return [width / 4, -width / 4];
  return [...(left > 0 ? [left] : []), ...(right > 0 ? [width - right] : [])];
}

/** What of the width is seen from above: the layer on the table, in the flat cloth frame. */
export function seenRange({ method, folds: [left, right] }: Folding, width: Um): readonly [Um, Um] {
  switch (method) {
    case 'lengthwise fold':
      return [0, width / 2];
    case 'tube':
      return [-width / 4, width / 4];
    case 'partial fold':
    case 'double fold':
      return [left, width - right];
    default:
      return [0, width];
  }
}
