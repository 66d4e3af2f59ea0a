/** Drawings that a cut list names: whoever reads the cut list reads these files too and hands them in. */
import type { Result } from '../diagnostics/types.js';
import { readYaml } from '../source/read-yaml.js';
import type { SourceNode } from '../source/types.js';

/** Texts of the files by the names under which the cut list knows them, or why they cannot be read. */
export type Drawings = ReadonlyMap<string, Result<string>>;

export const noDrawings: Drawings = new Map();

/** Names of the files that the pieces of a cut list are drawn in, as they stand there; none when it cannot be read. */
export function drawingsNamed(text: string): readonly string[] {
  const source = readYaml(text, '');
  if (!source.ok) return [];
  const pieces = entriesOf(entryOf(source.value, 'pieces'));
  const names = pieces.flatMap(({ value }) => {
    const files = ['svg', 'dxf'].map((key) => entryOf(entryOf(value, key), 'file'));
    return files.flatMap((file) => (file?.kind === 'scalar' ? [file.text] : []));
  });
  return [...new Set(names)].filter((name) => name !== '');
}

function entriesOf(node: SourceNode | undefined) {
  return node?.kind === 'map' ? node.entries : [];
}

function entryOf(node: SourceNode | undefined, key: string): SourceNode | undefined {
  return entriesOf(node).find((entry) => entry.key === key)?.value;
}
