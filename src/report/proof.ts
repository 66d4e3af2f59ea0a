/** What the proof of entry shows of each piece: the drawing as typed, each edge with its length, and words beside it. */
import type { CutList } from '../cutlist/types.js';
import { assert } from '../diagnostics/assert.js';
import { allowancesFor, type Shaped, shapeAsDrawn } from '../pieces/cut-piece.js';
import { copiesAsked } from '../pieces/cut-terms.js';
import { edgeName } from '../pieces/edge-name.js';
import { runPoints } from '../pieces/grain-frame.js';
import { seamLengthOf } from '../pieces/marks.js';
import type { DeclaredPiece } from '../pieces/types.js';
import { formatLength } from '../units/length.js';
import type { LengthUnit, Point } from '../units/types.js';
import { piecesInWords } from './pieces-as-read.js';
import { nameWithSize } from './words.js';

/** A piece as cut from some materials that cut it alike; all points in the frame of its drawing, y up. */
export interface ProofPiece {
  readonly title: string;
  /** Edges in file order; the corner at which each begins is lettered. */
  readonly edges: readonly { readonly letter: string; readonly points: readonly Point[]; readonly length: string }[];
  /** Both ends of the fold edge, or null. */
  readonly fold: readonly [Point, Point] | null;
  /** Foot, then head. */
  readonly grain: readonly [Point, Point];
  readonly shape: Shaped;
  /** Materials that it is cut from so, each with its cut wording. */
  readonly cuts: readonly { readonly material: string; readonly text: string; readonly copies: number }[];
  readonly size: string | null;
  readonly name: string;
  readonly words: readonly string[];
}

/** In file order; a piece that its materials cut in different ways stands once for each. */
export function proofPieces({ pieces, units }: CutList): ProofPiece[] {
  return pieces.flatMap((piece) => {
    const alike = new Map<string, { shape: Shaped; materials: string[] }>();
    for (const { material } of piece.cut) {
      const made = shapeAsDrawn(piece, material);
      assert(made.ok, `piece "${piece.id}" was checked and can be cut from ${material}`);
      const key = JSON.stringify(made.value);
      const known = alike.get(key);
      if (known === undefined) alike.set(key, { shape: made.value, materials: [material] });
      else known.materials.push(material);
    }
    const isAlone = alike.size === 1;
    return [...alike.values()].map(({ shape, materials }) => proofPiece(piece, shape, materials, isAlone, units));
  });
}

function proofPiece(
  piece: DeclaredPiece,
  shape: Shaped,
  materials: readonly string[],
  isAlone: boolean,
  units: LengthUnit,
): ProofPiece {
  const { foot, head } = piece.grain.value;
  const fold = piece.fold === null ? null : runPoints(piece, piece.fold.value);
  const allowances = allowancesFor(piece, materials[0]!);
  return {
    title: `${nameWithSize(piece.id, piece.size)}${isAlone ? '' : ` (${materials.join(', ')})`}`,
    edges: piece.edges.map(({ points }, edge) => {
      const run = { name: edgeName(piece, edge), edges: [edge], reversed: false };
      const length = formatLength(Math.round(seamLengthOf(piece, run, allowances)), units);
      return { letter: piece.corners[edge]!.label, points, length: length.replace(/ (cm|mm|in)$/, '') };
    }),
    fold: fold === null ? null : [fold[0]!, fold.at(-1)!],
    grain: [foot, head],
    shape,
    cuts: piece.cut
      .filter(({ material }) => materials.includes(material))
      .map(({ material, text, terms }) => ({ material, text, copies: copiesAsked(terms) })),
    size: piece.size,
    name: piece.id,
    words: piecesInWords(piece, materials, units),
  };
}
