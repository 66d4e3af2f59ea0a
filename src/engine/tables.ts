/**
 * Everything derived from a problem once per thread: outlines grown by half the gap, their outer simplifications
 * for the search, convex parts, boxes, and no-fit polygons, each pair built when it is first asked for.
 * A cache only: answers are the same with tables cold or warm.
 */
import { assert } from '../diagnostics/assert.js';
import { convexParts } from '../geometry/convex-parts.js';
import { growOutline } from '../geometry/grow.js';
import { buildNoFit, type NoFit } from '../geometry/no-fit.js';
import { areaUm2, type Bounds, boundsOf, mirrorOutline, ringKey, turnOutline } from '../geometry/outline.js';
import { containOutline } from '../geometry/simplify.js';
import { type Faces, facesOf } from '../geometry/slide.js';
import type { Problem } from '../problem/types.js';
import type { Outline, Um } from '../units/types.js';

/** How far the outlines of the search may stray outwards from the true ones: few parts make many builds, and the
 * settling wins back the rest (0.3 mm gave lays of curved pieces 3 to 6 points worse at equal work). */
const searchStrayUm = 1000;

export interface Tables {
  readonly problem: Problem;
  /** Problems of the same shapes and gap (a piece of work on two widths) share everything below. */
  readonly shapesKey: string;
  readonly shapes: number;
  /** True boxes by shape: lengths and zone edges are counted on true outlines. */
  readonly trueBox: readonly Bounds[];
  /** Least x of its reference, by shape. */
  readonly leastX: readonly Um[];
  /** True outlines grown by half the gap; two of them may touch. */
  readonly grown: readonly Outline[];
  /** Simplified grown outlines: what the search looks at. */
  readonly searched: readonly Outline[];
  readonly searchedBox: readonly Bounds[];
  readonly areaUm2: readonly number[];
  /** Shapes that are one outline in several turns have one form; shape = form turned by so many quarters. */
  readonly forms: number;
  readonly formOf: Int32Array;
  readonly turnOf: Int32Array;
  readonly searchedForms: readonly Outline[];
  readonly noFits: (NoFit | undefined)[];
  readonly ownNoFits: (NoFit | undefined)[];
  /** By form and quarter turn. */
  readonly parts: (readonly Outline[] | undefined)[];
  readonly faces: (Faces | undefined)[];
}

/** Tables of a problem, each filled when first asked. See tablesOf for those that are kept. */
export function makeTables(problem: Problem): Tables {
  assert(Number.isInteger(problem.gapUm) && problem.gapUm >= 0, 'the gap is a whole number');
  const half = Math.ceil(problem.gapUm / 2);
  const { forms, imageOf, formOf, turnOf } = formsOf(problem);
  const grownForms = forEachForm(forms, imageOf, (outline) => growOutline(outline, half));
  const searchedForms = forEachForm(grownForms, imageOf, (outline) => containOutline(outline, searchStrayUm));
  const inTurn = (outlines: readonly Outline[]): readonly Outline[] =>
    problem.shapes.map((_, shape) => turnOutline(outlines[formOf[shape]!]!, turns[turnOf[shape]!]!));
  const grown = inTurn(grownForms);
  const trueBox = problem.shapes.map((shape) => boundsOf(shape.outline));
  const searched = inTurn(searchedForms);
  return {
    problem,
    shapesKey: shapesKeyOf(problem),
    shapes: problem.shapes.length,
    trueBox,
    leastX: problem.shapes.map(({ keepUm = 0 }, shape) => keepUm - trueBox[shape]!.minX),
    grown,
    searched,
    searchedBox: searched.map(boundsOf),
    areaUm2: problem.shapes.map((shape) => areaUm2(shape.outline)),
    forms: forms.length,
    formOf,
    turnOf,
    searchedForms,
    parts: [],
    noFits: [],
    ownNoFits: [],
    faces: [],
  };
}

const turns = [0, 90, 180, 270] as const;

interface Forms {
  readonly forms: Outline[];
  /** The earlier form of which a form is the mirror image; itself when there is none. */
  readonly imageOf: number[];
  readonly formOf: Int32Array;
  readonly turnOf: Int32Array;
}

