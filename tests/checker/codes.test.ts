/** Every code of the checker and of lay files stands in docs/faults.md, and every code of the checker is met in a test. */
import { readdirSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';

const root = new URL('../../', import.meta.url);

function textsOf(folder: string): string {
  const url = new URL(folder, root);
  const files = readdirSync(url).filter((file) => file.endsWith('.ts'));
  return files.map((file) => readFileSync(new URL(file, url), 'utf8')).join('\n');
}

function codesIn(text: string, pattern: RegExp): string[] {
  return [...new Set([...text.matchAll(pattern)].map((match) => match[1]!))].sort();
}

const quotedCode = /'([a-z]+(?:-[a-z0-9]+)+)'/g;
const checker = textsOf('src/checker/');
const checkerCodes = [
  ...new Set([...codesIn(checker, /refuse\(\s*'([a-z-]+)'/g), ...codesIn(checker, quotedCode)]),
].filter((code) => !['one-way', 'each-garment'].includes(code));
const layCodes = codesIn(textsOf('src/lay/'), /makeFault\(\s*'([a-z-]+)'/g);
const documented = readFileSync(new URL('docs/faults.md', root), 'utf8');

it.each([...checkerCodes, ...layCodes])('%s is explained', (code) => {
  expect(new RegExp(`^\\|[^|]*\\b${code}\\b(?!-)[^|]*\\|`, 'm').test(documented)).toBe(true);
});

it.each(checkerCodes)('%s is met in a test', (code) => {
  expect(textsOf('tests/checker/').includes(`'${code}'`)).toBe(true);
});
