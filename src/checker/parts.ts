/**
 * The lay taken apart once for all checks: every placement with its piece, its stretch and its copies. When the
 * numbers do not lead to one another, the lay is refused here and nothing else is looked at.
 */
import type { Copy, Lay, Placement, Stretch } from '../lay/types.js';
import type { CutPiece } from '../pieces/types.js';
import { coordinateMaxUm } from '../units/types.js';
import type { Refusal } from './types.js';
import { nameCopy, refuse } from './words.js';

/** One flat part with all that it belongs to. */
export interface Part {
  readonly copy: Copy;
  readonly piece: CutPiece;
  readonly placement: Placement;
  readonly stretch: Stretch;
  /** `copy 4 (Pocket)`. */
  readonly name: string;
}

/** One placement with its parts, in the order of `copies`. */
export interface Laid {
  readonly placement: Placement;
  readonly piece: CutPiece;
  readonly stretch: Stretch;
  readonly parts: readonly Part[];
}

export interface TakenApart {
  readonly laid: readonly Laid[];
  readonly parts: readonly Part[];
}

/** The parts of the lay, or why it cannot be taken apart. */
export function takeApart(lay: Lay): TakenApart | { readonly refusals: readonly Refusal[] } {
  const refusals = [...checkHead(lay), ...checkNumbers(lay)];
  const pieces = new Map(lay.pieces.map((piece) => [piece.id, piece]));
  const stretches = new Map(lay.stretches.map((stretch) => [stretch.id, stretch]));
  const copies = new Map(lay.copies.map((copy) => [copy.n, copy]));
  const holders = new Map<number, number>();
  const laid: Laid[] = [];
  for (const placement of lay.placements) {
    const who = `placement ${placement.n} (${placement.piece})`;
    const piece = pieces.get(placement.piece);
    const stretch = stretches.get(placement.stretch);
    if (piece === undefined) refusals.push(refuse('piece-unknown', `${who} is of a piece that the lay does not list`));
    if (stretch === undefined)
      refusals.push(
        refuse('stretch-unknown', `${who} is in stretch ${placement.stretch}, which the lay does not list`),
      );
    if (placement.copies.length < 1 || placement.copies.length > 2)
      refusals.push(
        refuse('placement-copies', `${who} has ${placement.copies.length} copies; one or two are possible`),
      );
    const parts: Part[] = [];
    for (const n of placement.copies) {
      const copy = copies.get(n);
      const holder = holders.get(n);
      if (copy === undefined)
        refusals.push(refuse('copy-unknown', `${who} yields copy ${n}, which the lay does not list`));
      if (holder !== undefined)
        refusals.push(
          refuse(
            'copy-twice',
            `${nameCopy(n, placement.piece)} stands in placement ${holder} and in placement ${placement.n}`,
          ),
        );
      holders.set(n, placement.n);
      if (copy && piece && stretch) parts.push({ copy, piece, placement, stretch, name: nameCopy(n, piece.id) });
    }
    if (piece && stretch) laid.push({ placement, piece, stretch, parts });
  }
  for (const copy of lay.copies)
    if (!holders.has(copy.n)) refusals.push(refuse('copy-loose', `copy ${copy.n} belongs to no placement`));
  return refusals.length > 0 ? { refusals } : { laid, parts: laid.flatMap((one) => one.parts) };
}

function checkHead(lay: Lay): Refusal[] {
  const refusals: Refusal[] = [];
  if (lay.format !== 'shortlay-lay/1')
    refusals.push(refuse('format-unknown', `the format is "${lay.format}", not "shortlay-lay/1"`));
  if (lay.unit !== 'um') refusals.push(refuse('format-unknown', `the unit is "${lay.unit}", not "um"`));
  if (lay.copies.length === 0) refusals.push(refuse('lay-empty', 'the lay has no copies'));
  const twice = [
    ...findTwice(lay.pieces.map((piece) => piece.id)).map((id) => `piece "${id}"`),
    ...findTwice(lay.stretches.map((stretch) => stretch.id)).map((id) => `stretch ${id}`),
    ...findTwice(lay.placements.map((placement) => placement.n)).map((n) => `placement ${n}`),
    ...findTwice(lay.copies.map((copy) => copy.n)).map((n) => `copy ${n}`),
  ];
  return [...refusals, ...twice.map((what) => refuse('number-twice', `${what} is listed twice`))];
}

function findTwice<T>(values: readonly T[]): T[] {
  const seen = new Set<T>();
  return values.filter((value) => seen.size === seen.add(value).size);
}

/** Every coordinate a whole number of micrometres within the range in which the arithmetic is exact. */
function checkNumbers(lay: Lay): Refusal[] {
  const { cloth } = lay;
  const refusals: Refusal[] = [];
  const look = (what: string, values: readonly number[]) => {
    const bad = values.find((value) => !Number.isInteger(value) || Math.abs(value) > coordinateMaxUm);
    if (bad !== undefined)
      refusals.push(
        refuse(
          'number-unusable',
          `${what} has the value ${bad}; whole micrometres up to ${coordinateMaxUm} are possible`,
        ),
      );
  };
  look('the cloth', [cloth.width, ...cloth.usable, cloth.length ?? 0, ...cloth.ends, cloth.gap, cloth.soldBy]);
  cloth.flaws.forEach((flaw, i) => {
    look(`flaw ${i + 1} of the cloth`, flaw.flat());
  });
  for (const { id, outline } of lay.pieces) look(`piece "${id}"`, outline.flat());
  for (const { id, from, to } of lay.stretches) look(`stretch ${id}`, [from, to]);
  for (const { n, at, outline } of lay.copies) look(`copy ${n}`, [...at, ...outline.flat()]);
  for (const { id, outline } of lay.pieces)
    if (outline.length < 3)
      refusals.push(refuse('outline-not-simple', `the outline of piece "${id}" has fewer than 3 points`));
  for (const { n, outline } of lay.copies)
    if (outline.length < 3)
      refusals.push(refuse('outline-not-simple', `the outline of copy ${n} has fewer than 3 points`));
  if (cloth.usable[0] < 0 || cloth.usable[0] >= cloth.usable[1] || cloth.usable[1] > cloth.width)
    refusals.push(refuse('cloth-impossible', 'the usable width does not lie within the width of the cloth'));
  if (cloth.gap < 0 || cloth.ends[0] < 0 || cloth.ends[1] < 0 || cloth.soldBy <= 0 || (cloth.length ?? 1) <= 0)
    refusals.push(
      refuse(
        'cloth-impossible',
        'gap and ends may not be negative; length at hand and selling step must be more than nothing',
      ),
    );
  return refusals;
}
