/** Where things are read and written in a real file system: odd names, links, folders, and others at work there. */
import {
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  readlinkSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { nodeWorld } from '../../src/cli/node-world.js';
import { runCli } from '../../src/cli/run.js';
import { sameThreadExecutor } from '../../src/engine/same-thread.js';
import { smallList, smallPlans } from './kills.js';
import { runProgram } from './run-program.js';
import { bag, filesIn, sceneOf } from './scenes.js';

interface Said {
  readonly exitCode: number;
  readonly out: string;
  readonly err: string;
}

const real = nodeWorld();

/** The command line on the real file system, in this process. */
async function run(...words: string[]): Promise<Said> {
  let [out, err] = ['', ''];
  const exitCode = await runCli(words, {
    ...real,
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
    executor: async () => sameThreadExecutor(),
  });
  return { exitCode, out, err };
}

/** The quickest command that writes a file: `bag-pieces-true-size.svg`. */
const drawing = (list: string, out: string) => run('print', list, '--what', 'pieces', '--format', 'svg', '--out', out);
const written = 'bag-pieces-true-size.svg';

describe('names', () => {
  const names: readonly (readonly [string, string])[] = [
    ['two words.yaml', 'two-words'],
    ['skipper\'s "best".yaml', 'skipper-s-best'],
    ['one\ntwo\tthree.yaml', 'one-two-three'],
    ['帆袋.yaml', '帆袋'],
    ['Sjöväska Åsa.yaml', 'sjöväska-åsa'],
    ['парусная сумка.yaml', 'парусная-сумка'],
    ['-bag.yaml', 'bag'],
    ['100%s%20%n.yaml', '100-s-20-n'],
    ['bag=2x.yaml', 'bag-2x'],
    ['$(touch hurt);`x`&.yaml', 'touch-hurt-x'],
    ['???.yaml', 'lay'],
    ['..bag..yaml', 'bag'],
    ['\u001B[31mred.yaml', '31mred'],
  ];

  it.each(names)('%j is read, and what is written is named after it', async (name, base) => {
    const folder = sceneOf({ [name]: bag });
    const ended = await drawing(join(folder, name), join(folder, 'out'));
    expect(ended).toMatchObject({ exitCode: 0, err: '' });
    expect(filesIn(join(folder, 'out'))).toEqual([`${base}-pieces-true-size.svg`]);
    expect(filesIn(folder)).toHaveLength(3);
  });

  it('of folders may be odd too, and are shown in one line without orders to the terminal', async () => {
    const odd = 'new\nline \u001B[31m %d "q" -x';
    const folder = sceneOf({ 'bag.yaml': bag });
    const ended = await drawing(join(folder, 'bag.yaml'), join(folder, odd));
    expect(ended.exitCode).toBe(0);
    expect(ended.out).toContain(`written: ${join(folder, 'new?line ?[31m %d "q" -x', written)}\n`);
    expect(filesIn(join(folder, odd))).toEqual([written]);
    const missing = await run('check', join(folder, odd, 'none\nerror: x.yaml'));
    expect(missing.exitCode).toBe(2);
    expect(missing.err.split('\n')).toHaveLength(3);
  });

  it.each(['a', '帆', '👕'])('of 250 bytes of %s are cut in the middle of no letter', async (letter) => {
    const name = `${letter.repeat(Math.floor(244 / Buffer.byteLength(letter)))}.yaml`;
    const folder = sceneOf({ [name]: bag });
    const ended = await drawing(join(folder, name), join(folder, 'out'));
    expect(ended).toMatchObject({ exitCode: 0, err: '' });
    const [only, ...more] = filesIn(join(folder, 'out'));
    expect(more).toEqual([]);
    expect(Buffer.byteLength(only!)).toBeLessThanOrEqual(204);
    if (letter !== '👕') expect(only).toMatch(new RegExp(`^${letter}+-[0-9a-f]{8}\\.svg$`, 'u'));
  });

  it('that are longer than any file system takes are told', async () => {
    const folder = sceneOf({ 'bag.yaml': bag });
    const ended = await drawing(join(folder, `${'a'.repeat(300)}.yaml`), folder);
    expect(ended.exitCode).toBe(2);
    expect(ended.err).toContain('the name is too long');
    const out = await drawing(join(folder, 'bag.yaml'), join(folder, 'b'.repeat(300)));
    expect(out.exitCode).toBe(2);
    expect(out.err).toContain('the name is too long');
  });

  it('that begin with a dash are given after -- or with ./ before them', async () => {
    const folder = sceneOf({ '-bag.yaml': bag });
    for (const words of [
      ['check', './-bag.yaml'],
      ['check', '--', '-bag.yaml'],
    ]) {
      expect(await runProgram(words, folder)).toMatchObject({ exitCode: 0, err: '' });
    }
    const wrong = await runProgram(['check', '-bag.yaml'], folder);
    expect(wrong).toMatchObject({ exitCode: 2, out: '' });
    expect(wrong.err).toContain("'-bag.yaml'");
  });
});

describe('--out', () => {
  it('may be a link to a folder, or a folder in folders that are not there yet', async () => {
    const folder = sceneOf({ 'bag.yaml': bag });
    mkdirSync(join(folder, 'real'));
    symlinkSync('real', join(folder, 'link'));
    expect((await drawing(join(folder, 'bag.yaml'), join(folder, 'link'))).exitCode).toBe(0);
    expect(filesIn(join(folder, 'real'))).toEqual([written]);
    expect((await drawing(join(folder, 'bag.yaml'), join(folder, 'a', 'b', 'c'))).exitCode).toBe(0);
    expect(filesIn(join(folder, 'a', 'b', 'c'))).toEqual([written]);
  });

  it.each([
    ['a link that leads nowhere', 'none', 'it is a link that leads nowhere'],
    ['a link to itself', 'link', 'links lead in a circle'],
    ['a link to a file', 'bag.yaml', 'it is not a folder'],
  ])('that is %s is told before anything else is done', async (_, target, why) => {
    const folder = sceneOf({ 'bag.yaml': bag });
    symlinkSync(target, join(folder, 'link'));
    for (const words of [['plan'], ['compare'], ['draw'], ['print', '--what', 'pieces']]) {
      const ended = await run(words[0]!, join(folder, 'bag.yaml'), ...words.slice(1), '--out', join(folder, 'link'));
      expect(ended).toMatchObject({ exitCode: 2, out: '' });
      expect(ended.err).toContain(`the lays cannot go there: ${why}`);
    }
    expect(filesIn(folder)).toEqual(['bag.yaml', 'link']);
    expect(readlinkSync(join(folder, 'link'))).toBe(target);
  });

  it('below a file is told', async () => {
    const folder = sceneOf({ 'bag.yaml': bag });
    const ended = await drawing(join(folder, 'bag.yaml'), join(folder, 'bag.yaml', 'lays'));
    expect(ended.exitCode).toBe(2);
    expect(ended.err).toContain('a part of the path is a file, not a folder');
  });
});

describe('the file that is to be written', () => {
  it('may be a link: what it leads to is written anew, the link stays', async () => {
    const folder = sceneOf({ 'bag.yaml': bag, elsewhere: 'old' });
    mkdirSync(join(folder, 'out'));
    symlinkSync('../elsewhere', join(folder, 'out', written));
    expect((await drawing(join(folder, 'bag.yaml'), join(folder, 'out'))).exitCode).toBe(0);
    expect(lstatSync(join(folder, 'out', written)).isSymbolicLink()).toBe(true);
    expect(readFileSync(join(folder, 'elsewhere'), 'utf8')).toContain('<svg');
  });

  it.each([
    ['leads nowhere', '../none', 'it is a link that leads nowhere'],
    ['leads in a circle', written, 'links lead in a circle'],
    ['leads to the cut list', '../bag.yaml', 'what is read is never written over'],
    ['leads to a folder', '.', 'it is a folder'],
    ['leads to a device', '/dev/null', 'it is not a file'],
  ])('is left alone when it is a link that %s', async (_, target, why) => {
    const folder = sceneOf({ 'bag.yaml': bag });
    mkdirSync(join(folder, 'out'));
    symlinkSync(target, join(folder, 'out', written));
    const ended = await drawing(join(folder, 'bag.yaml'), join(folder, 'out'));
    expect(ended.exitCode).toBe(2);
    expect(ended.err).toContain(why);
    expect(readdirSync(join(folder, 'out'))).toEqual([written]);
    expect(readFileSync(join(folder, 'bag.yaml'), 'utf8')).toBe(bag);
  });

  it('is left alone when a folder has its name', async () => {
    const folder = sceneOf({ 'bag.yaml': bag });
    mkdirSync(join(folder, 'out', written), { recursive: true });
    const ended = await drawing(join(folder, 'bag.yaml'), join(folder, 'out'));
    expect(ended.exitCode).toBe(2);
    expect(ended.err).toContain('it is a folder');
    expect(readdirSync(join(folder, 'out'))).toEqual([written]);
  });
});

describe('other runs in the same folder', { timeout: 600_000 }, () => {
  it('that were broken off by another program leave half a lay: it is told, and never written over', async () => {
    const folder = sceneOf({ 'bag.yaml': smallList });
    const words = (smallPlans[0] ?? []).map((word) => (['bag.yaml', 'out'].includes(word) ? join(folder, word) : word));
    expect((await run(...words)).exitCode).toBe(0);
    const path = join(folder, 'out', 'bag-felt.lay.json');
    const whole = readFileSync(path);
    for (const bytes of [whole.length - 2, Math.floor(whole.length / 2), 1, 0]) {
      writeFileSync(path, whole);
      truncateSync(path, bytes);
      for (const reading of [['check'], ['print', '--what', 'chalk', '--format', 'csv']]) {
        const read = await run(reading[0]!, path, ...reading.slice(1));
        expect(read.exitCode).toBe(2);
        expect(read.err).not.toContain('our own fault');
      }
    }
    truncateSync(path, 100);
    const again = await run(...words);
    expect(again.exitCode).toBe(1);
    expect(again.err).toContain('it was edited by hand or is no lay of ours');
    expect(lstatSync(path).size).toBe(100);
  });

  it('at the same time: each file is whole and of one of them', async () => {
    const folder = sceneOf({ 'bag.yaml': smallList });
    const alone = [];
    for (const words of smallPlans) {
      const clean = sceneOf({ 'bag.yaml': smallList });
      expect((await runProgram(words, clean)).exitCode).toBe(0);
      alone.push(new Map(filesIn(join(clean, 'out')).map((name) => [name, readFileSync(join(clean, 'out', name))])));
    }
    for (let round = 0; round < 2; round++) {
      const ended = await Promise.all([...smallPlans, ...smallPlans].map((words) => runProgram(words, folder)));
      expect(ended.map(({ exitCode }) => exitCode)).toEqual([0, 0, 0, 0]);
      expect(filesIn(join(folder, 'out'))).toEqual([...alone[0]!.keys()]);
      for (const name of filesIn(join(folder, 'out'))) {
        const bytes = readFileSync(join(folder, 'out', name));
        expect(alone.some((files) => files.get(name)!.equals(bytes))).toBe(true);
      }
    }
  });
});
