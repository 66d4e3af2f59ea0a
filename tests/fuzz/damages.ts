/**
 * Ways of damaging a lay one step at a time. Some leave a legal lay (a copy moved to where there is room): whether a
 * damaged lay may be accepted is then for the second checker to say. Others are certainly wrong, by themselves or against the
 * cut list that the lay was made from.
 */

import { partnerPose } from '../../src/lay/partner.js';
import { copyOutline, middleOf } from '../../src/lay/transform.js';
import type { Lay } from '../../src/lay/types.js';
import { type Loose, settleTotals } from '../support/damage.js';
import type { Dice } from './dice.js';

export interface Damaged {
  readonly lay: Lay;
  readonly what: string;
  /** Wrong by itself, wrong against its cut list, or for the second checker to judge. */
  readonly certainty: 'itself' | 'list' | 'judge';
}

type Draft = Loose<Lay>;
type Copy = Draft['copies'][number];
/** Changes the draft and says what it did; null where it does not apply. */
type Damage = (lay: Draft, dice: Dice) => { readonly what: string; readonly certainty: Damaged['certainty'] } | null;

/** One damage; null when the one that was drawn does not apply to this lay. */
export function damagedLay(lay: Lay, dice: Dice): Damaged | null {
  const draft = structuredClone(lay) as Draft;
  const told = dice.pick(damages)(draft, dice);
  return told === null ? null : { lay: draft as Lay, ...told };
}

const judge = (what: string) => ({ what, certainty: 'judge' as const });
const itself = (what: string) => ({ what, certainty: 'itself' as const });
const byList = (what: string) => ({ what, certainty: 'list' as const });

function pieceOf(lay: Draft, copy: Copy): Lay['pieces'][number] {
  const placement = lay.placements.find(({ copies }) => copies.includes(copy.n))!;
  return lay.pieces.find(({ id }) => id === placement.piece) as Lay['pieces'][number];
}

function layAnew(lay: Draft, copy: Copy): void {
  copy.outline = copyOutline(pieceOf(lay, copy), copy as Lay['copies'][number]) as Copy['outline'];
}

/** The second copy of a placement where the first has it. */
function follow(lay: Draft, placement: Draft['placements'][number]): void {
  const [lead, partner] = placement.copies.map((n) => lay.copies.find((copy) => copy.n === n)!);
  if (lead === undefined || partner === undefined) return;
  const stretch = lay.stretches.find(({ id }) => id === placement.stretch) as Lay['stretches'][number];
  const middle = middleOf(lead.outline as Lay['copies'][number]['outline']);
  Object.assign(partner, partnerPose(lead as Lay['copies'][number], stretch, lay.cloth.width, middle));
  layAnew(lay, partner);
}

/** Totals and reach of the stretches as the copies give them. */
function settle(lay: Draft): void {
  const xs = settleTotals(lay).map(([x]) => x);
  lay.status = 'shortest found';
  if (lay.stretches.length > 1) return;
  // Where cloth is cut across, its layers begin where the stretch does.
  if (lay.stretches[0]!.cutX === undefined) lay.stretches[0]!.from = Math.min(...xs);
  lay.stretches[0]!.to = Math.max(...xs, lay.stretches[0]!.to);
}

const steps = [1, 2, 500, 3_000, 20_000, 150_000, 600_000];

function step(dice: Dice): number {
  const size = dice.pick(steps);
  return dice.chance(50) ? size : -size;
}

/** The placement moved as a hand would: lead, partner and sums with it. */
const movePlacement: Damage = (lay, dice) => {
  const placement = dice.pick(lay.placements);
  const lead = lay.copies.find(({ n }) => n === placement.copies[0])!;
  const [dx, dy] = [dice.chance(70) ? step(dice) : 0, dice.chance(70) ? step(dice) : 0];
  if (dx === 0 && dy === 0) return null;
  lead.at = [lead.at[0] + dx, lead.at[1] + dy];
  layAnew(lay, lead);
  if (lead.outline.flat().some((value) => value < -1_000_000 || value > 47_000_000)) return null;
  follow(lay, placement);
  settle(lay);
  return judge(`placement ${placement.n} moved by ${dx}, ${dy}`);
};

const moveCopyAlone: Damage = (lay, dice) => {
  const copy = dice.pick(lay.copies);
  copy.at = [copy.at[0] + step(dice), copy.at[1]];
  layAnew(lay, copy);
  settle(lay);
  return judge(`copy ${copy.n} moved alone`);
};

const moveAt: Damage = (lay, dice) => {
  const copy = dice.pick(lay.copies);
  copy.at = dice.chance(50) ? [copy.at[0] + step(dice), copy.at[1]] : [copy.at[0], copy.at[1] + step(dice)];
  return itself(`at of copy ${copy.n} changed, its outline not`);
};

const movePoint: Damage = (lay, dice) => {
  const copy = dice.pick(lay.copies);
  const point = dice.pick(copy.outline);
  point[dice.pick([0, 1] as const)] += step(dice);
  return itself(`a point of copy ${copy.n} moved`);
};

