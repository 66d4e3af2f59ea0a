import { linkSync, mkdirSync, readFileSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
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

it('writes over a longer file, leaves nothing beside it, and fails on a folder', async () => {
  const folder = sceneOf({ 'a.svg': 'something longer' });
  await world.write(join(folder, 'a.svg'), Buffer.from('short'));
  expect(readFileSync(join(folder, 'a.svg'), 'utf8')).toBe('short');
  mkdirSync(join(folder, 'b.svg'));
  await expect(world.write(join(folder, 'b.svg'), Buffer.from('x'))).rejects.toThrow();
  expect(filesIn(folder)).toEqual(['a.svg', 'b.svg']);
});
