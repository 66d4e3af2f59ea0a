import { chmodSync, linkSync, lstatSync, mkdirSync, readFileSync, statSync, symlinkSync, utimesSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it, vi } from 'vitest';
import { nodeWorld } from '../../src/cli/node-world.js';
import { filesIn, sceneOf } from './scenes.js';

const world = nodeWorld();

it('knows a file again under another name, also through links', async () => {
  const folder = sceneOf({ 'bag.yaml': 'title: x', 'other.yaml': 'title: x' });
  symlinkSync('bag.yaml', join(folder, 'soft'));
  linkSync(join(folder, 'bag.yaml'), join(folder, 'hard'));
  const identities = await Promise.all(
    ['bag.yaml', 'soft', 'hard', 'other.yaml'].map(async (name) => (await world.look(join(folder, name)))?.identity),
  );
  expect(identities[1]).toBe(identities[0]);
  expect(identities[2]).toBe(identities[0]);
  expect(identities[3]).not.toBe(identities[0]);
});

it('tells a file, a folder and nothing apart', async () => {
  const folder = sceneOf({ 'bag.yaml': 'title: x' });
  expect(await world.look(join(folder, 'bag.yaml'))).toMatchObject({ kind: 'file', bytes: 8 });
  expect(await world.look(folder)).toMatchObject({ kind: 'folder' });
  expect(await world.look(join(folder, 'none'))).toBeNull();
  await expect(world.look(join(folder, 'bag.yaml', 'below'))).rejects.toMatchObject({ code: 'ENOTDIR' });
});

it('knows links that lead nowhere or in a circle', async () => {
  const folder = sceneOf({});
  symlinkSync('none', join(folder, 'dead'));
  symlinkSync('round', join(folder, 'round'));
  expect(await world.look(join(folder, 'dead'))).toMatchObject({ kind: 'dead link' });
  await expect(world.look(join(folder, 'round'))).rejects.toMatchObject({ code: 'ELOOP' });
});

async function write(path: string, text: string): Promise<void> {
  await (await world.makeReady(path, Buffer.from(text))).putInPlace();
}

it('writes over a longer file, leaves nothing beside it, and fails on a folder', async () => {
  const folder = sceneOf({ 'a.svg': 'something longer' });
  await write(join(folder, 'a.svg'), 'short');
  expect(readFileSync(join(folder, 'a.svg'), 'utf8')).toBe('short');
  mkdirSync(join(folder, 'b.svg'));
  const ready = await world.makeReady(join(folder, 'b.svg'), Buffer.from('x'));
  await expect(ready.putInPlace()).rejects.toThrow();
  await ready.drop();
  await ready.drop();
  expect(filesIn(folder)).toEqual(['a.svg', 'b.svg']);
});

it('lets the old file stand until the new one is put in its place, and for good when that is dropped', async () => {
  const folder = sceneOf({ 'a.svg': 'old' });
  const path = join(folder, 'a.svg');
  const [first, second] = [
    await world.makeReady(path, Buffer.from('1')),
    await world.makeReady(path, Buffer.from('2')),
  ];
  expect(readFileSync(path, 'utf8')).toBe('old');
  expect(filesIn(folder).filter((name) => /^\.shortlay-[0-9a-f]{16}\.part$/.test(name))).toHaveLength(2);
  await first.drop();
  expect(readFileSync(path, 'utf8')).toBe('old');
  await second.putInPlace();
  expect(readFileSync(path, 'utf8')).toBe('2');
  expect(filesIn(folder)).toEqual(['a.svg']);
});

it('follows a link to the file that is written anew, keeps its rights, and leaves hard links their content', async () => {
  const folder = sceneOf({ real: 'old' });
  const real = join(folder, 'real');
  chmodSync(real, 0o640);
  symlinkSync('real', join(folder, 'soft'));
  linkSync(real, join(folder, 'hard'));
  await write(join(folder, 'soft'), 'new');
  expect(lstatSync(join(folder, 'soft')).isSymbolicLink()).toBe(true);
  expect(readFileSync(real, 'utf8')).toBe('new');
  expect(statSync(real).mode & 0o777).toBe(0o640);
  expect(readFileSync(join(folder, 'hard'), 'utf8')).toBe('old');
});

it('takes away what a killed run left behind an hour ago, and nothing younger or of another name', async () => {
  const names = [`.shortlay-${'0'.repeat(16)}.part`, `.shortlay-${'1'.repeat(16)}.part`, '.shortlay-x.part', 'a.part'];
  const folder = sceneOf(Object.fromEntries(names.map((name) => [name, ''])));
  const longAgo = Date.now() / 1000 - 4000;
  for (const name of names.slice(1)) utimesSync(join(folder, name), longAgo, longAgo);
  await write(join(folder, 'a.svg'), 'new');
  expect(filesIn(folder)).toEqual([names[0]!, names[2]!, names[3]!, 'a.svg'].sort());
});

it('says with a code why a file cannot be made ready', async () => {
  const folder = sceneOf({ plain: '' });
  const bytes = Buffer.from('x');
  await expect(world.makeReady(join(folder, 'none', 'a'), bytes)).rejects.toMatchObject({ code: 'ENOENT' });
  await expect(world.makeReady(join(folder, 'plain', 'a'), bytes)).rejects.toMatchObject({ code: 'ENOTDIR' });
  await expect(world.makeReady(join(folder, 'a'.repeat(300)), bytes)).rejects.toMatchObject({ code: 'ENAMETOOLONG' });
  expect(filesIn(folder)).toEqual(['plain']);
});

it('has a clock that nobody can set', () => {
  const before = world.clock();
  vi.setSystemTime(new Date('2001-01-01'));
  expect(world.clock()).toBeGreaterThanOrEqual(before);
  vi.useRealTimers();
  expect(world.clock() - before).toBeLessThan(60);
});
