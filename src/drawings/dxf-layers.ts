/** Drawn things -> DXF text for general use: entities on layers with plain names, true size in millimetres. */
import type { Point, Um } from '../units/types.js';
import { dxfText, type Group, openingRecords, pointRecord, polyline, section, textRecord } from './dxf-records.js';

export type DrawnEntity<Layer extends string> =
  | { readonly kind: 'path'; readonly layer: Layer; readonly points: readonly Point[]; readonly closed: boolean }
  | { readonly kind: 'point'; readonly layer: Layer; readonly at: Point }
  | { readonly kind: 'text'; readonly layer: Layer; readonly text: string; readonly at: Point; readonly highUm: Um };

const titleUm: Um = 10_000;

/** One drawing; its title and units stand before its origin. */
export function writeLayeredDxf<Layer extends string>(
  title: string,
  layers: readonly Layer[],
  entities: readonly DrawnEntity<Layer>[],
): string {
  const textLayer = layers.includes('TEXT' as Layer) ? 'TEXT' : '0';
  const words = [title, 'Units: millimetres', 'Scale 1 : 1'];
  return dxfText([
    ...openingRecords(['0', ...layers]),
    ...section('ENTITIES', [
      ...words.flatMap((line, i) => textRecord(textLayer, line, [0, -2 * titleUm * (i + 1)], titleUm / 1000)),
      ...entities.flatMap(recordsOf),
    ]),
  ]);
}

function recordsOf(entity: DrawnEntity<string>): readonly Group[] {
  switch (entity.kind) {
    case 'path':
      return polyline(entity.layer, entity.points, entity.closed);
    case 'point':
      return pointRecord(entity.layer, entity.at);
    case 'text':
      return textRecord(entity.layer, entity.text, entity.at, entity.highUm / 1000);
  }
}
