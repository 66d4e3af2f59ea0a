/** What the exit code of the program says. */
export const exitCodes = {
  done: 0,
  /** All well, but the answer is no: does not fit, refused, a warning with --strict, target edited by hand. */
  no: 1,
  /** Bad input or usage, or a file that cannot be read or written. */
  badInput: 2,
  ownFault: 70,
  /** Interrupted with nothing to write. */
  interrupted: 130,
} as const;
