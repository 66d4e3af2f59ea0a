/** The cut lists of the demo and of the garments that the search is measured on. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { readCutList } from '../../src/cutlist/read.js';
import type { CutList } from '../../src/cutlist/types.js';

const folder = fileURLToPath(new URL('../../fixtures/', import.meta.url));

/** `boatyard/slipway-apron.yaml` and the like. */
export const cutListFiles: readonly string[] = ['boatyard', 'garments'].flatMap((name) =>
  readdirSync(`${folder}${name}`)
    .filter((file) => file.endsWith('.yaml'))
    .map((file) => `${name}/${file}`),
);

export function fixtureText(file: string): string {
  return readFileSync(folder + file, 'utf8');
}

export function fixtureCutList(file: string): CutList {
  const answer = readCutList(fixtureText(file), file);
  if (!answer.ok) throw new Error('the fixture has no faults');
  return answer.value;
}
