import { describe, expect, it } from 'vitest';
import { parseArguments } from '../../src/cli/arguments.js';
import { runCli } from '../../src/cli/run.js';
import { checkPlan } from '../../src/cli/settings.js';
import { fakeWorld } from './fake-world.js';

async function usage(...words: string[]): Promise<string> {
  const world = fakeWorld();
  expect(await runCli(words, world)).toBe(2);
  expect(world.outText()).toBe('');
  return world.errText();
}

describe('arguments as typed', () => {
  it('takes options of plan before and after the cut list', () => {
    expect(parseArguments(['plan', '--effort', '3', 'a.yaml', '--json'], '1')).toEqual({
      command: 'plan',
      cutLists: ['a.yaml'],
      options: { effort: '3', json: true },
    });
  });

  it('takes a lay and its cut list for check', () => {
    const options = { write: true };
    const typed = { command: 'check', file: 'a.lay.json', cutLists: ['a.yaml'], options };
    expect(parseArguments(['check', 'a.lay.json', 'a.yaml', '--write'], '1')).toEqual(typed);
  });

  it('prints help and version to stdout with exit code 0', async () => {
    const world = fakeWorld();
    expect(await runCli(['--version'], world)).toBe(0);
    expect(world.outText()).toBe('1.2.3\n');
    for (const words of [['--help'], ['plan', '--help'], ['check', '-h']]) {
      const helped = fakeWorld();
      expect(await runCli(words, helped)).toBe(0);
      expect(helped.outText()).toContain('Usage: shortlay');
      expect(helped.errText()).toBe('');
    }
  });

  it('names the neighbour of an unknown option and the commands there are', async () => {
    expect(await usage('plan', 'a.yaml', '--widht', '3')).toContain("unknown option '--widht' (Did you mean --width?)");
    expect(await usage('paln', 'a.yaml')).toContain('the commands are plan, compare, check, draw, import and print');
    expect(await usage()).toContain('give a command: plan, compare, check, draw, import or print');
    expect(await usage('plan')).toContain("missing required argument 'cutlist'");
    expect(await usage('draw', 'a', 'b')).toContain('too many arguments');
  });
});

describe('arguments checked and filled', () => {
  it('fills what is not given', () => {
    const checked = checkPlan(['a.yaml'], {}, 7);
    expect(checked).toEqual({
      ok: true,
      value: {
        cutLists: [{ path: 'a.yaml', garments: 1 }],
        material: null,
        cloth: null,
        widthsUm: null,
        advise: false,
        bareLengths: [],
        tidies: true,
        lengthUm: null,
        nap: null,
        method: null,
        effort: 20,
        seconds: null,
        seed: 1,
        keep: null,
        workers: 7,
        out: null,
        page: 'a4',
        garments: 1,
        json: false,
        quiet: false,
        strict: false,
      },
    });
  });

  it('reads lengths in cm or with their unit, and a method with hyphens', () => {
    const typed = { width: '59 in', length: '120', method: 'lengthwise-fold', effort: '0.5', nap: 'none' };
    const checked = checkPlan(['a.yaml'], typed, 1);
    // 59 in = 149.86 cm: 1 in = 25.4 mm exactly (international inch, 1959).
    const value = { widthsUm: [1_498_600], lengthUm: 1_200_000, method: 'lengthwise fold', effort: 0.5, nap: 'none' };
    expect(checked).toMatchObject({ ok: true, value });
  });

  it('counts the garments of each cut list, and of all', () => {
    const read = (...words: string[]) => checkPlan(words, { garments: '3' }, 1);
    const cutLists = [
      { path: 'a.yaml', garments: 2 },
      { path: 'b=c.yaml', garments: 1 },
    ];
    expect(read('a.yaml=2', 'b=c.yaml')).toMatchObject({ ok: true, value: { cutLists, garments: 3 } });
    // No number of garments: the name of a file, which is told when there is none.
    const named = ['a.yaml=0', 'a.yaml=1001'].map((path) => ({ path, garments: 1 }));
    expect(read('a.yaml=0', 'a.yaml=1001')).toMatchObject({ ok: true, value: { cutLists: named } });
    const problems = ['1200 garments in one lay: at most 1000 are planned'];
    expect(read('a.yaml=300', 'b.yaml=100')).toEqual({ ok: false, problems });
  });

  it('tells all wrong values at once, in one wording', async () => {
    const text = await usage(
      ...['plan', 'a.yaml', '--width', '-4', '--effort', '0', '--seed', '1.5', '--nap', 'up', '--page', 'a3'],
      ...['--seconds', 'NaN', '--workers', '0', '--length', '1e9', '--method', 'rolled', '--out', ''],
    );
    const names = ['width', 'length', 'nap', 'method', 'effort', 'seconds', 'seed', 'workers', 'page', 'out'];
    for (const name of names) expect(text).toMatch(new RegExp(`--${name}: found "[^"]*", expected `));
  });
});
