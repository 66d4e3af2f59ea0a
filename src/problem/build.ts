/**
 * From lay rules to frozen numbers: shapes, choices, zones. Also remembers what each kind and choice means, so that
 * a solution can become a lay again.
 *
 * Search frame: x = 0 is where placements begin (`ends[0]` from the cut end); y is that of the flat cloth frame.
 */
import { createHash } from 'node:crypto';
import { foldLineOf, layRules, type PlacementRule, usableRange } from '../cloth/lay-rules.js';
import type { Cloth, LayMethod } from '../cloth/types.js';
import { assert } from '../diagnostics/assert.js';
import { boundsOf, mirrorOutline, ringKey, turnOutline } from '../geometry/outline.js';
import { isOwnMirrorImage } from '../pieces/mirror-image.js';
import type { CutPiece } from '../pieces/types.js';
import type { Outline, Point, Um } from '../units/types.js';
import type { Choice, Kind, Problem, Shape } from './types.js';

/** What a kind of the problem stands for. */
export interface KindMeaning {
  readonly piece: CutPiece;
  readonly rule: PlacementRule;
  /** Parallel to the kind's choices. */
  readonly choices: readonly { readonly mirror: boolean; readonly turned: 0 | 180 }[];
}

export interface Posed {
  readonly problem: Problem;
  readonly kinds: readonly KindMeaning[];
}

/** A piece that cannot lie anywhere across the cloth, however it may be turned. */
export interface TooWide {
  readonly piece: CutPiece;
  /** Its least extent across the cloth, and what there is. */
  readonly needsUm: Um;
  readonly usableUm: Um;
}

export type PoseAnswer =
  | { readonly legal: true; readonly posed: Posed; readonly tooWide: readonly TooWide[] }
  | { readonly legal: false; readonly why: string };

/**
 * Poses the search for one lay method.
 * @returns the problem, with pieces that are too wide named (their kinds then have no choices); or why the method
 *   is not legal for these pieces on this cloth
 */
export function poseProblem(
  method: LayMethod,
  cloth: Cloth,
  pieces: readonly CutPiece[],
  garments: number,
): PoseAnswer {
  const shapes = new ShapeTable();
  const kinds: Kind[] = [];
  const meanings: KindMeaning[] = [];
  const tooWide: TooWide[] = [];
  const range = usableRange(method, cloth);
  for (const piece of pieces) {
    const answer = layRules(method, cloth, piece, isOwnMirrorImage(piece), garments);
    if (!answer.legal) return answer;
    for (const rule of answer.rules) {
      const { choices, meaning, needsUm } = choicesOf(rule, piece, cloth, range, shapes);
      if (choices.length === 0) tooWide.push({ piece, needsUm, usableUm: range.to - range.from });
      kinds.push({ name: piece.id, count: rule.count, choices });
      meanings.push({ piece, rule, choices: meaning });
    }
  }
  const unhashed = {
    zones: [{ yFrom: range.from, yTo: range.to }],
    shapes: shapes.shapes,
    kinds,
    blocked: [],
    gapUm: cloth.gap,
    lengthMaxUm: cloth.length === null ? null : cloth.length - cloth.ends[0] - cloth.ends[1],
  };
  return { legal: true, posed: { problem: { ...unhashed, hash: hashNumbers(unhashed) }, kinds: meanings }, tooWide };
}

/** SHA-256 of the canonical numbers; names are left out, they decide nothing. */
export function hashNumbers(problem: Omit<Problem, 'hash'>): string {
  const kinds = problem.kinds.map(({ count, choices }) => ({ count, choices }));
  return createHash('sha256')
    .update(JSON.stringify({ ...problem, kinds }))
    .digest('hex');
}

interface Choices {
  readonly choices: Choice[];
  readonly meaning: { readonly mirror: boolean; readonly turned: 0 | 180 }[];
  /** Least extent across over all ways, with what it must keep from the fold. */
  readonly needsUm: Um;
}

function choicesOf(
  rule: PlacementRule,
  piece: CutPiece,
  cloth: Cloth,
  range: { readonly from: Um; readonly to: Um },
  shapes: ShapeTable,
): Choices {
  const choices: Choice[] = [];
  const meaning: { mirror: boolean; turned: 0 | 180 }[] = [];
  const forms = new Set<string>();
  let needsUm = Number.POSITIVE_INFINITY;
  // A pair keeps half the gap from the fold, so that its two copies keep the whole of it.
  const keep = rule.form === 'pair' ? Math.ceil(cloth.gap / 2) : 0;
  for (const mirror of rule.mirrors) {
    for (const turned of rule.turns) {
      const outline = shapeOutline(rule, piece, mirror, turned);
      const { minY, maxY } = boundsOf(outline);
      const onFold = rule.form === 'on fold';
      const yMin = onFold ? foldLineOf(cloth) : range.from - minY;
      const yMax = onFold ? foldLineOf(cloth) : range.to - keep - maxY;
      needsUm = Math.min(needsUm, maxY - minY + keep);
      if (yMin > yMax || yMin + minY < range.from) continue;
      // A half turn or a mirror that only moves the outline gives no other places.
      const form = formKey(outline);
      if (forms.has(form)) continue;
      forms.add(form);
      const shape = shapes.indexOf(outline);
      choices.push({ shape, zone: 0, yMin, yMax, lattice: null });
      meaning.push({ mirror, turned });
    }
  }
  return { choices, meaning, needsUm };
}

/** The outline laid down: mirrored, turned, and for a piece on the fold its half on the lower layer. */
function shapeOutline(rule: PlacementRule, piece: CutPiece, mirror: boolean, turned: 0 | 180): Outline {
  const mirrored = mirror ? mirrorOutline(piece.outline) : piece.outline;
  const outline = turnOutline(mirrored, turned);
  return rule.form === 'on fold' ? lowerHalf(outline) : outline;
}

/** The half at y <= 0 of an outline that is symmetric about y = 0. */
function lowerHalf(outline: Outline): Outline {
  const half: Point[] = [];
  outline.forEach((point, i) => {
    const next = outline[(i + 1) % outline.length]!;
    if (point[1] <= 0) half.push(point);
    // A segment across the fold of a symmetric outline stands square to it.
    if (point[1] * next[1] < 0) half.push([point[0], 0]);
  });
  assert(half.length >= 3, 'an on-fold piece has area on both sides of its fold');
  return half;
}

/** Equal for outlines that differ only by a move and by the point they are listed from. */
function formKey(outline: Outline): string {
  const { minX, minY } = boundsOf(outline);
  return ringKey(outline.map(([x, y]): Point => [x - minX, y - minY]));
}

class ShapeTable {
  readonly shapes: Shape[] = [];
  readonly #known = new Map<string, number>();

  indexOf(outline: Outline): number {
    const key = JSON.stringify(outline);
    const known = this.#known.get(key);
    if (known !== undefined) return known;
    this.#known.set(key, this.shapes.length);
    this.shapes.push({ outline });
    return this.shapes.length - 1;
  }
}
