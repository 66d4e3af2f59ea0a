/** Loaded before the program in a fuzz process: writes the memory and time it took to file 3 when it ends. */
import { writeSync } from 'node:fs';
import { isMainThread } from 'node:worker_threads';

if (isMainThread) {
  process.on('exit', () => {
    const { maxRSS, userCPUTime, systemCPUTime } = process.resourceUsage();
    writeSync(3, JSON.stringify({ megabytes: maxRSS / 1024, seconds: (userCPUTime + systemCPUTime) / 1e6 }));
  });
}
