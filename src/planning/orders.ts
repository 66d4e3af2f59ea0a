/**
 * Which materials are planned on which cloths, and with what the run says instead of the file. Every wrong wish is told
 * at once.
 */

import { isStrip } from '../cloth/folding.js';
import { type Cloth, type DeclaredCloth, evenWidth, type LayName, type Nap } from '../cloth/types.js';
import { washedLength } from '../cloth/washing.js';
import { makeFault } from '../diagnostics/faults.js';
import type { Fault, Place, Result } from '../diagnostics/types.js';
import type { Outline, Point, Um } from '../units/types.js';

/** What a run may ask for instead of everything, or of what the file says; null = as the file says. */
export interface Wishes {
  readonly material: string | null;
  readonly cloth: string | null;
  /** These four go before what the file says. Of several widths each cloth is planned on each. */
  readonly widthsUm: readonly Um[] | null;
  readonly lengthUm: Um | null;
  readonly nap: Nap | null;
  readonly method: LayName | 'best' | null;
}

export interface Order {
  readonly material: string;
  readonly cloths: readonly DeclaredCloth[];
  /** Several cloths compete for this material, so output names carry the cloth's. */
  readonly manyCloths: boolean;
}

/**
 * The materials in the order given, each with its cloths; the wishes narrow and override.
 * @param at where faults about the wishes are told
 * @param eachCloth a width wished for is meant for each of the cloths
 */
export function chooseOrders(
  materials: readonly string[],
  offered: readonly DeclaredCloth[],
  wishes: Wishes,
  at: Place,
  eachCloth = false,
): Result<readonly Order[]> {
  const faults: Fault[] = [];
  if (wishes.material !== null && !materials.includes(wishes.material)) {
    const what = `nothing is cut from a material called "${wishes.material}"`;
    faults.push(makeFault('unknown-material', at, '--material', what, `name one of: ${materials.join(', ')}`));
  }
  const names = offered.map(({ cloth }) => cloth.name);
  if (wishes.cloth !== null && !names.includes(wishes.cloth)) {
    const what = `the cut list has no cloth called "${wishes.cloth}"`;
    faults.push(makeFault('unknown-cloth', at, '--cloth', what, `name one of: ${names.join(', ')}`));
  }
  const orders: Order[] = [];
  for (const material of materials) {
    if (wishes.material !== null && material !== wishes.material) continue;
    const all = offered.filter((cloth) => cloth.materials.includes(material));
    const asked = all.filter(({ cloth }) => wishes.cloth === null || cloth.name === wishes.cloth);
    const isSized = wishes.widthsUm !== null || wishes.lengthUm !== null;
    faults.push(...asked.filter(({ irregular }) => irregular && isSized).map(hasItsSize));
    const widths = wishes.widthsUm ?? [null];
    const cloths = asked.flatMap((cloth) => widths.map((width) => overrideCloth(cloth, width, wishes, faults)));
    if (cloths.length > 0) orders.push({ material, cloths, manyCloths: all.length > 1 });
  }
  const named = new Set(orders.flatMap((order) => order.cloths.map(({ cloth }) => cloth.name)));
  if (named.size > 1 && ((!eachCloth && wishes.widthsUm?.length === 1) || wishes.lengthUm !== null)) {
    const what = 'a width or length given for the run would hold for several cloths';
    faults.push(
      makeFault('which-cloth', at, wishes.widthsUm === null ? '--length' : '--width', what, 'name one with --cloth'),
    );
  }
  if (orders.length === 0 && faults.length === 0) {
    faults.push(
      makeFault('nothing-to-plan', at, null, 'no piece is cut from this cloth', 'choose another --cloth or --material'),
    );
  }
  return faults.length > 0 ? { ok: false, faults } : { ok: true, value: orders };
}

/** Command-line values instead of the file's. Another width keeps what the file's width loses at either side. */
function overrideCloth(declared: DeclaredCloth, widthUm: Um | null, wishes: Wishes, faults: Fault[]): DeclaredCloth {
  const { cloth } = declared;
  const method = wishes.method ?? declared.method;
  const width = widthOf(cloth, widthUm, method);
  const usable: readonly [Um, Um] =
    method === 'tube' ? [0, width] : [cloth.usable[0], cloth.usable[1] + width - cloth.width];
  if (usable[1] <= usable[0]) {
    const what = 'the width leaves nothing between the selvedges';
    faults.push(
      makeFault('width-too-small', declared.place, `cloth "${cloth.name}"`, what, 'give the whole width of the cloth'),
    );
  }
  const changed: Cloth = {
    ...cloth,
    width,
    usable,
    length: wishes.lengthUm === null ? cloth.length : washedLength(wishes.lengthUm, cloth.shrinkagePpm?.along ?? 0),
    flaws: cloth.flaws.map((flaw) => (isCrease(flaw, cloth) ? movedAcross(flaw, (width - cloth.width) / 2) : flaw)),
    nap: wishes.nap ?? cloth.nap,
  };
  const isOtherTube = method === 'tube' && declared.method !== 'tube';
  const notices = isOtherTube
    ? [tubeRound(declared)]
    : width === cloth.width
      ? declared.notices
      : [usableKept(declared)];
  return { ...declared, cloth: changed, method, notices };
}

function hasItsSize({ cloth, place }: DeclaredCloth): Fault {
  const what = 'it is an irregular remnant, whose width and length are those of its outline';
  return makeFault('remnant-has-its-size', place, `cloth "${cloth.name}"`, what, 'leave the width and the length out');
}

/** The width wished for, washed like the cloth; the round of a tube can be folded at a quarter. */
function widthOf(cloth: Cloth, wishedUm: Um | null, method: DeclaredCloth['method']): Um {
  const width = wishedUm === null ? cloth.width : washedLength(wishedUm, cloth.shrinkagePpm?.across ?? 0);
  return method === 'tube' ? 4 * Math.floor(width / 4) : evenWidth(width);
}

/** Another width was given: what is lost at its sides is taken to be as before. */
function usableKept({ cloth, place }: DeclaredCloth): Fault {
  const price = cloth.priceMinorPerMetre === null ? '' : ', and its price to be the same';
  const what = `with another width its sides are taken to lose as much as those of the width in the file${price}`;
  const fix = `measure the cloth and give its width${price === '' ? ' and usable' : ', usable and price'} in the file`;
  return makeFault('usable-assumed', place, `cloth "${cloth.name}"`, what, fix, 'notice');
}

/** A strip in the very middle of the cloth. */
function isCrease(flaw: Outline, { width }: Cloth): boolean {
  const ys = flaw.map(([, y]) => y);
  return isStrip(flaw) && Math.min(...ys) + Math.max(...ys) === width;
}

function movedAcross(flaw: Outline, by: Um): Outline {
  return flaw.map(([x, y]): Point => [x, y + by]);
}

/** It is laid as a tube now: its width is once round. */
function tubeRound({ cloth, place }: DeclaredCloth): Fault {
  const what = 'its width is taken as once round the tube, twice as much as it lies wide';
  return makeFault('tube-round', place, `cloth "${cloth.name}"`, what, 'give the whole round as its width', 'notice');
}
