/** `print` of a lay: its plan or its chalk list, from the lay file alone. A lay that is refused prints nothing. */
import { dirname, join } from 'node:path';
import { makeFault } from '../diagnostics/faults.js';
import { counted } from '../report/words.js';
import { isLay, refusalLines } from './check.js';
import { exitCodes } from './exit-codes.js';
import { checkFolder, readInput, writeFiles } from './files.js';
import { plainText } from './plain-text.js';
import { tellFaults } from './plan.js';
import type { LayPagesSettings } from './settings.js';
import type { World } from './world.js';

/** @returns the exit code */
export async function runPrintLay(world: World, settings: LayPagesSettings): Promise<number> {
  const { file, what, format } = settings;
  const read = await readInput(world, file);
  if (!read.ok) return tellFaults(world, read.faults);
  if (!isLay(read.value.text)) {
    const fix = `plan writes one, NAME.lay.json: give that; --what pieces prints the pieces of a cut list`;
    return tellFaults(world, [makeFault('file-no-lay', null, file, 'it is no lay file', fix)]);
  }
  const folder = settings.out ?? dirname(file);
  const folderFault = await checkFolder(world, folder);
  if (folderFault !== null) return tellFaults(world, [folderFault]);
  const printed = await printOf(read.value.text, settings);
  if (!printed.ok) return tellFaults(world, printed.faults);
  if (!printed.value.accepted) {
    world.out(plainText(`refused, so nothing is printed: ${file}\n${refusalLines(printed.value.verdict)}`));
    return exitCodes.no;
  }
  const { name, bytes, placements, pages } = printed.value;
  const input = { ...read.value, drawings: new Map(), drawingIdentities: [] };
  const files = [{ path: join(folder, `${name}.${format}`), bytes }];
  const written = await writeFiles(world, { folder, layPath: null, files }, [input], () => true);
  const many = counted(placements, 'placement', 'placements');
  const long = pages === null ? '' : `, ${counted(pages, 'page', 'pages')} (${settings.page})`;
  const other = settings.side === 'wrong' ? ', seen from the wrong side of the cloth' : '';
  world.out(plainText(`${what === 'plan' ? 'plan' : 'chalk list'} of ${many}${long}${other}\n`));
  for (const path of written.files) world.out(plainText(`written: ${path}\n`));
  return written.fault === null ? exitCodes.done : tellFaults(world, [written.fault]);
}

async function printOf(text: string, { what, file, format, ...options }: LayPagesSettings) {
  const { printChalk, printPlan } = await import('../index.js');
  if (what === 'chalk') return printChalk(file, text, { ...options, format });
  return printPlan(file, text, { ...options, format: format === 'svg' ? 'svg' : 'pdf' });
}
