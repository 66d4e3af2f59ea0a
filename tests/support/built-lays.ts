/** Lays by any method, built by one plain order and settled; no search. */
import { type Cloth, type DeclaredCloth, type LayName, layMethods } from '../../src/cloth/types.js';
import { build, countThings } from '../../src/engine/construct.js';
import { makeGround } from '../../src/engine/ground.js';
import { decodeSolution, encodeLay } from '../../src/engine/lay-code.js';
import { plainOrders, sizesOf } from '../../src/engine/orders.js';
import { settle } from '../../src/engine/settle.js';
import { makeTables } from '../../src/engine/tables.js';
import { cutPiecesFor } from '../../src/index.js';
import type { Lay } from '../../src/lay/types.js';
import type { CutPiece } from '../../src/pieces/types.js';
import { makeLay } from '../../src/planning/plan-material.js';
import { type Way, waysOf } from '../../src/planning/ways.js';
import type { Solved } from '../../src/problem/place.js';
import type { Problem, Solution } from '../../src/problem/types.js';
import { fixtureCutList } from './fixtures.js';
import { tubeOf } from './random-garments.js';

/** By one of the plain orders; null when the lay would be longer than coordinates can hold. */
export function builtSolution(problem: Problem, which: number): Solution | null {
  const tables = makeTables(problem);
  const ground = makeGround(tables, countThings(problem));
  const orders = plainOrders(problem, sizesOf(tables));
  const order = orders[which % orders.length]!;
  if (!build(ground, order, 0, Number.POSITIVE_INFINITY)) return null;
  const from = ground.blocked;
  const lay = { choices: ground.choiceOf.slice(from), xs: ground.xs.slice(from), ys: ground.ys.slice(from) };
  return decodeSolution(problem, encodeLay(order.kinds, settle(tables, order.kinds, lay)));
}

export function declaredOf(cloth: Cloth): DeclaredCloth {
  const place = { file: 'list.yaml', line: 1, column: 1 };
  return { cloth, materials: ['shell'], method: 'best', irregular: false, foldUm: null, place, notices: [] };
}

/** All stretches of a way, built by the same order, and the lay that they are. */
export function layBuilt(
  way: Way,
  cloth: Cloth,
  pieces: readonly CutPiece[],
  which: number,
  garments = 1,
): { readonly lay: Lay; readonly solved: readonly Solved[] } | null {
  const solutions = way.stretches.map(({ problem }) => builtSolution(problem, which));
  if (solutions.includes(null)) return null;
  const solved = way.stretches.map((posed, i) => ({ posed, solution: solutions[i]! }));
  const words = { title: 'Built', cutListSha256: '0'.repeat(64), material: 'shell', pieces, garments };
  const found = { bound: { um: 0, why: 'none' }, status: 'shortest found' as const };
  return { lay: makeLay(words, cloth, solved, found, { seed: 1, effort: 1 }), solved };
}

/** The first way of a method for these pieces, one on which pairs lie doubled where there is one. */
export function firstLay(method: LayName, cloth: Cloth, pieces: readonly CutPiece[]): Lay {
  const answer = waysOf(method, declaredOf(cloth), { pieces, garments: 1 });
  if (!answer.legal) throw new Error(answer.why);
  const hasPair = ({ stretches }: Way) => stretches.some(({ kinds }) => kinds.some(({ rule }) => rule.form === 'pair'));
  const built = layBuilt(answer.ways.find(hasPair) ?? answer.ways[0]!, cloth, pieces, 0);
  if (built === null) throw new Error('no lay');
  return built.lay;
}

/** One built lay of a fixture for each material, cloth and method that is legal. */
export function laysOfFixture(file: string): readonly { readonly name: string; readonly lay: Lay }[] {
  const cutList = fixtureCutList(file);
  return cutList.cloths.flatMap(({ cloth: flat, materials }) =>
    materials.flatMap((material) =>
      layMethods.flatMap((method) => {
        const pieces = cutPiecesFor(cutList, material);
        if (pieces.length === 0) return [];
        const cloth = method === 'tube' ? tubeOf(flat) : flat;
        const answer = waysOf(method, declaredOf(cloth), { pieces, garments: 1 });
        const fits = answer.legal ? answer.ways.find(hasRoom) : undefined;
        const built = fits === undefined ? null : layBuilt(fits, cloth, pieces, 0);
        return built === null ? [] : [{ name: `${cloth.name}, ${method}`, lay: built.lay }];
      }),
    ),
  );
}

function hasRoom({ stretches }: Way): boolean {
  return stretches.every(({ problem }) => problem.kinds.every(({ choices }) => choices.length > 0));
}
