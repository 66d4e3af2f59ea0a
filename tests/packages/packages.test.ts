/** What is installed is settled to the byte, and installing runs nothing. */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { lockedPackages, packageFile, root } from './lock-file.js';

const packages = lockedPackages();
const exact = /^\d+\.\d+\.\d+$/;

describe('versions', () => {
  it('are exact in package.json', () => {
    const { dependencies, devDependencies } = packageFile('.');
    const all = Object.entries({ ...dependencies, ...devDependencies });
    expect(all.length).toBeGreaterThan(20);
    expect(all.filter(([, version]) => !exact.test(version))).toEqual([]);
  });

  it('are those of the lock file', () => {
    const { dependencies, devDependencies } = packageFile('.');
    for (const [name, version] of Object.entries({ ...dependencies, ...devDependencies })) {
      expect([name, packages.find(({ folder }) => folder === `node_modules/${name}`)?.version]).toEqual([
        name,
        version,
      ]);
    }
  });

  it('are exact in the lock file, each with the hash of its content, and come from the registry by name', () => {
    expect(packages.length).toBeGreaterThan(100);
    const loose = packages.filter(
      ({ version, integrity, resolved }) =>
        !/^\d+\.\d+\.\d+(-[\w.]+)?$/.test(version) ||
        !/^sha512-[A-Za-z0-9+/]{86}==$/.test(integrity ?? '') ||
        resolved !== undefined,
    );
    expect(loose).toEqual([]);
  });
});

describe('installing', () => {
  it('runs no scripts, and no package asks for one', () => {
    expect(readFileSync(`${root}.npmrc`, 'utf8')).toMatch(/^ignore-scripts=true$/m);
    expect(packages.filter(({ hasInstallScript }) => hasInstallScript)).toEqual([]);
    const installed = packages.filter(({ folder }) => existsSync(`${root}${folder}/package.json`));
    const asking = installed.filter(({ folder }) => {
      const scripts = packageFile(folder).scripts ?? {};
      return 'preinstall' in scripts || 'install' in scripts || 'postinstall' in scripts;
    });
    expect(asking).toEqual([]);
    // npm would compile a package that holds this file, without being asked.
    expect(installed.filter(({ folder }) => existsSync(`${root}${folder}/binding.gyp`))).toEqual([]);
  });
});
