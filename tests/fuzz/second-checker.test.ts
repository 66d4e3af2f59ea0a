/** The second checker of the fuzz: good lays are good, and each kind of damage is seen. */
import { describe, expect, it } from 'vitest';
import type { Lay } from '../../src/lay/types.js';
import { damaged, foldedRow, type Loose, moveCopy, openRow, refit, reposeCopy, tightRow } from '../support/damage.js';
import { markerLays } from '../support/marker-lays.js';
import { secondVerdict, secondVerdictOf } from '../support/second-checker.js';
import { runInMemory } from './run.js';
import { filesOf } from './scene.js';

const seen: readonly (readonly [string, Lay, (lay: Loose<Lay>) => void, RegExp])[] = [
  ['a copy on another', openRow, (lay) => moveCopy(lay, 3, 0, 20_000), /nearer than the gap/],
  ['a gap one micrometre short', openRow, (lay) => moveCopy(lay, 3, 0, 1), /nearer than the gap/],
  ['one micrometre of overlap', tightRow, (lay) => moveCopy(lay, 3, 0, 1), /on one another/],
  ['one copy exactly on another', tightRow, (lay) => moveCopy(lay, 4, 0, -240_000), /on one another|usable width/],
  ['out of the usable width', openRow, (lay) => moveCopy(lay, 1, 0, -20_000), /usable width/],
  ['into the cut end', openRow, (lay) => moveCopy(lay, 1, -5_000, 0), /cut end/],
  ['a quarter turn', openRow, (lay) => reposeCopy(lay, 1, { turned: 90 }), /across the grain/],
  ['against the nap', openRow, (lay) => reposeCopy(lay, 1, { turned: 180 }), /nap/],
  ['the wrong hand', openRow, (lay) => reposeCopy(lay, 1, { mirror: true }), /wrong hand/],
  ['turned over', openRow, (lay) => reposeCopy(lay, 1, { turnedOver: true }), /turned over/],
  ['half of a pair moved', foldedRow, (lay) => moveCopy(lay, 2, 1_000, 0), /does not lie on/],
  ['beside the fold', foldedRow, (lay) => moveCopy(lay, 3, 0, 1_000), /symmetric|crosses|single/],
];

describe('second checker', () => {
  it.each([openRow, tightRow, foldedRow, ...Object.values(markerLays)])('finds nothing wrong with $title', (lay) => {
    expect(secondVerdictOf(lay)).toEqual({ wrong: [], doubtful: [] });
  });

  it.each(seen)('sees %s', (_, lay, edit, sentence) => {
    const changed = damaged(lay, (loose) => {
      edit(loose);
      refit(loose);
    });
    expect(secondVerdictOf(changed).wrong.join('\n')).toMatch(sentence);
  });

  it('takes either fold of a tube', async () => {
    const list = `title: Fender sleeve
units: cm
drawn: net
pieces: {Gusset: {trapezoid: {bottom: 16, top: 34, height: 8}, cut: {shell: 2 same way}, allowance: 1}}
cloths: {knit: {for: shell, width: 92, method: tube, nap: none}}
`;
    const { files } = await runInMemory(['plan', 'a.yaml', '--effort', '0.01'], filesOf({ 'a.yaml': list }));
    const text = Buffer.from(files.get('lays/a-shell.lay.json')!).toString('utf8');
    expect(text).toContain('"tube"');
    expect(secondVerdict(text)).toEqual({ wrong: [], doubtful: [] });
  });

  it('reads past the mark that some editors set before a text', () => {
    const text = JSON.stringify(openRow);
    expect(secondVerdict(`\ufeff${text}`)).toEqual({ wrong: [], doubtful: [] });
    expect(secondVerdict(text.slice(1)).wrong).toEqual(['it is not JSON']);
  });

  it('sees wrong sums, counts and claims', () => {
    const codes = (edit: (lay: Loose<Lay>) => void) => secondVerdictOf(damaged(openRow, edit)).wrong.join('\n');
    expect(codes((lay) => (lay.totals.lengthUsed += 1))).toMatch(/length used/);
    expect(codes((lay) => (lay.totals.buy += 100_000))).toMatch(/length to buy/);
    expect(codes((lay) => (lay.totals.areaUm2 += 1))).toMatch(/area/);
    expect(codes((lay) => (lay.pieces[0]!.demand.asDrawn += 1))).toMatch(/copies of/);
    expect(codes((lay) => (lay.copies[0]!.at[0] += 1))).toMatch(/not where it claims/);
  });
});
