/**
 * Arguments, first step: as typed. Nothing is checked but that the words are known; nothing is done.
 * Home of commander, which is kept from printing and from leaving on its own.
 */
import { Command, CommanderError } from 'commander';

/** Options of `plan` as typed; a missing one is undefined. */
export interface TypedPlanOptions {
  readonly material?: string;
  readonly cloth?: string;
  readonly width?: string;
  readonly length?: string;
  readonly nap?: string;
  readonly method?: string;
  readonly effort?: string;
  readonly seconds?: string;
  readonly seed?: string;
  readonly workers?: string;
  readonly out?: string;
  readonly page?: string;
  readonly json?: true;
  readonly quiet?: true;
  readonly strict?: true;
  readonly garments?: string;
  readonly keep?: string;
  readonly advise?: true;
}

/** Options of `compare` as typed. */
export interface TypedCompareOptions extends Omit<TypedPlanOptions, 'width' | 'keep' | 'advise'> {
  readonly widths?: string;
  readonly step?: string;
}

export interface TypedCheckOptions {
  readonly write?: true;
  readonly strict?: true;
}

export interface TypedDrawOptions {
  readonly out?: string;
  readonly page?: string;
  readonly strict?: true;
}

export interface TypedImportOptions {
  readonly out?: string;
  readonly units?: string;
}

export interface TypedPrintOptions {
  readonly what?: string;
  readonly sheet?: string;
  readonly format?: string;
  readonly out?: string;
  readonly wrongSide?: true;
  readonly units?: string;
}

export type Typed =
  | { readonly command: 'plan'; readonly cutLists: readonly string[]; readonly options: TypedPlanOptions }
  | { readonly command: 'compare'; readonly cutLists: readonly string[]; readonly options: TypedCompareOptions }
  | {
      readonly command: 'check';
      readonly file: string;
      readonly cutLists: readonly string[];
      readonly options: TypedCheckOptions;
    }
  | { readonly command: 'draw'; readonly cutList: string; readonly options: TypedDrawOptions }
  | { readonly command: 'import'; readonly drawing: string; readonly options: TypedImportOptions }
  | { readonly command: 'print'; readonly file: string; readonly options: TypedPrintOptions }
  /** Help or version was asked for: print it and be done. */
  | { readonly command: 'show'; readonly text: string }
  | { readonly command: 'wrong'; readonly message: string };

/** For sentences. */
export const commandWords = 'plan, compare, check, draw, import or print';

/** @param version printed for --version */
export function parseArguments(words: readonly string[], version: string): Typed {
  let typed: Typed | null = null;
  let shown = '';
  const program = makeProgram(version, (found) => {
    typed = found;
  });
  for (const command of [program, ...program.commands]) {
    command.exitOverride().configureOutput({
      writeOut: (text) => {
        shown += text;
      },
      writeErr: () => undefined,
    });
  }
  try {
    program.parse(words, { from: 'user' });
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    if (error.exitCode === 0) return { command: 'show', text: shown };
    return { command: 'wrong', message: usageMessage(error, words) };
  }
  return typed ?? { command: 'wrong', message: `give a command: ${commandWords}` };
}

/** Commander's sentence on one line, without its own prefix. */
function usageMessage(error: CommanderError, words: readonly string[]): string {
  if (error.code === 'commander.help') return `give a command: ${commandWords}`;
  const sentence = error.message.replace(/^error: /, '').replace(/\n\((.*)\)$/s, ' ($1)');
  if (error.code !== 'commander.unknownCommand') return sentence;
  return `${sentence}; the commands are ${commandWords.replace(' or ', ' and ')} (shortlay plan ${words[0]} plans a cut list of that name)`;
}

function makeProgram(version: string, found: (typed: Typed) => void): Command {
  const program = new Command('shortlay')
    .description('Finds the shortest legal lay of sewing-pattern pieces on a cloth and says how much cloth to buy.')
    .version(version, '--version', 'print the version')
    .helpOption('-h, --help', 'print this help')
    .helpCommand(false)
    .addHelpText('after', '\nHelp for one command: shortlay plan --help');
  addPlan(program, found);
  addCompare(program, found);
  addCheck(program, found);
  addDraw(program, found);
  addImport(program, found);
  addPrint(program, found);
  return program;
}

function addPlan(program: Command, found: (typed: Typed) => void): void {
  const command = program
    .command('plan <cutlist...>')
    .description(
      'for each material of one or several cut lists the shortest lay: report, lay file, plan as SVG and PDF',
    )
    .helpOption('-h, --help', 'print this help')
    .option('--width <length>', 'width of the cloth, instead of the one in the file (cm, or with its unit)');
  addLayOptions(command)
    .option('--effort <number>', 'work for each material, about a second each on two cores (20)')
    .option('--keep <lay>', 'what is pinned in this lay file stays where it is; the rest is planned anew')
    .option('--advise', 'say what would save cloth, also when it fits; about as long again')
    .action((cutLists: string[], options: TypedPlanOptions) => found({ command: 'plan', cutLists, options }));
}

