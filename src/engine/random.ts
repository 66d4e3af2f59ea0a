/**
 * The one source of chance: whole numbers only, the same on every machine; a stream of its own for each
 * (seed, task number). Generator: xoshiro128** (Blackman and Vigna, "Scrambled linear pseudorandom number
 * generators", 2021); its state is filled by mixing a counter (Steele, Lea and Flood, "Fast splittable
 * pseudorandom number generators", 2014, with the 32-bit finisher of MurmurHash3).
 */
export interface Random {
  /** A whole number in 0 .. 2^32 - 1. */
  next(): number;
  /** A whole number in 0 .. n - 1; n at most 2^20, so the bias stays below one in four thousand. */
  below(n: number): number;
}

/** A generator of its own for each seed and stream; any whole numbers. */
export function createRandom(seed: number, stream: number): Random {
  let a = mix(seed, stream, 1);
  let b = mix(seed, stream, 2);
  let c = mix(seed, stream, 3);
  let d = mix(seed, stream, 4) | 1;
  const next = (): number => {
    const result = Math.imul(rotate(Math.imul(b, 5), 7), 9) >>> 0;
    const t = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= t;
    d = rotate(d, 11);
    return result;
  };
  return { next, below: (n) => Math.floor((next() * n) / 4294967296) };
}

function rotate(value: number, by: number): number {
  return (value << by) | (value >>> (32 - by));
}

function mix(seed: number, stream: number, place: number): number {
  let h = finish(seed ^ 0x9e3779b9);
  h = finish((h + Math.imul(stream + 1, 0x9e3779b9)) | 0);
  return finish((h + Math.imul(place, 0x85ebca6b)) | 0);
}

function finish(value: number): number {
  let h = value | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}
