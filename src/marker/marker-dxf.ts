/** The marker as DXF entities for general use: layers named by their content, x along the cloth, y across it. */
import { type DrawnEntity, writeLayeredDxf } from '../drawings/dxf-layers.js';
import type { Lay } from '../lay/types.js';
import type { Outline, Point, Um } from '../units/types.js';
import type { ClothView, SeenPiece } from './cloth-view.js';
import { markerWords } from './marker-piece.js';

const layers = ['CUT', 'SEAM', 'GRAIN', 'NOTCH', 'AWL', 'MATCH', 'INNER', 'TEXT', 'CLOTH'] as const;
type Layer = (typeof layers)[number];
type Entity = DrawnEntity<Layer>;

/** Letters at the most and at the least. */
const textUm = { most: 8_000, least: 2_500 } as const;
/** About as wide as a letter is high. */
const letterWide = 0.7;

/** What is seen of the lay; pieces on the fold as their half. */
export function markerDxf({ title, material }: Lay, view: ClothView): string {
  const several = view.pieces.some(({ placement }) => placement.garment > 1);
  const pieces = [...view.pieces].sort((a, b) => a.placement.n - b.placement.n);
  const entities = [...clothEntities(view), ...pieces.flatMap((seen) => pieceEntities(seen, several))];
  const hasMatch = pieces.some(({ match }) => match.length > 0);
  const used = hasMatch ? layers : layers.filter((layer) => layer !== 'MATCH');
  return writeLayeredDxf(`${title} - ${material}`, used, entities);
}

function clothEntities({ stretches, flaws }: ClothView): Entity[] {
  return [
    ...stretches.map(({ fromUm, toUm, left, right }) =>
      path(
        'CLOTH',
        [
          [fromUm, left.at],
          [toUm, left.at],
          [toUm, right.at],
          [fromUm, right.at],
        ],
        true,
      ),
    ),
    ...flaws.map((ring) => path('CLOTH', ring, true)),
  ];
}

function pieceEntities(seen: SeenPiece, several: boolean): Entity[] {
  const { name, short, more } = markerWords(seen, several);
  // Plain letters, which every reader shows.
  const words = [`${seen.placement.n} ${name}`, ...short, ...more].map((text) => text.replaceAll(' · ', ', '));
  const { at, highUm } = spotFor(words, seen.outline);
  return [
    path('CUT', seen.outline, true),
    ...seen.lines.map(({ isCut, points }) => path(isCut ? 'CUT' : 'INNER', points, false)),
    ...(seen.seam === null ? [] : [path('SEAM', seen.seam, true)]),
    ...seen.notches.map((ends) => path('NOTCH', ends, false)),
    ...seen.awl.map((at): Entity => ({ kind: 'point', layer: 'AWL', at })),
    ...seen.match.map((at): Entity => ({ kind: 'point', layer: 'MATCH', at })),
    path('GRAIN', seen.grain, false),
    ...grainHead(seen.grain).map((points) => path('GRAIN', points, false)),
    ...words.map(
      (text, i): Entity => ({ kind: 'text', layer: 'TEXT', text, at: [at[0], at[1] - i * 1.5 * highUm], highUm }),
    ),
  ];
}

/** Two short strokes at the head. */
function grainHead([foot, head]: readonly [Point, Point]): readonly (readonly [Point, Point])[] {
  const [dx, dy] = [head[0] - foot[0], head[1] - foot[1]];
  const length = Math.sqrt(dx * dx + dy * dy);
  if (length === 0) return [];
  const size = Math.min(10_000, length / 3);
  const [ux, uy] = [(dx / length) * size, (dy / length) * size];
  return [1, -1].map((side): readonly [Point, Point] => [
    head,
    [head[0] - ux - (side * uy) / 3, head[1] - uy + (side * ux) / 3],
  ]);
}

/** Where words begin about the middle of a piece, as large as it is long enough for. */
function spotFor(words: readonly string[], outline: Outline): { readonly at: Point; readonly highUm: Um } {
  const [xs, ys] = [outline.map(([x]) => x), outline.map(([, y]) => y)];
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const longest = Math.max(...words.map(({ length }) => length)) * letterWide;
  const highUm = Math.max(textUm.least, Math.min(textUm.most, Math.round((0.9 * (right - left)) / longest)));
  const x = Math.round((left + right - longest * highUm) / 2);
  return { at: [x, Math.round((low + high) / 2 + ((words.length - 1) / 2) * 1.5 * highUm)], highUm };
}

function path(layer: Layer, points: readonly Point[], closed: boolean): Entity {
  return { kind: 'path', layer, points, closed };
}
