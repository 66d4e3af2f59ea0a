/** A fuzz process: plays the cases whose numbers it is sent, and sends back counts and violations. */
import { makeCase, readSources } from './cases.js';
import { judgeScene } from './judge.js';
import { type Scene, signatureOf, writeViolation } from './scene.js';
import { shrink } from './shrink.js';
import type { Tally } from './tally.js';

/** What goes to and fro. */
export interface Order {
  readonly number: number;
}
export interface Told {
  readonly number: number;
  readonly tally: readonly (readonly [string, number])[];
  readonly violations: readonly { readonly kind: string; readonly signature: string; readonly text: string }[];
}

const seed = Number(process.argv[2]);
const sources = readSources();
const known = new Set<string>();

// The parent says when to end.
process.on('SIGINT', () => undefined);
process.on('message', async (order: Order) => {
  process.send!(await play(order.number));
});
process.send!('ready');

async function play(number: number): Promise<Told> {
  const tally: Tally = new Map();
  const scene: Scene = await makeCase(seed, number, sources, tally);
  const found = await judgeScene(scene, { tally, checksApart: true });
  const violations: Told['violations'][number][] = [];
  for (const violation of found) {
    const signature = signatureOf(violation);
    // The same once more is only counted.
    const smallest = known.has(signature) ? violation : await shrink(violation, { checksApart: false });
    known.add(signature);
    violations.push({ kind: violation.kind, signature, text: writeViolation(smallest) });
  }
  return { number, tally: [...tally], violations };
}
