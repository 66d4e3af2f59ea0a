/** The program as its user meets it: a process with arguments, files, streams, signals and an exit code. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { boatyard, builtRoot, runProgram, runShell } from './run-program.js';
import { bag, filesIn, flags, sceneOf, tooWide } from './scenes.js';

const quick = ['--effort', '0.1', '--method', 'open', '--quiet'];

describe('plan', () => {
  it('plans the apron of the boatyard: report on stdout, three files for each material, all accepted again', async () => {
    const folder = sceneOf({});
    const list = join(boatyard, 'slipway-apron.yaml');
    const planned = await runProgram(['plan', list, '--out', folder, ...quick], folder);
    expect(planned).toMatchObject({ exitCode: 0, err: '' });
    expect(planned.out).toMatch(/^buy \d+\.\d+ m of /m);
    const lays = filesIn(folder).filter((name) => name.endsWith('.lay.json'));
    expect(lays.length).toBeGreaterThan(1);
    for (const lay of lays) {
      const base = lay.replace(/\.lay\.json$/, '');
      expect(readFileSync(join(folder, `${base}.pdf`), 'latin1')).toMatch(/^%PDF-/);
      expect(readFileSync(join(folder, `${base}.svg`), 'utf8')).toContain('<svg');
      const checked = await runProgram(['check', lay, list], folder);
      expect(checked).toMatchObject({ exitCode: 0, err: '' });
      expect(checked.out).toMatch(/^accepted: /);
    }
  });

  it('gives the same bytes whatever the number of threads', async () => {
    const folder = sceneOf({ 'flags.yaml': flags(6) });
    const ended = await Promise.all(
      ['1', '2'].map((workers) =>
        runProgram(['plan', 'flags.yaml', '--workers', workers, '--out', workers, ...quick], folder),
      ),
    );
    expect(ended.map(({ exitCode }) => exitCode)).toEqual([0, 0]);
    for (const name of filesIn(join(folder, '1'))) {
      expect(readFileSync(join(folder, '1', name)).equals(readFileSync(join(folder, '2', name)))).toBe(true);
    }
  });

  it('ends with 1 and writes nothing when a piece does not fit', async () => {
    const folder = sceneOf({ 'wide.yaml': tooWide });
    const planned = await runProgram(['plan', 'wide.yaml', ...quick], folder);
    expect(planned.exitCode).toBe(1);
    expect(planned.out).toContain('canvas does not fit on sailcloth');
    expect(planned.out).toContain('piece "Side"');
    expect(filesIn(folder)).toEqual(['wide.yaml']);
  });

  it('tells all faults of a file on stderr, ends with 2 and writes nothing', async () => {
    const folder = sceneOf({
      'bag.yaml': bag.replace('cut: {canvas: 2}', 'cut: {canvas: two}').replace('150', 'wide'),
    });
    const planned = await runProgram(['plan', 'bag.yaml'], folder);
    expect(planned).toMatchObject({ exitCode: 2, out: '' });
    expect(planned.err).toMatch(/^bag\.yaml:7:\d+: error: piece "Side"/m);
    expect(planned.err).toMatch(/^bag\.yaml:12:\d+: error: /m);
    expect(planned.err).not.toMatch(/^\s+at /m);
    expect(filesIn(folder)).toEqual(['bag.yaml']);
  });

  it.each([
    ['none.yaml', 'there is no such file'],
    ['.', 'it is a folder'],
  ])('ends with 2 on %s', async (name, why) => {
    const ended = await runProgram(['plan', name], sceneOf({}));
    expect(ended).toMatchObject({ exitCode: 2, out: '' });
    expect(ended.err).toContain(why);
  });

  it('ends with 2 when --out is a file', async () => {
    const folder = sceneOf({ 'bag.yaml': bag, table: '' });
    const ended = await runProgram(['plan', 'bag.yaml', '--out', 'table', ...quick], folder);
    expect(ended).toMatchObject({ exitCode: 2, out: '' });
    expect(ended.err).toContain('it is not a folder');
  });
});

describe('streams', { timeout: 600_000 }, () => {
  it('does not mind that nobody reads the report', async () => {
    const folder = sceneOf({ 'bag.yaml': bag });
    const ended = await runProgram(['plan', 'bag.yaml', ...quick], folder, (child) => child.stdout?.destroy());
    expect(ended).toMatchObject({ exitCode: 0, err: '' });
    expect(filesIn(join(folder, 'lays'))).toHaveLength(3);
  });

  it('does not mind a reader that goes away after the first line, or messages that nobody reads', async () => {
    const folder = sceneOf({ 'bag.yaml': bag });
    const ended = await runProgram(['check', 'bag.yaml'], folder, (child) => {
      child.stderr?.destroy();
      child.stdout?.once('data', () => child.stdout?.destroy());
    });
    expect(ended.exitCode).toBe(0);
  });

  it.each([
    ['<&-', 0],
    ['2>&-', 0],
    ['>&-', 0],
    ['<&- >&- 2>&-', 0],
    ['>/dev/full', 2],
  ])('with streams as in %s ends with %d, the lay written', async (how, exitCode) => {
    const folder = sceneOf({ 'bag.yaml': bag });
    const words = ['plan', 'bag.yaml', ...quick].join(' ');
    const ended = await runShell(`"${process.execPath}" "${builtRoot}bin/shortlay.js" ${words} ${how}`, folder);
    expect(ended.exitCode).toBe(exitCode);
    expect(ended.err).toBe(
      exitCode === 0
        ? ''
        : 'shortlay: the results cannot be written to where stdout goes: no space is left on the disk\n',
    );
    expect(filesIn(join(folder, 'lays'))).toHaveLength(3);
  });

  it('writes the same in plain letters whatever the terminal and language are said to be', async () => {
    const folder = sceneOf({ 'bag.yaml': bag.replace('Oar bag', 'Вёсла') });
    const outs: string[] = [];
    for (const env of ['TERM=dumb', 'LANG=C LC_ALL=C', 'NO_COLOR=1', 'FORCE_COLOR=1 TERM=xterm-256color']) {
      const program = `env ${env} "${process.execPath}" "${builtRoot}bin/shortlay.js"`;
      const ended = await runShell(`${program} check bag.yaml`, folder);
      expect(ended).toMatchObject({ exitCode: 0, err: '' });
      outs.push(ended.out);
    }
    expect(outs[0]).toContain('Вёсла');
    expect(outs[0]).not.toContain('\u001B');
    expect(new Set(outs).size).toBe(1);
  });

  it('shows help quickly, without loading the rest', async () => {
    const ended = await runProgram(['--help'], sceneOf({}));
    expect(ended).toMatchObject({ exitCode: 0, err: '' });
    expect(ended.out).toContain('plan');
  });
});

describe('check', () => {
  it('says how each piece of a cut list was read', async () => {
    const folder = sceneOf({ 'bag.yaml': bag });
    const ended = await runProgram(['check', 'bag.yaml'], folder);
    expect(ended.exitCode).toBe(0);
    // 60 x 40 = 2400 and 90 x 6 = 540 square centimetres, by hand.
    expect(ended.out.replace(/\s+/g, ' ')).toContain(
      'Side: cut 2 from canvas, read as 2 copies, all alike; 60.0 cm along the grain x 40.0 cm across, area 2400.0 cm2',
    );
    expect(ended.out.replace(/\s+/g, ' ')).toContain('Strap: cut 2 same way from canvas');
    expect(ended.out).toMatch(/no faults.*\n$/);
    expect(filesIn(folder)).toEqual(['bag.yaml']);
  });

  it('counts the faults of a cut list and ends with 2', async () => {
    const folder = sceneOf({ 'bag.yaml': bag.replace('cut: {canvas: 2}', 'cut: {canvas: two}') });
    const ended = await runProgram(['check', 'bag.yaml'], folder);
    expect(ended).toMatchObject({ exitCode: 2, out: '' });
    expect(ended.err).toMatch(/^1 fault$/m);
  });

  it('refuses --write and a second file with a cut list', async () => {
    const folder = sceneOf({ 'bag.yaml': bag });
    for (const words of [['--write'], ['bag.yaml']]) {
      const ended = await runProgram(['check', 'bag.yaml', ...words], folder);
      expect(ended).toMatchObject({ exitCode: 2, out: '' });
      expect(ended.err).toContain('goes with a lay only');
    }
  });

  it('judges a lay by its content, with each reason for refusing it, or writes it back whole', async () => {
    const list = 'Чехол для весла.yaml';
    const folder = sceneOf({ [list]: bag });
    const planned = await runProgram(['plan', list, ...quick], folder);
    expect(planned.exitCode).toBe(0);
    expect(planned.out).toContain('lays/чехол-для-весла-canvas.lay.json');
    const path = join(folder, 'lays', 'чехол-для-весла-canvas.lay.json');
    const written = JSON.parse(readFileSync(path, 'utf8'));

    const moved = structuredClone(written);
    moved.copies[0].at = moved.copies[1].at;
    writeFileSync(join(folder, 'moved.txt'), JSON.stringify(moved));
    const refused = await runProgram(['check', 'moved.txt', '--write'], folder);
    expect(refused.exitCode).toBe(1);
    expect(refused.out).toMatch(/^refused: moved\.txt\n {2}- /);
    expect(readFileSync(join(folder, 'moved.txt'), 'utf8')).toBe(JSON.stringify(moved));

    const pinned = structuredClone(written);
    pinned.placements[0].pinned = true;
    writeFileSync(join(folder, 'pinned.txt'), JSON.stringify(pinned));
    const before = await runProgram(['check', 'pinned.txt', list], folder);
    expect(before).toMatchObject({ exitCode: 0, err: '' });
    expect(before.out).toContain('edited by hand');
    const rewritten = await runProgram(['check', 'pinned.txt', list, '--write'], folder);
    expect(rewritten).toMatchObject({ exitCode: 0, err: '' });
    expect(rewritten.out).toContain('written: pinned.txt');
    const after = await runProgram(['check', 'pinned.txt', list, '--write'], folder);
    // Still somebody's work, so that no plan writes over it.
    expect(after.out).toContain('edited by hand');
    expect(after.out).toContain('stands as it is');
  });

  it('ends with 2 on a lay whose JSON is broken', async () => {
    const folder = sceneOf({ 'a.lay.json': '{"format": "shortlay-lay/1", "unit": "um" "title": 3}' });
    const ended = await runProgram(['check', 'a.lay.json'], folder);
    expect(ended).toMatchObject({ exitCode: 2, out: '' });
    expect(ended.err).toContain('a.lay.json');
    expect(ended.err).not.toMatch(/^\s+at /m);
  });
});
