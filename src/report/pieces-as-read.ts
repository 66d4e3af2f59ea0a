/** How every piece was read: one line for each piece and material, for checking a cut list against the paper. */
import type { CutList } from '../cutlist/types.js';
import { areaUm2, boundsOf } from '../geometry/outline.js';
import { makeCutPiece } from '../pieces/cut-piece.js';
import { isOwnMirrorImage } from '../pieces/mirror-image.js';
import type { CutPiece } from '../pieces/types.js';
import { formatDecimal, formatLength } from '../units/length.js';
import type { LengthUnit } from '../units/types.js';
import { wrapAfter } from './columns.js';
import { counted } from './words.js';

/** Lines in file order; a piece that cannot be cut has none (its fault says why). */
export function piecesAsRead(cutList: CutList, width = 80): string[] {
  return cutList.pieces.flatMap((piece) =>
    piece.cut.flatMap(({ material, text }) => {
      const made = makeCutPiece(piece, material);
      if (!made.ok) return [];
      const line = `${piece.id}: cut ${text} from ${material}, read as ${demandInWords(made.value)}; ${sizeInWords(made.value, cutList.units)}`;
      return wrapAfter('', line, width).map((each, index) => (index === 0 ? each : `  ${each}`));
    }),
  );
}

function demandInWords(piece: CutPiece): string {
  const { asDrawn, mirrored } = piece.demand;
  const total = counted(asDrawn + mirrored, 'copy', 'copies');
  if (piece.onFold) return `${total}, unfolded`;
  if (isOwnMirrorImage(piece)) return asDrawn === 1 ? total : `${total}, all alike`;
  const pairs = Math.min(asDrawn, mirrored);
  const parts = [
    pairs === 0 ? '' : counted(pairs, 'pair', 'pairs'),
    asDrawn === pairs ? '' : `${asDrawn - pairs} as drawn`,
    mirrored === pairs ? '' : `${mirrored - pairs} mirrored`,
  ];
  return parts.filter((part) => part !== '').join(' + ');
}

function sizeInWords({ outline }: CutPiece, units: LengthUnit): string {
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  const along = formatLength(maxX - minX, units);
  const across = formatLength(maxY - minY, units);
  return `${along} along the grain x ${across} across, area ${areaInWords(areaUm2(outline), units)}`;
}

/** Square centimetres, or square inches for inch lists, one decimal. */
function areaInWords(um2: number, units: LengthUnit): string {
  const inches = units === 'in';
  return `${formatDecimal(um2, inches ? 25_400 * 25_400 : 10_000 * 10_000, 1)} ${inches ? 'sq in' : 'cm2'}`;
}
