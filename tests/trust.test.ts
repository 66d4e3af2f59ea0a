/** What docs/trust.md names is there: the tests that hold its promises, and the pages it leads to. */
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const docs = fileURLToPath(new URL('../docs/', import.meta.url));
const page = readFileSync(`${docs}trust.md`, 'utf8');

test('every promise names tests, and all of them exist', () => {
  const table = page.slice(page.indexOf('| promise |')).split('\n\n')[0]!;
  const rows = table.split('\n').slice(2);
  expect(rows.length).toBeGreaterThan(10);
  for (const row of rows) expect(row).toMatch(/`tests\/[\w/.-]+\.test\.ts`/);
  const named = [...page.matchAll(/`(tests\/[\w/.-]+)`/g)].map(([, path]) => path!);
  expect(named.filter((path) => !existsSync(`${docs}../${path}`))).toEqual([]);
});

test('its links lead somewhere', () => {
  const links = [...page.matchAll(/\]\(([^)#]+)\)/g)].map(([, path]) => path!);
  expect(links.length).toBeGreaterThan(2);
  expect(links.filter((path) => !existsSync(docs + path))).toEqual([]);
});
