/** Is it right? Cut lists and lay files read, checked and told of; nothing is searched. */
import { checkLay, checkLayAgainst } from '../checker/check-lay.js';
import type { Verdict } from '../checker/types.js';
import { type Drawings, noDrawings } from '../cutlist/drawings.js';
import { type CountedList, type JoinedLists, joinCutLists, namesOf } from '../cutlist/join.js';
import { readCutList } from '../cutlist/read.js';
import type { CutList } from '../cutlist/types.js';
import { makeFault, sortFaults } from '../diagnostics/faults.js';
import type { Fault, Result } from '../diagnostics/types.js';
import { isEditedByHand } from '../lay/build.js';
import { readLay } from '../lay/read.js';
import { recomputeLay } from '../lay/recompute.js';
import type { Lay } from '../lay/types.js';
import { writeLay } from '../lay/write.js';
import { checkWidths } from '../planning/too-wide.js';
import { counted } from '../report/words.js';
import { madeFrom, numberOf } from './lay-differs.js';
import { type CutListSource, cutPiecesFor, expectedOf, placesOf, readAll } from './sources.js';

/** Reads and checks a cut list, never searches. */
export function checkCutList(
  file: string,
  text: string,
  drawings: Drawings = noDrawings,
): { readonly cutList: CutList | null; readonly faults: readonly Fault[] } {
  const read = readCutList(text, file, drawings, 'if any');
  if (!read.ok) return { cutList: null, faults: sortFaults(read.faults) };
  const cutList = read.value;
  const words = { places: placesOf(cutList), units: cutList.units };
  const widths = cutList.cloths.flatMap((cloth) =>
    cloth.materials.flatMap((material) => checkWidths(cutPiecesFor(cutList, material), cloth, words)),
  );
  const assumed = cutList.cloths.flatMap(({ notices }) => notices);
  return { cutList, faults: sortFaults([...cutList.notices, ...noticeNoCloths(cutList), ...assumed, ...widths]) };
}

/** Nothing is wrong with it, but it cannot be planned alone. */
function noticeNoCloths({ file, cloths }: CutList): Fault[] {
  if (cloths.length > 0) return [];
  const what = 'it has no cloths, so it can be planned only together with a cut list that has';
  const fix = 'give both to plan, or add "cloths:" with at least one cloth';
  return [makeFault('cloths-elsewhere', { file, line: 1, column: 1 }, null, what, fix, 'notice')];
}

/** The independent checker on a lay file; with its cut lists, if any are given, also whether they belong together. */
export function checkLayFile(
  file: string,
  text: string,
  sources: readonly CutListSource[],
): Result<{ readonly lay: Lay; readonly verdict: Verdict; readonly editedByHand: boolean }> {
  const read = readLay(text, file);
  if (!read.ok) return read;
  const lay = read.value;
  const editedByHand = isEditedByHand(lay);
  const [first] = sources;
  if (first === undefined) return { ok: true, value: { lay, verdict: checkLay(lay), editedByHand } };
  const other = otherNumber(file, lay, sources.length);
  if (other !== null) return { ok: false, faults: [other] };
  const cutLists = readAll(sources, 'if any');
  if (!cutLists.ok) return cutLists;
  const miscounted = otherGarments(file, lay, sources, cutLists.value);
  if (miscounted !== null) return { ok: false, faults: [miscounted] };
  const lists = joinCutLists(countedAs(lay, cutLists.value), lay.cloth.name);
  if (!lists.ok) return lists;
  const declared = lists.value.cloths.find(
    ({ cloth, materials }) => cloth.name === lay.cloth.name && materials.includes(lay.material),
  );
  const known = lists.value.pieces.some(({ cut }) => cut.some(({ material }) => material === lay.material));
  if (declared === undefined || !known) return { ok: false, faults: [ofOtherLists(lay, lists.value, first.file)] };
  const expected = expectedOf(lists.value, cutPiecesFor(lists.value, lay.material), declared.cloth);
  return { ok: true, value: { lay, verdict: checkLayAgainst(lay, expected), editedByHand } };
}

