/**
 * YAML 1.2 (core schema; JSON is a part of it) -> a tree of located nodes, or every fault of its syntax. The only
 * home of the yaml library.
 *
 * Refused on purpose: files that are too large or too deep, aliases and anchors (a small file could unfold into an
 * endless one), tags, several documents, keys that are not text.
 */
import { type Document, isAlias, isMap, isScalar, isSeq, LineCounter, type Node, parseAllDocuments } from 'yaml';
import { makeFault } from '../diagnostics/faults.js';
import type { Fault, Place, Result } from '../diagnostics/types.js';
import type { MapEntry, SourceNode } from './types.js';

/** Larger texts are refused before they are parsed. */
export const textLengthMax = 2_000_000;
/** Deeper nesting than any cut list has. */
export const depthMax = 24;

/**
 * @param text the whole file; a byte order mark is skipped, CRLF counts as one line end
 * @param file its name, for the faults
 */
export function readYaml(text: string, file: string): Result<SourceNode> {
  const start = { file, line: 1, column: 1 };
  if (text.length > textLengthMax) {
    const what = `the file has ${text.length} characters, at most ${textLengthMax} are read`;
    return refuse([makeFault('file-too-large', start, null, what, 'divide it into several cut lists')]);
  }
  const nul = text.indexOf('\0');
  if (nul !== -1) {
    return refuse([
      makeFault('not-text', start, null, 'the file holds zero bytes, so it is not text', 'name a cut list'),
    ]);
  }
  const deep = tooDeep(text);
  if (deep !== null) {
    const what = `lists or maps are nested more than ${depthMax} deep`;
    return refuse([makeFault('nested-too-deep', { file, ...deep }, null, what, 'check the brackets')]);
  }
  const lines = new LineCounter();
  const plain = text.startsWith('\ufeff') ? text.slice(1) : text;
  const documents = parseAllDocuments(plain, {
    lineCounter: lines,
    version: '1.2',
    schema: 'core',
    uniqueKeys: false,
    prettyErrors: false,
  });
  const reader = new TreeReader(file, lines);
  if ('empty' in documents || documents.length === 0) {
    return refuse([
      makeFault('file-empty', start, null, 'the file is empty', 'write a cut list, see docs/cut-list.md'),
    ]);
  }
  if (documents.length > 1) reader.tellMany(documents[1]!);
  const [document] = documents;
  for (const error of document!.errors) reader.tell(error.pos[0], 'yaml-broken', sentence(error.message), syntaxFix);
  const root = reader.faults.length > 0 || document!.contents === null ? null : reader.read(document!.contents, 0);
  if (reader.faults.length > 0) return refuse(reader.faults);
  if (root === null) {
    return refuse([
      makeFault('file-empty', start, null, 'the file is empty', 'write a cut list, see docs/cut-list.md'),
    ]);
  }
  return { ok: true, value: root };
}

const syntaxFix = 'check indentation (spaces, no tabs), colons, quotes and brackets on this line and the one above';

function refuse(faults: readonly Fault[]): Result<never> {
  return { ok: false, faults };
}

/** First line of the library's message, with a small letter. */
function sentence(message: string): string {
  const [first = ''] = message.split('\n');
  return first.charAt(0).toLowerCase() + first.slice(1);
}

/** Where brackets or indentation first go deeper than allowed: looked at before parsing, which would recurse. */
function tooDeep(text: string): { line: number; column: number } | null {
  let depth = 0;
  let line = 1;
  let lineStart = 0;
  const indents: number[] = [];
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code === 10) {
      line += 1;
      lineStart = i + 1;
      const indent = indentAt(text, lineStart);
      while (indents.length > 0 && indents.at(-1)! >= indent) indents.pop();
      indents.push(indent);
    } else if (code === 91 || code === 123) {
      depth += 1;
    } else if ((code === 93 || code === 125) && depth > 0) {
      depth -= 1;
    } else if (code === 45 && text.startsWith('- '.repeat(depthMax), i)) {
      return { line, column: i - lineStart + 1 };
    }
    if (depth > depthMax || indents.length > depthMax) return { line, column: i - lineStart + 1 };
  }
  return null;
}

