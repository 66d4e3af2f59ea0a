/** Which mutants the compiler lets pass: the others could never have been built, so no test need find them. */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Mutant } from './make.js';

/** Each mutant as a file of its own beside the right one, all compiled at once in a copy of the sources. */
export function keepTypesValid(root: string, mutants: readonly Mutant[]): Mutant[] {
  const copy = mkdtempSync(join(tmpdir(), 'shortlay-mutants-'));
  try {
    cpSync(join(root, 'src'), join(copy, 'src'), { recursive: true });
    symlinkSync(join(root, 'node_modules'), join(copy, 'node_modules'));
    const { compilerOptions } = JSON.parse(readFileSync(join(root, 'tsconfig.json'), 'utf8'));
    // What is unused or falls through is a matter of style.
    const style = { noUnusedLocals: false, noUnusedParameters: false, noFallthroughCasesInSwitch: false };
    const options = { ...compilerOptions, ...style, noEmit: true };
    writeFileSync(join(copy, 'package.json'), '{ "type": "module" }');
    writeFileSync(join(copy, 'tsconfig.json'), JSON.stringify({ compilerOptions: options, include: ['src'] }));
    mutants.forEach((mutant, i) => {
      writeFileSync(join(copy, nameOf(mutant, i)), applyMutant(mutant, readFileSync(join(root, mutant.file), 'utf8')));
    });
    const tsc = join(root, 'node_modules/typescript/bin/tsc');
    const { stdout } = spawnSync(process.execPath, [tsc, '-p', 'tsconfig.json', '--pretty', 'false'], {
      cwd: copy,
      encoding: 'utf8',
      maxBuffer: 1 << 28,
    });
    const refused = new Set([...stdout.matchAll(/^(src\/[^(]+)\(\d+,\d+\): error/gm)].map(([, file]) => file));
    return mutants.filter((mutant, i) => !refused.has(nameOf(mutant, i)));
  } finally {
    rmSync(copy, { recursive: true, force: true });
  }
}

function nameOf({ file }: Mutant, i: number): string {
  return file.replace(/\.ts$/, `.mutant${i}.ts`);
}

/** The text with the one place changed. */
export function applyMutant({ start, end, was, becomes, file }: Mutant, text: string): string {
  if (text.slice(start, end) !== was) throw new Error(`${file} is not the file the mutant was made from`);
  return text.slice(0, start) + becomes + text.slice(end);
}
