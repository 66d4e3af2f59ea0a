/** Match points on every page that shows pieces: where the lay has them, with a sign of their own, and told what it is. */
import { beforeAll, describe, expect, test } from 'vitest';
import { readCutList } from '../../src/cutlist/read.js';
import type { CutList } from '../../src/cutlist/types.js';
import type { Lay } from '../../src/lay/types.js';
import { viewCloth } from '../../src/marker/cloth-view.js';
import { drawTruePieces } from '../../src/marker/draw-true-pieces.js';
import { loadPageFont, type PageFont } from '../../src/marker/font.js';
import { type MarkerLook, paperLook, projectedLook } from '../../src/marker/marker-looks.js';
import { markerPages } from '../../src/marker/marker-page.js';
import { markerPicture } from '../../src/marker/marker-picture.js';
import { tilesOf } from '../../src/marker/marker-tiles.js';
import { matchPlaces, matchStrokes, matchStrokesWithin } from '../../src/marker/match-sign.js';
import { planDrawing } from '../../src/marker/plan.js';
import { proofDrawing } from '../../src/marker/proof.js';
import { roomOf } from '../../src/marker/tiling.js';
import { truePiece } from '../../src/marker/true-piece.js';
import type { Drawing, Item, LineItem, PagePoint } from '../../src/marker/types.js';
import type { CutPiece } from '../../src/pieces/types.js';
import { proofPieces } from '../../src/report/proof.js';
import { collisionsOf } from '../support/collisions.js';
import { itemsOf, textsOf } from '../support/drawings.js';
import { markerLays, plaid } from '../support/marker-lays.js';
import { readPdfPages } from '../support/pdf-paths.js';

let font: PageFont;
beforeAll(async () => {
  font = await loadPageFont();
});

const onFold = markerLays['apron matched on the fold']!;
const open = markerLays['apron plaid with a flaw']!;
/** Matched near the middle of each piece; mirrored and turned copies among them. */
const turned: Lay = {
  ...open,
  pieces: open.pieces.map((piece): CutPiece => {
    const middle = (axis: 0 | 1) => {
      const values = piece.outline.map((point) => point[axis]);
      return Math.round((Math.min(...values) + Math.max(...values)) / 2);
    };
    const at = [middle(0) + 20_000, middle(1) + 7_000] as const;
    return { ...piece, match: [{ at, group: 'hip', way: 'both' }] };
  }),
};

const signsIn = (items: readonly Item[]): readonly LineItem[] =>
  items.filter((item): item is LineItem => item.type === 'line' && item.kind === 'match');
const wordsOf = (drawing: Pick<Drawing, 'pages'>) =>
  drawing.pages
    .flatMap(textsOf)
    .map(({ text }) => text)
    .join(' ');
const plan = (lay: Lay) => planDrawing(lay, { page: 'a4', units: 'cm', measure: font });

function firstPages(lay: Lay): Pick<Drawing, 'pages'> {
  const sheet = { widthMm: 210, heightMm: 297 };
  const view = viewCloth(lay);
  const picture = markerPicture(view, { measure: font, look: paperLook, units: 'cm', farEndUm: 0 });
  const options = { lay, view, units: 'cm', side: 'right', measure: font } as const;
  return { pages: markerPages(picture, tilesOf(picture, roomOf(sheet)), sheet, 1, options) };
}

describe('the sign', () => {
  const square: readonly PagePoint[] = [
    [0, 0],
    [20, 0],
    [20, 10],
    [0, 10],
  ];
  /** The length of all its strokes. */
  const longMm = (strokes: readonly LineItem[]): number =>
    strokes.reduce((sum, { points, closed }) => {
      const ends = closed ? [...points, points[0]!] : points;
      return ends.slice(1).reduce((own, [x, y], i) => own + Math.hypot(x - ends[i]![0], y - ends[i]![1]), sum);
    }, 0);
  const whole = 8 + 4 * Math.SQRT2;

  test('whole inside a piece, its diagonals cross on the point', () => {
    expect(matchStrokesWithin(square, [5, 5], 1)).toEqual(matchStrokes([5, 5], 1));
    expect(longMm(matchStrokes([5, 5], 1))).toBeCloseTo(whole, 9);
    for (const { points } of matchStrokes([5, 5], 1).slice(1)) {
      const [[ax, ay], [bx, by]] = points as [PagePoint, PagePoint];
      expect([(ax + bx) / 2, (ay + by) / 2]).toEqual([5, 5]);
    }
  });

  test.each([
    ['half at an edge', [20, 5], 4 + 2 * Math.SQRT2],
    ['a quarter at a corner', [20, 10], 2 + Math.SQRT2],
    ['less where the edge is near', [19.5, 5], 5 + 3 * Math.SQRT2],
  ] as const)('%s: nothing of it lies beyond', (_, at, long) => {
    const strokes = matchStrokesWithin(square, at, 1);
    expect(longMm(strokes)).toBeCloseTo(long, 9);
    for (const [x, y] of strokes.flatMap(({ points }) => points)) {
      expect(x >= 0 && x <= 20 && y >= 0 && y <= 10).toBe(true);
    }
  });

  test('a point of two groups is one place', () => {
    const places = matchPlaces([
      { at: [1, 2], group: 'bar', way: 'along' },
      { at: [1, 2], group: 'middle', way: 'across' },
      { at: [3, 4], group: 'bar', way: 'both' },
    ]);
    expect(places).toEqual([
      { at: [1, 2], groups: ['bar', 'middle'] },
      { at: [3, 4], groups: ['bar'] },
    ]);
  });
});

