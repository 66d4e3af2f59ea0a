/** `print`: to paper, or to a file for another program: a lay's plan, chalk list or marker, a cut list's pieces. */
import { join } from 'node:path';
import { formatFaults } from '../diagnostics/faults.js';
import { counted } from '../report/words.js';
import { exitCodes } from './exit-codes.js';
import { checkFolder, outputFolder, readCutListInput, writeFiles } from './files.js';
import { plainPath, plainText } from './plain-text.js';
import { tellFaults } from './plan.js';
import { runPrintLay, testSquareWords } from './print-lay.js';
import type { PiecesSettings, PrintSettings } from './settings.js';
import type { World } from './world.js';

/** @returns the exit code */
export async function runPrint(world: World, settings: PrintSettings): Promise<number> {
  return settings.what === 'pieces' ? printAllPieces(world, settings) : runPrintLay(world, settings);
}

async function printAllPieces(world: World, settings: PiecesSettings): Promise<number> {
  const { file, out, sheetName, format } = settings;
  const read = await readCutListInput(world, file);
  if (!read.ok) return tellFaults(world, read.faults);
  const folder = outputFolder(file, out);
  const folderFault = await checkFolder(world, folder);
  if (folderFault !== null) return tellFaults(world, [folderFault]);
  const { printPieces } = await import('../index.js');
  const printed = await printPieces(read.value.path, read.value.text, settings, read.value.drawings);
  if (!printed.ok) return tellFaults(world, printed.faults);
  const { name, bytes, pieces, sheets, notices } = printed.value;
  const files = [{ path: join(folder, `${name}.${format}`), bytes }];
  const written = await writeFiles(world, { folder, layPath: null, files }, [read.value], () => true);
  if (notices.length > 0) world.err(plainText(`${formatFaults(notices)}\n`));
  const what = `${counted(pieces, 'piece', 'pieces')} at true size`;
  world.out(plainText(`${what}${sheets === null ? '' : `: ${sheets} sheets (${sheetName})`}\n`));
  for (const path of written.files) world.out(plainText(`written: ${plainPath(path)}\n`));
  if (written.fault !== null) return tellFaults(world, [written.fault]);
  if (sheets !== null) world.out(testSquareWords);
  return exitCodes.done;
}
