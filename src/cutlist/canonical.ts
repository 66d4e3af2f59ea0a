/**
 * The canonical form of a cut list and its hash: what the file means, without comments, spaces, places and order of
 * pieces and cloths. Lengths in whole micrometres.
 */
import { createHash } from 'node:crypto';
import type { DeclaredCloth } from '../cloth/types.js';
import { compareText } from '../diagnostics/faults.js';
import type { DeclaredPiece } from '../pieces/types.js';

/** SHA-256 of the canonical form, in hexadecimal. */
export function hashCutList(title: string, pieces: readonly DeclaredPiece[], cloths: readonly DeclaredCloth[]): string {
  const canonical = {
    title,
    pieces: pieces.map(canonicalPiece).sort((a, b) => compareText(a.id, b.id)),
    cloths: cloths.map(canonicalCloth).sort((a, b) => compareText(a.cloth.name, b.cloth.name)),
  };
  return createHash('sha256').update(JSON.stringify(canonical), 'utf8').digest('hex');
}

function canonicalPiece(piece: DeclaredPiece) {
  const materials = piece.cut.map(({ material }) => material).sort(compareText);
  return {
    id: piece.id,
    size: piece.size,
    note: piece.note,
    drawn: piece.drawn,
    corners: piece.corners.map(({ label, at }) => ({ label, at })),
    edges: piece.edges.map(({ points }) => points),
    fold: piece.fold?.value.edges ?? null,
    grain: piece.grain.value,
    cut: materials.map((material) => ({
      material,
      text: piece.cut.find((entry) => entry.material === material)!.text,
      allowance: allowanceOf(piece, material),
    })),
    cornerStyles: piece.cornerStyles,
    notches: piece.notches.map(({ value }) => value),
    awl: piece.awl.map(({ value }) => value),
    darts: piece.darts.map(({ value }) => value),
    pleats: piece.pleats.map(({ value }) => value),
    match: piece.match.map(({ value }) => value),
    ...(piece.inner.length === 0 ? {} : { inner: piece.inner }),
    hole: piece.hole,
    parts: piece.parts,
    tilt: piece.tiltMaxMicrodegrees,
    turn: piece.turn,
  };
}

function allowanceOf({ allowanceByMaterial, allowanceDefault }: DeclaredPiece, material: string) {
  const { byEdge, rest } = allowanceByMaterial.get(material) ?? allowanceDefault;
  return { byEdge, rest };
}

function canonicalCloth({ cloth, materials, method, foldUm }: DeclaredCloth) {
  const fold = foldUm === null ? {} : { fold: foldUm };
  return { cloth, materials: [...materials].sort(compareText), method, ...fold };
}
