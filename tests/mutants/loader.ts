/**
 * The modules of the project and its tests, compiled by the test runner's own compiler and kept in memory. For a mutant
 * only its file is compiled anew, and only what imports that file, and the test files, are evaluated again: the rooms
 * are pure, so what does not see the mutant is as it was. Nothing on the disk changes.
 */
import { pathToFileURL } from 'node:url';
import { runInThisContext } from 'node:vm';
import { createViteServer, type Vite } from 'vitest/node';
import type { Mutant } from './make.js';
import { applyMutant } from './types-valid.js';

type Exports = Record<string, unknown>;

interface Loaded {
  readonly exports: Exports;
  readonly done: Promise<unknown>;
}

type Evaluate = (
  exports: Exports,
  meta: { readonly url: string },
  load: (id: string) => Promise<unknown>,
  loadLater: (id: string) => Promise<unknown>,
  exportAll: (from: Exports) => void,
  exportName: (name: string, get: () => unknown) => void,
) => Promise<unknown>;

const parameters = [
  '__vite_ssr_exports__',
  '__vite_ssr_import_meta__',
  '__vite_ssr_import__',
  '__vite_ssr_dynamic_import__',
  '__vite_ssr_exportAll__',
  '__vite_ssr_exportName__',
].join(', ');

/** Modules by their path from the root on, such as `src/units/length.ts`. */
export class Loader {
  private server: Vite.ViteDevServer | null = null;
  private mutant: Mutant | null = null;
  private modules = new Map<string, Loaded>();
  private readonly importers = new Map<string, Set<string>>();
  private readonly compiled = new Map<string, Evaluate>();

  /**
   * @param root folder of the project
   * @param instead modules that stand in for packages, by name
   */
  constructor(
    private readonly root: string,
    private readonly instead: Readonly<Record<string, unknown>>,
  ) {}

  /** Everything is from now on as with this mutant, or as it is; `tests` are to be evaluated again in any case. */
  take(mutant: Mutant | null, tests: readonly string[]): void {
    const changed = [this.mutant?.file, mutant?.file].filter((file) => file !== undefined);
    this.mutant = mutant;
    for (const file of changed) this.compiled.delete(file);
    for (const id of [...tests, ...changed.flatMap((file) => [file, ...this.seenBy(file)])]) this.modules.delete(id);
  }

  /** What a module exports. */
  async load(id: string, chain: readonly string[] = []): Promise<unknown> {
    if (!/^(src|tests)\//.test(id)) return this.instead[id] ?? importPackage(id);
    const importer = chain.at(-1);
    if (importer !== undefined) this.importers.set(id, (this.importers.get(id) ?? new Set()).add(importer));
    const known = this.modules.get(id) ?? this.begin(id, chain);
    // In a circle a module is given as far as it has come.
    if (!chain.includes(id)) await known.done;
    return known.exports;
  }

  async close(): Promise<void> {
    await this.server?.close();
  }

  private begin(id: string, chain: readonly string[]): Loaded {
    const exports: Exports = {};
    const loaded = { exports, done: this.evaluate(id, exports, [...chain, id]) };
    this.modules.set(id, loaded);
    return loaded;
  }

  private async evaluate(id: string, exports: Exports, chain: readonly string[]): Promise<void> {
    const name = (key: string, get: () => unknown) =>
      Object.defineProperty(exports, key, { enumerable: true, configurable: true, get });
    const all = (from: Exports) => {
      for (const key of Object.keys(from)) if (key !== 'default') name(key, () => from[key]);
    };
    const load = (specifier: string) => this.load(specifier.replace(/^\//, '').replace(/\?.*$/, ''), chain);
    const run = this.compiled.get(id) ?? (await this.compile(id));
    await run(exports, { url: pathToFileURL(`${this.root}/${id}`).href }, load, load, all, name);
  }

  private async compile(id: string): Promise<Evaluate> {
    this.server ??= await this.start();
    const { ssr } = this.server.environments;
    const path = `${this.root}/${id}`;
    const known = ssr?.moduleGraph.getModuleById(path);
    if (known !== undefined) ssr?.moduleGraph.invalidateModule(known);
    const result = await ssr?.transformRequest(path);
    if (!result) throw new Error(`${id} cannot be compiled`);
    const run: Evaluate = runInThisContext(`(async (${parameters}) => {${result.code}\n})`, { filename: path });
    this.compiled.set(id, run);
    return run;
  }

  private start(): Promise<Vite.ViteDevServer> {
    return createViteServer({
      root: this.root,
      configFile: false,
      logLevel: 'silent',
      appType: 'custom',
      server: { middlewareMode: true, watch: null, ws: false },
      optimizeDeps: { noDiscovery: true },
      plugins: [
        {
          name: 'mutant',
          enforce: 'pre',
          transform: (code: string, id: string) =>
            this.mutant !== null && id === `${this.root}/${this.mutant.file}` ? applyMutant(this.mutant, code) : null,
        },
      ],
    });
  }

  /** The modules that import a module, at first or at second hand. */
  private seenBy(id: string): Set<string> {
    const seen = new Set<string>();
    const open = [id];
    for (let next = open.pop(); next !== undefined; next = open.pop()) {
      for (const importer of this.importers.get(next) ?? []) {
        if (seen.has(importer)) continue;
        seen.add(importer);
        open.push(importer);
      }
    }
    return seen;
  }
}

/** Names of an old package stand in its default export. */
async function importPackage(name: string): Promise<unknown> {
  const loaded: Exports = await import(name);
  const { default: inner } = loaded;
  return typeof inner === 'object' && inner !== null ? { ...inner, ...loaded } : loaded;
}
