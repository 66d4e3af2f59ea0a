import type { DeclaredPiece } from './types.js';

/** `C-D`, by the labels of its corners. */
export function edgeName({ corners }: Pick<DeclaredPiece, 'corners'>, edge: number): string {
  return `${corners[edge]!.label}-${corners[(edge + 1) % corners.length]!.label}`;
}
