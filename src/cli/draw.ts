/** `draw`: proof of entry. Every piece on paper and its edges in the terminal; nothing is searched. */
import { join } from 'node:path';
import { formatFaults } from '../diagnostics/faults.js';
import { exitCodes } from './exit-codes.js';
import { checkFolder, outputFolder, readCutListInput, writeFiles } from './files.js';
import { plainPath, plainText } from './plain-text.js';
import { tellFaults } from './plan.js';
import type { DrawSettings } from './settings.js';
import type { World } from './world.js';

/** @returns the exit code */
export async function runDraw(world: World, settings: DrawSettings): Promise<number> {
  const { cutList, out, page, strict } = settings;
  const read = await readCutListInput(world, cutList);
  if (!read.ok) return tellFaults(world, read.faults);
  const folder = outputFolder(cutList, out);
  const folderFault = await checkFolder(world, folder);
  if (folderFault !== null) return tellFaults(world, [folderFault]);
  const { drawPieces } = await import('../index.js');
  const drawn = await drawPieces(read.value.path, read.value.text, page, read.value.drawings, settings);
  if (!drawn.ok) return tellFaults(world, drawn.faults);
  const { name, lines, svg, pdf, notices } = drawn.value;
  const files = [
    { path: join(folder, `${name}.svg`), bytes: Buffer.from(svg, 'utf8') },
    { path: join(folder, `${name}.pdf`), bytes: pdf },
  ];
  const written = await writeFiles(world, { folder, layPath: null, files }, [read.value], () => true);
  world.out(plainText(`${lines.join('\n')}\n`));
  if (notices.length > 0) world.err(plainText(`${formatFaults(notices)}\n`));
  for (const file of written.files) world.out(plainText(`written: ${plainPath(file)}\n`));
  if (written.fault !== null) return tellFaults(world, [written.fault]);
  return strict && notices.some(({ severity }) => severity === 'warning') ? exitCodes.no : exitCodes.done;
}
