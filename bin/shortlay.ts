#!/usr/bin/env node
/** The program: hands its words and the real world to the command line and ends with its exit code. */
import { nodeWorld } from '../src/cli/node-world.js';
import { tellOwnFault } from '../src/cli/own-fault.js';
import { runCli } from '../src/cli/run.js';

const world = nodeWorld();
process.on('uncaughtException', (error) => {
  world.leave(tellOwnFault(world, error, null));
});
process.exitCode = await runCli(process.argv.slice(2), world);
