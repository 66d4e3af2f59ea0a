/** The command line as a function of its words and the world around it. */
import { parseArguments } from './arguments.js';
import { exitCodes } from './exit-codes.js';
import { tellOwnFault } from './own-fault.js';
import { plainText } from './plain-text.js';
import { checkCompare, checkDraw, checkImport, checkPlan, checkPrint, withDate } from './settings.js';
import { errorInWords, type World } from './world.js';

/**
 * Does what the words ask for. What only one command needs is loaded when it is needed, so that help is quick.
 * @returns the exit code; never throws
 */
export async function runCli(words: readonly string[], world: World): Promise<number> {
  // A search takes this over while there is something to end in good order.
  const end = world.onInterrupt(() => world.leave(exitCodes.interrupted));
  try {
    const exitCode = await runCommand(words, world);
    return (await tellLostResults(world)) ?? exitCode;
  } catch (error) {
    return tellOwnFault(world, error, null);
  } finally {
    end();
  }
}

/** What went to stdout may have been meant for a file on a full disk. @returns the exit code for that, else null */
async function tellLostResults(world: World): Promise<number | null> {
  try {
    await world.outDone();
    return null;
  } catch (error) {
    world.err(`shortlay: the results cannot be written to where stdout goes: ${errorInWords(error)}\n`);
    return exitCodes.badInput;
  }
}

async function runCommand(words: readonly string[], world: World): Promise<number> {
  const typed = parseArguments(words, await world.version());
  switch (typed.command) {
    case 'show':
      world.out(typed.text);
      return exitCodes.done;
    case 'wrong':
      return tellUsage(world, [typed.message]);
    case 'plan': {
      const checked = withDate(checkPlan(typed.cutLists, typed.options, world.cores), world.sourceDate);
      if (!checked.ok) return tellUsage(world, checked.problems);
      const { runPlan } = await import('./plan.js');
      return runPlan(world, checked.value);
    }
    case 'compare': {
      const checked = withDate(checkCompare(typed.cutLists, typed.options, world.cores), world.sourceDate);
      if (!checked.ok) return tellUsage(world, checked.problems);
      const { runCompare } = await import('./compare.js');
      return runCompare(world, checked.value);
    }
    case 'draw': {
      const checked = withDate(checkDraw(typed.cutList, typed.options), world.sourceDate);
      if (!checked.ok) return tellUsage(world, checked.problems);
      const { runDraw } = await import('./draw.js');
      return runDraw(world, checked.value);
    }
    case 'import': {
      const checked = checkImport(typed.drawing, typed.options);
      if (!checked.ok) return tellUsage(world, checked.problems);
      const { runImport } = await import('./import.js');
      return runImport(world, checked.value);
    }
    case 'print': {
      const checked = withDate(checkPrint(typed.file, typed.options), world.sourceDate);
      if (!checked.ok) return tellUsage(world, checked.problems);
      const { runPrint } = await import('./print.js');
      return runPrint(world, checked.value);
    }
    case 'check': {
      const { write = false, strict = false } = typed.options;
      const { runCheck } = await import('./check.js');
      return runCheck(world, { file: typed.file, cutLists: typed.cutLists, write, strict });
    }
  }
}

function tellUsage(world: World, problems: readonly string[]): number {
  for (const problem of problems) world.err(plainText(`shortlay: ${problem}\n`));
  world.err('shortlay --help lists the commands and options\n');
  return exitCodes.badInput;
}