describe('on a lay', () => {
  test('of a piece that lies on the fold its half has them, seen from either side', () => {
    const [right, wrong] = [viewCloth(onFold), viewCloth(onFold, 'wrong')];
    const bib = right.pieces.find(({ piece }) => piece.onFold)!;
    expect(bib.piece.match).toHaveLength(4);
    expect(bib.match).toHaveLength(2);
    right.pieces.forEach(({ match }, i) => {
      expect(match.length).toBe(2);
      expect(wrong.pieces[i]!.match).toEqual(match.map(([x, y]) => [x, right.acrossUm - y]));
    });
  });

  test('plan: the sign lies where the copy has the point', () => {
    const { pages, origin, scale } = plan(turned);
    for (const { n, copies } of turned.placements) {
      const { items } = pages[0]!.groups.find(({ placement }) => placement === n)!;
      const [diagonal] = signsIn(items).filter(({ points }) => points.length === 2);
      const [[ax, ay], [bx, by]] = diagonal!.points as [PagePoint, PagePoint];
      const lead = turned.copies.find((copy) => copy.n === copies[0])!;
      const { match } = turned.pieces.find(({ id }) =>
        turned.placements.some((one) => one.n === n && one.piece === id),
      )!;
      const [px, py] = match[0]!.at;
      const [mx, my] = [px, lead.mirror ? -py : py];
      const [tx, ty] = lead.turned === 180 ? [-mx, -my] : [mx, my];
      expect(lead.turned % 180).toBe(0);
      // On the page x runs across the cloth, y along it.
      expect((ax + bx) / 2 - origin[0]).toBeCloseTo((lead.at[1] + ty) / 1000 / scale, 6);
      expect((ay + by) / 2 - origin[1]).toBeCloseTo((lead.at[0] + tx) / 1000 / scale, 6);
    }
    expect(new Set(turned.copies.map(({ mirror }) => mirror)).size).toBe(2);
  });

  test.each([
    ['paper', paperLook],
    ['projector', projectedLook],
  ] as const)('marker, %s: each piece has its signs, no word lies on one', (_, look: MarkerLook) => {
    for (const lay of [onFold, turned]) {
      const options = { measure: font, look, units: 'cm', farEndUm: lay.cloth.ends[1] } as const;
      const { parts, widthMm, heightMm } = markerPicture(viewCloth(lay), options);
      for (const { n } of lay.placements) {
        expect(signsIn(parts.find(({ placement }) => placement === n)!.items).length).toBeGreaterThan(0);
      }
      const pages = [{ widthMm, heightMm, groups: parts }];
      expect(collisionsOf({ title: '', scale: 1, origin: [0, 0], pages })).toEqual([]);
    }
  });

  test('plan: no word lies on one', () => {
    for (const lay of [onFold, turned]) {
      // Pieces lie on the bars and hide them.
      const isSeen = (item: Item) => item.type !== 'line' || item.kind !== 'bar';
      const drawing = plan(lay);
      const pages = drawing.pages.map((page) => ({
        ...page,
        groups: page.groups.map((group) => ({ ...group, items: group.items.filter(isSeen) })),
      }));
      expect(collisionsOf({ ...drawing, pages })).toEqual([]);
    }
  });

  test('explained where there are any; none on cloth without a repeat', () => {
    const planWords = 'match point: on the same place of the design';
    const sheetWords = 'Crossed square: match point, on the same place of the design';
    expect(wordsOf(plan(turned))).toContain(planWords);
    expect(wordsOf(firstPages(turned))).toContain(sheetWords);
    const plain: Lay = { ...turned, cloth: { ...plaid, repeat: null } };
    for (const lay of [open, plain]) {
      expect(wordsOf(plan(lay))).not.toContain('match point');
      expect(wordsOf(firstPages(lay))).not.toContain('match point');
      expect(
        plan(lay)
          .pages.flatMap(itemsOf)
          .filter((item) => signsIn([item]).length > 0),
      ).toEqual([]);
    }
  });
});

