/**
 * The one order of keys in a lay file. Both the readable text (write.ts) and the canonical bytes (build.ts) start
 * from here, so an object whose keys were set in another order gives the same file and the same hash.
 */
import type { Cloth } from '../cloth/types.js';
import type { CutListHash } from '../pieces/garments.js';
import type { CutPiece } from '../pieces/types.js';
import type { Copy, Lay, Placement, Stretch, Totals } from './types.js';

/** The same lay with every key in the order of docs/lay-file.md; anything that is no key of a lay is left behind. */
export function inFileOrder(lay: Lay): Lay {
  return {
    format: lay.format,
    unit: lay.unit,
    title: lay.title,
    cutListSha256: orderHash(lay.cutListSha256),
    selfHash: lay.selfHash,
    material: lay.material,
    status: lay.status,
    seed: lay.seed,
    effort: lay.effort,
    cloth: orderCloth(lay.cloth),
    pieces: lay.pieces.map(orderPiece),
    stretches: lay.stretches.map(orderStretch),
    placements: lay.placements.map(orderPlacement),
    copies: lay.copies.map(orderCopy),
    totals: orderTotals(lay.totals),
  };
}

/** No spaces, fixed key order; minus zero becomes 0 (as JSON has it). */
export function canonicalText(lay: Lay): string {
  return JSON.stringify(inFileOrder(lay));
}

function orderHash(hash: CutListHash): CutListHash {
  return typeof hash === 'string' ? hash : hash.map(({ name, sha256, garments }) => ({ name, sha256, garments }));
}

function orderCloth(cloth: Cloth): Cloth {
  return {
    name: cloth.name,
    width: cloth.width,
    usable: cloth.usable,
    length: cloth.length,
    ends: cloth.ends,
    gap: cloth.gap,
    nap: cloth.nap,
    faces: cloth.faces,
    grain: cloth.grain,
    fusible: cloth.fusible,
    repeat: orderRepeat(cloth.repeat),
    flaws: cloth.flaws,
    shrinkagePpm:
      cloth.shrinkagePpm === null ? null : { along: cloth.shrinkagePpm.along, across: cloth.shrinkagePpm.across },
    soldBy: cloth.soldBy,
    priceMinorPerMetre: cloth.priceMinorPerMetre,
    currency: cloth.currency,
  };
}

function orderPiece(piece: CutPiece): CutPiece {
  return {
    id: piece.id,
    size: piece.size,
    outline: piece.outline,
    onFold: piece.onFold,
    turn: piece.turn,
    cross: piece.cross,
    tiltMaxMicrodegrees: piece.tiltMaxMicrodegrees,
    label: piece.label,
    note: piece.note,
    grain: piece.grain,
    seam: piece.seam,
    lines: piece.lines.map(({ kind, points }) => ({ kind, points })),
    notches: piece.notches,
    awl: piece.awl,
    match: piece.match.map(({ at, group, way }) => ({ at, group, way })),
    demand: { asDrawn: piece.demand.asDrawn, mirrored: piece.demand.mirrored },
    ...(piece.garments === undefined ? {} : { garments: piece.garments }),
  };
}

function orderRepeat(repeat: Cloth['repeat']): Cloth['repeat'] {
  if (repeat === null) return null;
  const { along, across, start, mirror, drop } = repeat;
  return { along, across, start, mirror, drop };
}

function orderStretch({ id, from, to, method, folds, foldX, cutX, barAt }: Stretch): Stretch {
  const some = Object.entries({ foldX, cutX, barAt }).filter(([, value]) => value !== undefined);
  return { id, from, to, method, folds, ...Object.fromEntries(some) };
}

function orderPlacement({ n, stretch, piece, garment, copies, pinned }: Placement): Placement {
  return { n, stretch, piece, garment, copies, pinned };
}

function orderCopy({ n, is, mirror, turned, turnedOver, tiltMicrodegrees, at, outline }: Copy): Copy {
  return { n, is, mirror, turned, turnedOver, tiltMicrodegrees, at, outline };
}

function orderTotals({ lengthUsed, buyParts, buy, areaUm2, utilisationPpm, bound }: Totals): Totals {
  return {
    lengthUsed,
    buyParts: buyParts.map(({ why, um }) => ({ why, um })),
    buy,
    areaUm2,
    utilisationPpm,
    bound: { um: bound.um, why: bound.why },
  };
}
