/** Our own fault: something that must hold did not. The program ends with exit code 70. */
export class BrokenPromise extends Error {
  override readonly name = 'BrokenPromise';
}

/** Throws BrokenPromise when `condition` is false. One condition each; `promise` says what must hold. */
export function assert(condition: boolean, promise: string): asserts condition {
  if (!condition) throw new BrokenPromise(promise);
}
