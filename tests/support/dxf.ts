/** Small DXF texts for tests: groups of a number and a value. */

export type Groups = readonly (readonly [number, string | number])[];

export function dxfText(groups: Groups): string {
  return groups.map(([code, value]) => `${String(code).padStart(3)}\n${value}\n`).join('');
}

export function section(name: string, ...inside: readonly Groups[]): Groups {
  return [[0, 'SECTION'], [2, name], ...inside.flat(), [0, 'ENDSEC']];
}

export function dxfFile(...sections: readonly Groups[]): string {
  return dxfText([...sections.flat(), [0, 'EOF']]);
}

export const millimetres: Groups = section('HEADER', [
  [9, '$INSUNITS'],
  [70, 4],
]);

export function block(name: string, ...inside: readonly Groups[]): Groups {
  return [
    [0, 'BLOCK'],
    [8, '0'],
    [2, name],
    [70, 0],
    [10, 0],
    [20, 0],
    [30, 0],
    ...inside.flat(),
    [0, 'ENDBLK'],
    [8, '0'],
  ];
}

export function insert(name: string, x = 0, y = 0, more: Groups = []): Groups {
  return [[0, 'INSERT'], [8, '0'], [2, name], [10, x], [20, y], ...more];
}

/** [x, y] or [x, y, bulge]. */
export type V = readonly [number, number, number?];

export function lightPolyline(layer: string, vertices: readonly V[], closed = true): Groups {
  const drawn = vertices.flatMap(
    ([x, y, bulge]): Groups => [[10, x], [20, y], ...(bulge === undefined ? [] : ([[42, bulge]] as const))],
  );
  return [[0, 'LWPOLYLINE'], [8, layer], [90, vertices.length], [70, closed ? 1 : 0], ...drawn];
}

export function oldPolyline(layer: string, vertices: readonly V[], closed = true): Groups {
  const drawn = vertices.flatMap(
    ([x, y, bulge]): Groups => [
      [0, 'VERTEX'],
      [8, layer],
      [10, x],
      [20, y],
      ...(bulge === undefined ? [] : ([[42, bulge]] as const)),
    ],
  );
  return [[0, 'POLYLINE'], [8, layer], [66, 1], [70, closed ? 1 : 0], ...drawn, [0, 'SEQEND'], [8, layer]];
}

export function line(layer: string, from: V, to: V): Groups {
  return [
    [0, 'LINE'],
    [8, layer],
    [10, from[0]],
    [20, from[1]],
    [11, to[0]],
    [21, to[1]],
  ];
}

export function point(layer: string, [x, y]: V): Groups {
  return [
    [0, 'POINT'],
    [8, layer],
    [10, x],
    [20, y],
  ];
}

export function text(words: string, layer = '15'): Groups {
  return [
    [0, 'TEXT'],
    [8, layer],
    [10, 0],
    [20, 0],
    [40, 5],
    [1, words],
  ];
}
