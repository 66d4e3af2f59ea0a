/** Seeded chance for the fuzz: each case has a stream of its own from (seed, number), so that any case can be drawn alone. */
export class Dice {
  private state: number;

  constructor(seed: number, ...path: readonly number[]) {
    this.state = path.reduce((state, step) => mix(state ^ mix(step + 0x9e3779b9)), mix(seed));
  }

  /** A whole number from 0 up to, but not including, `count`. */
  below(count: number): number {
    this.state = (this.state + 0x6d2b79f5) | 0;
    return mix(this.state) % count;
  }

  /** A whole number, both ends included. */
  between(least: number, most: number): number {
    return least + this.below(most - least + 1);
  }

  /** True so many times in a hundred. */
  chance(percent: number): boolean {
    return this.below(100) < percent;
  }

  pick<T>(choices: readonly T[]): T {
    return choices[this.below(choices.length)]!;
  }

  /** A number with so many digits after the point. */
  decimal(least: number, most: number, digits = 1): number {
    const scale = 10 ** digits;
    return this.between(Math.round(least * scale), Math.round(most * scale)) / scale;
  }

  /** So many of them, or fewer, in another order. */
  some<T>(values: readonly T[], count: number): T[] {
    const rest = [...values];
    const chosen: T[] = [];
    while (chosen.length < count && rest.length > 0) chosen.push(...rest.splice(this.below(rest.length), 1));
    return chosen;
  }
}

/** Scrambles 32 bits. */
function mix(value: number): number {
  let bits = Math.imul(value ^ (value >>> 16), 0x85ebca6b);
  bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
  return (bits ^ (bits >>> 16)) >>> 0;
}
