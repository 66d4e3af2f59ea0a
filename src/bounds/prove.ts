/**
 * Bounds for small problems by trying all arrangements. Two of them: the row bound (see row.ts), and the longest length
 * in which no arrangement has room (see arrange.ts). Both hold for the things of every problem: what they do not look
 * at - lattices, the finest parts of an outline, nooks smaller than a share of the piece, some blocked places - only
 * makes them smaller. For rectangles the second is exact when it ends within its steps. Other things are first looked at as
 * one rectangle within each, which is quicker, then as they are, from the length proven so far.
 *
 * Lengths are tried from the one already known to be needed upwards, in growing strides. An arrangement that is left
 * over tells that the things, as looked at, have room in a length; from then on the length just below it is tried, and
 * when that takes too many steps, halfway down. A length in which nothing has room is proof whatever came after it.
 *
 * Sides. When the problem looks the same seen from the other end, from the other edge or turned round (each thing may
 * lie mirrored so, in the mirrored range across), every legal lay has an image that is legal and as long; so of the
 * first thing only the half with its middle before the middle of the length, or below the middle of the width, need be
 * tried. That thing must be the only one of its group or have one form, in which case it is the foremost of its copies:
 * seen from the other end the hindmost, so one of both lies in the first half.
 */
import { boundsOf } from '../geometry/outline.js';
import type { Problem } from '../problem/types.js';
import type { Outline, Point, Um } from '../units/types.js';
import { type Answer, hasRoom, type Pair, type Placed } from './arrange.js';
import { type Forbidden, forbiddenPlaces } from './forbidden.js';
import { asRectangles, type Form, fromLeast, type Group, groupsOf, keyOf } from './forms.js';
import { rowBound } from './row.js';
import type { Bound } from './types.js';

/** Tried for at most so many copies. */
const copiesMost = 10;
/** ... lying in at most so many combinations of forms. */
const combinationsMost = 2000;
/** Blocked places looked at. */
const blockedMost = 4;
/** Share of the steps for rectangles within the things, which are quicker to try but prove less. */
const rectanglesShare = 0.4;
/** First stride above the known length; lengths nearer than the second share are not told apart after a failure. */
const strideShare = 1 / 32;
const sameShare = 1 / 5000;

/** What is tried, whatever the length. */
interface Setting {
  readonly problem: Problem;
  readonly things: readonly Thing[];
  readonly blocked: readonly { readonly form: Form; readonly x: Um }[];
  readonly combinations: readonly (readonly number[])[];
  readonly halves: { readonly along: boolean; readonly across: boolean };
  /** Twice the middle of all zones. */
  readonly twiceMiddle: Um;
  readonly forbidden: Map<string, Forbidden>;
}

interface Thing {
  readonly forms: readonly Form[];
  readonly group: number;
  /** Whether the thing before is a copy. */
  readonly isNextCopy: boolean;
}

/**
 * A length above `knownUm` that no legal lay can be shorter than, or null when none is proven within the counted steps.
 * No legal lay may be shorter than `knownUm`. Always null for more than a few copies.
 */
export function exactBound(problem: Problem, knownUm: Um, stepsMost: number): Bound | null {
  const groups = groupsOf(problem);
  const copies = groups.reduce((sum, { count }) => sum + count, 0);
  if (copies < 2 || copies > copiesMost) return null;
  const row = rowBound(groups, problem.gapUm, stepsMost / 2);
  let best: Bound | null = null;
  let known = knownUm;
  if (row !== null && row.um > known) {
    known = row.um;
    best = { um: known, why: reasonForRow(row.groups) };
  }
  let stepsLeft = stepsMost - (row?.steps ?? 0);
  let proven = known;
  const within = groups.map(asRectangles);
  const isPlain = within.every(({ areaUm2 }, i) => areaUm2 === groups[i]!.areaUm2);
  for (const looked of isPlain ? [groups] : [within.filter(({ areaUm2 }) => areaUm2 > 0), groups]) {
    const setting = looked.length === 0 ? null : settingOf(problem, looked);
    if (setting === null) continue;
    const steps = { left: looked === groups ? stepsLeft : Math.floor(stepsLeft * rectanglesShare) };
    stepsLeft -= steps.left;
    proven = lengthNeeded(setting, proven, steps);
    stepsLeft += Math.max(0, steps.left);
  }
  if (proven <= known) return best;
  return {
    um: proven,
    why: `with outlines that are a little smaller than they are, no arrangement of the ${copies} pieces is shorter`,
  };
}

function reasonForRow(groups: readonly Group[]): string {
  const names = [...new Set(groups.flatMap((group) => group.names))];
  const listed = names.length > 3 ? [...names.slice(0, 3), `${names.length - 3} more`] : names;
  const last = listed.pop()!;
  const together = listed.length === 0 ? last : `${listed.join(', ')} and ${last}`;
  return `every order of ${together} one behind another was tried, and none is shorter`;
}

