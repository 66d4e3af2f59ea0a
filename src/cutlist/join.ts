/**
 * Several cut lists -> one order: what is cut from materials of the same name is laid together on one cloth. Garments are
 * numbered on from list to list; pieces and match groups of the same name are told apart by the name of their list.
 */
import { hasErrors, sortFaults } from '../diagnostics/faults.js';
import type { Fault, Result } from '../diagnostics/types.js';
import type { CutListHash, ListedGarments } from '../pieces/garments.js';
import type { DeclaredPiece, GarmentRange, MatchPoint } from '../pieces/types.js';
import { agreeOnCloths } from './join-cloths.js';
import { limits } from './limits.js';
import type { CutList } from './types.js';

/** A cut list and how many garments are made of it. */
export interface CountedList {
  readonly cutList: CutList;
  readonly garments: number;
}

/** What is planned together. */
export interface JoinedLists extends Pick<CutList, 'title' | 'units' | 'pieces' | 'cloths' | 'notices'> {
  readonly sha256: CutListHash;
  /** In all. */
  readonly garments: number;
  /** By piece, where there are several lists: the garments that it goes into. */
  readonly garmentsOf: ReadonlyMap<string, GarmentRange>;
}

/** The group of match points that lie on a bar of the repeat, whatever list they are of. */
const barGroup = 'bar';

/**
 * Joins cut lists that were read with their cloths `here or elsewhere`; a single one stays as it is.
 * @param clothWished name of the cloth that is wanted where the lists do not agree, or null
 * @returns faults where they disagree about a cloth, and where a material has none
 */
export function joinCutLists(lists: readonly CountedList[], clothWished: string | null): Result<JoinedLists> {
  const [first] = lists as readonly [CountedList, ...CountedList[]];
  const garments = lists.reduce((sum, list) => sum + list.garments, 0);
  if (lists.length === 1) return { ok: true, value: { ...first.cutList, garments, garmentsOf: new Map() } };
  const cutLists = lists.map(({ cutList }) => cutList);
  const faults: Fault[] = [];
  const cloths = agreeOnCloths(cutLists, clothWished, faults);
  if (hasErrors(faults)) return { ok: false, faults: sortFaults(faults) };
  const names = namesOf(cutLists);
  const ranges = rangesOf(lists);
  const isShared = sharedNames(cutLists.map(({ pieces }) => pieces.map(({ id }) => id)));
  const isSharedGroup = sharedNames(cutLists.map(({ pieces }) => pieces.flatMap(groupsOf)));
  const garmentsOf = new Map<string, GarmentRange>();
  const pieces = cutLists.flatMap((cutList, i) =>
    cutList.pieces.map((piece): DeclaredPiece => {
      const id = isShared(piece.id) ? prefixed(names[i]!, piece.id) : piece.id;
      garmentsOf.set(id, ranges[i]!);
      const match = piece.match.map(({ value, ...at }) => ({
        ...at,
        value: ownGroup(value, names[i]!, isSharedGroup),
      }));
      return { ...piece, id, match };
    }),
  );
  return {
    ok: true,
    value: {
      title: inWords(names),
      units: first.cutList.units,
      pieces,
      cloths,
      notices: [...cutLists.flatMap(({ notices }) => notices), ...faults],
      sha256: cutLists.map(({ sha256 }, i): ListedGarments => ({ name: names[i]!, sha256, garments: ranges[i]! })),
      garments,
      garmentsOf,
    },
  };
}

/** `boats/Slipway apron.yaml` -> `Slipway apron`. */
export function baseName(file: string): string {
  return file.replace(/^.*[/\\]/, '').replace(/\.(ya?ml|json)$/i, '');
}

/**
 * What the lists are called in one lay: their titles, or their file names where two have one title, or else their
 * numbers; always such that no two pieces come to be called alike.
 */
export function namesOf(cutLists: readonly Pick<CutList, 'title' | 'file' | 'pieces'>[]): readonly string[] {
  const isShared = sharedNames(cutLists.map(({ pieces }) => pieces.map(({ id }) => id)));
  const sets = [cutLists.map(({ title }) => title), cutLists.map(({ file }) => baseName(file))];
  const isClear = (names: readonly string[]) => {
    const ids = cutLists.flatMap(({ pieces }, i) =>
      pieces.map(({ id }) => (isShared(id) ? prefixed(names[i]!, id) : id)),
    );
    return new Set(names).size === names.length && new Set(ids).size === ids.length;
  };
  return sets.find(isClear) ?? cutLists.map((_, i) => `list ${i + 1}`);
}

function rangesOf(lists: readonly CountedList[]): readonly GarmentRange[] {
  let last = 0;
  return lists.map(({ garments }): GarmentRange => {
    last += garments;
    return [last - garments + 1, last];
  });
}

/** Whether a name stands in more than one of the lists. */
function sharedNames(lists: readonly (readonly string[])[]): (name: string) => boolean {
  const counts = new Map<string, number>();
  for (const name of lists.flatMap((names) => [...new Set(names)])) counts.set(name, (counts.get(name) ?? 0) + 1);
  return (name) => (counts.get(name) ?? 0) > 1;
}

function groupsOf({ match }: DeclaredPiece): string[] {
  return match.map(({ value }) => value.group);
}

/** A group belongs to its cut list; only a bar is a bar for all. */
function ownGroup(point: MatchPoint, list: string, isShared: (group: string) => boolean): MatchPoint {
  if (point.group === barGroup || !isShared(point.group)) return point;
  return { ...point, group: prefixed(list, point.group) };
}

function prefixed(list: string, name: string): string {
  return `${list}: ${name}`;
}

/** All names, or where that is too long for a title the first and how many more. */
function inWords(names: readonly string[]): string {
  const all = `${names.slice(0, -1).join(', ')} and ${names.at(-1)!}`;
  return all.length <= limits.textLength ? all : `${names[0]!} and ${names.length - 1} more`;
}
