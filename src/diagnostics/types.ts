/** Faults are values: collected over the whole input, sorted, shown together. See docs/faults.md. */

/** Where something stands in a file; line and column count from 1. */
export interface Place {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

/** A value with the place it was read from. */
export interface Located<T> {
  readonly value: T;
  readonly place: Place;
}

/** error: exit 2. warning: the answer stands, `--strict` makes it exit 1. notice: how something was read. */
export type Severity = 'error' | 'warning' | 'notice';

export interface Fault {
  /** Stable code, explained in docs/faults.md, for example `fold-not-straight`. */
  readonly code: string;
  readonly severity: Severity;
  readonly place: Place | null;
  /** What it is about, with the name the user wrote: `piece "Bib"`, `cloth "ticking"`. */
  readonly subject: string | null;
  /** What is wrong: found and expected, in the user's words and units. */
  readonly what: string;
  /** What to do. */
  readonly fix: string;
}

/** A value, or all the faults that kept it from being made. */
export type Result<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly faults: readonly Fault[] };
