/**
 * Lays made in a test without a search: pieces set row by row, each row as deep as its longest piece. Legal by
 * construction (boxes never overlap), not short.
 */
import type { Cloth } from '../../src/cloth/types.js';
import { sealLay } from '../../src/lay/build.js';
import { partnerPose } from '../../src/lay/partner.js';
import { computeTotals, reachOf } from '../../src/lay/totals.js';
import { copyOutline, middleOf } from '../../src/lay/transform.js';
import type { Copy, Lay, Placement, Stretch, Turn } from '../../src/lay/types.js';
import type { CutPiece, Demand } from '../../src/pieces/types.js';
import type { Outline, Point } from '../../src/units/types.js';
import { lawn, plainPiece } from './cut-pieces.js';

export const ticking: Cloth = { ...lawn, name: 'ticking', width: 1_500_000, usable: [15_000, 1_485_000] };

export interface Put {
  readonly piece: CutPiece;
  readonly mirror?: boolean;
  readonly turned?: Turn;
}

export interface LaySketch {
  readonly title: string;
  readonly cloth: Cloth;
  readonly folded?: boolean;
  readonly puts: readonly Put[];
}

/** Points in cm -> whole micrometres. */
export function outlineCm(points: readonly (readonly [number, number])[]): Outline {
  return points.map(([x, y]): Point => [Math.round(x * 10_000), Math.round(y * 10_000)]);
}

/** A quadratic curve from a over the control point to b, in cm, without a. */
export function curveCm(
  a: readonly [number, number],
  control: readonly [number, number],
  b: readonly [number, number],
  parts = 24,
): (readonly [number, number])[] {
  return Array.from({ length: parts }, (_, i) => {
    const t = (i + 1) / parts;
    const mix = (k: 0 | 1) => (1 - t) * (1 - t) * a[k] + 2 * t * (1 - t) * control[k] + t * t * b[k];
    return [mix(0), mix(1)] as const;
  });
}

/** A piece with a seam line 1 cm inside for its looks (drawn towards the middle of its box), notches and an awl point. */
export function pieceCm(
  id: string,
  points: readonly (readonly [number, number])[],
  extras: Partial<CutPiece> = {},
): CutPiece {
  const outline = outlineCm(points);
  const xs = outline.map(([x]) => x);
  const ys = outline.map(([, y]) => y);
  const [minX, maxX, minY, maxY] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const [middleX, middleY] = [(minX + maxX) / 2, (minY + maxY) / 2];
  const inside = (size: number, half: number) => (half === 0 ? 0 : Math.max(0, 1 - 10_000 / half)) * size;
  const seam = outline.map(
    ([x, y]): Point => [
      Math.round(middleX + inside(x - middleX, (maxX - minX) / 2)),
      Math.round(middleY + inside(y - middleY, (maxY - minY) / 2)),
    ],
  );
  const base = plainPiece(id, outline, { asDrawn: 1, mirrored: 0 }, extras.onFold ?? false);
  const grainY = extras.onFold === true ? 0 : Math.round(middleY);
  return {
    ...base,
    label: 'cut 1',
    seam,
    grain: [
      [Math.round(minX + (maxX - minX) * 0.15), grainY],
      [Math.round(minX + (maxX - minX) * 0.85), grainY],
    ],
    ...extras,
  };
}

/** Sets the pieces from left to right, row after row, from the cut end on. */
export function layOf({ title, cloth, folded = false, puts }: LaySketch): Lay {
  const middle = cloth.width / 2;
  const limit = folded ? middle : cloth.usable[1];
  const copies: Copy[] = [];
  const placements: Placement[] = [];
  let rowX = cloth.ends[0];
  let rowY = cloth.usable[0];
  let deepest = 0;
  for (const { piece, mirror = false, turned = 0 } of puts) {
    const pose = { mirror, turned, tiltMicrodegrees: 0, at: [0, 0] as Point };
    const box = boxOf(copyOutline(piece, pose));
    const onFold = folded && piece.onFold;
    const across = onFold ? (box.maxY - box.minY) / 2 : box.maxY - box.minY;
    const gap = folded && !onFold ? cloth.gap / 2 : 0;
    if (rowY > cloth.usable[0] && rowY + across + gap > limit) {
      rowX += deepest + cloth.gap;
      rowY = cloth.usable[0];
      deepest = 0;
    }
    const lead = { ...pose, at: [rowX - box.minX, onFold ? middle : rowY - box.minY] as Point };
    const stretch = stretchOf(folded, cloth, 0, 0);
    const partner = partnerPose(lead, stretch, cloth.width, middleOf(copyOutline(piece, lead)));
    const poses = folded && !onFold ? [lead, partner!] : [lead];
    const numbers = poses.map((one) => {
      const is = one.mirror ? ('mirrored' as const) : ('asDrawn' as const);
      copies.push({ n: copies.length + 1, is, turnedOver: false, ...one, outline: copyOutline(piece, one) });
      return copies.length;
    });
    placements.push({
      n: placements.length + 1,
      stretch: 1,
      piece: piece.id,
      garment: 1,
      copies: numbers,
      pinned: false,
    });
    rowY += across + cloth.gap;
    // A piece on the fold ends its row.
    if (onFold) rowY = limit;
    deepest = Math.max(deepest, box.maxX - box.minX);
  }
  /** The pieces of a sketch want what is laid. */
  const laidOf = ({ id }: CutPiece): Demand => {
    const numbers = new Set(placements.filter(({ piece }) => piece === id).flatMap((placement) => placement.copies));
    const own = copies.filter(({ n }) => numbers.has(n));
    const mirrored = own.filter(({ is }) => is === 'mirrored').length;
    return { asDrawn: own.length - mirrored, mirrored };
  };
  const outlines = copies.map(({ outline }) => outline);
  const reach = reachOf(outlines);
  const bound = { um: Math.round((reach.to - reach.from) * 0.9), why: 'area over usable width' };
  return sealLay({
    format: 'shortlay-lay/1',
    unit: 'um',
    title,
    cutListSha256: '0'.repeat(64),
    material: 'shell',
    status: 'shortest found',
    seed: 1,
    effort: 4,
    cloth,
    pieces: [...new Set(puts.map(({ piece }) => piece))].map((piece) => ({ ...piece, demand: laidOf(piece) })),
    stretches: [stretchOf(folded, cloth, reach.from, reach.to)],
    placements,
    copies,
    totals: computeTotals(cloth, [], outlines, bound),
  });
}

/** All of a lay, open or folded lengthwise. */
export function stretchOf(folded: boolean, cloth: Cloth, from: number, to: number): Stretch {
  const folds = folded ? ([cloth.width / 2, 0] as const) : ([0, 0] as const);
  return { id: 1, from, to, method: folded ? 'lengthwise fold' : 'open', folds };
}

function boxOf(outline: Outline) {
  const xs = outline.map(([x]) => x);
  const ys = outline.map(([, y]) => y);
  return { minX: Math.min(...xs), maxX: Math.max(...xs), minY: Math.min(...ys), maxY: Math.max(...ys) };
}
