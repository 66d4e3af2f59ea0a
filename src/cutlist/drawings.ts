/** Drawings that a cut list names: whoever reads the cut list reads these files too and hands them in. */
import type { Result } from '../diagnostics/types.js';
import { readYaml } from '../source/read-yaml.js';
import type { ScalarNode, SourceNode } from '../source/types.js';
import { limits } from './limits.js';

/** Texts of the files by the names under which the cut list knows them, or why they cannot be read. */
export type Drawings = ReadonlyMap<string, Result<string>>;

export const noDrawings: Drawings = new Map();

/**
 * Names of the files that the pieces of a cut list are drawn in, as they stand there; none when it cannot be read, and no
 * more than are read.
 */
export function drawingsNamed(text: string): readonly string[] {
  // Most lists name none, and reading a large one twice takes as long again. A backslash may hide a letter.
  if (!/svg|dxf|\\/.test(text)) return [];
  const source = readYaml(text, '');
  if (!source.ok) return [];
  return placesOfDrawings(source.value)
    .slice(0, limits.drawings)
    .map((file) => file.text);
}

/** Where each file is named first that pieces of this cut list are drawn in. */
export function placesOfDrawings(root: SourceNode): readonly ScalarNode[] {
  const first = new Map<string, ScalarNode>();
  for (const { value } of entriesOf(entryOf(root, 'pieces'))) {
    for (const key of ['svg', 'dxf']) {
      const file = entryOf(entryOf(value, key), 'file');
      if (file?.kind === 'scalar' && file.text !== '' && !first.has(file.text)) first.set(file.text, file);
    }
  }
  return [...first.values()];
}

function entriesOf(node: SourceNode | undefined) {
  return node?.kind === 'map' ? node.entries : [];
}

function entryOf(node: SourceNode | undefined, key: string): SourceNode | undefined {
  return entriesOf(node).find((entry) => entry.key === key)?.value;
}
