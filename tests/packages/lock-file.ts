/** What npm would install, as the lock file tells it. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

export const root = fileURLToPath(new URL('../../', import.meta.url));

export interface LockedPackage {
  /** Folder from the root: `node_modules/pdf-lib/node_modules/tslib`. */
  readonly folder: string;
  readonly name: string;
  readonly version: string;
  readonly licence: string;
  readonly integrity: string | undefined;
  /** Where it comes from, if not from the registry by its name. */
  readonly resolved: string | undefined;
  /** For building and testing only. */
  readonly isDev: boolean;
  /** For one kind of machine only, or left out where it does not fit. */
  readonly isOptional: boolean;
  readonly hasInstallScript: boolean;
}

interface LockEntry {
  readonly version: string;
  readonly license?: string;
  readonly integrity?: string;
  readonly resolved?: string;
  readonly dev?: boolean;
  readonly optional?: boolean;
  readonly os?: readonly string[];
  readonly cpu?: readonly string[];
  readonly hasInstallScript?: boolean;
}

export interface PackageFile {
  readonly name: string;
  readonly version: string;
  readonly license?: string;
  readonly scripts?: Readonly<Record<string, string>>;
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly devDependencies?: Readonly<Record<string, string>>;
}

/** The parsed `package.json` in a folder of this clone. */
export function packageFile(folder: string): PackageFile {
  return JSON.parse(readFileSync(`${root}${folder}/package.json`, 'utf8')) as PackageFile;
}

/** All packages of the lock file but this one, in the order of their folders. */
export function lockedPackages(): readonly LockedPackage[] {
  const lock = JSON.parse(readFileSync(`${root}package-lock.json`, 'utf8')) as {
    readonly packages: Readonly<Record<string, LockEntry>>;
  };
  return Object.entries(lock.packages)
    .filter(([folder]) => folder !== '')
    .map(([folder, entry]) => ({
      folder,
      name: folder.replace(/^.*node_modules\//, ''),
      version: entry.version,
      licence: entry.license ?? 'none named',
      integrity: entry.integrity,
      resolved: entry.resolved,
      isDev: entry.dev === true,
      isOptional: entry.optional === true || entry.os !== undefined || entry.cpu !== undefined,
      hasInstallScript: entry.hasInstallScript === true,
    }));
}
