/**
 * Which cloths serve a material that several cut lists cut from: those of the only list that declares any, or those that
 * all of them declare alike.
 */
import type { DeclaredCloth } from '../cloth/types.js';
import { makeFault } from '../diagnostics/faults.js';
import type { Fault } from '../diagnostics/types.js';
import type { CutList } from './types.js';

/**
 * The cloths for all materials of these lists, each for those materials for which it serves; what is wrong is added to
 * `faults`.
 * @param wished the cloth to take where the lists do not agree, or null
 */
export function agreeOnCloths(
  cutLists: readonly CutList[],
  wished: string | null,
  faults: Fault[],
): readonly DeclaredCloth[] {
  const serving = new Map<DeclaredCloth, string[]>();
  const pieces = cutLists.flatMap((cutList) => cutList.pieces);
  const cuts = pieces.flatMap((piece) => piece.cut.map((cut) => ({ piece, cut })));
  for (const material of new Set(cuts.map(({ cut }) => cut.material))) {
    const offers = cutLists
      .map(({ cloths }) => cloths.filter(({ materials }) => materials.includes(material)))
      .filter((cloths) => cloths.length > 0);
    const chosen = offers.length === 0 ? null : chooseOffer(offers, material, wished, faults);
    if (chosen === null) {
      const { piece, cut } = cuts.find((each) => each.cut.material === material)!;
      const what = `there is no cloth for ${material} in any of the cut lists`;
      const fix = `add a cloth with "for: ${material}" to one of them`;
      faults.push(makeFault('no-cloth', cut.place, `piece "${piece.id}"`, what, fix));
    }
    for (const cloth of chosen ?? []) serving.set(cloth, [...(serving.get(cloth) ?? []), material]);
  }
  const isWanted = new Set(cuts.map(({ cut }) => cut.material));
  for (const { cloth, materials, place } of cutLists.flatMap(({ cloths }) => cloths)) {
    for (const material of materials.filter((each) => !isWanted.has(each))) {
      const what = `no piece is cut from ${material}`;
      const fix = 'check the names of the materials';
      faults.push(makeFault('cloth-unused', place, `cloth "${cloth.name}"`, what, fix, 'warning'));
    }
  }
  return [...serving].map(([cloth, materials]) => ({ ...cloth, materials }));
}

/** Where they do not agree, the wish decides if it can. */
function chooseOffer(
  offers: readonly (readonly DeclaredCloth[])[],
  material: string,
  wished: string | null,
  faults: Fault[],
): readonly DeclaredCloth[] {
  const disagreements = disagreementsOf(offers, material);
  if (disagreements.length === 0) return offers[0]!;
  const asWished = offers.map((cloths) => cloths.filter(({ cloth }) => cloth.name === wished));
  const left = asWished.filter((cloths) => cloths.length > 0);
  const still = left.length === 0 ? disagreements : disagreementsOf(left, material);
  faults.push(...still);
  return left[0] ?? offers[0]!;
}

/** What the second and further lists declare otherwise than the first. */
function disagreementsOf(offers: readonly (readonly DeclaredCloth[])[], material: string): Fault[] {
  const [first, ...others] = offers as readonly [readonly DeclaredCloth[], ...(readonly DeclaredCloth[])[]];
  const find = (cloths: readonly DeclaredCloth[], { cloth }: DeclaredCloth) =>
    cloths.find((each) => each.cloth.name === cloth.name);
  return others.flatMap((cloths): Fault[] => [
    ...cloths.flatMap((mine) => differing(mine, find(first, mine) ?? mine)),
    ...cloths.filter((mine) => find(first, mine) === undefined).map((mine) => onlyInOne(mine, first[0]!, material)),
    ...first.filter((mine) => find(cloths, mine) === undefined).map((mine) => onlyInOne(mine, cloths[0]!, material)),
  ]);
}

function onlyInOne({ cloth, place }: DeclaredCloth, other: DeclaredCloth, material: string): Fault {
  const there = `"${other.cloth.name}" (${other.place.file}:${other.place.line})`;
  const what = `one cut list has it for ${material}, the other has ${there}, so it is not clear what both are laid on`;
  const fix = `say which with --cloth, or leave the cloths of ${material} out of one of the cut lists`;
  return makeFault('cloths-disagree', place, `cloth "${cloth.name}"`, what, fix);
}

function differing(mine: DeclaredCloth, other: DeclaredCloth): Fault[] {
  const keys = differingKeys(mine, other);
  if (keys.length === 0) return [];
  const what = `it is not the same in ${other.place.file}:${other.place.line}: ${keys.join(', ')} ${keys.length === 1 ? 'differs' : 'differ'}`;
  const fix = 'make the two alike, or remove one of them';
  return [makeFault('cloths-disagree', mine.place, `cloth "${mine.cloth.name}"`, what, fix)];
}

/** Keys of the cut list by which two cloths differ. */
function differingKeys(a: DeclaredCloth, b: DeclaredCloth): string[] {
  const isOther = (x: unknown, y: unknown) => JSON.stringify(x) !== JSON.stringify(y);
  const cloth = (Object.keys(a.cloth) as (keyof DeclaredCloth['cloth'])[])
    .filter((key) => isOther(a.cloth[key], b.cloth[key]))
    .map((key) => keysInFile[key] ?? key);
  const method = isOther(a.method, b.method) ? ['method'] : [];
  return [...cloth, ...method, ...(isOther(a.foldUm, b.foldUm) ? ['fold'] : [])];
}

/** What some properties are called in the cut list. */
const keysInFile: Readonly<Partial<Record<keyof DeclaredCloth['cloth'], string>>> = {
  shrinkagePpm: 'shrinkage',
  soldBy: 'sold-by',
  priceMinorPerMetre: 'price',
};
