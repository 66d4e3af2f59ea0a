/** `check`: a cut list is read and judged, never searched; a lay goes to the independent checker. */
import type { Verdict } from '../checker/types.js';
import { formatFaults, makeFault } from '../diagnostics/faults.js';
import type { Fault, Severity } from '../diagnostics/types.js';
import type { CutListSource } from '../index.js';
import { andList, buyVerb } from '../report/words.js';
import { formatBuy, formatLength } from '../units/length.js';
import { exitCodes } from './exit-codes.js';
import {
  type CutListInput,
  type Input,
  isLay,
  readCutListInputs,
  readInput,
  sourceOf,
  withDrawings,
  writeTogether,
} from './files.js';
import { plainPath, plainText } from './plain-text.js';
import { tellFaults } from './plan.js';
import { reportWidth } from './report-width.js';
import { splitCount } from './settings.js';
import type { World } from './world.js';

export interface CheckSettings {
  readonly file: string;
  readonly cutLists: readonly string[];
  readonly write: boolean;
  readonly strict: boolean;
}

/** @returns the exit code */
export async function runCheck(world: World, settings: CheckSettings): Promise<number> {
  const read = await readInput(world, settings.file);
  if (!read.ok) return tellFaults(world, read.faults);
  if (/\.(svg|dxf)$/i.test(settings.file)) {
    const fault = makeFault(
      'file-is-drawing',
      null,
      settings.file,
      'it is a drawing',
      'import begins a cut list from it',
    );
    return tellFaults(world, [fault]);
  }
  if (isLay(read.value.text)) return checkLay(world, settings, read.value);
  if (settings.cutLists.length > 0 || settings.write) {
    const what = settings.write ? '--write' : 'a second file';
    world.err(plainText(`shortlay: ${settings.file} is a cut list: ${what} goes with a lay only\n`));
    return exitCodes.badInput;
  }
  return checkCutListFile(world, settings, await withDrawings(world, read.value));
}

async function checkCutListFile(world: World, { strict }: CheckSettings, input: CutListInput): Promise<number> {
  const { checkCutList } = await import('../index.js');
  const { piecesAsRead, seamsAsRead } = await import('../report/pieces-as-read.js');
  const { cutList, faults } = checkCutList(input.path, input.text, input.drawings);
  if (cutList !== null) {
    const width = reportWidth(world);
    const lines = [cutList.title, ...piecesAsRead(cutList, width), ...seamsAsRead(cutList, width)];
    world.out(plainText(`${lines.join('\n')}\n`));
  }
  const errors = count(faults, 'error');
  if (faults.length > 0) world.err(plainText(`${formatFaults(faults)}\n`));
  if (errors === 0) world.out(`no faults${alsoInWords(faults)}\n`);
  else world.err(`${plural(errors, 'fault')}${alsoInWords(faults)}\n`);
  if (errors > 0) return exitCodes.badInput;
  return strict && count(faults, 'warning') > 0 ? exitCodes.no : exitCodes.done;
}

function count(faults: readonly Fault[], severity: Severity): number {
  return faults.filter((fault) => fault.severity === severity).length;
}

function plural(number: number, word: string): string {
  return `${number} ${word}${number === 1 ? '' : 's'}`;
}

/** `, 1 warning, 2 notices`; nothing where there are none. */
function alsoInWords(faults: readonly Fault[]): string {
  return (['warning', 'notice'] as const)
    .filter((severity) => count(faults, severity) > 0)
    .map((severity) => `, ${plural(count(faults, severity), severity)}`)
    .join('');
}

async function checkLay(world: World, settings: CheckSettings, input: Input): Promise<number> {
  const { checkLayFile, rewriteLay } = await import('../index.js');
  const rewritten = settings.write ? rewriteLay(input.path, input.text) : null;
  if (rewritten !== null && !rewritten.ok) return tellFaults(world, rewritten.faults);
  const text = rewritten?.value.text ?? input.text;
  // As typed for plan; where no number is said, that of the lay is right.
  const typed = settings.cutLists.map(splitCount);
  const cutLists = await readCutListInputs(
    world,
    typed.map(({ path }) => path),
    false,
  );
  if (!cutLists.ok) return tellFaults(world, cutLists.faults);
  const against = cutLists.value.map((input, i): CutListSource => {
    const { garments } = typed[i]!;
    return { ...sourceOf(input), ...(garments === null ? {} : { garments }) };
  });
  const checked = checkLayFile(input.path, text, against);
  if (!checked.ok) return tellFaults(world, checked.faults);
  const { lay, verdict, editedByHand } = checked.value;
  if (!verdict.accepted) {
    const reasons = refusalLines(verdict);
    const moved = verdict.refusals.some(({ code }) => code === 'outline-not-claimed');
    const hint = moved ? '  If you moved a copy by hand, --write puts its outline where `at` and `turned` say.\n' : '';
    world.out(plainText(`refused: ${plainPath(input.path)}\n${reasons}${hint}`));
    return exitCodes.no;
  }
  const { lengthUsed, buy } = lay.totals;
  const used = `length used ${formatLength(lengthUsed, 'cm')}, ${buyVerb(lay.cloth)} ${formatBuy(buy, 'cm')} of ${lay.cloth.name}`;
  const many = `${plural(lay.placements.length, 'placement')}, ${lay.copies.length} copies`;
  const edited = editedByHand ? '; edited by hand' : '';
  const also = against.length === 0 ? '' : `; agrees with ${andList(against.map(({ file }) => plainPath(file)))}`;
  world.out(plainText(`accepted: ${lay.title}, ${lay.material}: ${used}; ${many}${also}${edited}\n`));
  return settings.write ? writeBack(world, input, text) : exitCodes.done;
}

/** Why a lay is refused, a line for each reason. */
export function refusalLines({ refusals }: Verdict): string {
  return refusals.map(({ code, sentence }) => `  - ${sentence} [${code}]\n`).join('');
}

async function writeBack(world: World, input: Input, text: string): Promise<number> {
  if (text === input.text) {
    world.out(plainText(`${plainPath(input.path)} stands as it is\n`));
    return exitCodes.done;
  }
  const file = { path: input.path, bytes: Buffer.from(text, 'utf8') };
  const fix = 'make room or ask for permission; the file stands as it was';
  const { fault } = await writeTogether(world, [file], fix);
  if (fault !== null) return tellFaults(world, [fault]);
  const stale = 'its drawings and chalk list, if there are any beside it, still show the lay before the edit';
  world.out(plainText(`written: ${plainPath(input.path)}\n  ${stale}\n`));
  return exitCodes.done;
}
