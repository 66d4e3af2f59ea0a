import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readCutList } from '../../src/cutlist/read.js';
import type { Result } from '../../src/diagnostics/types.js';
import { makeCutPiece } from '../../src/pieces/cut-piece.js';

const folder = fileURLToPath(new URL('../../fixtures/', import.meta.url));
const texts = ['boatyard', 'faults', 'published'].flatMap((name) =>
  readdirSync(folder + name).flatMap((file) =>
    file.endsWith('.yaml') ? [readFileSync(`${folder}${name}/${file}`, 'utf8')] : [],
  ),
);

function expectAnswer(answer: Result<unknown>): void {
  if (answer.ok) return;
  expect(answer.faults.some(({ severity }) => severity === 'error')).toBe(true);
  for (const { place, what, fix } of answer.faults) {
    expect(place!.line).toBeGreaterThanOrEqual(1);
    expect(what).not.toMatch(/undefined|NaN(?!")|\[object/);
    expect(fix).not.toBe('');
  }
}

test('any text gets an answer, never a throw', () => {
  fc.assert(fc.property(fc.string({ unit: 'binary' }), (text) => expectAnswer(readCutList(text, 'list.yaml'))));
});

const junk = fc.constantFrom(
  ...['0', '-1', '1e9', 'nan', '.inf', '""', '[]', '{}', '~', '[[0, 0], [0, 0]]', '[0, 0]', 'A-B', 'B-A', 'A-A', 'A-C'],
  ...['1 pair', '2 on fold', '2001', '1 1/2 in', '-3 mm', '1900 cm', '0.00001', 'like: Bib', '{arc: [5, 5]}', 'yes'],
  ...['{A: [0, 0], B: [1, 0], C: [2, 0]}', '{through: [[1, 1], [2, 2]]}', 'M0 0 H 1 V 1 Z', '"x\\ny"', '*a', '&a 1'],
);

test('real lists with words replaced, lines dropped or doubled get an answer, never a throw', () => {
  const change = fc.record({ at: fc.nat(), by: fc.oneof(junk, fc.string({ maxLength: 3 })), how: fc.nat(3) });
  fc.assert(
    fc.property(fc.constantFrom(...texts), fc.array(change, { minLength: 1, maxLength: 3 }), (text, changes) => {
      let changed = text;
      for (const { at, by, how } of changes) {
        const parts = how < 3 ? changed.split(/(?<=[\s,:[\]{}])|(?=[\s,:[\]{}])/) : changed.split(/(?<=\n)/);
        const index = at % Math.max(1, parts.length);
        parts.splice(index, 1, how < 3 ? by : parts[index]!.repeat(at % 3));
        changed = parts.join('');
      }
      const answer = readCutList(changed, 'list.yaml');
      expectAnswer(answer);
      if (!answer.ok) return;
      for (const piece of answer.value.pieces) {
        for (const { material } of piece.cut) expect(makeCutPiece(piece, material).ok).toBe(true);
      }
    }),
    { numRuns: 500 },
  );
});

/** Sound pieces: rectangles, and star-shaped outlines with corners in every direction from their middle. */
const star = fc.array(fc.integer({ min: 40, max: 400 }), { minLength: 3, maxLength: 16 }).map((reaches) => {
  const corners = reaches.map((reach, i) => {
    const angle = (2 * Math.PI * i) / reaches.length;
    return `P${i}: [${Math.round(reach * Math.cos(angle)) / 10}, ${Math.round(reach * Math.sin(angle)) / 10}]`;
  });
  return `outline: {${corners.join(', ')}}, grain: [[0, 0], [0, 2]]`;
});
const rectangle = fc
  .tuple(fc.integer({ min: 10, max: 300 }), fc.integer({ min: 1, max: 300 }))
  .map(([along, across]) => {
    return `rectangle: [${along} mm, ${across / 2}]`;
  });
const wording = fc.constantFrom('1', '2', '1 pair', '3 pairs', '4 same way', '1 pair + 1 same way', '7');
const pieceText = fc.record({
  shape: fc.oneof(star, rectangle),
  wording,
  allowance: fc.constantFrom('0', '1', '5/8"'),
});

test('sound pieces read, and neither their order nor that of the cloths changes the hash', () => {
  fc.assert(
    fc.property(fc.array(pieceText, { minLength: 1, maxLength: 8 }), fc.boolean(), (pieces, clothsTurned) => {
      const lines = pieces.map(
        (piece, i) =>
          `  Piece ${i}: {${piece.shape}, cut: {shell: ${piece.wording}}, allowance: ${piece.allowance}, drawn: net}`,
      );
      const cloths = ['  a: {for: shell, width: 150}', '  b: {for: shell, width: 115}'];
      const list = (shapes: readonly string[], bolts: readonly string[]) =>
        readCutList(['title: T', 'units: cm', 'pieces:', ...shapes, 'cloths:', ...bolts, ''].join('\n'), 'list.yaml');
      const one = list(lines, cloths);
      const other = list([...lines].reverse(), clothsTurned ? [...cloths].reverse() : cloths);
      expect(one.ok ? [] : one.faults).toEqual([]);
      expect(other.ok && other.value.sha256).toBe(one.ok && one.value.sha256);
      expect(one.ok && one.value.pieces.map(({ id }) => id)).toEqual(pieces.map((_, i) => `Piece ${i}`));
    }),
  );
});
