/**
 * First thing in each of the pool's threads: imports the entry that it is given. A thread that is ended while it loads an
 * ES module by `require`, as piscina would, takes the whole program with it (a fault of Node, seen in 20.20); one that
 * is ended while it imports does not. So this file is CommonJS, and imports nothing but Node's own by `require`.
 */
import threads = require('node:worker_threads');

export = import(threads.workerData.entry).then((entry: { default: unknown }) => entry.default);
