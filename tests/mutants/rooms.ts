/** The rooms that are mutated, and the tests that look at each: its own first, then those of the rooms that use it most. */
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';

/** Tests in two stages; those of the second run only for mutants that live through the first. */
export interface MutatedRoom {
  readonly name: string;
  readonly stages: readonly (readonly string[])[];
}

export const mutatedRooms: readonly MutatedRoom[] = [
  { name: 'checker', stages: [['tests/checker']] },
  {
    name: 'cloth',
    stages: [['tests/cloth'], ['tests/checker', 'tests/cutlist/read.test.ts', 'tests/lay/faults.test.ts']],
  },
  {
    name: 'units',
    stages: [['tests/units'], ['tests/cutlist/read.test.ts', 'tests/cutlist/faults.test.ts', 'tests/report']],
  },
];

/** Left out for the time it takes: what it would find on top of the others is not counted. */
const leftOut = 'tests/checker/lays.prop.test.ts';

/** The test files of a stage. */
export function testsOf(root: string, paths: readonly string[]): string[] {
  return paths.flatMap((path) => filesIn(root, path, '.test.ts')).filter((test) => test !== leftOut);
}

/** Files below a folder, or the file itself, in order of their names. */
export function filesIn(root: string, path: string, ending: string): string[] {
  if (statSync(join(root, path)).isFile()) return [path];
  return readdirSync(join(root, path))
    .sort()
    .flatMap((name) => {
      const inner = `${path}/${name}`;
      if (statSync(join(root, inner)).isDirectory()) return filesIn(root, inner, ending);
      return name.endsWith(ending) ? [inner] : [];
    });
}

/** Every file of the project that a file imports, and what those import. */
export function importsOf(root: string, file: string): ReadonlySet<string> {
  const seen = new Set<string>();
  const open = [file];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    if (seen.has(next)) continue;
    seen.add(next);
    const text = readFileSync(join(root, next), 'utf8');
    for (const [, from] of text.matchAll(/(?:from|import) '(\.[^']+)\.js'/g)) {
      const imported = resolve(join(root, dirname(next)), `${from}.ts`);
      if (existsSync(imported)) open.push(relative(root, imported));
    }
  }
  return seen;
}
