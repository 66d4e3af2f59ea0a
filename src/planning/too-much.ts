/** Orders that ask for more than one lay may hold; told before anything is searched. */
import type { DeclaredCloth } from '../cloth/types.js';
import { makeFault } from '../diagnostics/faults.js';
import type { Fault } from '../diagnostics/types.js';
import { areaUm2 } from '../geometry/outline.js';
import { layLengthMax, layLimits } from '../lay/limits.js';
import { garmentCount } from '../pieces/garments.js';
import type { CutPiece } from '../pieces/types.js';
import { formatBuy } from '../units/length.js';
import type { MaterialOrder } from './plan-material.js';

type Asked = Pick<MaterialOrder, 'material' | 'pieces' | 'garments' | 'places' | 'cloths' | 'units'>;

const fewerFix = 'lay fewer at a time: fewer garments, or not all cut lists together';

/** Why what is cut from a material is not planned in one lay; nothing where it is. */
export function tellTooMuch(asked: Asked): Fault[] {
  const { material, pieces, garments, places } = asked;
  const copies = pieces.map((piece) => copiesOf(piece, garments));
  const all = sum(copies);
  const points = sum(pieces.map(({ outline }, i) => copies[i]! * outline.length));
  const most = copies.indexOf(Math.max(...copies));
  const tell = (what: string, fix: string) =>
    makeFault('too-many', places.get(pieces[most]!.id) ?? null, `material "${material}"`, what, fix);
  if (all > layLimits.copies) {
    return [tell(`found ${all} copies in one lay, at most ${layLimits.copies} are planned`, fewerFix)];
  }
  if (points > layLimits.points) {
    const what = `found ${points} points on the cutting lines of its ${all} copies, at most ${layLimits.points} are planned`;
    return [tell(what, `draw curves with fewer corners, or ${fewerFix}`)];
  }
  const area = sum(pieces.map((piece, i) => copies[i]! * areaUm2(piece.outline)));
  const tooLong = asked.cloths.map((cloth) => tellTooLong(cloth, area, asked));
  return tooLong.every((fault) => fault !== null) ? tooLong : [];
}

function copiesOf(piece: CutPiece, garments: number): number {
  return (piece.demand.asDrawn + piece.demand.mirrored) * garmentCount(piece, garments);
}

/** Of a cloth at hand it is the cloth that is too short. */
function tellTooLong({ cloth, place }: DeclaredCloth, area: number, { material, units }: Asked): Fault | null {
  const leastUm = Math.ceil(area / (cloth.usable[1] - cloth.usable[0]));
  if (cloth.length !== null || leastUm <= layLengthMax) return null;
  const [least, most] = [formatBuy(leastUm, units), formatBuy(layLengthMax, units)];
  const what = `what is cut from ${material} takes ${least} of it even without waste, at most ${most} are planned in one lay`;
  return makeFault('lay-too-long', place, `cloth "${cloth.name}"`, what, fewerFix);
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((all, number) => all + number, 0);
}
