/** Small legal lays with round numbers, and ways of damaging them for the checker to notice. */

import { checkLay } from '../../src/checker/check-lay.js';
import { partnerPose } from '../../src/lay/partner.js';
import { computeTotals } from '../../src/lay/totals.js';
import { copyOutline, middleOf } from '../../src/lay/transform.js';
import type { Lay } from '../../src/lay/types.js';
import type { CutPiece } from '../../src/pieces/types.js';
import { lawn, plainPiece, slant, square } from './cut-pieces.js';
import { layOf } from './lays.js';

/** Everything in it may be written over. */
export type Loose<T> = { -readonly [K in keyof T]: Loose<T[K]> };

/** Written over by the lay: its pieces want what is laid. */
const none = { asDrawn: 0, mirrored: 0 };
const left = slant(none);
const even = square(none);

/** Symmetric about its fold line, 30 cm along, 20 cm wide. */
export const foldPiece: CutPiece = {
  ...plainPiece(
    'Panel',
    [
      [0, -100_000],
      [300_000, -80_000],
      [300_000, 80_000],
      [0, 100_000],
    ],
    none,
    true,
  ),
  awl: [
    [150_000, 50_000],
    [150_000, -50_000],
  ],
};

/** One row on open cloth: copies 1 and 2 a left and a right Slant, 3 and 4 two alike Squares, each 3 mm from the next. */
export const openRow: Lay = layOf({
  title: 'Fender cover',
  cloth: lawn,
  puts: [{ piece: left }, { piece: left, mirror: true }, { piece: even }, { piece: even }],
});

/** The same with nothing between the copies. */
export const tightRow: Lay = layOf({
  title: 'Fender cover, no gap',
  cloth: { ...lawn, gap: 0 },
  puts: [{ piece: left }, { piece: left, mirror: true }, { piece: even }, { piece: even }],
});

/** Folded cloth: copies 1 and 2 a pair of Slants, 3 the Panel across the fold. */
export const foldedRow: Lay = layOf({
  title: 'Oar bag',
  cloth: lawn,
  folded: true,
  puts: [{ piece: left }, { piece: foldPiece }],
});

/** A copy of the lay after `edit`; nothing else is made to fit. */
export function damaged(lay: Lay, edit: (lay: Loose<Lay>) => void): Lay {
  const loose = structuredClone(lay) as Loose<Lay>;
  edit(loose);
  return loose as Lay;
}

/** Codes of the refusals after an edit, totals and stretch made to fit again. */
export function codesOf(lay: Lay, edit: (lay: Loose<Lay>) => void): string[] {
  const changed = damaged(lay, (loose) => {
    edit(loose);
    refit(loose);
  });
  return [...new Set(checkLay(changed).refusals.map(({ code }) => code))].sort();
}

/** The copy moved, its outline with it. */
export function moveCopy(lay: Loose<Lay>, n: number, dx: number, dy: number): void {
  const copy = copyOf(lay, n);
  copy.at = [copy.at[0] + dx, copy.at[1] + dy];
  copy.outline = copy.outline.map(([x, y]): [number, number] => [x + dx, y + dy]);
}

/** The copy with another pose, its outline laid anew in the same place (by the lower left corner of its box). */
export function reposeCopy(lay: Loose<Lay>, n: number, pose: Partial<Loose<Lay>['copies'][number]>): void {
  const copy = copyOf(lay, n);
  const before = cornerOf(copy.outline);
  Object.assign(copy, pose);
  copy.outline = copyOutline(pieceOf(lay, n), copy as Lay['copies'][number]) as Loose<Lay>['copies'][number]['outline'];
  const after = cornerOf(copy.outline);
  moveCopy(lay, n, before[0] - after[0], before[1] - after[1]);
}

/** The partner of a pair laid anew as the reflection of its lead. */
export function followLead(lay: Loose<Lay>, lead: number, partner: number): void {
  const copy = copyOf(lay, partner);
  const leading = copyOf(lay, lead) as Lay['copies'][number];
  const stretch = lay.stretches[0] as Lay['stretches'][number];
  Object.assign(copy, partnerPose(leading, stretch, lay.cloth.width, middleOf(leading.outline)));
  copy.outline = copyOutline(pieceOf(lay, partner), copy as Lay['copies'][number]) as typeof copy.outline;
}

/** Works out the totals anew, with no bound; gives back the points of all copies. */
export function settleTotals(lay: Loose<Lay>): Lay['copies'][number]['outline'] {
  const outlines = (lay as Lay).copies.map(({ outline }) => outline);
  const bound = { um: 0, why: 'none' };
  lay.totals = computeTotals(
    lay.cloth as Lay['cloth'],
    lay.pieces as Lay['pieces'],
    outlines,
    bound,
  ) as Loose<Lay>['totals'];
  return outlines.flat();
}

/** Totals and stretch made to fit again, as after an edit that is meant to be looked at for itself. */
export function refit(lay: Loose<Lay>): void {
  const xs = settleTotals(lay).map(([x]) => x);
  lay.stretches[0]!.from = Math.min(...xs);
  lay.stretches[0]!.to = Math.max(...xs);
}

export function copyOf(lay: Loose<Lay>, n: number): Loose<Lay>['copies'][number] {
  return lay.copies.find((copy) => copy.n === n)!;
}

export function pieceOf(lay: Loose<Lay>, n: number): CutPiece {
  const id = lay.placements.find(({ copies }) => copies.includes(n))!.piece;
  return lay.pieces.find((piece) => piece.id === id) as CutPiece;
}

function cornerOf(outline: readonly (readonly [number, number])[]): [number, number] {
  return [Math.min(...outline.map(([x]) => x)), Math.min(...outline.map(([, y]) => y))];
}
