/** Several cut lists as one order: names, garments, match groups and cloths. The law is docs/cut-list.md. */
import { describe, expect, test } from 'vitest';
import { baseName, joinCutLists, namesOf } from '../../src/cutlist/join.js';
import { readCutList } from '../../src/cutlist/read.js';
import type { CutList } from '../../src/cutlist/types.js';

const ticking = 'ticking: {for: shell, width: 150, usable: 148}';

/** A cut list of squares of the materials named: `Bib: shell`. */
function list(
  title: string,
  pieces: Readonly<Record<string, string>>,
  cloths: readonly string[] = [ticking],
  more = '',
): CutList {
  const lines = Object.entries(pieces).map(
    ([name, material]) => `  ${name}: {rectangle: [20, 20], cut: {${material}: 1}${more}}\n`,
  );
  const below = cloths.length === 0 ? '' : `cloths:\n${cloths.map((cloth) => `  ${cloth}\n`).join('')}`;
  const text = `title: ${title}\nunits: cm\ndrawn: cut\npieces:\n${lines.join('')}${below}`;
  const answer = readCutList(text, `boats/${title.toLowerCase()}.yaml`, undefined, 'here or elsewhere');
  if (!answer.ok) throw new Error(answer.faults.map(({ what }) => what).join('\n'));
  return answer.value;
}

const apron = list('Apron', { Bib: 'shell', Pocket: 'shell' });
const bag = list('Bag', { Base: 'shell', Pocket: 'shell' }, []);

function joined(lists: readonly CutList[], wished: string | null = null, garments: readonly number[] = []) {
  const counted = lists.map((cutList, i) => ({ cutList, garments: garments[i] ?? 1 }));
  const answer = joinCutLists(counted, wished);
  if (!answer.ok) throw new Error(answer.faults.map(({ what }) => what).join('\n'));
  return answer.value;
}

function faults(lists: readonly CutList[], wished: string | null = null): string[] {
  const answer = joinCutLists(
    lists.map((cutList) => ({ cutList, garments: 1 })),
    wished,
  );
  return answer.ok ? [] : answer.faults.map(({ code, subject, what }) => `${code}: ${subject}: ${what}`);
}

describe('names and garments', () => {
  test('a single list stays as it is', () => {
    const one = joined([apron], null, [3]);
    expect(one).toMatchObject({ title: 'Apron', sha256: apron.sha256, garments: 3, garmentsOf: new Map() });
    expect(one.pieces).toBe(apron.pieces);
  });

  test('garments are numbered on; pieces of one name are told apart by their list', () => {
    const both = joined([apron, bag], null, [2, 3]);
    expect(both).toMatchObject({ title: 'Apron and Bag', units: 'cm', garments: 5 });
    expect([...both.garmentsOf]).toEqual([
      ['Bib', [1, 2]],
      ['Apron: Pocket', [1, 2]],
      ['Base', [3, 5]],
      ['Bag: Pocket', [3, 5]],
    ]);
    expect(both.sha256).toEqual([
      { name: 'Apron', sha256: apron.sha256, garments: [1, 2] },
      { name: 'Bag', sha256: bag.sha256, garments: [3, 5] },
    ]);
    expect(both.cloths.map(({ cloth, materials }) => [cloth.name, ...materials])).toEqual([['ticking', 'shell']]);
    expect(joined([apron, bag, list('Cap', { Crown: 'shell' }, [])]).title).toBe('Apron, Bag and Cap');
  });

  test('lists of one title go by their files, or by their numbers', () => {
    const named = (title: string, file: string, ...ids: string[]) => ({
      title,
      file,
      pieces: ids.map((id) => ({ ...apron.pieces[0]!, id })),
    });
    expect(namesOf([named('Apron', 'a/short.yaml', 'Bib'), named('Apron', 'long.yml', 'Bib')])).toEqual([
      'short',
      'long',
    ]);
    expect(namesOf([named('Apron', 'a/one.yaml'), named('Apron', 'b/one.yaml')])).toEqual(['list 1', 'list 2']);
    expect(namesOf([named('Apron', 'one.yaml'), named('Bag', 'one.yaml')])).toEqual(['Apron', 'Bag']);
    // "A: Bib" of the list "A" would be called like the piece "A: Bib" of another.
    expect(namesOf([named('A', 'x.yaml', 'Bib'), named('B', 'y.yaml', 'Bib', 'A: Bib')])).toEqual(['x', 'y']);
  });

  test('the name of a file is what stands between its folder and its ending', () => {
    expect(['boats/Slipway apron.yaml', 'C:\\boats\\bag.YML', 'cap.json', 'a.b'].map(baseName)).toEqual([
      'Slipway apron',
      'bag',
      'cap',
      'a.b',
    ]);
  });

  test('a match group belongs to its list; only a bar is a bar for all', () => {
    const match = (groups: readonly string[]) =>
      `, match: [${groups.map((group) => `{point: [10, 10], group: ${group}}`).join(', ')}]`;
    const repeated = 'plaid: {for: shell, width: 150, usable: 148, repeat: {along: 8, start: [0, 0]}}';
    const first = list('Apron', { Bib: 'shell' }, [repeated], match(['hip', 'bar', 'hem']));
    const second = list('Bag', { Base: 'shell' }, [], match(['hip', 'bar']));
    const groups = joined([first, second]).pieces.map((piece) => piece.match.map(({ value }) => value.group));
    expect(groups).toEqual([
      ['Apron: hip', 'bar', 'hem'],
      ['Bag: hip', 'bar'],
    ]);
  });
});

