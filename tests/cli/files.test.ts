import { describe, expect, it } from 'vitest';
import { checkFolder, inputBytesMax, outputFolder, readInput, writeFiles } from '../../src/cli/files.js';
import { runCli } from '../../src/cli/run.js';
import { type FakeWorld, fakeWorld } from './fake-world.js';

async function whyUnread(world: FakeWorld, path: string): Promise<string> {
  const read = await readInput(world, path);
  return read.ok ? 'it was read' : read.faults.map(({ what }) => what).join('; ');
}

describe('reading', () => {
  it('says in plain words why a file cannot be read', async () => {
    const world = fakeWorld({ 'a.yaml': 'title: x', 'hidden.yaml': 'x' }, ['lists']);
    world.failures.set('read a.yaml', 'EACCES').set('look hidden.yaml', 'EACCES').set('look b/c', 'ENOTDIR');
    expect(await whyUnread(world, 'a.yaml')).toBe('it cannot be read: no permission');
    expect(await whyUnread(world, 'hidden.yaml')).toBe('it cannot be read: no permission');
    expect(await whyUnread(world, 'lists')).toBe('it is a folder');
    expect(await whyUnread(world, 'none.yaml')).toBe('there is no such file');
    expect(await whyUnread(world, 'b/c')).toContain('a part of the path is a file');
  });

  it('refuses what is too large before reading it, and what is not UTF-8', async () => {
    const world = fakeWorld();
    world.files.set('large.yaml', Buffer.alloc(inputBytesMax + 1)).set('latin.yaml', Buffer.from([0x61, 0xe9, 0x62]));
    world.failures.set('read large.yaml', 'EIO');
    expect(await whyUnread(world, 'large.yaml')).toBe('found 24.1 MB, at most 24 MB are read');
    expect(await whyUnread(world, 'latin.yaml')).toContain('UTF-8');
  });

  it.each([
    ['plan', 'EACCES'],
    ['check', 'EIO'],
  ])('%s ends with 2 on a file that fails with %s, and writes nothing', async (command, code) => {
    const world = fakeWorld({ 'a.yaml': 'title: x' });
    world.failures.set('read a.yaml', code);
    expect(await runCli([command, 'a.yaml'], world)).toBe(2);
    expect(world.errText()).toContain('a.yaml: it cannot be read');
    expect(world.errText()).not.toContain('something long');
    expect(world.outText()).toBe('');
    expect([...world.files.keys()]).toEqual(['a.yaml']);
  });
});

function contentsOf(world: FakeWorld): Record<string, string> {
  return Object.fromEntries([...world.files].map(([path, bytes]) => [path, Buffer.from(bytes).toString()]));
}

const input = {
  path: 'a.yaml',
  text: '',
  bytes: 0,
  identity: 'a.yaml',
  sha256: '',
  drawings: new Map(),
  drawingIdentities: [],
};
const lay = {
  folder: 'lays',
  layPath: 'lays/a-shell.lay.json',
  files: ['lay.json', 'svg', 'pdf'].map((ending) => ({
    path: `lays/a-shell.${ending}`,
    bytes: Buffer.from(`new ${ending}`),
  })),
};

