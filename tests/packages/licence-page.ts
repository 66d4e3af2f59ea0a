/** docs/licences.md, written from the lock file and from what is installed. */
import { readdirSync } from 'node:fs';
import { type LockedPackage, lockedPackages, root } from './lock-file.js';

/** Machines for which packages are built ahead, as they stand in the names of those packages. */
const machine = /-(aix|android|darwin|freebsd|linux|netbsd|openbsd|openharmony|sunos|wasm32|win32)\b.*$/;

const head = `# Licences

What Shortlay is made with, and under which licence. This page is written by \`tests/packages/licences.test.ts\` from
\`package-lock.json\` and from what is installed, and that test fails when it is out of date.

- **Runs with the program.** All of these licences let anyone use, change and pass on the work, also for money, if the
  notices stay with it. None asks that the work around it be opened. clipper-lib names its licence "BSL" for short: the
  head of its file says Boost Software License 1.0. The font says OFL-1.1 in its package, while the licence text that comes
  with it is that of Bitstream Vera and Arev, with the changes of DejaVu in the public domain; both allow the font to
  be embedded in a document, and neither allows it to be sold by itself.
- **For building and testing only**; nothing of them is in what the program writes. Two have other terms:
  lightningcss, a part of the test runner's own tools, is under MPL-2.0, which asks that changes to its own files be opened
  (none are made); jsts may be taken under EDL-1.0 (the terms of BSD-3-Clause) or EPL-1.0, and is taken under EDL-1.0.

"Text" is the file in the package that holds the licence; a few packages name their licence without adding the text.
`;

/** The page as it should stand. */
export function licencePage(): string {
  const packages = lockedPackages();
  const everywhere = packages.filter((one) => !one.isOptional);
  return `${head}
## Runs with the program

${table(everywhere.filter(({ isDev }) => !isDev))}

## For building and testing only

${table(everywhere.filter(({ isDev }) => isDev))}

## Where they fit

Parts of the above that are built ahead for one kind of machine each; npm takes those that fit.

${machineTable(packages.filter((one) => one.isOptional))}
`;
}

function table(packages: readonly LockedPackage[]): string {
  const rows = packages.map(
    ({ folder, name, version, licence }) => `| ${name} | ${version} | ${licence} | ${textIn(folder)} |`,
  );
  return ['| package | version | licence | text |', '|---|---|---|---|', ...rows].join('\n');
}

function textIn(folder: string): string {
  const found = readdirSync(root + folder)
    .filter((file) => /^(licen[cs]e|copying)/i.test(file))
    .sort();
  return found[0] ?? 'none';
}

function machineTable(packages: readonly LockedPackage[]): string {
  const families = new Map<string, LockedPackage[]>();
  for (const one of packages) {
    const key = [one.name.replace(machine, ''), one.version, one.licence, one.isDev ? 'no' : 'yes'].join(' | ');
    families.set(key, [...(families.get(key) ?? []), one]);
  }
  const rows = [...families].map(([key, { length }]) => `| ${key} | ${length} |`);
  return ['| package | version | licence | runs with the program | kinds |', '|---|---|---|---|---|', ...rows].join(
    '\n',
  );
}
