/** The documents of the lay file agree with the program. UPDATE_SCHEMA=1 writes the schema anew. */
import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkLay } from '../../src/checker/check-lay.js';
import { isEditedByHand } from '../../src/lay/build.js';
import { readLay } from '../../src/lay/read.js';
import { recomputeLay } from '../../src/lay/recompute.js';
import { laySchemaText } from '../../src/lay/schema.js';
import { writeLay } from '../../src/lay/write.js';

const docs = new URL('../../docs/', import.meta.url);

describe('docs/lay-file.schema.json', () => {
  it('is the schema that the program reads by', () => {
    const file = new URL('lay-file.schema.json', docs);
    if (process.env.UPDATE_SCHEMA === '1') writeFileSync(file, laySchemaText());
    expect(readFileSync(file, 'utf8')).toBe(laySchemaText());
  });
});

describe('the example in docs/lay-file.md', () => {
  const text = /```json\n(.*?)```/s.exec(readFileSync(new URL('lay-file.md', docs), 'utf8'))![1]!;
  const read = readLay(text, 'example.lay.json');

  it('is accepted, with its own hash, and written the same', () => {
    if (!read.ok) throw new Error(JSON.stringify(read.faults));
    expect(checkLay(read.value)).toEqual({ accepted: true, refusals: [] });
    expect(isEditedByHand(read.value)).toBe(false);
    expect(writeLay(read.value)).toBe(text);
  });

  it('leads with the copy on the far side, and stays as it is when recomputed', () => {
    if (!read.ok) throw new Error(JSON.stringify(read.faults));
    expect(writeLay(recomputeLay(read.value))).toBe(text);
  });
});