const turn: Damage = (lay, dice) => {
  const placement = dice.pick(lay.placements);
  const lead = lay.copies.find(({ n }) => n === placement.copies[0])!;
  const before = middleOf(lead.outline as Lay['copies'][number]['outline']);
  lead.turned = ((lead.turned + dice.pick([90, 180, 180, 270])) % 360) as Copy['turned'];
  putBack(lay, lead, before);
  follow(lay, placement);
  settle(lay);
  return judge(`placement ${placement.n} turned`);
};

function putBack(lay: Draft, copy: Copy, before: readonly [number, number]): void {
  layAnew(lay, copy);
  const after = middleOf(copy.outline as Lay['copies'][number]['outline']);
  copy.at = [copy.at[0] + Math.round(before[0] - after[0]), copy.at[1] + Math.round(before[1] - after[1])];
  layAnew(lay, copy);
}

const tilt: Damage = (lay, dice) => {
  const placement = dice.pick(lay.placements);
  const lead = lay.copies.find(({ n }) => n === placement.copies[0])!;
  lead.tiltMicrodegrees += dice.pick([1, 10_000, 500_000, 3_000_000]);
  layAnew(lay, lead);
  follow(lay, placement);
  settle(lay);
  return judge(`placement ${placement.n} tilted`);
};

const mirror: Damage = (lay, dice) => {
  const copy = dice.pick(lay.copies);
  const before = middleOf(copy.outline as Lay['copies'][number]['outline']);
  copy.mirror = !copy.mirror;
  if (dice.chance(70)) copy.is = copy.is === 'asDrawn' ? 'mirrored' : 'asDrawn';
  putBack(lay, copy, before);
  settle(lay);
  return judge(`copy ${copy.n} mirrored`);
};

const flag: Damage = (lay, dice) => {
  const copy = dice.pick(lay.copies);
  switch (dice.below(3)) {
    case 0:
      copy.is = copy.is === 'asDrawn' ? 'mirrored' : 'asDrawn';
      return judge(`copy ${copy.n} called the other hand`);
    case 1:
      copy.turnedOver = !copy.turnedOver;
      copy.is = copy.is === 'asDrawn' ? 'mirrored' : 'asDrawn';
      return judge(`copy ${copy.n} turned over`);
    default:
      copy.turnedOver = !copy.turnedOver;
      return itself(`turnedOver of copy ${copy.n}`);
  }
};

const swapPlaces: Damage = (lay, dice) => {
  const [one, other] = [dice.pick(lay.placements), dice.pick(lay.placements)];
  if (one === other) return null;
  const [a, b] = [one, other].map(({ copies }) => lay.copies.find(({ n }) => n === copies[0])!) as [Copy, Copy];
  const [atA, atB] = [a, b].map(({ outline }) => middleOf(outline as Lay['copies'][number]['outline']));
  putBack(lay, a, atB!);
  putBack(lay, b, atA!);
  follow(lay, one);
  follow(lay, other);
  settle(lay);
  return judge(`placements ${one.n} and ${other.n} change places`);
};

const dropPlacement: Damage = (lay, dice) => {
  if (lay.placements.length < 2) return null;
  const [gone] = lay.placements.splice(dice.below(lay.placements.length), 1);
  lay.copies = lay.copies.filter(({ n }) => !gone!.copies.includes(n));
  settle(lay);
  return judge(`placement ${gone!.n} left out`);
};

const dropCopy: Damage = (lay, dice) => {
  const [gone] = lay.copies.splice(dice.below(lay.copies.length), 1);
  return itself(`copy ${gone!.n} left out`);
};

const addPlacement: Damage = (lay, dice) => {
  const model = dice.pick(lay.placements);
  const most = Math.max(...lay.copies.map(({ n }) => n));
  const far = Math.max(...lay.copies.flatMap(({ outline }) => outline.map(([x]) => x))) + lay.cloth.gap;
  const copies = model.copies.map((n, i) => {
    const copy = structuredClone(lay.copies.find((one) => one.n === n)!);
    copy.n = most + 1 + i;
    const left = Math.min(...copy.outline.map(([x]) => x));
    copy.at = [copy.at[0] + far - left, copy.at[1]];
    return copy;
  });
  const n = Math.max(...lay.placements.map((one) => one.n)) + 1;
  lay.placements.push({ ...structuredClone(model), n, copies: copies.map((copy) => copy.n) });
  for (const copy of copies) {
    lay.copies.push(copy);
    layAnew(lay, copy);
  }
  if (far > 40_000_000) return null;
  settle(lay);
  // One more of a piece is one too many, wherever it lies.
  return itself(`placement ${model.n} once more, at the far end`);
};

const listTwice: Damage = (lay, dice) => {
  if (dice.chance(50)) lay.copies.push(structuredClone(dice.pick(lay.copies)));
  else lay.placements.push(structuredClone(dice.pick(lay.placements)));
  return itself('a copy or placement listed twice');
};