/** The cut lists have not what the lay is laid on or cut from. */
function ofOtherLists(lay: Lay, { title, cloths, sha256 }: JoinedLists, file: string): Fault {
  const isOne = typeof sha256 === 'string';
  const has =
    cloths.length === 0 ? 'no cloths' : `no material "${lay.material}" with a cloth "${lay.cloth.name}" for it`;
  const another = isOne ? 'another cut list, or another state of it' : 'other cut lists, or another state of them';
  const what =
    isOne && title !== lay.title
      ? `the lay was made from another cut list, "${lay.title}", and this one is "${title}"`
      : `the lay was made from ${another}: ${isOne ? 'this one has' : 'these have'} ${has}`;
  const fix = `check it against the cut ${isOne ? 'list' : 'lists'} it was planned from`;
  return makeFault('other-cut-list', { file, line: 1, column: 1 }, null, what, fix);
}

/** A lay belongs to all the cut lists it was made from: held against fewer, or one against several, most of it would seem wrong. */
function otherNumber(file: string, lay: Lay, given: number): Fault | null {
  const made = numberOf(lay.cutListSha256);
  if (given === made || (given > made && made > 1)) return null;
  const what = `${madeFrom(lay)}, and is held against ${given}`;
  const these = made === 1 ? 'that one' : made === 2 ? 'both of them' : 'all of them';
  const fix = `give the file${made === 1 ? '' : 's'} of ${these} after the lay, or none to judge it by itself`;
  return makeFault('cut-lists-of-lay', { file, line: 1, column: 1 }, null, what, fix);
}

/** Where somebody says for how many garments the lay is, it must be for so many. */
function otherGarments(
  file: string,
  lay: Lay,
  sources: readonly CutListSource[],
  cutLists: readonly CutList[],
): Fault | null {
  const names = namesOf(cutLists);
  for (const [i, { file: list, garments }] of sources.entries()) {
    // Of another cut list, or another state of it, the checker tells that.
    if (typeof lay.cutListSha256 === 'string' && lay.cutListSha256 !== cutLists[i]!.sha256) continue;
    const held = garmentsOf(lay, names[i]!);
    if (garments === undefined || held === null || held === garments) continue;
    const what = `it is for ${counted(held, 'garment', 'garments')} of ${list}, not ${garments}`;
    return makeFault('cut-lists-of-lay', { file, line: 1, column: 1 }, null, what, `say ${list}=${held}, or plan anew`);
  }
  return null;
}

/** Null when the cut list of this name is none of the lay's. */
function garmentsOf({ cutListSha256: listed, placements }: Lay, name: string): number | null {
  if (typeof listed === 'string') return placements.reduce((most, { garment }) => Math.max(most, garment), 1);
  const [first, last] = listed.find((entry) => entry.name === name)?.garments ?? [1, 0];
  return last < first ? null : last - first + 1;
}

/** A cut list does not say for how many garments it is planned, nor which of several is the first; the lay does. */
function countedAs(lay: Lay, cutLists: readonly CutList[]): readonly CountedList[] {
  const { cutListSha256: listed } = lay;
  const names = namesOf(cutLists);
  const orderOf = (name: string) => {
    const at = typeof listed === 'string' ? 0 : listed.findIndex((entry) => entry.name === name);
    return at === -1 ? listed.length : at;
  };
  return cutLists
    .map((cutList, i) => ({ cutList, garments: garmentsOf(lay, names[i]!) ?? 1, at: orderOf(names[i]!) }))
    .sort((a, b) => a.at - b.at)
    .map(({ cutList, garments }) => ({ cutList, garments }));
}

/** `check --write`: outlines and totals recomputed from `at` and `turned`, and checked; it stays edited by hand. */
export function rewriteLay(file: string, text: string): Result<{ readonly text: string; readonly verdict: Verdict }> {
  const read = readLay(text, file);
  if (!read.ok) return read;
  const lay = recomputeLay(read.value);
  return { ok: true, value: { text: writeLay(lay), verdict: checkLay(lay) } };
}
