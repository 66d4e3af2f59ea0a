/** Every copy inside the usable width, off both ends of the cloth, and inside its stretch; stretches side by side. */
import type { Cloth } from '../cloth/types.js';
import type { Stretch } from '../lay/types.js';
import { boxOf } from './exact.js';
import { depthsWrong } from './layers.js';
import type { Part } from './parts.js';
import type { Refusal } from './types.js';
import { mm, refuse } from './words.js';

/** Everything lies within the usable width and the length at hand. */
export function checkLimits(parts: readonly Part[], cloth: Cloth): Refusal[] {
  const lastX = cloth.length === null ? Number.POSITIVE_INFINITY : cloth.length - cloth.ends[1];
  return parts.flatMap(({ copy, stretch, name }) => {
    const box = boxOf(copy.outline);
    const refusals: Refusal[] = [];
    const over = (um: number, code: string, where: string) => {
      if (um > 0) refusals.push(refuse(code, `${name} reaches ${mm(um)} ${where}`));
    };
    // A tube has no edge; its copies lie round it.
    if (stretch.method !== 'tube') {
      over(cloth.usable[0] - box.low, 'off-usable-width', 'over the left edge of the usable width');
      over(box.high - cloth.usable[1], 'off-usable-width', 'over the right edge of the usable width');
    } else over(box.high - box.low - cloth.width, 'off-usable-width', 'farther than once round the tube');
    over(cloth.ends[0] - box.left, 'off-cut-end', 'into the end that is kept clear at the cut end');
    over(box.right - lastX, 'off-far-end', 'beyond the length at hand less the end that is kept clear');
    over(stretch.from - box.left, 'off-stretch', `out of stretch ${stretch.id} towards the cut end`);
    over(box.right - stretch.to, 'off-stretch', `out of stretch ${stretch.id} towards the far end`);
    return refusals;
  });
}

/** Stretches that have a length, do not overlap, and are opened or folded in a way that is known. */
export function checkStretches(stretches: readonly Stretch[], cloth: Cloth): Refusal[] {
  const refusals: Refusal[] = [];
  for (const stretch of stretches) {
    const { id, from, to, method, folds } = stretch;
    if (to <= from) refusals.push(refuse('stretch-empty', `stretch ${id} ends ${mm(from - to)} before it begins`));
    const wrong = depthsWrong(stretch, cloth);
    if (wrong !== null) {
      const depths = `folds ${mm(folds[0])} and ${mm(folds[1])} deep`;
      const what = `stretch ${id} has ${depths}; "${method}" on a width of ${mm(cloth.width)} cannot have such ${wrong}`;
      refusals.push(refuse('fold-depth', what));
    }
  }
  const inOrder = [...stretches].sort((one, other) => one.from - other.from || one.id - other.id);
  for (let i = 1; i < inOrder.length; i++) {
    const [one, next] = [inOrder[i - 1]!, inOrder[i]!];
    if (next.from < one.to)
      refusals.push(
        refuse('stretches-overlap', `stretch ${next.id} begins ${mm(one.to - next.from)} inside stretch ${one.id}`),
      );
  }
  return refusals;
}
