/**
 * Progress on stderr: one line redrawn on a terminal; elsewhere a plain line now and then, so that a log stays short.
 */
import { cutTo } from '../report/columns.js';
import { formatLength } from '../units/length.js';
import type { Um } from '../units/types.js';
import { plainText } from './plain-text.js';
import type { World } from './world.js';

export interface Step {
  readonly material: string;
  readonly cloth: string;
  readonly method: string;
  readonly effort: number;
  readonly lengthUm: Um | null;
  readonly boundUm: Um;
  readonly gapPercent: number | null;
}

const redrawSeconds = 0.1;
/** Short runs say nothing. */
const firstPlainSeconds = 2;
const plainSeconds = 10;

export interface ProgressLine {
  show(step: Step): void;
  /** A message of its own line; what was drawn is cleared first. */
  say(text: string): void;
  /** Clears what was drawn. */
  end(): void;
}

/** @param effort the effort asked for each material */
export function progressLine(world: World, effort: number, quiet: boolean): ProgressLine {
  let drawn = false;
  let next = world.errTerminal === null ? world.clock() + firstPlainSeconds : Number.NEGATIVE_INFINITY;
  const end = (): void => {
    if (drawn) world.err('\r\u001B[K');
    drawn = false;
  };
  return {
    show(step) {
      const now = world.clock();
      if (quiet || now < next) return;
      const terminal = world.errTerminal;
      next = now + (terminal === null ? plainSeconds : redrawSeconds);
      const line = stepInWords(step, effort);
      world.err(terminal === null ? `${line}\n` : `\r${cutTo(line, terminal.columns - 1)}\u001B[K`);
      drawn = terminal !== null;
    },
    say(text) {
      end();
      world.err(`${text}\n`);
    },
    end,
  };
}

/** Figures first: a narrow terminal cuts the names, not them. */
function stepInWords({ material, cloth, method, ...step }: Step, effort: number): string {
  const length = step.lengthUm === null ? 'no lay yet' : `best ${formatLength(step.lengthUm, 'cm')}`;
  const gap = step.gapPercent === null ? '' : `, gap ${step.gapPercent.toFixed(1)} %`;
  // One batch is the smallest step, so a small effort may be passed.
  const spent = `effort ${Number(step.effort.toFixed(2))} of ${Math.max(effort, Number(step.effort.toFixed(2)))}`;
  return plainText(
    `${length}, bound ${formatLength(step.boundUm, 'cm')}${gap}, ${spent}; ${material} on ${cloth}, ${method}`,
  );
}