const total: Damage = (lay, dice) => {
  const { totals } = lay;
  const by = step(dice);
  switch (dice.below(6)) {
    case 0:
      totals.lengthUsed = Math.abs(totals.lengthUsed + by);
      return judge('length used');
    case 1:
      totals.buy = Math.abs(totals.buy + by);
      return judge('length to buy');
    case 2:
      totals.areaUm2 += Math.abs(by);
      return itself('area');
    case 3:
      totals.utilisationPpm += 1;
      return itself('utilisation');
    case 4:
      totals.bound.um = totals.lengthUsed + Math.abs(by);
      return itself('bound above the length used');
    default:
      if (totals.buyParts.length === 0) return null;
      dice.pick(totals.buyParts).um += Math.abs(by);
      return itself('an addition');
  }
};

const claimProof: Damage = (lay) => {
  if (lay.totals.bound.um === lay.totals.lengthUsed) return null;
  lay.status = 'proven shortest';
  return itself('called proven shortest');
};

const otherCloth: Damage = (lay, dice) => {
  const { cloth } = lay;
  switch (dice.below(7)) {
    case 0:
      cloth.nap = cloth.nap === 'none' ? 'one-way' : 'none';
      return byList('another nap');
    case 1:
      cloth.gap += 5_000;
      return byList('a wider gap');
    case 2:
      cloth.usable = [cloth.usable[0], cloth.usable[1] - 2];
      return byList('a narrower usable width');
    case 3:
      cloth.name = `${cloth.name} 2`;
      return byList('a cloth of another name');
    case 4:
      cloth.flaws.push([
        [0, 0],
        [2_000_000, 0],
        [2_000_000, cloth.width],
        [0, cloth.width],
      ]);
      return byList('a flaw over everything');
    case 5:
      cloth.ends = [cloth.ends[0] + 1, cloth.ends[1]];
      return byList('a wider cut end');
    default:
      cloth.grain = cloth.grain === 'woven' ? 'free' : 'woven';
      return byList('another grain');
  }
};

const otherPiece: Damage = (lay, dice) => {
  const piece = dice.pick(lay.pieces);
  switch (dice.below(5)) {
    case 0:
      piece.demand.asDrawn += 1;
      return itself(`one more of ${piece.id} wanted`);
    case 1:
      dice.pick(piece.outline)[0] += step(dice);
      return byList(`the outline of ${piece.id}`);
    case 2:
      piece.onFold = !piece.onFold;
      return byList(`${piece.id} on the fold or not`);
    case 3:
      piece.cross = !piece.cross;
      return byList(`${piece.id} across the grain or not`);
    default:
      piece.label = `${piece.label}.`;
      return byList(`the label of ${piece.id}`);
  }
};

const otherHash: Damage = (lay) => {
  const turn = (hash: string) => hash.replace(/^./, (digit) => (digit === '0' ? '1' : '0'));
  if (typeof lay.cutListSha256 === 'string') lay.cutListSha256 = turn(lay.cutListSha256);
  else lay.cutListSha256[0]!.sha256 = turn(lay.cutListSha256[0]!.sha256);
  return byList('another hash');
};

const otherFold: Damage = (lay, dice) => {
  const stretch = dice.pick(lay.stretches);
  switch (dice.below(5)) {
    case 0:
      stretch.folds = [stretch.folds[0] + dice.pick([1, 1_000]), stretch.folds[1]];
      return judge('a fold elsewhere');
    case 1:
      stretch.to -= dice.pick([1, 10_000]);
      return judge('a stretch that ends earlier');
    case 2:
      stretch.from += dice.pick([1, 10_000]);
      return judge('a stretch that begins later');
    case 3:
      stretch.method = stretch.method === 'open' ? 'lengthwise fold' : 'open';
      stretch.folds = stretch.method === 'open' ? [0, 0] : [lay.cloth.width / 2, 0];
      return judge('another lay method');
    default:
      if (stretch.foldX !== undefined) stretch.foldX += dice.pick([1, -1, 1_000]);
      else if (stretch.cutX !== undefined) stretch.cutX += dice.pick([1, -1, 1_000]);
      else return null;
      return judge('a fold across elsewhere');
  }
};

const otherReference: Damage = (lay, dice) => {
  const placement = dice.pick(lay.placements);
  switch (dice.below(4)) {
    case 0:
      placement.garment += 1;
      return judge('for another garment');
    case 1:
      placement.stretch += 7;
      return itself('in a stretch that is not there');
    case 2:
      placement.copies = [placement.copies[0]! + 10_000];
      return itself('of a copy that is not there');
    default:
      placement.piece = dice.pick(lay.pieces).id;
      return judge('of another piece');
  }
};

const damages: readonly Damage[] = [
  movePlacement,
  movePlacement,
  movePlacement,
  movePlacement,
  moveCopyAlone,
  moveAt,
  movePoint,
  turn,
  tilt,
  mirror,
  flag,
  swapPlaces,
  dropPlacement,
  dropCopy,
  addPlacement,
  listTwice,
  total,
  claimProof,
  otherCloth,
  otherPiece,
  otherHash,
  otherFold,
  otherReference,
];
