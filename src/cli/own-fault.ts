/** Our own fault told in one line, with what is needed to repeat it; the stack only for whoever works on the program. */
import { exitCodes } from './exit-codes.js';
import type { World } from './world.js';

export interface RunFacts {
  readonly seed: number;
  readonly effort: number;
  readonly inputSha256: readonly string[];
}

/** @returns the exit code */
export function tellOwnFault(world: World, error: unknown, facts: RunFacts | null): number {
  const what = (error instanceof Error ? error.message : String(error)).replace(/\s+/g, ' ');
  const run =
    facts === null
      ? ''
      : ` (seed ${facts.seed}, effort ${facts.effort}, input sha256 ${facts.inputSha256.map((hash) => hash.slice(0, 16)).join(' ')})`;
  world.err(`shortlay: our own fault, not yours: ${what}${run}; please report this line\n`);
  if (world.developer && error instanceof Error) world.err(`${error.stack ?? ''}\n`);
  return exitCodes.ownFault;
}
