/** `print` of a lay: its plan, its chalk list or its marker, from the lay file alone. A lay that is refused prints nothing. */
import { dirname, join } from 'node:path';
import { makeFault } from '../diagnostics/faults.js';
import { counted } from '../report/words.js';
import { refusalLines } from './check.js';
import { exitCodes } from './exit-codes.js';
import { checkFolder, isLay, readInput, writeFiles } from './files.js';
import { plainPath, plainText } from './plain-text.js';
import { tellFaults } from './plan.js';
import type { LayPagesSettings, MarkerSettings } from './settings.js';
import type { World } from './world.js';

/** @returns the exit code */
export async function runPrintLay(world: World, settings: LayPagesSettings | MarkerSettings): Promise<number> {
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
    world.out(plainText(`refused, so nothing is printed: ${plainPath(file)}\n${refusalLines(printed.value.verdict)}`));
    return exitCodes.no;
  }
  const { name, bytes, placements, pages } = printed.value;
  const input = { ...read.value, drawings: new Map(), drawingIdentities: [] };
  const files = [{ path: join(folder, `${name}.${format}`), bytes }];
  const written = await writeFiles(world, { folder, layPath: null, files }, [input], () => true);
  const many = counted(placements, 'placement', 'placements');
  const long = pages === null ? '' : `, ${pagesInWords(pages, settings)}`;
  const other = settings.side === 'wrong' ? ', seen from the wrong side of the cloth' : '';
  const whole = 'page' in settings ? '' : ' at true size';
  world.out(plainText(`${what === 'chalk' ? 'chalk list' : what} of ${many}${whole}${long}${other}\n`));
  for (const path of written.files) world.out(plainText(`written: ${plainPath(path)}\n`));
  if (written.fault !== null) return tellFaults(world, [written.fault]);
  if (pages !== null && what === 'marker') world.out(`${manySheetsWords(pages, settings.sheetName)}${testSquareWords}`);
  if (what === 'projector') world.out('measure the squares of the first page on the cloth before you cut\n');
  return exitCodes.done;
}

function pagesInWords(pages: number, settings: LayPagesSettings | MarkerSettings): string {
  if ('page' in settings) return `${counted(pages, 'page', 'pages')} (${settings.page})`;
  if (settings.what === 'projector') return counted(pages, 'page', 'pages');
  return `${counted(pages, 'sheet', 'sheets')} (${settings.sheetName})`;
}

/** More sheets than this are long to join. */
const sheetsMost = 40;

/** Of many sheets, which paper makes them fewer; nothing for a roll, or where there are no larger sheets. */
function manySheetsWords(sheets: number, sheetName: string): string {
  const name = sheetName.toLowerCase();
  if (sheets <= sheetsMost || name === 'a0' || name.startsWith('roll:')) return '';
  return `${sheets} sheets are many to join: --sheet roll:90 (paper from a roll, here 90 cm wide) or --sheet a0 makes them fewer\n`;
}

/** What to do before anything printed at true size is cut by. */
export const testSquareWords = 'print at 100 %, and measure a test square on the first sheet before you cut\n';

async function printOf(text: string, settings: LayPagesSettings | MarkerSettings) {
  const { printChalk, printMarker, printPlan } = await import('../index.js');
  const { file } = settings;
  if (!('page' in settings)) return printMarker(file, text, settings);
  if (settings.what === 'chalk') return printChalk(file, text, settings);
  return printPlan(file, text, { ...settings, format: settings.format === 'svg' ? 'svg' : 'pdf' });
}
