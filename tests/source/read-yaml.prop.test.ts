import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readYaml } from '../../src/source/read-yaml.js';
import type { SourceNode } from '../../src/source/types.js';

/** What JSON.parse gives, with every scalar as text and null as null. */
function texts(value: unknown): unknown {
  if (value === null) return null;
  if (Array.isArray(value)) return value.map(texts);
  if (typeof value !== 'object') return String(value);
  return Object.fromEntries(Object.entries(value).map(([key, child]) => [key, texts(child)]));
}

function plain(node: SourceNode): unknown {
  if (node.kind === 'scalar') return node.text;
  if (node.kind === 'empty') return null;
  if (node.kind === 'list') return node.items.map(plain);
  return Object.fromEntries(node.entries.map(({ key, value }) => [key, plain(value)]));
}

const pieceOfText = fc.constantFrom(
  ...['a', ': ', ':', '- ', '[', ']', '{', '}', ', ', '\n', '  ', '\t', '"', "'", '#', '&x', '*x', '!t', '|', '>', '?'],
  ...['---', '...', '%', '@', '1', '0.5', '\r\n', '\\', '\ufeff', '~', '<<', 'é', '𝄞'],
);

test('any text gets an answer with a place inside it, never a throw', () => {
  fc.assert(
    fc.property(
      fc.oneof(
        fc.string({ unit: 'binary' }),
        fc.array(pieceOfText).map((all) => all.join('')),
      ),
      (text) => {
        const answer = readYaml(text, 'list.yaml');
        if (answer.ok) return;
        expect(answer.faults.length).toBeGreaterThan(0);
        for (const { place } of answer.faults) {
          expect(place!.line).toBeGreaterThanOrEqual(1);
          expect(place!.line).toBeLessThanOrEqual(text.split('\n').length + 1);
          expect(place!.column).toBeGreaterThanOrEqual(1);
        }
      },
    ),
    { numRuns: 2_000 },
  );
});

test('JSON reads as JSON.parse reads it', () => {
  const leaf = fc.oneof(
    fc.integer(),
    fc.boolean(),
    fc.constant(null),
    fc.stringMatching(/^[\w "'\\:,{}[\]#&*!|>%@`-]*$/),
  );
  const json = fc.letrec((tie) => ({
    node: fc.oneof(
      { maxDepth: 4 },
      leaf,
      fc.array(tie('node')),
      fc.dictionary(fc.stringMatching(/^[a-z ]+$/), tie('node')),
    ),
  })).node;
  fc.assert(
    fc.property(fc.array(json, { minLength: 1 }), fc.boolean(), (value, spread) => {
      const answer = readYaml(JSON.stringify(value, null, spread ? 2 : 0), 'list.json');
      expect(answer.ok && plain(answer.value)).toEqual(texts(value));
    }),
  );
});
