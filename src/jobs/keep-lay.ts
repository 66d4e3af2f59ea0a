/** Going on with a lay: whether it is of these cut lists, and what of it is pinned. */
import { checkPinned } from '../checker/check-lay.js';
import type { Verdict } from '../checker/types.js';
import type { JoinedLists } from '../cutlist/join.js';
import { makeFault } from '../diagnostics/faults.js';
import type { Fault, Result } from '../diagnostics/types.js';
import { readLay } from '../lay/read.js';
import { recomputeLay } from '../lay/recompute.js';
import { type KeptLay, keptFrom } from '../planning/keep.js';
import type { Order, Wishes } from '../planning/orders.js';
import { firstDifference } from './lay-differs.js';
import { outputName } from './names.js';
import { cutPiecesFor, expectedOf, type KeptSource } from './sources.js';

/** The one order that a kept lay is of, with what is kept of it; or why it cannot be gone on with. */
export function keepLay(
  { file, text, ownName }: KeptSource,
  orders: readonly Order[],
  cutList: JoinedLists,
  { method }: Pick<Wishes, 'method'>,
  files: readonly string[],
): Result<{ readonly orders: readonly Order[]; readonly kept: KeptLay }> {
  const read = readLay(text, file);
  if (!read.ok) return read;
  const lay = recomputeLay(read.value);
  const refuse = (code: string, what: string, fix: string): Result<never> => ({
    ok: false,
    faults: [makeFault(code, { file, line: 1, column: 1 }, null, what, fix)],
  });
  if (lay.placements.every(({ pinned }) => !pinned)) {
    const fix = 'open it in a text editor, and write "pinned": true in the lines of those placements that are to stay';
    return refuse('nothing-pinned', 'nothing is pinned in it, so there is nothing to keep', fix);
  }
  const order = orders.find(({ material }) => material === lay.material);
  const declared = order?.cloths.find(({ cloth }) => cloth.name === lay.cloth.name);
  if (order === undefined || declared === undefined) {
    const what = `it is a lay of ${lay.material} on ${lay.cloth.name}, and that is not planned here`;
    return refuse('kept-differs', what, 'give the cut lists, --material and --cloth that it was planned with');
  }
  const expected = expectedOf(cutList, cutPiecesFor(cutList, lay.material), declared.cloth);
  const { refusals } = checkPinned(lay, expected);
  if (refusals.length > 0) {
    return { ok: false, faults: keptFaults(file, refusals, firstDifference(lay, expected, cutList)) };
  }
  const answer = keptFrom(lay);
  const otherwise = 'plan it by another lay method, such as --method open, and pin what is to stay in that lay';
  if (!answer.ok) return refuse('kept-method', answer.why, otherwise);
  const { kept } = answer;
  if (method !== null && method !== 'best' && method !== kept.method) {
    const what = `it is laid by the method ${kept.method}, and --method says ${method}`;
    return refuse('kept-method', what, 'leave --method out: what is pinned lies as its cloth lies');
  }
  if (outputName(files, order, declared.cloth.name) === ownName) {
    const what = 'the new lay would be written over it, and a lay that is kept is never written over';
    return refuse('out-over-input', what, 'name another folder with --out');
  }
  return { ok: true, value: { orders: [{ ...order, cloths: [declared] }], kept } };
}

/**
 * What the checker says of the lay that is kept: it is of something else, or what is pinned may not lie there.
 * @param difference what first makes it something else, where there are words for it
 */
function keptFaults(file: string, refusals: Verdict['refusals'], difference: string | null): Fault[] {
  const place = { file, line: 1, column: 1 };
  const differs = new Set(['other-cut-list', 'piece-missing', 'piece-surplus', 'piece-differs', 'cloth-differs']);
  const [other, ...more] = refusals.filter(({ code }) => differs.has(code));
  if (other !== undefined) {
    const further = more.length === 0 ? '' : `; and ${more.length} more such`;
    const what = difference ?? `it was planned from something else: ${other.sentence}${further}`;
    const fix =
      'plan with the cut lists (in their order), numbers of garments and options that it was planned with, or without --keep';
    return [makeFault('kept-differs', place, null, what, fix)];
  }
  const fix = 'mend its place in the file, or write "pinned": false';
  return refusals.map(({ sentence }) => makeFault('kept-refused', place, null, sentence, fix));
}
