/** The marker as DXF entities for general use: layers named by their content, x along the cloth, y across it. */
import { type DrawnEntity, writeLayeredDxf } from '../drawings/dxf-layers.js';
import type { Lay } from '../lay/types.js';
import type { Outline, Point, Um } from '../units/types.js';
import type { ClothView, SeenPiece } from './cloth-view.js';
import { markerWords } from './marker-piece.js';

const layers = ['CUT', 'SEAM', 'GRAIN', 'NOTCH', 'AWL', 'INNER', 'TEXT', 'CLOTH'] as const;
type Layer = (typeof layers)[number];
type Entity = DrawnEntity<Layer>;

const textUm: Um = 8_000;

/** What is seen of the lay; pieces on the fold as their half. */
export function markerDxf({ title, material }: Lay, view: ClothView): string {
  const several = view.pieces.some(({ placement }) => placement.garment > 1);
  const pieces = [...view.pieces].sort((a, b) => a.placement.n - b.placement.n);
  const entities = [...clothEntities(view), ...pieces.flatMap((seen) => pieceEntities(seen, several))];
  return writeLayeredDxf(`${title} - ${material}`, layers, entities);
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
  const { number, name, short, more } = markerWords(seen, several);
  const words = [`${number} ${name}`, ...short, ...more];
  const [x, y] = middleOf(seen.outline);
  return [
    path('CUT', seen.outline, true),
    ...seen.lines.map(({ isCut, points }) => path(isCut ? 'CUT' : 'INNER', points, false)),
    ...(seen.seam === null ? [] : [path('SEAM', seen.seam, true)]),
    ...seen.notches.map((ends) => path('NOTCH', ends, false)),
    ...seen.awl.map((at): Entity => ({ kind: 'point', layer: 'AWL', at })),
    path('GRAIN', seen.grain, false),
    ...grainHead(seen.grain).map((points) => path('GRAIN', points, false)),
    ...words.map(
      (text, i): Entity => ({ kind: 'text', layer: 'TEXT', text, at: [x, y - i * 1.5 * textUm], highUm: textUm }),
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

function middleOf(outline: Outline): Point {
  const sum = outline.reduce(([ax, ay], [bx, by]): Point => [ax + bx, ay + by], [0, 0]);
  return [sum[0] / outline.length, sum[1] / outline.length];
}

function path(layer: Layer, points: readonly Point[], closed: boolean): Entity {
  return { kind: 'path', layer, points, closed };
}
