/**
 * In what a lay differs first from what is planned, told to whoever plans; the checker's sentences on the same go by the
 * keys of the lay file.
 */
import type { Expected } from '../checker/check-lay.js';
import type { Cloth } from '../cloth/types.js';
import type { JoinedLists } from '../cutlist/join.js';
import type { Lay } from '../lay/types.js';
import type { CutListHash, ListedGarments } from '../pieces/garments.js';
import type { GarmentRange } from '../pieces/types.js';
import { andList, clothInWords, counted } from '../report/words.js';
import type { LengthUnit } from '../units/types.js';

/** `it was made from 2 cut lists, "Apron" and "Cap"`. */
export function madeFrom({ cutListSha256: listed }: Pick<Lay, 'cutListSha256'>): string {
  const named = typeof listed === 'string' ? '' : `, ${quoted(listed)}`;
  return `it was made from ${counted(numberOf(listed), 'cut list', 'cut lists')}${named}`;
}

/** How many cut lists a lay is of. */
export function numberOf(listed: CutListHash): number {
  return typeof listed === 'string' ? 1 : listed.length;
}

/** Cut lists, their order, garments and state, then the cloth; null where it is none of these. */
export function firstDifference(
  lay: Lay,
  { cutListSha256: planned, cloth }: Expected,
  { title, units }: Pick<JoinedLists, 'title' | 'units'>,
): string | null {
  const made = lay.cutListSha256;
  const here = numberOf(planned);
  if (numberOf(made) !== here) return `${madeFrom(lay)}, and this plan has ${here}`;
  const lists =
    typeof made === 'string' || typeof planned === 'string'
      ? singleDiffers(lay, planned, title)
      : severalDiffer(made, planned);
  return lists ?? clothDiffers(lay.cloth, cloth, units);
}

function singleDiffers(lay: Lay, planned: CutListHash, title: string): string | null {
  if (lay.cutListSha256 === planned) return null;
  if (lay.title !== title) return `it was made from the cut list "${lay.title}", and this plan is of "${title}"`;
  return 'the cut list was changed after the lay was made, or is another of the same title';
}

function severalDiffer(made: readonly ListedGarments[], planned: readonly ListedGarments[]): string | null {
  const isAmong = ({ name }: ListedGarments, lists: readonly ListedGarments[]) =>
    lists.some((list) => list.name === name);
  if (!made.every((list) => isAmong(list, planned)) || !planned.every((list) => isAmong(list, made)))
    return `it was made from ${quoted(made)}, and this plan is of ${quoted(planned)}`;
  if (made.some(({ name }, i) => name !== planned[i]!.name))
    return `the order of the cut lists is another: the lay has ${quoted(made)}, this plan ${quoted(planned)}`;
  for (const [i, { name, sha256, garments }] of made.entries()) {
    const [own, here] = [sizeOf(garments), sizeOf(planned[i]!.garments)];
    if (own !== here) return `it is for ${counted(own, 'garment', 'garments')} of "${name}", and this plan for ${here}`;
    if (sha256 !== planned[i]!.sha256)
      return `the cut list "${name}" was changed after the lay was made, or is another of the same name`;
  }
  return null;
}

function quoted(lists: readonly ListedGarments[]): string {
  return andList(lists.map(({ name }) => `"${name}"`));
}

function sizeOf([first, last]: GarmentRange): number {
  return last - first + 1;
}

/** What the options of a plan change of a cloth. */
function clothDiffers(own: Cloth, here: Cloth, units: LengthUnit): string | null {
  const [laidOn, planned] = [clothInWords(own, units), clothInWords(here, units)];
  if (laidOn !== planned) return `it is laid on ${laidOn}, and this plan is for ${planned}`;
  return own.nap === here.nap ? null : `its cloth is taken with nap "${own.nap}", and in this plan with "${here.nap}"`;
}
