/** `import`: begins a cut list from a drawing. */
import { basename, dirname, join, relative } from 'node:path';
import { makeFault } from '../diagnostics/faults.js';
import { counted } from '../report/words.js';
import { decodeDrawing } from '../source/decode.js';
import { exitCodes } from './exit-codes.js';
import { checkFolder, readInput, writeFiles } from './files.js';
import { plainPath, plainText } from './plain-text.js';
import { tellFaults } from './plan.js';
import type { ImportSettings } from './settings.js';
import { errorInWords, type World } from './world.js';

/** @returns the exit code */
export async function runImport(world: World, { drawing, out, units }: ImportSettings): Promise<number> {
  const read = await readInput(world, drawing, decodeDrawing);
  if (!read.ok) return tellFaults(world, read.faults);
  const folder = out ?? dirname(drawing);
  const folderFault = await checkFolder(world, folder);
  if (folderFault !== null) return tellFaults(world, [folderFault]);
  const { beginCutList } = await import('../index.js');
  const named = relative(folder, drawing).replaceAll('\\', '/');
  const begun = beginCutList(read.value.text, drawing, named, units);
  if (!begun.ok) return tellFaults(world, begun.faults);
  const path = join(folder, `${basename(drawing).replace(/\.[^.]*$/, '')}.yaml`);
  const standing = await standingAt(world, path);
  if (standing !== null) {
    tellFaults(world, [
      makeFault('out-exists', null, path, standing, 'name another folder with --out, or move it away'),
    ]);
    return exitCodes.no;
  }
  const files = [{ path, bytes: Buffer.from(begun.value.text, 'utf8') }];
  const { fault } = await writeFiles(world, { folder, layPath: null, files }, [], () => true);
  if (fault !== null) return tellFaults(world, [fault]);
  const { pieces, questions } = begun.value;
  world.out(
    plainText(
      `${counted(pieces, 'piece', 'pieces')} from ${plainPath(drawing)}; ${counted(questions, 'question', 'questions')} to answer\n`,
    ),
  );
  world.out(plainText(`written: ${plainPath(path)}\n`));
  world.out('answer the lines with a question mark; check says what is missing, then look at the pieces with draw\n');
  return exitCodes.done;
}

/** Why nothing may be written there, or null. */
async function standingAt(world: World, path: string): Promise<string | null> {
  try {
    return (await world.look(path)) === null ? null : 'there is a file of that name, which is not written over';
  } catch (error) {
    return `it cannot be looked at: ${errorInWords(error)}`;
  }
}
