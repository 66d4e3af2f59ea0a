/** The checker's answer. It lists every reason for refusing, each a sentence of its own. */
export interface Refusal {
  /** Stable code, explained in docs/faults.md, for example `copies-overlap`. */
  readonly code: string;
  /** One sentence that names the copies or pieces and the amount by which they are wrong. */
  readonly sentence: string;
}

export interface Verdict {
  readonly accepted: boolean;
  readonly refusals: readonly Refusal[];
}
