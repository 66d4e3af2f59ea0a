import type { DeclaredPiece } from './types.js';

/** `C-D`, by the labels of its corners. */
export function edgeName(piece: DeclaredPiece, edge: number): string {
  return `${piece.corners[edge]!.label}-${piece.corners[(edge + 1) % piece.corners.length]!.label}`;
}
