/** A seeded choice of mutants, from each room as many as is its share of them all. */
import type { Mutant } from './make.js';

/**
 * `count` mutants of the rooms together; the same for the same seed and code.
 * @param keep which of some mutants are fit to be tried; asked for a few more than are wanted of each room
 */
export function sampleMutants(
  rooms: readonly (readonly Mutant[])[],
  count: number,
  seed: number,
  keep: (mutants: readonly Mutant[]) => readonly Mutant[],
): Mutant[] {
  const total = rooms.reduce((sum, room) => sum + room.length, 0);
  const next = randomFrom(seed);
  const shuffled = rooms.map((room) => shuffle(room, next));
  const wanted = rooms.map((room) => Math.ceil((room.length / total) * count));
  const kept = new Set(keep(shuffled.flatMap((room, i) => room.slice(0, wanted[i]! * 2))));
  const chosen = shuffled.flatMap((room, i) => room.filter((mutant) => kept.has(mutant)).slice(0, wanted[i]!));
  return shuffle(chosen, next);
}

function shuffle<T>(values: readonly T[], next: () => number): T[] {
  const shuffled = [...values];
  for (let i = shuffled.length - 1; i > 0; i--) {
    const j = Math.floor(next() * (i + 1));
    [shuffled[i], shuffled[j]] = [shuffled[j]!, shuffled[i]!];
  }
  return shuffled;
}

/** Numbers in [0, 1) by Lehmer's generator, 48 271 modulo 2^31 - 1 (S. K. Park, K. W. Miller, Comm. ACM 31 (10), 1988). */
function randomFrom(seed: number): () => number {
  const modulus = 2_147_483_647;
  let state = (Math.abs(Math.trunc(seed)) % (modulus - 1)) + 1;
  const next = () => {
    state = (state * 48_271) % modulus;
    return (state - 1) / (modulus - 1);
  };
  // Small seeds lie close together; after some steps their numbers do not.
  for (let i = 0; i < 10; i++) next();
  return next;
}
