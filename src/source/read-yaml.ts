/**
 * YAML 1.2 (core schema; JSON is a part of it) -> a tree of located nodes, or every fault of its syntax. The only
 * home of the yaml library.
 *
 * Refused on purpose: files that are too large or too deep, aliases and anchors (a small file could unfold into an
 * endless one), tags, several documents, keys that are not text.
 */
import {
  Composer,
  type Document,
  type ErrorCode,
  isAlias,
  isMap,
  isScalar,
  isSeq,
  LineCounter,
  type Node,
  type Scalar,
  type YAMLParseError,
} from 'yaml';
import { makeFault } from '../diagnostics/faults.js';
import type { Fault, Place, Result } from '../diagnostics/types.js';
import { depthMax, readTokens, tokensMax } from './tokens.js';
import type { MapEntry, SourceNode } from './types.js';

/** Larger texts are refused before they are parsed. */
export const textLengthMax = 2_000_000;

/** What no text holds: control characters but tab and line ends, halves of characters, and what XML cannot carry. */
const notText = /(?![\t\r\n])\p{Cc}|\r(?!\n)|\p{Cs}|[\ufffe\uffff]/u;

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
  const plain = text.startsWith('\ufeff') ? text.slice(1) : text;
  const lines = new LineCounter();
  const reader = new TreeReader(file, lines);
  const odd = notText.exec(plain);
  if (odd !== null) {
    const before = plain.slice(0, odd.index).split('\n');
    const place = { file, line: before.length, column: before.at(-1)!.length + 1 };
    const what = `here stands a character that is not text (code ${odd[0].codePointAt(0)})`;
    return refuse([makeFault('not-text', place, null, what, 'delete it; save the file as plain text')]);
  }
  const read = readTokens(plain, lines);
  if ('limit' in read) {
    if (read.limit === 'deep') reader.tell(read.offset, 'nested-too-deep', deepSentence, 'check the brackets');
    else reader.tell(read.offset, 'file-too-large', manySentence, 'divide it into several cut lists');
    return refuse(reader.faults);
  }
  const composer = new Composer({ version: '1.2', schema: 'core', uniqueKeys: false });
  const documents = [...composer.compose(read.tokens)];
  const [document, second] = documents;
  if (second !== undefined) reader.tellMany(second);
  reader.tellBroken(document?.errors ?? []);
  if (reader.faults.length > 0) return refuse(reader.faults);
  const root = document === undefined || document.contents === null ? null : reader.read(document.contents);
  if (reader.faults.length > 0) return refuse(reader.faults);
  if (root === null || root.kind === 'empty') {
    return refuse([
      makeFault('file-empty', start, null, 'the file is empty', 'write a cut list, see docs/cut-list.md'),
    ]);
  }
  return { ok: true, value: root };
}

const deepSentence = `lists or maps are nested more than ${depthMax} deep`;
const manySentence = `the file holds more than ${tokensMax} words, numbers and signs up to here, and no more are read`;
const syntaxFix = 'check indentation (spaces, no tabs), colons, quotes and brackets on this line and the one above';

const tabFix = 'indent with spaces, as deep as the lines that it belongs with';

/** The library's faults in plain words; what is not listed is "not understood here". */
const syntaxSentences: Readonly<Partial<Record<ErrorCode, string>>> = {
  ALIAS_PROPS: 'an alias cannot have a tag or an anchor',
  BAD_ALIAS: 'aliases (*name) are not read',
  BAD_DQ_ESCAPE: 'a backslash in double quotes is followed by a sign that means nothing',
  BAD_INDENT: 'the indentation does not fit, or a bracket is not closed above',
  BAD_SCALAR_START: 'a value cannot begin with this sign; put it in quotes',
  BLOCK_AS_IMPLICIT_KEY: 'a second colon follows on the same line, or the next line is indented too far',
  BLOCK_IN_FLOW: 'indented lines cannot stand inside brackets',
  KEY_OVER_1024_CHARS: 'a key is longer than 1024 characters',
  MISSING_CHAR: 'a colon or the space after it, a comma, a quote or a bracket is missing',
  MULTILINE_IMPLICIT_KEY: 'a key runs over several lines, or a colon or the space after it is missing',
  TAB_AS_INDENT: 'a tab is used as indentation',
};