describe('cloths', () => {
  const other = 'lawn: {for: shell, width: 115, usable: 113}';

  test('those of the only list that has any, for the materials that are wanted', () => {
    const both = joined([
      list('Cap', { Crown: 'lining' }, []),
      list('Bag', { Base: 'lining' }, ['lawn: {for: [lining, shell], width: 115, usable: 113}']),
    ]);
    expect(both.cloths.map(({ materials }) => materials)).toEqual([['lining']]);
    expect(both.notices.map(({ code, what }) => `${code}: ${what}`)).toEqual([
      'cloth-unused: no piece is cut from shell',
    ]);
  });

  test('a material without any', () => {
    expect(faults([apron, list('Cap', { Crown: 'lining' }, [])])).toEqual([
      'no-cloth: piece "Crown": there is no cloth for lining in any of the cut lists',
    ]);
  });

  test('declared alike in both they are one; a difference is told with its key', () => {
    const alike = list('Bag', { Base: 'shell' }, [ticking]);
    expect(joined([apron, alike]).cloths).toHaveLength(1);
    const told = (cloth: string) => faults([apron, list('Bag', { Base: 'shell' }, [cloth])]);
    const differs = (keys: string) => [
      `cloths-disagree: cloth "ticking": it is not the same in boats/apron.yaml:8: ${keys}`,
    ];
    expect(told('ticking: {for: shell, width: 150, usable: 148, gap: 0.5}')).toEqual(differs('gap differs'));
    expect(told('ticking: {for: shell, width: 150, usable: 148, price: 9, sold-by: 5}')).toEqual(
      differs('sold-by, price differ'),
    );
    expect(told('ticking: {for: shell, width: 150, usable: 148, shrinkage: {along: 0}}')).toEqual(
      differs('shrinkage differs'),
    );
    expect(told('ticking: {for: shell, width: 150, usable: 148, method: open}')).toEqual(differs('method differs'));
    const partial = (more: string) => `ticking: {for: shell, width: 150, usable: 148, method: partial fold${more}}`;
    const first = list('Apron', { Bib: 'shell' }, [partial('')]);
    expect(faults([first, list('Bag', { Base: 'shell' }, [partial(', fold: 30')])])).toEqual([
      'cloths-disagree: cloth "ticking": it is not the same in boats/apron.yaml:7: fold differs',
    ]);
  });

  test('a cloth that only one of them has, whichever it is', () => {
    const two = list('Bag', { Base: 'shell' }, [ticking, other]);
    const told = (file: string) => [
      `cloths-disagree: cloth "lawn": one cut list has it for shell, the other has "ticking" (boats/${file}), so it is not clear what both are laid on`,
    ];
    expect(faults([apron, two])).toEqual(told('apron.yaml:8'));
    expect(faults([two, apron])).toEqual(told('apron.yaml:8'));
  });

  test('a wish decides, where it names one of them', () => {
    const two = list('Bag', { Base: 'shell' }, [ticking, other]);
    expect(joined([apron, two], 'ticking').cloths.map(({ cloth }) => cloth.name)).toEqual(['ticking']);
    expect(joined([apron, two], 'lawn').cloths.map(({ cloth }) => cloth.name)).toEqual(['lawn']);
    expect(faults([apron, two], 'canvas')).toHaveLength(1);
    const unlike = list('Bag', { Base: 'shell' }, ['ticking: {for: shell, width: 140, usable: 138}', other]);
    expect(faults([apron, unlike], 'ticking')).toEqual([
      'cloths-disagree: cloth "ticking": it is not the same in boats/apron.yaml:8: width, usable differ',
    ]);
  });
});