describe('writing', () => {
  it('puts the lays beside the cut list, or where --out says', () => {
    expect(outputFolder('boats/a.yaml', null)).toBe('boats/lays');
    expect(outputFolder('a.yaml', null)).toBe('lays');
    expect(outputFolder('boats/a.yaml', 'table')).toBe('table');
  });

  it('makes the folder and writes the lay, then what is drawn from it', async () => {
    const world = fakeWorld();
    const written = await writeFiles(world, lay, [input], () => true);
    expect(written).toEqual({ files: lay.files.map(({ path }) => path), fault: null });
    expect([...world.folders]).toEqual(['lays']);
  });

  const endings = ['lay.json', 'svg', 'pdf'];
  it.each(endings.flatMap((ending) => ['ENOSPC', 'EACCES', 'EIO'].map((code) => [ending, code])))(
    'leaves all as it was when the %s cannot be made ready (%s)',
    async (ending, code) => {
      const old = Object.fromEntries(endings.map((each) => [`lays/a-shell.${each}`, `old ${each}`]));
      const world = fakeWorld(old);
      world.failures.set(`makeReady lays/a-shell.${ending}`, code!);
      const written = await writeFiles(world, lay, [input], () => true);
      expect(written.files).toEqual([]);
      expect(written.fault).toMatchObject({ subject: `lays/a-shell.${ending}`, code: 'file-not-written' });
      expect(written.fault?.what).not.toContain('something long');
      expect(contentsOf(world)).toEqual(old);
      expect(world.ready.size).toBe(0);
    },
  );

  it.each(endings.map((ending, i) => [ending, i] as const))(
    'says what is new when the %s cannot be put in its place, and keeps the old of the rest',
    async (ending, before) => {
      const world = fakeWorld(Object.fromEntries(endings.map((each) => [`lays/a-shell.${each}`, `old ${each}`])));
      world.failures.set(`putInPlace lays/a-shell.${ending}`, 'EPERM');
      const written = await writeFiles(world, lay, [input], () => true);
      expect(written.files).toEqual(endings.slice(0, before).map((each) => `lays/a-shell.${each}`));
      expect(written.fault).toMatchObject({ subject: `lays/a-shell.${ending}`, code: 'file-not-written' });
      expect(Object.values(contentsOf(world))).toEqual(
        endings.map((each, i) => `${i < before ? 'new' : 'old'} ${each}`),
      );
      expect(world.ready.size).toBe(0);
    },
  );

  it.each(['folder', 'other', 'dead link'] as const)('writes nothing where a %s stands in the way', async (kind) => {
    const fake = fakeWorld({ 'lays/a-shell.lay.json': 'old' }, ['lays']);
    const inTheWay = { kind, bytes: 0, identity: 'x' };
    const world = {
      ...fake,
      look: async (path: string) => (path.endsWith('.svg') ? inTheWay : fake.look(path)),
    };
    const written = await writeFiles(world, lay, [input], () => true);
    expect(written).toMatchObject({ files: [], fault: { subject: 'lays/a-shell.svg', code: 'file-not-written' } });
    expect(written.fault?.what).toContain(kind === 'other' ? 'not a file' : kind.replace('dead ', ''));
    expect(contentsOf(fake)).toEqual({ 'lays/a-shell.lay.json': 'old' });
  });

  it('names the file that may not be looked at', async () => {
    const world = fakeWorld();
    world.failures.set('look lays/a-shell.svg', 'ELOOP');
    const written = await writeFiles(world, lay, [input], () => true);
    expect(written).toMatchObject({ files: [], fault: { subject: 'lays/a-shell.svg' } });
    expect(written.fault?.what).toBe('it cannot be written: links lead in a circle');
  });

  it('tells a folder that cannot be made', async () => {
    const world = fakeWorld();
    world.failures.set('makeFolder lays', 'EROFS');
    const written = await writeFiles(world, lay, [input], () => true);
    expect(written.files).toEqual([]);
    expect(written.fault?.what).toBe('it cannot be written: the disk can only be read');
  });

  it('never writes over the input, under whatever name', async () => {
    const world = fakeWorld({ 'lays/a-shell.svg': 'the input' });
    const written = await writeFiles(world, lay, [{ ...input, identity: 'lays/a-shell.svg' }], () => true);
    expect(written).toMatchObject({ files: [], fault: { code: 'out-over-input' } });
    expect(world.files.size).toBe(1);
  });

  it('leaves a lay alone that is not just as it was written', async () => {
    const world = fakeWorld({ 'lays/a-shell.lay.json': 'old' });
    const asked: string[] = [];
    const written = await writeFiles(world, lay, [input], (path, text) => {
      asked.push(path, text);
      return false;
    });
    expect(asked).toEqual(['lays/a-shell.lay.json', 'old']);
    expect(written).toMatchObject({ files: [], fault: { code: 'out-edited-by-hand' } });
    expect(written.fault?.fix).toContain('--out');
    expect([...world.files.keys()]).toEqual(['lays/a-shell.lay.json']);
  });

  it('finds out before the work begins that --out is no folder', async () => {
    const world = fakeWorld({ 'a.yaml': 'title: x', table: '' });
    expect(await checkFolder(world, 'table')).toMatchObject({ code: 'out-not-a-folder' });
    expect(await checkFolder(world, 'elsewhere')).toBeNull();
    expect(await runCli(['plan', 'a.yaml', '--out', 'table'], world)).toBe(2);
    expect(world.errText()).toContain('table: the lays cannot go there');
  });
});
