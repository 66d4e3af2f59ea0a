/**
 * Reads the imports of every file under src/: a room imports only from the rooms listed for it, a library has one
 * home, and files, clock, threads and terminal stay in the rooms that own them. DEVELOPERS.md shows the same table.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));

/** Rooms in order; each names the earlier rooms it may import. */
const rooms: Readonly<Record<string, readonly string[]>> = {
  units: [],
  diagnostics: [],
  source: ['units', 'diagnostics'],
  geometry: ['units', 'diagnostics'],
  drawings: ['units', 'diagnostics', 'geometry'],
  pieces: ['units', 'diagnostics', 'geometry'],
  cloth: ['units', 'diagnostics', 'pieces'],
  lay: ['units', 'diagnostics', 'source', 'pieces', 'cloth'],
  cutlist: ['units', 'diagnostics', 'source', 'geometry', 'drawings', 'pieces', 'cloth'],
  problem: ['units', 'diagnostics', 'geometry', 'pieces', 'cloth', 'lay'],
  bounds: ['units', 'diagnostics', 'geometry', 'problem'],
  engine: ['units', 'diagnostics', 'geometry', 'problem', 'bounds'],
  pool: ['diagnostics', 'engine', 'problem'],
  planning: ['units', 'diagnostics', 'geometry', 'pieces', 'cloth', 'lay', 'problem', 'bounds', 'engine'],
  checker: ['units', 'diagnostics', 'pieces', 'cloth', 'lay'],
  report: [
    'units',
    'diagnostics',
    'geometry',
    'pieces',
    'cloth',
    'lay',
    'cutlist',
    'bounds',
    'engine',
    'planning',
    'checker',
  ],
  marker: ['units', 'diagnostics', 'geometry', 'drawings', 'pieces', 'cloth', 'lay', 'report'],
  jobs: ['units', 'diagnostics', 'pieces', 'cloth', 'lay', 'cutlist', 'planning', 'checker', 'report', 'marker'],
  index: ['cutlist', 'planning', 'jobs'],
  bench: [
    'units',
    'diagnostics',
    'geometry',
    'pieces',
    'cloth',
    'cutlist',
    'problem',
    'engine',
    'planning',
    'checker',
    'index',
  ],
  cli: [
    'units',
    'diagnostics',
    'source',
    'index',
    'pool',
    'engine',
    'report',
    'cloth',
    'lay',
    'pieces',
    'checker',
    'cutlist',
  ],
};

/** The one room that may import a library (or an outside-world module of Node). */
const homes: Readonly<Record<string, readonly string[]>> = {
  yaml: ['source'],
  'clipper-lib': ['geometry'],
  svgpath: ['drawings'],
  saxes: ['drawings'],
  zod: ['lay'],
  'fastest-levenshtein': ['cutlist'],
  piscina: ['pool'],
  'pdf-lib': ['marker'],
  '@pdf-lib/fontkit': ['marker'],
  commander: ['cli'],
  'node:fs': ['cli', 'marker'],
  'node:fs/promises': ['cli', 'marker'],
  'node:path': ['cli'],
  'node:os': ['cli'],
  'node:process': ['cli'],
  'node:url': ['pool', 'cli', 'marker'],
  'node:module': ['marker'],
  'node:zlib': ['marker'],
  'node:crypto': ['lay', 'cutlist', 'problem', 'jobs', 'bench', 'cli'],
};

/** Only types may be taken from these pairs (from -> to): words of the trade that the checker and drawings share. */
const typesOnly: readonly (readonly [string, string])[] = [
  ['checker', 'pieces'],
  ['checker', 'cloth'],
  ['report', 'cutlist'],
  ['report', 'engine'],
  ['report', 'planning'],
  ['report', 'checker'],
  ['marker', 'pieces'],
  ['cli', 'engine'],
  ['cli', 'checker'],
];

interface Import {
  readonly from: string;
  readonly to: string;
  readonly typeOnly: boolean;
}

function filesUnder(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return filesUnder(path);
    return entry.name.endsWith('.ts') ? [path] : [];
  });
}

function importsOf(file: string): Import[] {
  const text = readFileSync(file, 'utf8');
  const pattern = /(import|export)\s+(type\s+)?(?:[\w*{}\s,$]+?\s+from\s+)?'([^']+)'|import\('([^']+)'\)/g;
  return [...text.matchAll(pattern)].map((match) => ({
    from: file,
    to: match[3] ?? match[4]!,
    typeOnly: match[2] !== undefined,
  }));
}

function roomOf(file: string): string {
  const [first = ''] = relative(join(root, 'src'), file).split(sep);
  return first.replace(/\.[jt]s$/, '');
}

const files = filesUnder(join(root, 'src'));
const imports = files.flatMap(importsOf);

describe('architecture', () => {
  test('reads a real tree', () => {
    expect(files.length).toBeGreaterThan(40);
    expect(imports.length).toBeGreaterThan(100);
    expect([...new Set(files.map(roomOf))].filter((room) => !(room in rooms))).toEqual([]);
  });

  test('rooms import only from the rooms named for them', () => {
    const wrong = imports.flatMap(({ from, to }) => {
      if (!to.startsWith('.')) return [];
      const room = roomOf(from);
      const target = roomOf(join(from, '..', to));
      return room === target || rooms[room]!.includes(target) ? [] : [`${relative(root, from)} -> ${to}`];
    });
    expect(wrong).toEqual([]);
  });

  test('rooms are listed in an order without circles', () => {
    const order = Object.keys(rooms);
    for (const [room, allowed] of Object.entries(rooms)) {
      for (const other of allowed)
        expect(order.indexOf(other), `${room} -> ${other}`).toBeLessThan(order.indexOf(room));
    }
  });

  test('the checker shares types with the other rooms, never arithmetic', () => {
    const wrong = imports.flatMap(({ from, to, typeOnly }) => {
      if (!to.startsWith('.') || typeOnly) return [];
      const target = roomOf(join(from, '..', to));
      const pair = typesOnly.some(([room, other]) => room === roomOf(from) && other === target);
      return pair ? [`${relative(root, from)} -> ${to}`] : [];
    });
    expect(wrong).toEqual([]);
  });

  test('each library has one home, and the outside world stays in its rooms', () => {
    const wrong = imports.flatMap(({ from, to }) => {
      if (to.startsWith('.')) return [];
      const home = Object.keys(homes).find(
        (name) => to === name || (name.startsWith('node:') ? false : to.startsWith(`${name}/`)),
      );
      return home !== undefined && homes[home]!.includes(roomOf(from)) ? [] : [`${relative(root, from)} -> ${to}`];
    });
    expect(wrong).toEqual([]);
  });

  test('nothing that decides uses chance, the clock, the locale or inexact functions', () => {
    const banned =
      /Math\.(random|sin|cos|tan|atan2|atan|hypot|pow|exp|log|cbrt)\b|Date\.now|new Date\(|performance\.now|localeCompare|toLocale(?!LowerCase|UpperCase)/;
    const free = new Set(['cli', 'marker']);
    const wrong = files.filter(
      (file) => !free.has(roomOf(file)) && banned.test(stripComments(readFileSync(file, 'utf8'))),
    );
    expect(wrong.map((file) => relative(root, file))).toEqual([]);
  });
});

function stripComments(text: string): string {
  return text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/\/\/.*$/gm, '');
}
