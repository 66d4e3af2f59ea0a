/** What the report is made from. The answer of a whole plan fits this as it is. */
import type { Fault } from '../diagnostics/types.js';
import type { MaterialPlan } from '../planning/types.js';
import type { LengthUnit } from '../units/types.js';

export interface ReportInput {
  readonly title: string;
  readonly units: LengthUnit;
  readonly notices: readonly Fault[];
  /** In the order of the cut list; several cloths for one material stand one after another. */
  readonly plans: readonly MaterialPlan[];
}

/** What became of one plan outside: both lists run parallel to `plans`. */
export interface ReportFacts {
  /** Names of the files written for it, as the user would type them. */
  readonly files: readonly (readonly string[])[];
  /** Wall-clock seconds spent on its material, for the reader only; null = not measured. */
  readonly seconds: readonly (number | null)[];
}