function indentAt(text: string, start: number): number {
  let i = start;
  while (text.charCodeAt(i) === 32) i++;
  return i - start;
}

class TreeReader {
  readonly faults: Fault[] = [];

  constructor(
    private readonly file: string,
    private readonly lines: LineCounter,
  ) {}

  tell(offset: number, code: string, what: string, fix: string): void {
    this.faults.push(makeFault(code, this.placeAt(offset), null, what, fix));
  }

  tellMany(second: Document.Parsed): void {
    this.tell(
      second.range[0],
      'several-documents',
      'a second document begins here',
      'one file holds one cut list: delete the line ---',
    );
  }

  placeAt(offset: number): Place {
    const { line, col } = this.lines.linePos(offset);
    return { file: this.file, line: Math.max(1, line), column: Math.max(1, col) };
  }

  read(node: Node, depth: number): SourceNode {
    const offset = node.range?.[0] ?? 0;
    const place = this.placeAt(offset);
    if (depth > depthMax) {
      this.tell(offset, 'nested-too-deep', `lists or maps are nested more than ${depthMax} deep`, 'check the brackets');
      return { kind: 'empty', place };
    }
    if (isAlias(node)) {
      this.tell(offset, 'yaml-alias', `aliases (*${node.source}) are not read`, 'write the value out');
      return { kind: 'empty', place };
    }
    if ((isScalar(node) || isMap(node) || isSeq(node)) && node.anchor !== undefined) {
      this.tell(
        offset,
        'yaml-alias',
        `anchors (&${node.anchor}) are not read`,
        'write the value out where it is needed',
      );
    }
    if (node.tag?.startsWith('!')) {
      this.tell(offset, 'yaml-tag', `tags (${node.tag}) are not read`, 'delete the tag');
    }
    if (isMap(node)) return { kind: 'map', place, entries: this.readEntries(node.items, depth) };
    if (isSeq(node))
      return { kind: 'list', place, items: node.items.map((item) => this.read(item as Node, depth + 1)) };
    return isScalar(node) ? readScalar(node, place) : { kind: 'empty', place };
  }

  private readEntries(items: readonly { key: unknown; value: unknown }[], depth: number): MapEntry[] {
    const first = new Map<string, Place>();
    const entries: MapEntry[] = [];
    for (const { key, value } of items) {
      const keyNode = key as Node;
      const offset = keyNode.range?.[0] ?? 0;
      const keyPlace = this.placeAt(offset);
      if (!isScalar(keyNode)) {
        this.tell(offset, 'key-not-text', 'a key must be text', 'write it as a word followed by a colon');
        continue;
      }
      const name = keyNode.source ?? String(keyNode.value);
      const earlier = first.get(name);
      if (earlier !== undefined) {
        const what = `key "${name}" stands twice (first in line ${earlier.line})`;
        this.tell(offset, 'duplicate-key', what, 'delete or rename one of the two');
        continue;
      }
      first.set(name, keyPlace);
      const child = value === null ? null : (value as Node);
      entries.push({
        key: name,
        keyPlace,
        value: child === null ? { kind: 'empty', place: keyPlace } : this.read(child, depth + 1),
      });
    }
    return entries;
  }
}

function readScalar(node: { value: unknown; source?: string; type?: string | null }, place: Place): SourceNode {
  const quoted = node.type === 'QUOTE_DOUBLE' || node.type === 'QUOTE_SINGLE';
  if (node.value === null && !quoted) return { kind: 'empty', place };
  const text = typeof node.value === 'string' ? node.value : (node.source ?? String(node.value));
  return { kind: 'scalar', place, text, quoted };
}
