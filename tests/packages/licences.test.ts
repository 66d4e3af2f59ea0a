/** Every package that is installed has a licence that we know and may use, and docs/licences.md lists it. */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { licencePage } from './licence-page.js';
import { lockedPackages, packageFile, root } from './lock-file.js';

/** They allow use, change and passing on, and ask nothing of the work around. */
const permissive = ['0BSD', 'BSD-3-Clause', 'ISC', 'MIT', '(MIT AND Zlib)'];
const named: Readonly<Record<string, readonly string[]>> = {
  BSL: ['clipper-lib'],
  'OFL-1.1': ['@fontsource/dejavu-sans'],
};
/** For building and testing alone. */
const toolsOnly = ['Apache-2.0', 'BlueOak-1.0.0', 'MIT OR Apache-2.0', 'MPL-2.0', '(EDL-1.0 OR EPL-1.0)'];

const packages = lockedPackages();
const installed = packages.filter(({ folder }) => existsSync(`${root}${folder}/package.json`));

describe('licences', () => {
  it('docs/licences.md is up to date', () => {
    const path = `${root}docs/licences.md`;
    if (process.env.REWRITE_EXPECTED === '1') writeFileSync(path, licencePage());
    expect(readFileSync(path, 'utf8')).toBe(licencePage());
  });

  it('are those that we know', () => {
    const unknown = packages.filter(({ name, licence, isDev }) => {
      if (permissive.includes(licence) || named[licence]?.includes(name)) return false;
      return !(isDev && toolsOnly.includes(licence));
    });
    expect(unknown).toEqual([]);
  });

  it('stand in the packages as they stand in the lock file', () => {
    expect(installed.length).toBeGreaterThan(80);
    for (const { folder, name, version, licence } of installed) {
      expect(packageFile(folder)).toMatchObject({ name, version, license: licence });
    }
  });

  it('that are named in short are what we take them for', () => {
    const clipper = readFileSync(`${root}node_modules/clipper-lib/clipper.js`, 'utf8');
    expect(clipper.slice(0, 2_000)).toContain('Boost Software License');
    const font = readFileSync(`${root}node_modules/@fontsource/dejavu-sans/LICENSE`, 'utf8');
    expect(font).toContain('DejaVu changes are in public domain');
    expect(font).toContain('Bitstream Vera Fonts Copyright');
    expect(readFileSync(`${root}node_modules/jsts/dist/jsts.min.js`, 'utf8')).toContain('LICENSE_EDLv1.txt');
  });
});
