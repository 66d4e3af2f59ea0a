/** What the cut list reader gives: everything the file says, with places, nothing decided yet. */
import type { DeclaredCloth } from '../cloth/types.js';
import type { Fault, Located } from '../diagnostics/types.js';
import type { Seam } from '../pieces/seams.js';
import type { DeclaredPiece } from '../pieces/types.js';
import type { LengthUnit } from '../units/types.js';

export interface CutList {
  readonly file: string;
  readonly title: string;
  readonly units: LengthUnit;
  /** In file order. */
  readonly pieces: readonly DeclaredPiece[];
  readonly cloths: readonly DeclaredCloth[];
  readonly seams: readonly Located<Seam>[];
  /** Of the canonical form: pieces by name, lengths in um; order, comments and spaces do not change it. */
  readonly sha256: string;
  /** Warnings and notices; errors never come with a CutList. */
  readonly notices: readonly Fault[];
}