function settingOf(problem: Problem, groups: readonly Group[]): Setting | null {
  // The first thing is the one that may be kept to one half: a single one or one of one form, if there is any.
  const first = Math.max(
    0,
    groups.findIndex(({ count, forms }) => count === 1 || forms.length === 1),
  );
  const inOrder = [groups[first]!, ...groups.filter((_, group) => group !== first)];
  const things = inOrder.flatMap(({ count, forms }, group) =>
    Array.from({ length: count }, (_, copy): Thing => ({ forms, group, isNextCopy: copy > 0 })),
  );
  const combinations = combinationsOf(things);
  if (combinations === null) return null;
  const blocked = problem.blocked.slice(0, blockedMost).map(({ shape, x, y }) => {
    const { outline } = problem.shapes[shape]!;
    const kind = { name: '', count: 1, choices: [{ shape, zone: 0, yMin: y, yMax: y, lattice: null }] };
    const [group] = groupsOf({ ...problem, kinds: [kind] });
    return { form: group!.forms[0]!, x: x + boundsOf(outline).minX };
  });
  const ends = problem.zones.flatMap(({ yFrom, yTo }) => [yFrom, yTo]);
  const twiceMiddle = Math.min(...ends) + Math.max(...ends);
  const mayHalve = problem.blocked.length === 0 && (inOrder[0]!.count === 1 || inOrder[0]!.forms.length === 1);
  const looksSame = (flip: Flip): boolean => mayHalve && groups.every((group) => isClosed(group, flip, twiceMiddle));
  const along = looksSame({ along: true, across: false });
  const halves = {
    along: along || looksSame({ along: true, across: true }),
    across: looksSame({ along: false, across: true }),
  };
  return { problem, things, blocked, combinations, halves, twiceMiddle, forbidden: new Map() };
}

/** All ways to give each thing a form, copies in the order of their forms; null when there are too many. */
function combinationsOf(things: readonly Thing[]): number[][] | null {
  let combinations: number[][] = [[]];
  for (const { forms, isNextCopy } of things) {
    combinations = combinations.flatMap((before) => {
      const from = isNextCopy ? before[before.length - 1]! : 0;
      return forms.slice(from).map((_, index) => [...before, from + index]);
    });
    if (combinations.length > combinationsMost) return null;
  }
  return combinations;
}

interface Flip {
  readonly along: boolean;
  readonly across: boolean;
}

/** Whether the image of each form of the group is one of its forms. */
function isClosed({ forms }: Group, { along, across }: Flip, twiceMiddle: Um): boolean {
  const keys = new Set(forms.map(({ key }) => key));
  return forms.every(({ outline, length, height, lowMin, lowMax }) => {
    const image: Outline = outline.map(([x, y]): Point => [along ? length - x : x, across ? height - y : y]);
    const ring = along === across ? image : [...image].reverse();
    const [from, to] = across ? [twiceMiddle - height - lowMax, twiceMiddle - height - lowMin] : [lowMin, lowMax];
    return keys.has(keyOf(fromLeast(ring), from, to));
  });
}

/** The least length not proven too short, never below the known one. */
function lengthNeeded(setting: Setting, knownUm: Um, steps: { left: number }): Um {
  let needed = knownUm;
  /** Least length in which an arrangement is left over, and least one that took too many steps. */
  let roomAt = Number.POSITIVE_INFINITY;
  let openAt = Number.POSITIVE_INFINITY;
  let stride = Math.max(1, Math.ceil(knownUm * strideShare));
  let length = knownUm;
  while (length >= needed && steps.left > 0) {
    const answer = tryLength(setting, length, steps);
    if (answer.how === 'no room') needed = length + 1;
    else if (answer.how === 'open') openAt = length;
    else roomAt = Math.max(needed, Math.min(length, answer.um));
    if (openAt === knownUm || needed >= roomAt) break;
    if (openAt < roomAt) {
      if (openAt - needed <= needed * sameShare) break;
      length = Math.floor((needed + openAt) / 2);
    } else if (roomAt < Number.POSITIVE_INFINITY) {
      length = roomAt - 1;
    } else {
      length = needed + stride;
      stride *= 2;
    }
  }
  return needed;
}

/** One length with a third of the steps left. */
function tryLength(setting: Setting, lengthUm: Um, steps: { left: number }): Answer {
  const share = Math.ceil(steps.left / 3);
  const own = { left: share };
  let answer: Answer = { how: 'no room' };
  for (const combination of setting.combinations) {
    answer = tryForms(setting, combination, lengthUm, own);
    if (answer.how !== 'no room') break;
  }
  steps.left -= share - own.left;
  return answer;
}

function tryForms(setting: Setting, combination: readonly number[], lengthUm: Um, steps: { left: number }): Answer {
  const { problem, things, blocked, halves, twiceMiddle } = setting;
  const forms = [...things.map((thing, i) => thing.forms[combination[i]!]!), ...blocked.map(({ form }) => form)];
  const placed = forms.map(({ length, height, lowMin, lowMax }, i): Placed => {
    if (i >= things.length) {
      const { x } = blocked[i - things.length]!;
      return { length, xMin: x, xMax: x, yMin: lowMin, yMax: lowMax, counts: false };
    }
    return {
      length,
      xMin: 0,
      xMax: i === 0 && halves.along ? Math.floor((lengthUm - length) / 2) : null,
      yMin: lowMin,
      yMax: i === 0 && halves.across ? Math.min(lowMax, Math.floor((twiceMiddle - height) / 2)) : lowMax,
      counts: true,
    };
  });
  const pairs: Pair[] = [];
  for (let j = 1; j < things.length + blocked.length; j++) {
    for (let i = 0; i < Math.min(j, things.length); i++) {
      steps.left -= 1;
      const isInOrder = j < things.length && j === i + 1 && things[j]!.isNextCopy && combination[i] === combination[j];
      pairs.push({ i, j, forbidden: forbiddenOf(setting, forms[i]!, forms[j]!, problem.gapUm, steps), isInOrder });
    }
  }
  return hasRoom(placed, pairs, lengthUm, steps);
}

function forbiddenOf({ forbidden }: Setting, a: Form, b: Form, gapUm: Um, steps: { left: number }): Forbidden {
  const key = `${a.key}|${b.key}`;
  const known = forbidden.get(key);
  if (known !== undefined) return known;
  const made = forbiddenPlaces(a.fewParts, b.fewParts, gapUm);
  steps.left -= 20 * made.steps;
  forbidden.set(key, made);
  return made;
}
