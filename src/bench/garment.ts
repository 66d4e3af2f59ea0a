/**
 * A cut list as subjects to measure: one for each material, cloth and legal lay method, posed and turned into lays as
 * planning does it. Here each has the whole effort to itself.
 */
import { checkLayAgainst } from '../checker/check-lay.js';
import { fixedFolding } from '../cloth/folding.js';
import type { DeclaredCloth } from '../cloth/types.js';
import { readCutList } from '../cutlist/read.js';
import type { CutList } from '../cutlist/types.js';
import { assert } from '../diagnostics/assert.js';
import type { Result } from '../diagnostics/types.js';
import type { SearchResult } from '../engine/types.js';
import { cutPiecesFor } from '../index.js';
import type { CutPiece } from '../pieces/types.js';
import { makeLay } from '../planning/plan-material.js';
import { methodsOf } from '../planning/ways.js';
import { type Posed, poseProblem } from '../problem/build.js';
import type { Solution } from '../problem/types.js';
import { timesWord } from './settings.js';
import type { Judged, Subject } from './types.js';

const centimetreUm = 10_000;
/** Lay methods that are measured: each is one problem, and the others are built of the like. */
const measured = ['open', 'lengthwise fold'] as const;

export interface GarmentSubjects {
  readonly subjects: readonly Subject[];
  /** Lay methods that are not legal or for which a piece is too wide. */
  readonly skipped: readonly { readonly name: string; readonly why: string }[];
}

interface Case {
  readonly cutList: CutList;
  readonly material: string;
  readonly pieces: readonly CutPiece[];
  readonly cloth: DeclaredCloth;
  readonly posed: Posed;
}

/**
 * @param label the cut list's name in the results
 * @param times every number of copies is so many times as large
 */
export function poseGarment(label: string, text: string, times: number): Result<GarmentSubjects> {
  const read = readCutList(text, label);
  if (!read.ok) return read;
  const cutList = read.value;
  const subjects: Subject[] = [];
  const skipped: { name: string; why: string }[] = [];
  for (const material of new Set(cutList.pieces.flatMap(({ cut }) => cut.map((entry) => entry.material)))) {
    const pieces = cutPiecesFor(cutList, material).map((piece) => multiplyPiece(piece, times));
    for (const cloth of cutList.cloths.filter(({ materials }) => materials.includes(material))) {
      for (const method of measured.filter((each) => methodsOf(cloth).includes(each))) {
        const name = [label, material, cloth.cloth.name, method].join(' / ') + timesWord(times);
        const answer = poseProblem(fixedFolding(method, cloth.cloth)!, cloth.cloth, { pieces, garments: 1 });
        if (!answer.legal) {
          skipped.push({ name, why: answer.why });
        } else if (answer.tooWide.length > 0) {
          skipped.push({ name, why: `too wide: ${answer.tooWide.map(({ piece }) => piece.id).join(', ')}` });
        } else {
          subjects.push(subjectOf(name, { cutList, material, pieces, cloth, posed: answer.posed }));
        }
      }
    }
  }
  return { ok: true, value: { subjects, skipped } };
}

function multiplyPiece(piece: CutPiece, times: number): CutPiece {
  const { asDrawn, mirrored } = piece.demand;
  return { ...piece, demand: { asDrawn: asDrawn * times, mirrored: mirrored * times } };
}

function subjectOf(name: string, own: Case): Subject {
  return {
    name,
    sort: 'garment',
    problem: own.posed.problem,
    unitUm: centimetreUm,
    copies: own.pieces.reduce((sum, { demand }) => sum + demand.asDrawn + demand.mirrored, 0),
    judge: (solution, result, seed) => judgeGarment(own, solution, result, seed),
  };
}

function judgeGarment(own: Case, solution: Solution, result: SearchResult, seed: number): Judged {
  const { cutList, material, pieces } = own;
  const { bound, status, effort } = result;
  assert(status !== 'does not fit', 'what does not fit has no solution');
  const words = { title: cutList.title, cutListSha256: cutList.sha256, material, pieces, garments: 1 };
  const lay = makeLay(words, own.cloth.cloth, [{ posed: own.posed, solution }], { bound, status }, { seed, effort });
  const expected = { cutListSha256: cutList.sha256, pieces, cloth: own.cloth.cloth, garments: 1 };
  const pieceOf = new Map(lay.placements.flatMap(({ piece, copies }) => copies.map((n) => [n, piece] as const)));
  return {
    length: lay.totals.lengthUsed / centimetreUm,
    utilisationPercent: lay.totals.utilisationPpm / 10_000,
    verified: checkLayAgainst(lay, expected).accepted,
    placements: lay.copies.map(({ n, mirror, turned, at }) => ({
      piece: pieceOf.get(n)!,
      mirrored: mirror,
      rotationDegrees: turned,
      x: at[0] / centimetreUm,
      y: at[1] / centimetreUm,
    })),
  };
}