function addCompare(program: Command, found: (typed: Typed) => void): void {
  const command = program
    .command('compare <cutlist...>')
    .description('how much to buy and what it costs on each cloth of a cut list, or at several widths: table and plot')
    .helpOption('-h, --help', 'print this help')
    .option('--widths <list>', 'widths instead of those in the file: 115,150, or from 90..160 (cm, or with their unit)')
    .option('--step <length>', 'how far apart the widths of 90..160 are (5 cm, or 2 in where they are in inches)');
  addLayOptions(command)
    .option('--effort <number>', 'work for each material (40, shared by the materials)')
    .action((cutLists: string[], options: TypedCompareOptions) => found({ command: 'compare', cutLists, options }));
}

/** What `plan` and `compare` have in common. */
function addLayOptions(command: Command): Command {
  return command
    .option('--material <name>', 'only this material')
    .option('--cloth <name>', 'only this cloth')
    .option('--length <length>', 'length at hand, instead of the one in the file (cm, or with its unit)')
    .option('--nap <nap>', 'one-way, each-garment or none, instead of the one in the file')
    .option(
      '--method <method>',
      'how the cloth lies: open, lengthwise-fold, partial-fold, double-fold, tube, crosswise-fold, crosswise-cut-and-turned, combination or best',
    )
    .option('--garments <number>', 'so many times all that the cut lists ask for; CUTLIST=2 for one of them (1)')
    .option('--seconds <number>', 'a cap on the time for the search; the effort reached is reported')
    .option('--seed <number>', 'a whole number; another seed, another search (1)')
    .option('--workers <number>', 'threads; changes the time, never the lay (all cores)')
    .option('--out <folder>', 'where the files go (lays/ beside the cut list)')
    .option('--page <size>', 'paper of what is drawn: a4 or letter (a4)')
    .option('--json', 'the report as JSON')
    .option('--quiet', 'no progress')
    .option('--strict', 'end with 1 when there is a warning');
}

function addCheck(program: Command, found: (typed: Typed) => void): void {
  program
    .command('check <file> [cutlists...]')
    .description(
      'a cut list: how it is read and all its faults; a lay: whether it is right, with its cut lists also against those',
    )
    .helpOption('-h, --help', 'print this help')
    .option('--write', 'a lay edited by hand: recompute its outlines, and write it back when it is accepted')
    .option('--strict', 'end with 1 when there is a warning')
    .action((file: string, cutLists: string[], options: TypedCheckOptions) =>
      found({ command: 'check', file, cutLists, options }),
    );
}

function addDraw(program: Command, found: (typed: Typed) => void): void {
  program
    .command('draw <cutlist>')
    .description('every piece as it was typed, on paper (SVG and PDF) and edge by edge in the terminal')
    .helpOption('-h, --help', 'print this help')
    .option('--out <folder>', 'where the files go (lays/ beside the cut list)')
    .option('--page <size>', 'paper: a4 or letter (a4)')
    .option('--strict', 'end with 1 when there is a warning')
    .action((cutList: string, options: TypedDrawOptions) => found({ command: 'draw', cutList, options }));
}

function addImport(program: Command, found: (typed: Typed) => void): void {
  program
    .command('import <drawing>')
    .description('begins a cut list from a drawing (SVG or DXF), each doubtful reading as a comment to answer')
    .helpOption('-h, --help', 'print this help')
    .option('--out <folder>', 'where the cut list goes (beside the drawing)')
    .option('--units <unit>', 'cm, mm or in: units of the cut list (cm)')
    .action((drawing: string, options: TypedImportOptions) => found({ command: 'import', drawing, options }));
}

function addPrint(program: Command, found: (typed: Typed) => void): void {
  program
    .command('print <file>')
    .description(
      'of a lay its plan, its chalk list or its marker at true size; of a cut list its pieces at true size: sheets to print and join (PDF), or SVG or DXF to take elsewhere',
    )
    .helpOption('-h, --help', 'print this help')
    .option('--what <what>', 'plan, chalk, marker or projector (of a lay file), or pieces (of a cut list)')
    .option(
      '--sheet <size>',
      'a4, a3, a2, a1, a0, letter, tabloid, or roll:WIDTH or roll:WIDTHxLENGTH, as roll:90 (a4)',
    )
    .option('--format <format>', 'pdf, svg, dxf (marker, pieces) or csv (chalk) (pdf)')
    .option('--out <folder>', 'where the file goes (beside the lay; for pieces lays/ beside the cut list)')
    .option('--wrong-side', 'of a lay: as seen from the wrong side of the cloth, left and right swapped')
    .option('--units <unit>', 'of a lay: cm, mm or in; a lay file does not say in which it was planned (cm)')
    .action((file: string, options: TypedPrintOptions) => found({ command: 'print', file, options }));
}