function cutListOf(match: string): CutList {
  const text = `title: Test
units: cm
drawn: net
pieces:
  Flap: {rectangle: [30, 20], cut: {shell: 1}, allowance: 1, match: ${match}}
cloths:
  cloth: {for: shell, width: 150, usable: 147}
`;
  const answer = readCutList(text, 'test.yaml');
  if (!answer.ok) throw new Error(JSON.stringify(answer.faults));
  return answer.value;
}

const proof = (list: CutList) =>
  proofDrawing(proofPieces(list), { title: list.title, page: 'a4', units: 'cm', measure: font });

describe('on the proof of entry', () => {
  const list = cutListOf('[{point: [5, 12], group: hip}, {point: [0, 30], group: shoulder tip}]');

  test('a sign at each point, its group beside it, and told what it is', () => {
    const drawing = proof(list);
    const items = drawing.pages.flatMap(itemsOf);
    expect(signsIn(items)).toHaveLength(6);
    expect(collisionsOf(drawing)).toEqual([]);
    expect(wordsOf(drawing)).toContain('Crossed square: match point');
    const cutting = items.find((item): item is LineItem => item.type === 'line' && item.kind === 'cutting')!;
    const left = Math.min(...cutting.points.map(([x]) => x));
    const bottom = Math.max(...cutting.points.map(([, y]) => y));
    const high = bottom - Math.min(...cutting.points.map(([, y]) => y));
    // 32 cm of cutting line along, the seam line 1 cm inside it.
    const at = (x: number, y: number): PagePoint => [left + ((x + 1) * high) / 32, bottom - ((y + 1) * high) / 32];
    for (const [group, [x, y]] of [
      ['hip', at(5, 12)],
      ['shoulder tip', at(0, 30)],
    ] as const) {
      const isHere = ({ points: [a, b] }: LineItem) =>
        Math.abs((a![0] + b![0]) / 2 - x) < 0.01 && Math.abs((a![1] + b![1]) / 2 - y) < 0.01;
      expect(signsIn(items).filter((line) => line.points.length === 2 && isHere(line))).toHaveLength(2);
      const name = drawing.pages.flatMap(textsOf).find(({ text }) => text === group)!;
      expect(Math.abs(name.at[0] - x) - name.widthMm / 2).toBeLessThan(4);
      expect(Math.abs(name.at[1] - y)).toBeLessThan(5);
    }
  });

  test('nothing of it where no piece has any', () => {
    const drawing = proof(cutListOf('[]'));
    expect(signsIn(drawing.pages.flatMap(itemsOf))).toEqual([]);
    expect(wordsOf(drawing)).not.toContain('Crossed square');
  });

  test('crowded points have their signs, and names only where there is room', () => {
    const points = Array.from(
      { length: 400 },
      (_, i) => `{point: [${i % 20}, ${Math.floor(i / 20)}], group: group ${i}}`,
    );
    const drawing = proof(cutListOf(`[${points.join(', ')}]`));
    expect(signsIn(drawing.pages.flatMap(itemsOf))).toHaveLength(1200);
    expect(collisionsOf(drawing)).toEqual([]);
    const names = drawing.pages.flatMap(textsOf).filter(({ text }) => text.startsWith('group '));
    expect(names.length).toBeGreaterThan(0);
    expect(names.length).toBeLessThan(400);
  });

  test('at true size too, explained on the first sheet', async () => {
    const [piece] = proofPieces(list);
    const { items, widthMm, heightMm } = truePiece(font, piece!);
    expect(signsIn(items)).toHaveLength(6);
    const page = { widthMm, heightMm, groups: [{ title: null, placement: null, items }] };
    expect(collisionsOf({ title: '', scale: 1, origin: [0, 0], pages: [page] })).toEqual([]);
    expect(textsOf(page).map(({ text }) => text)).toEqual(expect.arrayContaining(['hip', 'shoulder tip']));
    const options = { title: 'T', units: 'cm', sheet: { widthMm: 210, heightMm: 297 } } as const;
    const svg = await drawTruePieces([piece!], { ...options, format: 'svg' });
    expect(Buffer.from(svg.bytes).toString('utf8').split('class="match"')).toHaveLength(7);
    const firstSheet = async (each: CutList): Promise<string> => {
      const { bytes } = await drawTruePieces(proofPieces(each), { ...options, format: 'pdf' });
      return (await readPdfPages(bytes)).pages[0]!.texts.join(' ');
    };
    expect(await firstSheet(list)).toContain('Crossed square: match point');
    expect(await firstSheet(cutListOf('[]'))).not.toContain('Crossed square');
  });
});
