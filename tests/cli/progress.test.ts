import { describe, expect, it } from 'vitest';
import { plainText } from '../../src/cli/plain-text.js';
import { progressLine, type Step } from '../../src/cli/progress.js';
import { fakeWorld } from './fake-world.js';

const step: Step = {
  material: 'shell',
  cloth: 'ticking',
  method: 'open',
  effort: 3.2,
  lengthUm: 2_345_000,
  boundUm: 2_100_000,
  gapPercent: 10.44,
};

/** A world whose clock goes one second further at each look. */
function ticking(columns: number | null): ReturnType<typeof fakeWorld> {
  let now = 0;
  return { ...fakeWorld(), clock: () => now++, errTerminal: columns === null ? null : { columns } };
}

describe('progress', () => {
  it('redraws one line on a terminal, never wider than it, and clears it', () => {
    const world = ticking(40);
    const line = progressLine(world, 20, false);
    line.show(step);
    line.show(step);
    line.end();
    line.end();
    const drawn = '\rbest 234.5 cm, bound 210.0 cm, gap 10.4\u001B[K';
    expect(world.errText()).toBe(`${drawn}${drawn}\r\u001B[K`);
  });

  it('counts wide letters as two, and follows a terminal that is made narrower', () => {
    const world = ticking(80);
    const size = { columns: 80 };
    const line = progressLine({ ...world, errTerminal: size }, 20, false);
    const named = { ...step, lengthUm: null, gapPercent: null, material: '帆布帆布帆布帆布帆布' };
    line.show(named);
    size.columns = 56;
    line.show(named);
    const whole = 'no lay yet, bound 210.0 cm, effort 3.2 of 20; 帆布帆布帆布帆布帆布 on ticking, ';
    expect(world.errText()).toBe(`\r${whole}\u001B[K\r${whole.slice(0, 50)}\u001B[K`);
  });

  it('writes a plain line only now and then elsewhere', () => {
    const world = ticking(null);
    const line = progressLine(world, 20, false);
    for (let i = 0; i < 20; i++) line.show(step);
    const plain = 'best 234.5 cm, bound 210.0 cm, gap 10.4 %, effort 3.2 of 20; shell on ticking, open\n';
    expect(world.errText()).toBe(plain + plain);
  });

  it('says nothing when asked to be quiet, but passes messages on', () => {
    const world = ticking(80);
    const line = progressLine(world, 20, true);
    line.show(step);
    line.say('a message');
    expect(world.errText()).toBe('a message\n');
  });

  it('keeps names from giving orders to the terminal', () => {
    expect(plainText('a\u001B[31mb\u0007\r\nc\td\u009B')).toBe('a?[31mb??\nc\td?');
  });
});
