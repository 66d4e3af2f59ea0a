/**
 * JSON text -> value, with the place of every key and value, for faults with file:line:column. RFC 8259 (2017), all of
 * it, and two things more strictly than JSON.parse: a key that stands twice in one object is reported, and nesting
 * ends at `depthMax`. It reads each character once; the tree is thrown away when the file is good.
 */

export interface JsonNode {
  readonly value: unknown;
  /** Offset of the first character. */
  readonly start: number;
  readonly items: readonly JsonNode[] | null;
  readonly keys: ReadonlyMap<string, { readonly start: number; readonly node: JsonNode }> | null;
}

export interface JsonProblem {
  readonly start: number;
  readonly kind: 'broken' | 'duplicate';
  readonly what: string;
}

/** Deeper than any lay file goes. */
const depthMax = 16;

/** The root, or the first place where the text is not JSON; duplicate keys come with the root. */
export function parseJson(text: string): { readonly root: JsonNode | null; readonly problems: readonly JsonProblem[] } {
  const scanner = new Scanner(text);
  try {
    const root = scanner.readDocument();
    return { root, problems: scanner.duplicates };
  } catch (stopped) {
    if (stopped instanceof Stop)
      return { root: null, problems: [{ start: stopped.start, kind: 'broken', what: stopped.message }] };
    throw stopped;
  }
}

/** The node at `path`, or the innermost one on the way there that exists; with the start of its key where it has one. */
export function nodeAt(
  root: JsonNode,
  path: readonly PropertyKey[],
): { readonly node: JsonNode; readonly start: number } {
  let node = root;
  let start = root.start;
  for (const step of path) {
    const entry = typeof step === 'string' ? node.keys?.get(step) : undefined;
    const next = entry?.node ?? (typeof step === 'number' ? node.items?.[step] : undefined);
    if (next === undefined) break;
    node = next;
    start = entry?.start ?? next.start;
  }
  return { node, start };
}

/** Line and column from 1, counted in characters of the text. */
export function lineAndColumn(text: string, offset: number): { readonly line: number; readonly column: number } {
  let line = 1;
  let lineStart = 0;
  for (let i = text.indexOf('\n'); i !== -1 && i < offset; i = text.indexOf('\n', i + 1)) {
    line++;
    lineStart = i + 1;
  }
  return { line, column: offset - lineStart + 1 };
}

/** Leaves the recursion at the first broken place; never leaves this file. */
class Stop extends Error {
  constructor(
    readonly start: number,
    what: string,
  ) {
    super(what);
  }
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: JSON forbids them in texts
const stringPattern = /"(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y;
const numberPattern = /-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?/y;
const wordPattern = /true|false|null/y;
const spacePattern = /[ \t\n\r]*/y;

class Scanner {
  readonly duplicates: JsonProblem[] = [];
  private at = 0;

  constructor(private readonly text: string) {}

  readDocument(): JsonNode {
    const root = this.readValue(0);
    this.skipSpace();
    if (this.at < this.text.length) throw this.stop('the end of the file');
    return root;
  }

  private readValue(depth: number): JsonNode {
    this.skipSpace();
    if (depth > depthMax) throw new Stop(this.at, `lists and objects are nested deeper than ${depthMax}`);
    const start = this.at;
    const sign = this.text[start];
    if (sign === '{') return this.readObject(depth);
    if (sign === '[') return this.readList(depth);
    const token = this.take(sign === '"' ? stringPattern : numberPattern) ?? this.take(wordPattern);
    if (token === null) throw this.stop(sign === '"' ? 'a text that ends in a quotation mark on its line' : 'a value');
    return { value: JSON.parse(token), start, items: null, keys: null };
  }

  private readObject(depth: number): JsonNode {
    const start = this.at++;
    const keys = new Map<string, { start: number; node: JsonNode }>();
    while (this.comesNext('}', keys.size > 0)) {
      const keyStart = this.at;
      const token = this.take(stringPattern);
      if (token === null) throw this.stop('a key in quotation marks');
      const key = JSON.parse(token) as string;
      this.skipSpace();
      if (this.text[this.at] !== ':') throw this.stop('a colon');
      this.at++;
      const node = this.readValue(depth + 1);
      if (keys.has(key))
        this.duplicates.push({ start: keyStart, kind: 'duplicate', what: `"${key}" stands twice here` });
      else keys.set(key, { start: keyStart, node });
    }
    const value = Object.fromEntries([...keys].map(([key, { node }]) => [key, node.value]));
    return { value, start, items: null, keys };
  }

  private readList(depth: number): JsonNode {
    const start = this.at++;
    const items: JsonNode[] = [];
    while (this.comesNext(']', items.length > 0)) items.push(this.readValue(depth + 1));
    return { value: items.map((item) => item.value), start, items, keys: null };
  }

  /** Passes the comma before a further item, or the closing sign (then false). */
  private comesNext(closing: string, further: boolean): boolean {
    this.skipSpace();
    if (this.text[this.at] === closing) {
      this.at++;
      return false;
    }
    if (!further) return true;
    if (this.text[this.at] !== ',') throw this.stop(`a comma or "${closing}"`);
    this.at++;
    this.skipSpace();
    return true;
  }

  private skipSpace(): void {
    this.take(spacePattern);
  }

  private take(pattern: RegExp): string | null {
    pattern.lastIndex = this.at;
    const token = pattern.exec(this.text)?.[0] ?? null;
    if (token !== null) this.at += token.length;
    return token;
  }

  private stop(expected: string): Stop {
    const sign = [...this.text.slice(this.at, this.at + 2)][0];
    const found = sign === undefined ? 'the file ends' : JSON.stringify(sign);
    return new Stop(this.at, `expected ${expected}, found ${found}`);
  }
}
