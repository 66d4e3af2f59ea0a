/** What every reading function needs: where faults go, whose they are, which unit a bare number is in. */
import { makeFault } from '../diagnostics/faults.js';
import type { Fault, Place, Severity } from '../diagnostics/types.js';
import type { LengthUnit } from '../units/types.js';
import type { Drawings } from './drawings.js';

export class Context {
  constructor(
    readonly units: LengthUnit,
    /** `piece "Bib"`, `cloth "ticking"`, or null at the top of the file. */
    readonly subject: string | null,
    readonly faults: Fault[],
    readonly drawings: Drawings,
  ) {}

  about(subject: string): Context {
    return new Context(this.units, subject, this.faults, this.drawings);
  }

  fault(code: string, place: Place, what: string, fix: string, severity: Severity = 'error'): null {
    this.faults.push(makeFault(code, place, this.subject, what, fix, severity));
    return null;
  }

  /** How many errors there are so far; used to see whether a step found any. */
  get errorCount(): number {
    return this.faults.filter(({ severity }) => severity === 'error').length;
  }
}