/** The outlines that are not another one turned, and what each shape is a turn of. */
function formsOf({ shapes }: Problem): Forms {
  const forms: Outline[] = [];
  const imageOf: number[] = [];
  const known = new Map<string, readonly [number, number]>();
  const images = new Map<string, number>();
  const formOf = new Int32Array(shapes.length);
  const turnOf = new Int32Array(shapes.length);
  shapes.forEach(({ outline }, shape) => {
    let found = known.get(ringKey(outline));
    if (found === undefined) {
      const form = forms.length;
      found = [form, 0];
      forms.push(outline);
      imageOf.push(images.get(ringKey(outline)) ?? form);
      turns.forEach((turn, quarters) => {
        const key = ringKey(turnOutline(outline, turn));
        if (!known.has(key)) known.set(key, [form, quarters]);
      });
      const image = ringKey(mirrorOutline(outline));
      if (!images.has(image)) images.set(image, form);
    }
    formOf[shape] = found[0];
    turnOf[shape] = found[1];
  });
  return { forms, imageOf, formOf, turnOf };
}

/** What `derive` makes of each form; of a mirror image the mirror image of what it made. */
function forEachForm(
  forms: readonly Outline[],
  imageOf: readonly number[],
  derive: (outline: Outline) => Outline,
): Outline[] {
  const derived: Outline[] = [];
  forms.forEach((outline, form) => {
    const image = imageOf[form]!;
    derived.push(image === form ? derive(outline) : mirrorOutline(derived[image]!));
  });
  return derived;
}

/**
 * No-fit polygon that serves the pair: the form of `fixed` as it is, that of `moving` turned to it as the two shapes
 * are; `fixed` must have the form of the lower number.
 */
export function noFitOf(tables: Tables, fixed: number, moving: number): NoFit {
  const { forms, formOf, turnOf, noFits } = tables;
  const a = formOf[fixed]!;
  const b = formOf[moving]!;
  const turn = (turnOf[moving]! - turnOf[fixed]!) & 3;
  const at = 4 * (a * forms + b) + turn;
  let found = noFits[at];
  if (found === undefined) {
    found = buildNoFit(formParts(tables, a, 0), formParts(tables, b, turn));
    noFits[at] = found;
  }
  return found;
}

/** No-fit polygon of just these two shapes; `fixed` <= `moving`. For building, which reads its sums. */
export function ownNoFitOf(tables: Tables, fixed: number, moving: number): NoFit {
  const { shapes, formOf, turnOf, ownNoFits } = tables;
  if (turnOf[fixed] === 0 && formOf[fixed]! <= formOf[moving]!) return noFitOf(tables, fixed, moving);
  const at = fixed * shapes + moving;
  let found = ownNoFits[at];
  if (found === undefined) {
    found = buildNoFit(
      formParts(tables, formOf[fixed]!, turnOf[fixed]!),
      formParts(tables, formOf[moving]!, turnOf[moving]!),
    );
    ownNoFits[at] = found;
  }
  return found;
}

function formParts({ searchedForms, parts }: Tables, form: number, turn: number): readonly Outline[] {
  const at = 4 * form + turn;
  let found = parts[at];
  if (found === undefined) {
    found = convexParts(turnOutline(searchedForms[form]!, turns[turn]!));
    parts[at] = found;
  }
  return found;
}

/** By problem, the one asked for last at the end. */
const kept = new Map<string, Tables>();
/** More than the searches that one plan drives side by side. */
const keptMost = 12;

/** The tables of this problem, kept for the next task on it in this thread. */
export function tablesOf(problem: Problem): Tables {
  const tables = kept.get(problem.hash) ?? tablesLikeOthers(problem);
  kept.delete(problem.hash);
  if (kept.size >= keptMost) kept.delete(kept.keys().next().value!);
  kept.set(problem.hash, tables);
  return tables;
}

function tablesLikeOthers(problem: Problem): Tables {
  const key = shapesKeyOf(problem);
  for (const other of kept.values()) if (other.shapesKey === key) return { ...other, problem };
  return makeTables(problem);
}

function shapesKeyOf({ gapUm, shapes }: Problem): string {
  return JSON.stringify([gapUm, shapes.map(({ outline, keepUm }) => [outline, keepUm])]);
}

/** Extent along the strip of the longest outline of the search. */
export function longestBox({ searchedBox }: Tables): Um {
  return searchedBox.reduce((most, box) => Math.max(most, box.maxX - box.minX), 1);
}

/** Lets go of all tables; the next task builds its own. */
export function forgetTables(): void {
  kept.clear();
}

/** Edges of the grown outline, turned by a quarter turn so that the way it slides is to the left. */
export function facesFor(tables: Tables, shape: number, turn: 0 | 90 | 180 | 270): Faces {
  const at = 4 * shape + turn / 90;
  let found = tables.faces[at];
  if (found === undefined) {
    found = facesOf(turnOutline(tables.grown[shape]!, turn));
    tables.faces[at] = found;
  }
  return found;
}
