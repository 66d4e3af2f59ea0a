/**
 * Whether a process hangs, told by what the processor did for it and not by the clock: on a machine with much other work a
 * sound process may take any time. Read from /proc (proc(5) of the Linux manual: state and times in stat, in ticks of 1/100 s);
 * where there is none, nothing is ever said to hang.
 */
import { readdirSync, readFileSync } from 'node:fs';

/** It has had too much of the processor, or it has long had none though it could have. */
export type Hang = 'spins' | 'sleeps';

export interface Patience {
  readonly everyMs: number;
  /** So many looks in a row may find it and its children asleep, with nothing done since the look before. */
  readonly looksMost: number;
  /** It may use so many seconds of the processor, its children not counted. */
  readonly secondsMost: number;
}

interface Look {
  readonly ownSeconds: number;
  /** With those of its children, also of those that have ended. */
  readonly allSeconds: number;
  readonly isAsleep: boolean;
}

/** Less than this between two looks is the looking itself. */
const idleSeconds = 0.05;
const ticksPerSecond = 100;

/**
 * Looks at a process now and then until it hangs or the watch is ended.
 * @returns ends the watch
 */
export function watchProcess(pid: number, patience: Patience, onHang: (hang: Hang) => void): () => void {
  const { everyMs, looksMost, secondsMost } = patience;
  let first = lookAt(pid);
  let last = first;
  let idleLooks = 0;
  const timer = setInterval(() => {
    const now = lookAt(pid);
    if (now === null) return;
    first ??= now;
    last ??= now;
    const isIdle = now.isAsleep && now.allSeconds - last.allSeconds < idleSeconds;
    idleLooks = isIdle ? idleLooks + 1 : 0;
    last = now;
    const hang = now.ownSeconds - first.ownSeconds > secondsMost ? 'spins' : idleLooks >= looksMost ? 'sleeps' : null;
    if (hang === null) return;
    clearInterval(timer);
    onHang(hang);
  }, everyMs);
  return () => clearInterval(timer);
}

/** How a process and its children are just now; null where nobody can say. */
function lookAt(pid: number): Look | null {
  try {
    const own = `/proc/${pid}`;
    const threads = readdirSync(`${own}/task`).map((id) => `${own}/task/${id}`);
    const [user, system, userOfEnded, systemOfEnded] = fieldsOf(own).slice(11, 15).map(Number);
    const children = threads.flatMap((thread) => wordsOf(`${thread}/children`)).map((child) => lookAt(Number(child)));
    const ownSeconds = (user! + system!) / ticksPerSecond;
    const ofEnded = (userOfEnded! + systemOfEnded!) / ticksPerSecond;
    return {
      ownSeconds,
      allSeconds: children.reduce((sum, child) => sum + (child?.allSeconds ?? 0), ownSeconds + ofEnded),
      isAsleep:
        threads.every((thread) => fieldsOf(thread)[0] === 'S') && children.every((child) => child?.isAsleep ?? true),
    };
  } catch {
    return null;
  }
}

/** From the state on: what stands before it, the name, may hold anything. */
function fieldsOf(folder: string): string[] {
  const text = readFileSync(`${folder}/stat`, 'latin1');
  return text.slice(text.lastIndexOf(')') + 2).split(' ');
}

function wordsOf(path: string): string[] {
  return readFileSync(path, 'latin1').split(' ').filter(Boolean);
}