/** So many lines with tabs are named. */
const linesNamed = 12;

function alsoOn(lines: readonly number[]): string {
  if (lines.length === 0) return '';
  const named = lines.slice(0, linesNamed);
  const more = lines.length > named.length ? ` and ${lines.length - named.length} more` : '';
  return `, here and on line${lines.length === 1 ? '' : 's'} ${named.join(', ')}${more}`;
}

function refuse(faults: readonly Fault[]): Result<never> {
  return { ok: false, faults };
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

  /**
   * One fault for each line: one slip makes the library stumble several times. Lines right after one that it stumbled over,
   * and after a tab all whose indentation does not fit, are mostly good and left out; tabs are told once for all lines.
   */
  tellBroken(errors: readonly YAMLParseError[]): void {
    const byLine = new Map<number, YAMLParseError>();
    for (const error of errors) {
      const { line } = this.placeAt(error.pos[0]);
      if (!byLine.has(line)) byLine.set(line, error);
    }
    const tabs = [...byLine]
      .flatMap(([line, { code }]) => (code === 'TAB_AS_INDENT' ? [line] : []))
      .sort((a, b) => a - b);
    let last = Number.NEGATIVE_INFINITY;
    for (const [line, { code, pos }] of [...byLine].sort(([a], [b]) => a - b)) {
      const isFollowing = line === last + 1 || (code === 'BAD_INDENT' && line > (tabs[0] ?? Number.POSITIVE_INFINITY));
      last = line;
      const isTab = code === 'TAB_AS_INDENT';
      if (isTab ? line !== tabs[0] : isFollowing) continue;
      const what = syntaxSentences[code] ?? 'this is not understood here';
      if (isTab) this.tell(pos[0], 'yaml-broken', `${what}${alsoOn(tabs.slice(1))}`, tabFix);
      else this.tell(pos[0], 'yaml-broken', what, syntaxFix);
    }
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

  read(node: Node): SourceNode {
    const offset = node.range?.[0] ?? 0;
    const place = this.placeAt(offset);
    if (isAlias(node)) {
      this.tell(offset, 'yaml-alias', `aliases (*${node.source}) are not read`, 'write the value out');
      return { kind: 'empty', place };
    }
    this.tellProperties(node, offset);
    if (isMap(node)) return { kind: 'map', place, entries: this.readEntries(node.items) };
    if (isSeq(node)) return { kind: 'list', place, items: node.items.map((item) => this.read(item as Node)) };
    return isScalar(node) ? this.readScalar(node, place) : { kind: 'empty', place };
  }

  /** Anchors and tags: nothing in a cut list needs them. */
  private tellProperties(node: Node, offset: number): void {
    if (isAlias(node)) return;
    const { anchor } = node as { anchor?: string };
    if (anchor !== undefined) {
      const fix = 'write the value out where it is needed; a piece can be "like" another';
      this.tell(offset, 'yaml-alias', `anchors (&${anchor}) are not read`, fix);
    }
    if (node.tag !== undefined) this.tell(offset, 'yaml-tag', `tags (${node.tag}) are not read`, 'delete the tag');
  }

  /** An escape such as "\\0" may hide what plain text cannot hold. */
  private tellOddText(text: string, offset: number): void {
    const odd = notText.exec(text);
    if (odd === null) return;
    const what = `an escape makes a character that is not text (code ${odd[0].codePointAt(0)})`;
    this.tell(offset, 'not-text', what, 'delete it');
  }

  private readScalar(node: Scalar, place: Place): SourceNode {
    const quoted = node.type === 'QUOTE_DOUBLE' || node.type === 'QUOTE_SINGLE';
    if (node.value === null && !quoted) return { kind: 'empty', place };
    const text = typeof node.value === 'string' ? node.value : (node.source ?? String(node.value));
    this.tellOddText(text, node.range?.[0] ?? 0);
    return { kind: 'scalar', place, text, quoted };
  }

  private readEntries(items: readonly { key: unknown; value: unknown }[]): MapEntry[] {
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
      this.tellProperties(keyNode, offset);
      const name = keyNode.source ?? String(keyNode.value);
      this.tellOddText(name, offset);
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
        value: child === null ? { kind: 'empty', place: keyPlace } : this.read(child),
      });
    }
    return entries;
  }
}
